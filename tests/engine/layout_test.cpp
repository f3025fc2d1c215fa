#include "engine/board/layout.h"

#include <gtest/gtest.h>

#include <set>

namespace tiepoint {
namespace {

int index(const Layout& kind, std::string_view name) {
  const Result<int> found = parse_hole(kind, name);
  return found ? *found : -1;
}

bool one_clip(const Layout& kind, bool split, std::string_view a, std::string_view b) {
  return strip_of(kind, split ? kAllRailsCut : kNoRailCut, index(kind, a)) == strip_of(kind, split ? kAllRailsCut : kNoRailCut, index(kind, b));
}

const Layout& k830 = layout(LayoutKind::k830);
const Layout& k400 = layout(LayoutKind::k400);
const Layout& k170 = layout(LayoutKind::k170);

TEST(Layout, IsNamedByItsTiePoints) {
  ASSERT_EQ(layouts().size(), 3u);
  for (const Layout& kind : layouts()) {
    EXPECT_EQ(std::to_string(kind.hole_count()), kind.name);
    EXPECT_EQ(find_layout(kind.name), &kind);
    EXPECT_EQ(&layout(kind.kind), &kind);
  }
  EXPECT_EQ(find_layout("500"), nullptr);
}

TEST(Layout, EveryHoleComesBackFromItsPlaceNameAndGridPoint) {
  for (const Layout& kind : layouts()) {
    std::set<GridPoint> points;
    for (int i = 0; i < kind.hole_count(); ++i) {
      EXPECT_EQ(index_of(kind, place_of(kind, i)), i);
      EXPECT_EQ(index_at(kind, grid_of(kind, i)), i);
      const std::string name = hole_name(kind, {0, static_cast<uint16_t>(i)});
      EXPECT_EQ(index(kind, name), i) << name;
      points.insert(grid_of(kind, i));
    }
    EXPECT_EQ(static_cast<int>(points.size()), kind.hole_count());
  }
}

TEST(Layout, GridPointsBetweenTheHolesHoldNone) {
  for (const Layout& kind : layouts()) {
    int found = 0;
    for (int y = -10; y < 25; ++y)
      for (int x = -10; x < 80; ++x) found += index_at(kind, {x, y}) >= 0 ? 1 : 0;
    EXPECT_EQ(found, kind.hole_count());
  }
  EXPECT_EQ(index_at(k400, {0, 5}), -1);
  EXPECT_EQ(index_at(k400, {0, 6}), -1);
}

// Common practice, no source: ten rows, the gap between e and f as wide as three steps, rails of groups of five.
TEST(Layout, LiesOnThePitchGrid) {
  EXPECT_EQ(grid_of(k400, index(k400, "a1")), (GridPoint{0, 0}));
  EXPECT_EQ(grid_of(k400, index(k400, "e12")), (GridPoint{11, 4}));
  EXPECT_EQ(grid_of(k400, index(k400, "f12")), (GridPoint{11, 7}));
  EXPECT_EQ(grid_of(k400, index(k400, "j30")), (GridPoint{29, 11}));
  EXPECT_EQ(grid_of(k400, index(k400, "top-1")), (GridPoint{1, -3}));
  EXPECT_EQ(grid_of(k400, index(k400, "top+5")), (GridPoint{5, -2}));
  EXPECT_EQ(grid_of(k400, index(k400, "top+6")), (GridPoint{7, -2}));
  EXPECT_EQ(grid_of(k400, index(k400, "bottom-25")), (GridPoint{29, 13}));
  EXPECT_EQ(grid_of(k830, index(k830, "bottom+1")), (GridPoint{2, 14}));
  EXPECT_EQ(grid_of(k830, index(k830, "top+50")), (GridPoint{60, -2}));
}

TEST(Layout, IndexIsTheDocumentedFormula) {
  EXPECT_EQ(index(k400, "e12"), 11 * 10 + 4);
  EXPECT_EQ(index(k400, "top-3"), 300 + 2);
  EXPECT_EQ(index(k400, "top+3"), 300 + 25 + 2);
  EXPECT_EQ(index(k400, "bottom-3"), 300 + 50 + 2);
  EXPECT_EQ(index(k400, "bottom+3"), 300 + 75 + 2);
}

TEST(Layout, ReadsUpperCaseAndTypographicMinus) {
  EXPECT_EQ(index(k400, "E12"), index(k400, "e12"));
  EXPECT_EQ(index(k400, "Top+7"), index(k400, "top+7"));
  EXPECT_EQ(index(k400, "bottom\u22127"), index(k400, "bottom-7"));
  EXPECT_EQ(index(k400, "top\u20137"), index(k400, "top-7"));
}

TEST(Layout, UnknownHoleNamesWhatWasFoundAndWhatThereIs) {
  for (const std::string_view name : {"", "e", "e0", "e31", "k1", "e01", "e-1", "e1 ", "12", "top", "top+", "top+0", "top+26",
                                      "top7", "middle+1", "\xE2\x88", "a99999999999999999999", "top\u2212"}) {
    const Result<int> found = parse_hole(k400, name);
    ASSERT_FALSE(found.ok()) << name;
    EXPECT_EQ(found.error().code, Code::kUnknownHole);
  }
  const Error error = parse_hole(k400, "z99").error();
  EXPECT_EQ(error.found, "\"z99\"");
  EXPECT_EQ(error.expected, "a1 to j30, top-1 to top-25, top+1 to top+25, bottom-1 to bottom-25, bottom+1 to bottom+25");
  EXPECT_EQ(parse_hole(k170, "top+1").error().expected, "a1 to j17");
}

TEST(Layout, SecondBreadboardIsPartOfTheName) {
  EXPECT_EQ(hole_name(k400, {1, 114}), "2:e12");
  EXPECT_EQ(hole_name(k400, {}), "");
  EXPECT_EQ(hole_name(k170, {0, 170}), "");
}

// The clips under the holes: common practice, no source.
TEST(Clips, FiveHolesOfAColumnAreOneClip) {
  for (const char* name : {"b7", "c7", "d7", "e7"}) EXPECT_TRUE(one_clip(k400, false, "a7", name));
  for (const char* name : {"g7", "h7", "i7", "j7"}) EXPECT_TRUE(one_clip(k400, false, "f7", name));
}

TEST(Clips, NeighbouringColumnsAreApart) {
  EXPECT_FALSE(one_clip(k400, false, "a7", "a8"));
  EXPECT_FALSE(one_clip(k400, false, "j7", "j6"));
}

TEST(Clips, CentreGapPartsEFromF) {
  for (const Layout& kind : layouts())
    for (int column = 1; column <= kind.columns; ++column)
      EXPECT_FALSE(one_clip(kind, false, "e" + std::to_string(column), "f" + std::to_string(column)));
}

TEST(Clips, WholeRailRunsFromEndToEnd) {
  EXPECT_TRUE(one_clip(k830, false, "top+1", "top+50"));
  EXPECT_TRUE(one_clip(k400, false, "bottom-1", "bottom-25"));
}

TEST(Clips, SplitRailIsCutInTheMiddle) {
  EXPECT_EQ(rail_cut(k830), 25);
  EXPECT_TRUE(one_clip(k830, true, "top+1", "top+25"));
  EXPECT_FALSE(one_clip(k830, true, "top+25", "top+26"));
  EXPECT_TRUE(one_clip(k830, true, "top+26", "top+50"));
  EXPECT_EQ(rail_cut(k400), 15);
  EXPECT_FALSE(one_clip(k400, true, "bottom-15", "bottom-16"));
}

TEST(Clips, FourRailsAreApartFromEachOtherAndFromTheColumns) {
  for (const bool split : {false, true}) {
    std::set<int> strips;
    for (const char* name : {"top-1", "top+1", "bottom-1", "bottom+1", "a2", "j2"})
      strips.insert(strip_of(k400, split ? kAllRailsCut : kNoRailCut, index(k400, name)));
    EXPECT_EQ(strips.size(), 6u);
  }
}

TEST(Clips, AreNumberedWithoutGapsFromZero) {
  for (const Layout& kind : layouts())
    for (const bool split : {false, true}) {
      std::set<int> strips;
      for (int i = 0; i < kind.hole_count(); ++i) strips.insert(strip_of(kind, split ? kAllRailsCut : kNoRailCut, i));
      EXPECT_EQ(static_cast<int>(strips.size()), strip_count(kind, split ? kAllRailsCut : kNoRailCut));
      EXPECT_EQ(*strips.begin(), 0);
      EXPECT_EQ(*strips.rbegin(), strip_count(kind, split ? kAllRailsCut : kNoRailCut) - 1);
    }
  EXPECT_EQ(strip_count(k170, kAllRailsCut), 34);
  EXPECT_EQ(strip_count(k830, kAllRailsCut), 134);
}

}  // namespace
}  // namespace tiepoint
