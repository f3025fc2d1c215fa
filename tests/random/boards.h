// Boards built of anything, anyhow: parts drawn from the whole catalogue, any values and switch positions, leads in any holes that take
// them or in the air, in so few columns that much is joined that should not be. The same board for a seed on every machine.
#pragma once

#include <cstdint>

#include "engine/board/board.h"

namespace tiepoint::random_boards {

Board draw(uint64_t seed);

}  // namespace tiepoint::random_boards
