#include "engine/board/edit.h"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/small_kinds.h"

namespace tiepoint {
namespace {

using small::hole;
using small::part;
using small::place;

bool same_ids(const Board& a, const Board& b) {
  if (a.parts.size() != b.parts.size()) return false;
  for (size_t i = 0; i < a.parts.size(); ++i)
    if (a.parts[i].id != b.parts[i].id) return false;
  return true;
}

class EditTest : public testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4", "c10"}));
    ASSERT_TRUE(place(board, small::kButton, "S1", {"e15"}));
    ASSERT_TRUE(place(board, small::kWire, "W1", {"a1", "top+1"}));
    ASSERT_TRUE(place(board, small::kSupply, "PS1", {"top+2", "top-2"}));
    ASSERT_TRUE(place(board, small::kSlide, "S2", {"h20"}));
  }

  // Applies, checks that the inverse brings back the board as it was, ids and order too, and applies again.
  Applied good(const Edit& edit) {
    const Board before = board;
    EXPECT_TRUE(check(board, edit));
    Result<Applied> applied = apply(board, edit);
    EXPECT_TRUE(applied.ok()) << (applied ? "" : text(applied.error()));
    if (!applied) return {};
    const Board after = board;
    const Result<Applied> back = apply(board, applied->inverse);
    EXPECT_TRUE(back.ok()) << (back ? "" : text(back.error()));
    EXPECT_EQ(board, before);
    EXPECT_TRUE(same_ids(board, before));
    if (!back) return {};
    EXPECT_TRUE(apply(board, back->inverse));
    EXPECT_EQ(board, after) << "the inverse of the inverse is the edit";
    EXPECT_TRUE(same_ids(board, after));
    return *applied;
  }

  Error bad(const Edit& edit) {
    const Board before = board;
    const Result<Applied> applied = apply(board, edit);
    EXPECT_FALSE(applied.ok());
    EXPECT_EQ(board, before) << "a failing edit leaves the board as it was";
    EXPECT_TRUE(same_ids(board, before));
    EXPECT_FALSE(check(board, edit));
    return applied ? Error{} : applied.error();
  }

  std::string at(std::string_view name, size_t lead) { return board.name_of(board.find(name)->leads[lead]); }

  Board board;
};

// ---- place and remove ----

TEST_F(EditTest, PlacingNamesThePartAndGivesItAnId) {
  const Applied applied = good({PlacePart{part(board, small::kResistor, "", {"g1", "g6"})}});
  EXPECT_EQ(applied.part, "R2");
  EXPECT_TRUE(applied.structural);
  EXPECT_FALSE(applied.momentary);
  EXPECT_TRUE(board.find("R2")->id);
  EXPECT_EQ(board.find("R2")->values, make_part(small::kResistor).values);
}

TEST_F(EditTest, PlacingARigidPartNeedsOnlyItsFirstHole) {
  good({PlacePart{part(board, small::kChip, "U1", {"f25"}, 4)}});
  EXPECT_EQ(at("U1", 4), "e28");
  EXPECT_EQ(board.find("U1")->turn, 0) << "four quarters are none";
}

TEST_F(EditTest, PlacingFillsInWhatIsMissing) {
  Part bare{.kind = &small::kResistor, .turn = 3, .mat = {5, 5}};
  good({PlacePart{bare}});
  const Part* placed = board.find("R2");
  ASSERT_NE(placed, nullptr);
  EXPECT_EQ(placed->leads.size(), 2u);
  EXPECT_EQ(placed->values.size(), 2u);
  EXPECT_EQ(placed->turn, 0) << "only rigid parts turn";
  EXPECT_EQ(placed->mat, MatPoint{}) << "only parts on the mat lie there";
}

