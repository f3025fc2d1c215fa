// Signs: what the notebook points at on the bench. A flag at each hole where a fault lies, the way of a current through one
// part, and where the parts would stand once a repair is made. A view: nothing here is part of the board.
#pragma once

#include <optional>
#include <vector>

#include "engine/board/board.h"

namespace tiepoint {

class Desk;

struct WayPiece {  // one part on the way, in the order the current takes
  PartId part;
  Hole in, out;
};

struct Signs {
  std::vector<Hole> flags;
  std::vector<PartId> flagged;  // whole parts
  std::vector<WayPiece> way;
  int whole = 0;                // so many pieces from the first the current can take; behind them the way breaks
  std::optional<Board> mended;  // the board as the repair leaves it
};

// In the order of drawing: the way lies under the parts, ghosts of what would be moved stand among them, flags over all.
void draw_way(Desk& desk);
void draw_mended(Desk& desk);
void draw_way_numbers(Desk& desk);
void draw_flags(Desk& desk);
// Parts of another board where they do not stand on this one, as outlines with their holes ringed.
void draw_ghosts(Desk& desk, const Board& other);

}  // namespace tiepoint
