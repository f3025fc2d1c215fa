// Does a small disturbance of a settled state grow?
#pragma once

#include "engine/solver/island.h"

namespace tiepoint {

// Of the settled state in island.x. Islands too large for dense matrices count as stable. Leaves x alone.
bool grows(Island& island);

}  // namespace tiepoint
