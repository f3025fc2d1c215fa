// tiepoint lesson: is a lesson file in order, and does a board do what a lesson asks for?
#include <cstdio>
#include <optional>

#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/file/lesson_view.h"
#include "engine/file/variants.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/lesson_words.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint lesson check FILE... [--json]\n"
    "       tiepoint lesson vary FILE --seed N | --learner NAME\n"
    "       tiepoint lesson run FILE --board BOARD [--step ID] [--hints 1|2|3] [--json]\n"
    "\n"
    "check reads lesson files (*.lesson.json) and holds every check and every number of the text against the author's own "
    "build.\n"
    "vary says which variant of a lesson a learner has: the seed alone draws it, and a name has a seed.\n"
    "run judges a board (*.board.json) by the checks of a lesson.\n"
    "  --step ID     the checks of one step only; without it, all that a finished board must pass\n"
    "  --hints 2     adds the hint for the first check that fails: where to look (1), what is wrong (2), what to do (3)\n"
    "  --json        one JSON object (check: one for each file)\n"
    "Exit status: 0 in order, 1 a check or a number fails, 2 bad usage or bad file.\n";

// The faults of every case of the lesson, each with its case where there are several.
Result<std::vector<LessonFault>> faults_of_all(const Rubric& rubric) {
  std::vector<LessonFault> all;
  for (const Lesson& lesson : rubric.cases) {
    Result<std::vector<LessonFault>> faults = faults_of(lesson);
    if (!faults) return faults.error();
    for (LessonFault& fault : faults.value()) {
      if (rubric.cases.size() > 1)
        fault.words = say("lesson.check.case", {{"number", std::to_string(lesson.case_index + 1)}, {"fault", fault.words}});
      all.push_back(std::move(fault));
    }
  }
  return all;
}

int check_one(const std::string& file, bool json) {
  const Result<std::string> content = read_file(file);
  const Result<Rubric> rubric = content ? read_rubric(*content, catalogue()) : Result<Rubric>(content.error());
  if (!rubric) return fail(file, rubric.error(), json);
  const Lesson* const lesson = &rubric->cases[0];
  size_t checks = 0;
  for (const Step& step : lesson->steps) checks += step.checks.size();
  const Result<std::vector<LessonFault>> found = faults_of_all(*rubric);
  if (!found) return fail(file, found.error(), json);
  std::vector<std::string> faults;
  for (const LessonFault& fault : *found)
    faults.push_back(say("lesson.check.in-file", {{"file", file}, {"pointer", fault.pointer}, {"fault", fault.words}}));
  if (json) {
    JsonOut out;
    out.begin_object();
    out.member("file", file);
    out.member("id", lesson->id);
    out.member("steps", int(lesson->steps.size()));
    out.member("checks", int(checks));
    out.member("claims", int(lesson->claims.size()));
    out.key("faults");
    out.begin_array();
    for (const std::string& fault : faults) out.value(fault);
    out.end_array();
    out.end_object();
    std::puts(out.text().c_str());
  } else if (faults.empty()) {
    const std::string steps = std::to_string(lesson->steps.size()), count = std::to_string(checks),
                      claims = std::to_string(lesson->claims.size());
    std::puts(say("lesson.check.good",
                  {{"file", file}, {"title", lesson->title}, {"steps", steps}, {"checks", count}, {"claims", claims}})
                  .c_str());
  } else {
    for (const std::string& fault : faults) std::puts(fault.c_str());
  }
  return faults.empty() ? 0 : 1;
}

int check_files(const Arguments& arguments) {
  std::vector<std::string> files;
  bool json = false;
  for (size_t i = 1; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--json")
      json = true;
    else if (word.size() > 1 && word[0] == '-')
      return fail("lesson", usage_error("unknown option " + word, "--json"), false);
    else
      files.push_back(word);
  }
  if (files.empty()) return fail("lesson", usage_error("no file", "lesson files"), false);
  int worst = 0;
  for (const std::string& file : files) worst = std::max(worst, check_one(file, json));
  return worst;
}

int vary(const Arguments& arguments) {
  std::string file;
  std::optional<uint32_t> seed;
  for (size_t i = 1; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if ((word == "--seed" || word == "--learner") && i + 1 < arguments.size()) {
      const std::string& value = arguments[++i];
      const std::optional<double> number = word == "--seed" ? parse_value(value) : seed_of_name(value);
      if (!number || !(*number >= 0 && *number <= 0x7FFFFFFF))
        return fail("lesson", usage_error("'" + value + "'", "a seed from 0 to 2147483647"), false);
      seed = uint32_t(*number);
    } else if (file.empty() && word[0] != '-')
      file = word;
    else
      return fail("lesson", usage_error("'" + word + "'", "one file and --seed N or --learner NAME"), false);
  }
  if (file.empty() || !seed) return fail("lesson", usage_error("too little", "a file and --seed N or --learner NAME"), false);
  const Result<std::string> content = read_file(file);
  const Result<Draw> drawn = content ? draw(*content, catalogue(), *seed) : Result<Draw>(content.error());
  if (!drawn) return fail(file, drawn.error(), false);
  const Result<Lesson> lesson = read_lesson(*content, catalogue(), *seed);
  if (!lesson) return fail(file, lesson.error(), false);
  std::puts(say("lesson.vary.drawn", {{"seed", std::to_string(*seed)},
                                      {"case", std::to_string(drawn->case_index + 1)},
                                      {"count", std::to_string(lesson->case_count)},
                                      {"columns", std::to_string(drawn->shift)}})
                .c_str());
  for (const auto& [name, value] : drawn->values)
    std::puts(say("lesson.vary.value", {{"name", name}, {"value", value}}).c_str());
  for (const Step& step : lesson->steps) {
    int which = -1;
    if (step.faults.empty() || !hidden_board(step, *seed, &which)) continue;
    std::puts(say("lesson.vary.fault", {{"step", step.id}, {"fault", step.faults[size_t(which)].id}}).c_str());
  }
  return 0;
}

