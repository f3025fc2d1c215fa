// Defects and spread: what the circuit is made of when a part is not what it seems.
#include "engine/parts/specimen.h"

#include <gtest/gtest.h>

#include <cmath>

#include "engine/file/json.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

// 5 V, 330 ohm, LED, and a button that is held.
Board held_button() {
  Board board = one_button().board;
  for (Part& part : board.parts)
    if (part.kind->key == "push-button") part.values[0] = 1;
  return board;
}
int index_of_kind(const Board& board, std::string_view kind) {
  for (size_t p = 0; p < board.parts.size(); ++p)
    if (board.parts[p].kind->key == kind) return int(p);
  return -1;
}
double led_current(const Board& board) {
  Session session(board);
  session.settle();
  return session.readings().parts[size_t(index_of_kind(board, "led"))].current;
}
Board with(Board board, std::string_view kind, Defect defect) {
  defect.hidden = true;
  const std::string name = board.parts[size_t(index_of_kind(board, kind))].name;
  EXPECT_TRUE(apply(board, Edit{SetDefect{name, defect}}).ok());
  return board;
}

TEST(Specimen, OpenLeadStopsTheCurrentWhereverItIs) {
  const Board good = held_button();
  ASSERT_GT(led_current(good), 5e-3);
  for (const std::string_view kind : {"jumper-wire", "resistor", "led", "push-button"})
    EXPECT_LT(led_current(with(good, kind, {.kind = Defect::Kind::kOpen})), 1e-7) << kind;
}

// Ohm's law beside the good board: 1 kiloohm of contact in series.
TEST(Specimen, WornClipAddsItsResistance) {
  const Board good = held_button();
  const Board worn = with(good, "resistor", {.kind = Defect::Kind::kWorn, .amount = 1000});
  Session session(worn);
  session.settle();
  const PartReading& r = session.readings().parts[size_t(index_of_kind(worn, "resistor"))];
  const double printed = value_of(worn.parts[size_t(index_of_kind(worn, "resistor"))], "resistance");
  EXPECT_NEAR(r.voltage / r.current, printed + 1000, 0.1);
}

TEST(Specimen, ResistorOfAnotherValueThanItsBands) {
  const Board off = with(held_button(), "resistor", {.kind = Defect::Kind::kOffValue, .amount = 10});
  Session session(off);
  session.settle();
  const int p = index_of_kind(off, "resistor");
  const PartReading& r = session.readings().parts[size_t(p)];
  EXPECT_NEAR(r.voltage / r.current, 10 * value_of(off.parts[size_t(p)], "resistance"), 0.1);
}

TEST(Specimen, StuckButtonIgnoresTheHand) {
  const Board stuck = with(held_button(), "push-button", {.kind = Defect::Kind::kStuck, .amount = 0});
  EXPECT_LT(led_current(stuck), 1e-6);
}

TEST(Specimen, SpreadStaysWithinTheLastBandsToleranceAndFollowsTheSeed) {
  Board board = held_button();
  const int p = index_of_kind(board, "resistor");
  const double printed = value_of(board.parts[size_t(p)], "resistance");
  board.realism.spread = true;
  double low = 1e9, high = 0;
  for (uint32_t seed = 1; seed <= 200; ++seed) {
    board.realism.seed = seed;
    ElementList list;
    real_elements(board, board.parts[size_t(p)], list);
    const double ohms = list.values(list.entries[0])[0];
    EXPECT_NEAR(ohms, printed, 0.05 * printed + 0.1) << seed;  // 5 % is what a standard resistor's last band says
    ElementList again;
    real_elements(board, board.parts[size_t(p)], again);
    EXPECT_EQ(ohms, again.values(again.entries[0])[0]);
    low = std::min(low, ohms), high = std::max(high, ohms);
  }
  EXPECT_LT(low, 0.97 * printed);
  EXPECT_GT(high, 1.03 * printed);
}

// TI SLOS068E: an LM358's offset is at most 7 mV. Each amplifier of each specimen has its own.
TEST(Specimen, SpreadOfAnAmplifiersOffsetStaysWithinTheSheet) {
  Board board;
  Part chip = make_part(*catalogue().find("lm358"));
  chip.name = "U1";
  board.realism.spread = true;
  double largest = 0;
  for (uint32_t seed = 1; seed <= 200; ++seed) {
    board.realism.seed = seed;
    ElementList list;
    real_elements(board, chip, list);
    ASSERT_EQ(list.entries[1].kind, ElementKind::kOpAmp);
    const double one = list.values(list.entries[0])[3], other = list.values(list.entries[1])[3];
    EXPECT_NE(one, other);
    for (const double offset : {one, other}) {
      EXPECT_LE(std::fabs(offset), 7e-3);
      largest = std::max(largest, std::fabs(offset));
    }
  }
  EXPECT_GT(largest, 6.5e-3);
}

