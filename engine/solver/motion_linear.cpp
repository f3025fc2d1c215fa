// Linear islands: carried exactly where they are small, stepped without iteration where not.
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/solver/motion.h"

namespace tiepoint {

// The stages before `end` of a step from here, where sources stand still: what flows at its start is the same for all of them,
// and each is one solve for the way it has come, (a C + G) way = sum of the rates before - f.
bool Motion::linear_stages(double a, int end) {
  const size_t n = size_t(island_.size);
  prepare(time_);
  std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
  if (island_.factored_a != a || island_.factored_settled) {
    island_.matrix_of_tangents(a);
    island_.factored_a = std::numeric_limits<double>::quiet_NaN();
    if (const int column = island_.solver.factor(island_.matrix.data()); column >= 0) return stuck_row_ = column, false;
    island_.factored_a = a, island_.factored_settled = false;
  }
  island_.evaluate_aside();
  const double* const f = island_.f.data();
  double* const way = island_.row_error.data();
  for (int stage = 1; stage < end; ++stage) {
    sum_rates(stage);
    const double* const sum = sum_.data();
    for (size_t i = 0; i < n; ++i) way[i] = sum[i] - f[i];
    island_.solver.solve(way);
    double *const x = x_stage_[stage].data(), *const k = k_[stage].data();
    const double* const x0 = x_.data();
    if (stage + 1 == table_->stages) {
      std::copy(charge_.begin(), charge_.end(), charge_new_.begin());
      island_.add_straight(way, charge_new_.data());
    }
    for (size_t i = 0; i < n; ++i) x[i] = x0[i] + way[i], way[i] *= a, k[i] = -sum[i];
    island_.add_straight(way, k);
    std::copy(x_.begin() + island_.size, x_.end(), x_stage_[stage].begin() + island_.size);
  }
  for (size_t i = 0; i < n; ++i)
    if (!std::isfinite(x_stage_[end - 1][i])) return stuck_row_ = int(i), false;
  return true;
}

// A linear island is carried to `end` in one go, from sample to sample when somebody looks on. False when it cannot be.
bool Motion::carry(double end) {
  if (!island_.linear || leaving_ > 0 || !counts_.empty() || (on_step && !(samples_only && sampled_every > 0))) return false;
  if (!propagator_.ready() && !propagator_.take(island_)) return false;
  const auto to = [this](double t) { prepare(t); };
  by_rosenbrock_ = false;
  if (!propagator_.begin(island_, time_, end, to)) return false;
  const double start = time_;
  const bool moving = island_.moving();
  x_new_ = x_;
  rate_from_ = RateFrom::kStill;  // who looks on sees x() itself
  double next = on_step ? next_sample() / sampled_every : 0;  // counted in samples: a division for each takes longer than the way there
  while (time_ < end) {
    double stop = end;
    if (on_step && next * sampled_every < end - 1e-9 * sampled_every) stop = next++ * sampled_every;
    if (!propagator_.carry(x_new_.data(), time_, stop - time_)) {
      x_new_ = x_;
      break;
    }
    time_ = stop;
    if (stop == end) break;
    if (moving) {
      prepare(stop);
      std::copy(island_.x.begin() + island_.size, island_.x.end(), x_new_.begin() + island_.size);
    }
    std::swap(x_, x_new_);
    told();
    std::swap(x_, x_new_);
  }
  if (time_ == start) return false;
  prepare(time_);
  std::copy(x_new_.begin(), x_new_.begin() + island_.size, island_.x.begin());
  island_.evaluate_exactly();
  x_new_ = island_.x;
  charge_new_ = island_.q;
  for (int i = 0; i < island_.size; ++i) k_[table_->stages - 1][i] = -island_.f[i];
  accept(time_ - start);
  carried_ = true;
  return true;
}

}  // namespace tiepoint