TEST_F(EditTest, PlacingRefusesWhatDoesNotFit) {
  EXPECT_EQ(bad({PlacePart{}}).code, Code::kUnknownKind);
  EXPECT_EQ(bad({PlacePart{part(board, small::kWire, "R1", {})}}).code, Code::kNameTaken);
  EXPECT_EQ(bad({PlacePart{part(board, small::kWire, "9", {})}}).code, Code::kBadName);
  EXPECT_EQ(bad({PlacePart{part(board, small::kWire, "W2", {"c4", "c3"})}}).code, Code::kHoleOccupied);
  EXPECT_EQ(bad({PlacePart{part(board, small::kButton, "S3", {"d1"})}}).code, Code::kOffBoard);
  Part one = make_part(small::kResistor);
  one.values[0] = 0;
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kBadValue) << "0 Ω is a wire";
  one.values = {330};
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kUnknownValue);
  one = make_part(small::kResistor);
  one.leads.resize(3);
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kUnknownLead);
  one = make_part(small::kResistor);
  one.bends = {{1, 1}};
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kBadValue) << "only wires are bent";
  one = make_part(small::kSupply);
  one.mat.x = std::nan("");
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kBadValue);
  one = make_part(small::kWire);
  one.label = std::string(kLongestText + 1, 'x');
  EXPECT_EQ(bad({PlacePart{one}}).code, Code::kBadValue);
}

TEST_F(EditTest, NoMorePartsThanTheLimit) {
  const Part wire = make_part(small::kWire);
  while (board.parts.size() < kMaxParts) {
    board.parts.push_back(wire);
    board.parts.back().name = "X" + std::to_string(board.parts.size());
  }
  EXPECT_EQ(bad({PlacePart{wire}}).code, Code::kTooMany);
}

TEST_F(EditTest, RemovingAndUndoingRestoresPlaceInTheListAndId) {
  const PartId id = board.parts[1].id;
  const Applied applied = good({RemovePart{"S1"}});
  EXPECT_EQ(board.find("S1"), nullptr);
  ASSERT_TRUE(apply(board, applied.inverse));
  EXPECT_EQ(board.parts[1].name, "S1");
  EXPECT_EQ(board.parts[1].id, id);
}

TEST_F(EditTest, EveryEditOfAnUnknownPartIsRefused) {
  for (const Edit& edit : std::vector<Edit>{{RemovePart{"X"}},
                                            {MovePart{"X"}},
                                            {TurnPart{"X"}},
                                            {SeatLead{"X"}},
                                            {SetValue{"X"}},
                                            {RenamePart{"X"}},
                                            {LabelPart{"X"}},
                                            {RouteWire{"X"}},
                                            {PressPart{"X"}},
                                            {SlidePart{"X"}},
                                            {SwitchSupply{"X"}}}) {
    const Error error = bad(edit);
    EXPECT_EQ(error.code, Code::kUnknownPart);
    EXPECT_EQ(error.part, "X");
  }
}

// ---- move, turn, seat ----

TEST_F(EditTest, MovingTakesAllLeadsAlong) {
  EXPECT_TRUE(good({MovePart{"R1", {hole(board, "h4"), hole(board, "h10")}}}).structural);
  EXPECT_EQ(at("R1", 0), "h4");
  good({MovePart{"S1", {hole(board, "f8")}, 2}});
  EXPECT_EQ(at("S1", 3), "e6");
  EXPECT_EQ(board.find("S1")->turn, 2);
}

TEST_F(EditTest, MovingABodyOnTheMatChangesNoConnection) {
  const Applied applied = good({MovePart{.part = "PS1", .mat = {-8, 3.5}}});
  EXPECT_FALSE(applied.structural);
  EXPECT_EQ(board.find("PS1")->mat, (MatPoint{-8, 3.5}));
  EXPECT_EQ(at("PS1", 0), "top+2") << "no leads given: they stay";
}

TEST_F(EditTest, MovingIsCheckedLikePlacing) {
  EXPECT_EQ(bad({MovePart{"R1", {hole(board, "h4"), hole(board, "h5")}}}).code, Code::kOutOfReach);
  EXPECT_EQ(bad({MovePart{"R1", {hole(board, "e15"), hole(board, "a15")}}}).code, Code::kHoleOccupied);
  EXPECT_EQ(bad({MovePart{"S1", {hole(board, "d1")}}}).code, Code::kOffBoard);
  EXPECT_EQ(bad({MovePart{"R1", std::vector<Hole>(3)}}).code, Code::kUnknownLead);
  EXPECT_EQ(bad({MovePart{.part = "PS1", .mat = {1e9, 0}}}).code, Code::kBadValue);
}

