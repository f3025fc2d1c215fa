// Condition: what is wrong with the parts themselves, beside how they are put together: dead, run down, hot, not what they
// seem.
//
// A hidden defect is never read from the board. It is told only as far as eyes and the meter on the bench tell it: that a load
// behaves otherwise than it would with good parts; and which part is to blame once the probes lie across it and what they show
// cannot be.
#pragma once

#include <optional>
#include <vector>

#include "engine/explain/findings.h"

namespace tiepoint {

// The board with all parts good and all batteries full, to see how it is put together.
Board with_good_parts(const Board& board);
// Is that another board, or do the readings tell of a worn part?
bool needs_good_parts(const Observed& bench);

// A reed's contact stays as it was while the magnet is between the distances where it closes and opens; the readings tell which, the board
// does not. The board with the magnets of those that are closed put where they surely close; none when there is no such reed.
std::optional<Board> with_closed_reeds(const Board& board, const Readings& readings);
std::vector<PartId> closed_reeds(const Board& board, const Readings& readings);  // those

// Adds to the findings about the board of good parts what there is to say about the parts themselves.
void add_conditions(const Observed& bench, const FindingOptions& options, std::vector<Finding>& list);
// Chips: no supply, an input that hangs free, nothing that steadies the supply. Notes, and at the end.
void add_chip_notes(const Observed& bench, const FindingOptions& options, std::vector<Finding>& list);

}  // namespace tiepoint
