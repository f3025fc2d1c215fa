// The course of examples/lessons, each lesson with two boards of learners in tests/lessons: one built right in another way than
// the author's, one with a typical mistake.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/lesson/check.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

std::string text_of(const std::string& path) {
  std::ifstream in(path);
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}

struct Row {
  const char* lesson;
  const char* fails;  // the check that the mistake fails first
  const char* hint;   // what the second hint says
};

constexpr Row kCourse[] = {
    {"hidden-joints", "joined", "One column beside is another clip"},
    {"first-lamp", "lit", "which way round the LED stands"},
    {"call-button", "calls", "you use two legs of one pair"},
    {"two-hands", "and", "the buttons stand side by side"},
    {"two-doors", "or", "they stand one after the other"},
    {"two-paths", "adds-up", "they stand one after the other"},
    {"sharing-voltage", "tap", "the resistors have changed places"},
    {"dimmer", "dims", "The wiper is not part of the way"},
    {"dusk", "day", "The base is not pulled down in the light"},
    {"slow-fade", "while-held", "it stands in line with it"},
    {"beacon", "flashes", "the capacitors do not cross over"},
    {"timer-beacon", "rate", "read the print of the capacitor again"},
    {"fog-horn", "tone", "ten times too large or too small"},
    {"interlock", "both", "which of them does not follow its switch down to 0 V"},
    {"fault-hunt", "as-before", "something leads past it"},
};

class Course : public testing::TestWithParam<Row> {
 protected:
  Lesson lesson() const {
    Result<Lesson> lesson =
        read_lesson(text_of(std::string(TIEPOINT_EXAMPLES) + "/lessons/" + GetParam().lesson + ".lesson.json"), catalogue());
    if (!lesson) ADD_FAILURE() << text(lesson.error());
    return lesson ? std::move(lesson).value() : Lesson{};
  }
  Board board(const std::string& which) const {
    Result<Board> board =
        read_board(text_of(std::string(TIEPOINT_SOURCE) + "/tests/lessons/" + GetParam().lesson + "." + which + ".board.json"),
                   catalogue());
    if (!board) ADD_FAILURE() << text(board.error());
    return board ? std::move(board).value() : Board{};
  }
};

std::string failures(const Verdict& verdict) {
  std::string list;
  for (size_t k = 0; k < verdict.outcomes.size(); ++k)
    if (!verdict.outcomes[k].passed())
      list += verdict.checks[k]->id + " (" + std::string(key(verdict.outcomes[k].reason)) + ") ";
  return list;
}

TEST_P(Course, AuthorsBuildPassesAndBearsOutEveryNumber) {
  const Lesson l = lesson();
  ASSERT_TRUE(l.outline);
  const Verdict verdict = judge_hand_in(l, *l.outline);
  EXPECT_GE(verdict.checks.size(), 3u);
  EXPECT_TRUE(verdict.passed()) << failures(verdict);
  EXPECT_FALSE(l.claims.empty());
  const Result<std::vector<BrokenClaim>> broken = check_claims(l);
  ASSERT_TRUE(broken.ok());
  for (const BrokenClaim& one : *broken) ADD_FAILURE() << l.claims[size_t(one.claim)].says << ": found " << one.outcome.found;
}

TEST_P(Course, RightBuildMadeDifferentlyCompletesTheLesson) {
  const Lesson l = lesson();
  const Board b = board("right");
  const Verdict verdict = judge_hand_in(l, b);
  EXPECT_TRUE(verdict.passed()) << failures(verdict);
  // Made differently: no more than a few parts stand where the author put them.
  size_t same = 0;
  for (const Part& part : b.parts)
    for (const Part& own : l.outline->parts)
      same += part.kind == own.kind && part.leads == own.leads && part.values == own.values;
  EXPECT_LT(same, b.parts.size());
}

TEST_P(Course, TypicalMistakeFailsTheExpectedCheckAndGetsItsHint) {
  const Lesson l = lesson();
  const Verdict verdict = judge_hand_in(l, board("slip"));
  ASSERT_FALSE(verdict.passed());
  const Check& failed = *verdict.checks[size_t(verdict.first_failed())];
  EXPECT_EQ(failed.id, GetParam().fails) << failures(verdict);
  const auto step = std::find_if(l.steps.begin(), l.steps.end(), [&](const Step& s) {
    return std::any_of(s.checks.begin(), s.checks.end(), [&](const Check& check) { return check.id == failed.id; });
  });
  const std::string_view hint = hint_for(l, int(step - l.steps.begin()), verdict, 1);
  EXPECT_NE(hint.find(GetParam().hint), std::string_view::npos) << hint;
}

TEST_P(Course, HasWhatATextbookHas) {
  const Lesson l = lesson();
  std::set<StepKind> kinds;
  int right_first = 0, questions = 0;
  for (const Step& step : l.steps) {
    kinds.insert(step.kind);
    EXPECT_FALSE(step.text.empty()) << step.id;
    for (const Check& check : step.checks) EXPECT_EQ(check.hints.size(), size_t(kHintDepths)) << check.id;
    if (!step.question || step.question->choices.empty()) continue;
    ++questions;
    right_first += step.question->choices.front().right;
    for (const Choice& choice : step.question->choices) EXPECT_FALSE(choice.reply.empty()) << step.id << " " << choice.id;
  }
  for (const StepKind kind : {StepKind::kRead, StepKind::kPredict, StepKind::kExplain, StepKind::kFree})
    EXPECT_TRUE(kinds.count(kind)) << key(kind);
  EXPECT_TRUE(kinds.count(StepKind::kBuild) || kinds.count(StepKind::kHunt));
  EXPECT_TRUE(questions < 2 || right_first < questions) << "the first answer is always the right one";
  EXPECT_FALSE(l.cautions.empty());
  EXPECT_FALSE(l.misconceptions.empty());
  EXPECT_FALSE(l.curriculum.empty());
  // Every kind of part that the author used is in the box.
  for (const Part& part : l.outline->parts)
    EXPECT_TRUE(std::any_of(l.box.begin(), l.box.end(), [&](const BoxEntry& entry) { return entry.kind == part.kind; }))
        << part.kind->key;
}

TEST_P(Course, HiddenFaultsAreReallyFaults) {
  const Lesson l = lesson();
  for (size_t s = 0; s < l.steps.size(); ++s) {
    const Step& step = l.steps[s];
    for (uint32_t seed = 0; seed < step.faults.size(); ++seed) {
      const Result<Board> hidden = hidden_board(step, seed);
      ASSERT_TRUE(hidden.ok());
      EXPECT_FALSE(judge_step(l, int(s), *hidden).passed()) << step.faults[seed].id;
    }
    if (step.kind != StepKind::kHunt) continue;
    EXPECT_TRUE(judge_step(l, int(s), *step.board).passed());
  }
}

INSTANTIATE_TEST_SUITE_P(Lessons, Course, testing::ValuesIn(kCourse), [](const auto& row) {
  std::string name = row.param.lesson;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(CourseTable, EveryLessonOfTheExamplesIsInIt) {
  std::set<std::string> listed, found;
  for (const Row& row : kCourse) listed.insert(row.lesson);
  for (const auto& entry : std::filesystem::directory_iterator(std::string(TIEPOINT_EXAMPLES) + "/lessons")) {
    const std::string file = entry.path().filename().string();
    if (entry.is_regular_file()) found.insert(file.substr(0, file.find('.')));  // a folder holds the words of one language
  }
  EXPECT_EQ(listed, found);
}

}  // namespace
}  // namespace tiepoint
