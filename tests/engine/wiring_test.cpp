#include "engine/circuit/wiring.h"

#include <gtest/gtest.h>

#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

bool joined(const BoardBuilder& b, std::string_view first, std::string_view second) {
  const Wiring wiring = wire_up(b.board);
  return joined(b.board, wiring, b.at(first), b.at(second));
}

// ---- The facts of the trade about a bare board (common practice, no source).

TEST(Wiring, FiveHolesOfAColumnAreJoined) {
  const BoardBuilder b;
  for (const char* hole : {"b7", "c7", "d7", "e7"}) EXPECT_TRUE(joined(b, "a7", hole)) << hole;
  for (const char* hole : {"g7", "h7", "i7", "j7"}) EXPECT_TRUE(joined(b, "f7", hole)) << hole;
}

TEST(Wiring, NeighbouringColumnsAreNotJoined) {
  const BoardBuilder b;
  EXPECT_FALSE(joined(b, "a7", "a8"));
  EXPECT_FALSE(joined(b, "a7", "a6"));
  EXPECT_FALSE(joined(b, "j29", "j30"));
}

TEST(Wiring, CentreGapSeparatesAColumn) {
  const BoardBuilder b;
  for (int column = 1; column <= 30; ++column)
    EXPECT_FALSE(joined(b, "e" + std::to_string(column), "f" + std::to_string(column))) << column;
}

TEST(Wiring, WholeRailRunsEndToEnd) {
  for (LayoutKind kind : {LayoutKind::k400, LayoutKind::k830}) {
    const BoardBuilder b(kind);
    const std::string last = std::to_string(layout(kind).rail_holes);
    for (const char* rail : {"top+", "top-", "bottom+", "bottom-"})
      EXPECT_TRUE(joined(b, std::string(rail) + "1", rail + last)) << rail;
  }
}

TEST(Wiring, RailsAreNotJoinedToEachOtherOrToColumns) {
  const BoardBuilder b;
  EXPECT_FALSE(joined(b, "top+1", "top-1"));
  EXPECT_FALSE(joined(b, "top+1", "bottom+1"));
  EXPECT_FALSE(joined(b, "bottom+1", "bottom-1"));
  EXPECT_FALSE(joined(b, "top-3", "a3"));
  EXPECT_FALSE(joined(b, "bottom+3", "j3"));
}

TEST(Wiring, SplitRailsAreCutInTheMiddle) {
  for (LayoutKind kind : {LayoutKind::k400, LayoutKind::k830}) {
    const BoardBuilder b(kind, true);
    const int cut = rail_cut(layout(kind));
    const std::string before = std::to_string(cut), after = std::to_string(cut + 1),
                      last = std::to_string(layout(kind).rail_holes);
    for (const std::string rail : {"top+", "top-", "bottom+", "bottom-"}) {
      EXPECT_TRUE(joined(b, rail + "1", rail + before)) << rail;
      EXPECT_TRUE(joined(b, rail + after, rail + last)) << rail;
      EXPECT_FALSE(joined(b, rail + before, rail + after)) << rail;
      EXPECT_FALSE(joined(b, rail + "1", rail + last)) << rail;
    }
  }
}

TEST(Wiring, SmallBoardHasNoRails) {
  const BoardBuilder b(LayoutKind::k170);
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(wiring.clip_count, 2 * 17);
  EXPECT_TRUE(joined(b, "a17", "e17"));
}

// ---- Wires and parts.

TEST(Wiring, WireAcrossCentreGapJoinsStrips) {
  BoardBuilder b;
  b.add("jumper-wire", "W1", {"e12", "f12"});
  EXPECT_TRUE(joined(b, "a12", "j12"));
  EXPECT_FALSE(joined(b, "a11", "j11"));
}

TEST(Wiring, WiresInARowJoinAllTheirStrips) {
  BoardBuilder b;
  b.add("jumper-wire", "W1", {"a1", "a10"})
      .add("jumper-wire", "W2", {"b10", "f20"})
      .add("jumper-wire", "W3", {"j20", "bottom-4"});
  EXPECT_TRUE(joined(b, "e1", "bottom-25"));
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(wiring.strips_of_net[size_t(net_of(b.board, wiring, b.at("a1")))].size(), 4u);
}

