// tiepoint explain: what is wrong on a board and what would put it right; why a part works or does not.
#include <cstdio>

#include "engine/explain/findings.h"
#include "engine/explain/why.h"
#include "engine/file/json.h"
#include "engine/session/session.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/finding_words.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint explain FILE [--part NAME] [--depth nudge|pointer|repair] [--set NAME=POSITION]... [--json]\n"
    "\n"
    "Says what is wrong on a board (*.board.json; - reads standard input), the likeliest cause first.\n"
    "  --part LED1        why that part works or not: the way of the current through it, and where it breaks\n"
    "  --depth            nudge: where to look; pointer: what is wrong (default); repair: what to do\n"
    "  --set S1=down      hold a button, put a switch, switch a supply, set a value before looking\n"
    "  --json             one JSON object; repairs as edits\n"
    "Exit status: 0 nothing wrong, 1 something is, 2 bad usage or bad file.\n";

struct Request {
  std::string file, part;
  std::vector<std::string> settings;
  Depth depth = Depth::kPointer;
  bool json = false;
};

Result<Request> read_request(const Arguments& arguments) {
  Request request;
  for (size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if ((word == "--part" || word == "--depth" || word == "--set") && i + 1 >= arguments.size())
      return Error{.code = Code::kUsage, .found = word + " stands alone", .expected = "a value after it"};
    if (word == "--json") {
      request.json = true;
    } else if (word == "--part") {
      request.part = arguments[++i];
    } else if (word == "--set") {
      request.settings.push_back(arguments[++i]);
    } else if (word == "--depth") {
      const std::string& depth = arguments[++i];
      if (depth != "nudge" && depth != "pointer" && depth != "repair")
        return Error{.code = Code::kUsage, .found = "'" + depth + "' is no depth", .expected = "nudge, pointer or repair"};
      request.depth = depth == "nudge" ? Depth::kNudge : depth == "pointer" ? Depth::kPointer : Depth::kRepair;
    } else if (word.size() > 1 && word[0] == '-') {
      return Error{.code = Code::kUsage, .found = "unknown option " + word, .expected = "--part, --depth, --set or --json"};
    } else if (request.file.empty()) {
      request.file = word;
    } else {
      return Error{.code = Code::kUsage, .found = "a second file " + word, .expected = "one file"};
    }
  }
  if (request.file.empty()) return Error{.code = Code::kUsage, .found = "no file", .expected = "a board file"};
  return request;
}

void write_place(JsonOut& out, const Board& board, const Place& place) {
  out.begin_object();
  if (const Part* part = board.find(place.part)) {
    out.member("part", part->name);
    if (place.lead >= 0) out.member("lead", part->kind->leads[size_t(place.lead)].name);
  }
  if (place.hole.valid()) out.member("hole", board.name_of(place.hole));
  if (place.with) out.member("with", true);
  out.end_object();
}

void write_finding(JsonOut& out, const Board& board, const Finding& finding) {
  out.begin_object();
  out.member("kind", key(finding.kind));
  out.member("severity", key(finding.severity));
  if (!finding.misconception.empty()) out.member("misconception", finding.misconception);
  if (finding.instead_of >= 0) out.member("instead_of", finding.instead_of);
  for (const Depth depth : {Depth::kNudge, Depth::kPointer, Depth::kRepair}) out.member(key(depth), words_of(finding, depth));
  out.key("places");
  out.begin_array();
  for (const Place& place : finding.places) write_place(out, board, place);
  out.end_array();
  out.key("numbers");
  out.begin_object();
  for (const FindingArgument& argument : finding.arguments)
    if (argument.text.empty()) out.member(argument.name, argument.value);
  out.end_object();
  out.key("edits");
  out.begin_array();
  for (const Edit& edit : finding.repair) out.raw(write_edit(edit, board));
  out.end_array();
  out.end_object();
}

