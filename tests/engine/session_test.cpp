#include "engine/session/session.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "engine/devices/contact.h"
#include "engine/devices/model.h"
#include "engine/parts/cells.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

void press(Session& session, bool down) { ASSERT_TRUE(session.apply(Edit{PressPart{"S1", down}}).ok()); }

double volts(const Session& session, std::string_view part, std::string_view lead) {
  const Part& p = *session.board().find(part);
  return session.readings().parts[size_t(session.board().index_of(p.id))].lead_voltage[size_t(lead_index(*p.kind, lead))];
}

// ---- Several changes at once

TEST(Session, SeveralValuesSetAtOnceAreAllFollowed) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("resistor", "R1", {"b5", "b10"}).set("resistance", 1e3);
  b.add("resistor", "R2", {"c10", "c15"}).set("resistance", 1e3);
  b.add("jumper-wire", "W2", {"a15", "top-15"});
  Session session(b.board);
  session.settle();
  const Batch both = {{Edit{SetValue{"R1", "resistance", 2e3}}, Edit{SetValue{"R2", "resistance", 3e3}}}};
  ASSERT_TRUE(session.apply(Edit{both}).ok());
  session.settle();
  EXPECT_NEAR(volts(session, "R2", "1"), 3.0, 0.01);  // 5 V shared 2 to 3
  ASSERT_TRUE(session.undo().ok());
  session.settle();
  EXPECT_NEAR(volts(session, "R2", "1"), 2.5, 0.01);
}

// ---- Bounce

// A button with a resistor to minus, and a binary counter (74HC161) that counts the rising edges of "clock".
BoardBuilder counting_board() {
  BoardBuilder b(LayoutKind::k830);
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("push-button", "S1", {"e1"});
  b.add("jumper-wire", "W1", {"top+2", "a1"});
  b.add("resistor", "R1", {"i3", "i8"}).set("resistance", 10e3);
  b.add("jumper-wire", "W2", {"j8", "top-8"});
  b.add("74hc161", "U1", {"f10"});
  const char* high[] = {"a10", "j10", "j16", "a17", "a16"};
  const char* low[] = {"j17", "j12", "j13", "j14", "j15"};
  int n = 10;
  for (const char* hole : high) b.add("jumper-wire", "WH" + std::to_string(n), {"top+" + std::to_string(n), hole}), ++n;
  for (const char* hole : low) b.add("jumper-wire", "WL" + std::to_string(n), {"top-" + std::to_string(n), hole}), ++n;
  return b;
}

BoardBuilder bare_button() {
  BoardBuilder b = counting_board();
  b.add("jumper-wire", "W3", {"j3", "j11"});
  return b;
}

// 10 kilohm and 1 microfarad, far slower than the contact, and a Schmitt inverter that makes one edge of the slow one.
BoardBuilder calmed_button() {
  BoardBuilder b = counting_board();
  b.add("74hc14", "U2", {"f30"});
  b.add("jumper-wire", "W4", {"top+30", "a30"}).add("jumper-wire", "W5", {"top-30", "j36"});
  b.add("jumper-wire", "W8", {"j3", "j20"});
  b.add("resistor", "R2", {"i20", "i30"}).set("resistance", 10e3);
  b.add("ceramic-capacitor", "C1", {"h30", "h28"}).set("capacitance", 1e-6);
  b.add("jumper-wire", "W6", {"j28", "top-31"});
  b.add("jumper-wire", "W7", {"j31", "g11"});
  int rail = 32;
  for (const char* input : {"j32", "j34", "a31", "a33", "a35"})  // no input is left open
    b.add("jumper-wire", "WI" + std::to_string(rail), {input, "top-" + std::to_string(rail)}), ++rail;
  return b;
}

int count_of(const Session& session) {
  int count = 0;
  for (const char* q : {"qd", "qc", "qb", "qa"}) count = 2 * count + (volts(session, "U1", q) > 2.5);
  return count;
}

// Edges counted at each of `presses` presses of a tenth of a second.
std::vector<int> counts(Session& session, int presses) {
  std::vector<int> all;
  session.advance(0.2);
  for (int k = 0; k < presses; ++k) {
    const int before = count_of(session);
    press(session, true);
    session.advance(0.1);
    press(session, false);
    session.advance(0.2);
    EXPECT_FALSE(session.readings().error);
    all.push_back((count_of(session) - before + 16) % 16);
  }
  return all;
}

