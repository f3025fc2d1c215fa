#include "shell/bench/record_lesson.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>
#include <string>

#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/lesson/check.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

Board board_of(const std::string& path) {
  std::ifstream in(TIEPOINT_SOURCE + path);
  std::stringstream text;
  text << in.rdbuf();
  Result<Board> board = read_board(text.str(), catalogue());
  EXPECT_TRUE(board.ok()) << path;
  return board ? std::move(board).value() : Board{};
}

// Ids of the checks that a board fails in the lesson recorded from another, "" for none.
std::string failing(const Board& author, const Board& learner) {
  const Result<std::string> text = record_lesson(author);
  EXPECT_TRUE(text.ok()) << (text ? "" : tiepoint::text(text.error()));
  if (!text) return "not recorded";
  const Result<Lesson> lesson = read_lesson(*text, catalogue());
  EXPECT_TRUE(lesson.ok());
  const Verdict verdict = judge_step(*lesson, 1, learner);
  std::string ids;
  for (size_t i = 0; i < verdict.checks.size(); ++i)
    if (!verdict.outcomes[i].passed()) ids += (ids.empty() ? "" : " ") + verdict.checks[i]->id;
  return ids;
}

TEST(RecordLesson, TheBoardItselfPassesItsOwnChecks) {
  for (const char* id : {"first-lamp", "two-hands", "two-doors", "beacon", "call-button"}) {
    const Board board = board_of("/tests/lessons/" + std::string(id) + ".right.board.json");
    EXPECT_EQ(failing(board, board), "") << id;
  }
}

TEST(RecordLesson, ChecksAskForTheTruthTableTheCurrentTheShapeAndSoundness) {
  const Result<std::string> text = record_lesson(board_of("/tests/lessons/two-hands.right.board.json"));
  ASSERT_TRUE(text.ok());
  const Result<Lesson> lesson = read_lesson(*text, catalogue());
  ASSERT_TRUE(lesson.ok());
  std::string ids;
  for (const Check& check : lesson->steps[1].checks) ids += check.id.substr(0, check.id.find('-')) + " ";
  EXPECT_EQ(ids, "when current shape sound ");
}

TEST(RecordLesson, ABoardThatDoesSomethingElseFails) {
  const Board author = board_of("/tests/lessons/two-hands.right.board.json"),
              slip = board_of("/tests/lessons/two-hands.slip.board.json");
  const std::string failed = failing(author, slip);
  EXPECT_NE(failed.find("when-"), std::string::npos) << failed;
  EXPECT_NE(failed.find("shape"), std::string::npos) << failed;
}

TEST(RecordLesson, ABoardOnWhichNothingWorksIsRefused) {
  const Result<std::string> text = record_lesson(Board{});
  ASSERT_FALSE(text.ok());
  EXPECT_EQ(text.error().code, Code::kBadValue);
}

}  // namespace
}  // namespace tiepoint
