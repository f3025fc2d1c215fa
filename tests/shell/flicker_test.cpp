#include "shell/bench/flicker.h"

#include <gtest/gtest.h>

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

// WCAG 2.2, 2.3.1: no more than three flashes in any period of one second; a flash is a pair of opposing changes.

// One light on a board, given its brightness frame by frame at 60 pictures a second.
struct Watched {
  Board board = example_board("one-button");
  Readings readings;
  Flicker flicker;
  double now = 10;
  size_t led;
  Watched() {
    readings.parts.resize(board.parts.size());
    for (led = 0; board.parts[led].name != "LED1";) ++led;
  }
  PartId id() const { return board.parts[led].id; }
  double frame(double brightness) {
    readings.parts[led].brightness = brightness;
    flicker.look(board, readings, now += 1.0 / 60);
    return flicker.steadied(id(), readings.parts[led]).brightness;
  }
  // Blinks for so long; how often what is shown lights up.
  int flashes(double hertz, double seconds) {
    int count = 0;
    double before = 0;
    for (int k = 0; k < int(seconds * 60); ++k) {
      const double shown = frame(std::fmod(k / 60.0 * hertz, 1.0) < 0.5 ? 1 : 0);
      if (shown > 0.75 && before < 0.25) ++count;
      before = shown;
    }
    return count;
  }
};

TEST(Flicker, ALightThatBlinksTwiceASecondIsShownAsItIs) {
  Watched watched;
  EXPECT_EQ(watched.flashes(2, 5), 10);
}

TEST(Flicker, ALightThatWouldFlashFasterThanThreeTimesASecondIsSteady) {
  for (const double hertz : {4.0, 7.0, 12.0, 25.0}) {
    Watched watched;
    EXPECT_LE(watched.flashes(hertz, 1), 3) << hertz;
    EXPECT_EQ(watched.flashes(hertz, 5), 0) << hertz;
    EXPECT_TRUE(watched.flicker.steadies(watched.id())) << hertz;
    EXPECT_NEAR(watched.frame(1), 0.5, 0.25) << hertz;
  }
}

TEST(Flicker, WhenItSlowsDownItIsShownAsItIsAgain) {
  Watched watched;
  watched.flashes(10, 2);
  for (int k = 0; k < 90; ++k) watched.frame(1);
  EXPECT_FALSE(watched.flicker.steadies(watched.id()));
  EXPECT_EQ(watched.frame(0), 0);
}

TEST(Flicker, AFadingLightDoesNotCount) {
  Watched watched;
  for (int k = 0; k < 300; ++k) watched.frame(0.75 + 0.25 * std::sin(k * 0.8));
  EXPECT_FALSE(watched.flicker.steadies(watched.id()));
}

}  // namespace
}  // namespace tiepoint