TEST(SessionBounce, ABareButtonClocksACounterMoreThanOnce) {
  Session session(bare_button().board);
  int more = 0;
  for (const int n : counts(session, 12)) {
    EXPECT_GE(n, 1);
    more += n > 1;
  }
  EXPECT_GT(more, 0);
}

TEST(SessionBounce, WithoutBounceItClocksOnce) {
  Session session(bare_button().board);
  session.set_bounce(false);
  EXPECT_EQ(counts(session, 12), std::vector<int>(12, 1));
}

TEST(SessionBounce, ResistorCapacitorAndSchmittInverterLetOneEdgeThrough) {
  Session session(calmed_button().board);
  EXPECT_EQ(counts(session, 12), std::vector<int>(12, 1));
}

TEST(SessionBounce, RunsRepeatAndStartAfresh) {
  Session one(bare_button().board), two(bare_button().board);
  const std::vector<int> first = counts(one, 8);
  EXPECT_EQ(counts(two, 8), first);
  one.start_empty();
  EXPECT_EQ(counts(one, 8), first);
}

TEST(SessionBounce, NeverShowsInASettledLook) {
  for (const bool down : {true, false}) {
    Session bouncing(one_button().board), clean(one_button().board);
    clean.set_bounce(false);
    for (Session* session : {&bouncing, &clean}) {
      session->advance(0.01);
      press(*session, true);
      session->advance(0.0001);
      press(*session, down);
      session->settle();
      EXPECT_TRUE(session->at_rest());
    }
    ASSERT_EQ(bouncing.readings().parts.size(), clean.readings().parts.size());
    for (size_t p = 0; p < clean.readings().parts.size(); ++p) {
      EXPECT_EQ(bouncing.readings().parts[p].state, clean.readings().parts[p].state);
      EXPECT_EQ(bouncing.readings().parts[p].lead_current, clean.readings().parts[p].lead_current);
    }
  }
}

TEST(SessionBounce, TheContactIsClosedAtOnceOpensWithinTheBurstAndIsAtRestAfterIt) {
  Session session(one_button().board);
  session.advance(0.01);
  bool opened = false;
  for (int operation = 0; operation < 6; ++operation) {
    press(session, true);
    EXPECT_GT(session.readings().parts[4].current, 1e-3) << "the LED, at the first touch";
    const long structure = long(session.structure_revision());
    double last = 0;
    for (double t = 0; t < 6e-3; t += 2e-5) {
      session.advance(2e-5);
      const Readings& r = session.readings();
      if (r.parts[4].current < 1e-6) opened = true, last = t;
      EXPECT_EQ(r.parts[2].state, State::kClosed) << "where it is going";
      EXPECT_LT(r.statistics.residual, 1e-9);
      EXPECT_LT(r.statistics.power_imbalance, 1e-6);
    }
    EXPECT_LE(last, 5e-3);
    EXPECT_TRUE(session.at_rest());
    EXPECT_GT(session.readings().parts[4].current, 1e-3);
    EXPECT_EQ(long(session.structure_revision()), structure);
    press(session, false);
    session.advance(0.01);
    EXPECT_TRUE(session.at_rest());
    EXPECT_LT(session.readings().parts[4].current, 1e-6);
  }
  EXPECT_TRUE(opened);
}

// The blade of a changeover is never at both sides, and once it is away from a side it does not touch it again.
TEST(SessionBounce, AChangeoverNeverJoinsItsTwoSides) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("slide-switch", "S1", {"c5"});
  b.add("jumper-wire", "W1", {"top+2", "a6"});
  b.add("resistor", "R1", {"e5", "e1"}).add("jumper-wire", "W2", {"a1", "top-2"});
  b.add("resistor", "R2", {"e7", "e12"}).add("jumper-wire", "W3", {"a12", "top-3"});
  Session session(b.board);
  session.advance(0.01);
  bool neither = false;
  for (int k = 1; k <= 12; ++k) {
    ASSERT_TRUE(session.apply(Edit{SlidePart{"S1", k % 2}}).ok());
    const size_t left = size_t(session.board().index_of(session.board().find(k % 2 ? "R1" : "R2")->id));
    const size_t reached = size_t(session.board().index_of(session.board().find(k % 2 ? "R2" : "R1")->id));
    for (double t = 0; t < 6e-3; t += 5e-5) {
      EXPECT_LT(std::fabs(session.readings().parts[left].current), 1e-6);
      neither = neither || std::fabs(session.readings().parts[reached].current) < 1e-6;
      session.advance(5e-5);
    }
    EXPECT_GT(std::fabs(session.readings().parts[reached].current), 1e-4);
  }
  EXPECT_TRUE(neither);
}

