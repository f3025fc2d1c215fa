#include "engine/board/board.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "engine/board/words.h"
#include "tests/engine/small_kinds.h"

namespace tiepoint {
namespace {

using small::hole;
using small::part;
using small::place;

std::vector<std::string> names(const Board& board, std::vector<Hole> holes) {
  std::vector<std::string> out;
  for (const Hole one : holes) out.push_back(board.name_of(one));
  std::sort(out.begin(), out.end());
  return out;
}

Code seat_code(const Board& board, const Part& one) {
  const Status status = check_seat(board, one);
  EXPECT_FALSE(status.ok());
  return status ? Code::kUsage : status.error().code;
}

TEST(Board, StartsEmptyOnOneBreadboard) {
  const Board board;
  EXPECT_EQ(board.breadboards.size(), 1u);
  EXPECT_TRUE(board.parts.empty());
  EXPECT_EQ(board, Board());
}

TEST(Board, IsAValue) {
  Board board;
  ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4", "c9"}));
  Board copy = board;
  EXPECT_EQ(copy, board);
  copy.parts[0].id.value = 77;
  EXPECT_EQ(copy, board) << "ids are handles and do not count";
  for (const auto change : std::vector<void (*)(Board&)>{
           [](Board& b) { b.title = "x"; }, [](Board& b) { b.parts[0].name = "R2"; },
           [](Board& b) { b.parts[0].leads[0] = {}; }, [](Board& b) { b.parts[0].turn = 1; },
           [](Board& b) { b.parts[0].mat.x = 1; }, [](Board& b) { b.parts[0].values[0] = 1; },
           [](Board& b) { b.parts[0].bends.push_back({}); }, [](Board& b) { b.parts[0].label = "x"; },
           [](Board& b) { b.parts[0].kind = &small::kWire; }, [](Board& b) { b.breadboards[0].split_rails = true; },
           [](Board& b) { b.breadboards[0].origin.x = 1; }, [](Board& b) { b.parts.clear(); }}) {
    Board changed = board;
    change(changed);
    EXPECT_FALSE(changed == board);
  }
}

TEST(Board, FindsPartsByNameAndId) {
  Board board;
  ASSERT_TRUE(place(board, small::kWire, "W1", {"a1", "a5"}));
  ASSERT_TRUE(place(board, small::kWire, "W2", {"b1", "b5"}));
  EXPECT_EQ(board.find("W2"), &board.parts[1]);
  EXPECT_EQ(board.find("w2"), nullptr);
  EXPECT_EQ(board.find(board.parts[0].id), &board.parts[0]);
  EXPECT_EQ(board.index_of(board.parts[1].id), 1);
  EXPECT_EQ(board.index_of(PartId{99}), -1);
  EXPECT_EQ(board.find(PartId{}), nullptr);
}

TEST(Board, HolesOfTwoBreadboardsAreToldApart) {
  Board board;
  board.breadboards = small::two_breadboards();
  EXPECT_EQ(hole(board, "e12"), hole(board, "1:e12"));
  const Hole second = hole(board, "2:E12");
  EXPECT_EQ(second.breadboard, 1);
  EXPECT_EQ(board.name_of(second), "2:e12");
  EXPECT_EQ(board.mat_of(second), (MatPoint{4 + 11, 16 + 4}));
  EXPECT_EQ(board.hole_at({15, 20}), second);
  EXPECT_FALSE(board.hole_at({15, 15}).valid());
  EXPECT_EQ(board.layout_of(second).name, "170");
  EXPECT_EQ(board.name_of({}), "");
}

TEST(Board, EveryHoleIsFoundAtItsPlaceOnTheMat) {
  Board board;
  board.breadboards = small::two_breadboards();
  for (uint8_t breadboard = 0; breadboard < 2; ++breadboard)
    for (uint16_t i = 0; i < layout(board.breadboards[breadboard].layout).hole_count(); ++i) {
      const MatPoint at = board.mat_of({breadboard, i});
      EXPECT_EQ(board.hole_at({static_cast<int>(at.x), static_cast<int>(at.y)}), (Hole{breadboard, i}));
    }
}

TEST(Board, HasOnlyItsOwnHoles) {
  const Board board;
  EXPECT_TRUE(board.has({0, 399}));
  EXPECT_FALSE(board.has({0, 400}));
  EXPECT_FALSE(board.has({1, 0}));
  EXPECT_FALSE(board.has({}));
}

TEST(Board, UnknownHoleSaysWhatExists) {
  Board board;
  for (const std::string_view name : {"z1", "2:a1", "0:a1", ":a1", "x:a1", "11:a1", "1:", "1:1:a1", ""}) {
    const Result<Hole> found = board.hole(name);
    ASSERT_FALSE(found.ok()) << name;
    EXPECT_EQ(found.error().code, Code::kUnknownHole);
    EXPECT_EQ(found.error().found, in_quotes(name));
    EXPECT_FALSE(found.error().expected.empty());
  }
}

TEST(Board, ClipOfAHoleIsItsStripOrRail) {
  Board board;
  EXPECT_EQ(names(board, board.clip_of(hole(board, "c7"))), (std::vector<std::string>{"a7", "b7", "c7", "d7", "e7"}));
  EXPECT_EQ(board.clip_of(hole(board, "top+3")).size(), 25u);
  board.breadboards[0].split_rails = true;
  EXPECT_EQ(board.clip_of(hole(board, "top+3")).size(), 15u);
  EXPECT_EQ(board.clip_of(hole(board, "top+16")).size(), 10u);
  EXPECT_TRUE(board.clip_of({}).empty());
}

TEST(Board, FreeNameFillsTheFirstGap) {
  Board board;
  EXPECT_EQ(board.free_name("R"), "R1");
  for (const char* name : {"R1", "R2", "R4", "R", "R05", "R3x", "RS3", "R99999999999999999999"}) {
    Part one = make_part(small::kWire);
    one.name = name;
    ASSERT_TRUE(apply(board, Edit{PlacePart{one}})) << name;
  }
  EXPECT_EQ(board.free_name("R"), "R3");
  ASSERT_TRUE(apply(board, Edit{RemovePart{"R1"}}));
  EXPECT_EQ(board.free_name("R"), "R1");
}

TEST(Board, ValuesAndLeadsAreFoundByName) {
  const Part one = make_part(small::kResistor);
  EXPECT_EQ(value_of(one, "resistance"), 330);
  EXPECT_EQ(value_of(one, "on", -5), -5);
  EXPECT_EQ(value_index(small::kResistor, "colour"), 1);
  EXPECT_EQ(value_index(small::kResistor, "color"), -1);
  EXPECT_EQ(lead_index(small::kSlide, "common"), 1);
  EXPECT_EQ(lead_index(small::kSlide, "3"), -1);
  EXPECT_EQ(one.leads.size(), 2u);
  EXPECT_FALSE(one.leads[0].valid());
}

TEST(Value, MustBeFiniteInRangeAndOneOfTheOptions) {
  EXPECT_TRUE(check_value(small::kResistor, 0, 0.1));
  EXPECT_TRUE(check_value(small::kResistor, 0, 22e6));
  for (const double bad : {0.0, -1.0, 22.1e6, std::nan(""), HUGE_VAL})
    EXPECT_EQ(check_value(small::kResistor, 0, bad).error().code, Code::kBadValue);
  EXPECT_TRUE(check_value(small::kResistor, 1, 2));
  for (const double bad : {3.0, -1.0, 0.5, std::nan("")})
    EXPECT_EQ(check_value(small::kResistor, 1, bad).error().code, Code::kBadValue);
  EXPECT_FALSE(check_value(small::kButton, 0, 0.5)) << "a contact is pressed or not";
  const Error zero = check_value(small::kResistor, 0, 0).error();
  EXPECT_EQ(zero.found, "resistance of 0 Ω");
  EXPECT_EQ(zero.expected, "100 mΩ to 22 MΩ");
}

// ---- rigid parts ----

TEST(Rigid, ButtonStraddlesTheCentreGap) {
  const Board board;
  const Result<std::vector<Hole>> holes = rigid_holes(board, small::kButton, hole(board, "e9"), 0);
  ASSERT_TRUE(holes);
  EXPECT_EQ(names(board, *holes), (std::vector<std::string>{"e11", "e9", "f11", "f9"}));
}

TEST(Rigid, HalfTurnSwapsThePinsInTheSameHoles) {
  const Board board;
  const Result<std::vector<Hole>> holes = rigid_holes(board, small::kButton, hole(board, "f11"), 2);
  ASSERT_TRUE(holes);
  EXPECT_EQ(board.name_of((*holes)[0]), "f11");
  EXPECT_EQ(board.name_of((*holes)[1]), "e11");
  EXPECT_EQ(board.name_of((*holes)[2]), "f9");
  EXPECT_EQ(board.name_of((*holes)[3]), "e9");
}

TEST(Rigid, QuarterTurnIsClockwise) {
  const Board board;
  EXPECT_EQ(turned({1, 0}, 1), (GridPoint{0, 1})) << "right becomes down";
  EXPECT_EQ(turned({2, 5}, -3), turned({2, 5}, 1));
  EXPECT_EQ(turned({2, 5}, 4), (GridPoint{2, 5}));
  const Result<std::vector<Hole>> holes = rigid_holes(board, small::kSlide, hole(board, "b5"), 1);
  ASSERT_TRUE(holes);
  EXPECT_EQ(names(board, *holes), (std::vector<std::string>{"b5", "c5", "d5"}));
}

TEST(Rigid, PinOverTheEdgeOrTheGapIsOffTheBoard) {
  const Board board;
  const Error gap = rigid_holes(board, small::kButton, hole(board, "d9"), 0).error();
  EXPECT_EQ(gap.code, Code::kOffBoard);
  EXPECT_EQ(gap.lead, "2");
  EXPECT_EQ(rigid_holes(board, small::kButton, hole(board, "e29"), 0).error().lead, "3");
  EXPECT_EQ(rigid_holes(board, small::kButton, {}, 0).error().code, Code::kOffBoard);
}

TEST(Rigid, ChipAcrossTwoBreadboardsUsesTheMatGrid) {
  Board board;
  board.breadboards = {{.layout = LayoutKind::k170}, {.layout = LayoutKind::k170, .origin = {17, 0}}};
  const Result<std::vector<Hole>> holes = rigid_holes(board, small::kChip, hole(board, "f16"), 0);
  ASSERT_TRUE(holes);
  EXPECT_EQ(names(board, *holes), (std::vector<std::string>{"2:e1", "2:e2", "2:f1", "2:f2", "e16", "e17", "f16", "f17"}));
}

// ---- bodies ----

TEST(Body, AxialBodyLiesInTheMiddleBetweenItsLeads) {
  Board board;
  ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4", "c10"}));
  EXPECT_EQ(names(board, covered_holes(board, board.parts[0])), (std::vector<std::string>{"c6", "c7", "c8"}));
  EXPECT_EQ(board.body_over(hole(board, "c7")), board.parts[0].id);
  EXPECT_FALSE(board.body_over(hole(board, "c5")));
  EXPECT_FALSE(board.body_over(hole(board, "c4"))) << "a part does not cover its own lead";
}

TEST(Body, TurnsWithTheLine) {
  Board board;
  ASSERT_TRUE(place(board, small::kResistor, "R1", {"a3", "e3"}));
  EXPECT_EQ(names(board, covered_holes(board, board.parts[0])), (std::vector<std::string>{"b3", "c3", "d3"}));
  ASSERT_TRUE(place(board, small::kResistor, "R2", {"f5", "j9"}));
  EXPECT_EQ(names(board, covered_holes(board, board.parts[1])), (std::vector<std::string>{"h7"}));
}

TEST(Body, OfALooseOrClearPartCoversNothing) {
  Board board;
  ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4"}));
  ASSERT_TRUE(place(board, small::kWire, "W1", {"d4", "d10"}));
  for (const Part& one : board.parts) EXPECT_TRUE(covered_holes(board, one).empty());
}

TEST(Body, OfAChipLiesBetweenItsRowsOfPins) {
  Board board;
  ASSERT_TRUE(place(board, small::kChip, "U1", {"f5"}));
  EXPECT_TRUE(covered_holes(board, board.parts[0]).empty()) << "the centre gap has no holes";
  EXPECT_EQ(board.lead_in(hole(board, "e5")).lead, 7);
}

// ---- seats ----

class SeatTest : public testing::Test {
 protected:
  void SetUp() override {
    ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4", "c10"}));
    ASSERT_TRUE(place(board, small::kButton, "S1", {"e15"}));
  }
  Board board;
};

TEST_F(SeatTest, OneHoleTakesOneLead) {
  const Part wire = part(board, small::kWire, "W1", {"b4", "c4"});
  const Error error = check_seat(board, wire).error();
  EXPECT_EQ(error.code, Code::kHoleOccupied);
  EXPECT_EQ(error.part, "W1");
  EXPECT_EQ(error.lead, "2");
  EXPECT_EQ(error.hole, "c4");
  EXPECT_EQ(error.found, "R1");
  EXPECT_EQ(text(error), "hole c4 already holds a lead of R1");
}

TEST_F(SeatTest, HoleUnderABodyTakesNone) {
  const Error error = check_seat(board, part(board, small::kWire, "W1", {"c7", "a7"})).error();
  EXPECT_EQ(error.code, Code::kHoleCovered);
  EXPECT_EQ(error.hole, "c7");
  EXPECT_EQ(error.found, "R1");
}

TEST_F(SeatTest, BodyMustNotLieOnALead) {
  ASSERT_TRUE(place(board, small::kWire, "W1", {"h20", "j20"}));
  const Error error = check_seat(board, part(board, small::kResistor, "R2", {"h18", "h22"})).error();
  EXPECT_EQ(error.code, Code::kBodyOnLead);
  EXPECT_EQ(error.hole, "h20");
  EXPECT_EQ(error.found, "W1");
}

TEST_F(SeatTest, TwoLeadsNeedTwoHoles) {
  EXPECT_EQ(seat_code(board, part(board, small::kWire, "W1", {"a1", "a1"})), Code::kSameHoleTwice);
}

TEST_F(SeatTest, LeadsHaveReach) {
  const Error near = check_seat(board, part(board, small::kResistor, "R2", {"h1", "h4"})).error();
  EXPECT_EQ(near.code, Code::kOutOfReach);
  EXPECT_EQ(near.found, "3");
  EXPECT_EQ(near.expected, "4 to 16");
  EXPECT_EQ(seat_code(board, part(board, small::kResistor, "R2", {"h1", "h18"})), Code::kOutOfReach);
  EXPECT_TRUE(check_seat(board, part(board, small::kResistor, "R2", {"h1", "h5"})));
  EXPECT_TRUE(check_seat(board, part(board, small::kResistor, "R2", {"h1", "h17"})));
  EXPECT_TRUE(check_seat(board, part(board, small::kResistor, "R2", {"d28", "f28"}))) << "across the gap: 4 steps";
}

TEST_F(SeatTest, EachNeighbouringPairOfLeadsHasReach) {
  EXPECT_TRUE(check_seat(board, part(board, small::kTriple, "Q1", {"h1", "h4", "h7"})));
  const Error error = check_seat(board, part(board, small::kTriple, "Q1", {"h1", "h2", "h6"})).error();
  EXPECT_EQ(error.code, Code::kOutOfReach);
  EXPECT_EQ(error.lead, "c");
}

TEST_F(SeatTest, LeadsMayHangInTheAirUnlessThePartIsRigid) {
  EXPECT_TRUE(check_seat(board, part(board, small::kWire, "W1", {"a1"})));
  EXPECT_TRUE(check_seat(board, make_part(small::kSupply)));
  EXPECT_EQ(seat_code(board, make_part(small::kButton)), Code::kOffBoard);
}

TEST_F(SeatTest, PinsOfARigidPartKeepTheirPattern) {
  Part bent = board.parts[1];
  bent.leads[3] = hole(board, "g17");
  EXPECT_EQ(seat_code(board, bent), Code::kOffBoard);
}

TEST_F(SeatTest, HoleMustExist) {
  Part wire = part(board, small::kWire, "W1", {"a1", "a2"});
  wire.leads[1].index = 400;
  EXPECT_EQ(seat_code(board, wire), Code::kUnknownHole);
  wire.leads[1] = {3, 0};
  EXPECT_EQ(seat_code(board, wire), Code::kUnknownHole);
}

TEST_F(SeatTest, APartDoesNotStandInItsOwnWay) {
  for (const Part& one : board.parts) EXPECT_TRUE(check_seat(board, one));
  Part shifted = board.parts[0];
  shifted.leads = {hole(board, "c6"), hole(board, "c12")};
  EXPECT_TRUE(check_seat(board, shifted));
}

TEST_F(SeatTest, TwoRigidBodiesCannotStandInOnePlace) {
  const std::array<LeadSpec, 2> pins = {{{.name = "1"}, {.name = "2", .dx = 4}}};
  const PartKind plate = {
      .key = "plate", .prefix = "X", .leads = pins, .footprint = {.seat = Seat::kRigid, .body_length = 3, .body_width = 3}};
  Board two;
  ASSERT_TRUE(place(two, plate, "X1", {"b10"}));
  const Result<Applied> over = place(two, plate, "X2", {"d11"});
  ASSERT_FALSE(over);
  EXPECT_EQ(over.error().code, Code::kHoleCovered);
  EXPECT_EQ(over.error().found, "X1");
  EXPECT_TRUE(place(two, plate, "X2", {"e11"}));
  EXPECT_EQ(names(two, covered_holes(two, two.parts[1])), (std::vector<std::string>{"d12", "d13", "d14", "e12", "e13", "e14"}));
}

TEST(Breadboards, LieSideBySide) {
  EXPECT_TRUE(check_breadboards(small::two_breadboards()));
  EXPECT_EQ(check_breadboards({}).error().code, Code::kBadValue);
  EXPECT_EQ(check_breadboards(std::vector<Breadboard>(5)).error().code, Code::kTooMany);
  EXPECT_EQ(check_breadboards(std::vector<Breadboard>(2)).error().code, Code::kBadValue);
  EXPECT_EQ(check_breadboards({{.origin = {1001, 0}}}).error().code, Code::kBadValue);
  EXPECT_FALSE(check_breadboards({{.layout = LayoutKind::k400}, {.layout = LayoutKind::k170, .origin = {0, 14}}}))
      << "on its rail";
}

// ---- words ----

TEST(Words, NumbersReadAsAPersonWritesThem) {
  EXPECT_EQ(number_text(0), "0");
  EXPECT_EQ(number_text(-0.25), "-0.25");
  EXPECT_EQ(number_text(22e6), "22000000");
  EXPECT_EQ(number_text(0.1 + 0.2), "0.3");
  EXPECT_EQ(number_text(999999999.7), "1000000000");
  EXPECT_EQ(number_text(1e-12), "1e-12");
  EXPECT_EQ(number_text(-1.5e300), "-1.5e300");
  EXPECT_EQ(number_text(5e-324), "4.94065646e-324");
  EXPECT_EQ(number_text(std::nan("")), "not a number");
  EXPECT_EQ(quantity_text(4700, "Ω"), "4.7 kΩ");
  EXPECT_EQ(quantity_text(100e-9, "F"), "100 nF");
  EXPECT_EQ(quantity_text(0, "Ω"), "0 Ω");
  EXPECT_EQ(quantity_text(3, ""), "3");
}

TEST(Words, QuotedTextIsShortAndPrintable) {
  EXPECT_EQ(in_quotes("R1"), "\"R1\"");
  EXPECT_EQ(in_quotes("a\nb\xFF"), "\"a?b?\"");
  EXPECT_LT(in_quotes(std::string(1000, 'x')).size(), 60u);
  EXPECT_TRUE(is_utf8(in_quotes("1234567890123456789012345678901234567890Ω")));
  EXPECT_TRUE(is_utf8("Ω µ → 𝛀"));
  EXPECT_FALSE(is_utf8("\xC0\xAF"));
  EXPECT_FALSE(is_utf8("\xED\xA0\x80"));
  EXPECT_FALSE(is_utf8("\xE2\x84"));
}

}  // namespace
}  // namespace tiepoint
