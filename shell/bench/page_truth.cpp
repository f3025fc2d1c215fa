#include "shell/bench/page_truth.h"

#include "engine/logic/truth.h"

namespace tiepoint {
namespace {

constexpr const char* kSeen[] = {"off", "on", "periodic", "unknown"};  // in the order of Seen

void write_inputs(PageJson& out, const Board& board, const TruthTable& table) {
  out.key("inputs").array();
  for (const TruthInput& input : table.inputs) {
    const ValueSpec& spec = board.parts[size_t(input.part)].kind->values[size_t(input.value)];
    out.object().member("name", input.name).member("momentary", input.momentary).key("positions").array();
    for (const std::string_view option : spec.options) out.value(option);
    out.end_array().end_object();
  }
  out.end_array();
}

void write_rows(PageJson& out, const TruthTable& table) {
  out.key("rows").array();
  for (const TruthRow& row : table.rows) {
    out.object().key("at").array();
    for (const int at : row.at) out.value(at);
    out.end_array().key("seen").array();
    for (const Seen seen : row.seen) out.value(kSeen[int(seen)]);
    out.end_array().key("state").array();
    for (const State state : row.state) out.value(key(state));
    out.end_array().end_object();
  }
  out.end_array();
}

void write_terms(PageJson& out, const TruthTable& table, const Expression& expression) {
  out.array();
  for (const Product& product : expression.products) {
    out.array();
    for (size_t i = 0; i < table.inputs.size(); ++i) {
      if (!(product.mask >> i & 1)) continue;
      out.object().member("input", table.inputs[i].name).member("plain", (product.bits >> i & 1) != 0).end_object();
    }
    out.end_array();
  }
  out.end_array();
}

}  // namespace

void write_truth(PageJson& out, const Board& board) {
  const TruthTable table = truth_table(board);
  out.member("sampled", table.sampled);
  write_inputs(out, board, table);
  write_rows(out, table);
  out.key("outputs").array();
  for (size_t i = 0; i < table.outputs.size(); ++i) {
    const TruthOutput& output = table.outputs[i];
    out.object().member("name", output.name).member("remembers", output.remembers).member("periodic", output.periodic).key("terms");
    const OutputLogic logic = logic_of(table, int(i));
    if (logic.known) write_terms(out, table, logic.expression);
    else out.null();
    out.end_object();
  }
  out.end_array();
}

}  // namespace tiepoint
