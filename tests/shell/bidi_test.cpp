#include "shell/bench/bidi.h"

#include <gtest/gtest.h>

namespace tiepoint {
namespace {

// Expected orders are worked out by hand after UAX 9 (rules N0 to N2, L2, L4), with names and numbers held together as if isolated.

TEST(Bidi, LatinLinesStayAsTheyAre) {
  EXPECT_EQ(visual_order("R1, 4.7 kΩ (top+7)"), "R1, 4.7 kΩ (top+7)");
  EXPECT_FALSE(has_hebrew("Übertrag: ß × 2"));
}

TEST(Bidi, HebrewIsDrawnFromRightToLeft) {
  EXPECT_EQ(visual_order("אבג"), "גבא");
  EXPECT_EQ(visual_order("אב גד"), "דג בא");
}

TEST(Bidi, NamesAndNumbersInHebrewStayReadable) {
  EXPECT_EQ(visual_order("אב R1, גד"), "דג ,R1 בא");
  EXPECT_EQ(visual_order("אב 4.7 kΩ"), "4.7 kΩ בא");
  EXPECT_EQ(visual_order("אב top+7 גד"), "דג top+7 בא");
}

TEST(Bidi, BracketsGoWithWhatTheyHold) {
  EXPECT_EQ(visual_order("אב (5 V)"), "(5 V) בא");
  EXPECT_EQ(visual_order("אב BC547 (NPN)"), "BC547 (NPN) בא");
  EXPECT_EQ(visual_order("אב (גד)"), "(דג) בא");
}

TEST(Bidi, ALineWithHebrewAnywhereRunsFromTheRight) { EXPECT_EQ(visual_order("R1, אב"), "בא ,R1"); }

}  // namespace
}  // namespace tiepoint
