// Motion: one island through time. TR-BDF2 with embedded error control, consistent restarts, events, and rest.
//
// One step from t to t + h in two implicit stages with the same matrix (Bank et al., IEEE Trans. Electron Devices 32, 1985;
// Hosea & Shampine, Appl. Numer. Math. 20, 1996; both from memory). With k = dq/dt, gamma = 2 - sqrt 2, d = gamma/2, w = sqrt 2
// / 4:
//
//   q2 = q1 + h d (k1 + k2)                 trapezoidal rule to t + gamma h
//   q3 = q1 + h (w (k1 + k2) + d k3)        backward differences to t + h
//   error in q:  h * sum (bhat_i - b_i) k_i,  b = (w, w, d),  bhat = ((1 - w)/3, (3 w + 1)/3, d/3), the embedded third-order
//   weights
//
// The error in x follows by the step's own matrix, (dq/dx + h d df/dx) e = error in q, which counts the voltages that store
// nothing too and damps what is stiff. k3 becomes the next step's k1. Charges at the terminals of an element obey the same
// relations, so k3 = (q3 - q1 - (w/d)(q2 - q1)) / (h d) gives its currents.
#pragma once

#include <span>
#include <vector>

#include "engine/solver/island.h"
#include "engine/solver/newton.h"
#include "engine/solver/plan.h"
#include "engine/solver/solution.h"

namespace tiepoint {

// Voltages of held nodes at an instant.
class HeldVoltages {
 public:
  HeldVoltages(const SolverPlan& plan, const Parameters& parameters)
      : plan_(plan), parameters_(parameters), value_(plan.held.size()) {}
  // Brings the entries an island needs to `time`, on the piece of the waveforms that begins at `since`.
  std::span<const double> at(const Island& island, double time, double since);
  double of(int held) const { return value_[held]; }

 private:
  const SolverPlan& plan_;
  const Parameters& parameters_;
  std::vector<double> value_;
};

class Motion {
 public:
  Motion(Island& island, HeldVoltages& held, const SolverOptions& options);

  // Settled state at `time`: d/dt = 0. Knots carry the charge they were given initially. Modes change until they fit.
  NewtonResult settle(double time);
  // From these charges [size] at `time`: the rest of the state is made to agree with them. Where that is impossible (an ideal
  // source straight across a capacitor) charge moves at once.
  NewtonResult restart(double time, const std::vector<double>& charges);
  NewtonResult restart(double time) { return restart(time, std::vector<double>(charge_)); }

  // Steps to `target`, taking from `budget`, one for each attempted step. Returns false when stuck; time() tells how far it
  // came.
  bool advance(double target, long* budget);

  double time() const { return time_; }
  // First guess of x [total] for the next restart.
  void guess(const std::vector<double>& x) { x_ = x; }
  bool at_rest() const;                                           // nothing changes any more
  const std::vector<double>& x() const { return x_; }             // [total] at time()
  const std::vector<double>& charges() const { return charge_; }  // [size]
  double last_step() const { return last_step_; }
  long steps() const { return steps_; }
  long rejected() const { return rejected_; }
  int stuck_row() const { return stuck_row_; }

  // What a member has delivered in all the time gone by since it was counted first.
  struct Delivered {
    double charge = 0;  // [C] out of its first terminal
    double energy = 0;  // [J]
  };
  void count_none() { counts_.clear(); }
  void count(int member) { counts_.push_back({member, {}}); }
  const Delivered* delivered(int member) const;  // null when it is not counted

  // Sets the island to time(), after which the following may be asked.
  void show() { prepare(time_); }
  // Terminal currents of a member at time() [terminals], and the rate of x [V/s].
  void currents(const Member& member, double* current) const;
  double rate(int row) const;

 private:
  enum class RateFrom { kStill, kDirection, kStep };  // how dq/dt at time() is known
  enum class Outcome { kGood, kTooCoarse, kNoConvergence };

  bool step_to(double end, long* budget);
  bool pass_corner();
  bool solve_at(double time);
  int unbalanced_knot() const;
  Outcome attempt(double h);
  void accept(double h);
  bool crosses_event() const;
  Outcome locate_event(double* h, long* budget);
  bool change_modes();
  bool end_modes(double until);
  void try_rest();
  bool tip_over(double rate);
  void watch_leaving(double h);
  bool jump();
  void note_scales();
  double tolerance(int row) const;
  double voltage_tolerance(double span) const;
  double first_step() const;
  void prepare(double time) { island_.prepare(time, held_.at(island_, time, island_.since)); }
  void take_state(double time, RateFrom from);
  Delivered flow(const Member& member, const std::vector<double>& x) const;  // per second
  void count_step(double h);
  void count_steady(double seconds);
  NewtonResult restart_with(double time, const std::vector<double>& charges, double h0);

  Island& island_;
  HeldVoltages& held_;
  const SolverOptions& options_;
  double time_ = 0, corner_ = 0;
  bool still_ = false;    // nothing changes before the next corner
  double balanced_ = 0;   // [1/s] settled where it cannot stay, and would leave at this rate; to be tipped over before it moves
  double leaving_ = 0;    // [1/s] tipped over and not yet well away from the balance
  double left_by_ = 0;    // [V] distance from the balance
  double calm_step_ = 0;  // [s] length of the steps between jumps
  RateFrom rate_from_ = RateFrom::kStill;
  double wish_ = 0;   // [s] step that the error control would like
  double error_ = 0;  // of the last attempt, 1 is just accepted
  double last_step_ = 0;
  long steps_ = 0, rejected_ = 0;
  int stuck_row_ = -1;
  int rest_wait_ = 0, rest_interval_ = 1;
  double largest_voltage_ = 0;

  struct Count {
    int member;
    Delivered sum;
  };
  std::vector<Count> counts_;
  std::vector<double> x_, charge_, k1_;                                          // present point
  std::vector<double> x_mid_, x_new_, k2_, k3_, charge_mid_, charge_new_, sum_;  // of the attempted step
  std::vector<double> x_before_, x_before_mid_;  // points of the last accepted step, or x_before_ = direction
  std::vector<double> scale_, balance_;
  std::vector<double> capacitor_scale_;  // of island_.capacitances()
};

}  // namespace tiepoint
