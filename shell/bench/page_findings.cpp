#include "shell/bench/page_findings.h"

#include <algorithm>

#include "engine/explain/findings.h"
#include "engine/explain/why.h"
#include "engine/file/json.h"
#include "shell/words/finding_words.h"

namespace tiepoint {
namespace {

void write_names(PageJson& out, std::string_view name, const std::vector<std::string>& names) {
  out.key(name).array();
  for (const std::string& one : names) out.value(one);
  out.end_array();
}

void add_once(std::vector<std::string>& names, std::string name) {
  if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(std::move(name));
}

void write_finding(PageJson& out, const Board& board, const Finding& finding) {
  out.object().member("kind", key(finding.kind)).member("severity", key(finding.severity)).member("misconception", finding.misconception);
  for (const Depth depth : {Depth::kNudge, Depth::kPointer, Depth::kRepair}) out.member(key(depth), words_of(finding, depth));
  std::vector<std::string> parts, holes;
  for (const Place& place : finding.places) {
    if (const Part* part = board.find(place.part)) add_once(parts, part->name);
    add_once(holes, board.name_of(place.hole));
  }
  write_names(out, "parts", parts);
  write_names(out, "holes", holes);
  out.key("edits").array();
  for (const Edit& edit : finding.repair) out.raw(write_edit(edit, board));
  out.end_array().key("insteadOf");
  if (finding.instead_of >= 0) out.value(finding.instead_of);
  else out.null();
  out.end_object();
}

}  // namespace

void write_findings(PageJson& out, const Session& session) {
  const std::vector<Finding> list = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  out.member("works", !any_fault(list)).key("findings").array();
  for (const Finding& finding : list) write_finding(out, session.board(), finding);
  out.end_array();
}

void write_why(PageJson& out, const Session& session, const Part& part) {
  const Board& board = session.board();
  const Explanation explanation =
      why({board, session.wiring(), session.circuit(), session.readings()}, part.id,
          findings({board, session.wiring(), session.circuit(), session.readings()}));
  out.member("answer", key(explanation.why)).member("text", words_of(board, explanation)).key("press").array();
  for (const WhyPress& press : explanation.presses)
    if (const Part* held = board.find(press.part)) out.value(held->name);
  out.end_array().key("steps").array();
  for (const WhyStep& step : explanation.steps) {
    const Part* on = board.find(step.part);
    out.object().member("part", on ? on->name : std::string()).member("in", board.name_of(step.hole_in)).member("out", board.name_of(step.hole_out));
    out.member("voltage", step.voltage).member("current", step.current).member("text", words_of(board, step)).end_object();
  }
  out.end_array();
}

}  // namespace tiepoint
