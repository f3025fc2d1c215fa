#include "engine/solver/newton.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tiepoint {
namespace {

constexpr double kUpdateVolts = 1e-7;  // [V] an update smaller than this is small: the next one is its square over n*VT
constexpr double kUpdateRelative = 1e-7;
constexpr double kUpdateAmperes = 1e-12;  // [A] for unknown currents
constexpr double kNearTheEnd = 1e4;       // times a small update: after a larger one it is not worth while to judge residuals
constexpr double kNearVolts = 1e-3, kNearAmperes = 1e-6;
constexpr double kBranchShare = 1e-9;  // accepted residual as a share of the largest branch current at the node
constexpr double kNoise = 1e-17;       // [A] a residual that is nothing whatever flows there
constexpr double kConductsNothing = 1.5e-15;  // [S] a node that no more conducts to, the matrix's floor included, may have any voltage
constexpr double kRounding = 4e-16;
constexpr double kLastShare = 1e-2;  // times a small update: one that is made with the factors of the point before
constexpr int kMostDescents = 100;
constexpr int kMostRefinements = 8;
constexpr int kMostStrides = 40;  // iterations
constexpr double kRoundingRatio =
    30;                        // of the accepted residual: more rounding than its bound allows for, inside a large model
constexpr int kDampFrom = 25;  // iterations before updates are halved

struct Check {
  bool accepted = true;  // every residual is within its bound
  bool small = true;     // every residual is within the option's current, whatever flows there
  bool exact = true;     // every residual is rounding noise
};

// What is accepted of a row's residual: the option's current, a share of the largest branch current there, and the rounding of
// charges and of voltage differences across large conductances.
class Bounds {
 public:
  Bounds(const Island& island, const StageEquation& eq, const SolverOptions& options)
      : island_(island), eq_(eq), options_(options) {
    const double* const x = island.x.data();
    for (int i = 0; i < island.node_count; ++i) highest_ = std::max(highest_, std::fabs(x[i]));
    for (int i = island.size; i < island.total; ++i) highest_ = std::max(highest_, std::fabs(x[i]));
  }
  double rounding(int i) const {
    double scale = island_.mag[i] + island_.stiffness[i] * highest_;
    if (eq_.a != 0)
      scale += eq_.a * (4 * (std::fabs(island_.q[i]) + (eq_.charge_before ? std::fabs(eq_.charge_before[i]) : 0)) +
                        island_.charge_stiffness[i] * highest_);
    return kRounding * scale;
  }
  double accepted(int i, double rounding) const { return options_.residual_current + kBranchShare * island_.mag[i] + rounding; }

