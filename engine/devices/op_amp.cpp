// Operational amplifier. y is the voltage its output would take without a load, w1 = 2 pi f1 / A its lowest corner:
//
//   dy/dt = SR tanh(2 pi f1 (vd + Vos) / SR) - w1 (y - V(gnd)) - 2 pi f1 ((y - hi)+ - (lo - y)+),   vd = V(in+) - V(in-)
//
// So the gain is A at rest, falls with frequency as f1 / f, the slope never exceeds SR, and y stays within the rails: hi = V(vcc) - headroom,
// lo = V(gnd) + floor; a saturated one overshoots by SR / (2 pi f1), less than 0.1 V, and comes back at once.
//   output i = (y - V(out)) / Rout, held between -sink and +source; sourced from vcc, sunk to gnd.
//   inputs: bias current Ib from vcc out of each of them (pnp inputs); a junction to gnd below -0.5 V, and to vcc + 32 V nothing.
// Everything fades in between 1 and 3 V of supply.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kGain, kBandwidth, kSlew, kOffset, kHeadroom, kFloor, kOutput, kSource, kSink, kQuiescent, kBias };
enum { kInPlus, kInMinus, kOut, kVcc, kGnd, kFree, kUnknowns };  // kFree: y
constexpr std::string_view kTerminals[] = {"in+", "in-", "out", "vcc", "gnd"};
constexpr ParameterSpec kParameters[] = {{"gain", "", 1e5, 1, 1e9},
                                         {"bandwidth", "Hz", 0.7e6, 1e-3, 1e12},
                                         {"slew_rate", "V/s", 0.3e6, 1e-3, 1e15},
                                         {"offset", "V", 0, -1, 1},
                                         {"headroom", "V", 1.4, 0, 10},
                                         {"floor", "V", 0.005, 0, 10},
                                         {"output_resistance", "ohm", 50, 1e-3, 1e6},
                                         {"source_limit", "A", 0.03, 1e-9, 1e3},
                                         {"sink_limit", "A", 0.015, 1e-9, 1e3},
                                         {"quiescent_current", "A", 0.35e-3, 0, 1},
                                         {"bias_current", "A", 20e-9, 0, 1}};
constexpr double kCorner = 0.05;  // of the limits
constexpr double kRound = 0.02;   // [V] of the rails' corners

void evaluate(std::span<const double> p, const double* x, const Instant&, Local out) {
  constexpr int m = kUnknowns;
  constexpr double kTwoPi = 6.28318530717958648;
  const double supply = x[kVcc] - x[kGnd];
  const Curve awake = smooth_step(supply - 1, 2);
  const double gain = kTwoPi * p[kBandwidth];  // [1/s]

  double* d = out.df + kFree * m;
  const double t = std::tanh(gain * (x[kInPlus] - x[kInMinus] + p[kOffset]) / p[kSlew]);
  const double by_difference = gain * (1 - t * t);
  const Curve above = ramp(x[kFree] - (x[kVcc] - p[kHeadroom]), kRound);
  const Curve below = ramp(x[kGnd] + p[kFloor] - x[kFree], kRound);
  out.f[kFree] = -p[kSlew] * t + gain / p[kGain] * (x[kFree] - x[kGnd]) + gain * (above.value - below.value);
  d[kInPlus] = -by_difference, d[kInMinus] = by_difference;
  d[kFree] = gain / p[kGain] + gain * (above.slope + below.slope);
  d[kVcc] = -gain * above.slope;
  d[kGnd] = -gain / p[kGain] - gain * below.slope;
  out.q[kFree] = x[kFree], out.dq[kFree * m + kFree] = 1;

  const double g = 1 / p[kOutput];
  const Curve held = held_between((x[kFree] - x[kOut]) * g, p[kSink], p[kSource], kCorner, 1e-6);
  const Curve sourced = soft_ramp(held.value, kCorner * p[kSink]);
  const double by_free = held.slope * g;
  const auto stage = [&](int rail, double current, double share) {
    stamp_flow(out, m, rail, kOut, current * awake.value,
               {{kFree, share * by_free * awake.value}, {kOut, -share * by_free * awake.value}, {kVcc, current * awake.slope}, {kGnd, -current * awake.slope}});
  };
  stage(kVcc, sourced.value, sourced.slope);
  stage(kGnd, held.value - sourced.value, 1 - sourced.slope);

  const auto steady = [&](int to, double current) {
    stamp_flow(out, m, kVcc, to, current * awake.value, {{kVcc, current * awake.slope}, {kGnd, -current * awake.slope}});
  };
  steady(kGnd, p[kQuiescent]);
  for (const int in : {kInPlus, kInMinus}) {
    steady(in, p[kBias]);
    stamp_clamp(out, m, x, kGnd, in, 0.5, 0.02);
    stamp_conductance(out, m, x, in, kGnd, 1e-11);
  }
  stamp_conductance(out, m, x, kOut, kGnd, 1e-10);
  stamp_conductance(out, m, x, kVcc, kGnd, 1e-9);
}

}  // namespace

const Model kOpAmpModel = {.kind = ElementKind::kOpAmp,
                           .name = "op-amp",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aaaaa",
                           .extra = 1,
                           .linear = false,
                           .stores = true,
                           .evaluate = evaluate};

}  // namespace tiepoint
