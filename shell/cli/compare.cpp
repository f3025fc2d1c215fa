// tiepoint compare: are two boards the same circuit, or do they at least do the same?
#include "engine/logic/compare.h"

#include <cstdio>

#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint compare BOARD BOARD [--json]\n"
    "\n"
    "Says whether two boards are the same circuit (names, places and wires do not count), or do the same at every position of\n"
    "their switches, or what the first difference is.\n"
    "Exit status: 0 the same circuit or the same behaviour, 1 neither, 2 bad usage or bad file.\n";

std::string list_of(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words)
    list = list.empty() ? word : say("lesson.and-then", {{"first", list}, {"second", word}});
  return list;
}

void print_text(const CompareResult& r) {
  std::puts(std::string(say("compare." + std::string(key(r.likeness)))).c_str());
  if (r.circuit != Difference::kNone)
    std::puts(
        say("compare.circuit." + std::string(key(r.circuit)), {{"first", r.first_part}, {"second", r.second_part}}).c_str());
  if (r.behaviour == Difference::kNone) return;
  const std::string setting = list_of(r.setting), first = say_quantity(r.first_current, "A"),
                    second = say_quantity(r.second_current, "A");
  std::puts(say("compare.behaviour." + std::string(key(r.behaviour)), {{"setting", setting},
                                                                       {"first", r.first_output},
                                                                       {"second", r.second_output},
                                                                       {"first-current", first},
                                                                       {"second-current", second}})
                .c_str());
}

void print_json(const CompareResult& r) {
  JsonOut out;
  out.begin_object();
  out.member("likeness", key(r.likeness));
  out.key("circuit");
  out.begin_object();
  out.member("difference", key(r.circuit));
  if (!r.first_part.empty()) out.member("first", r.first_part);
  if (!r.second_part.empty()) out.member("second", r.second_part);
  out.end_object();
  out.key("behaviour");
  out.begin_object();
  out.member("difference", key(r.behaviour));
  if (!r.first_output.empty()) {
    out.member("setting", list_of(r.setting));
    out.member("first", r.first_output);
    out.member("second", r.second_output);
    out.member("firstCurrent", r.first_current);
    out.member("secondCurrent", r.second_current);
  }
  out.end_object();
  out.end_object();
  std::puts(out.text().c_str());
}

}  // namespace

int compare(const Arguments& arguments) {
  std::vector<std::string> files;
  bool json = false;
  for (const std::string& word : arguments) {
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
    if (word == "--json")
      json = true;
    else if (word.size() > 1 && word[0] == '-')
      return fail("compare", {.code = Code::kUsage, .found = "unknown option " + word, .expected = "--json"}, false);
    else
      files.push_back(word);
  }
  if (files.size() != 2)
    return fail("compare",
                {.code = Code::kUsage, .found = std::to_string(files.size()) + " files", .expected = "two board files"}, false);
  std::vector<Board> boards;
  for (const std::string& file : files) {
    const Result<std::string> content = read_file(file);
    if (!content) return fail(file, content.error(), json);
    Result<Board> board = read_board(*content, catalogue());
    if (!board) return fail(file, board.error(), json);
    boards.push_back(std::move(board).value());
  }
  const CompareResult result = tiepoint::compare(boards[0], boards[1]);
  json ? print_json(result) : print_text(result);
  return result.likeness == Likeness::kSameCircuit || result.likeness == Likeness::kSameBehaviour ? 0 : 1;
}

}  // namespace tiepoint::cli