 private:
  const Island& island_;
  const StageEquation& eq_;
  const SolverOptions& options_;
  double highest_ = 0;  // [V]
};

// Of the residual in island.row_error. A node that next to nothing conducts to is moved far by next to no current: there it is noise only
// where the matrix, if it is that of the same point, makes no update of it.
Check judge(const Island& island, const StageEquation& eq, const SolverOptions& options, bool with_matrix) {
  const Bounds bounds(island, eq, options);
  Check check;
  for (int i = 0; i < island.size && (check.accepted || check.exact); ++i) {
    const double size = std::fabs(island.row_error[i]), rounding = bounds.rounding(i);
    if (!(size <= bounds.accepted(i, rounding))) check.accepted = false;
    if (!(size <= options.residual_current + rounding)) check.small = false;
    double noise = kNoise;
    if (with_matrix && i < island.node_count)
      if (const double conducts = island.matrix[island.diagonal(i)]; conducts > kConductsNothing)
        noise = std::min(noise, kUpdateVolts * conducts);
    if (!(size <= noise + rounding)) check.exact = false;
  }
  return check;
}

struct Worst {
  int row = -1;      // with the largest residual beside what is accepted
  double ratio = 0;  // of both
};

[[gnu::cold]] Worst worst_row(const Island& island, const StageEquation& eq, const SolverOptions& options) {
  const Bounds bounds(island, eq, options);
  Worst worst;
  for (int i = 0; i < island.size; ++i) {
    const double size = std::fabs(island.row_error[i]);
    const double ratio = std::isfinite(size) ? size / bounds.accepted(i, bounds.rounding(i)) : HUGE_VAL;
    if (!(ratio <= worst.ratio)) worst = {i, ratio};
  }
  return worst;
}

// Fills island.row_error with the residual and judges it.
Check residual(Island& island, const StageEquation& eq, const SolverOptions& options, bool with_matrix, bool judged = true) {
  double* const r = island.row_error.data();
  const double *const f = island.f.data(), *const q = island.q.data(), *const x = island.x.data();
  const int n = island.size;
  if (eq.charge_before) {
    for (int i = 0; i < n; ++i) r[i] = f[i] + eq.a * (q[i] - eq.charge_before[i]);
  } else if (eq.a != 0) {
    for (int i = 0; i < n; ++i) r[i] = f[i] + eq.a * q[i];
  } else {
    copy_row(f, size_t(n), r);
  }
  if (eq.rate_before)
    for (int i = 0; i < n; ++i) r[i] -= eq.rate_before[i];
  if (eq.pull > 0)
    for (int i = 0; i < island.node_count; ++i) r[i] += eq.pull * (x[i] - (eq.anchor ? eq.anchor[i] : 0));
  if (with_matrix && eq.pull > 0)
    for (int i = 0; i < island.node_count; ++i) island.matrix[island.diagonal(i)] += eq.pull;
  if (!island.knots.empty()) island.tie_knots(eq.settled, r, with_matrix);
  return judged ? judge(island, eq, options, with_matrix) : Check();
}

// Is every correction at most so many times what is small?
bool small_update(const Island& island, const double* dx, double times = 1) {
  for (int i = 0; i < island.size; ++i) {
    const double floor = i < island.node_count ? kUpdateVolts : kUpdateAmperes;
    if (!(std::fabs(dx[i]) <= times * (floor + kUpdateRelative * std::fabs(island.x[i])))) return false;
  }
  return true;
}

bool within(const Island& island, const double* enough) {
  for (int i = 0; i < island.size; ++i)
    if (!(std::fabs(island.row_error[i]) <= enough[i])) return false;
  return true;
}

// One solve is exact; others mend the rounding of a badly scaled matrix: metal that only open contacts join to the rest is a sum of large
// conductances in which the small one is lost, while currents are right to the last digit. A stage that need not be exact is not looked at
// again when factors are used that have been.
NewtonResult solve_linear(Island& island, const StageEquation& eq, const SolverOptions& options) {
  NewtonResult result;
  const bool factored = island.factored_a == eq.a && island.factored_settled == eq.settled && eq.pull == 0;
  island.evaluate(eq.a, !factored);
  residual(island, eq, options, !factored, false);
  if (!factored) {
    const int column = island.solver.factor(island.matrix.data());
    island.factored_a = std::numeric_limits<double>::quiet_NaN();
    if (column >= 0) return result.worst = column, result;
    if (eq.pull == 0) island.factored_a = eq.a, island.factored_settled = eq.settled;
  }
  double size = 0, before = std::numeric_limits<double>::infinity();  // of the corrections
  for (int refinement = 0; refinement < kMostRefinements; ++refinement, before = size) {
    island.solver.solve(island.row_error.data());
    const bool small = small_update(island, island.row_error.data());
    bool finite = true;
    size = 0;
    for (int i = 0; i < island.size; ++i) {
      island.x[i] -= island.row_error[i];
      size = std::max(size, std::fabs(island.row_error[i]));
      if (!std::isfinite(island.x[i])) finite = false, result.worst = i;
    }
    ++result.iterations;
    if (!finite) return result;
    if (factored && eq.enough) {  // these factors have shown before how good they are
      island.evaluate(eq.a, false, false);
      return result.ok = true, result;
    }
    island.evaluate(eq.a, false);
    if (!residual(island, eq, options, false).accepted) continue;
    if (small || eq.enough || !(size < 0.5 * before) || refinement + 1 == kMostRefinements) return result.ok = true, result;
  }
  result.worst = worst_row(island, eq, options).row;
  return result;
}

}  // namespace

