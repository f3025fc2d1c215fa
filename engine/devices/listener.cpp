// Listener: follows how fast a voltage swings, as an ear follows a sounder. It draws next to no current.
//
//   mean  tau dm/dt + m = v          tau = 20 ms
//   mode  1 when v - m rises above +h, 0 when it falls below -h, h = 20 mV
// The frequency is that of the changes of mode: one over the time the last two modes lasted.
#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr int kMean = 2, kUnknowns = 3;
constexpr double kTimeConstant = 0.02;   // [s]
constexpr double kNoise = 0.02;          // [V]
constexpr double kConductance = 1e-10;   // [S]

void evaluate(std::span<const double>, const double* x, const Instant&, const Local& out) {
  stamp_conductance(out, kUnknowns, x, 0, 1, kConductance);
  out.f[kMean] = x[kMean] - (x[0] - x[1]);
  double* d = out.df + kMean * kUnknowns;
  d[kMean] = 1, d[0] = -1, d[1] = 1;
  out.q[kMean] = kTimeConstant * x[kMean];
  out.dq[kMean * kUnknowns + kMean] = kTimeConstant;
}

double event(std::span<const double>, const double* x, const Instant& at, int) {
  const double swing = x[0] - x[1] - x[kMean];
  return (at.mode == 1 ? -swing : swing) - kNoise;
}

int next_mode(std::span<const double>, const double*, const Instant& at) { return at.mode == 1 ? 0 : 1; }

}  // namespace

const Model kListenerModel = {.kind = ElementKind::kListener,
                              .name = "listener",
                              .terminals = kTerminals,
                              .parameters = {},
                              .joins = "aa",
                              .extra = 1,
                              .stores = true,
                              .evaluate = evaluate,
                              .events = 1,
                              .event = event,
                              .next_mode = next_mode};

}  // namespace tiepoint
