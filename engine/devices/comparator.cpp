// Comparator with an open collector: the output sinks when V(in+) < V(in-), else it is open.
//
//   modes  open --vd < -h--> closing --delay--> sinking --vd > +h--> opening --delay--> open;  h = 50 uV (own choice, keeps it from
//          trembling), turned back on the way when the inputs change their mind
//   sink   i = Isink tanh(V(out) / (Isink R)): R at small voltages, never more than Isink
// Bias current out of the inputs as in op_amp.cpp. Everything fades in between 1 and 2 V of supply.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kOffset, kResistance, kSink, kDelay, kQuiescent, kBias };
enum { kInPlus, kInMinus, kOut, kVcc, kGnd, kUnknowns };
enum { kOpen, kClosing, kSinking, kOpening };
constexpr std::string_view kTerminals[] = {"in+", "in-", "out", "vcc", "gnd"};
constexpr ParameterSpec kParameters[] = {{"offset", "V", 0, -1, 1},
                                         {"sink_resistance", "ohm", 50, 1e-3, 1e6},
                                         {"sink_limit", "A", 0.016, 1e-9, 1e3},
                                         {"delay", "s", 1.3e-6, 0, 1},
                                         {"quiescent_current", "A", 0.4e-3, 0, 1},
                                         {"bias_current", "A", 25e-9, 0, 1}};
constexpr double kHysteresis = 50e-6;  // [V]

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  const Curve awake = smooth_step(x[kVcc] - x[kGnd] - 1, 1);
  if (at.mode == kSinking || at.mode == kOpening)
    stamp_open_collector(out, m, x, kOut, kGnd, kVcc, p[kResistance], p[kSink], awake);
  const auto steady = [&](int to, double current) {
    stamp_flow(out, m, kVcc, to, current * awake.value, {{kVcc, current * awake.slope}, {kGnd, -current * awake.slope}});
  };
  steady(kGnd, p[kQuiescent]);
  for (const int in : {kInPlus, kInMinus}) {
    stamp_bias(out, m, x, in, kVcc, kGnd, p[kBias], awake);
    stamp_clamp(out, m, x, kGnd, in, 0.5, 0.02);
    stamp_conductance(out, m, x, in, kGnd, 1e-11);
  }
  stamp_clamp(out, m, x, kGnd, kOut, 0.5, 0.02);
  stamp_conductance(out, m, x, kOut, kGnd, 1e-10);
  stamp_conductance(out, m, x, kVcc, kGnd, 1e-9);
}

bool limit(std::span<const double>, const double* last, double* x) {
  bool held = limit_supply(last, x, kVcc, kGnd, 1, 2);
  for (const int in : {kInPlus, kInMinus}) held |= limit_supply(last, x, kVcc, in, 0, kBiasRoom);
  return held;
}

bool wants_sink(int mode) { return mode == kOpen || mode == kOpening; }

double event(std::span<const double> p, const double* x, const Instant& at, int) {
  const double difference = x[kInPlus] - x[kInMinus] + p[kOffset];
  return (wants_sink(at.mode) ? -difference : difference) - kHysteresis;
}

// One that has not begun to move yet just stays.
int next_mode(std::span<const double>, const double*, const Instant& at) {
  constexpr int kNext[] = {kClosing, kOpen, kOpening, kSinking};
  return kNext[at.mode];
}

double lasts(std::span<const double> p, int mode) { return mode == kClosing || mode == kOpening ? p[kDelay] : kInfinite; }
int after(std::span<const double>, int mode) { return mode == kClosing ? kSinking : kOpen; }

}  // namespace

const Model kComparatorModel = {.kind = ElementKind::kComparator,
                                .name = "comparator",
                                .terminals = kTerminals,
                                .parameters = kParameters,
                                .joins = "aaaaa",
                                .linear = false,
                                .evaluate = evaluate,
                                .limit = limit,
                                .events = 1,
                                .event = event,
                                .next_mode = next_mode,
                                .lasts = lasts,
                                .after = after};

}  // namespace tiepoint