NewtonResult newton(Island& island, const StageEquation& eq, const SolverOptions& options, int max_iterations) {
  if (island.linear) return solve_linear(island, eq, options);
  NewtonResult result;
  bool small = false, near = true, was_limited = false;
  for (int iteration = 0; iteration <= max_iterations; ++iteration) {
    // Where near is good enough the update alone is judged.
    const bool judged = (!eq.enough && (near || (iteration == 1 && eq.settled))) || iteration + 1 >= max_iterations;
    const bool limited = island.evaluate(eq.a, true, judged);
    const Check check = residual(island, eq, options, true, judged);
    if (judged && !limited && (check.exact || (small && check.accepted))) {
      result.ok = true;
      return result;
    }
    // A settled state may be all but there though the way to it was long: then the factors of the point before put it right.
    if (judged && !limited && !was_limited && check.accepted && check.small && eq.settled && eq.pull == 0 && iteration > 0 &&
        island.size <= SmallLu::kLargest) {
      double last[SmallLu::kLargest];
      copy_row(island.row_error.data(), size_t(island.size), last);
      island.solver.solve(last);
      if (small_update(island, last, kLastShare)) {
        for (int i = 0; i < island.size; ++i) island.x[i] -= last[i];
        island.follow_tangents();
        return result.ok = true, result;
      }
    }
    was_limited = limited;
    if (iteration == max_iterations) {
      result.worst = worst_row(island, eq, options).row;
      // So many iterations came no nearer than rounding lets them: the currents are right.
      result.ok = check.accepted && !limited && eq.a != 0 && iteration > kDampFrom;
      break;
    }
    const int column = island.solver.factor_and_solve(island.matrix.data(), island.row_error.data());
    island.factored_a = std::numeric_limits<double>::quiet_NaN();
    if (column >= 0) {
      result.worst = column;
      return result;
    }
    island.factored_a = eq.pull == 0 ? eq.a : island.factored_a;
    island.factored_settled = eq.settled;
    ++result.iterations;
    const double share = iteration >= kDampFrom && !small ? 0.5 : 1;
    for (int i = 0; i < island.size; ++i) {
      island.x[i] -= share * island.row_error[i];
      if (!std::isfinite(island.x[i])) return result.worst = i, result;
    }
    if (eq.enough && !limited && iteration < kDampFrom && within(island, eq.enough)) {
      island.follow_tangents();
      return result.ok = true, result;
    }
    near = small_update(island, island.row_error.data(), kNearTheEnd);
    small = near && small_update(island, island.row_error.data());
  }
  return result;
}

namespace {

class Stubborn {
 public:
  Stubborn(Island& island, const StageEquation& eq, const SolverOptions& options, std::span<const double> held)
      : island_(island), eq_(eq), options_(options), held_(held), good_(island.x) {}

  [[gnu::cold]] NewtonResult run() {
    zero();
    NewtonResult result = attempt(eq_);
    const int worst = result.worst;
    if (!result.ok) result = by_conductance();
    const Row<double> near = good_;  // settled but for the least conductance it could not do without
    if (!result.ok) result = by_sources();
    if (!result.ok) result = by_pseudo_transient();
    if (!result.ok) result = descend(eq_, near);
    if (!result.ok) result = descend(eq_, good_);
    if (!result.ok) patient_ = true, result = by_conductance();
    if (!result.ok) result = by_pseudo_transient();
    result.iterations = iterations_;
    if (!result.ok) result.worst = worst;
    return result;
  }

 private:
  NewtonResult attempt(const StageEquation& eq) {
    NewtonResult result = newton(island_, eq, options_, options_.max_iterations);
    iterations_ += result.iterations;
    if (!result.ok && patient_) result = descend(eq, good_);
    return result;
  }
  void zero() {
    std::fill(island_.x.begin(), island_.x.begin() + island_.size, 0.0);
    island_.last_from_x();
  }
  void keep() { std::copy(island_.x.begin(), island_.x.begin() + island_.size, good_.begin()); }
  void go_back() {
    std::copy(good_.begin(), good_.begin() + island_.size, island_.x.begin());
    island_.last_from_x();
  }

