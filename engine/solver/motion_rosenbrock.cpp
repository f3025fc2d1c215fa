#include <algorithm>
#include <cmath>

#include "engine/solver/motion.h"
#include "engine/solver/rosenbrock.h"

namespace tiepoint {
namespace {

constexpr int kStages = RosenbrockTable::kStages;
// The estimate is that of the third-order method within, and larger than the error of the step. Taken so, a tolerance gives
// errors like those it gives with implicit stages.
constexpr double kEstimateShare = 1.0 / 3;

}  // namespace

// Equations and tangents at the present point; they serve for every attempt that starts there.
void Motion::linearise(double a) {
  if (linearised_) {
    island_.matrix_of_tangents(a);
    return;
  }
  copy_row(x_.data(), size_t(island_.size), island_.x.data());
  island_.linearise(a);
  copy_row(island_.f.data(), size_t(island_.size), f_start_.data());
  island_.curved_charges(curved_start_.data());
  if (!curved_known_) curved_ = curved_start_;
  linearised_ = true;
}

// Of the charges only the curved ones are told apart from what their tangents say: the others are so without rounding.
Motion::Outcome Motion::attempt_rosenbrock(double h) {
  const size_t n = size_t(island_.size);
  const double a = 1 / (h * kRodasp.gamma), inverse = 1 / h;
  if (v_.size() != kStages * n)
    v_.assign(kStages * n, 0), u_ = w_ = v_, f_start_.assign(n, 0), curved_ = curved_new_ = curved_start_ = f_start_;
  double* const r = island_.row_error.data();
  double* const x = island_.x.data();
  // to[i] += sum over the stages before of weights[j] * scale * from[j][i]
  const auto add = [n](double* to, const double* weights, double scale, const Row<double>& from, int stages) {
    const double* part = from.data();
    int j = 0;
    for (; j + 1 < stages; j += 2, part += 2 * n) {  // two at once: each sum is read and written half as often
      const double one = weights[j] * scale, two = weights[j + 1] * scale;
      for (size_t i = 0; i < n; ++i) to[i] = to[i] + one * part[i] + two * part[n + i];
    }
    if (j < stages) {
      const double weight = weights[j] * scale;
      for (size_t i = 0; i < n; ++i) to[i] += weight * part[i];
    }
  };
  prepare(time_);
  linearise(a);
  if (!island_.knots.empty()) island_.tie_knots(false, r, true);
  island_.factored_a = std::numeric_limits<double>::quiet_NaN();
  if (const int column = island_.solver.factor(island_.matrix.data()); column >= 0)
    return stuck_row_ = column, Outcome::kNoConvergence;
  const bool curved = island_.charges_curve();
  for (int stage = 0; stage < kStages; ++stage) {
    double* const v = &v_[size_t(stage) * n];
    double* const u = &u_[size_t(stage) * n];
    double* const w = &w_[size_t(stage) * n];  // the curved charges' part of u; first what is still to be found of them
    const double *f = f_start_.data(), *q = curved_start_.data();
    if (stage > 0) {
      copy_row(x_.data(), n, x);
      add(x, kRodasp.a[stage], 1, v_, stage);
      island_.evaluate_aside();
      f = island_.f.data(), q = island_.q.data();
    }
    copy_row(f, n, r);
    add(r, kRodasp.b[stage], -inverse, u_, stage);
    if (curved) {
      copy_row(curved_.data(), n, w);
      add(w, kRodasp.a[stage], 1, w_, stage);
      for (size_t i = 0; i < n; ++i) w[i] -= q[i], r[i] -= a * w[i];
    }
    if (!island_.knots.empty()) island_.tie_knots(false, r, false);
    island_.solver.solve(r);
    for (size_t i = 0; i < n; ++i) v[i] = -r[i], u[i] = 0;
    if (curved) {
      for (size_t i = 0; i < n; ++i) w[i] = -w[i];
      island_.add_curved(v, w);
      copy_row(w, n, u);
    }
    island_.add_straight(v, u);
  }
  double* const last = &v_[(kStages - 1) * n];
  for (size_t i = 0; i < n; ++i) x[i] += last[i];
  for (size_t i = 0; i < n; ++i)
    if (!std::isfinite(x[i])) return stuck_row_ = int(i), Outcome::kNoConvergence;
  copy_row(x, size_t(island_.total), x_new_.data());
  copy_row(charge_.data(), charge_.size(), charge_new_.data());
  double to_end[kStages] = {0, 0, 0, 0, 1, 1};
  std::copy(kRodasp.a[kStages - 1], kRodasp.a[kStages - 1] + 4, to_end);
  add(charge_new_.data(), to_end, 1, u_, kStages);
  if (curved) {
    copy_row(curved_.data(), n, curved_new_.data());
    add(curved_new_.data(), to_end, 1, w_, kStages);
  }
  error_ = kEstimateShare * worst_error(last);
  if (h < kNoisy && curved && error_ > kNoMatter) {
    for (size_t i = 0; i < n; ++i) r[i] = kRounding * a * std::fabs(curved_start_[i]);
    take_off_noise(last);
    error_ = clearly_less(error_, kEstimateShare * worst_error(last));
  }
  if (!std::isfinite(error_)) return Outcome::kNoConvergence;
  return error_ <= 1 ? Outcome::kGood : Outcome::kTooCoarse;
}

// Two points on the way, by the method's dense output: the cubic through them and the ends is the same.
void Motion::points_on_the_way() {
  early_at_ = 1.0 / 3, late_at_ = 2.0 / 3;
  const size_t n = size_t(island_.size);
  for (const bool early : {true, false}) {
    const double s = early ? early_at_ : late_at_;
    double* to = (early ? x_early_ : x_late_).data();
    for (int i = 0; i < island_.total; ++i) to[i] = (1 - s) * x_[i] + s * x_new_[i];
    for (int j = 0; j + 1 < kStages; ++j) {
      const double weight = s * (1 - s) * (kRodasp.d[0][j] + s * kRodasp.d[1][j]);
      const double* vj = &v_[size_t(j) * n];
      for (size_t i = 0; i < n; ++i) to[i] += weight * vj[i];
    }
  }
}

// dq/dt at the present point, when a step that had no need of it has come there: f + (dq/dx) dx/dt = 0 where charge is stored,
// by the matrix of a step next to no length.
void Motion::find_slope() {
  if (slope_known_) return;
  slope_known_ = true;
  const double a = 1e5 / last_step_;
  copy_row(x_.data(), size_t(island_.size), island_.x.data());
  std::fill(direction_.begin(), direction_.end(), 0.0);
  prepare(time_);
  island_.linearise(a);
  island_.tie_knots(false, sum_.data(), true);
  island_.factored_a = std::numeric_limits<double>::quiet_NaN();
  linearised_ = false;
  std::fill(k_[0].begin(), k_[0].end(), 0.0);
  if (island_.solver.factor(island_.matrix.data()) >= 0) return;
  refine_direction(a, 2);
  island_.charge_rate(direction_.data(), k_[0].data());
}

}  // namespace tiepoint
