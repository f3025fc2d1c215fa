// Turns the islands' states into a Solution, and proves it: currents come from the device equations, not from the matrix.
#pragma once

#include <optional>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/error.h"
#include "engine/solver/island.h"
#include "engine/solver/motion.h"
#include "engine/solver/solution.h"

namespace tiepoint {

Solution gather(const Circuit& circuit, const SolverPlan& plan, const Parameters& parameters,
                const std::vector<Island>& islands, std::vector<Motion>& motions, double time,
                const std::optional<Error>& error);

// Errors that name the element with most to do with a row of an island, and its node.
Error no_solution(const Circuit& circuit, const Island& island, int row);
Error stuck(const Circuit& circuit, const Island& island, int row, double time);

}  // namespace tiepoint
