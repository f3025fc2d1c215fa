#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/solver/motion.h"

namespace tiepoint {
namespace {

constexpr double kLocalShare = 0.2;  // a step may err by this share of the tolerance, so that the sum of steps stays within it
constexpr double kSpanShare = 0.1;   // a small signal is judged as if it were this share of the island's largest voltage
// Of a larger island so many may err by that at once, fewer by more, up to the whole tolerance: what passes along a chain is
// then not followed with the same number of steps through each of its parts.
constexpr int kFew = 64;
constexpr double kStageShare = 0.2;     // of a step's tolerance: how well its stages are solved
constexpr int kRosenbrockAttempts = 4;  // rejected in a row before implicit stages are tried
constexpr double kInfinite = std::numeric_limits<double>::infinity();

}  // namespace

// --- Error control
// ------------------------------------------------------------------------------------------------------------

double Motion::voltage_tolerance(double span) const {
  return kLocalShare *
         (options_.relative_tolerance * std::max(span, kSpanShare * largest_voltage_) + options_.absolute_voltage);
}

double Motion::tolerance(int row, double x) const {
  const double now = std::max(scale_[row], std::fabs(x));
  if (row < island_.node_count) return voltage_tolerance(now);
  return kLocalShare * (options_.relative_tolerance * now + kSmallCurrent);
}

// A step in which no unknown would move by more than a few per cent of its span.
double Motion::first_step() const {
  double h = options_.longest_step;
  const double share = 0.3 * std::cbrt(std::min(options_.relative_tolerance, 1.0));
  for (int i = 0; i < island_.size; ++i) {
    const double span =
        i < island_.node_count ? std::max(scale_[i], kSpanShare * largest_voltage_) + options_.absolute_voltage : scale_[i];
    const double speed = std::fabs(direction_[i]);
    const bool tells = i < island_.node_count || span > 1e3 * kSmallCurrent;  // a coil at the start says nothing of its span
    if (tells && speed * h > share * span) h = share * span / speed;
  }
  return std::max(h, 1e3 * options_.shortest_step);
}

// A first guess of a stage: the points before it are continued, three of them where they lie close enough.
void Motion::predict(int stage, double h) {
  struct Point {
    double t;
    const double* x;
  };
  Point points[kMostStages + 1];
  int count = 0;
  if (rate_from_ == RateFrom::kStep && h <= 2 * last_step_) {
    points[count++] = {-last_step_, x_before_.data()};
    points[count++] = {-last_step_ * (1 - late_at_), x_late_.data()};
  } else if (rate_from_ == RateFrom::kStep) {
    points[count++] = {-last_step_ * (1 - late_at_), x_late_.data()};
  }
  points[count++] = {0, x_.data()};
  for (int i = 1; i < stage; ++i) points[count++] = {table_->c[i] * h, x_stage_[i].data()};
  const double t = table_->c[stage] * h;
  double* to = island_.x.data();
  const int n = island_.size;
  if (count == 1) {
    const double forward = direction_known_ ? t : 0;
    for (int i = 0; i < n; ++i) to[i] = x_[i] + forward * direction_[i];
  } else if (count == 2) {
    const double share = (t - points[1].t) / (points[1].t - points[0].t);
    for (int i = 0; i < n; ++i) to[i] = points[1].x[i] + share * (points[1].x[i] - points[0].x[i]);
  } else {
    const Point &p = points[count - 3], &q = points[count - 2], &r = points[count - 1];
    const double wp = (t - q.t) * (t - r.t) / ((p.t - q.t) * (p.t - r.t)),
                 wq = (t - p.t) * (t - r.t) / ((q.t - p.t) * (q.t - r.t)),
                 wr = (t - p.t) * (t - q.t) / ((r.t - p.t) * (r.t - q.t));
    for (int i = 0; i < n; ++i) to[i] = wp * p.x[i] + wq * q.x[i] + wr * r.x[i];
  }
}

// `exactly`: the end of the step will be looked at, and its equations are solved as well as can be.
Motion::Outcome Motion::attempt(double h, bool exactly) {
  by_rosenbrock_ = !exactly && !options_.exact_stages && rejected_here_ < kRosenbrockAttempts && distrusted_ == 0 &&
                   leaving_ == 0 && island_.stores && !island_.linear && !island_.moving();
  return by_rosenbrock_ ? attempt_rosenbrock(h) : attempt_implicit(h, exactly);
}

// The part of a stage's equation that the stages before it make.
void Motion::sum_rates(int stage) {
  const int n = island_.size;
  double* const to = sum_.data();
  const double* const weights = table_->a[stage];
  const double scale = table_->gamma, first = weights[0] / scale;
  const double* const rate = k_[0].data();
  for (int i = 0; i < n; ++i) to[i] = first * rate[i];
  int j = 1;
  for (; j + 1 < stage; j += 2) {  // two at once: the sum is read and written half as often
    const double one = weights[j] / scale, two = weights[j + 1] / scale;
    const double *const k = k_[j].data(), *const next = k_[j + 1].data();
    for (int i = 0; i < n; ++i) to[i] = to[i] + one * k[i] + two * next[i];
  }
  if (j < stage) {
    const double weight = weights[j] / scale;
    const double* const k = k_[j].data();
    for (int i = 0; i < n; ++i) to[i] += weight * k[i];
  }
}

Motion::Outcome Motion::attempt_implicit(double h, bool exactly) {
  find_slope();
  linearised_ = false;
  const StageTable& table = *table_;
  const int n = island_.size, last = table.stages - 1;
  const double a = 1 / (h * table.gamma);
  int stage = 1;
  if (island_.linear && island_.knots.empty() && !options_.exact_stages && !island_.moving()) {
    stage = exactly ? last : last + 1;
    if (!linear_stages(a, stage)) return Outcome::kNoConvergence;
  } else {
    for (int i = 0; i < n; ++i) enough_[i] = kStageShare * tolerance(i, x_[i]);
  }
  for (; stage <= last; ++stage) {
    prepare(time_ + table.c[stage] * h);
    predict(stage, h);
    sum_rates(stage);
    const NewtonResult result =
        newton(island_,
               {.a = a,
                .charge_before = charge_.data(),
                .rate_before = sum_.data(),
                .enough = options_.exact_stages || (exactly && stage == last) ? nullptr : enough_.data()},
               options_, kStepIterations);
    if (!result.ok) return stuck_row_ = result.worst, Outcome::kNoConvergence;
    copy_row(island_.x.data(), size_t(island_.total), x_stage_[stage].data());
    double* k = k_[stage].data();
    for (int i = 0; i < n; ++i) k[i] = a * (island_.q[i] - charge_[i]) - sum_[i];
    if (stage == last) copy_row(island_.q.data(), size_t(island_.total), charge_new_.data());
  }
  copy_row(x_stage_[last].data(), size_t(island_.total), x_new_.data());
  error_ = island_.stores ? estimate_error(a) : 0;
  if (!std::isfinite(error_)) return Outcome::kNoConvergence;
  return error_ <= 1 ? Outcome::kGood : Outcome::kTooCoarse;
}

// The largest error of the attempted step beside what is allowed; infinite when there is none to be had.
double Motion::estimate_error(double a) {
  const int n = island_.size;
  double* e = island_.row_error.data();
  for (int i = 0; i < n; ++i) e[i] = 0;
  for (int j = 0; j < table_->stages; ++j) {
    const double weight = table_->error[j] / table_->gamma;
    const double* k = k_[j].data();
    for (int i = 0; i < n; ++i) e[i] += weight * k[i];
  }
  for (const Knot& knot : island_.knots)
    if (!knot.charged) e[knot.tied] = 0;
  if (island_.factored_a != a || island_.factored_settled) {
    island_.evaluate(a, true);
    island_.tie_knots(false, sum_.data(), true);
    if (island_.solver.factor(island_.matrix.data()) >= 0) return kInfinite;
    island_.factored_a = a, island_.factored_settled = false;
  }
  island_.solver.solve(e);
  const double worst = worst_error(e);
  if (!(a * table_->gamma * kNoisy > 1 && worst > kNoMatter)) return worst;
  Row<double>& error = sum_;
  copy_row(e, size_t(n), error.data());
  for (int i = 0; i < n; ++i) e[i] = kRounding * a * (std::fabs(charge_[i]) + std::fabs(charge_new_[i]));
  take_off_noise(error.data());
  return clearly_less(worst, worst_error(error.data()));
}

// Metal that next to nothing joins to the rest is moved far by the rounding of charges, and the farther the shorter the step, which is then
// never short enough. island_.row_error: that rounding over the step's length [A]. What it makes of the voltages is no error of the step.
[[gnu::cold]] void Motion::take_off_noise(double* e, double scale) {
  double* const noise = island_.row_error.data();
  island_.solver.solve(noise);
  for (int i = 0; i < island_.size; ++i) {
    const double most = std::fabs(scale * noise[i]);
    if (std::isfinite(most)) e[i] -= std::clamp(e[i], -most, most);
  }
}

double Motion::worst_error(const double* e) {
  const int n = island_.size;
  double worst = 0, sum = 0;
  for (int i = 0; i < n; ++i) {
    const double ratio = std::fabs(e[i]) / tolerance(i, x_new_[i]);
    if (!(ratio <= worst)) worst = ratio, stuck_row_ = i;
    sum += ratio * ratio;
  }
  // A capacitor between two moving nodes is a signal of its own, often a much smaller one.
  const auto capacitors = island_.capacitances();
  const auto error_at = [&](int i) { return i < n ? e[i] : 0.0; };
  for (size_t k = 0; k < capacitors.size(); ++k) {
    const double ratio =
        std::fabs(error_at(capacitors[k].a) - error_at(capacitors[k].b)) / voltage_tolerance(capacitor_scale_[k]);
    if (!(ratio <= worst)) worst = ratio;
    sum += ratio * ratio;
  }
  if (!std::isfinite(sum)) return kInfinite;
  const double signals = n + double(capacitors.size());
  return signals <= kFew ? worst : std::clamp(std::sqrt(sum * kFew / signals), kLocalShare * worst, worst);
}

void Motion::accept(double h) {
  if (by_rosenbrock_) points_on_the_way();
  count_step(h);
  if (!by_rosenbrock_) {
    early_at_ = table_->c[table_->early], late_at_ = table_->c[table_->late];
    std::swap(x_early_, x_stage_[table_->early]);
    std::swap(x_late_, x_stage_[table_->late]);
    std::swap(k_[0], k_[table_->stages - 1]);
  }
  std::swap(x_before_, x_);
  std::swap(x_, x_new_);
  std::swap(charge_, charge_new_);
  slope_known_ = !by_rosenbrock_;
  curved_known_ = by_rosenbrock_;
  if (by_rosenbrock_) std::swap(curved_, curved_new_);
  linearised_ = false;
  rate_from_ = RateFrom::kStep;
  direction_known_ = carried_ = false;
  last_step_ = h;
  calm_step_ = std::max(calm_step_ - 0.1 * h, h);
  watch_leaving(h);
  ++steps_;
  note_scales();
}

Motion::Weights Motion::weights_at(double time) const {
  if (rate_from_ != RateFrom::kStep || !(last_step_ > 0)) return {0, 0, 0, 1};
  const double u = 1 + (time - time_) / last_step_;
  if (carried_) return {1 - u, 0, 0, u};
  const double e = early_at_, l = late_at_;
  return {(u - e) * (u - l) * (u - 1) / (-e * l), u * (u - l) * (u - 1) / (e * (e - l) * (e - 1)),
          u * (u - e) * (u - 1) / (l * (l - e) * (l - 1)), u * (u - e) * (u - l) / ((1 - e) * (1 - l))};
}

double Motion::next_sample() const { return (std::floor(time_ / sampled_every - 0.5 + 1e-9) + 1.5) * sampled_every; }

}  // namespace tiepoint
