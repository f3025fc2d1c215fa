#include "engine/solver/motion.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/devices/source.h"
#include "engine/solver/stability.h"

namespace tiepoint {
namespace {

constexpr double kLocalShare = 0.2;  // a step may err by this share of the tolerance, so that the sum of steps stays within it
constexpr double kSpanShare = 0.1;   // a small signal is judged as if it were this share of the island's largest voltage
constexpr double kSmallCurrent = 1e-9;  // [A] absolute tolerance of unknown currents
constexpr double kStageShare = 0.2;     // of a step's tolerance: how well its stages are solved
constexpr int kStepIterations = 8;      // Newton iterations of a stage before the step is shortened
constexpr double kAway = 1e-2;          // of the same: far enough from the balance to be left to the error control
constexpr double kMostGrowth = 10;      // from one step to the next
constexpr int kMostModeChanges = 20;    // at one instant
constexpr double kNoise = 1e-6;         // of the island's largest voltage, to tip over what stands in an unstable balance

constexpr double kFastestLeaving = 3e11;  // [1/s] what leaves a balance faster than that is not followed but falls
constexpr int kIterationsOfStep = 10;     // what a restart needs counts as steps
constexpr double kLeaps[] = {1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7};  // [s]
constexpr double kLeftOver = 1e-7;  // of the currents of a node, that no direction of motion accounts for

constexpr double kReadable = 1e-9;  // [A] less than that no reading shows

constexpr double kInfinite = std::numeric_limits<double>::infinity();

}  // namespace

std::span<const double> HeldVoltages::at(const Island& island, double time, double since) {
  for (const int h : island.held_needed) {
    const HeldNode& node = plan_.held[h];
    value_[h] =
        node.parent < 0 ? 0 : value_[node.parent] + node.sign * waveform_value(parameters_.of(node.source), time, since);
  }
  return value_;
}

Motion::Motion(Island& island, HeldVoltages& held, const SolverOptions& options)
    : island_(island), held_(held), options_(options), table_(&esdirk4()) {
  for (auto* v : {&charge_, &charge_new_, &sum_, &enough_, &scale_}) v->assign(island.total, 0);
  for (auto* v : {&x_, &x_new_, &x_before_, &x_early_, &x_late_, &direction_}) v->assign(island.total, 0);
  for (int k = 0; k < table_->stages; ++k) k_[k].assign(island.total, 0), x_stage_[k].assign(island.total, 0);
}

bool Motion::at_rest() const { return still_ && corner_ == kInfinite; }

// --- States -----------------------------------------------------------------------------------------------------------------

void Motion::take_state(double time, RateFrom from) {
  time_ = time;
  rate_from_ = from;
  x_ = island_.x;
  charge_ = island_.q;
  corner_ = island_.next_corner();
  last_step_ = 0;
  balanced_ = leaving_ = calm_step_ = 0;
  direction_known_ = from != RateFrom::kStep;
  told_here_ = false;
  propagator_.forget();
  rest_wait_ = 0, rest_interval_ = 1;
  growth_ = kMostGrowth;
  note_scales();
}

NewtonResult Motion::settle(double time) {
  NewtonResult result;
  for (int k = 0; k < kMostModeChanges; ++k) {
    island_.refresh(*island_.parameters, time);
    prepare(time);
    result = solve_stubbornly(island_, {.settled = true}, options_, held_.at(island_, time, time));
    if (!result.ok) return result;
    take_state(time, RateFrom::kStill);
    if (k + 1 == kMostModeChanges || !(change_modes() || end_modes(std::numeric_limits<double>::max()))) break;
  }
  result.worst = unbalanced_knot();
  if (result.worst >= 0) return result.ok = false, result;
  std::fill(k_[0].begin(), k_[0].end(), 0.0);
  still_ = !island_.moving();
  balanced_ = still_ ? growth_rate(island_) : 0;
  if (balanced_ > 0) {
    still_ = false;
  } else if (!still_) {
    // The sources move on from here; charges are where the settled state put them.
    const NewtonResult moving = restart(time);
    if (!moving.ok) return moving;
    result.iterations += moving.iterations;
  }
  return result;
}

NewtonResult Motion::restart(double time, const std::vector<double>& charges) {
  NewtonResult result;
  const std::vector<double> start = charges;
  end_modes(time + 1e-12 * std::fabs(time));
  for (int k = 0; k < kMostModeChanges; ++k) {
    island_.refresh(*island_.parameters, time);
    double h0 = 1e-9;
    result = restart_with(time, start, h0);
    for (int finer = 0; result.ok && island_.stores && (wish_ < 1e4 * h0 || left_over_ > kLeftOver) && h0 > 1e-14 && finer < 4;
         ++finer) {
      h0 = std::max(1e-14, std::min(1e-2 * h0, 1e-5 * wish_));
      result = restart_with(time, start, h0);
    }
    if (result.ok && unbalanced_knot() >= 0) result.ok = false, result.worst = unbalanced_knot();
    if (!result.ok || k + 1 == kMostModeChanges || !change_modes()) return result;
  }
  return result;
}

// A knot's currents sum to zero by structure, unless a current source drives it: then no voltage is right. The tied row, or -1.
int Motion::unbalanced_knot() const {
  for (const Knot& knot : island_.knots) {
    if (knot.charged && rate_from_ != RateFrom::kStill) continue;
    double sum = 0, largest = 0;
    for (const int row : knot.rows) sum += island_.f[row], largest = std::max(largest, island_.mag[row]);
    if (!(std::fabs(sum) <= options_.residual_current + 1e-9 * largest)) return knot.rows[0];
  }
  return -1;
}

// An implicit Euler step of next to no length h0: charges all but stay, all else follows. Then, from that point, the
// direction of motion by a linear solve, (a C + G) delta = -f, dx/dt = delta / h0: no difference of nearly equal charges is
// taken. The point is put back by h0 along it, and the direction refined there until f + C dx/dt = 0.
NewtonResult Motion::restart_with(double time, const std::vector<double>& charges, double h0) {
  const double a = 1 / h0;
  const double soon = island_.stores ? time + h0 : time;
  prepare(soon);
  std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
  const NewtonResult result =
      solve_stubbornly(island_, {.a = a, .charge_before = charges.data()}, options_, held_.at(island_, soon, island_.since));
  extra_iterations_ += result.iterations;
  if (!result.ok) return result;
  island_.evaluate_exactly();
  if (!island_.stores) {
    take_state(time, RateFrom::kStill);
    still_ = !island_.moving();
    wish_ = options_.longest_step;
    return result;
  }
  charge_ = island_.q;
  x_late_ = island_.x;

  prepare(time + 2 * h0);
  island_.last_from_x();
  island_.evaluate(a, true);
  double* r = island_.row_error.data();
  for (int i = 0; i < island_.size; ++i) r[i] = island_.f[i] + a * (island_.q[i] - charge_[i]);
  island_.tie_knots(false, r, true);
  island_.factored_a = std::numeric_limits<double>::quiet_NaN();
  std::fill(direction_.begin(), direction_.end(), 0.0);
  if (const int column = island_.solver.factor(island_.matrix.data()); column >= 0) return {.worst = column};
  island_.solver.solve(r);
  for (int i = 0; i < island_.size; ++i) direction_[i] = std::isfinite(r[i]) ? -r[i] * a : 0;
  for (int i = island_.size; i < island_.total; ++i) direction_[i] = (island_.x[i] - x_late_[i]) * a;

  prepare(time);
  for (int i = 0; i < island_.size; ++i) island_.x[i] -= h0 * direction_[i];
  island_.evaluate_exactly();
  refine_direction(a, 2);
  island_.charge_rate(direction_.data(), k_[0].data());
  take_state(time, RateFrom::kDirection);
  still_ = false;
  wish_ = first_step();
  return result;
}

// Makes f + (dq/dx) direction = 0 with the present factors, which belong to `a`, at island_.x.
void Motion::refine_direction(double a, int times) {
  double* r = island_.row_error.data();
  for (int refinement = 0; refinement < times; ++refinement) {
    island_.charge_rate(direction_.data(), sum_.data());
    for (int i = 0; i < island_.size; ++i) r[i] = island_.f[i] + sum_[i];
    for (const Knot& knot : island_.knots)
      if (!knot.charged) r[knot.rows[0]] = 0;
    island_.solver.solve(r);
    for (int i = 0; i < island_.size; ++i)
      if (std::isfinite(r[i])) direction_[i] -= r[i] * a;
  }
  island_.charge_rate(direction_.data(), sum_.data());
  left_over_ = 0;
  for (int i = 0; i < island_.node_count; ++i) {
    const double current = std::fabs(island_.f[i] + sum_[i]);
    if (current > kReadable) left_over_ = std::max(left_over_, current / (island_.mag[i] + std::fabs(sum_[i])));
  }
}

// --- Error control
// ------------------------------------------------------------------------------------------------------------

void Motion::note_scales() {
  for (int i = 0; i < island_.size; ++i) scale_[i] = std::max(scale_[i], std::fabs(x_[i]));
  for (int i = 0; i < island_.node_count; ++i) largest_voltage_ = std::max(largest_voltage_, scale_[i]);
  for (int i = island_.size; i < island_.total; ++i) largest_voltage_ = std::max(largest_voltage_, std::fabs(x_[i]));
  const auto capacitors = island_.capacitances();
  if (capacitor_scale_.size() != capacitors.size()) capacitor_scale_.assign(capacitors.size(), 0.0);
  for (size_t k = 0; k < capacitors.size(); ++k)
    capacitor_scale_[k] = std::max(capacitor_scale_[k], std::fabs(x_[capacitors[k].a] - x_[capacitors[k].b]));
}

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
    points[count++] = {-last_step_ * (1 - table_->c[table_->late]), x_late_.data()};
  } else if (rate_from_ == RateFrom::kStep) {
    points[count++] = {-last_step_ * (1 - table_->c[table_->late]), x_late_.data()};
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
  const StageTable& table = *table_;
  const int n = island_.size, last = table.stages - 1;
  const double a = 1 / (h * table.gamma);
  for (int i = 0; i < n; ++i) enough_[i] = kStageShare * tolerance(i, x_[i]);
  for (int stage = 1; stage <= last; ++stage) {
    prepare(time_ + table.c[stage] * h);
    predict(stage, h);
    for (int i = 0; i < n; ++i) sum_[i] = 0;
    for (int j = 0; j < stage; ++j) {
      const double weight = table.a[stage][j] / table.gamma;
      if (weight == 0) continue;
      const double* k = k_[j].data();
      for (int i = 0; i < n; ++i) sum_[i] += weight * k[i];
    }
    const NewtonResult result =
        newton(island_,
               {.a = a,
                .charge_before = charge_.data(),
                .rate_before = sum_.data(),
                .enough = options_.exact_stages || (exactly && stage == last) ? nullptr : enough_.data()},
               options_, kStepIterations);
    if (!result.ok) return stuck_row_ = result.worst, Outcome::kNoConvergence;
    std::copy(island_.x.begin(), island_.x.end(), x_stage_[stage].begin());
    double* k = k_[stage].data();
    for (int i = 0; i < n; ++i) k[i] = a * (island_.q[i] - charge_[i]) - sum_[i];
  }
  std::copy(island_.x.begin(), island_.x.end(), x_new_.begin());
  std::copy(island_.q.begin(), island_.q.end(), charge_new_.begin());
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
    if (!knot.charged) e[knot.rows[0]] = 0;
  if (island_.factored_a != a || island_.factored_settled) {
    island_.evaluate(a, true);
    island_.tie_knots(false, sum_.data(), true);
    if (island_.solver.factor(island_.matrix.data()) >= 0) return kInfinite;
    island_.factored_a = a, island_.factored_settled = false;
  }
  island_.solver.solve(e);
  double worst = 0;
  for (int i = 0; i < n; ++i) {
    const double ratio = std::fabs(e[i]) / tolerance(i, x_new_[i]);
    if (!(ratio <= worst)) worst = ratio, stuck_row_ = i;
  }
  // A capacitor between two moving nodes is a signal of its own, often a much smaller one.
  const auto capacitors = island_.capacitances();
  const auto error_at = [&](int i) { return i < n ? e[i] : 0.0; };
  for (size_t k = 0; k < capacitors.size(); ++k) {
    const double ratio =
        std::fabs(error_at(capacitors[k].a) - error_at(capacitors[k].b)) / voltage_tolerance(capacitor_scale_[k]);
    if (!(ratio <= worst)) worst = ratio;
  }
  return std::isfinite(worst) ? worst : kInfinite;
}