TEST_F(EditTest, BendsComeAlongWhenAWireMovesAsAWhole) {
  good({RouteWire{"W1", {{0.1, -1.3}, {1.0 / 3.0, 2}}}});
  good({MovePart{"W1", {hole(board, "b2"), hole(board, "top-4")}}});
  EXPECT_EQ(board.find("W1")->bends[0], (MatPoint{0.1, -1.3})) << "one lead moved otherwise: the route stays";
  good({MovePart{"W1", {hole(board, "j2"), hole(board, "e2")}}});
  const std::vector<MatPoint> before = board.find("W1")->bends;
  good({MovePart{"W1", {hole(board, "j7"), hole(board, "e7")}}});
  EXPECT_EQ(board.find("W1")->bends[0], (MatPoint{before[0].x + 5, before[0].y}));
}

TEST_F(EditTest, HalfTurnSwapsTheTwoLeads) {
  good({TurnPart{"R1", 2}});
  EXPECT_EQ(at("R1", 0), "c10");
  EXPECT_EQ(at("R1", 1), "c4");
}

TEST_F(EditTest, QuarterTurnSwingsAboutTheFirstLead) {
  ASSERT_TRUE(place(board, small::kResistor, "R2", {"a25", "a29"}));
  good({TurnPart{"R2", 1}});
  EXPECT_EQ(at("R2", 0), "a25");
  EXPECT_EQ(at("R2", 1), "e25");
  good({TurnPart{"R2", 1}});
  EXPECT_EQ(at("R2", 1), "a21");
  good({TurnPart{"R1", 1}});
  EXPECT_EQ(at("R1", 1), "g4") << "six steps down from c4";
  EXPECT_EQ(bad({TurnPart{"R2", 1}}).code, Code::kCannotTurn) << "four steps up from row a";
}

TEST_F(EditTest, RigidPartTurnsAboutItsMiddle) {
  good({TurnPart{"S1", 2}});
  EXPECT_EQ(at("S1", 0), "f17");
  EXPECT_EQ(at("S1", 3), "e15");
  EXPECT_EQ(bad({TurnPart{"S1", 1}}).code, Code::kCannotTurn);
  good({TurnPart{"S2", 1}});
  EXPECT_EQ(at("S2", 0), "g21");
  EXPECT_EQ(at("S2", 2), "i21");
}

TEST(Turn, FourQuartersEndWhereTheyBegan) {
  // Lead patterns of every parity of length and width, on a board of wide open grid: two rows of five without a gap between.
  const std::array<LeadSpec, 2> pattern = {{{.name = "1"}, {.name = "2", .dx = 2, .dy = 1}}};
  const PartKind kind = {.key = "odd", .prefix = "X", .leads = pattern, .footprint = {.seat = Seat::kRigid}};
  for (const char* anchor : {"b10", "c11"}) {
    Board board;
    ASSERT_TRUE(place(board, kind, "X1", {anchor}));
    const Board before = board;
    for (int quarter = 0; quarter < 4; ++quarter) {
      ASSERT_TRUE(apply(board, Edit{TurnPart{"X1", 1}}));
      const MatPoint a = board.mat_of(board.parts[0].leads[0]), b = board.mat_of(board.parts[0].leads[1]);
      const MatPoint a0 = board.mat_of(before.parts[0].leads[0]), b0 = board.mat_of(before.parts[0].leads[1]);
      EXPECT_LE(std::hypot(a.x + b.x - a0.x - b0.x, a.y + b.y - a0.y - b0.y) / 2, std::sqrt(0.5) + 1e-12) << "the middle stays";
    }
    EXPECT_EQ(board, before);
    ASSERT_TRUE(apply(board, Edit{TurnPart{"X1", 1}}));
    ASSERT_TRUE(apply(board, Edit{TurnPart{"X1", -1}}));
    EXPECT_EQ(board, before);
  }
}

TEST_F(EditTest, PartsOnTheMatAndLoosePartsDoNotTurn) {
  EXPECT_EQ(bad({TurnPart{"PS1", 1}}).code, Code::kCannotTurn);
  ASSERT_TRUE(place(board, small::kWire, "W2", {"j1"}));
  EXPECT_EQ(bad({TurnPart{"W2", 1}}).code, Code::kCannotTurn);
  EXPECT_FALSE(good({TurnPart{"R1", 0}}).structural);
}

