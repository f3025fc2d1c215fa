// Direct-current motor with a permanent magnet. i = current into p, w = speed [rad/s]:
//
//   v = R i + L di/dt + k w                     back-EMF k w
//   J dw/dt = k i - B w - T tanh(w / w0)        torque k i against viscous friction and a braking torque T (friction and load)
// The braking torque acts against the motion and vanishes at standstill, over w0 = 0.5 rad/s, so that a motor too weak for its load
// creeps instead of standing: the error in its current is less than k w0 / R.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kResistance, kInductance, kConstant, kInertia, kViscous, kBrake };
enum { kOwnCurrent = 2, kSpeed = 3, kUnknowns = 4 };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"resistance", "ohm", kNone, 1e-6, 1e9},   {"inductance", "H", 1e-3, 0, 1e3},
                                         {"constant", "V s/rad", kNone, 1e-9, 1e3}, {"inertia", "kg m2", 1e-7, 1e-15, 1e3},
                                         {"viscous_friction", "N m s", 1e-9, 0, 1e3}, {"brake", "N m", 0, 0, 1e6}};
constexpr double kCreep = 0.5;  // [rad/s] w0

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  constexpr int m = kUnknowns;
  const double i = x[kOwnCurrent], w = x[kSpeed], k = p[kConstant];
  stamp_flow(out, m, 0, 1, i, {{kOwnCurrent, 1}});
  out.f[kOwnCurrent] = p[kResistance] * i + k * w - (x[0] - x[1]);
  double* d = out.df + kOwnCurrent * m;
  d[kOwnCurrent] = p[kResistance], d[kSpeed] = k, d[0] = -1, d[1] = 1;
  out.q[kOwnCurrent] = p[kInductance] * i;
  out.dq[kOwnCurrent * m + kOwnCurrent] = p[kInductance];

  const double t = std::tanh(w / kCreep);
  out.f[kSpeed] = p[kViscous] * w + p[kBrake] * t - k * i;
  d = out.df + kSpeed * m;
  d[kSpeed] = p[kViscous] + p[kBrake] * (1 - t * t) / kCreep, d[kOwnCurrent] = -k;
  out.q[kSpeed] = p[kInertia] * w;
  out.dq[kSpeed * m + kSpeed] = p[kInertia];
}

}  // namespace

const Model kMotorModel = {.kind = ElementKind::kMotor,
                           .name = "motor",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aa",
                           .extra = 2,
                           .linear = false,
                           .stores = true,
                           .evaluate = evaluate};

}  // namespace tiepoint