struct Run {
  std::string lesson, board, step;
  int hints = 0;
  bool json = false;
};

Result<Run> read_run(const Arguments& arguments) {
  Run run;
  for (size_t i = 1; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    const bool takes = word == "--board" || word == "--step" || word == "--hints";
    if (takes && i + 1 >= arguments.size()) return usage_error(word + " stands alone", "a value after it");
    if (word == "--json")
      run.json = true;
    else if (word == "--board")
      run.board = arguments[++i];
    else if (word == "--step")
      run.step = arguments[++i];
    else if (word == "--hints") {
      const std::string& depth = arguments[++i];
      if (depth != "1" && depth != "2" && depth != "3") return usage_error("'" + depth + "' is no depth", "1, 2 or 3");
      run.hints = depth[0] - '0';
    } else if (word.size() > 1 && word[0] == '-')
      return usage_error("unknown option " + word, "--board, --step, --hints or --json");
    else if (run.lesson.empty())
      run.lesson = word;
    else
      return usage_error("a second file " + word, "one lesson and --board");
  }
  if (run.lesson.empty()) return usage_error("no file", "a lesson file");
  if (run.board.empty()) return usage_error("no board", "--board and a board file");
  return run;
}

void print_text(const Lesson& lesson, const Board& board, const Verdict& verdict, std::string_view hint) {
  const std::string count = std::to_string(verdict.checks.size());
  int passed = 0;
  for (const Outcome& outcome : verdict.outcomes) passed += outcome.passed();
  if (verdict.passed())
    std::puts(say("lesson.run.passed", {{"count", count}}).c_str());
  else
    std::puts(say("lesson.run.failed", {{"count", count}, {"passed", std::to_string(passed)}}).c_str());
  for (size_t k = 0; k < verdict.checks.size(); ++k) {
    if (verdict.outcomes[k].passed()) continue;
    const std::string reason = words_of(lesson, board, verdict.outcomes[k]), at = case_words(board, verdict.outcomes[k]);
    std::puts(say("lesson.run.line",
                  {{"check", verdict.checks[k]->id}, {"fail", verdict.checks[k]->fail}, {"reason", reason}, {"case", at}})
                  .c_str());
  }
  if (!hint.empty()) std::puts(say("lesson.run.hint", {{"hint", hint}}).c_str());
}

int step_of(const Lesson& lesson, const Check* check) {
  for (size_t s = 0; s < lesson.steps.size(); ++s)
    for (const Check& one : lesson.steps[s].checks)
      if (&one == check) return int(s);
  return 0;
}

int run_board(const Arguments& arguments) {
  const Result<Run> run = read_run(arguments);
  if (!run) return fail("lesson", run.error(), false);
  const Result<Lesson> lesson = read_lesson_file(run->lesson);
  if (!lesson) return fail(run->lesson, lesson.error(), run->json);
  const Result<std::string> content = read_file(run->board);
  if (!content) return fail(run->board, content.error(), run->json);
  const Result<Board> board = read_board(*content, catalogue());
  if (!board) return fail(run->board, board.error(), run->json);
  const int step = run->step.empty() ? -1 : lesson->step_index(run->step);
  if (!run->step.empty() && step < 0)
    return fail("lesson", usage_error("'" + run->step + "' is no step", "the id of a step of the lesson"), run->json);
  const Verdict verdict = step < 0 ? judge_hand_in(*lesson, *board) : judge_step(*lesson, step, *board);
  std::string_view hint;
  if (const int failed = verdict.first_failed(); run->hints > 0 && failed >= 0)
    hint = hint_for(*lesson, step_of(*lesson, verdict.checks[size_t(failed)]), verdict, run->hints - 1);
  if (run->json)
    std::puts(verdict_view(*lesson, *board, verdict).c_str());
  else
    print_text(*lesson, *board, verdict, hint);
  return verdict.passed() ? 0 : 1;
}

}  // namespace

Result<Lesson> read_lesson_file(const std::string& path) {
  const Result<std::string> content = read_file(path);
  if (!content) return content.error();
  return read_lesson(*content, catalogue());
}

int lesson(const Arguments& arguments) {
  const std::string what = arguments.empty() ? "" : arguments[0];
  if (what == "--help" || what == "-h") {
    std::fputs(kHelp, stdout);
    return 0;
  }
  if (what == "check") return check_files(arguments);
  if (what == "run") return run_board(arguments);
  if (what == "vary") return vary(arguments);
  return fail("lesson", usage_error(what.empty() ? "nothing to do" : "'" + what + "'", "check, run or vary"), false);
}

}  // namespace tiepoint::cli
