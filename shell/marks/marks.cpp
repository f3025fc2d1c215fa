#include "shell/marks/marks.h"

#include <cstdio>

#include "engine/file/hand_in.h"
#include "engine/lesson/check.h"
#include "engine/parts/part_type.h"
#include "shell/marks/likeness.h"
#include "shell/words/lesson_words.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

void add_tag(std::string& tags, const std::string& tag) {
  if (!tag.empty() && (" " + tags + " ").find(" " + tag + " ") == std::string::npos) tags += (tags.empty() ? "" : " ") + tag;
}

void add_verdict(const HandIn& hand_in, Mark& out) {
  const Lesson& lesson = *hand_in.lesson;
  const Verdict verdict = judge_hand_in(lesson, hand_in.board);
  out.passed = verdict.passed();
  out.points = verdict.points;
  out.most_points = verdict.most_points;
  out.checks = int(verdict.outcomes.size());
  for (size_t k = 0; k < verdict.outcomes.size(); ++k) {
    out.checks_passed += verdict.outcomes[k].passed();
    if (!verdict.outcomes[k].passed()) add_tag(out.tags, verdict.checks[k]->tag);
  }
  const int failed = verdict.first_failed();
  if (failed < 0) return;
  const Outcome& outcome = verdict.outcomes[size_t(failed)];
  out.failed = verdict.checks[size_t(failed)]->id;
  out.words = say("lesson.grade.failing", {{"fail", verdict.checks[size_t(failed)]->fail},
                                           {"reason", words_of(lesson, hand_in.board, outcome)},
                                           {"case", case_words(hand_in.board, outcome)}});
  if (outcome.finding) add_tag(out.tags, std::string(outcome.finding->misconception));
}

void add_progress(const HandIn& hand_in, Mark& out) {
  if (!hand_in.progress) return;
  out.has_progress = true;
  const Progress& progress = *hand_in.progress;
  for (size_t i = 0; i < progress.steps.size(); ++i) {
    const StepProgress& step = progress.steps[i];
    out.hints += step.hints;
    out.tries += step.tries;
    out.seconds += step.seconds;
    for (const std::string& tag : step.tags) add_tag(out.tags, tag);
    if (hand_in.lesson->steps[i].kind != StepKind::kPredict || step.answers == 0) continue;
    ++out.predictions;
    out.predictions_right += step.right;
  }
}

std::string cell(std::string_view words) {
  std::string out = !words.empty() && std::string_view("=+-@\t").find(words[0]) != std::string_view::npos ? "'" : "";
  out += words;
  if (out.find_first_of(",\"\n\r") == std::string::npos) return out;
  std::string quoted = "\"";
  for (const char c : out) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string number_cell(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.10g", value);
  return text;
}

}  // namespace

Mark mark(const Rubric& rubric, std::string_view file, std::string_view board, std::string_view progress,
          std::optional<Board>* kept) {
  Mark out;
  out.file = file;
  Result<HandIn> hand_in = read_hand_in(board, progress, rubric);
  if (!hand_in && !progress.empty()) {
    // A bad progress file is told; the board beside it is judged all the same.
    out.error = text(hand_in.error());
    hand_in = read_hand_in(board, "", rubric);
  }
  if (!hand_in) {
    out.error = text(hand_in.error());
    out.words = say("lesson.grade.bad-file");
    return out;
  }
  add_verdict(*hand_in, out);
  add_progress(*hand_in, out);
  out.drawn = hand_in->lesson->case_index;
  out.drawn_of = hand_in->lesson->case_count;
  out.print = print_of(hand_in->board);
  if (kept) *kept = std::move(hand_in.value().board);
  return out;
}

std::string marks_csv_head() {
  return "file,passed,points,most_points,checks_passed,checks,first_failing_check,words,tags,hints,tries,predictions,"
         "predictions_right,seconds,case,like,evidence,error\n";
}

std::string mark_csv(const Mark& one, const std::vector<Mark>& all) {
  std::string line = cell(one.file) + (one.passed ? ",yes," : ",no,") + number_cell(one.points) + "," +
                     number_cell(one.most_points) + "," + std::to_string(one.checks_passed) + "," + std::to_string(one.checks) +
                     "," + cell(one.failed) + "," + cell(one.words) + "," + cell(one.tags);
  if (one.has_progress)
    line += "," + std::to_string(one.hints) + "," + std::to_string(one.tries) + "," + std::to_string(one.predictions) + "," +
            std::to_string(one.predictions_right) + "," + number_cell(one.seconds);
  else
    line += ",,,,,";
  line += one.drawn_of > 1 ? "," + std::to_string(one.drawn + 1) : ",";
  return line + "," + cell(one.like < 0 ? "" : all[size_t(one.like)].file) + "," + cell(one.evidence) + "," + cell(one.error) +
         "\n";
}

}  // namespace tiepoint
