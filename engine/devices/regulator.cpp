// Voltage source fed from a supply: linear regulators and sensors with a voltage output. Terminals in, out, common.
//
//   V(out) = lesser of  V(common) + set + share * (V(in) - V(common)) - Rout i  and  V(in) - dropout - Rdrop i
//            less what i costs beyond -sink and +limit: steep
// i, an own unknown, flows from in to out; what is sunk flows from out to common. From in to common flows the quiescent current, in full
// from 2 V on. Without a supply nothing flows. The corners are rounded. Own formula.
#include <cmath>

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
constexpr double kSteep = 1e4;    // [V] that twice the limit of current would take
constexpr double kCorner = 0.01;  // of the limits
constexpr double kAwake = 2;      // [V]

void evaluate(std::span<const double> p, const double* x, const Instant&, Local out) {
  constexpr int m = kUnknowns;
  const double supply = x[kIn] - x[kCommon], i = x[kCurrent];
  const double wanted = x[kCommon] + p[kSet] + p[kShare] * supply - p[kOutput] * i;
  const double possible = x[kIn] - p[kDropout] - p[kDropResistance] * i;
  const Curve lost = soft_ramp(wanted - possible, kRound);  // lesser = wanted - (wanted - possible)+
  const double up = kSteep / p[kLimit], down = kSteep / p[kSink];
  const Curve over = ramp(i - p[kLimit], kCorner * p[kLimit]), under = ramp(-p[kSink] - i, kCorner * p[kSink]);
  out.f[kCurrent] = x[kOut] - (wanted - lost.value) + up * over.value - down * under.value;
  double* d = out.df + kCurrent * m;
  const double w = 1 - lost.slope;
  d[kOut] = 1, d[kCommon] = -w * (1 - p[kShare]), d[kIn] = -w * p[kShare] - lost.slope;
  d[kCurrent] = w * p[kOutput] + lost.slope * p[kDropResistance] + up * over.slope + down * under.slope;

  const Curve sourced = ramp(i, kCorner * std::fmin(p[kSink], p[kLimit]));
  stamp_flow(out, m, kIn, kOut, sourced.value, {{kCurrent, sourced.slope}});
  stamp_flow(out, m, kCommon, kOut, i - sourced.value, {{kCurrent, 1 - sourced.slope}});
  const Curve awake = smooth_step(supply, kAwake);
  stamp_flow(out, m, kIn, kCommon, p[kQuiescent] * awake.value,
             {{kIn, p[kQuiescent] * awake.slope}, {kCommon, -p[kQuiescent] * awake.slope}});
}

}  // namespace

const Model kRegulatorModel = {.kind = ElementKind::kRegulator,
                               .name = "regulator",
                               .terminals = kTerminals,
                               .parameters = kParameters,
                               .joins = "aaa",
                               .extra = 1,
                               .linear = false,
                               .evaluate = evaluate};

}  // namespace tiepoint