TEST(Wiring, WireBridgesASplitRail) {
  BoardBuilder b(LayoutKind::k830, true);
  b.add("jumper-wire", "W1", {"top+25", "top+26"});
  EXPECT_TRUE(joined(b, "top+1", "top+50"));
  EXPECT_FALSE(joined(b, "top-1", "top-50"));
}

TEST(Wiring, WireWithBothEndsInOneStripChangesNothing) {
  BoardBuilder b;
  const int before = wire_up(b.board).net_count;
  b.add("jumper-wire", "W1", {"a3", "c3"});
  EXPECT_EQ(wire_up(b.board).net_count, before);
}

TEST(Wiring, ButtonJoinsItsPairsAcrossTheGapAndNothingElse) {
  BoardBuilder b;
  b.add("push-button", "S1", {"e5"});
  EXPECT_TRUE(joined(b, "a5", "j5"));
  EXPECT_TRUE(joined(b, "a7", "j7"));
  EXPECT_FALSE(joined(b, "a5", "a7"));
  EXPECT_FALSE(joined(b, "a5", "j7"));
  EXPECT_FALSE(joined(b, "a6", "j6"));
}

TEST(Wiring, PressingAButtonIsNoWiring) {
  BoardBuilder b;
  b.add("push-button", "S1", {"e5"}).set("pressed", 1);
  EXPECT_FALSE(joined(b, "a5", "a7"));
}

TEST(Wiring, PartsThatAreNoMetalJoinNothing) {
  BoardBuilder b;
  b.add("resistor", "R1", {"a1", "a5"}).add("led", "LED1", {"b5", "b6"}).add("slide-switch", "S1", {"c10"});
  EXPECT_FALSE(joined(b, "a1", "a5"));
  EXPECT_FALSE(joined(b, "a5", "a6"));
  EXPECT_FALSE(joined(b, "a10", "a11"));
}

// Two buttons in series: the second begins where the first ends. In parallel: both pairs share their strips.
TEST(Wiring, TwoButtonsInSeriesShareOneNet) {
  BoardBuilder b;
  b.add("push-button", "S1", {"e5"}).add("push-button", "S2", {"e9"}).add("jumper-wire", "W1", {"a7", "a9"});
  EXPECT_TRUE(joined(b, "j7", "j9"));
  EXPECT_FALSE(joined(b, "a5", "a7"));
  EXPECT_FALSE(joined(b, "a9", "a11"));
  EXPECT_FALSE(joined(b, "a5", "a11"));
}

TEST(Wiring, TwoButtonsInParallelShareBothNets) {
  BoardBuilder b;
  b.add("push-button", "S1", {"e5"}).add("push-button", "S2", {"e9"});
  b.add("jumper-wire", "W1", {"a5", "a9"}).add("jumper-wire", "W2", {"a7", "b11"});
  EXPECT_TRUE(joined(b, "j5", "j9"));
  EXPECT_TRUE(joined(b, "j7", "j11"));
  EXPECT_FALSE(joined(b, "a5", "a7"));
}

TEST(Wiring, LeadInTheAirIsAStripOfItsOwn) {
  BoardBuilder b;
  b.add("resistor", "R1", {"a1", ""}).add("resistor", "R2", {"", ""});
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(wiring.strip_count, wiring.clip_count + 3);
  EXPECT_EQ(wiring.strip_of_lead[0][0], strip_of(b.board, wiring, b.at("a1")));
  for (StripIndex strip : {wiring.strip_of_lead[0][1], wiring.strip_of_lead[1][0], wiring.strip_of_lead[1][1]}) {
    EXPECT_GE(strip, wiring.clip_count);
    EXPECT_EQ(wiring.leads_on_strip[size_t(strip)].size(), 1u);
    EXPECT_TRUE(holes_of(b.board, wiring, strip).empty());
  }
}

TEST(Wiring, WireWithOneEndInTheAirJoinsThatEnd) {
  BoardBuilder b;
  b.add("jumper-wire", "W1", {"a1", ""});
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(wiring.net_of_strip[size_t(wiring.strip_of_lead[0][0])], wiring.net_of_strip[size_t(wiring.strip_of_lead[0][1])]);
}

