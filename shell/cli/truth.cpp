// tiepoint truth: what every lamp, motor and sounder does at each position of the switches.
#include <cstdio>

#include "engine/file/json.h"
#include "engine/logic/truth.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint truth FILE [--json]\n"
    "\n"
    "Settles the board at every position of its switches and prints what each output does, with the smallest Boolean\n"
    "expression where one exists. More than 12 switches: a sample of the positions, and it says so.\n";

std::string position_word(const Board& board, const TruthInput& input, int at) {
  const ValueSpec& spec = board.parts[size_t(input.part)].kind->values[size_t(input.value)];
  if (!spec.options.empty()) return std::string(spec.options[size_t(at)]);
  return std::string(say(at ? "truth.down" : "truth.up"));
}

std::string seen_word(const TruthRow& row, size_t output) {
  if (row.seen[output] == Seen::kPeriodic) return std::string(say("truth.periodic"));
  return std::string(say("state." + std::string(key(row.state[output]))));
}

std::vector<std::string> names_of(const TruthTable& table) {
  std::vector<std::string> names;
  for (const TruthInput& input : table.inputs) names.push_back(input.name);
  return names;
}

// "LED1 lights when S1 and S2", or why there is no such sentence.
std::string sentence(const TruthTable& table, int output) {
  const TruthOutput& which = table.outputs[size_t(output)];
  if (which.remembers) return say("truth.remembers", {{"part", which.name}});
  if (which.periodic) return say("truth.beats", {{"part", which.name}});
  const OutputLogic logic = logic_of(table, output);
  if (!logic.known) return {};
  if (logic.expression.never()) return say("truth.never", {{"part", which.name}});
  if (logic.expression.always()) return say("truth.always", {{"part", which.name}});
  const LogicWords words{say("truth.and"), say("truth.or"), say("truth.not")};
  const std::string when = in_words(logic.expression, names_of(table), words);
  return say("truth.when", {{"part", which.name}, {"when", when}});
}

void print_json(const Board& board, const TruthTable& table) {
  JsonOut out;
  out.begin_object();
  out.member("sampled", table.sampled);
  out.key("inputs");
  out.begin_array();
  for (const TruthInput& input : table.inputs) out.value(input.name);
  out.end_array();
  out.key("rows");
  out.begin_array();
  for (const TruthRow& row : table.rows) {
    out.begin_object();
    out.key("at");
    out.begin_object();
    for (size_t i = 0; i < table.inputs.size(); ++i) out.member(table.inputs[i].name, position_word(board, table.inputs[i], row.at[i]));
    out.end_object();
    out.key("seen");
    out.begin_object();
    for (size_t i = 0; i < table.outputs.size(); ++i) {
      constexpr const char* kSeen[] = {"off", "on", "periodic", "unknown"};
      out.key(table.outputs[i].name);
      out.begin_object();
      out.member("is", kSeen[int(row.seen[i])]);
      out.member("state", key(row.state[i]));
      out.end_object();
    }
    out.end_object();
    out.end_object();
  }
  out.end_array();
  out.key("outputs");
  out.begin_object();
  for (size_t i = 0; i < table.outputs.size(); ++i) {
    const OutputLogic logic = logic_of(table, int(i));
    out.key(table.outputs[i].name);
    out.begin_object();
    out.member("remembers", table.outputs[i].remembers);
    out.member("periodic", table.outputs[i].periodic);
    out.member("words", sentence(table, int(i)));
    if (logic.known) out.member("symbols", in_symbols(logic.expression, names_of(table)));
    out.end_object();
  }
  out.end_object();
  out.end_object();
  std::puts(out.text().c_str());
}

void print_text(const Board& board, const TruthTable& table) {
  for (const TruthInput& input : table.inputs) std::printf("%-12s", input.name.c_str());
  for (const TruthOutput& output : table.outputs) std::printf("%-12s", output.name.c_str());
  std::putchar('\n');
  for (const TruthRow& row : table.rows) {
    for (size_t i = 0; i < table.inputs.size(); ++i) std::printf("%-12s", position_word(board, table.inputs[i], row.at[i]).c_str());
    for (size_t i = 0; i < table.outputs.size(); ++i) std::printf("%-12s", seen_word(row, i).c_str());
    std::putchar('\n');
  }
  if (table.sampled) std::printf("%s\n", std::string(say("truth.sampled")).c_str());
  for (size_t i = 0; i < table.outputs.size(); ++i) {
    const std::string words = sentence(table, int(i));
    if (!words.empty()) std::printf("%s\n", words.c_str());
  }
}

}  // namespace

int truth(const Arguments& arguments) {
  std::string file;
  bool json = false;
  for (const std::string& word : arguments) {
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
    if (word == "--json") json = true;
    else if (word.size() > 1 && word[0] == '-')
      return fail("truth", Error{.code = Code::kUsage, .found = "unknown option " + word, .expected = "--json"}, false);
    else if (!file.empty())
      return fail("truth", Error{.code = Code::kUsage, .found = "a second file " + word, .expected = "one file"}, false);
    else file = word;
  }
  if (file.empty()) return fail("truth", Error{.code = Code::kUsage, .found = "no file", .expected = "a board file"}, false);
  const Result<std::string> content = read_file(file);
  if (!content) return fail(file, content.error(), json);
  const Result<Board> board = read_board(*content, catalogue());
  if (!board) return fail(file, board.error(), json);
  const TruthTable table = truth_table(*board);
  json ? print_json(*board, table) : print_text(*board, table);
  return 0;
}

}  // namespace tiepoint::cli