// LM393, TI, from memory: a comparator's offset is at most 5 mV. Each of each specimen has its own.
TEST(Specimen, SpreadOfAComparatorsOffsetStaysWithinTheSheet) {
  Board board;
  Part chip = make_part(*catalogue().find("lm393"));
  chip.name = "U1";
  board.realism.spread = true;
  double largest = 0;
  for (uint32_t seed = 1; seed <= 200; ++seed) {
    board.realism.seed = seed;
    ElementList list;
    real_elements(board, chip, list);
    ASSERT_EQ(list.entries[1].kind, ElementKind::kComparator);
    const double one = list.values(list.entries[0])[0], other = list.values(list.entries[1])[0];
    EXPECT_NE(one, other);
    for (const double offset : {one, other}) {
      EXPECT_LE(std::fabs(offset), 5e-3);
      largest = std::max(largest, std::fabs(offset));
    }
  }
  EXPECT_GT(largest, 4.5e-3);
}

TEST(Specimen, FileKeepsDefectsRealismAndLogAndDoesNotShowWhatIsHidden) {
  Board board = with(held_button(), "led", {.kind = Defect::Kind::kOpen});
  ASSERT_TRUE(
      apply(board, Edit{SetDefect{"R1", {.kind = Defect::Kind::kOpen, .bore = 2.1, .rating = 0.25, .seconds = 3, .unit = 'W'}}})
          .ok());
  ASSERT_TRUE(apply(board, Edit{SetRealism{{.spared = true, .spread = true, .seed = 77}}}).ok());
  ASSERT_TRUE(apply(board, Edit{SetHunt{{{HuntEntry::Kind::kGuess, "the LED"}, {HuntEntry::Kind::kMeasurement, "5 V"}}}}).ok());
  const std::string text = write_board(board);
  EXPECT_NE(text.find("sealed"), text.npos);
  const size_t led = text.find("\"LED1\"");
  EXPECT_EQ(text.substr(led, text.find('\n', led) - led).find("open"), std::string::npos);
  const Result<Board> back = read_board(text, catalogue());
  ASSERT_TRUE(back.ok()) << tiepoint::text(back.error());
  EXPECT_EQ(*back, board);
}

TEST(Specimen, EditsOfSpecimensComeBackFromJson) {
  Board board = with(held_button(), "led", {.kind = Defect::Kind::kOpen});
  const Edit edits[] = {Edit{ReplacePart{"LED1"}},
                        Edit{SetDefect{"R1", {.kind = Defect::Kind::kOffValue, .amount = 10, .hidden = true}}},
                        Edit{SetRealism{{.spread = true, .seed = 5}}}, Edit{SetHunt{{{HuntEntry::Kind::kRepair, "new LED"}}}}};
  for (const Edit& edit : edits) {
    const std::string text = write_edit(edit, board);
    const Result<Edit> back = read_edit(text, board, catalogue());
    ASSERT_TRUE(back.ok()) << text;
    Board a = board, b = board;
    const Result<Applied> one = apply(a, edit), other = apply(b, *back);
    ASSERT_TRUE(one.ok() && other.ok());
    EXPECT_EQ(a, b) << text;
    ASSERT_TRUE(apply(a, one->inverse).ok());
    EXPECT_EQ(a, board) << text;
  }
}

TEST(Specimen, DefectThatCannotBeIsRefusedWithItsPart) {
  Board board = held_button();
  for (const Defect defect :
       {Defect{.kind = Defect::Kind::kOffValue, .amount = 10}, Defect{.kind = Defect::Kind::kRunDown, .amount = 0.1},
        Defect{.kind = Defect::Kind::kOpen, .lead = 7}, Defect{.kind = Defect::Kind::kShorted, .lead = 0, .other = 0}}) {
    const Result<Applied> applied = apply(board, Edit{SetDefect{"LED1", defect}});
    ASSERT_FALSE(applied.ok()) << key(defect.kind);
    EXPECT_EQ(applied.error().part, "LED1");
  }
}

}  // namespace
}  // namespace tiepoint
