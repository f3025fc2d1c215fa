// Motion: one island through time. Implicit one-step methods with embedded error control, consistent restarts, events, and
// rest.
//
// Where nothing but the state moves, a step between two points that are looked at takes one linearisation (rosenbrock.h): its
// end is as good as the tolerance. Steps that end where somebody looks, or that such a step cannot make, have implicit stages,
// those of stages.h; the end of one is the first stage of the next. The error in x follows from
// that in q by the step's own matrix, (dq/dx + h gamma df/dx) e = error in q, which counts the voltages that store nothing too
// and damps what is stiff. The currents of what stores charge need dx/dt, which is found where it is asked for: f + (dq/dx)
// dx/dt = 0. Linear islands whose sources stand still or change in proportion to time are carried exactly (propagator.h).
#pragma once

#include <cmath>
#include <functional>
#include <span>
#include <vector>

#include "engine/solver/island.h"
#include "engine/solver/newton.h"
#include "engine/solver/plan.h"
#include "engine/solver/propagator.h"
#include "engine/solver/solution.h"
#include "engine/solver/stages.h"

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
  Row<double> value_;
};

class Motion {
 public:
  Motion(Island& island, HeldVoltages& held, const SolverOptions& options);

  // Settled state at `time`: d/dt = 0. Knots carry the charge they were given initially. Modes change until they fit.
  NewtonResult settle(double time);
  // From these charges [size] at `time`: the rest of the state is made to agree with them. Where that is impossible (an ideal
  // source straight across a capacitor) charge moves at once.
  NewtonResult restart(double time, const Row<double>& charges);
  NewtonResult restart(double time) { return restart(time, charge_); }

  // Steps to `target`, taking from `budget`, one for each attempted step. Returns false when stuck; time() tells how far it
  // came.
  bool advance(double target, long* budget);
  std::function<void()> on_step;  // told of every point it comes to while it advances; may be empty
  double sampled_every = 0;       // [s] on_step wants to see (k + 1/2) times this; 0: the points of the steps
  bool samples_only = false;      // and cares for nothing between them
  bool keeps_shape = false;       // without stores: it wants to see what a sine does between them
  // At a time within the step that has just come to its end x is a mean of what it was at four points, with these weights.
  struct Weights {
    double start, early, late, end;
  };
  Weights weights_at(double time) const;
  double between(const Weights& w, int row) const {
    if (w.end == 1) return x_[row];
    return w.start * x_before_[row] + w.early * x_early_[row] + w.late * x_late_[row] + w.end * x_[row];
  }

  // [s] where the step began of which weights_at tells; +inf: it tells of none.
  double step_start() const { return rate_from_ == RateFrom::kStep && last_step_ > 0 && !carried_ ? time_ - last_step_ : kNever; }
  // It stores nothing, and a sine in it is looked at by even steps of phase.
  bool looks_at_sine() const { return !island_.stores && !island_.has_modes && keeps_shape && island_.longest_step() < kNever; }

  double time() const { return time_; }
  // First guess of x [total] for the next restart.
  void guess(const Row<double>& x) { x_ = x; }
  bool at_rest() const;                                   // nothing changes any more
  const Row<double>& x() const { return x_; }             // [total] at time()
  const Row<double>& charges() const { return charge_; }  // [size]
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
  void show();
  // x() as it is told [total]: exact where the steps were content with near.
  const Row<double>& shown() const { return shown_; }
  // Terminal currents of a member at time() [terminals], and the rate of x [V/s].
  void currents(const Member& member, double* current) const;
  double rate(int row) const { return rate_from_ == RateFrom::kStill ? 0 : shown_rate_[row]; }

 private:
  static constexpr double kNever = std::numeric_limits<double>::infinity();
  static constexpr double kSmallCurrent = 1e-9;  // [A] absolute tolerance of unknown currents
  static constexpr double kNoisy = 1e-9;         // [s] a step so short may be all noise
  static constexpr double kNoMatter = 1e-3;      // an error so small does not keep steps short
  static constexpr double kRounding = 1e-15;     // of a charge, in the sums of a step
  static constexpr int kStepIterations = 8;      // Newton iterations of a stage before the step is shortened

  enum class RateFrom { kStill, kDirection, kStep };  // how dq/dt at time() is known
  enum class Outcome { kGood, kTooCoarse, kNoConvergence };

