// The loupe: under a finger nothing can be seen, so what lies there is shown larger beside it, with the names of the holes.
#pragma once

#include "shell/bench/desk.h"

namespace tiepoint {

// Where it lies for a finger at `at`: above it, or beside where there is no room above; always within `room`. [CSS px]
Box loupe_box(ImVec2 at, const Box& room);
// What lies about `tip`, the place the finger means; `hole` is the one it would take (invalid: none), `refused` that it may
// not.
void draw_loupe(Desk& desk, ImVec2 tip, Hole hole, bool refused);

}  // namespace tiepoint
