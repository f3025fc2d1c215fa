#include "engine/logic/compare.h"

#include <algorithm>
#include <fstream>
#include <sstream>

#include "engine/file/json.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

Board learner(const std::string& name) {
  std::ifstream in(std::string(TIEPOINT_SOURCE) + "/tests/lessons/" + name + ".board.json");
  std::stringstream out;
  out << in.rdbuf();
  return read_board(out.str(), catalogue()).value();
}

BoardBuilder loop(std::string_view first, double resistance, std::string_view lamp = "led") {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+4", "a4"});
  if (first == "resistor") {
    b.add("resistor", "R1", {"b4", "b9"})
        .set("resistance", resistance)
        .add(lamp, "LED1", {"c9", "c10"})
        .add("jumper-wire", "W2", {"a10", "top-10"});
  } else {
    b.add(lamp, "LED1", {"b4", "b5"})
        .add("resistor", "R1", {"c5", "c10"})
        .set("resistance", resistance)
        .add("jumper-wire", "W2", {"a10", "top-10"});
  }
  return b;
}

TEST(Compare, BoardIsTheSameAsItself) {
  const Board board = learner("interlock.right");
  std::vector<int> matching;
  EXPECT_EQ(compare(board, board, {}, &matching).likeness, Likeness::kSameCircuit);
  for (size_t p = 0; p < board.parts.size(); ++p)
    if (matching[p] >= 0) {
      EXPECT_EQ(board.parts[p].kind, board.parts[size_t(matching[p])].kind);
    }
}

TEST(Compare, NamesPlacesWiresMetersAndTurnedEndsDoNotCount) {
  const Board first = loop("resistor", 330).board;
  BoardBuilder b;
  b.add("led", "LED7", {"g20", "g21"})
      .add("resistor", "R9", {"h20", "h15"})
      .set("resistance", 330)
      .add("usb-supply", "PS2", {"bottom+1", "bottom-1"});
  b.add("jumper-wire", "W1", {"j15", "j12"})
      .add("jumper-wire", "W2", {"i12", "bottom+9"})
      .add("jumper-wire", "W3", {"j21", "bottom-21"});
  b.add("meter", "M1", {"g20", "g21"});
  EXPECT_EQ(compare(first, b.board).likeness, Likeness::kSameCircuit);
  EXPECT_EQ(compare(b.board, first).likeness, Likeness::kSameCircuit);
}

TEST(Compare, OtherOrderInOneLoopIsAnotherCircuitThatDoesTheSame) {
  const CompareResult r = compare(loop("resistor", 330).board, loop("lamp", 330).board);
  EXPECT_EQ(r.likeness, Likeness::kSameBehaviour);
  EXPECT_EQ(r.circuit, Difference::kOtherJoints);
}

TEST(Compare, OtherValueIsNamedOnBothBoards) {
  const CompareResult r = compare(loop("resistor", 330).board, loop("resistor", 1000).board);
  EXPECT_EQ(r.likeness, Likeness::kDifferent);
  EXPECT_EQ(r.circuit, Difference::kOtherValue);
  EXPECT_EQ(r.first_part, "R1");
  EXPECT_EQ(r.second_part, "R1");
  EXPECT_EQ(r.behaviour, Difference::kOtherCurrent);
  EXPECT_NEAR(r.first_current, 0.0094, 2e-4);
  EXPECT_NEAR(r.second_current, 0.0032, 2e-4);
}

TEST(Compare, PartTooManyOrTooFew) {
  BoardBuilder more = loop("resistor", 330);
  more.add("ceramic-capacitor", "C1", {"j5", "j7"});
  const CompareResult fewer = compare(more.board, loop("resistor", 330).board),
                      extra = compare(loop("resistor", 330).board, more.board);
  EXPECT_EQ(fewer.circuit, Difference::kPartMissing);
  EXPECT_EQ(fewer.first_part, "C1");
  EXPECT_EQ(extra.circuit, Difference::kPartExtra);
  EXPECT_EQ(extra.second_part, "C1");
  EXPECT_EQ(extra.likeness, Likeness::kSameBehaviour);
}

TEST(Compare, AndIsNotOrAndTheFirstDifferingSettingIsGiven) {
  const CompareResult r = compare(learner("two-hands.slip"), learner("two-doors.slip"));  // side by side, and in line
  EXPECT_EQ(r.likeness, Likeness::kDifferent);
  EXPECT_EQ(r.behaviour, Difference::kOtherState);
  EXPECT_EQ(r.setting, (std::vector<std::string>{"S1 0", "S2 1"}));
}

TEST(Compare, LedTheOtherWayRoundIsJoinedOtherwise) {
  BoardBuilder turned;
  turned.add("usb-supply", "PS1", {"top+1", "top-1"})
      .add("jumper-wire", "W1", {"top+4", "a4"})
      .add("resistor", "R1", {"b4", "b9"});
  turned.add("led", "LED1", {"c10", "c9"}).add("jumper-wire", "W2", {"a10", "top-10"});
  const CompareResult r = compare(loop("resistor", 330).board, turned.board);
  EXPECT_EQ(r.circuit, Difference::kOtherJoints);
  EXPECT_EQ(r.behaviour, Difference::kOtherState);
}

// Rings of equal parts: refinement alone cannot tell one ring of six from two of three, and must not take them for the same.
BoardBuilder rings(std::initializer_list<int> next) {
  BoardBuilder b(LayoutKind::k830);
  int k = 0;
  for (const int to : next) {
    // Resistor k from column 8k+1 to 8k+5; a wire leads on to the column where resistor `to` begins.
    const auto at = [](char row, int column) { return row + std::to_string(column); };
    b.add("resistor", "R" + std::to_string(k), {at('b', 8 * k + 1), at('b', 8 * k + 5)});
    b.add("jumper-wire", "W" + std::to_string(k), {at('d', 8 * k + 5), at('e', 8 * to + 1)});
    ++k;
  }
  return b;
}

TEST(Compare, OneRingOfSixIsNotTwoRingsOfThree) {
  const Board six = rings({1, 2, 3, 4, 5, 0}).board, threes = rings({1, 2, 0, 4, 5, 3}).board,
              other_six = rings({2, 0, 4, 1, 5, 3}).board;
  EXPECT_NE(compare(six, threes).likeness, Likeness::kSameCircuit);
  EXPECT_EQ(compare(six, other_six).likeness, Likeness::kSameCircuit);
  EXPECT_EQ(compare(threes, threes).likeness, Likeness::kSameCircuit);
}

TEST(Compare, EmptyBoardsAreTheSame) { EXPECT_EQ(compare(Board{}, Board{}).likeness, Likeness::kSameCircuit); }

}  // namespace
}  // namespace tiepoint
