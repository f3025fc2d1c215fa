// Which hand-ins stand alike. Within this folder only.
#pragma once

#include "shell/marks/marks.h"

namespace tiepoint {

Print print_of(const Board& board);

}  // namespace tiepoint