TEST(Wiring, EmptyBoardHasOneNetPerStrip) {
  for (LayoutKind kind : {LayoutKind::k170, LayoutKind::k400, LayoutKind::k830})
    for (bool split : {false, true}) {
      const BoardBuilder b(kind, split);
      const Wiring wiring = wire_up(b.board);
      EXPECT_EQ(wiring.strip_count, strip_count(layout(kind), split ? kAllRailsCut : kNoRailCut));
      EXPECT_EQ(wiring.net_count, wiring.strip_count);
    }
}

TEST(Wiring, HolesOfAllStripsAreEveryHoleOnce) {
  for (LayoutKind kind : {LayoutKind::k170, LayoutKind::k400, LayoutKind::k830})
    for (bool split : {false, true}) {
      const BoardBuilder b(kind, split);
      const Wiring wiring = wire_up(b.board);
      int count = 0;
      for (StripIndex strip = 0; strip < wiring.strip_count; ++strip)
        for (Hole hole : holes_of(b.board, wiring, strip)) {
          EXPECT_EQ(strip_of(b.board, wiring, hole), strip);
          ++count;
        }
      EXPECT_EQ(count, layout(kind).hole_count());
    }
}

TEST(Wiring, TwoBreadboardsAreSeparateUntilAWireJoinsThem) {
  BoardBuilder b;
  b.board.breadboards.push_back({.layout = LayoutKind::k170, .origin = {.x = 0, .y = 20}});
  EXPECT_FALSE(joined(b, "a1", "2:a1"));
  b.add("jumper-wire", "W1", {"j1", "2:a1"});
  EXPECT_TRUE(joined(b, "f1", "2:e1"));
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(wiring.first_strip[1], strip_count(layout(LayoutKind::k400), kNoRailCut));
}

TEST(Wiring, PlacesHaveNamesAPersonCanFind) {
  BoardBuilder b(LayoutKind::k400, true);
  b.board.breadboards.push_back({.layout = LayoutKind::k400, .origin = {.x = 0, .y = 30}});
  b.add("led", "LED1", {"a1", ""});
  const Wiring wiring = wire_up(b.board);
  const auto name = [&](std::string_view hole) { return place_name(b.board, wiring, strip_of(b.board, wiring, b.at(hole))); };
  EXPECT_EQ(name("c12"), "a12");
  EXPECT_EQ(name("j12"), "f12");
  EXPECT_EQ(name("top+1"), "top+ left");
  EXPECT_EQ(name("bottom-25"), "bottom- right");
  EXPECT_EQ(name("2:e3"), "2:a3");
  EXPECT_EQ(name("2:bottom+3"), "2:bottom+");
  EXPECT_EQ(place_name(b.board, wiring, wiring.strip_of_lead[0][1]), "LED1.cathode");
  EXPECT_EQ(place_name(b.board, wiring, -1), "");
  EXPECT_EQ(place_name(b.board, wiring, wiring.strip_count), "");
}

TEST(Wiring, HolesThatDoNotExistAreJoinedToNothing) {
  const BoardBuilder b;
  const Wiring wiring = wire_up(b.board);
  EXPECT_EQ(strip_of(b.board, wiring, Hole{}), -1);
  EXPECT_EQ(net_of(b.board, wiring, Hole{3, 7}), -1);
  EXPECT_FALSE(joined(b.board, wiring, Hole{}, Hole{}));
}

TEST(Wiring, NetsAreNumberedByTheirFirstStripWhateverTheOrderOfParts) {
  BoardBuilder b, reversed;
  b.add("jumper-wire", "W1", {"a1", "a10"}).add("jumper-wire", "W2", {"b10", "a20"});
  reversed.add("jumper-wire", "W2", {"a20", "b10"}).add("jumper-wire", "W1", {"a10", "a1"});
  EXPECT_EQ(wire_up(b.board).net_of_strip, wire_up(reversed.board).net_of_strip);
}

TEST(Wiring, EveryLeadIsFoundOnItsStrip) {
  const BoardBuilder b = one_button();
  const Wiring wiring = wire_up(b.board);
  for (int part = 0; part < int(b.board.parts.size()); ++part)
    for (int lead = 0; lead < int(b.board.parts[size_t(part)].leads.size()); ++lead) {
      int found = 0;
      for (LeadRef ref : wiring.leads_on_strip[size_t(wiring.strip_of_lead[size_t(part)][size_t(lead)])])
        found += ref == LeadRef{part, lead};
      EXPECT_EQ(found, 1);
    }
}

}  // namespace
}  // namespace tiepoint
