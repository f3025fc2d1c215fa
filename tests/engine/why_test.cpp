#include "engine/explain/why.h"

#include <gtest/gtest.h>

#include "engine/session/session.h"
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

std::vector<HillStep> hill(const Board& board, std::string_view part) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  return hill_of(board, take_readings(board, wiring, circuit, solve_operating_point(circuit)), path_through(board, wiring, board.find(part)->id));
}

// Kirchhoff's voltage law: round a loop the steps up and down come to nothing.
TEST(HillOf, StepsDownComeToTheStepUpAndMeetEachOther) {
  BoardBuilder b = one_button();
  for (const bool pressed : {false, true}) {
    b.board.parts[size_t(b.part("S1"))].values[0] = pressed;
    const std::vector<HillStep> steps = hill(b.board, "LED1");
    ASSERT_EQ(steps.size(), 6u);
    EXPECT_EQ(steps[0].part, b.board.find("PS1")->id);
    EXPECT_EQ(steps[0].before, 0);
    double down = 0;
    for (size_t k = 1; k < steps.size(); ++k) {
      down += steps[k].before - steps[k].after;
      // Both leads in one strip: what lies between them is the spring contact, a few tens of milliohms at most.
      EXPECT_NEAR(steps[k].before, steps[k - 1].after, 0.01) << k;
      EXPECT_NEAR(steps[k].current, steps[0].current, 1e-6) << k;
    }
    EXPECT_NEAR(down, steps[0].after - steps[0].before, 0.02);
    const HillStep& button = steps[2];
    ASSERT_EQ(b.board.find(button.part)->name, "S1");
    if (pressed) EXPECT_LT(button.before - button.after, 0.05);
    // An open contact holds off the whole voltage: nothing flows, so nothing drops elsewhere.
    else EXPECT_NEAR(button.before - button.after, steps[0].after, 0.05);
  }
  // 5 V on 330 ohm and a red LED of about 1.9 V: handbook figure of a red LED's forward voltage, from memory.
  const std::vector<HillStep> steps = hill(b.board, "R1");
  ASSERT_EQ(b.board.find(steps[4].part)->name, "LED1");
  EXPECT_NEAR(steps[4].before - steps[4].after, 1.9, 0.15);
  EXPECT_NEAR(steps[3].before - steps[3].after, 330 * steps[3].current, 1e-3);
}

TEST(HillOf, NoPathGivesNoHill) {
  BoardBuilder b;
  b.add("led", "LED1", {"c15", "c16"});
  EXPECT_TRUE(hill(b.board, "LED1").empty());
  EXPECT_TRUE(path_through(b.board, wire_up(b.board), PartId{}).steps.empty());
}

TEST(HillOf, CountsFromTheMinusOfTheSupplyAndItsCurrentGoesAlongTheWay) {
  BoardBuilder b;
  b.add("battery-pack", "BAT1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+5", "a5"});
  b.add("resistor", "R1", {"b5", "b10"});
  b.add("led", "LED1", {"c10", "c11"});
  b.add("jumper-wire", "W2", {"a11", "top-11"});
  const std::vector<HillStep> steps = hill(b.board, "LED1");
  ASSERT_FALSE(steps.empty());
  EXPECT_EQ(steps.front().before, 0);
  EXPECT_NEAR(steps.back().after, 0, 0.01);
  EXPECT_GT(steps.front().current, 0.001) << "delivered, along the way";
}

// Between its two distances a reed may be either: the way leads through the one that is closed, and past the one that is open.
TEST(HillOf, AReedBetweenItsDistancesIsAStepOfTheWayWhenItIsClosed) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("reed-switch", "S1", {"c5", "c15"}).set("magnet", 0.05);
  b.add("jumper-wire", "W3", {"b5", "f5"});
  b.add("resistor", "R1", {"h5", "h15"});
  b.add("jumper-wire", "W4", {"f15", "b15"});
  b.add("resistor", "R2", {"d15", "d20"});
  b.add("led", "LED1", {"c20", "c21"});
  b.add("jumper-wire", "W2", {"a21", "top-21"});
  Session session;
  session.load(b.board);
  session.advance(1e-3);
  const auto way_at = [&](double distance) {
    EXPECT_TRUE(session.apply(Edit{SetValue{"S1", "magnet", distance}}).ok());
    session.advance(5e-3);
    const Path path = path_through(session.board(), session.wiring(), session.readings(), session.board().find("LED1")->id);
    std::string out;
    for (const HillStep& step : hill_of(session.board(), session.readings(), path)) out += session.board().find(step.part)->name + " ";
    return out;
  };
  const std::string through = "PS1 W1 S1 R2 LED1 W2 ", past = "PS1 W1 W3 R1 W4 R2 LED1 W2 ";
  EXPECT_EQ(way_at(0.011), past);
  EXPECT_EQ(way_at(0.005), through);
  EXPECT_EQ(way_at(0.011), through);
  EXPECT_EQ(way_at(0.05), past);
}

}  // namespace
}  // namespace tiepoint
