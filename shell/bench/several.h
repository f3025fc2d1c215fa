// Several parts as one: moved by whole hole steps, taken off, turned, copied as text and put down again where there is room.
// Functions of a board that give Edits; nothing here changes anything.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "engine/board/edit.h"

namespace tiepoint {

using Names = std::span<const std::string>;

// One edit for all: the edit itself when there is only one.
Edit as_one(std::vector<Edit> edits);

// All of them moved by (dx, dy) hole steps. A lead in a rail keeps to its rail and takes the nearest free hole there, as long as others
// of the leads stand in terminal strips; supplies and meters take their plugs along unless they move alone.
// Errors: kUnknownPart, kOffBoard, and those of check_seat.
Result<Edit> shift_parts(const Board& board, Names names, int dx, int dy);
// By one hole, over the centre gap or the gaps of a rail where they come next. (dx, dy) is a unit step.
Result<Edit> nudge_parts(const Board& board, Names names, int dx, int dy);
Edit remove_parts(Names names);
// Each about itself by quarter turns; a two-lead part that has no room for that turns end for end. Errors: kUnknownPart, kCannotTurn and
// those of check_seat.
Result<Edit> turn_parts(const Board& board, Names names, int quarters);

// A board file of these parts alone, no button held.
std::string copy_parts(const Board& board, Names names);
// The parts of a board file put down at the nearest free place, moved by whole columns and rows, under fresh names where theirs are taken.
// Parts whose names and holes are free go back to where they were. Others keep out of the columns, or at least the terminal strips, of
// what stands there already as long as there is such a place; supplies and meters come unplugged unless their very holes are free.
// An empty batch: there is no room. Errors: those of read_board.
Result<Edit> paste_parts(const Board& board, std::string_view text, const Catalogue& catalogue);

}  // namespace tiepoint
