// tiepoint hunt: defects hidden in a board for somebody to find, shown again, and the log of the search.
#include "engine/explain/hunt.h"

#include <cstdio>
#include <cstdlib>

#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint hunt FILE --hide COUNT [--seed N] | --reveal | [--json]\n"
    "\n"
    "Prints a board file on which COUNT (1 to 3) defects are hidden, the same ones for the same seed; or one on which they are "
    "shown.\n"
    "Without either it prints the log of the search: guesses, measurements, repairs.\n";

struct Request {
  std::string file;
  int hide = 0;
  uint32_t seed = 1;
  bool reveal = false, json = false;
};

// A whole number from 0 to `most`; none when it is not one.
std::optional<long> whole(const std::string& word, long most) {
  char* end = nullptr;
  const long value = std::strtol(word.c_str(), &end, 10);
  if (word.empty() || *end != 0 || value < 0 || value > most) return std::nullopt;
  return value;
}

Result<Request> read_request(const Arguments& arguments) {
  Request request;
  for (size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--hide" || word == "--seed") {
      const bool hide = word == "--hide";
      const std::optional<long> number =
          i + 1 < arguments.size() ? whole(arguments[i + 1], hide ? kMostHidden : 4000000000L) : std::nullopt;
      if (!number || (hide && *number == 0))
        return Error{.code = Code::kUsage,
                     .found = word + " without a number that fits",
                     .expected = hide ? "1, 2 or 3" : "a whole number"};
      ++i;
      hide ? void(request.hide = int(*number)) : void(request.seed = uint32_t(*number));
    } else if (word == "--reveal") {
      request.reveal = true;
    } else if (word == "--json") {
      request.json = true;
    } else if (word.size() > 1 && word[0] == '-') {
      return Error{.code = Code::kUsage, .found = "unknown option " + word, .expected = "--hide, --seed, --reveal or --json"};
    } else if (request.file.empty()) {
      request.file = word;
    } else {
      return Error{.code = Code::kUsage, .found = "a second file " + word, .expected = "one file"};
    }
  }
  if (request.file.empty()) return Error{.code = Code::kUsage, .found = "no file", .expected = "a board file"};
  if (request.reveal && request.hide)
    return Error{.code = Code::kUsage, .found = "--hide and --reveal", .expected = "one of them"};
  return request;
}

void print_log(const Board& board, bool json) {
  if (!json) {
    for (const HuntEntry& entry : board.hunt) std::printf("%s: %s\n", std::string(key(entry.kind)).c_str(), entry.text.c_str());
    return;
  }
  JsonOut out;
  out.begin_object();
  out.key("log");
  out.begin_array();
  for (const HuntEntry& entry : board.hunt) {
    out.begin_object();
    out.member("what", key(entry.kind));
    out.member("text", entry.text);
    out.end_object();
  }
  out.end_array();
  out.end_object();
  std::puts(out.text().c_str());
}

}  // namespace

int hunt(const Arguments& arguments) {
  for (const std::string& word : arguments)
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
  const Result<Request> request = read_request(arguments);
  if (!request) return fail("hunt", request.error(), false);
  const Result<std::string> content = read_file(request->file);
  if (!content) return fail(request->file, content.error(), request->json);
  Result<Board> read = read_board(*content, catalogue());
  if (!read) return fail(request->file, read.error(), request->json);
  Board board = std::move(read).value();
  if (!request->hide && !request->reveal) return print_log(board, request->json), 0;
  const std::vector<Edit> edits = request->hide ? hide_defects(board, request->hide, request->seed) : reveal_defects(board);
  if (const Result<Applied> applied = apply(board, Edit{Batch{edits}}); !applied)
    return fail(request->file, applied.error(), request->json);
  std::fputs(write_board(board).c_str(), stdout);
  return request->hide && edits.empty() ? 1 : 0;
}

}  // namespace tiepoint::cli
