#include "engine/logic/truth.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "engine/board/edit.h"
#include "engine/file/json.h"

namespace tiepoint {
namespace {

Board example(const std::string& name) {
  std::ifstream file(std::string(TIEPOINT_EXAMPLES) + "/" + name + ".board.json");
  std::stringstream text;
  text << file.rdbuf();
  Result<Board> board = read_board(text.str(), catalogue());
  EXPECT_TRUE(board.ok()) << name << ": " << (board ? "" : tiepoint::text(board.error()));
  return board ? std::move(board).value() : Board{};
}

std::vector<std::string> names(const TruthTable& table) {
  std::vector<std::string> out;
  for (const TruthInput& input : table.inputs) out.push_back(input.name);
  return out;
}

// Two buttons in series are AND, in parallel OR (common practice, no source); the tables of AND and OR themselves: T. Kuphaldt,
// Lessons in Electric Circuits, vol. IV Digital, figs 04101 and 04108.
TEST(Truth, TwoButtonsInSeriesAreAnd) {
  const TruthTable table = truth_table(example("two-in-series"));
  ASSERT_EQ(table.rows.size(), 4u);
  const OutputLogic logic = logic_of(table, 0);
  ASSERT_TRUE(logic.known);
  EXPECT_EQ(in_symbols(logic.expression, names(table)), "S1 ∧ S2");
}

TEST(Truth, TwoButtonsInParallelAreOr) {
  const TruthTable table = truth_table(example("two-in-parallel"));
  const OutputLogic logic = logic_of(table, 0);
  ASSERT_TRUE(logic.known);
  EXPECT_EQ(in_symbols(logic.expression, names(table)), "S1 ∨ S2");
}

TEST(Truth, ReversedLedNeverLights) {
  const TruthTable table = truth_table(example("led-reversed"));
  const OutputLogic logic = logic_of(table, 0);
  ASSERT_TRUE(logic.known);
  EXPECT_TRUE(logic.expression.never());
}

TEST(Truth, EmptyBoardHasOneRowAndNothingInIt) {
  const TruthTable table = truth_table(Board{});
  EXPECT_TRUE(table.inputs.empty());
  EXPECT_TRUE(table.outputs.empty());
  EXPECT_EQ(table.rows.size(), 1u);
}

TEST(Truth, AfterglowFollowsItsButtonOnceSettled) {
  const TruthTable table = truth_table(example("rc-afterglow"));
  const OutputLogic logic = logic_of(table, 0);
  ASSERT_TRUE(logic.known);
  EXPECT_EQ(in_symbols(logic.expression, names(table)), "S1");
}

TEST(Truth, MoreThanTwelveSwitchesAreSampledAndSaidSo) {
  Board board;
  board.breadboards[0].layout = LayoutKind::k830;
  const PartKind* button = catalogue().find("push-button");
  ASSERT_NE(button, nullptr);
  for (int i = 0; i < 13; ++i) {
    Part part = make_part(*button);
    part.leads[0] = *board.hole("e" + std::to_string(1 + 4 * i));
    ASSERT_TRUE(apply(board, Edit{PlacePart{part}}).ok());
  }
  const TruthTable table = truth_table(board);
  EXPECT_TRUE(table.sampled);
  EXPECT_EQ(table.inputs.size(), 13u);
  EXPECT_LE(table.rows.size(), 256u);
}

}  // namespace
}  // namespace tiepoint
