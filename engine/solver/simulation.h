// Simulation: state in time. Owns the unknowns of each island; finds operating points and steps them.
#pragma once

#include <memory>
#include <span>

#include "engine/circuit/circuit.h"
#include "engine/solver/solution.h"
#include "engine/solver/watch.h"

namespace tiepoint {

// The settled state: sources at their value at time 0, capacitors passed by no current, coils as wire. Nodes that only charge
// ties down take the voltages they would have if everything had been empty before the supplies came on.
Solution solve_operating_point(const Circuit& circuit, const SolverOptions& options = {});

// Bound on the work of one advance.
struct StepBudget {
  long max_steps = 100000;
};

class Simulation {
 public:
  explicit Simulation(Circuit circuit, SolverOptions options = {});
  ~Simulation();
  Simulation(Simulation&&) noexcept;
  Simulation& operator=(Simulation&&) noexcept;

  const Circuit& circuit() const;
  double time() const;  // [s]

  // Sets the state to the operating point at the present time.
  void settle();
  // Sets the state to the given initial conditions (capacitor voltages, coil currents; those not given are 0) at time 0.
  void start_from_initial_conditions();
  // New parameter values, same structure (refresh_values). Charges and fluxes are kept; the next step restarts consistently.
  void set_parameters(std::span<const double> parameters);
  // Carries charge over from an older circuit of the same board: state of the elements whose (element_name) match.
  void adopt_state(const Simulation& older);

  // Advances to `time` [s]. Returns the time reached: less when the budget ran out or an error occurred. Islands at rest are
  // not stepped. Interval ends are reached exactly; what goes on within one is told to `watch`.
  double advance(double time, StepBudget budget = {});
  // The same, with what is left of the budget counted down.
  double advance(double time, long* steps);
  // Voltages to be told at every step of an advance, and once where it ends; none: nothing is told any more. Set anew after
  // set_parameters and adopt_state.
  void watch(std::vector<WatchedPair> pairs, WatchReport report);
  // From now on they are told at (k + 1/2) * every [s] too, where a step is longer than that; `unstepped` [s]: the same for
  // circuits that store nothing and have to be solved for each look; where it is no more than `every`, a sine in them is looked at forty
  // times a period besides, as far as that is some hundred times an advance. 0: at the steps only. `only`: what is between these
  // instants is of no account, and a linear circuit may be carried from one to the next.
  void sample(double every, double unstepped, bool only = false);
  // Whether error-controlled steps see all that goes on at a watched pair; else only what is told is known.
  bool is_stepped(int pair) const;
  // Counts what these elements deliver from now on (a battery is used up), until the next parameter change. Forgets those
  // counted before.
  void count(std::span<const int> elements);
  // [C] out of the element's first terminal and [J], since then; nothing for others.
  struct Delivered {
    double charge = 0, energy = 0;
  };
  Delivered delivered(int element) const;
  // True when nothing will change until the next parameter change (all islands settled, no timed source).
  bool at_rest() const;
  // [V] one node's voltage now, without the work of a whole solution; NaN when there is an error.
  double voltage(NodeIndex node) const;
  // The present numbers, with terminal currents from the device equations.
  const Solution& solution() const;

 private:
  friend Solution solve_operating_point(const Circuit& circuit, const SolverOptions& options);
  struct State;
  explicit Simulation(std::unique_ptr<State> state);
  std::unique_ptr<State> state_;
};

}  // namespace tiepoint
