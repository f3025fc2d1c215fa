#include "engine/explain/findings.h"

#include <gtest/gtest.h>

#include "engine/explain/why.h"
#include "engine/session/session.h"
#include "engine/solver/simulation.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

std::vector<Finding> look(const Board& board) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  const Readings readings = take_readings(board, wiring, circuit, solve_operating_point(circuit));
  return findings({board, wiring, circuit, readings});
}

// The first finding is of this kind, its repair fits, and after it nothing is wrong any more.
void expect_mended(Board board, FindingKind kind) {
  const std::vector<Finding> found = look(board);
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(key(found[0].kind), key(kind));
  EXPECT_EQ(found[0].severity, Severity::kFault);
  ASSERT_FALSE(found[0].repair.empty());
  ASSERT_TRUE(apply(board, Edit{Batch{found[0].repair}}).ok());
  EXPECT_FALSE(any_fault(look(board)));
}

bool names_part(const Board& board, const Finding& f, std::string_view name) {
  for (const Place& place : f.places) {
    const Part* part = board.find(place.part);
    if (part && part->name == name && !place.with) return true;
  }
  return false;
}

TEST(Findings, EmptyBoardSaysThatThereIsNothing) {
  const std::vector<Finding> found = look(Board{});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].kind, FindingKind::kNoPart);
}

TEST(Findings, BoardWithoutSupplySaysSo) {
  BoardBuilder b;
  b.add("led", "LED1", {"c5", "c6"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found[0].kind, FindingKind::kNoSupply);
  EXPECT_FALSE(any_fault(found));
}

TEST(Findings, WorkingBoardWorks) {
  const std::vector<Finding> found = look(one_button().board);
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found[0].kind, FindingKind::kWorks);
  EXPECT_FALSE(any_fault(found));
}

TEST(Findings, ReversedLedIsTurned) {
  BoardBuilder b = one_button();
  std::swap(b.board.parts[size_t(b.part("LED1"))].leads[0], b.board.parts[size_t(b.part("LED1"))].leads[1]);
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_TRUE(names_part(b.board, found[0], "LED1"));
  EXPECT_EQ(found[0].misconception, "B6");
  expect_mended(b.board, FindingKind::kLedReversed);
}

// Turned, the LED follows the gate; with its return on the plus rail it would too, but be lit until both are pressed.
TEST(Findings, ReversedLedBehindAGateIsTurnedRatherThanFedFromTheOtherRail) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("74hc08", "U1", {"f4"});
  const char* wires[][2] = {{"j7", "top-2"}, {"j8", "top-3"}, {"j10", "top-4"}, {"a9", "top-5"}, {"a8", "top-6"}, {"a6", "top-7"}, {"a5", "top-8"},
                            {"a4", "top+2"}, {"a14", "top+3"}, {"a16", "j4"}, {"a21", "top-9"}, {"a24", "top+4"}, {"a26", "j5"}, {"a22", "top-10"},
                            {"j13", "top-12"}};
  int n = 0;
  for (const auto& wire : wires) b.add("jumper-wire", std::string("W").append(std::to_string(++n)), {wire[0], wire[1]});
  b.add("push-button", "S1", {"e14"});
  b.add("push-button", "S2", {"e24"});
  b.add("resistor", "R1", {"b16", "b21"}).set("resistance", 10e3);
  b.add("resistor", "R2", {"b26", "b22"}).set("resistance", 10e3);
  b.add("resistor", "R3", {"h6", "h12"}).set("resistance", 470);
  b.add("led", "LED1", {"i13", "i12"});
  expect_mended(b.board, FindingKind::kLedReversed);
}

