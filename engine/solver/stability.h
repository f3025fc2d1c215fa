// Does a small disturbance of a settled state grow?
#pragma once

#include "engine/solver/island.h"

namespace tiepoint {

// How fast [1/s], about, for the settled state in island.x; 0: it does not. Islands too large for dense matrices count as
// stable. Leaves x alone.
double growth_rate(Island& island);

}  // namespace tiepoint