void Motion::accept(double h) {
  count_step(h);
  std::swap(x_before_, x_);
  std::swap(x_early_, x_stage_[table_->early]);
  if (table_->late != table_->early)
    std::swap(x_late_, x_stage_[table_->late]);
  else
    x_late_ = x_early_;
  std::swap(x_, x_new_);
  std::swap(charge_, charge_new_);
  std::swap(k_[0], k_[table_->stages - 1]);
  rate_from_ = RateFrom::kStep;
  direction_known_ = carried_ = false;
  last_step_ = h;
  calm_step_ = std::max(calm_step_ - 0.1 * h, h);
  watch_leaving(h);
  ++steps_;
  note_scales();
}

double Motion::between(double time, int row) const {
  if (rate_from_ != RateFrom::kStep || !(last_step_ > 0)) return x_[row];
  const double u = 1 + (time - time_) / last_step_;
  if (carried_) return x_before_[row] + u * (x_[row] - x_before_[row]);
  const double e = table_->c[table_->early], l = table_->c[table_->late];
  if (table_->early == table_->late)
    return x_before_[row] * (u - l) * (u - 1) / l + x_late_[row] * u * (u - 1) / (l * (l - 1)) +
           x_[row] * u * (u - l) / (1 - l);
  return x_before_[row] * (u - e) * (u - l) * (u - 1) / (-e * l) +
         x_early_[row] * u * (u - l) * (u - 1) / (e * (e - l) * (e - 1)) +
         x_late_[row] * u * (u - e) * (u - 1) / (l * (l - e) * (l - 1)) + x_[row] * u * (u - e) * (u - l) / ((1 - e) * (1 - l));
}