TEST(SessionBounce, ARebuildInTheMiddleLeavesTheContactWhereItWasGoing) {
  Session session(one_button().board);
  session.advance(0.01);
  press(session, true);
  session.advance(1e-4);
  ASSERT_TRUE(session.apply(Edit{RemovePart{"W2"}}).ok());
  ASSERT_TRUE(session.undo().ok());
  EXPECT_TRUE(session.at_rest());
  EXPECT_GT(session.readings().parts[4].current, 1e-3);
}

// ---- Batteries

constexpr double kHour = 3600;

// A battery of this kind with resistors of `ohms` in a row, by way of the rails.
BoardBuilder loaded(std::string_view kind, double ohms) {
  BoardBuilder b;
  b.add(kind, "BAT1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+2", "a3"}).add("jumper-wire", "W2", {"a10", "top-2"});
  b.add("resistor", "R1", {"c3", "c10"}).set("resistance", ohms);
  return b;
}

const PartReading& battery(const Session& session) { return session.readings().parts[0]; }

// What a cell gives by the curves of cells.cpp into a load: time and energy from full to `left`, by Simpson's rule.
struct Discharge {
  double time = 0, energy = 0;
};
Discharge discharge(const CellFigures& cell, double outside, double left) {
  Discharge sum;
  constexpr int n = 2000;
  for (int k = 0; k <= n; ++k) {
    const double s = left + (1 - left) * k / n;
    const double e = cell.voltage * open_voltage_share(s), r = cell.resistance * resistance_growth(s);
    const double weight = (k == 0 || k == n ? 1 : k % 2 ? 4 : 2) * (1 - left) / (3.0 * n);
    sum.time += weight * cell.capacity * (r + outside) / e;
    sum.energy += weight * cell.capacity * e * outside / (r + outside);
  }
  return sum;
}

// The leads of the battery and every contact and wire between it and the resistor count as load.
double outside_of(const Session& session) {
  const PartReading& r = battery(session);
  const CellFigures& cell = cell_figures()[3];
  return cell.voltage * open_voltage_share(r.charge) / r.current - cell.resistance * resistance_growth(r.charge);
}

// CR2032, a maker's sheet: 225 mA h at a load of 0.2 mA, so 1125 h (computed), as long as the current stays that.
TEST(SessionBatteries, ACoinCellRunsDownAsItsCurveSays) {
  Session session(loaded("coin-cell", 15e3).board);
  session.advance(1e-3);
  EXPECT_NEAR(battery(session).current, 0.2e-3, 0.3e-6);
  EXPECT_NEAR(battery(session).run_time / kHour, 1125, 1.5);
  const double outside = outside_of(session);
  const CellFigures& cell = cell_figures()[3];
  double last = 1;
  for (const double left : {0.9, 0.5, 0.2}) {
    const Discharge wanted = discharge(cell, outside, left);
    session.advance(wanted.time - session.time());
    EXPECT_NEAR(session.time(), wanted.time, 1e-6 * wanted.time);
    EXPECT_NEAR(battery(session).charge, left, 1e-3);
    EXPECT_LT(battery(session).charge, last);
    EXPECT_NEAR(session.energy_drawn(session.board().parts[0].id), wanted.energy, 1e-3 * wanted.energy) << "the leads' loss is below that";
    last = battery(session).charge;
  }
  // 1125 h at a steady 0.2 mA; the current falls with the voltage, so it lasts longer, though not by half.
  const double empty = discharge(cell, outside, 0.05).time / kHour;
  EXPECT_GT(empty, 1125 * 0.95);
  EXPECT_LT(empty, 1125 * 1.5);
  session.advance(empty * kHour - session.time() + 200 * kHour);
  EXPECT_EQ(battery(session).state, State::kEmpty);
}

// Physics text, University Physics 2 (OpenStax), section 10.5, additional problem: a cell of 1.5 V and 3 A h lasts 1800 h with three
// resistors of 300 ohm in series and 200 h with them in parallel. The pack's cells hold less, and last as much shorter.
TEST(SessionBatteries, ThreeResistorsInSeriesAndInParallel) {
  const double share = cell_figures()[0].capacity / (3 * kHour);
  for (const auto& [ohms, hours] : {std::pair{900.0, 1800.0}, std::pair{100.0, 200.0}}) {
    BoardBuilder b = loaded("battery-pack", ohms);
    b.board.parts[0].values[size_t(value_index(*b.board.parts[0].kind, "cells"))] = 0;
    Session session(b.board);
    session.advance(1e-3);
    EXPECT_NEAR(battery(session).run_time / kHour / share, hours, 0.005 * hours);
    session.advance(0.01 * hours * share * kHour);
    EXPECT_NEAR(battery(session).charge, 0.99, 1e-3);
  }
}

