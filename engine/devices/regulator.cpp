// Voltage source fed from a supply: linear regulators and sensors with a voltage output. Terminals in, out, common.
//
//   V(out) = lesser of  V(common) + set + share * (V(in) - V(common)) - Rout i  and  V(in) - dropout - Rdrop i
//            less what i costs beyond -sink and +limit: steep
// i, an own unknown, flows from in to out; what is sunk flows from out to common. From in to common flows the quiescent current. All of
// it fades in over the first 2 V of supply. Junctions from common to out, from out to in and from common to in conduct from 0.5 V
// on, as in real ones. The corners are rounded. Own formula.
#include <cmath>
#include <utility>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kSet, kShare, kOutput, kDropout, kDropResistance, kLimit, kSink, kQuiescent };
enum { kIn, kOut, kCommon, kCurrent, kUnknowns };
constexpr std::string_view kTerminals[] = {"in", "out", "common"};
constexpr ParameterSpec kParameters[] = {{"set_voltage", "V", kNone, -1e4, 1e4},   {"supply_share", "", 0, 0, 1},
                                         {"output_resistance", "ohm", 0.01, 1e-6, 1e6}, {"dropout", "V", 1.5, 0, 1e3},
                                         {"drop_resistance", "ohm", 0.5, 1e-6, 1e6},    {"current_limit", "A", 1.5, 1e-9, 1e3},
                                         {"sink_limit", "A", 1e-6, 1e-9, 1e3},          {"quiescent_current", "A", 0, 0, 10}};
constexpr double kRound = 0.02;   // [V] between regulating and not
constexpr double kSteep = 1e4;    // [V] that twice the limit of current would take,
constexpr double kSteepest = 1e6;  // [ohm] but no steeper than this: beyond, rounding of the current would be volts
constexpr double kCorner = 0.01;  // of the limits
constexpr double kAwake = 2;      // [V]

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  constexpr int m = kUnknowns;
  const double supply = x[kIn] - x[kCommon], i = x[kCurrent];
  const double wanted = x[kCommon] + p[kSet] + p[kShare] * supply - p[kOutput] * i;
  const double possible = x[kIn] - p[kDropout] - p[kDropResistance] * i;
  const Curve lost = soft_ramp(wanted - possible, kRound);  // lesser = wanted - (wanted - possible)+
  const double up = std::fmin(kSteep / p[kLimit], kSteepest), down = std::fmin(kSteep / p[kSink], kSteepest);
  const Curve over = ramp(i - p[kLimit], kCorner * p[kLimit]), under = ramp(-p[kSink] - i, kCorner * p[kSink]);
  out.f[kCurrent] = x[kOut] - (wanted - lost.value) + up * over.value - down * under.value;
  double* d = out.df + kCurrent * m;
  const double w = 1 - lost.slope;
  d[kOut] = 1, d[kCommon] = -w * (1 - p[kShare]), d[kIn] = -w * p[kShare] - lost.slope;
  d[kCurrent] = w * p[kOutput] + lost.slope * p[kDropResistance] + up * over.slope + down * under.slope;

  const Curve awake = smooth_step(supply, kAwake);
  const auto flow = [&](int from, int to, double current, double share) {
    stamp_flow(out, m, from, to, current * awake.value,
               {{kCurrent, share * awake.value}, {kIn, current * awake.slope}, {kCommon, -current * awake.slope}});
  };
  const Curve sourced = ramp(i, kCorner * std::fmin(p[kSink], p[kLimit]));
  flow(kIn, kOut, sourced.value, sourced.slope);
  flow(kCommon, kOut, i - sourced.value, 1 - sourced.slope);
  flow(kIn, kCommon, p[kQuiescent], 0);
  for (const auto& [from, to] : {std::pair{kCommon, kOut}, std::pair{kOut, kIn}, std::pair{kCommon, kIn}}) {
    stamp_clamp(out, m, x, from, to, 0.5, 0.2);
    stamp_conductance(out, m, x, from, to, 1e-9);
  }
}

bool limit(std::span<const double>, const double* last, double* x) { return limit_supply(last, x, kIn, kCommon, 0, kAwake); }

}  // namespace

const Model kRegulatorModel = {.kind = ElementKind::kRegulator,
                               .name = "regulator",
                               .terminals = kTerminals,
                               .parameters = kParameters,
                               .joins = "aaa",
                               .extra = 1,
                               .linear = false,
                               .evaluate = evaluate,
                               .limit = limit};

}  // namespace tiepoint