  // A conductance from every node to 0 V, large at first, goes down as fast as Newton can follow.
  [[gnu::cold]] NewtonResult by_conductance() {
    zero();
    keep();
    NewtonResult result;
    double pull = 1, factor = 0.1;
    bool any = false;
    for (int k = 0; k < 120; ++k) {
      StageEquation eq = eq_;
      const double next = any ? pull * factor : pull;
      eq.pull = next < 1e-14 ? 0 : next;
      result = attempt(eq);
      if (result.ok) {
        if (eq.pull == 0) return result.method = "conductance stepping", result;
        keep();
        pull = next, any = true;
        factor = std::max(1e-3, factor * factor);
      } else {
        go_back();
        if (!any) {
          pull *= 100;
          if (pull > 1e6) break;
        } else {
          factor = std::sqrt(factor);
          if (factor > 0.99) break;
        }
      }
    }
    result.ok = false;
    return result;
  }

  // All sources are raised together from nothing.
  [[gnu::cold]] NewtonResult by_sources() {
    Row<double> scaled(held_.size());
    const auto scale_to = [&](double scale) {
      for (size_t k = 0; k < held_.size(); ++k) scaled[k] = scale * held_[k];
      island_.prepare(island_.time, scale == 1 ? held_ : std::span<const double>(scaled), scale);
    };
    zero();
    keep();
    NewtonResult result;
    double reached = 0, stride = 0.1;
    for (int k = 0; k < 200 && reached < 1; ++k) {
      const double next = std::min(1.0, reached + stride);
      scale_to(next);
      result = attempt(eq_);
      if (result.ok) {
        reached = next, stride *= 2;
        keep();
      } else {
        go_back();
        stride *= 0.25;
        if (stride < 1e-6) break;
      }
    }
    scale_to(1);
    result.method = "source stepping";
    result.ok = result.ok && reached >= 1;
    return result;
  }

  // As if every node had a capacitor to the state before: implicit Euler with growing steps, the last one without it.
  [[gnu::cold]] NewtonResult by_pseudo_transient() {
    zero();
    keep();
    NewtonResult result;
    double pull = 1e-2;
    Row<double> anchor(island_.x.begin(), island_.x.begin() + island_.size);
    for (int k = 0; k < 400; ++k) {
      StageEquation eq = eq_;
      eq.pull = pull, eq.anchor = anchor.data();
      result = attempt(eq);
      if (result.ok) {
        keep();
        std::copy(good_.begin(), good_.begin() + island_.size, anchor.begin());
        pull *= 0.5;
        if (pull < 1e-9) {
          result = attempt(eq_);
          if (result.ok) return result.method = "pseudo-transient", result;
          go_back();
          if (pull < 1e-14) break;
        }
      } else {
        go_back();
        pull *= 8;
        if (pull > 1e9) break;
      }
    }
    result.ok = false;
    return result;
  }