// What limits the current of a collector's LED is its own resistor, not the transistor's silicon nor its base resistor.
TEST(Findings, LedWithoutResistorInACollectorIsNamed) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+2", "top-1"});
  b.add("push-button", "S1", {"e5"});
  const char* wires[][2] = {{"j5", "top+4"}, {"a15", "top-12"}, {"e16", "b12"}, {"c21", "top+16"}, {"b29", "c17"}, {"b21", "b27"}};
  int n = 0;
  for (const auto& wire : wires) b.add("jumper-wire", std::string("W").append(std::to_string(++n)), {wire[0], wire[1]});
  b.add("resistor", "R1", {"c7", "c12"}).set("resistance", 4700);
  b.add("2n3904", "Q1", {"b15"});
  b.add("led", "LED1", {"d27", "d29"});
  expect_mended(b.board, FindingKind::kLedUnlimited);
}

TEST(Findings, LeadOneColumnOffNamesBothLeadsThatDoNotMeet) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("R1"))].leads[1] = b.at("d11");
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_TRUE(names_part(b.board, found[0], "R1"));
  EXPECT_TRUE(names_part(b.board, found[0], "LED1"));
  expect_mended(b.board, FindingKind::kNextStrip);
}

TEST(Findings, LeadAcrossTheCentreGap) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("R1"))].leads[1] = b.at("f12");
  expect_mended(b.board, FindingKind::kCentreGap);
}

TEST(Findings, LeadInTheAir) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("W2"))].leads[1] = Hole{};
  expect_mended(b.board, FindingKind::kLeadInAir);
}

TEST(Findings, BothLeadsInOneStrip) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("LED1"))].leads[0] = b.at("c13");
  b.board.parts[size_t(b.part("LED1"))].leads[1] = b.at("d13");
  expect_mended(b.board, FindingKind::kSameStrip);
}

TEST(Findings, MissingReturnIsAWireToTheMinusRail) {
  BoardBuilder b = one_button();
  b.board.parts.erase(b.board.parts.begin() + b.part("W2"));
  expect_mended(b.board, FindingKind::kReturnMissing);
}

TEST(Findings, SupplyOff) {
  BoardBuilder b = one_button();
  b.board.parts[0].values[0] = 0;
  expect_mended(b.board, FindingKind::kSupplyOff);
}

TEST(Findings, SupplyTheWrongWayRound) {
  BoardBuilder b = one_button();
  std::swap(b.board.parts[0].leads[0], b.board.parts[0].leads[1]);
  expect_mended(b.board, FindingKind::kSupplySwapped);
}

