#include "shell/bench/page_lesson.h"

#include <array>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/file/lesson_view.h"
#include "engine/file/variants.h"
#include "shell/bench/bench.h"
#include "shell/bench/learner.h"
#include "shell/bench/page_request.h"
#include "shell/bench/record_lesson.h"
#include "shell/words/lesson_words.h"

namespace tiepoint {
namespace {

using namespace page;

Result<Help> level_of(const Json& object, const char* name) {
  const Result<std::string> word = optional_text(object, name);
  if (!word) return word.error();
  if (word->empty()) return Help::kParts;
  const std::optional<Help> help = help_level(*word);
  if (!help)
    return Error{.code = Code::kBadValue,
                 .found = "\"" + word->substr(0, 60) + "\"",
                 .expected = "one of outline, parts, goal",
                 .pointer = "/" + std::string(name)};
  return *help;
}

struct Call {
  Bench& bench;
  const Json& json;
  PageJson& out;
  Learner& learner() const { return *bench.learner(); }
};

Status open_lesson(Call& call) {
  const Result<std::string> text = text_of(call.json, "text"), progress_text = optional_text(call.json, "progress"),
                            board_text = optional_text(call.json, "board");
  if (!text) return text.error();
  if (!progress_text) return progress_text.error();
  if (!board_text) return board_text.error();
  const Result<Help> help = level_of(call.json, "help");
  const Result<double> number = number_of(call.json, "seed", 0);
  if (!help) return help.error();
  if (!number) return number.error();
  uint32_t seed = uint32_t(std::fmin(std::fmax(*number, 0), 2e9));
  Result<Lesson> lesson = read_lesson(*text, catalogue(), seed);
  if (!lesson) return lesson.error();
  Progress progress = begin(*lesson, *help, seed);
  if (!progress_text->empty()) {
    Result<Progress> saved = read_progress(*progress_text, *lesson);
    if (!saved) return saved.error();
    progress = std::move(saved).value();
    if (progress.seed != seed) lesson = read_lesson(*text, catalogue(), progress.seed);  // as it was begun
    if (!lesson) return lesson.error();
  }
  std::optional<Board> board;
  if (!board_text->empty()) {
    Result<Board> read = read_board(*board_text, catalogue());
    if (!read) return read.error();
    board = std::move(read).value();
  }
  if (call.bench.learner()) {
    call.learner().leave();
    call.bench.set_learner(nullptr);
  }
  call.bench.set_learner(
      std::make_unique<Learner>(call.bench, std::move(lesson).value(), std::move(progress), std::move(board)));
  return done();
}

Status see(Call&) { return done(); }
Status read_on(Call& call) { return call.learner().tell(ReadOn{}); }

Status answer(Call& call) {
  const Result<std::string> choice = optional_text(call.json, "choice");
  const Result<double> number = number_of(call.json, "number", 0);
  if (!choice) return choice.error();
  if (!number) return number.error();
  if (choice->empty() && !find(call.json, "number"))
    return Error{.code = Code::kMissingKey, .expected = "\"choice\" or \"number\"", .pointer = "/choice"};
  return call.learner().tell(Answered{*choice, *number});
}

Status look(Call& call) { return call.learner().look(), done(); }
Status check_now(Call& call) { return call.learner().check_now(), done(); }
Status hint(Call& call) { return call.learner().ask_hint(); }

Status go(Call& call) {
  const Result<double> step = number_of(call.json, "step", -1);
  if (!step) return step.error();
  return call.learner().go(int(std::fmin(std::fmax(*step, -1), kMostSteps)));
}

Status choose_help(Call& call) {
  const Result<Help> help = level_of(call.json, "level");
  if (!help) return help.error();
  return call.learner().tell(HelpChosen{*help});
}

Status lay(Call& call) { return call.learner().lay_out(), done(); }

Status show(Call& call) {
  const Result<std::string> check = text_of(call.json, "check");
  if (!check) return check.error();
  call.learner().show(*check);
  return done();
}

Status put(Call& call) {
  const Json* down = find(call.json, "down");
  if (down && !down->IsBool()) return wrong_type("down", "true or false");
  if (down && !down->GetBool()) return call.learner().let_go(), done();
  const Result<std::string> check = text_of(call.json, "check");
  if (!check) return check.error();
  return call.learner().put_case(*check);
}

Status spend(Call& call) {
  const Result<double> seconds = number_of(call.json, "seconds", 0);
  if (!seconds) return seconds.error();
  return call.learner().tell(TimePassed{*seconds});
}

struct Act {
  std::string_view name;
  Status (*act)(Call&);
};
constexpr std::array kActs = {Act{"see", see},         Act{"read", read_on}, Act{"answer", answer}, Act{"look", look},
                              Act{"check", check_now}, Act{"hint", hint},    Act{"go", go},         Act{"help", choose_help},
                              Act{"lay", lay},         Act{"show", show},    Act{"put", put},       Act{"time", spend}};

Status summary(Call& call) {
  const Result<std::string> text = text_of(call.json, "text");
  if (!text) return text.error();
  const Result<Lesson> lesson = read_lesson(*text, catalogue());
  if (!lesson) return lesson.error();
  call.out.key("about").raw(lesson_summary(*lesson));
  return done();
}

// What whoever writes a lesson wants to know of it: is it in order, and does their own build bear it out?
Status prove(Call& call) {
  const Result<std::string> text = text_of(call.json, "text");
  if (!text) return text.error();
  const Result<Rubric> rubric = read_rubric(*text, catalogue());
  if (!rubric) return rubric.error();
  call.out.key("about").raw(lesson_summary(rubric->cases[0])).member("cases", int(rubric->cases.size())).key("faults").array();
  for (const Lesson& lesson : rubric->cases) {
    const Result<std::vector<LessonFault>> faults = faults_of(lesson);
    if (!faults) return faults.error();
    for (const LessonFault& fault : *faults)
      call.out.object()
          .member("pointer", fault.pointer)
          .member("text", fault.words)
          .member("case", lesson.case_index + 1)
          .end_object();
  }
  call.out.end_array();
  return done();
}

Status record(Call& call) {
  const Result<std::string> text = record_lesson(call.bench.session().board());
  if (!text) return text.error();
  call.out.member("text", *text);
  return done();
}

void write_verdict(PageJson& out, const Learner& learner) {
  const Verdict* verdict = learner.verdict();
  out.key("verdict");
  if (!verdict) {
    out.null();
    return;
  }
  out.raw(verdict_view(learner.lesson(), learner.judged_board(), *verdict))
      .member("current", learner.verdict_is_of_this_board())
      .key("words")
      .array();
  for (const Outcome& outcome : verdict->outcomes)
    out.object()
        .member("reason", outcome.passed() ? std::string() : words_of(learner.lesson(), learner.judged_board(), outcome))
        .member("case", outcome.passed() ? std::string() : case_words(learner.judged_board(), outcome))
        .end_object();
  out.end_array();
}

}  // namespace

void write_lesson(PageJson& out, Bench& bench) {
  const Learner& learner = *bench.learner();
  const Lesson& lesson = learner.lesson();
  const Progress& progress = learner.progress();
  out.key("about").raw(lesson_summary(lesson)).member("at", progress.step).key("steps").array();
  const int reached = frontier(lesson, progress);
  for (size_t i = 0; i < lesson.steps.size(); ++i)
    out.object().member("done", progress.steps[i].done).member("open", int(i) <= reached).end_object();
  out.end_array().key("step").raw(step_view(lesson, progress, progress.step));
  write_verdict(out, learner);
  out.key("hints").array();
  for (const std::string& hint : learner.hints()) out.value(hint);
  out.end_array()
      .member("touched", learner.touched())
      .member("hintsLeft", learner.more_hints())
      .member("help", key(progress.help))
      .member("supplyAllowed", supply_allowed(lesson, progress));
  out.member("refusals", bench.desk().supply_refusals).key("dark").array();
  for (const Part& part : bench.session().board().parts)
    if (is_supply(part) && !is_on(part)) out.value(part.name);
  out.end_array().member("complete", complete(lesson, progress)).member("progress", write_progress(lesson, progress));
}

Status lesson_command(Bench& bench, const Json& request, PageJson& out) {
  const Result<std::string> name = text_of(request, "act");
  if (!name) return name.error();
  Call call{bench, request, out};
  if (*name == "summary") return summary(call);
  if (*name == "record") return record(call);
  if (*name == "prove") return prove(call);
  if (*name == "open") {
    if (const Status status = open_lesson(call); !status) return status.error();
    write_lesson(out, bench);
    return done();
  }
  if (!bench.learner())
    return Error{.code = Code::kBadValue,
                 .found = "\"" + name->substr(0, 60) + "\"",
                 .expected = "a lesson to be opened first",
                 .pointer = "/act"};
  if (*name == "leave") {
    bench.learner()->leave();
    bench.set_learner(nullptr);
    return done();
  }
  for (const Act& act : kActs) {
    if (act.name != *name) continue;
    if (const Status status = act.act(call); !status) return status.error();
    write_lesson(out, bench);
    return done();
  }
  std::string expected = "one of summary, record, prove, open, leave";
  for (const Act& act : kActs) expected += ", " + std::string(act.name);
  return Error{
      .code = Code::kBadValue, .found = "\"" + name->substr(0, 60) + "\"", .expected = std::move(expected), .pointer = "/act"};
}

}  // namespace tiepoint