// Q = C V into a capacitor, whatever is between; the energy that leaves the battery is C V^2, half of it lost on the way.
TEST(SessionBatteries, WhatACapacitorTakesUpIsWhatTheBatteryGave) {
  BoardBuilder b = loaded("nine-volt-battery", 10e3);
  b.board.parts.erase(b.board.parts.begin() + 2);  // W2
  b.add("ceramic-capacitor", "C1", {"d10", "d11"}).set("capacitance", 10e-6).add("jumper-wire", "W2", {"a11", "top-2"});
  Session session(b.board);
  for (int k = 0; k < 200; ++k) session.advance(0.01);
  const double v = session.readings().parts[size_t(b.part("C1"))].voltage;
  EXPECT_NEAR(v, 9, 1e-3);
  EXPECT_NEAR(session.energy_drawn(b.board.parts[0].id), 10e-6 * v * v, 2e-3 * 10e-6 * v * v);
  EXPECT_TRUE(session.at_rest());
}

TEST(SessionBatteries, RunningDownIsNoChangeOfTheDocument) {
  Session session(loaded("coin-cell", 1e3).board);
  const Board document = session.board();
  const uint64_t revision = session.board_revision(), structure = session.structure_revision();
  session.advance(20 * kHour);
  EXPECT_LT(battery(session).charge, 0.85);
  EXPECT_EQ(session.board(), document);
  EXPECT_EQ(session.board_revision(), revision);
  EXPECT_EQ(session.structure_revision(), structure);
  EXPECT_FALSE(session.undo().ok());
  EXPECT_LT(value_of(session.used_board().parts[0], "charge"), 0.85);
}

TEST(SessionBatteries, OtherEditsLeaveTheChargeAndSettingItPutsInOthers) {
  Session session(loaded("coin-cell", 1e3).board);
  session.advance(20 * kHour);
  const double left = battery(session).charge, volts_left = battery(session).voltage;
  ASSERT_TRUE(session.apply(Edit{SetValue{"R1", "resistance", 1e6}}).ok());
  ASSERT_TRUE(session.apply(Edit{RemovePart{"R1"}}).ok());
  ASSERT_TRUE(session.apply(Edit{RemovePart{"BAT1"}}).ok());
  for (int k = 0; k < 3; ++k) ASSERT_TRUE(session.undo().ok());
  EXPECT_NEAR(battery(session).charge, left, 1 / 2048.0) << "shown in steps";
  EXPECT_NEAR(battery(session).voltage, volts_left, 5e-4);
  ASSERT_TRUE(session.apply(Edit{SetValue{"BAT1", "charge", 1}}).ok());
  EXPECT_EQ(battery(session).charge, 1);
  EXPECT_GT(battery(session).voltage, volts_left + 0.05);
  session.advance(20 * kHour);
  session.start_empty();
  EXPECT_EQ(battery(session).charge, 1);
}

TEST(SessionBatteries, OftenOperatedTheyRunDownAllTheSame) {
  BoardBuilder b = loaded("coin-cell", 1e3);
  b.add("push-button", "S1", {"e20"});
  Session one(b.board), two(b.board);
  one.advance(kHour);
  for (int k = 0; k < 60; ++k) press(two, k % 2), two.advance(60);
  EXPECT_NEAR(battery(two).charge, battery(one).charge, 1 / 2048.0) << "shown in steps";
  EXPECT_NEAR(battery(two).voltage, battery(one).voltage, 2e-3);
}

// A bench at rest may sleep until the voltage has to follow; at the pace of life that is long.
TEST(SessionBatteries, AtRestTheNextChangeIsFarOff) {
  BoardBuilder b = loaded("battery-pack", 330);
  Session session(b.board);
  session.advance(0.1);
  ASSERT_TRUE(session.at_rest());
  EXPECT_GT(session.wear_due(), 60);
  const uint64_t readings = session.readings_revision();
  session.advance(session.wear_due() / 2);
  EXPECT_EQ(session.readings_revision(), readings);
  session.advance(session.wear_due() * 1.001);
  EXPECT_GT(session.readings_revision(), readings);
  Session supplied(one_button().board);
  EXPECT_TRUE(std::isinf(supplied.wear_due()));
}

}  // namespace
}  // namespace tiepoint