TEST(Findings, WireFromPlusToMinusIsAShort) {
  BoardBuilder b = one_button();
  b.add("jumper-wire", "W9", {"top+20", "top-20"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_TRUE(names_part(b.board, found[0], "W9"));
  expect_mended(b.board, FindingKind::kSupplyShorted);
}

TEST(Findings, WireAroundTheLed) {
  BoardBuilder b = one_button();
  b.add("jumper-wire", "W9", {"b12", "b13"});
  expect_mended(b.board, FindingKind::kLoadBypassed);
}

TEST(Findings, LedWithoutResistor) {
  BoardBuilder b = one_button();
  b.board.parts.erase(b.board.parts.begin() + b.part("R1"));
  b.add("jumper-wire", "W9", {"d7", "d12"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_TRUE(names_part(b.board, found[0], "LED1"));
  expect_mended(b.board, FindingKind::kLedUnlimited);
}

// Two faults of which each hides what mending the other does.
TEST(Findings, LedInOneStripAndBridgedByAWireIsMendedInTwoLooks) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+44", "top-45"});
  b.add("jumper-wire", "W1", {"c51", "top+40"});
  b.add("resistor", "R1", {"a51", "e39"});
  b.add("led", "LED1", {"d39", "c39"});
  b.add("jumper-wire", "W2", {"c38", "top-29"});
  b.add("jumper-wire", "W3", {"b39", "b38"});
  Board board = b.board;
  for (int k = 0; k < 2; ++k) {
    const std::vector<Finding> found = look(board);
    ASSERT_FALSE(found.empty());
    EXPECT_EQ(found[0].severity, Severity::kFault) << k;
    ASSERT_FALSE(found[0].repair.empty()) << k;
    ASSERT_TRUE(apply(board, Edit{Batch{found[0].repair}}).ok());
  }
  EXPECT_EQ(look(board)[0].kind, FindingKind::kWorks);
}

// The wire around button and lamp would short the supply, were the lamp's return not in the wrong rail.
TEST(Findings, WireThatASecondFaultHidesIsAFaultNotANote) {
  BoardBuilder b(LayoutKind::k830);
  b.add("battery-pack", "BAT1", {"top+20", "top-19"}).set("cells", 2);
  b.add("push-button", "S1", {"e22"});
  b.add("jumper-wire", "W1", {"a24", "top+19"});
  b.add("resistor", "R1", {"a22", "a18"}).set("resistance", 330);
  b.add("led", "LED1", {"e16", "e14"});
  b.add("jumper-wire", "W2", {"c16", "c18"});
  b.add("jumper-wire", "W3", {"a14", "top+11"});
  b.add("jumper-wire", "W4", {"b24", "b14"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found[0].severity, Severity::kFault);
  EXPECT_TRUE(names_part(b.board, found[0], "W4") || names_part(b.board, found[0], "W3"));
  Board board = b.board;
  for (int k = 0; k < 3 && any_fault(look(board)); ++k) ASSERT_TRUE(apply(board, Edit{Batch{look(board)[0].repair}}).ok());
  EXPECT_EQ(look(board)[0].kind, FindingKind::kWorks);
}

// Both wires of a two-way lamp end at one throw: the one that crosses the other is moved.
TEST(Findings, OfTwoWiresAtOneThrowTheCrossedOneMoves) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"bottom+2", "bottom-1"});
  b.add("slide-switch", "SW1", {"b6"});
  b.add("jumper-wire", "W1", {"c7", "bottom+4"});
  b.add("slide-switch", "SW2", {"d11"});
  b.add("jumper-wire", "W2", {"e11", "e6"});
  b.add("jumper-wire", "W3", {"a13", "c6"});
  b.add("resistor", "R1", {"e15", "e20"}).set("resistance", 330);
  b.add("jumper-wire", "W4", {"a15", "c12"});
  b.add("led", "LED1", {"b20", "b22"});
  b.add("jumper-wire", "W5", {"a22", "bottom-17"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  EXPECT_TRUE(names_part(b.board, found[0], "W3"));
  expect_mended(b.board, FindingKind::kSwitchEnds);
}

// A 330 ohm resistor misread by three decades is named with its own value, not with one that leaves the lamp too weak.
TEST(Findings, MisreadBandsBehindATimerAreReadAsAUsualValue) {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+7", "top-6"});
  b.add("ne555", "U1", {"f8"});
  b.add("jumper-wire", "W1", {"g8", "top-5"});
  b.add("jumper-wire", "W2", {"g11", "top+10"});
  b.add("jumper-wire", "W3", {"d10", "j9"});
  b.add("jumper-wire", "W4", {"a8", "top+6"});
  b.add("resistor", "R1", {"d14", "d19"}).set("resistance", 10000);
  b.add("jumper-wire", "W5", {"c14", "top+12"});
  b.add("jumper-wire", "W6", {"c19", "a9"});
  b.add("resistor", "R2", {"a21", "a27"}).set("resistance", 47000);
  b.add("jumper-wire", "W7", {"c21", "b19"});
  b.add("jumper-wire", "W8", {"e27", "c10"});
  b.add("electrolytic-capacitor", "C1", {"d27", "d28"}).set("capacitance", 1e-5);
  b.add("jumper-wire", "W9", {"e28", "top-23"});
  b.add("resistor", "R3", {"f13", "f18"}).set("resistance", 330000);
  b.add("jumper-wire", "W10", {"g13", "g10"});
  b.add("led", "LED1", {"g18", "g20"});
  b.add("jumper-wire", "W11", {"i20", "top-17"});
  const std::vector<Finding> found = look(b.board);
  ASSERT_FALSE(found.empty());
  ASSERT_EQ(found[0].kind, FindingKind::kResistorTooLarge);
  EXPECT_EQ(std::get<SetValue>(found[0].repair[0].act).value, 330);
}

TEST(Findings, MisreadBandsByDecades) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("R1"))].values[0] = 33000;
  expect_mended(b.board, FindingKind::kResistorTooLarge);
  b.board.parts[size_t(b.part("R1"))].values[0] = 3.3;
  expect_mended(b.board, FindingKind::kResistorTooSmall);
}