void write_explanation(JsonOut& out, const Board& board, const Explanation& explanation) {
  out.begin_object();
  out.member("part", board.find(explanation.part)->name);
  out.member("answer", key(explanation.why));
  out.member("text", words_of(board, explanation));
  out.key("press");
  out.begin_array();
  for (const WhyPress& press : explanation.presses) out.value(board.find(press.part)->name);
  out.end_array();
  out.key("steps");
  out.begin_array();
  for (const WhyStep& step : explanation.steps) {
    out.begin_object();
    if (const Part* part = board.find(step.part)) out.member("part", part->name);
    out.member("in", board.name_of(step.hole_in));
    out.member("out", board.name_of(step.hole_out));
    out.member("voltage", step.voltage);
    out.member("current", step.current);
    out.end_object();
  }
  out.end_array();
  if (explanation.why == Why::kBroken) out.member("broken_after", explanation.broken_after);
  out.end_object();
}

void print_findings(const std::vector<Finding>& list, Depth depth) {
  for (const Finding& finding : list) {
    std::string text = words_of(finding, depth);
    if (finding.instead_of >= 0) text = say("finding.or", {{"text", text}});
    std::printf("%s: %s\n", std::string(say("finding.severity." + std::string(key(finding.severity)))).c_str(), text.c_str());
  }
}

void print_explanation(const Board& board, const Explanation& explanation, Depth depth) {
  std::printf("%s\n", words_of(board, explanation).c_str());
  for (size_t k = 0; k < explanation.steps.size(); ++k) {
    if (explanation.why == Why::kBroken && explanation.broken_after + 1 == int(k)) std::printf("  -- %s\n", std::string(say("finding.why.gap")).c_str());
    std::printf("  %s\n", words_of(board, explanation.steps[k]).c_str());
  }
  if (explanation.cause) std::printf("%s\n", words_of(*explanation.cause, depth).c_str());
}

Status set_up(Session& session, const Request& request) {
  for (const std::string& word : request.settings) {
    const Result<Setting> setting = read_setting(word, session.board());
    if (!setting) return setting.error();
    if (setting->timed) return Error{.code = Code::kUsage, .found = word + " has a time", .expected = "a setting without one"};
    if (Result<Applied> applied = session.apply(setting->edit); !applied) return applied.error();
  }
  session.settle();
  return done();
}

int answer(const Request& request, const Session& session) {
  const Board& board = session.board();
  const Observed bench{board, session.wiring(), session.circuit(), session.readings()};
  const std::vector<Finding> list = findings(bench);
  std::optional<Explanation> explanation;
  if (!request.part.empty()) {
    const Part* part = board.find(request.part);
    if (!part) return fail(request.file, Error{.code = Code::kUnknownPart, .part = request.part}, request.json);
    explanation = why(bench, part->id, list);
  }
  if (request.json) {
    JsonOut out;
    out.begin_object();
    out.member("file", request.file);
    out.member("works", !any_fault(list));
    out.key("findings");
    out.begin_array();
    for (const Finding& finding : list) write_finding(out, board, finding);
    out.end_array();
    if (explanation) {
      out.key("why");
      write_explanation(out, board, *explanation);
    }
    out.end_object();
    std::puts(out.text().c_str());
  } else if (explanation) {
    print_explanation(board, *explanation, request.depth);
  } else {
    print_findings(list, request.depth);
  }
  return any_fault(list) ? 1 : 0;
}

}  // namespace

int explain(const Arguments& arguments) {
  for (const std::string& word : arguments)
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
  const Result<Request> request = read_request(arguments);
  if (!request) return fail("explain", request.error(), false);
  const Result<std::string> content = read_file(request->file);
  if (!content) return fail(request->file, content.error(), request->json);
  Result<Board> board = read_board(*content, catalogue());
  if (!board) return fail(request->file, board.error(), request->json);
  Session session(std::move(board).value());
  if (const Status status = set_up(session, *request); !status) return fail(request->file, status.error(), request->json);
  return answer(*request, session);
}

}  // namespace tiepoint::cli
