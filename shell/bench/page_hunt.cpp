#include "shell/bench/page_hunt.h"

#include <algorithm>

#include "engine/circuit/wiring.h"
#include "engine/explain/hunt.h"

namespace tiepoint {

using namespace page;

void write_faults(PageJson& out, const Board& board) {
  const Wiring wiring = wire_up(board);
  out.key("faults").array();
  for (const Fault& fault : possible_faults(board)) {
    out.object();
    if (const Part* part = board.find(fault.part)) {
      out.member("part", part->name).member("what", key(fault.defect.kind));
      if (fault.defect.kind == Defect::Kind::kOffValue) out.member("times", fault.defect.amount);
    } else {
      const Breadboard& on = board.breadboards[size_t(fault.breadboard)];
      const int local = strip_of_rail(layout(on.layout), on.cuts(), fault.rail, 0);
      out.member("rail", place_name(board, wiring, wiring.first_strip[size_t(fault.breadboard)] + local)).member("what", "cracked");
    }
    out.end_object();
  }
  out.end_array();
}

Status hide_command(Bench& bench, const Json& request) {
  const Board& board = bench.session().board();
  std::vector<Edit> edits;
  if (find(request, "fault")) {
    const Result<double> index = number_of(request, "fault");
    if (!index) return index.error();
    const std::vector<Fault> faults = possible_faults(board);
    if (!(*index >= 0 && *index < double(faults.size()))) return Error{.code = Code::kBadValue, .found = "no such fault", .expected = "one of the list", .pointer = "/fault"};
    edits = {faults[size_t(*index)].edit, Edit{SetHunt{}}};
  } else {
    const Result<double> count = number_of(request, "count"), seed = number_of(request, "seed");
    if (!count) return count.error();
    if (!seed) return seed.error();
    edits = hide_defects(board, int(std::clamp(*count, 1.0, double(kMostHidden))), uint32_t(std::clamp(*seed, 0.0, 4e9)));
  }
  if (edits.empty()) return Error{.code = Code::kBadValue, .found = "this board", .expected = "one on which something works"};
  const Result<Applied> applied = bench.act(Edit{Batch{std::move(edits)}});
  return applied ? done() : Status(applied.error());
}

}  // namespace tiepoint