TEST(Findings, SplitRailNeedsItsBridge) {
  BoardBuilder b(LayoutKind::k830, true);
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+40", "a45"});
  b.add("resistor", "R1", {"c45", "c50"});
  b.add("led", "LED1", {"b50", "b51"});
  b.add("jumper-wire", "W2", {"a51", "top-45"});
  b.add("jumper-wire", "W3", {"top-25", "top-26"});
  expect_mended(b.board, FindingKind::kRailSplit);
}

TEST(Findings, SameBoardGivesTheSameFindings) {
  BoardBuilder b = one_button();
  b.board.parts[size_t(b.part("W2"))].leads[1] = Hole{};
  const std::vector<Finding> one = look(b.board), two = look(b.board);
  ASSERT_EQ(one.size(), two.size());
  for (size_t k = 0; k < one.size(); ++k) EXPECT_EQ(one[k].kind, two[k].kind);
}

// A repair that is offered can be carried out, whatever the board.
TEST(Findings, RepairsFitTheBoard) {
  for (const std::string_view hole : {"a12", "a1", "f13", "top+5", "j30", "d13"}) {
    BoardBuilder b = one_button();
    Board board = b.board;
    if (!apply(board, Edit{SeatLead{"R1", 1, b.at(hole)}})) continue;
    for (const Finding& f : look(board))
      if (!f.repair.empty()) EXPECT_TRUE(check(board, Edit{Batch{f.repair}}).ok()) << key(f.kind);
  }
}

// A Zener diode is meant to stand backwards: that is no fault, nor a reason to swap the supply's leads.
TEST(Findings, AZenerDiodeThatHoldsItsVoltageIsNotTheWrongWayRound) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+2", "a3"}).add("jumper-wire", "W2", {"a14", "top-2"});
  b.add("resistor", "R1", {"b3", "b9"}).set("resistance", 220);
  b.add("zener-diode", "D1", {"c14", "c9"}).set("zener-voltage", 1);
  for (const Finding& f : look(b.board)) EXPECT_EQ(f.severity, Severity::kNote) << key(f.kind);
}

// Between its two distances a reed may be either: what is found goes by what it is, for one that was closed and one that was open before.
TEST(Findings, ReedBetweenItsDistancesIsTakenForWhatItIs) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("reed-switch", "S1", {"c5", "c15"}).set("magnet", 0.05);
  b.add("resistor", "R1", {"d15", "d20"}).set("resistance", 330);
  b.add("led", "LED1", {"c20", "c21"});
  b.add("jumper-wire", "W2", {"a21", "top-21"});
  Session session;
  session.load(b.board);
  session.advance(1e-3);
  const auto seen_at = [&](double distance) {
    EXPECT_TRUE(session.apply(Edit{SetValue{"S1", "magnet", distance}}).ok());
    session.advance(5e-3);
    const Observed bench{session.board(), session.wiring(), session.circuit(), session.readings()};
    const std::vector<Finding> found = findings(bench);
    const Explanation e = why(bench, session.board().find("LED1")->id, found);
    return std::pair(found.empty() ? FindingKind::kNoPart : found[0].kind, e.why);
  };
  const auto away = seen_at(0.05), open = seen_at(0.011);
  EXPECT_EQ(session.readings().parts[2].state, State::kOpen);
  const auto near = seen_at(0.005), closed = seen_at(0.011);
  EXPECT_EQ(session.readings().parts[2].state, State::kClosed);
  EXPECT_EQ(near.first, FindingKind::kWorks);
  EXPECT_EQ(near.second, Why::kWorks);
  EXPECT_NE(away.first, FindingKind::kWorks);
  EXPECT_EQ(open, away);
  EXPECT_EQ(closed, near);
}

}  // namespace
}  // namespace tiepoint