TEST_F(EditTest, OneLeadIsSeatedOrLifted) {
  EXPECT_TRUE(good({SeatLead{"R1", 1, hole(board, "c12")}}).structural);
  EXPECT_EQ(at("R1", 1), "c12");
  good({SeatLead{"R1", 0, Hole{}}});
  EXPECT_EQ(at("R1", 0), "");
  EXPECT_FALSE(good({SeatLead{"R1", 0, Hole{}}}).structural);
  EXPECT_EQ(bad({SeatLead{"R1", 0, hole(board, "a1")}}).code, Code::kHoleOccupied);
  EXPECT_EQ(bad({SeatLead{"R1", 2, hole(board, "a2")}}).code, Code::kUnknownLead);
  EXPECT_EQ(bad({SeatLead{"R1", -1, hole(board, "a2")}}).code, Code::kUnknownLead);
  EXPECT_EQ(bad({SeatLead{"R1", 0, Hole{0, 4000}}}).code, Code::kUnknownHole);
}

TEST_F(EditTest, RigidPartFollowsTheLeadThatIsSeated) {
  good({SeatLead{"S1", 3, hole(board, "f12")}});
  EXPECT_EQ(at("S1", 0), "e10");
  EXPECT_EQ(bad({SeatLead{"S1", 3, Hole{}}}).code, Code::kOffBoard);
  EXPECT_EQ(bad({SeatLead{"S1", 3, hole(board, "f1")}}).code, Code::kOffBoard);
}

// ---- values, names, words ----

TEST_F(EditTest, SettingAValueIsNotStructural) {
  const Applied applied = good({SetValue{"R1", "resistance", 4700}});
  EXPECT_FALSE(applied.structural);
  EXPECT_FALSE(applied.momentary);
  EXPECT_EQ(value_of(*board.find("R1"), "resistance"), 4700);
  for (const double value : {0.0, -1.0, 1e12, std::nan(""), HUGE_VAL}) {
    const Error error = bad({SetValue{"R1", "resistance", value}});
    EXPECT_EQ(error.code, Code::kBadValue);
    EXPECT_EQ(error.part, "R1");
  }
  EXPECT_EQ(bad({SetValue{"R1", "colour", 3}}).code, Code::kBadValue);
  EXPECT_EQ(bad({SetValue{"R1", "colour", 0.5}}).code, Code::kBadValue);
  const Error error = bad({SetValue{"R1", "volume", 1}});
  EXPECT_EQ(error.code, Code::kUnknownValue);
  EXPECT_EQ(error.expected, "resistance, colour");
}

TEST_F(EditTest, PressingIsMomentary) {
  const Applied applied = good({PressPart{"S1", true}});
  EXPECT_TRUE(applied.momentary);
  EXPECT_FALSE(applied.structural);
  EXPECT_EQ(value_of(*board.find("S1"), "pressed"), 1);
  good({PressPart{"S1", false}});
  EXPECT_EQ(value_of(*board.find("S1"), "pressed"), 0);
  EXPECT_EQ(bad({PressPart{"R1"}}).code, Code::kNotASwitch);
  EXPECT_EQ(bad({PressPart{"S2"}}).code, Code::kNotASwitch);
}

TEST_F(EditTest, SlidingStays) {
  const Applied applied = good({SlidePart{"S2", 1}});
  EXPECT_FALSE(applied.momentary);
  EXPECT_FALSE(applied.structural);
  EXPECT_EQ(value_of(*board.find("S2"), "position"), 1);
  EXPECT_EQ(bad({SlidePart{"S2", 2}}).code, Code::kBadValue);
  EXPECT_EQ(bad({SlidePart{"S1", 1}}).code, Code::kNotASwitch);
}

TEST_F(EditTest, SupplySwitchesOffAndOn) {
  EXPECT_FALSE(good({SwitchSupply{"PS1", false}}).structural);
  EXPECT_EQ(value_of(*board.find("PS1"), "on"), 0);
  EXPECT_EQ(bad({SwitchSupply{"S2", true}}).code, Code::kNotASwitch);
}