double Motion::next_sample() const { return (std::floor(time_ / sampled_every - 0.5 + 1e-9) + 1.5) * sampled_every; }

// A linear island is carried to `end` in one go, from sample to sample when somebody looks on. False when it cannot be.
bool Motion::carry(double end) {
  if (!island_.linear || leaving_ > 0 || !counts_.empty() || (on_step && !(samples_only && sampled_every > 0))) return false;
  if (!propagator_.ready() && !propagator_.take(island_)) return false;
  const auto to = [this](double t) { prepare(t); };
  if (!propagator_.begin(island_, time_, end, to)) return false;
  const double start = time_;
  const bool moving = island_.moving();
  x_new_ = x_;
  rate_from_ = RateFrom::kStill;  // who looks on sees x() itself
  while (time_ < end) {
    double stop = end;
    if (on_step) {
      const double next = next_sample();
      if (next < end - 1e-9 * sampled_every) stop = next;
    }
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

// --- What is delivered
// --------------------------------------------------------------------------------------------------------

Motion::Delivered Motion::flow(const Member& member, const std::vector<double>& x) const {
  double f[kMaxLocal], q[kMaxLocal];
  island_.evaluate_member(member, x.data(), f, q);
  Delivered out = {-f[0], 0};
  for (int k = 0; k < member.terminals; ++k) out.energy -= f[k] * x[island_.maps[member.map + k]];
  return out;
}

// Of the step about to be accepted, with its own weights, so that what one element delivers is what the others take up.
void Motion::count_step(double h) {
  for (Count& c : counts_) {
    const Member& member = island_.members[c.member];
    const int last = table_->stages - 1;
    for (int stage = 0; stage <= last; ++stage) {
      const double weight = h * table_->a[last][stage];
      if (weight == 0) continue;
      const Delivered now = flow(member, stage == 0 ? x_ : x_stage_[stage]);
      c.sum.charge += weight * now.charge;
      c.sum.energy += weight * now.energy;
    }
  }
}

void Motion::count_steady(double seconds) {
  for (Count& c : counts_) {
    const Delivered now = flow(island_.members[c.member], x_);
    c.sum.charge += seconds * now.charge;
    c.sum.energy += seconds * now.energy;
  }
}

const Motion::Delivered* Motion::delivered(int member) const {
  for (const Count& c : counts_)
    if (c.member == member) return &c.sum;
  return nullptr;
}

// --- Stepping
// -----------------------------------------------------------------------------------------------------------------

// The length of the next step on the way to `end`. A linear island keeps the one it has, and with it the factors of its matrix,
// as long as that is near what the error control would like.
double Motion::next_step(double end) {
  const double most = std::min(options_.longest_step, island_.longest_step());
  const double remaining = end - time_;
  wish_ = std::min(wish_, leaving_ > 0 ? std::min(most, 0.3 / leaving_) : most);
  if (wish_ >= remaining * (1 - 1e-9)) return remaining;
  const double whole = remaining / last_step_;
  if (island_.linear && last_step_ > 0 && last_step_ <= wish_ && last_step_ > 0.4 * wish_ &&
      std::fabs(whole - std::round(whole)) < 1e-6 * whole)
    return last_step_;
  if (island_.linear || wish_ > 0.5 * remaining) return remaining / std::ceil(remaining / wish_);
  return wish_;
}

bool Motion::step_to(double end, long* budget) {
  while (time_ < end) {
    if (*budget <= 0) return true;
    if (end - time_ <= std::max(4e-16 * std::fabs(end), options_.shortest_step)) break;  // no step is that short: it is there
    *budget -= 1 + std::exchange(extra_iterations_, 0) / kIterationsOfStep;
    if (!told_here_) told();  // where a restart has brought it
    if (carry(end)) {
      told();
    } else {
      if (leaving_ > kFastestLeaving) {
        leaving_ = 0;
        if (!leap(end)) return false;
        told();
        continue;
      }
      double h = next_step(end);
      const bool to_end = h >= end - time_;
      if (h < options_.shortest_step) return false;
      Outcome outcome = attempt(h, to_end);
      if (outcome == Outcome::kGood && crosses_event()) {
        outcome = locate_event(&h, budget);
        if (outcome == Outcome::kGood) {
          accept(h);
          time_ = std::min(time_ + h, end);
          told();
          if (change_modes() && !restart(time_).ok) return false;
          if (corner_ < end) return true;  // a mode that ends by itself has begun
          continue;
        }
      }
      if (outcome != Outcome::kGood) {
        ++rejected_;
        wish_ =
            outcome == Outcome::kNoConvergence ? h / 5 : h * std::clamp(0.8 / std::pow(error_, 1 / table_->order), 0.1, 0.5);
        growth_ = outcome == Outcome::kNoConvergence ? 1.5 : 2;
        const double jump_step = jump_share() * calm_step_;
        if (!island_.linear && wish_ < jump_step && time_ + jump_step < end) {
          if (!jump(jump_step) && !leap(end)) return false;
          told();
        } else if (wish_ < options_.shortest_step) {
          if (!leap(end)) return false;
          told();
        }
        continue;
      }
      accept(h);
      time_ = to_end ? end : time_ + h;
      told();
      wish_ = h * std::clamp(0.8 / std::pow(std::max(error_, 1e-12), 1 / table_->order), 0.3, growth_);
      growth_ = std::min(2 * growth_, kMostGrowth);
    }
    try_rest();
    if (still_) {
      count_steady(end - time_);
      return time_ = end, true;
    }
  }
  time_ = end;
  return true;
}

bool Motion::pass_corner() {
  const double corner = corner_;
  return restart(corner).ok;
}

// An island that stores nothing has no history: it is solved where it is looked at.
bool Motion::solve_at(double time) {
  NewtonResult result;
  if (corner_ <= time) {
    result = restart(time);
  } else {
    prepare(time);
    std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
    result = solve_stubbornly(island_, {}, options_, held_.at(island_, time, island_.since));
    if (result.ok) take_state(time, RateFrom::kStill);
  }
  stuck_row_ = result.worst;
  return result.ok;
}

bool Motion::advance(double target, long* budget) {
  if (balanced_ > 0 && !tip_over(balanced_)) return false;
  const double slack = 1e-12 * std::fabs(target);
  while (time_ < target) {
    if (still_ && corner_ > target + slack) {
      count_steady(target - time_);
      return time_ = target, true;
    }
    if (!island_.stores && !island_.has_modes && !still_) {
      const bool sampled = on_step && sampled_every > 0;
      const double to = sampled ? std::min({target, next_sample(), corner_}) : target;
      const double half = 0.5 * (to - time_);
      --*budget;
      count_steady(half);
      if (!solve_at(to)) return false;
      count_steady(half);
      told();
      if (*budget <= 0) return true;
      continue;
    }
    const double end = std::min(corner_, target);
    if (still_) {
      count_steady(end - time_);
      time_ = end;
    } else if (!step_to(end, budget)) {
      return false;
    }
    if (time_ < end) {
      if (*budget <= 0) return true;
      continue;  // the next corner has come nearer
    }
    if (corner_ <= time_ + slack) {  // an event on the way may have put off the corner that was ahead
      told();
      if (!pass_corner()) return false;
    }
  }
  return true;
}

// --- Events
// -------------------------------------------------------------------------------------------------------------------

namespace {

// The largest of a state's event functions; crossing zero from below asks for a change of mode.
double largest_event_at(const Island& island, const std::vector<double>& x) {
  double largest = -kInfinite;
  double local[kMaxLocal];
  for (const Member& member : island.members) {
    for (int k = 0; k < member.m && member.model->events > 0; ++k) local[k] = x[island.maps[member.map + k]];
    for (int k = 0; k < member.model->events; ++k)
      largest = std::max(largest, member.model->event(island.values(member), local, island.instant(member), k));
  }
  return largest;
}

}  // namespace

bool Motion::crosses_event() const { return island_.has_modes && largest_event_at(island_, x_new_) >= 0; }

// Regula falsi with the Illinois rule on the length of the step, to 1e-9 of it.
Motion::Outcome Motion::locate_event(double* h, long* budget) {
  double low = 0, high = *h;
  double at_low = largest_event_at(island_, x_), at_high = largest_event_at(island_, x_new_);
  if (at_low >= 0) return Outcome::kGood;
  for (int k = 0; k < 60 && high - low > 1e-9 * *h; ++k) {
    double middle = high - at_high * (high - low) / (at_high - at_low);
    middle = std::clamp(middle, low + 1e-10 * *h, high - 1e-10 * *h);
    --*budget;
    const Outcome outcome = attempt(middle, false);
    if (outcome == Outcome::kNoConvergence) return outcome;
    const double value = largest_event_at(island_, x_new_);
    if (value >= 0) {
      high = middle, at_high = value;
      at_low /= 2;
      if (value == 0) break;
    } else {
      low = middle, at_low = value;
      at_high /= 2;
    }
  }
  *h = high;
  const Outcome outcome = attempt(high, true);
  return outcome == Outcome::kTooCoarse ? Outcome::kGood : outcome;
}

bool Motion::change_modes() {
  bool changed = false;
  double local[kMaxLocal];
  if (!island_.has_modes) return false;
  for (Member& member : island_.members) {
    if (member.model->events == 0) continue;
    for (int k = 0; k < member.m; ++k) local[k] = x_[island_.maps[member.map + k]];
    const Instant at = island_.instant(member);
    for (int k = 0; k < member.model->events; ++k) {
      if (member.model->event(island_.values(member), local, at, k) < 0) continue;
      member.enter(member.model->next_mode(island_.values(member), local, at), time_);
      changed = true;
      break;
    }
  }
  return changed;
}

// Modes that have lasted their time by `until` give way to the ones after.
bool Motion::end_modes(double until) {
  bool changed = false;
  if (!island_.has_modes) return false;
  for (Member& member : island_.members) {
    const double end = Island::mode_end(member, island_.values(member));
    if (!(end <= until)) continue;
    member.enter(member.model->after(island_.values(member), member.mode), std::min(end, until));
    changed = true;
  }
  return changed;
}

// --- Rest
// ---------------------------------------------------------------------------------------------------------------------

// Where a step hardly moved anything the settled state may be at hand. It is when the settled equations put every unknown
// within the noise of where it is; then the island is set there and not stepped any more.
void Motion::try_rest() {
  if (island_.moving() || leaving_ > 0 || ++rest_wait_ < rest_interval_) return;
  for (int i = 0; i < island_.size; ++i)
    if (!carried_ && std::fabs(x_[i] - x_before_[i]) > tolerance(i, x_[i])) return;
  rest_wait_ = 0;
  rest_interval_ = std::min(2 * rest_interval_, 64);
  std::copy(x_.begin(), x_.end(), island_.x.begin());
  island_.remember_knot_charges();
  const NewtonResult result = newton(island_, {.settled = true}, options_, kStepIterations);
  bool near = result.ok;
  for (int i = 0; near && i < island_.size; ++i) {
    const double noise =
        i < island_.node_count ? options_.absolute_voltage + 1e-6 * largest_voltage_ : kSmallCurrent + 1e-6 * scale_[i];
    near = std::fabs(island_.x[i] - x_[i]) <= noise;
  }
  near = near && !(island_.has_modes && largest_event_at(island_, island_.x) >= 0);  // on the way there something happens
  if (!near) {
    std::copy(x_.begin(), x_.end(), island_.x.begin());
    island_.last_from_x();
    return;
  }
  x_ = island_.x;
  charge_ = island_.q;
  if (const double rate = growth_rate(island_); rate > 0) {
    tip_over(rate);
    return;
  }
  std::fill(k_[0].begin(), k_[0].end(), 0.0);
  rate_from_ = RateFrom::kStill;
  still_ = true;
}

// In life noise leaves no circuit in a balance it cannot keep. Every node is moved by about a millionth of the island's span,
// each by a share of its own, and the charges that belong to that are the new start. Until it is well away its steps must be
// shorter than the time it takes to leave: a longer implicit step would damp what grows.
bool Motion::tip_over(double rate) {
  balance_ = x_;
  prepare(time_);
  std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
  for (int i = 0; i < island_.node_count; ++i) {
    const double share = std::fmod(0.6180339887498949 * (i + 1), 1.0);  // golden section: no two nearby nodes alike
    island_.x[i] += kNoise * largest_voltage_ * (share - 0.5);
  }
  island_.evaluate_exactly();
  const bool ok = restart(time_, std::vector<double>(island_.q)).ok;
  leaving_ = rate;
  left_by_ = 0;
  return ok;
}

// Follows how fast it really leaves: a junction soon slows down what begins exponentially.
void Motion::watch_leaving(double h) {
  if (leaving_ == 0) return;
  double distance = 0;
  for (int i = 0; i < island_.node_count; ++i) distance = std::max(distance, std::fabs(x_[i] - balance_[i]));
  if (distance > left_by_ && left_by_ > 0) leaving_ = std::max(std::log(distance / left_by_) / h, 0.5 * leaving_);
  left_by_ = distance;
  if (distance > kAway * largest_voltage_) leaving_ = 0;
}

// Of the calm steps: where an ever shorter step is not followed any further.
double Motion::jump_share() const { return std::clamp(0.1 * options_.relative_tolerance, 1e-7, 1e-4); }

// A regenerative circuit comes to a point where the state it follows ends and another begins that is not near. Following the
// fall itself would take steps no eye can see: time goes on by a little (next to the calm steps before), charges by what flows
// in it, and the other state is found by falling into it.
bool Motion::jump(double h) {
  prepare(time_ + h);
  std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
  island_.last_from_x();
  const StageEquation equation = {.a = 1 / h, .charge_before = charge_.data()};
  NewtonResult result = solve_by_falling(island_, equation, options_);
  if (!result.ok) {
    std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
    island_.last_from_x();
    result = solve_stubbornly(island_, equation, options_, held_.at(island_, time_ + h, island_.since));
  }
  extra_iterations_ += result.iterations;
  if (!result.ok) return prepare(time_), false;
  island_.evaluate_exactly();
  const std::vector<double> before = x_;
  x_ = island_.x;  // guess
  const double calm = calm_step_ / 8;
  const bool ok = restart(time_ + h, std::vector<double>(island_.q)).ok;
  if (!ok) x_ = before;
  calm_step_ = calm;
  return ok;
}

// Where no step is short enough for the error control or for Newton's method: the shortest implicit Euler step that can be
// solved at all.
bool Motion::leap(double end) {
  for (const double h : kLeaps) {
    if (jump(std::min(h, end - time_))) return true;
    if (h >= end - time_) break;
  }
  return false;
}

// --- What it shows
// --------------------------------------------------------------------------------------------------------------

// At the end of a step the direction is not known yet. A short implicit step's matrix finds it, as at a restart.
void Motion::show() {
  prepare(time_);
  if (direction_known_ || rate_from_ != RateFrom::kStep) return;
  direction_known_ = true;
  const double inverse = 1 / last_step_;
  for (int i = 0; i < island_.total; ++i) direction_[i] = (x_[i] - x_before_[i]) * inverse;
  std::copy(x_.begin(), x_.begin() + island_.size, island_.x.begin());
  held_rates();
  // The shorter the step, the stiffer the charge whose direction it tells.
  double a = 1e5 * inverse;
  for (int finer = 0; finer < 4 && a < 1e16; ++finer, a *= 1e3) {
    island_.last_from_x();
    island_.evaluate(a, true);
    island_.tie_knots(false, sum_.data(), true);
    island_.factored_a = std::numeric_limits<double>::quiet_NaN();
    if (island_.solver.factor(island_.matrix.data()) >= 0) return;
    refine_direction(a, 4);
    if (left_over_ <= kLeftOver) return;
  }
}

// Rates of the held voltages, on the present piece of their waveforms.
void Motion::held_rates() {
  const double soon = 1e-6 * last_step_;
  prepare(time_ - soon);
  for (int i = island_.size; i < island_.total; ++i) direction_[i] = -island_.x[i];
  prepare(time_);
  for (int i = island_.size; i < island_.total; ++i) direction_[i] = (direction_[i] + island_.x[i]) / soon;
}

void Motion::currents(const Member& member, double* current) const {
  double f[kMaxLocal], q[kMaxLocal], rate_of[kMaxLocal];
  island_.evaluate_member(member, x_.data(), f, q);
  std::fill(rate_of, rate_of + member.m, 0.0);
  if (member.model->stores && rate_from_ != RateFrom::kStill)
    island_.member_charge_rate(member, x_.data(), direction_.data(), rate_of);
  for (int k = 0; k < member.terminals; ++k) current[k] = f[k] + rate_of[k];
}

}  // namespace tiepoint