  void make_room();
  bool step_to(double end, long* budget);
  void told() {
    told_here_ = true;
    if (on_step) on_step();
  }
  bool pass_corner();
  bool solve_at(double time);
  int unbalanced_knot() const;
  Outcome attempt(double h, bool exactly);
  Outcome attempt_implicit(double h, bool exactly);
  void sum_rates(int stage);
  bool linear_stages(double a, int end);
  Outcome attempt_rosenbrock(double h);
  void linearise(double a);
  void points_on_the_way();
  void find_slope();
  void predict(int stage, double h);
  double estimate_error(double a);
  double worst_error(const double* e);
  void take_off_noise(double* e, double scale = 1);
  static double clearly_less(double error, double without_noise) { return without_noise < 0.1 * error ? without_noise : error; }
  double first_step_without_noise(double a);
  bool carry(double end);
  double look_apart(double span) const;
  double next_sample() const;
  double next_step(double end);
  double jump_share() const;
  // By how much an error tells the step to change: an error goes with this power of the step's length.
  double root_of(double error) const { return std::pow(error, 1 / table_->order); }
  void refine_direction(double a, int times);
  void held_rates();
  void find_direction(double a);
  bool factor_shown(double a);
  bool polish(double a);
  void accept(double h);
  bool crosses_event() const;
  Outcome locate_event(double* h, long* budget);
  bool change_modes();
  bool end_modes(double until);
  void try_rest();
  bool tip_over(double rate);
  void watch_leaving(double h);
  bool jump(double h);
  bool leap(double end);
  void note_scales();
  double tolerance(int row, double x) const;
  double voltage_tolerance(double span) const;
  double first_step() const;
  void prepare(double time) { island_.prepare(time, held_.at(island_, time, island_.since)); }
  void take_state(double time, RateFrom from);
  Delivered flow(const Member& member, const Row<double>& x) const;  // per second
  void count_step(double h);
  void count_steady(double seconds);
  NewtonResult restart_with(double time, const Row<double>& charges, double h0);

  Island& island_;
  HeldVoltages& held_;
  const SolverOptions& options_;
  double time_ = 0, corner_ = 0;
  bool still_ = false;    // nothing changes before the next corner
  double balanced_ = 0;   // [1/s] settled where it cannot stay, and would leave at this rate; to be tipped over before it moves
  double leaving_ = 0;    // [1/s] tipped over and not yet well away from the balance
  double left_by_ = 0;    // [V] distance from the balance
  double left_for_ = 0;   // times of growth by e that it was given
  bool stays_ = false;    // and did not leave: it is no unstable balance, whatever its linearisation says
  double calm_step_ = 0;  // [s] length of the steps between jumps
  RateFrom rate_from_ = RateFrom::kStill;
  double growth_ = 1;     // most growth of the next step
  double left_over_ = 0;  // of a node's currents, after refine_direction
  double wish_ = 0;       // [s] step that the error control would like
  double error_ = 0;      // of the last attempt, 1 is just accepted
  double last_step_ = 0;
  double last_error_ = 0;  // of the last accepted step, for the choice of the next; 0: none
  long steps_ = 0, rejected_ = 0;
  int rejected_here_ = 0;      // attempts in a row
  double rejected_error_ = 0;  // of the last one
  int distrusted_ = 0;         // steps to be taken with implicit stages
  int extra_iterations_ = 0;   // of restarts and leaps, not yet counted as work
  int stuck_row_ = -1;
  int rest_wait_ = 0, rest_interval_ = 1;
  double largest_voltage_ = 0;

  struct Count {
    int member;
    Delivered sum;
  };
  Row<Count> counts_;
  const StageTable* table_;
  Propagator propagator_;
  Row<double> x_, charge_, k_[kMostStages];   // present point and dq/dt there, in k_[0]
  Row<double> x_stage_[kMostStages], x_new_;  // of the attempted step
  Row<double> charge_new_, sum_, enough_, charge_start_;
  Row<double> x_before_, x_early_, x_late_;  // of the last accepted step: its start and two points on the way
  Row<double> direction_;                    // dx/dt at time(), once it is known
  Row<double> shown_, shown_rate_;           // x_ and direction_ as they are told, which go on as they are
  double early_at_ = 0, late_at_ = 1;        // those points, as shares of the step
  bool direction_known_ = false;
  bool slope_known_ = true;     // k_[0] is dq/dt at time()
  bool by_rosenbrock_ = false;  // the last attempt
  bool linearised_ = false;     // f_start_, q_start_ and the island's tangents are those at time()
  bool curved_known_ = false;   // curved_ are the curved charges at time(); else they are those that belong to x()
  Row<double> f_start_, curved_start_, curved_, curved_new_;
  Row<double> v_, u_, w_;   // of all stages, one after the other
  bool told_here_ = false;  // on_step knows of the present point
  bool carried_ = false;    // the last step was an exact one, without points on the way
  Row<double> scale_, balance_;
  Row<double> capacitor_scale_;  // of island_.capacitances()
};

}  // namespace tiepoint
