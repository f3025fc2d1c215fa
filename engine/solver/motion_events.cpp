#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/solver/motion.h"
#include "engine/solver/stability.h"

namespace tiepoint {
namespace {

constexpr double kAway = 1e-2;   // of the same: far enough from the balance to be left to the error control
constexpr double kMostGrowths = 100;
constexpr double kNoise = 1e-6;  // of the island's largest voltage, to tip over what stands in an unstable balance
constexpr double kLeaps[] = {1e-12, 1e-11, 1e-10, 1e-9, 1e-8, 1e-7};  // [s]
constexpr double kInfinite = std::numeric_limits<double>::infinity();

}  // namespace

// --- Events
// -------------------------------------------------------------------------------------------------------------------

namespace {

// The largest of a state's event functions; crossing zero from below asks for a change of mode.
double largest_event_at(const Island& island, const Row<double>& x) {
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
  if (!stays_ && largest_voltage_ > options_.absolute_voltage) {  // where there is nothing, nothing grows
    if (const double rate = growth_rate(island_); rate > 0) {
      tip_over(rate);
      return;
    }
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
  const bool ok = restart(time_, island_.q).ok;
  leaving_ = rate;
  left_by_ = left_for_ = 0;
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
  // From a millionth to a hundredth it takes nine times of growth by e. What has not left in many more does not.
  if (leaving_ > 0 && (left_for_ += leaving_ * h) > kMostGrowths) leaving_ = 0, stays_ = true;
}

// Of the calm steps: where an ever shorter step is not followed any further.
double Motion::jump_share() const { return std::clamp(0.1 * options_.relative_tolerance, 1e-7, 1e-4); }

// A regenerative circuit comes to a point where the state it follows ends and another begins that is not near. Following the
// fall itself would take steps no eye can see: time goes on by a little (next to the calm steps before), charges by what flows
// in it, and the other state is found by falling into it.
bool Motion::jump(double h) {
  linearised_ = false;
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
  const Row<double> before = x_;
  x_ = island_.x;  // guess
  const double calm = calm_step_ / 8;
  const bool ok = restart(time_ + h, island_.q).ok;
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

}  // namespace tiepoint