TEST_F(EditTest, NamesAreShortPlainAndUnique) {
  EXPECT_EQ(good({RenamePart{"R1", "Lamp-room_2"}}).part, "Lamp-room_2");
  EXPECT_NE(board.find("Lamp-room_2"), nullptr);
  EXPECT_EQ(bad({RenamePart{"S1", "S2"}}).code, Code::kNameTaken);
  good({RenamePart{"S1", "S1"}});
  good({RenamePart{"S1", std::string(kLongestName, 'x')}});
  for (const std::string& name : {std::string(), std::string("1R"), std::string("R 1"), std::string("Ω"), std::string("R/1"),
                                  std::string("-R"), std::string(kLongestName + 1, 'x')})
    EXPECT_EQ(bad({RenamePart{"S2", name}}).code, Code::kBadName) << name;
}

TEST_F(EditTest, LabelsAndTitleAreAnyUtf8) {
  EXPECT_FALSE(good({LabelPart{"R1", "keeps the lamp at 9 mA\n→ see log"}}).structural);
  EXPECT_FALSE(good({SetTitle{"Fog bell Ω"}}).structural);
  EXPECT_EQ(bad({LabelPart{"R1", "\xFF"}}).code, Code::kBadValue);
  EXPECT_EQ(bad({SetTitle{std::string(kLongestText + 1, 'x')}}).code, Code::kBadValue);
}

TEST_F(EditTest, OnlyWiresAreRouted) {
  EXPECT_FALSE(good({RouteWire{"W1", {{1, -1}, {2.5, -1}}}}).structural);
  EXPECT_EQ(bad({RouteWire{"R1", {{1, -1}}}}).code, Code::kBadValue);
  EXPECT_EQ(bad({RouteWire{"W1", {{1, std::nan("")}}}}).code, Code::kBadValue);
  EXPECT_EQ(bad({RouteWire{"W1", std::vector<MatPoint>(kMaxBends + 1)}}).code, Code::kTooMany);
}

// ---- the whole board ----

TEST_F(EditTest, LeadsKeepTheNameOfTheirHoleOnAnotherLayout) {
  ASSERT_TRUE(apply(board, Edit{RemovePart{"W1"}}));
  EXPECT_TRUE(good({SetBreadboards{{{.layout = LayoutKind::k830}}}}).structural);
  EXPECT_EQ(at("PS1", 0), "top+2");
  EXPECT_EQ(at("R1", 1), "c10");
}

TEST_F(EditTest, BreadboardsAreNotTakenFromUnderALead) {
  const Error rails = bad({SetBreadboards{{{.layout = LayoutKind::k170}}}});
  EXPECT_EQ(rails.code, Code::kOffBoard);
  EXPECT_EQ(rails.part, "W1");
  EXPECT_EQ(rails.lead, "2");
  EXPECT_EQ(rails.hole, "top+1");
}

TEST_F(EditTest, PartAcrossTwoBreadboardsHoldsThemTogether) {
  good({SetBreadboards{small::two_breadboards()}});
  ASSERT_TRUE(place(board, small::kResistor, "R2", {"j10", "2:a6"}));
  std::vector<Breadboard> apart = small::two_breadboards();
  apart[1].origin.y += 20;
  EXPECT_EQ(bad({SetBreadboards{apart}}).code, Code::kOutOfReach);
  EXPECT_EQ(bad({SetBreadboards{{small::two_breadboards()[0]}}}).code, Code::kOffBoard);
  EXPECT_EQ(bad({SetBreadboards{{}}}).code, Code::kBadValue);
}

