// What is wrong with the parts themselves: told of dead ones at once, of hidden defects only as far as one has measured.
#include "engine/explain/condition.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "engine/explain/hunt.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

std::vector<Finding> look(const Board& board) {
  Session session(board);
  session.settle();
  return findings({session.board(), session.wiring(), session.circuit(), session.readings()});
}
const Finding* find(const std::vector<Finding>& list, FindingKind kind) {
  const auto at = std::find_if(list.begin(), list.end(), [&](const Finding& f) { return f.kind == kind; });
  return at == list.end() ? nullptr : &*at;
}
std::string part_of(const Board& board, const Finding& f) { return f.places.empty() ? "" : board.find(f.places[0].part)->name; }

std::string write_names(const std::vector<Edit>& edits) {
  std::string out;
  for (const Edit& edit : edits)
    if (const SetDefect* set = std::get_if<SetDefect>(&edit.act))
      out += set->part + " " + std::string(key(set->defect.kind)) + "; ";
  return out;
}

Board pressed() {
  Board board = one_button().board;
  EXPECT_TRUE(apply(board, Edit{PressPart{"S1"}}).ok());
  return board;
}
void hide(Board& board, std::string name, Defect defect) {
  defect.hidden = true;
  ASSERT_TRUE(apply(board, Edit{SetDefect{std::move(name), defect}}).ok());
}
// Probes on two holes.
void probe(Board& board, std::string_view red, std::string_view black) {
  Part meter = make_part(*catalogue().find("meter"));
  meter.leads = {*board.hole(red), *board.hole(black)};
  ASSERT_TRUE(apply(board, Edit{PlacePart{meter}}).ok());
}

TEST(Condition, DeadPartIsToldWithItsNumbersAndReplacedByItsRepair) {
  Board board = pressed();
  ASSERT_TRUE(
      apply(board, Edit{SetDefect{"R1", {.kind = Defect::Kind::kOpen, .bore = 2.1, .rating = 0.25, .seconds = 3, .unit = 'W'}}})
          .ok());
  const std::vector<Finding> list = look(board);
  ASSERT_FALSE(list.empty());
  EXPECT_EQ(list[0].kind, FindingKind::kPartDead);
  EXPECT_EQ(part_of(board, list[0]), "R1");
  EXPECT_EQ(list[0].arguments.size(), 4u);
  ASSERT_TRUE(apply(board, Edit{Batch{list[0].repair}}).ok());
  EXPECT_FALSE(any_fault(look(board)));
}

TEST(Condition, WhatKilledThePartComesBeforeThePart) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "a4"});
  b.add("led", "LED1", {"c4", "c5"});
  b.add("jumper-wire", "W2", {"a5", "top-3"});
  Session session(b.board);
  session.advance(60);
  const std::vector<Finding> list = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  ASSERT_GE(list.size(), 2u);
  EXPECT_EQ(list[0].kind, FindingKind::kLedUnlimited);
  EXPECT_TRUE(find(list, FindingKind::kPartDead));
}

TEST(Condition, HiddenDefectIsNotReadFromTheBoard) {
  for (const std::string name : {"LED1", "W1", "R1"}) {
    Board board = pressed();
    hide(board, name, {.kind = Defect::Kind::kOpen});
    const std::vector<Finding> list = look(board);
    EXPECT_FALSE(find(list, FindingKind::kPartDead)) << name;
    const Finding* odd = find(list, FindingKind::kNotAsExpected);
    ASSERT_TRUE(odd) << name;
    EXPECT_EQ(part_of(board, *odd), "LED1") << "the dark one is seen, whoever is to blame";
    EXPECT_TRUE(odd->repair.empty());
  }
}

TEST(Condition, WhileNothingShowsNothingIsTold) {
  Board board = one_button().board;
  hide(board, "LED1", {.kind = Defect::Kind::kOpen});
  EXPECT_FALSE(any_fault(look(board)));
}

TEST(Condition, ProbesAcrossTheCulpritConvictItAndNobodyElse) {
  struct Case {
    std::string culprit;
    std::string_view red, black;
  };
  for (const Case& c :
       {Case{"LED1", "d12", "d13"}, Case{"W1", "top+5", "b5"}, Case{"W2", "b13", "top-5"}, Case{"S1", "a7", "b5"}}) {
    Board board = pressed();
    hide(board, c.culprit, {.kind = Defect::Kind::kOpen});
    Board elsewhere = board;
    probe(board, c.red, c.black);
    const std::vector<Finding> list = look(board);
    const Finding* dead = find(list, FindingKind::kPartDead);
    ASSERT_TRUE(dead) << c.culprit;
    EXPECT_EQ(part_of(board, *dead), c.culprit);
    Board good = pressed();
    probe(good, c.red, c.black);
    EXPECT_FALSE(any_fault(look(good))) << c.culprit;
    probe(elsewhere, "b12", c.culprit == "LED1" ? "a7" : "b13");
    EXPECT_FALSE(find(look(elsewhere), FindingKind::kPartDead)) << c.culprit;
    ASSERT_TRUE(apply(board, Edit{Batch{dead->repair}}).ok());
    EXPECT_FALSE(any_fault(look(board)));
  }
}

