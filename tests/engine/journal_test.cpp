#include "engine/board/journal.h"

#include <gtest/gtest.h>

#include "tests/engine/small_kinds.h"

namespace tiepoint {
namespace {

Edit wire(const Board& board, const std::vector<std::string>& holes) {
  return {PlacePart{small::part(board, small::kWire, "", holes)}};
}

// As the board stands once every hand is off it.
Board let_go(Board board) {
  for (Part& part : board.parts)
    if (part.kind == &small::kButton) part.values[0] = 0;
  return board;
}

TEST(Journal, EmptyHasNothingToUndoOrRedo) {
  Journal journal;
  EXPECT_EQ(journal.undo().error().code, Code::kNothingToUndo);
  EXPECT_EQ(journal.redo().error().code, Code::kNothingToRedo);
  EXPECT_FALSE(journal.can_undo());
  EXPECT_FALSE(journal.can_redo());
  EXPECT_EQ(journal.next_undo(), nullptr);
  EXPECT_EQ(journal.next_redo(), nullptr);
}

TEST(Journal, UndoAndRedoWalkTheSteps) {
  Journal journal;
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  ASSERT_TRUE(journal.apply({RenamePart{"W1", "long"}}));
  ASSERT_NE(journal.next_undo(), nullptr);
  EXPECT_TRUE(std::holds_alternative<RenamePart>(journal.next_undo()->act));
  ASSERT_TRUE(journal.undo());
  EXPECT_NE(journal.board().find("W1"), nullptr);
  EXPECT_TRUE(std::holds_alternative<RenamePart>(journal.next_redo()->act));
  EXPECT_EQ(std::get<RenamePart>(journal.next_redo()->act).name, "long") << "as it was given, not its inverse";
  EXPECT_EQ(journal.history().size(), 1u);
  ASSERT_TRUE(journal.undo());
  EXPECT_EQ(journal.board(), Board());
  ASSERT_TRUE(journal.redo());
  ASSERT_TRUE(journal.redo());
  EXPECT_NE(journal.board().find("long"), nullptr);
  EXPECT_FALSE(journal.can_redo());
}

TEST(Journal, NewStepForgetsWhatWasUndone) {
  Journal journal;
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  ASSERT_TRUE(journal.undo());
  ASSERT_TRUE(journal.apply({SetTitle{"Lamp room"}}));
  EXPECT_FALSE(journal.can_redo());
}

TEST(Journal, FailedEditIsNoStepAndKeepsWhatWasUndone) {
  Journal journal;
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  ASSERT_TRUE(journal.undo());
  EXPECT_FALSE(journal.apply({RemovePart{"W9"}}));
  EXPECT_FALSE(journal.can_undo());
  EXPECT_TRUE(journal.can_redo());
}

TEST(Journal, PressIsNoStep) {
  Journal journal;
  ASSERT_TRUE(journal.apply({PlacePart{small::part(journal.board(), small::kButton, "S1", {"e5"})}}));
  ASSERT_TRUE(journal.apply({PressPart{"S1"}}));
  EXPECT_EQ(value_of(journal.board().parts[0], "pressed"), 1);
  EXPECT_EQ(journal.history().size(), 1u);
  ASSERT_TRUE(journal.undo());
  EXPECT_EQ(journal.board(), Board());
  ASSERT_TRUE(journal.redo());
  EXPECT_EQ(value_of(journal.board().parts[0], "pressed"), 0) << "no hand is on a part that comes back";
}

TEST(Journal, PressWhileSomethingIsUndoneKeepsRedo) {
  Journal journal;
  ASSERT_TRUE(journal.apply({PlacePart{small::part(journal.board(), small::kButton, "S1", {"e5"})}}));
  ASSERT_TRUE(journal.apply({SetTitle{"Bell"}}));
  ASSERT_TRUE(journal.undo());
  ASSERT_TRUE(journal.apply({PressPart{"S1"}}));
  ASSERT_TRUE(journal.redo());
  EXPECT_EQ(journal.board().title, "Bell");
}

TEST(Journal, IdsComeBackAndAreNeverGivenTwice) {
  Journal journal;
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  const PartId first = journal.board().parts[0].id;
  ASSERT_TRUE(journal.apply({RemovePart{"W1"}}));
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  EXPECT_NE(journal.board().parts[0].id, first);
  ASSERT_TRUE(journal.undo());
  ASSERT_TRUE(journal.undo());
  EXPECT_EQ(journal.board().parts[0].id, first);
}

TEST(Journal, StartsFromABoard) {
  Board board;
  ASSERT_TRUE(small::place(board, small::kWire, "W1", {"a1", "a5"}));
  Journal journal(board);
  EXPECT_EQ(journal.board(), board);
  EXPECT_FALSE(journal.can_undo());
  ASSERT_TRUE(journal.apply(wire(board, {"b1", "b5"})));
  EXPECT_NE(journal.board().parts[1].id, board.parts[0].id);
}

TEST(Journal, StepOfAPlacedPartKnowsTheNameItGot) {
  Journal journal;
  ASSERT_TRUE(journal.apply(wire(journal.board(), {"a1", "a5"})));
  ASSERT_TRUE(std::holds_alternative<PlacePart>(journal.next_undo()->act));
  EXPECT_EQ(std::get<PlacePart>(journal.next_undo()->act).part.name, "W1");
}

TEST(Journal, BatchIsOneStep) {
  Journal journal;
  ASSERT_TRUE(journal.apply({Batch{{wire(journal.board(), {"a1", "a5"}), wire(journal.board(), {"b1", "b5"})}}}));
  EXPECT_EQ(journal.board().parts.size(), 2u);
  EXPECT_NE(journal.board().parts[0].id, journal.board().parts[1].id);
  ASSERT_TRUE(journal.undo());
  EXPECT_TRUE(journal.board().parts.empty());
}

// Law: undo all the way is the empty board, redo all the way is where we were, and history rebuilds it.
TEST(JournalLaws, UndoAndRedoAreExactOnRandomBoards) {
  size_t steps = 0;
  for (uint32_t seed = 1; seed <= 40; ++seed) {
    small::RandomEdits random(seed);
    Journal journal;
    std::vector<Board> trail{let_go(journal.board())};
    for (int step = 0; step < 60; ++step) {
      const Result<Applied> applied = journal.apply(random.next(journal.board()));
      if (applied && !applied->momentary) trail.push_back(let_go(journal.board()));
    }
    ASSERT_EQ(journal.history().size(), trail.size() - 1);
    steps += trail.size();

    Board rebuilt;
    for (const Edit& edit : journal.history()) ASSERT_TRUE(apply(rebuilt, edit));
    EXPECT_EQ(let_go(rebuilt), trail.back());

    for (int round = 0; round < 2; ++round) {
      for (size_t i = trail.size() - 1; i-- > 0;) {
        ASSERT_TRUE(journal.undo());
        ASSERT_EQ(let_go(journal.board()), trail[i]);
      }
      EXPECT_FALSE(journal.can_undo());
      EXPECT_EQ(journal.board(), Board());
      for (size_t i = 1; i < trail.size(); ++i) {
        ASSERT_TRUE(journal.redo());
        ASSERT_EQ(let_go(journal.board()), trail[i]);
      }
      EXPECT_FALSE(journal.can_redo());
    }
  }
  EXPECT_GT(steps, 500u);
}

}  // namespace
}  // namespace tiepoint