TEST_F(EditTest, BatchIsAllOrNothing) {
  const Edit works{
      Batch{{{RemovePart{"R1"}}, {PlacePart{part(board, small::kWire, "", {"c4", "c5"})}}, {RenamePart{"W2", "R1"}}}}};
  EXPECT_TRUE(good(works).structural);
  EXPECT_EQ(board.find("R1")->kind, &small::kWire);
  EXPECT_EQ(bad({Batch{{{SetTitle{"x"}}, {RemovePart{"S1"}}, {RemovePart{"S1"}}}}}).code, Code::kUnknownPart);
  const Applied knobs = good({Batch{{{SlidePart{"S2", 1}}, {SetTitle{"y"}}}}});
  EXPECT_FALSE(knobs.structural);
  EXPECT_FALSE(knobs.momentary);
  EXPECT_TRUE(good({Batch{{{PressPart{"S1"}}, {PressPart{"S1", false}}}}}).momentary);
  EXPECT_FALSE(good({Batch{}}).momentary);
}

TEST_F(EditTest, MovesOfABatchHappenAtOnce) {
  ASSERT_TRUE(place(board, small::kWire, "W2", {"d4", "d7"}));
  ASSERT_TRUE(place(board, small::kWire, "W3", {"d5", "d6"}));
  const auto to = [&](const char* name, const char* a, const char* b) { return Edit{MovePart{name, {hole(board, a), hole(board, b)}}}; };
  // Each takes a hole of the other: one after another neither could go first.
  EXPECT_FALSE(check(board, to("W2", "d5", "d8")));
  EXPECT_FALSE(check(board, to("W3", "d6", "d7")));
  EXPECT_TRUE(good({Batch{{to("W2", "d5", "d8"), to("W3", "d6", "d7")}}}).structural);
  EXPECT_EQ(board.find("W2")->leads[1], hole(board, "d8"));
  // Also a plain exchange.
  good({Batch{{to("W2", "d6", "d7"), to("W3", "d5", "d8")}}});
  // What stays counts, and so does what has moved already.
  EXPECT_EQ(bad({Batch{{to("W2", "c4", "d9"), to("W3", "d1", "d2")}}}).code, Code::kHoleOccupied);
  EXPECT_EQ(bad({Batch{{to("W2", "d1", "d2"), to("W3", "d2", "d3")}}}).code, Code::kHoleOccupied);
  EXPECT_EQ(bad({Batch{{to("W2", "d1", "d2"), to("nobody", "d2", "d3")}}}).code, Code::kUnknownPart);
  // The same part twice goes one step after the other.
  good({Batch{{to("W2", "d1", "d2"), to("W2", "d3", "d4")}}});
  EXPECT_EQ(board.find("W2")->leads[0], hole(board, "d3"));
}

// Laws, on random edits of every kind.
TEST(EditLaws, InverseRestoresAndFailureChangesNothing) {
  int fitted = 0, refused = 0;
  for (uint32_t seed = 1; seed <= 40; ++seed) {
    small::RandomEdits random(seed);
    Board board;
    for (int step = 0; step < 60; ++step) {
      const Edit edit = random.next(board);
      const Board before = board;
      const Status expected = check(board, edit);
      ASSERT_EQ(board, before);
      const Result<Applied> applied = apply(board, edit);
      ASSERT_EQ(applied.ok(), expected.ok());
      if (!applied) {
        ++refused;
        ASSERT_EQ(board, before);
        ASSERT_TRUE(same_ids(board, before));
        continue;
      }
      ++fitted;
      const Board after = board;
      ASSERT_TRUE(apply(board, applied->inverse));
      ASSERT_EQ(board, before);
      ASSERT_TRUE(same_ids(board, before));
      board = after;
      for (const Part& one : board.parts) ASSERT_TRUE(check_seat(board, one));
    }
  }
  EXPECT_GT(fitted, 500);
  EXPECT_GT(refused, 500);
}

TEST(EditLaws, NoTwoLeadsEverShareAHole) {
  for (uint32_t seed = 100; seed <= 120; ++seed) {
    small::RandomEdits random(seed);
    Board board;
    for (int step = 0; step < 80; ++step) (void)apply(board, random.next(board));
    std::vector<Hole> seated;
    for (const Part& one : board.parts)
      for (const Hole lead : one.leads)
        if (lead.valid()) seated.push_back(lead);
    std::sort(seated.begin(), seated.end());
    EXPECT_EQ(std::adjacent_find(seated.begin(), seated.end()), seated.end());
    for (const Hole lead : seated) EXPECT_FALSE(board.body_over(lead));
  }
}

}  // namespace
}  // namespace tiepoint