TEST(Condition, NearlyEmptyBatteryIsToldAndFreshCellsMendIt) {
  BoardBuilder b;
  b.add("battery-pack", "BAT1", {"top+1", "top-1"});
  b.set("charge", 0.02);
  b.add("resistor", "R1", {"a5", "a9"});
  b.add("led", "LED1", {"c9", "c10"});
  b.add("jumper-wire", "W1", {"top+3", "c5"});
  b.add("jumper-wire", "W2", {"a10", "top-3"});
  const std::vector<Finding> list = look(b.board);
  ASSERT_FALSE(list.empty());
  EXPECT_EQ(list[0].kind, FindingKind::kBatteryLow);
  ASSERT_TRUE(apply(b.board, Edit{Batch{list[0].repair}}).ok());
  EXPECT_FALSE(any_fault(look(b.board)));
}

TEST(Condition, ShortedBatteryIsToldToBeHot) {
  BoardBuilder b;
  b.add("battery-pack", "BAT1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "top-3"});
  Session session(b.board);
  session.advance(120);
  const std::vector<Finding> list = findings({session.board(), session.wiring(), session.circuit(), session.readings()});
  EXPECT_EQ(list[0].kind, FindingKind::kSupplyShorted);
  EXPECT_TRUE(find(list, FindingKind::kBatteryHot));
}

// A chip with its supply and nothing else: notes only, and each repair silences its note.
TEST(Condition, ChipNotesHaveRepairsThatSilenceThem) {
  BoardBuilder b(LayoutKind::k400);
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("74hc08", "U1", {"f5"});
  b.add("jumper-wire", "W1", {"top+5", "a5"});
  b.add("jumper-wire", "W2", {"top-11", "j11"});
  b.add("resistor", "R1", {"a20", "a24"});
  b.add("led", "LED1", {"c24", "c25"});
  b.add("jumper-wire", "W3", {"b25", "top-20"});
  b.add("jumper-wire", "W4", {"b20", "top+20"});
  for (const FindingKind kind : {FindingKind::kDecouplingMissing, FindingKind::kInputFloating}) {
    Board board = b.board;
    const std::vector<Finding> list = look(board);
    const Finding* note = find(list, kind);
    ASSERT_TRUE(note) << key(kind);
    EXPECT_EQ(note->severity, Severity::kNote);
    EXPECT_EQ(part_of(board, *note), "U1");
    ASSERT_FALSE(note->repair.empty()) << key(kind);
    const std::string hole = board.name_of(note->places[0].hole);
    ASSERT_TRUE(apply(board, Edit{Batch{note->repair}}).ok());
    const std::vector<Finding> again = look(board);
    const Finding* still = find(again, kind);
    EXPECT_TRUE(!still || board.name_of(still->places[0].hole) != hole) << key(kind);
  }
  ASSERT_TRUE(apply(b.board, Edit{RemovePart{"W1"}}).ok());
  EXPECT_TRUE(find(look(b.board), FindingKind::kChipUnpowered));
}

// Each hunt can be won: replacing what was hidden makes the board whole, and revealing shows what it was.
// A lamp whose plus wire leaves the top rail behind its middle, while the supply feeds the front.
Board along_the_rail(Crack crack) {
  BoardBuilder b;
  b.board.breadboards[0].cracks[size_t(Rail::kTopPlus)] = crack;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+20", "a20"});
  b.add("resistor", "R1", {"c20", "c24"});
  b.add("led", "LED1", {"d24", "d25"});
  b.add("jumper-wire", "W2", {"a25", "top-20"});
  return b.board;
}

TEST(Condition, HiddenCrackIsToldOnlyByTheMeterAndAWireOverItMendsTheRail) {
  EXPECT_FALSE(any_fault(look(along_the_rail(Crack::kNone))));
  Board board = along_the_rail(Crack::kHidden);
  const std::vector<Finding> unmeasured = look(board);
  EXPECT_FALSE(find(unmeasured, FindingKind::kRailCracked));
  EXPECT_FALSE(find(unmeasured, FindingKind::kRailSplit)) << "what is hidden stays hidden";
  ASSERT_TRUE(find(unmeasured, FindingKind::kNotAsExpected));
  EXPECT_EQ(part_of(board, *find(unmeasured, FindingKind::kNotAsExpected)), "LED1");

  Board near_by = board;
  probe(near_by, "top+2", "top+10");  // on one side of it
  EXPECT_FALSE(find(look(near_by), FindingKind::kRailCracked));

  probe(board, "top+2", "top+22");
  const std::vector<Finding> list = look(board);
  const Finding* crack = find(list, FindingKind::kRailCracked);
  ASSERT_TRUE(crack);
  EXPECT_FALSE(find(list, FindingKind::kPartDead));
  ASSERT_EQ(crack->repair.size(), 2u);
  ASSERT_TRUE(apply(board, Edit{Batch{crack->repair}}).ok());
  EXPECT_EQ(board.breadboards[0].cracks[size_t(Rail::kTopPlus)], Crack::kFound);
  EXPECT_FALSE(any_fault(look(board)));
  Session session(board);
  EXPECT_EQ(session.readings().parts[3].state, State::kLit);
}

TEST(Condition, CrackThatWasFoundIsASplitRailAndIsBridged) {
  Board board = along_the_rail(Crack::kFound);
  const std::vector<Finding> list = look(board);
  ASSERT_FALSE(list.empty());
  EXPECT_TRUE(list[0].kind == FindingKind::kRailSplit || list[0].kind == FindingKind::kRailUnfed);
  ASSERT_TRUE(apply(board, Edit{Batch{list[0].repair}}).ok());
  EXPECT_FALSE(any_fault(look(board)));
}

TEST(Condition, MeterOnOhmsConvictsABrokenWireAndABrokenRail) {
  Board board = along_the_rail(Crack::kHidden);
  ASSERT_TRUE(apply(board, Edit{SwitchSupply{"PS1", false}}).ok());
  const auto ohms = [](Board of, std::string_view red, std::string_view black) {
    probe(of, red, black);
    EXPECT_TRUE(apply(of, Edit{SetValue{of.parts.back().name, "function", 4}}).ok());
    return of;
  };
  const Board along = ohms(board, "top+2", "top+22");
  const Finding* crack = nullptr;
  const std::vector<Finding> list = look(along);
  crack = find(list, FindingKind::kRailCracked);
  ASSERT_TRUE(crack);
  Board wire = along_the_rail(Crack::kNone);
  hide(wire, "W1", {.kind = Defect::Kind::kOpen});
  ASSERT_TRUE(apply(wire, Edit{SwitchSupply{"PS1", false}}).ok());
  const std::vector<Finding> cut = look(ohms(wire, "top+22", "b20"));
  const Finding* dead = find(cut, FindingKind::kPartDead);
  ASSERT_TRUE(dead);
  EXPECT_EQ(part_of(wire, *dead), "W1");
}

TEST(Hunt, ACrackedRailIsAmongWhatIsHiddenAndIsShownAgain) {
  const Board board = along_the_rail(Crack::kNone);
  std::set<size_t> rails;
  for (uint32_t seed = 1; seed <= 60; ++seed) {
    Board changed = board;
    ASSERT_TRUE(apply(changed, Edit{Batch{hide_defects(board, 1, seed)}}).ok());
    if (!hides_crack(changed)) continue;
    for (size_t rail = 0; rail < 4; ++rail)
      if (changed.breadboards[0].cracks[rail] == Crack::kHidden) rails.insert(rail);
    EXPECT_TRUE(has_hidden(changed));
    ASSERT_TRUE(apply(changed, Edit{Batch{reveal_defects(changed)}}).ok());
    EXPECT_FALSE(has_hidden(changed));
    EXPECT_NE(changed.breadboards[0].cuts(), kNoRailCut);
  }
  // The two rails that carry the current; a crack in the others changes nothing, so it is not hidden there.
  EXPECT_EQ(rails, (std::set<size_t>{size_t(Rail::kTopMinus), size_t(Rail::kTopPlus)}));
}

TEST(Hunt, HidesWhatShowsAndRevealsIt) {
  std::set<std::string> kinds;
  for (uint32_t seed = 1; seed <= 30; ++seed) {
    Board board = one_button().board;
    const std::vector<Edit> edits = hide_defects(board, 2, seed);
    ASSERT_GE(edits.size(), 2u);
    EXPECT_EQ(write_names(edits), write_names(hide_defects(board, 2, seed)));
    ASSERT_TRUE(apply(board, Edit{Batch{edits}}).ok());
    EXPECT_TRUE(has_hidden(board));
    for (const Part& part : board.parts)
      if (part.defect) kinds.insert(std::string(key(part.defect.kind)));
    Board shown = board;
    ASSERT_TRUE(apply(shown, Edit{Batch{reveal_defects(board)}}).ok());
    EXPECT_FALSE(has_hidden(shown));
    EXPECT_TRUE(find(look(shown), FindingKind::kPartDead));
    for (const Part& part : Board(board).parts)
      if (part.defect) EXPECT_TRUE(apply(board, Edit{ReplacePart{part.name}}).ok());
    EXPECT_FALSE(has_hidden(board));
    EXPECT_FALSE(any_fault(look(board)));
  }
  EXPECT_GE(kinds.size(), 3u);
}

}  // namespace
}  // namespace tiepoint
