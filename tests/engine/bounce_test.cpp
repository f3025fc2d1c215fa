#include "engine/devices/bounce.h"

#include <gtest/gtest.h>

#include <set>

namespace tiepoint {
namespace {

constexpr int kState = 2;
constexpr BounceFigures kFigures = {3e-3, 6, 12345};

// A burst as a model walks through it: its steps, and how long they take together.
struct Walk {
  int steps = 0, openings = 0;
  double seconds = 0;
  int last = 0;
};
Walk walk_from(int mode, const BounceFigures& f) {
  Walk w;
  while (step_in(mode) > 0) {
    EXPECT_EQ(state_in(mode), kState);
    EXPECT_GT(step_lasts(mode, f), 0);
    w.seconds += step_lasts(mode, f);
    w.openings += !touches(mode);
    ++w.steps;
    mode = after_step(mode, f);
  }
  w.last = mode;
  return w;
}

// Law: however often it arrives it ends at rest where it arrived, within the longest time, and opens no more often than told.
TEST(Bounce, EveryBurstEndsAtRestInItsTime) {
  std::set<double> lengths;
  int quiet = 0, most = 0, mode = 0;
  for (int k = 0; k < 2000; ++k) {
    mode = arrive(mode, kState, kFigures);
    const Walk w = walk_from(mode, kFigures);
    EXPECT_EQ(w.steps % 2, 0);
    EXPECT_EQ(w.openings * 2, w.steps);
    EXPECT_LT(w.seconds, kFigures.longest);
    EXPECT_TRUE(touches(w.last));
    EXPECT_EQ(state_in(w.last), kState);
    quiet += w.steps == 0, most = std::max(most, w.openings);
    if (w.steps > 0) lengths.insert(w.seconds);
    mode = at_rest_in(w.last, 0);
  }
  EXPECT_EQ(most, 6);
  EXPECT_NEAR(quiet / 2000.0, 1 / 7.0, 0.03);
  EXPECT_GT(lengths.size(), 1500u);  // no two alike
}

TEST(Bounce, WithoutOpeningsItArrivesAtRest) {
  const int mode = arrive(0, kState, {1e-3, 0, 7});
  EXPECT_EQ(step_in(mode), 0);
  EXPECT_EQ(state_in(mode), kState);
}

TEST(Bounce, CountComesRoundWithoutTouchingTheState) {
  int mode = (((1 << 20) - 1) << 9) | 3;
  mode = arrive(mode, 1, kFigures);
  EXPECT_GE(mode, 0);
  EXPECT_EQ(state_in(mode), 1);
  EXPECT_EQ(mode >> 9, 0);
}

TEST(Bounce, IsOverOnlyWhereTheWaitWasSkipped) {
  const int bouncing = kState | 4;
  EXPECT_FALSE(skips_burst({.time = 1, .mode = bouncing, .mode_since = 0.9999}));
  EXPECT_FALSE(skips_burst({.time = 1e6, .mode = bouncing, .mode_since = 1e6 + 1e-6}));  // a rounding
  EXPECT_TRUE(skips_burst({.time = 1, .mode = bouncing, .mode_since = 1.005}));
  EXPECT_FALSE(skips_burst({.time = 1, .mode = kState, .mode_since = 1.005}));
}

}  // namespace
}  // namespace tiepoint
