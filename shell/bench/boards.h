// Several breadboards on the mat: one joined beside the others, and the last one taken away again.
#pragma once

#include "engine/board/edit.h"

namespace tiepoint {

// The edit that joins one more breadboard to those that lie there: at the right while the row stays short enough to read, else
// below. What lies on the mat in its way moves aside. Errors: kTooMany.
Result<Edit> add_breadboard(const Board& board, LayoutKind layout, bool split_rails);
// Takes the last one away; the engine refuses while leads sit in it. Errors: kBadValue when it is the only one.
Result<Edit> drop_breadboard(const Board& board);

}  // namespace tiepoint
