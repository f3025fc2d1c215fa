#include "engine/explain/why.h"

#include <gtest/gtest.h>

#include "engine/solver/simulation.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

Explanation ask(const Board& board, std::string_view part) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  const Readings readings = take_readings(board, wiring, circuit, solve_operating_point(circuit));
  const Observed bench{board, wiring, circuit, readings};
  return why(bench, board.find(part)->id, findings(bench));
}

std::vector<std::string> names(const Board& board, const Explanation& e) {
  std::vector<std::string> out;
  for (const WhyStep& step : e.steps) out.push_back(board.find(step.part) ? board.find(step.part)->name : "?");
  return out;
}

TEST(Why, DarkLedBehindAButtonNeedsThePress) {
  const Board board = one_button().board;
  const Explanation e = ask(board, "LED1");
  EXPECT_EQ(key(e.why), key(Why::kNeedsPress));
  ASSERT_EQ(e.presses.size(), 1u);
  EXPECT_EQ(board.find(e.presses[0].part)->name, "S1");
  EXPECT_TRUE(e.presses[0].hold);
  EXPECT_EQ(names(board, e), (std::vector<std::string>{"W1", "S1", "R1", "LED1", "W2"}));
}

TEST(Why, TwoButtonsInSeriesNeedBothPresses) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a3"});
  b.add("push-button", "S1", {"e3"});
  b.add("jumper-wire", "W2", {"b5", "b8"});
  b.add("push-button", "S2", {"e8"});
  b.add("resistor", "R1", {"c10", "c15"});
  b.add("led", "LED1", {"b15", "b16"});
  b.add("jumper-wire", "W3", {"a16", "top-16"});
  EXPECT_EQ(ask(b.board, "LED1").presses.size(), 2u);
}

// Volts fall and the current is the same all along a single loop.
TEST(Why, LitLedShowsItsWayWithVoltsAndAmperes) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("S1"))].values[0] = 1;
  const Explanation e = ask(b.board, "LED1");
  EXPECT_EQ(key(e.why), key(Why::kWorks));
  ASSERT_EQ(e.steps.size(), 5u);
  for (size_t k = 1; k < e.steps.size(); ++k) {
    EXPECT_LE(e.steps[k].voltage, e.steps[k - 1].voltage + 1e-9);
    EXPECT_NEAR(e.steps[k].current, e.steps[0].current, 1e-6);
  }
  EXPECT_GT(e.steps[0].current, 0.005);
}

TEST(Why, BrokenWayNamesTheLastPartBeforeTheGap) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("R1"))].leads[1] = b.at("d11");
  const Explanation e = ask(b.board, "LED1");
  EXPECT_EQ(key(e.why), key(Why::kBroken));
  ASSERT_GE(e.broken_after, 0);
  EXPECT_EQ(b.board.find(e.steps[size_t(e.broken_after)].part)->name, "R1");
  ASSERT_TRUE(e.cause.has_value());
  EXPECT_EQ(e.cause->kind, FindingKind::kNextStrip);
}

TEST(Why, PartOnNoWaySaysSo) {
  BoardBuilder b;
  b.add("led", "LED1", {"c5", "c6"});
  EXPECT_EQ(key(ask(b.board, "LED1").why), key(Why::kNoWay));
}

}  // namespace
}  // namespace tiepoint
