// Hobby servo: turns its arm to the angle that the width of the pulses on its signal lead asks for.
//
//   pulse width 1 ms .. 2 ms -> -45 .. +45 degrees about the middle (common practice, no source), in proportion, up to +-90 degrees
//   d(angle)/dt = speed * (v / V) * tanh((wanted - angle) / 3 degrees)        V: rated voltage; nothing below V / 2
//   supply current = idle + moving * tanh^2(...), both in proportion to v
// Mode: bit 0 the signal's level as seen (up at 1.6 V, down at 0.8 V), the rest the last pulse's width in microseconds, 0: none lately.
// Without a pulse for 0.1 s, or with one longer than 10 ms, it lets go. The own unknown is the angle from the middle [rad].
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kVoltage, kSpeed, kIdle, kMoving };
enum { kPlus, kMinus, kSignal, kAngle, kUnknowns };
constexpr std::string_view kTerminals[] = {"+", "-", "signal"};
constexpr ParameterSpec kParameters[] = {{"rated_voltage", "V", 4.8, 1, 50},
                                         {"speed", "rad/s", 8.7, 1e-3, 1e3},
                                         {"idle_current", "A", 6e-3, 0, 10},
                                         {"moving_current", "A", 0.2, 0, 100}};
constexpr double kUp = 1.6, kDown = 0.8;               // [V]
constexpr double kInputConductance = 1e-5;             // [S]
constexpr double kSoftness = 0.052;                    // [rad] 3 degrees
constexpr double kRadPerMicrosecond = 1.5707963e-3;    // 90 degrees per millisecond
constexpr double kMost = 1.5707963;                    // [rad]
constexpr double kLimp = 1e-6;                         // [1/s] creep back to the middle of a servo that is not told anything
constexpr double kPatience = 0.1, kLongest = 0.01;     // [s]

int width_of(int mode) { return mode >> 1; }

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  const double v = x[kPlus] - x[kMinus], power = v / p[kVoltage];
  stamp_conductance(out, m, x, kSignal, kMinus, kInputConductance);
  out.q[kAngle] = x[kAngle], out.dq[kAngle * m + kAngle] = 1;
  double* d = out.df + kAngle * m;
  stamp_flow(out, m, kPlus, kMinus, p[kIdle] * power, {{kPlus, p[kIdle] / p[kVoltage]}, {kMinus, -p[kIdle] / p[kVoltage]}});
  out.f[kAngle] = kLimp * x[kAngle], d[kAngle] = kLimp;
  if (width_of(at.mode) == 0) return;
  const double wanted = std::fmin(std::fmax((width_of(at.mode) - 1500) * kRadPerMicrosecond, -kMost), kMost);
  const double t = std::tanh((wanted - x[kAngle]) / kSoftness), dt = -(1 - t * t) / kSoftness;
  const Curve on = ramp(power - 0.5, 0.1);  // [1] (power - 1/2)+, twice that is the share of the speed
  const double speed = 2 * p[kSpeed] * on.value;
  out.f[kAngle] -= speed * t;
  d[kAngle] -= speed * dt;
  const double by_power = 2 * p[kSpeed] * on.slope * t / p[kVoltage];
  d[kPlus] -= by_power, d[kMinus] += by_power;
  const double pull = 2 * p[kMoving] * on.value;
  const double pull_by_v = 2 * p[kMoving] * on.slope * t * t / p[kVoltage];
  stamp_flow(out, m, kPlus, kMinus, pull * t * t, {{kPlus, pull_by_v}, {kMinus, -pull_by_v}, {kAngle, 2 * pull * t * dt}});
}

double event(std::span<const double>, const double* x, const Instant& at, int) {
  const double signal = x[kSignal] - x[kMinus];
  return at.mode & 1 ? kDown - signal : signal - kUp;
}

int next_mode(std::span<const double>, const double*, const Instant& at) {
  if (!(at.mode & 1)) return at.mode | 1;
  const double width = at.time - at.mode_since;
  return int(std::fmin(width, kLongest) * 1e6 + 0.5) << 1;
}

double lasts(std::span<const double>, int mode) {
  if (width_of(mode) == 0) return kInfinite;
  return mode & 1 ? kLongest : kPatience;
}

int after(std::span<const double>, int mode) { return mode & 1; }

}  // namespace

const Model kServoModel = {.kind = ElementKind::kServo,
                           .name = "servo",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aaa",
                           .extra = 1,
                           .linear = false,
                           .stores = true,
                           .evaluate = evaluate,
                           .events = 1,
                           .event = event,
                           .next_mode = next_mode,
                           .lasts = lasts,
                           .after = after};

}  // namespace tiepoint
