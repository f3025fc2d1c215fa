// What the solver hands over: numbers with their proof, or an error with its place and no numbers.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "engine/error.h"

namespace tiepoint {

struct SolverStatistics {
  int islands = 0;
  int unknowns = 0;    // of all islands together
  int iterations = 0;  // Newton iterations of the last solve, summed over islands
  long steps = 0;      // accepted time steps since the start
  long rejected_steps = 0;
  double last_step = 0;                // [s]
  double residual = 0;                 // [A] largest net current into any node, from the device equations
  double power_imbalance = 0;          // [W] |sum of power into all elements| (operating point)
  std::string_view method = "newton";  // or "conductance stepping", "source stepping", "pseudo-transient"
};

// What goes on inside an element, for those who show it.
struct ElementState {
  int first_own = 0, own_count = 0;  // its own unknowns are Solution::own[first_own..]
  int mode = 0;
  double mode_since = 0;      // [s]
  double lasted[2] = {0, 0};  // [s] how long the mode before this one lasted, and the one before that; 0: not known
};

struct Solution {
  double time = 0;                       // [s]
  std::vector<double> node_voltage;      // [V] node_voltage[node], against the node's own reference; NaN: no reading
  std::vector<double> terminal_current;  // [A] terminal_current[element.first_terminal + k], positive into the element
  std::vector<double> voltage_rate;      // [V/s] per node; 0 when settled
  std::vector<ElementState> state;       // state[element]; empty when there is an error
  std::vector<double> own;               // own unknowns of all elements, in the units of their models
  SolverStatistics statistics;
  std::optional<Error> error;  // set: every number above is NaN
  bool ok() const { return !error; }
};

struct SolverOptions {
  double relative_tolerance = 1e-3;  // of a transient step, against the span of the signal
  double absolute_voltage = 1e-6;    // [V] below this a voltage counts as settled noise
  double residual_current = 1e-12;   // [A] accepted net current into a node, plus 1e-9 of the largest branch current there
  int max_iterations = 100;
  double shortest_step = 1e-15;  // [s]
  double longest_step = 0.05;    // [s]
  bool exact_stages = false;     // solves the stages of a step as well as can be, not only as well as the tolerance needs
};

}  // namespace tiepoint
