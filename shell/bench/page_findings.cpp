#include "shell/bench/page_findings.h"

#include <algorithm>

#include "engine/explain/findings.h"
#include "engine/explain/why.h"
#include "engine/file/json.h"
#include "engine/parts/part_type.h"
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

Explanation explained(const Session& session, const Part& part) {
  const Observed bench{session.board(), session.wiring(), session.circuit(), session.readings()};
  return why(bench, part.id, findings(bench));
}

Status add_flags(const page::Json& list, const Board& board, Signs& signs) {
  if (!list.IsArray()) return page::wrong_type("holes", "a list of holes");
  for (const page::Json& name : list.GetArray()) {
    if (!name.IsString()) return page::wrong_type("holes", "names of holes");
    const Result<Hole> hole = board.hole(page::view(name));
    if (!hole) return hole.error();
    signs.flags.push_back(*hole);
  }
  return done();
}

Status add_flagged(const page::Json& list, const Board& board, Signs& signs) {
  if (!list.IsArray()) return page::wrong_type("parts", "a list of names");
  for (const page::Json& name : list.GetArray()) {
    if (!name.IsString()) return page::wrong_type("parts", "names of parts");
    const Part* part = board.find(page::view(name));
    if (!part) return Error{.code = Code::kUnknownPart, .part = std::string(page::view(name))};
    signs.flagged.push_back(part->id);
  }
  return done();
}

Status add_repair(const page::Json& list, const Board& board, Signs& signs) {
  if (!list.IsArray()) return page::wrong_type("edits", "a list of edits");
  if (list.Empty()) return done();
  signs.mended = board;
  for (const page::Json& json : list.GetArray()) {
    const Result<Edit> edit = read_edit(page::text_of_json(json), *signs.mended, catalogue());
    if (!edit) return edit.error();
    if (const Result<Applied> made = apply(*signs.mended, *edit); !made) return made.error();
  }
  return done();
}

Signs way_of(const Explanation& explanation) {
  Signs signs;
  for (const WhyStep& step : explanation.steps) signs.way.push_back({step.part, step.hole_in, step.hole_out});
  signs.whole = explanation.why == Why::kBroken ? explanation.broken_after + 1 : int(signs.way.size());
  return signs;
}

}  // namespace

Status set_signs(const page::Json& request, Bench& bench) {
  const Board& board = bench.session().board();
  Signs signs;
  if (const page::Json* holes = page::find(request, "holes"))
    if (const Status read = add_flags(*holes, board, signs); !read) return read;
  if (const page::Json* parts = page::find(request, "parts"))
    if (const Status read = add_flagged(*parts, board, signs); !read) return read;
  if (const page::Json* edits = page::find(request, "edits"))
    if (const Status read = add_repair(*edits, board, signs); !read) return read;
  bench.point_at(std::move(signs));
  return done();
}

void write_findings(PageJson& out, const Session& session) {
  const std::vector<Finding> list = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  out.member("works", !any_fault(list)).key("findings").array();
  for (const Finding& finding : list) write_finding(out, session.board(), finding);
  out.end_array();
}

Signs write_why(PageJson& out, const Session& session, const Part& part) {
  const Board& board = session.board();
  const Explanation explanation = explained(session, part);
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
  return way_of(explanation);
}

}  // namespace tiepoint
