// Is a solution right? Judged from its numbers alone, by Kirchhoff's laws, and not by what the solver says of itself.
#pragma once

#include <string>

#include "engine/circuit/circuit.h"
#include "engine/solver/solution.h"

namespace tiepoint::random_boards {

struct Verdict {
  bool solved = false;
  std::string wrong;        // what contradicts a law; "" for nothing
  double worst_current = 0;  // [A] largest sum of currents into a node
  double worst_share = 0;    // of the largest current there
};

Verdict judge(const Circuit& circuit, const Solution& solution);

}  // namespace tiepoint::random_boards
