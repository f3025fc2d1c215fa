// Newton's method on an island, and what to try when it fails.
#pragma once

#include <string_view>

#include "engine/solver/island.h"
#include "engine/solver/solution.h"

namespace tiepoint {

// The equation to solve, row by row:  f + a * (q - charge_before) - rate_before + pull * (x - anchor) = 0.
struct StageEquation {
  bool settled = false;                   // knots are tied by their charge
  double a = 0;                           // [1/s]
  const double* charge_before = nullptr;  // [size]; null: 0
  const double* rate_before = nullptr;    // [size]; null: 0
  double pull = 0;                        // [S] on node rows, only on the way to a solution
  const double* anchor = nullptr;         // [size] [V]; null: 0
  // [size] a stage of a step need not be solved better than the step is: an update within this many volts (amperes) ends the
  // iteration, and f and q follow the tangents there. Null: all is solved as exactly as can be.
  const double* enough = nullptr;
};

struct NewtonResult {
  bool ok = false;
  int iterations = 0;
  int worst = -1;  // row with the largest residual beside what is accepted, when not ok
  std::string_view method = "newton";
};

// Starts from island.x and leaves the solution there, with f and q of it. Accepted when the residual AND the last update are
// small.
NewtonResult newton(Island& island, const StageEquation& equation, const SolverOptions& options, int max_iterations);

// The same, and if that fails: from zero, by conductance stepping, by source stepping, by pseudo-transient. Whatever is added
// on the way is gone at the end. `held`: voltages of the plan's held nodes at island.time.
NewtonResult solve_stubbornly(Island& island, const StageEquation& equation, const SolverOptions& options,
                              std::span<const double> held);

// From island.x to the state it would fall into if every node had a little capacitance: the way a regenerative circuit goes
// when the state it was in has ceased to exist.
NewtonResult solve_by_falling(Island& island, const StageEquation& equation, const SolverOptions& options);

}  // namespace tiepoint