  // Newton with shortened steps: a step is taken only when the correction that the same matrix would ask for next is smaller
  // (Deuflhard, "A modified Newton method", Numer. Math. 22, 1974). No limiting: it follows the curves as they are.
  [[gnu::cold]] NewtonResult descend(const StageEquation& eq, const Row<double>& start) {
    NewtonResult result;
    const int n = island_.size;
    Row<double> from(start.begin(), start.begin() + n), step(static_cast<size_t>(n));
    std::copy(from.begin(), from.end(), island_.x.begin());
    double share = 1;
    bool small = false;
    for (int k = 0; k < kMostDescents; ++k) {
      island_.last_from_x();
      island_.evaluate(eq.a, true);
      const Check check = residual(island_, eq, options_, true);
      const Worst worst = worst_row(island_, eq, options_);
      result.worst = worst.row;
      if (check.exact || (small && check.accepted)) return result.ok = true, result.method = "descent", result;
      island_.factored_a = std::numeric_limits<double>::quiet_NaN();
      if (const int column = island_.solver.factor(island_.matrix.data()); column >= 0) {
        if (check.accepted) result.ok = true, result.method = "descent";  // what makes no pivot is metal that nothing conducts to
        return result.worst = column, result;
      }
      std::copy(island_.row_error.begin(), island_.row_error.begin() + n, step.begin());
      island_.solver.solve(step.data());
      ++iterations_;
      small = small_update(island_, step.data());
      const double size = norm(step);
      if (!std::isfinite(size)) return result;
      share = std::min(1.0, 4 * share);
      for (;; share *= 0.5) {
        for (int i = 0; i < n; ++i) island_.x[i] = from[i] - share * step[i];
        if (small || share < 1e-12) break;
        island_.evaluate_exactly();
        residual(island_, eq, options_, false, false);
        island_.solver.solve(island_.row_error.data());
        if (norm({island_.row_error.data(), static_cast<size_t>(n)}) <= (1 - 0.5 * share) * size) break;
      }
      if (share < 1e-12) {  // no nearer in double precision: what is left is less than anything that conducts there
        if (check.accepted) result.ok = true, result.method = "descent";
        return result;
      }
      std::copy(island_.x.begin(), island_.x.begin() + n, from.begin());
      // A node that nothing conducts to creeps for ever; its voltage is anybody's guess, its current is right.
      if (k + 1 == kMostDescents && (check.accepted || (worst.ratio < kRoundingRatio && step_is_nothing(step))))
        result.ok = true, result.method = "descent";
    }
    return result;
  }
  bool step_is_nothing(std::span<const double> step) const {
    for (int i = 0; i < island_.size; ++i)
      if (!(std::fabs(step[i]) <= 1e-14 * (1e-3 + std::fabs(island_.x[i])))) return false;
    return true;
  }
  // Of a correction, every unknown beside what is a lot for it: a volt or an ampere, or its own size.
  double norm(std::span<const double> step) const {
    double sum = 0;
    for (int i = 0; i < island_.size; ++i) {
      const double part = step[i] / (1 + std::fabs(island_.x[i]));
      sum += part * part;
    }
    return std::sqrt(sum);
  }

  Island& island_;
  const StageEquation eq_;
  const SolverOptions& options_;
  std::span<const double> held_;
  Row<double> good_;
  bool patient_ = false;  // where Newton's method fails on the way it is tried with shortened steps too
  int iterations_ = 0;
};

}  // namespace

NewtonResult solve_stubbornly(Island& island, const StageEquation& equation, const SolverOptions& options,
                              std::span<const double> held) {
  island.strides = equation.settled;
  const NewtonResult first = newton(island, equation, options, equation.settled ? kMostStrides : options.max_iterations);
  island.strides = false;
  if (first.ok || island.linear) return first;
  NewtonResult result = Stubborn(island, equation, options, held).run();
  result.iterations += first.iterations;
  return result;
}

// Implicit Euler in a time of its own. The steps start well below the time in which a transconductance of a siemens moves a
// node and grow slowly, so that what is unstable is left and not damped.
[[gnu::cold]] NewtonResult solve_by_falling(Island& island, const StageEquation& equation, const SolverOptions& options) {
  NewtonResult result;
  Row<double> anchor(island.x.begin(), island.x.begin() + island.size);
  // On the way near is good enough.
  Row<double> near(size_t(island.size), kNearAmperes);
  std::fill(near.begin(), near.begin() + island.node_count, kNearVolts);
  double pull = 100, ratio = 1.6;
  int held = 0;  // steps before pull goes down again
  int iterations = 0;
  for (int k = 0; k < 200; ++k) {
    StageEquation eq = equation;
    eq.pull = pull, eq.anchor = anchor.data(), eq.enough = near.data();
    result = newton(island, eq, options, 10);
    iterations += result.iterations;
    if (result.ok) {
      std::copy(island.x.begin(), island.x.begin() + island.size, anchor.begin());
      pull /= ratio;
      if (held > 0)
        --held;
      else
        ratio = std::min(1.3 * std::max(ratio, 1.2), 10.0);
      if (pull < 1e-7) break;  // below what any junction or resistor at play conducts
    } else {
      std::copy(anchor.begin(), anchor.end(), island.x.begin());
      island.last_from_x();
      pull *= 4, ratio = 1, held = 8;  // near the rate at which it leaves: every step takes it about twice as far
      if (pull > 1e6) return result;
    }
  }
  result = newton(island, equation, options, options.max_iterations);
  result.iterations += iterations;
  return result;
}

}  // namespace tiepoint
