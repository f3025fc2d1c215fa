// The largest example: examples/lamp-room.board.json, sixty parts. It is what tests/bench/page measures, so it must really run.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "engine/explain/findings.h"
#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace tiepoint {
namespace {

constexpr int kLamps = 10;
constexpr double kLit = 1e-3;   // [A]
constexpr double kLook = 5e-3;  // [s] between two looks at the lamps

Board lamp_room() {
  std::ifstream in(std::string(TIEPOINT_EXAMPLES) + "/lamp-room.board.json");
  std::stringstream text;
  text << in.rdbuf();
  const Result<Board> board = read_board(text.str(), catalogue());
  EXPECT_TRUE(board) << (board ? "" : tiepoint::text(board.error()));
  return board ? *board : Board();
}

// The number of the one lamp that is lit, from 1; 0 when none is or several are.
int lit(const Session& session) {
  int found = 0;
  for (int k = 1; k <= kLamps; ++k) {
    const Part* lamp = session.board().find("LED" + std::to_string(k));
    if (!(session.readings().parts[size_t(session.board().index_of(lamp->id))].current > kLit)) continue;
    if (found) return 0;
    found = k;
  }
  return found;
}

struct Change {
  double time;  // [s]
  int lamp;
};

// Lets time pass and notes each change from one lamp to another; fails when not exactly one is lit.
std::vector<Change> watch(Session& session, double until) {
  std::vector<Change> changes = {{session.time(), lit(session)}};
  while (session.time() < until) {
    if (session.advance(kLook) <= 0) break;
    const int now = lit(session);
    EXPECT_NE(now, 0) << "at " << session.time() << " s";
    if (now != changes.back().lamp) changes.push_back({session.time(), now});
  }
  return changes;
}

void press(Session& session, const char* button, bool down) { ASSERT_TRUE(session.apply(Edit{PressPart{button, down}})); }

TEST(LampRoom, HasSixtyPartsAndNoFault) {
  const Board board = lamp_room();
  EXPECT_EQ(board.parts.size(), 60u);
  Session session(board);
  session.settle();
  EXPECT_FALSE(any_fault(findings({session.board(), session.wiring(), session.circuit(), session.readings()})));
}

// Makers' formulas (TI SLFS022): a 555 with two resistors charges over RA + RB and discharges over RB, between 1/3 and 2/3 of the supply
// in RC ln 2, and from empty to 2/3 in RC ln 3. One that does both over one resistor from its output runs from empty for RC ln 3 here,
// and rests for RC ln 2. Resting, it holds the other one's capacitor empty.
TEST(LampRoom, EveryLampLightsInTurnAtThePaceOfTheTimers) {
  constexpr double kLn2 = 0.6931, kLn3 = 1.0986;
  constexpr double kBeat = kLn2 * (10e3 + 2 * 82e3) * 1e-6, kFirstBeat = kLn3 * (10e3 + 82e3) * 1e-6 + kLn2 * 82e3 * 1e-6;
  constexpr double kRun = kLn3 * 150e3 * 10e-6, kRest = kLn2 * 150e3 * 10e-6;
  Session session(lamp_room());
  const std::vector<Change> changes = watch(session, 3.9);
  EXPECT_EQ(changes.front().lamp, 1);
  int beats = 0, rests = 0;
  bool first = true;
  for (size_t k = 2; k < changes.size(); ++k) {  // the first change is the clock's edge as the supply comes on
    EXPECT_EQ(changes[k].lamp, changes[k - 1].lamp % kLamps + 1) << "at " << changes[k].time << " s";
    const double gap = changes[k].time - changes[k - 1].time;
    if (gap > kRest) {
      ++rests;
      // The rest begins within a beat of the last change; the next change comes as it ends.
      EXPECT_LT(changes[k - 1].time, kRun + kLook);
      EXPECT_GT(changes[k - 1].time, kRun - kBeat - kLook);
      EXPECT_NEAR(changes[k].time, kRun + kRest, 0.02 * (kRun + kRest));
      first = true;
    } else {
      EXPECT_NEAR(gap, first ? kFirstBeat : kBeat, 0.02 * kBeat + kLook) << "at " << changes[k].time << " s";
      ++beats;
      first = false;
    }
  }
  EXPECT_GT(beats, kLamps + 2);
  EXPECT_EQ(rests, 1);
}

TEST(LampRoom, OneButtonGoesBackToTheFirstLampAndOneHolds) {
  Session session(lamp_room());
  watch(session, 0.6);
  EXPECT_GT(lit(session), 2);
  press(session, "S1", true);
  session.advance(0.02);
  EXPECT_EQ(lit(session), 1);
  press(session, "S1", false);
  watch(session, 1.0);
  press(session, "S2", true);
  session.advance(0.02);
  const int held = lit(session);
  session.advance(0.5);
  EXPECT_EQ(lit(session), held);
  press(session, "S2", false);
  session.advance(0.5);
  EXPECT_NE(lit(session), held);
}

}  // namespace
}  // namespace tiepoint
