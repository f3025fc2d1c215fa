#include "shell/bench/page_marking.h"

#include <optional>
#include <utility>
#include <vector>

#include "engine/file/hand_in.h"
#include "engine/file/lesson_view.h"
#include "engine/parts/part_type.h"
#include "shell/bench/page_api.h"
#include "shell/bench/page_request.h"
#include "shell/marks/marks.h"
#include "shell/words/words.h"

namespace tiepoint {

using namespace page;

struct Marking::State {
  Rubric rubric;
  std::vector<Mark> marks;
  std::vector<std::string> boards;  // as they came, to be held against each other

  Status begin(const Json& asked, PageJson& out);
  Status mark_one(const Json& asked, PageJson& out);
  Status refuse(const Json& asked, PageJson& out);
  Status alike(PageJson& out);
  Status csv(PageJson& out) const;
};

namespace {

void write_row(PageJson& out, const Mark& mark) {
  out.key("row").object().member("file", mark.file).member("error", mark.error).member("passed", mark.passed);
  out.member("points", mark.points).member("mostPoints", mark.most_points);
  out.member("checks", mark.checks).member("checksPassed", mark.checks_passed);
  out.member("failed", mark.failed).member("words", mark.words).member("tags", mark.tags);
  out.member("hasProgress", mark.has_progress).member("hints", mark.hints).member("tries", mark.tries);
  out.member("predictions", mark.predictions)
      .member("predictionsRight", mark.predictions_right)
      .member("seconds", mark.seconds);
  out.member("case", mark.drawn_of > 1 ? mark.drawn + 1 : 0).end_object();
}

void write_colour(PageJson& out, const Part& part) {
  const int index = value_index(*part.kind, "colour");
  if (index < 0) return;
  const ValueSpec& spec = part.kind->values[size_t(index)];
  if (!spec.options.empty()) out.member("colour", spec.options[size_t(part.values[size_t(index)])]);
}

void write_sketch(PageJson& out, const Board& board) {
  out.key("sketch").object().key("boards").array();
  for (const Breadboard& one : board.breadboards) {
    const Layout& lay = layout(one.layout);
    const int top = lay.rail_holes ? -4 : -1, bottom = lay.rail_holes ? 15 : 12;
    out.array().value(one.origin.x - 1).value(one.origin.y + top).value(lay.columns + 1).value(bottom - top).end_array();
  }
  out.end_array().key("parts").array();
  for (const Part& part : board.parts) {
    out.object().member("kind", part.kind->key).member("wire", part.kind->conductor);
    write_colour(out, part);
    out.key("at").array();
    for (const Hole hole : part.leads) {
      if (!hole.valid()) continue;
      const MatPoint at = board.mat_of(hole);
      out.value(at.x).value(at.y);
    }
    out.end_array().end_object();
  }
  out.end_array().end_object();
}

}  // namespace

Status Marking::State::begin(const Json& asked, PageJson& out) {
  const Result<std::string> text = text_of(asked, "text");
  if (!text) return text.error();
  Result<Rubric> read = read_rubric(*text, catalogue());
  if (!read) return read.error();
  rubric = std::move(read).value();
  marks.clear();
  boards.clear();
  out.key("about").raw(lesson_summary(rubric.cases[0])).member("cases", int(rubric.cases.size()));
  return done();
}

Status Marking::State::mark_one(const Json& asked, PageJson& out) {
  const Result<std::string> file = text_of(asked, "file"), board = text_of(asked, "board"),
                            progress = optional_text(asked, "progress");
  for (const Result<std::string>* text : {&file, &board, &progress})
    if (!*text) return text->error();
  std::optional<Board> kept;
  marks.push_back(mark(rubric, *file, *board, *progress, &kept));
  boards.push_back(*board);
  write_row(out, marks.back());
  if (kept) write_sketch(out, *kept);
  return done();
}

Status Marking::State::refuse(const Json& asked, PageJson& out) {
  const Result<std::string> file = text_of(asked, "file"), error = text_of(asked, "error");
  if (!file) return file.error();
  if (!error) return error.error();
  Mark& row = marks.emplace_back();
  boards.emplace_back();
  row.file = *file;
  row.error = *error;
  row.words = say("lesson.grade.bad-file");
  write_row(out, row);
  return done();
}

Status Marking::State::alike(PageJson& out) {
  for (Mark& one : marks) one.like = -1, one.evidence.clear();
  mark_alike(rubric, marks, [&](size_t row) -> std::optional<Board> {
    Result<HandIn> hand_in = read_hand_in(boards[row], "", rubric);
    if (!hand_in) return std::nullopt;
    return std::move(hand_in).value().board;
  });
  out.key("alike").array();
  for (size_t row = 0; row < marks.size(); ++row)
    if (marks[row].like >= 0)
      out.object().member("row", int(row)).member("like", marks[row].like).member("evidence", marks[row].evidence).end_object();
  out.end_array();
  return done();
}

Status Marking::State::csv(PageJson& out) const {
  std::string text = marks_csv_head();
  for (const Mark& one : marks) text += mark_csv(one, marks);
  out.member("text", text);
  return done();
}

Marking::Marking() : state_(std::make_unique<State>()) {}
Marking::~Marking() = default;

std::string Marking::call(std::string_view json) {
  return answer_to(json, [&](const Json& asked, PageJson& out) -> Status {
    const Result<std::string> act = text_of(asked, "do");
    if (!act) return act.error();
    if (*act == "begin") return state_->begin(asked, out);
    if (state_->rubric.cases.empty())
      return Error{
          .code = Code::kBadValue, .found = "\"" + act->substr(0, 60) + "\"", .expected = "a lesson first", .pointer = "/do"};
    if (*act == "mark") return state_->mark_one(asked, out);
    if (*act == "refuse") return state_->refuse(asked, out);
    if (*act == "alike") return state_->alike(out);
    if (*act == "csv") return state_->csv(out);
    return Error{.code = Code::kBadValue,
                 .found = "\"" + act->substr(0, 60) + "\"",
                 .expected = "one of begin, mark, refuse, alike, csv",
                 .pointer = "/do"};
  });
}

}  // namespace tiepoint
