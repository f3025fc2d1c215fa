// A board moved along by whole columns, so that learners side by side do not have the same holes.
#pragma once

#include "engine/board/board.h"
#include "engine/error.h"

namespace tiepoint {

// Leads in columns move by `columns` to the right (below zero: left); rails and what lies on the mat stay, so that wires to a
// rail grow or shrink. Errors: a lead leaves the board, or a part no longer fits (check_seat), with part and lead.
Result<Board> shifted(const Board& board, int columns);

}  // namespace tiepoint
