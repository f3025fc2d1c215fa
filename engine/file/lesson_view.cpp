#include "engine/file/lesson_view.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/file/json_node.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

// The members of an object, one after another.
class Object {
 public:
  Object& add(std::string_view key, const std::string& json) {
    text_ += (text_.size() > 1 ? "," : "") + json_text(key) + ":" + json;
    return *this;
  }
  Object& text(std::string_view key, std::string_view words) { return add(key, json_text(words)); }
  Object& flag(std::string_view key, bool is) { return add(key, is ? "true" : "false"); }
  Object& number(std::string_view key, double value) { return add(key, json_number(value)); }
  std::string json() const { return text_ + "}"; }

 private:
  std::string text_ = "{";
};

template <class List, class Each>
std::string list_json(const List& list, Each each) {
  std::string out = "[";
  for (const auto& one : list) out += (out.size() > 1 ? "," : "") + each(one);
  return out + "]";
}

std::string texts(const std::vector<std::string>& list) {
  return list_json(list, [](const std::string& one) { return json_text(one); });
}

std::string question_view(const Step& step, const StepProgress& progress) {
  const Question& question = *step.question;
  Object out;
  out.text("ask", question.ask).text("unit", question.unit);
  out.add("choices",
          list_json(question.choices, [](const Choice& c) { return Object().text("id", c.id).text("text", c.text).json(); }));
  out.text("answer", progress.answer).flag("locked", step.kind == StepKind::kPredict && progress.answers > 0);
  if (progress.answers > 0) out.flag("right", progress.right).text("reply", reply_to(question, progress));
  return out.json();
}

std::string outcome_view(const Lesson& lesson, const Board& board, const Check& check, const Outcome& outcome) {
  Object out;
  out.text("id", check.id).flag("passed", outcome.passed());
  if (outcome.passed()) return out.json();
  out.text("reason", key(outcome.reason)).text("fail", check.fail).text("tag", check.tag).add("hints", texts(check.hints));
  out.add("case", list_json(outcome.at, [&](const CaseSetting& s) {
            const Part& part = board.parts[size_t(s.part)];
            const ValueSpec& spec = part.kind->values[size_t(s.value)];
            return Object().text("part", part.name).text("key", spec.key).add("to", write_value(spec, s.position)).json();
          }));
  std::vector<std::string> parts, holes;
  for (const Place& place : outcome.places) {
    if (const Part* part = board.find(place.part); part && std::find(parts.begin(), parts.end(), part->name) == parts.end())
      parts.push_back(part->name);
    if (place.hole.valid()) holes.push_back(board.name_of(place.hole));
  }
  out.add("parts", texts(parts)).add("holes", texts(holes));
  if (!outcome.what.empty()) out.text("what", outcome.what);
  if (!outcome.wanted.empty()) out.text("wanted", outcome.wanted);
  const bool numbers = outcome.reason == Reason::kOutside || outcome.reason == Reason::kTooFew ||
                       outcome.reason == Reason::kTooMany || outcome.reason == Reason::kNoWave;
  if (numbers)
    out.number("found", outcome.found)
        .number("least", outcome.expected.low)
        .number("most", outcome.expected.high)
        .text("unit", outcome.unit);
  if (outcome.role >= 0) out.text("role", lesson.roles[size_t(outcome.role)].name);
  if (outcome.finding) out.text("finding", key(outcome.finding->kind));
  return out.json();
}

}  // namespace

std::string lesson_summary(const Lesson& lesson) {
  Object out;
  out.text("id", lesson.id).text("title", lesson.title).text("goal", lesson.goal).number("minutes", lesson.minutes);
  out.add("curriculum", texts(lesson.curriculum))
      .add("misconceptions", texts(lesson.misconceptions))
      .add("cautions", texts(lesson.cautions));
  out.add("box", list_json(lesson.box, [](const BoxEntry& b) {
            return Object().text("kind", b.kind->key).number("count", b.count).json();
          }));
  out.add(
      "steps", list_json(lesson.steps, [](const Step& s) {
        return Object().text("id", s.id).text("kind", key(s.kind)).text("title", s.title).flag("optional", s.optional).json();
      }));
  return out.json();
}

std::string step_view(const Lesson& lesson, const Progress& progress, int index) {
  const Step& step = lesson.steps[size_t(index)];
  const StepProgress& now = progress.steps[size_t(index)];
  Object out;
  out.text("id", step.id).text("kind", key(step.kind)).text("title", step.title).text("text", step.text);
  out.flag("done", now.done).flag("current", progress.step == index).flag("supplyAllowed", supply_allowed(lesson, progress));
  out.add("checks", list_json(step.checks, [](const Check& check) { return json_text(check.id); }));
  out.number("hints", now.hints).number("hintDepths", kHintDepths);
  if (step.question) out.add("question", question_view(step, now));
  return out.json();
}

std::string verdict_view(const Lesson& lesson, const Board& board, const Verdict& verdict) {
  Object out, roles;
  for (size_t role = 0; role < lesson.roles.size(); ++role)
    if (const int part = verdict.part_of_role[role]; part >= 0)
      roles.text(lesson.roles[role].name, board.parts[size_t(part)].name);
  out.flag("passed", verdict.passed())
      .number("points", verdict.points)
      .number("mostPoints", verdict.most_points)
      .add("roles", roles.json());
  std::string checks;
  for (size_t k = 0; k < verdict.checks.size(); ++k)
    checks += (k > 0 ? "," : "") + outcome_view(lesson, board, *verdict.checks[k], verdict.outcomes[k]);
  return out.add("checks", "[" + checks + "]").json();
}

}  // namespace tiepoint
