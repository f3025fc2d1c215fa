#include "engine/solver/motion.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/devices/source.h"
#include "engine/solver/stability.h"

namespace tiepoint {
namespace {

constexpr double kMostGrowth = 10;  // from one step to the next
constexpr int kDistrustedSteps = 6;
constexpr double kSafety = 0.8;
constexpr int kMostModeChanges = 20;  // at one instant

constexpr double kFastestLeaving = 3e11;  // [1/s] what leaves a balance faster than that is not followed but falls
constexpr int kIterationsOfStep = 10;     // what a restart needs counts as steps
constexpr double kLeftOver = 1e-7;        // of the currents of a node, that no direction of motion accounts for

constexpr double kSlow = 1e4;  // times the step of a restart: what moves no faster than in that is seen in it

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
  x_.assign(island.total, 0), scale_.assign(island.total, 0);
}

// What only steps need: an operating point does without.
void Motion::make_room() {
  if (!sum_.empty()) return;
  for (auto* v : {&charge_new_, &sum_, &enough_, &x_new_, &x_before_, &x_early_, &x_late_, &direction_})
    v->assign(island_.total, 0);
  for (int k = 0; k < table_->stages; ++k) k_[k].assign(island_.total, 0), x_stage_[k].assign(island_.total, 0);
}

void Motion::note_scales() {
  for (int i = 0; i < island_.size; ++i) scale_[i] = std::max(scale_[i], std::fabs(x_[i]));
  for (int i = 0; i < island_.node_count; ++i) largest_voltage_ = std::max(largest_voltage_, scale_[i]);
  for (int i = island_.size; i < island_.total; ++i) largest_voltage_ = std::max(largest_voltage_, std::fabs(x_[i]));
  const auto capacitors = island_.capacitances();
  if (capacitor_scale_.size() != capacitors.size()) capacitor_scale_.assign(capacitors.size(), 0.0);
  for (size_t k = 0; k < capacitors.size(); ++k)
    capacitor_scale_[k] = std::max(capacitor_scale_[k], std::fabs(x_[capacitors[k].a] - x_[capacitors[k].b]));
}

bool Motion::at_rest() const { return still_ && corner_ == kInfinite; }

// --- States -----------------------------------------------------------------------------------------------------------------

void Motion::take_state(double time, RateFrom from) {
  time_ = time;
  rate_from_ = from;
  copy_row(island_.x, x_);
  copy_row(island_.q, charge_);
  corner_ = island_.next_corner();
  last_step_ = last_error_ = 0;
  balanced_ = leaving_ = calm_step_ = 0;
  stays_ = false;
  direction_known_ = from != RateFrom::kStep;
  slope_known_ = true, linearised_ = curved_known_ = false;
  rejected_here_ = 0;
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

NewtonResult Motion::restart(double time, const Row<double>& charges) {
  NewtonResult result;
  copy_row(charges, charge_start_);
  end_modes(time + 1e-12 * std::fabs(time));
  for (int k = 0; k < kMostModeChanges; ++k) {
    island_.refresh(*island_.parameters, time);
    double h0 = 1e-9;
    result = restart_with(time, charge_start_, h0);
    for (int finer = 0; result.ok && island_.stores && (wish_ < kSlow * h0 || left_over_ > kLeftOver) && h0 > 1e-14 && finer < 4;
         ++finer) {
      const double coarser = h0;
      h0 = std::max(1e-14, std::min(1e-2 * h0, 1e-5 * wish_));
      result = restart_with(time, charge_start_, h0);
      if (result.ok) continue;
      result = restart_with(time, charge_start_, coarser);  // as fine as can be
      break;
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
    if (!(std::fabs(sum) <= options_.residual_current + 1e-9 * largest)) return knot.tied;
  }
  return -1;
}

// An implicit Euler step of next to no length h0: charges all but stay, all else follows. Then, from that point, the
// direction of motion by a linear solve, (a C + G) delta = -f, dx/dt = delta / h0: no difference of nearly equal charges is
// taken. The point is put back by h0 along it, and the direction refined there until f + C dx/dt = 0.
NewtonResult Motion::restart_with(double time, const Row<double>& charges, double h0) {
  const double a = 1 / h0;
  make_room();
  linearised_ = false;
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
  copy_row(island_.q, charge_);
  copy_row(island_.x, x_late_);

  prepare(time + 2 * h0);
  island_.last_from_x();
  island_.evaluate(a, true);
  double* r = island_.row_error.data();
  for (int i = 0; i < island_.size; ++i) r[i] = island_.f[i] + a * (island_.q[i] - charge_[i]);
  island_.tie_knots(false, r, true);
  island_.factored_a = std::numeric_limits<double>::quiet_NaN();
  std::fill(direction_.begin(), direction_.end(), 0.0);
  if (const int column = island_.solver.factor(island_.matrix.data(), true); column >= 0) return {.worst = column};
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
  if (h0 < kNoisy && wish_ < kSlow * h0) wish_ = first_step_without_noise(a);
  return result;
}

// A direction that is rounding's alone asks for no short step.
[[gnu::cold]] double Motion::first_step_without_noise(double a) {
  const Row<double> direction = direction_;
  for (int i = 0; i < island_.size; ++i) island_.row_error[i] = kRounding * a * std::fabs(charge_[i]);
  take_off_noise(direction_.data(), a);
  const double without = first_step();
  direction_ = direction;
  return 1 / clearly_less(1 / wish_, 1 / without);
}

// Makes f + (dq/dx) direction = 0 with the present factors, which belong to `a`, at island_.x.
void Motion::refine_direction(double a, int times) {
  double* r = island_.row_error.data();
  for (int refinement = 0; refinement < times; ++refinement) {
    island_.charge_rate(direction_.data(), sum_.data());
    for (int i = 0; i < island_.size; ++i) r[i] = island_.f[i] + sum_[i];
    for (const Knot& knot : island_.knots)
      if (!knot.charged) r[knot.tied] = 0;
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

// --- What is delivered
// --------------------------------------------------------------------------------------------------------

Motion::Delivered Motion::flow(const Member& member, const Row<double>& x) const {
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
    if (by_rosenbrock_) {  // Simpson's other rule, over thirds
      const Row<double>* const points[] = {&x_, &x_early_, &x_late_, &x_new_};
      for (int k = 0; k < 4; ++k) {
        const Delivered now = flow(member, *points[k]);
        const double weight = h * (k == 0 || k == 3 ? 0.125 : 0.375);
        c.sum.charge += weight * now.charge;
        c.sum.energy += weight * now.energy;
      }
      continue;
    }
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
      Outcome outcome = attempt(h, to_end || *budget <= 0);
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
        ++rejected_, ++rejected_here_;
        if (outcome == Outcome::kTooCoarse) {
          // Without iteration rounding is not mended: an error that a shorter step does not lessen is not one of the step.
          if (by_rosenbrock_ && rejected_here_ > 1 && error_ > 0.5 * rejected_error_) distrusted_ = kDistrustedSteps;
          rejected_error_ = error_;
        }
        wish_ = outcome == Outcome::kNoConvergence
                    ? h / 5
                    : h * std::clamp(kSafety / root_of(error_), 0.1, by_rosenbrock_ ? kSafety : 0.5);
        growth_ = outcome == Outcome::kNoConvergence ? 1.5 : by_rosenbrock_ ? 1 : 2;
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
      // What the error did from the last step to this one it will go on doing (Gustafsson, ACM TOMS 20, 1994).
      const double before = last_step_ > 0 && last_error_ > 0
                                ? last_step_ / h * root_of(std::max(error_, 1e-12) / last_error_)
                                : 0;
      accept(h);
      time_ = to_end ? end : time_ + h;
      told();
      last_error_ = std::max(error_, 1e-2);
      wish_ =
          h * std::clamp(kSafety / root_of(std::max(error_, 1e-12)) / std::max(before, 1.0), 0.2, growth_);
      wish_ = std::max(wish_, options_.shortest_step);
      growth_ = std::min(2 * growth_, kMostGrowth);
      rejected_here_ = 0;
      if (!by_rosenbrock_ && distrusted_ > 0) --distrusted_;
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

// How far apart an island that stores nothing is solved while a sine goes through it: where more looks than these were wanted, at phases
// that never come back to where they were (steps by the golden section of a period), so that what is seen is a band and no slower sine.
double Motion::look_apart(double span) const {
  constexpr double kOfPeriod = 40, kMostSeen = 640, kMostCounted = 64, kGolden = 0.6180339887498949;
  const bool seen = on_step && keeps_shape;
  const double period = 10 * island_.longest_step();
  if ((!seen && counts_.empty()) || !(period < kInfinite)) return kInfinite;
  const double least = span / (seen ? kMostSeen : kMostCounted);
  return least < period / 8 ? std::max(least, period / kOfPeriod) : (std::floor(least / period) + kGolden) * period;
}

bool Motion::advance(double target, long* budget) {
  make_room();
  const double apart = island_.stores ? kInfinite : look_apart(target - time_);
  if (balanced_ > 0 && !tip_over(balanced_)) return false;
  const double slack = 1e-12 * std::fabs(target);
  while (time_ < target) {
    if (still_ && corner_ > target + slack) {
      count_steady(target - time_);
      return time_ = target, true;
    }
    if (!island_.stores && !island_.has_modes && !still_) {
      const bool sampled = on_step && sampled_every > 0;
      const double to = std::min({target, sampled ? std::min(next_sample(), corner_) : target, time_ + apart});
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

// --- What it shows
// --------------------------------------------------------------------------------------------------------------

// At the end of a step the direction is not known yet. A short implicit step's matrix finds it, as at a restart.
void Motion::show() {
  prepare(time_);
  const bool stepped = rate_from_ == RateFrom::kStep;
  if (direction_known_ && stepped) return;  // as it was shown before
  shown_ = x_;
  // A restart has found its direction, though where charges differ much in how fast they move not to the last.
  if (rate_from_ == RateFrom::kStill || (!stepped && (!island_.stores || left_over_ <= kLeftOver))) return void(shown_rate_ = direction_);
  if (stepped) {
    direction_known_ = true;
    const double inverse = 1 / last_step_;
    for (int i = 0; i < island_.total; ++i) direction_[i] = (x_[i] - x_before_[i]) * inverse;
    held_rates();
  }
  shown_rate_ = direction_;
  find_direction(stepped ? 1e5 / last_step_ : 1e9);
  if (stepped)
    shown_rate_ = direction_;
  else
    std::swap(shown_rate_, direction_);  // what a restart has found serves the steps from there
}

// Mends direction_, of which shown_rate_ is a copy. The shorter the step 1/a, the stiffer the charge whose direction it tells.
void Motion::find_direction(double a) {
  for (int finer = 0; finer < 4 && (finer == 0 || a < 1e16); ++finer, a *= 1e3) {
    if (!factor_shown(a)) return;
    refine_direction(a, 4);
    if (left_over_ <= kLeftOver) return;
    if (finer > 0) continue;
    direction_ = shown_rate_;
    if (!polish(a)) return;
    refine_direction(a, 4);
    if (left_over_ <= kLeftOver) return;
  }
}

// Equations and matrix of an implicit step of length 1/a, at what is shown.
bool Motion::factor_shown(double a) {
  std::copy(shown_.begin(), shown_.begin() + island_.size, island_.x.begin());
  island_.last_from_x();
  island_.evaluate(a, true);
  island_.tie_knots(false, sum_.data(), true);
  island_.factored_a = std::numeric_limits<double>::quiet_NaN();
  return island_.solver.factor(island_.matrix.data(), true) < 0;
}

// What stores nothing, or so little that it follows at once, is put where the rest wants it: one step of Newton's, in which charges stay
// but for what flows in 1/a. Where that goes farther than a step may err, Newton's method goes all the way: a restart puts its point back along
// a straight line, which a junction between nodes without charge does not follow. True when the factors are those of what is shown.
bool Motion::polish(double a) {
  double* r = island_.row_error.data();
  island_.charge_rate(direction_.data(), sum_.data());
  for (int i = 0; i < island_.size; ++i) r[i] = island_.f[i] + sum_[i];
  for (const Knot& knot : island_.knots)
    if (!knot.charged) r[knot.tied] = 0;
  island_.solver.solve(r);
  bool near = true;
  for (int i = 0; i < island_.size; ++i) near = near && std::fabs(r[i]) <= tolerance(i, x_[i]);
  if (near) {
    for (int i = 0; i < island_.size; ++i) shown_[i] -= r[i];
    return factor_shown(a);
  }
  island_.evaluate_exactly();
  copy_row(island_.q.data(), size_t(island_.total), charge_new_.data());
  for (int i = 0; i < island_.size; ++i) sum_[i] = -sum_[i];
  const StageEquation held = {.a = a, .charge_before = charge_new_.data(), .rate_before = sum_.data()};
  if (newton(island_, held, options_, options_.max_iterations).ok) copy_row(island_.x.data(), size_t(island_.size), shown_.data());
  return factor_shown(a);
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
  island_.terminal_currents(member, shown_.data(), current);
  if (!member.model->stores || rate_from_ == RateFrom::kStill) return;
  double rate_of[kMaxLocal];
  island_.member_charge_rate(member, shown_.data(), shown_rate_.data(), rate_of);
  for (int k = 0; k < member.terminals; ++k) current[k] += rate_of[k];
}

}  // namespace tiepoint
