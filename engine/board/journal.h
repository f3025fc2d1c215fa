// Journal: a Board and every Edit that made it. Undo and redo without limit; momentary edits (a press) are no steps.
// A part that undo or redo brings back comes back with no hand on it: its momentary values are at rest.
#pragma once

#include <string>
#include <vector>

#include "engine/board/edit.h"

namespace tiepoint {

class Journal {
 public:
  Journal() = default;
  explicit Journal(Board board) : board_(std::move(board)) {}

  const Board& board() const { return board_; }
  Result<Applied> apply(const Edit& edit);
  Result<Applied> undo();  // kNothingToUndo
  Result<Applied> redo();  // kNothingToRedo
  bool can_undo() const { return !done_.empty(); }
  bool can_redo() const { return !undone_.empty(); }
  // The step that undo or redo would take, null when there is none; for naming it in words.
  const Edit* next_undo() const;
  const Edit* next_redo() const;
  // Steps taken and not undone, oldest first, as they were given.
  std::vector<Edit> history() const;

 private:
  struct Step { Edit forward; Edit back; };  // as it was given; what takes the board to the other side of it
  Board board_;
  std::vector<Step> done_;
  std::vector<Step> undone_;
  uint32_t next_id_ = 1;
};

}  // namespace tiepoint
