// Operational amplifier. y is the voltage its output would take without a load, w the difference that is left to drive it:
//
//   dy/dt = SR tanh(w / e),  e = SR / (2 pi f1)                       slope never more than SR, else 2 pi f1 w
//   w = V(in+) - V(in-) + Vos - (y - V(gnd)) / A - K ((y - hi)+ - (lo - y)+)
//
// So the gain is A at rest (w = 0) and falls with frequency as f1 / f. y stays within the rails, hi = V(vcc) - headroom, lo = V(gnd) + floor; a
// saturated one goes beyond by 1/K of its input difference and comes back as fast as SR allows. At rest nothing but the rails is bent,
// which is what Newton's method likes.
//   output  y' - V(out) = Rout i + steep beyond -sink and +source        y': y held to the rails; sourced from vcc, sunk to gnd
//   inputs  bias current Ib from vcc out of each of them (pnp inputs), none above vcc; a junction to gnd below -0.5 V
// Everything fades in between 1 and 3 V of supply. Between sourcing and sinking some 0.1 mA flow straight through.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kGain, kBandwidth, kSlew, kOffset, kHeadroom, kFloor, kOutput, kSource, kSink, kQuiescent, kBias };
enum { kInPlus, kInMinus, kOut, kVcc, kGnd, kFree, kDrive, kCurrent, kUnknowns };  // own: y, w, i
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
                                         {"quiescent_current", "A", 0.25e-3, 0, 1},
                                         {"bias_current", "A", 20e-9, 0, 1}};
constexpr double kRound = 0.003;    // [V] of the rails' corners
constexpr double kOverdrive = 20;   // K
constexpr double kSteep = 1e3;      // [V] that twice the limit of current would take
constexpr double kCorner = 0.01;    // of the sink limit, between sourcing and sinking

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  constexpr int m = kUnknowns;
  constexpr double kTwoPi = 6.28318530717958648;
  const double supply = x[kVcc] - x[kGnd];
  const Curve awake = smooth_step(supply - 1, 2);
  const double gain = kTwoPi * p[kBandwidth];  // [1/s]
  const double reach = p[kSlew] / gain;        // [V] e
  const Curve above = ramp(x[kFree] - (x[kVcc] - p[kHeadroom]), kRound);
  const Curve below = ramp(x[kGnd] + p[kFloor] - x[kFree], kRound);

  const double t = std::tanh(x[kDrive] / reach);
  out.f[kFree] = -reach * t, out.df[kFree * m + kDrive] = -(1 - t * t);
  out.q[kFree] = x[kFree] / gain, out.dq[kFree * m + kFree] = 1 / gain;

  out.f[kDrive] = x[kDrive] - (x[kInPlus] - x[kInMinus] + p[kOffset]) + (x[kFree] - x[kGnd]) / p[kGain] + kOverdrive * (above.value - below.value);
  double* d = out.df + kDrive * m;
  d[kDrive] = 1, d[kInPlus] = -1, d[kInMinus] = 1;
  d[kFree] = 1 / p[kGain] + kOverdrive * (above.slope + below.slope);
  d[kVcc] = -kOverdrive * above.slope, d[kGnd] = -1 / p[kGain] - kOverdrive * below.slope;

  const double i = x[kCurrent], up = kSteep / p[kSource], down = kSteep / p[kSink];
  const Curve over = ramp(i - p[kSource], kCorner * p[kSource]), under = ramp(-p[kSink] - i, kCorner * p[kSink]);
  out.f[kCurrent] = x[kOut] - (x[kFree] - above.value + below.value) + p[kOutput] * i + up * over.value - down * under.value;
  d = out.df + kCurrent * m;
  d[kOut] = 1, d[kFree] = above.slope + below.slope - 1, d[kVcc] = -above.slope, d[kGnd] = -below.slope;
  d[kCurrent] = p[kOutput] + up * over.slope + down * under.slope;

  const Curve sourced = soft_ramp(i, kCorner * p[kSink]);
  const auto stage = [&](int rail, double current, double share) {
    stamp_flow(out, m, rail, kOut, current * awake.value,
               {{kCurrent, share * awake.value}, {kVcc, current * awake.slope}, {kGnd, -current * awake.slope}});
  };
  stage(kVcc, sourced.value, sourced.slope);
  stage(kGnd, i - sourced.value, 1 - sourced.slope);

  const auto steady = [&](int to, double current) {
    stamp_flow(out, m, kVcc, to, current * awake.value, {{kVcc, current * awake.slope}, {kGnd, -current * awake.slope}});
  };
  steady(kGnd, p[kQuiescent]);
  for (const int in : {kInPlus, kInMinus}) {
    stamp_bias(out, m, x, in, kVcc, kGnd, p[kBias], awake);
    stamp_clamp(out, m, x, kGnd, in, 0.5, 0.02);
    stamp_conductance(out, m, x, in, kGnd, 1e-11);
  }
  stamp_conductance(out, m, x, kOut, kGnd, 1e-10);
  stamp_conductance(out, m, x, kVcc, kGnd, 1e-9);
}

bool limit(std::span<const double>, const double* last, double* x) {
  bool held = limit_supply(last, x, kVcc, kGnd, 1, 3);
  for (const int in : {kInPlus, kInMinus}) held |= limit_supply(last, x, kVcc, in, 0, kBiasRoom);
  return held;
}

}  // namespace

const Model kOpAmpModel = {.kind = ElementKind::kOpAmp,
                           .name = "op-amp",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aaaaa",
                           .extra = 3,
                           .linear = false,
                           .stores = true,
                           .evaluate = evaluate,
                           .limit = limit};

}  // namespace tiepoint
