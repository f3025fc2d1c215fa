// Timer of the 555 kind, bipolar or CMOS, by its inner structure. Terminals in the order of its legs.
//
//          vcc --[ D ]-- control --[ D ]-- half --[ D ]-- gnd        the divider: control 2/3, half 1/3 of the supply
//   set    when trigger < V(control) / 2                             measured from gnd
//   reset  when threshold > V(control), unless it is being set
//   RESET  below 0.7 V resets whatever else; free again above 0.75 V
//   discharge is joined to gnd through Rdis, up to Idis, exactly while the output is low
//   output high: behind a drop and a resistance from vcc, sources only; low: a resistance to gnd; both up to Iout
// (TI SLFS022, function table.) Mode 1: output high. Supply current: a resistance in each mode, beside the divider. The comparators'
// delay (0.1 us) is left out.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kDivider, kDrop, kHighResistance, kLowResistance, kOutputLimit, kDischarge, kDischargeLimit, kSupplyHigh, kSupplyLow };
enum { kGnd, kTrigger, kOut, kReset, kControl, kThreshold, kDischargeLeg, kVcc, kUnknowns };
enum { kLow, kHigh };
constexpr std::string_view kTerminals[] = {"gnd", "trigger", "output", "reset", "control", "threshold", "discharge", "vcc"};
constexpr ParameterSpec kParameters[] = {{"divider_resistance", "ohm", 5e3, 1, 1e9},
                                         {"high_drop", "V", 1.2, 0, 10},
                                         {"high_resistance", "ohm", 5, 1e-6, 1e6},
                                         {"low_resistance", "ohm", 10, 1e-6, 1e6},
                                         {"output_limit", "A", 0.2, 1e-6, 1e3},
                                         {"discharge_resistance", "ohm", 10, 1e-6, 1e6},
                                         {"discharge_limit", "A", 0.1, 1e-6, 1e3},
                                         {"supply_resistance_high", "ohm", 3e3, 1, 1e12},
                                         {"supply_resistance_low", "ohm", 1.9e3, 1, 1e12}};
constexpr double kResetFalls = 0.7, kResetFrees = 0.75;  // [V]
constexpr double kInputLeak = 1e-10;                     // [S]

// A resistance that lets no more than `limit` through: i = limit tanh(v / (R limit)).
void stamp_limited(const Local& out, const double* x, int a, int b, double resistance, double limit) {
  const double t = std::tanh((x[a] - x[b]) / (resistance * limit)), g = (1 - t * t) / resistance;
  stamp_flow(out, kUnknowns, a, b, limit * t, {{a, g}, {b, -g}});
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  stamp_conductance(out, m, x, kVcc, kControl, 1 / p[kDivider]);
  stamp_conductance(out, m, x, kControl, kGnd, 0.5 / p[kDivider]);
  stamp_conductance(out, m, x, kVcc, kGnd, 1 / p[at.mode == kHigh ? kSupplyHigh : kSupplyLow]);
  for (const int in : {kTrigger, kThreshold}) stamp_conductance(out, m, x, in, kGnd, kInputLeak);
  stamp_conductance(out, m, x, kReset, kVcc, 1e-6);  // a loose RESET is pulled up, weakly
  stamp_conductance(out, m, x, kDischargeLeg, kGnd, kInputLeak);
  stamp_conductance(out, m, x, kOut, kGnd, kInputLeak);
  for (const int in : {kTrigger, kThreshold, kReset, kDischargeLeg, kOut}) stamp_clamp(out, m, x, kGnd, in, 0.5, 0.02);
  if (at.mode == kHigh) {
    // Above its own voltage the output passes nothing: width of the corner 10 mV.
    const double g = 1 / p[kHighResistance];
    const Curve forward = soft_ramp(x[kVcc] - p[kDrop] - x[kOut], 0.01);
    const double t = std::tanh(forward.value * g / p[kOutputLimit]), slope = (1 - t * t) * g * forward.slope;
    stamp_flow(out, m, kVcc, kOut, p[kOutputLimit] * t, {{kVcc, slope}, {kOut, -slope}});
  } else {
    stamp_limited(out, x, kOut, kGnd, p[kLowResistance], p[kOutputLimit]);
    stamp_limited(out, x, kDischargeLeg, kGnd, p[kDischarge], p[kDischargeLimit]);
  }
}

double event(std::span<const double>, const double* x, const Instant& at, int) {
  const double control = x[kControl] - x[kGnd], reset = x[kReset] - x[kGnd];
  const double setting = control / 2 - (x[kTrigger] - x[kGnd]);  // > 0: being set
  const double over = x[kThreshold] - x[kControl];
  if (at.mode == kHigh) return std::max(kResetFalls - reset, std::min(over, -setting));
  return std::min(reset - kResetFrees, setting);
}

int next_mode(std::span<const double>, const double*, const Instant& at) { return at.mode == kHigh ? kLow : kHigh; }

}  // namespace

const Model kTimerModel = {.kind = ElementKind::kTimer,
                           .name = "timer",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aaaaaaaa",
                           .linear = false,
                           .evaluate = evaluate,
                           .events = 1,
                           .event = event,
                           .next_mode = next_mode};

}  // namespace tiepoint
