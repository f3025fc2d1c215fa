#include "engine/lesson/progress.h"

#include <algorithm>

#include "engine/board/words.h"

namespace tiepoint {
namespace {

// Is there nothing left to wait for?
bool is_done(const Step& step, const StepProgress& progress) {
  if (!step.checks.empty() && !progress.judged) return false;
  if (!step.question) return true;
  return step.kind == StepKind::kPredict ? progress.answers > 0 : progress.right;
}

void note(std::vector<std::string>& tags, const std::string& tag) {
  if (!tag.empty() && std::find(tags.begin(), tags.end(), tag) == tags.end()) tags.push_back(tag);
}

const Choice* find_choice(const Question& question, std::string_view id) {
  const auto found =
      std::find_if(question.choices.begin(), question.choices.end(), [&](const Choice& c) { return c.id == id; });
  return found == question.choices.end() ? nullptr : &*found;
}

std::string choice_ids(const Question& question) {
  std::string list;
  for (const Choice& choice : question.choices) list += (list.empty() ? "one of " : ", ") + choice.id;
  return list;
}

struct Change {
  const Lesson& lesson;
  Progress& progress;
  const Step& step = lesson.steps[size_t(progress.step)];
  StepProgress& now = progress.steps[size_t(progress.step)];

  Status operator()(const ReadOn&) {
    if (!step.checks.empty() || step.question)
      return Error{
          .code = Code::kBadValue, .found = "reading on", .expected = "what the step " + in_quotes(step.id) + " asks for"};
    now.done = true;
    return done();
  }
  Status operator()(const Answered& answer) {
    if (!step.question)
      return Error{.code = Code::kBadValue, .found = "an answer", .expected = "no answer: this step asks nothing"};
    const Question& question = *step.question;
    if (step.kind == StepKind::kPredict && now.answers > 0)
      return Error{.code = Code::kBadValue, .found = "a second prediction", .expected = "the one that was made first"};
    const Choice* choice = find_choice(question, answer.choice);
    if (!question.choices.empty() && !choice)
      return Error{.code = Code::kBadValue, .found = in_quotes(answer.choice), .expected = choice_ids(question)};
    now.answer = choice ? choice->id : number_text(answer.number);
    now.right = answer_is_right(question, answer);
    ++now.answers;
    if (choice && !now.right) note(now.tags, choice->tag);
    now.done = now.done || is_done(step, now);
    return done();
  }
  Status operator()(const Judged& judged) {
    if (step.checks.empty())
      return Error{.code = Code::kBadValue, .found = "a verdict", .expected = "none: nothing is checked in this step"};
    ++now.tries;
    if (judged.passed)
      now.judged = true;
    else
      note(now.tags, judged.tag);
    now.done = now.done || is_done(step, now);
    return done();
  }
  Status operator()(const HintAsked&) {
    now.hints = std::min(now.hints + 1, kHintDepths);
    return done();
  }
  Status operator()(const WentTo& to) {
    const int reached = std::min(frontier(lesson, progress), int(lesson.steps.size()) - 1);
    if (to.step < 0 || to.step > reached)
      return Error{.code = Code::kBadValue,
                   .found = "step " + std::to_string(to.step + 1),
                   .expected = "a step from 1 to " + std::to_string(reached + 1)};
    progress.step = to.step;
    progress.steps[size_t(to.step)].seen = true;
    return done();
  }
  Status operator()(const TimePassed& time) {
    if (!(time.seconds >= 0))
      return Error{.code = Code::kBadValue, .found = number_text(time.seconds), .expected = "seconds gone by"};
    now.seconds += time.seconds;
    return done();
  }
  Status operator()(const HelpChosen& chosen) {
    progress.help = chosen.help;
    return done();
  }
};

}  // namespace

Progress begin(const Lesson& lesson, Help help, uint32_t seed) {
  return {lesson.id, help, seed & 0x7FFFFFFF, 0, std::vector<StepProgress>(lesson.steps.size())};
}

Result<Progress> after(const Lesson& lesson, const Progress& progress, const ProgressEvent& event) {
  if (const Status fits = belongs(lesson, progress); !fits) return fits.error();
  Progress next = progress;
  Change change{lesson, next};
  if (const Status status = std::visit(change, event); !status) return status.error();
  return next;
}

Judged judged(const Verdict& verdict) {
  const int failed = verdict.first_failed();
  return {failed < 0, failed < 0 ? std::string() : verdict.checks[size_t(failed)]->tag};
}

bool answer_is_right(const Question& question, const Answered& answer) {
  if (question.choices.empty()) return question.window.holds(answer.number);
  const Choice* choice = find_choice(question, answer.choice);
  return choice && choice->right;
}

std::string_view reply_to(const Question& question, const StepProgress& step) {
  if (step.answers == 0) return {};
  if (question.choices.empty()) return step.right ? question.right_reply : question.wrong_reply;
  const Choice* choice = find_choice(question, step.answer);
  return choice ? std::string_view(choice->reply) : std::string_view();
}

int frontier(const Lesson& lesson, const Progress& progress) {
  for (size_t i = 0; i < lesson.steps.size(); ++i)
    if (!progress.steps[i].done && !lesson.steps[i].optional) return int(i);
  return int(lesson.steps.size());
}

bool supply_allowed(const Lesson& lesson, const Progress& progress) {
  const int first = frontier(lesson, progress);
  if (first >= int(lesson.steps.size()) || lesson.steps[size_t(first)].kind != StepKind::kPredict) return true;
  return progress.step != first && !progress.steps[size_t(first)].seen;
}

bool complete(const Lesson& lesson, const Progress& progress) {
  for (size_t i = 0; i < lesson.steps.size(); ++i)
    if (lesson.needs(lesson.steps[i]) && !progress.steps[i].done) return false;
  return true;
}

Status belongs(const Lesson& lesson, const Progress& progress) {
  if (progress.lesson != lesson.id)
    return Error{
        .code = Code::kBadValue, .found = "progress in " + in_quotes(progress.lesson), .expected = in_quotes(lesson.id)};
  if (progress.steps.size() != lesson.steps.size() || lesson.steps.empty())
    return Error{.code = Code::kBadValue,
                 .found = std::to_string(progress.steps.size()) + " steps",
                 .expected = std::to_string(lesson.steps.size()) + " steps, as in this version of the lesson"};
  if (progress.step < 0 || progress.step >= int(progress.steps.size()))
    return Error{
        .code = Code::kBadValue, .found = "step " + std::to_string(progress.step + 1), .expected = "a step of the lesson"};
  return done();
}

}  // namespace tiepoint
