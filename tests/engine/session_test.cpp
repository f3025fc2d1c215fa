#include "engine/session/session.h"

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "engine/devices/contact.h"
#include "engine/devices/model.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

void press(Session& session, bool down) { ASSERT_TRUE(session.apply(Edit{PressPart{"S1", down}}).ok()); }

double volts(const Session& session, std::string_view part, std::string_view lead) {
  const Part& p = *session.board().find(part);
  return session.readings().parts[size_t(session.board().index_of(p.id))].lead_voltage[size_t(lead_index(*p.kind, lead))];
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

}  // namespace
}  // namespace tiepoint
