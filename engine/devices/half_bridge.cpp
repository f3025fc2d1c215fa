// Half of a bridge that drives a motor, one of the four in a driver chip: joins its output to the load's supply or to gnd, or to
// nothing while it is not enabled.
//
//   high   i = (V(load) - drop - V(out))+ / R from load to out        low   i = (V(out) - drop - V(gnd))+ / R from out to gnd
//   both held to a limit; junctions from gnd to out and from out to load carry what a coil drives on
// Inputs switch at 1.5 V up, 1.3 V down (bipolar levels). Mode: bit 0 input high, bit 1 enable high. Nothing works below 2 V of logic
// supply.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kHighDrop, kLowDrop, kResistance, kLimit, kClampDrop, kQuiescent };
enum { kIn, kEnable, kOut, kVcc, kLoad, kGnd, kUnknowns };
constexpr std::string_view kTerminals[] = {"in", "enable", "out", "vcc", "load", "gnd"};
constexpr ParameterSpec kParameters[] = {{"high_drop", "V", 0.8, 0, 10},      {"low_drop", "V", 0.6, 0, 10},
                                         {"resistance", "ohm", 1, 1e-6, 1e6}, {"limit", "A", 1.2, 1e-6, 1e3},
                                         {"clamp_drop", "V", 0.8, 0, 10},     {"quiescent_current", "A", 4e-3, 0, 1}};
constexpr double kUp = 1.5, kDown = 1.3;  // [V]
constexpr double kRound = 0.02;           // [V]

// A junction-like way from a to b: (v - drop)+ / R, no more than `limit`.
void stamp_way(const Local& out, const double* x, int a, int b, double drop, double resistance, double limit, const Curve& awake) {
  const Curve over = soft_ramp(x[a] - x[b] - drop, kRound);
  const double t = std::tanh(over.value / (resistance * limit));
  const double g = (1 - t * t) / resistance * over.slope * awake.value, by_supply = limit * t * awake.slope;
  stamp_flow(out, kUnknowns, a, b, limit * t * awake.value, {{a, g}, {b, -g}, {kVcc, by_supply}, {kGnd, -by_supply}});
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  const Curve awake = smooth_step(x[kVcc] - x[kGnd] - 2, 2);
  const bool high = at.mode & 1, enabled = at.mode & 2;
  if (enabled && high) stamp_way(out, x, kLoad, kOut, p[kHighDrop], p[kResistance], p[kLimit], awake);
  if (enabled && !high) stamp_way(out, x, kOut, kGnd, p[kLowDrop], p[kResistance], p[kLimit], awake);
  stamp_clamp(out, m, x, kGnd, kOut, p[kClampDrop], 1 / p[kResistance]);
  stamp_clamp(out, m, x, kOut, kLoad, p[kClampDrop], 1 / p[kResistance]);
  stamp_flow(out, m, kVcc, kGnd, p[kQuiescent] * awake.value, {{kVcc, p[kQuiescent] * awake.slope}, {kGnd, -p[kQuiescent] * awake.slope}});
  for (const int in : {kIn, kEnable}) {
    stamp_conductance(out, m, x, in, kGnd, 1e-8);
    stamp_clamp(out, m, x, kGnd, in, 0.5, 0.02);
  }
  stamp_conductance(out, m, x, kOut, kGnd, 1e-8);
  stamp_conductance(out, m, x, kLoad, kGnd, 1e-8);
  stamp_conductance(out, m, x, kVcc, kGnd, 1e-8);
}

bool limit(std::span<const double>, const double* last, double* x) { return limit_supply(last, x, kVcc, kGnd, 2, 4); }

double event(std::span<const double>, const double* x, const Instant& at, int k) {
  const double v = x[k == 0 ? kIn : kEnable] - x[kGnd];
  return at.mode >> k & 1 ? kDown - v : v - kUp;
}

int next_mode(std::span<const double> p, const double* x, const Instant& at) {
  int mode = at.mode;
  for (int k = 0; k < 2; ++k)
    if (event(p, x, at, k) >= 0) mode ^= 1 << k;
  return mode;
}

}  // namespace

const Model kHalfBridgeModel = {.kind = ElementKind::kHalfBridge,
                                .name = "half-bridge",
                                .terminals = kTerminals,
                                .parameters = kParameters,
                                .joins = "aaaaaa",
                                .linear = false,
                                .evaluate = evaluate,
                                .limit = limit,
                                .events = 2,
                                .event = event,
                                .next_mode = next_mode};

}  // namespace tiepoint
