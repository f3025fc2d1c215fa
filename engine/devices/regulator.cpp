// Voltage source fed from a supply: linear regulators and sensors with a voltage output. Terminals in, out, common.
//
//   wanted   V = V(common) + set + share * (V(in) - V(common))
//   current  i = lesser of  (V - V(out)) / Rout  and  (V(in) - dropout - V(out)) / Rdrop,   held between -sink and +limit
// i flows from in to out; what is sunk flows from out to common. From in to common flows the quiescent current, in full from 2 V on.
// The corners are rounded (smooth.h): over 2 % of the limit. Own formula.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kSet, kShare, kOutput, kDropout, kDropResistance, kLimit, kSink, kQuiescent };
enum { kIn, kOut, kCommon, kUnknowns };
constexpr std::string_view kTerminals[] = {"in", "out", "common"};
constexpr ParameterSpec kParameters[] = {{"set_voltage", "V", kNone, -1e4, 1e4},   {"supply_share", "", 0, 0, 1},
                                         {"output_resistance", "ohm", 0.01, 1e-6, 1e6}, {"dropout", "V", 1.5, 0, 1e3},
                                         {"drop_resistance", "ohm", 0.5, 1e-6, 1e6},    {"current_limit", "A", 1.5, 1e-9, 1e3},
                                         {"sink_limit", "A", 1e-6, 1e-9, 1e3},          {"quiescent_current", "A", 0, 0, 10}};
constexpr double kCorner = 0.02, kLeak = 1e-6;
constexpr double kAwake = 2;  // [V]

void evaluate(std::span<const double> p, const double* x, const Instant&, Local out) {
  constexpr int m = kUnknowns;
  const double supply = x[kIn] - x[kCommon];
  const double g = 1 / p[kOutput], gd = 1 / p[kDropResistance];
  const double wanted = (x[kCommon] + p[kSet] + p[kShare] * supply - x[kOut]) * g;
  const double possible = (x[kIn] - p[kDropout] - x[kOut]) * gd;
  const Curve over = soft_ramp(wanted - possible, kCorner * p[kLimit]);  // lesser = wanted - (wanted - possible)+
  const Curve held = held_between(wanted - over.value, p[kSink], p[kLimit], kCorner, kLeak);
  const double w = held.slope * (1 - over.slope), d = held.slope * over.slope;  // shares of the two branches
  const double by_in = w * g * p[kShare] + d * gd, by_out = -w * g - d * gd, by_common = w * g * (1 - p[kShare]);
  // Sourced part from in, sunk part to common; the corner between them at zero.
  const Curve sourced = soft_ramp(held.value, kCorner * std::fmin(p[kSink], p[kLimit]));
  const double s = sourced.slope, rest = 1 - s;
  stamp_flow(out, m, kIn, kOut, sourced.value, {{kIn, s * by_in}, {kOut, s * by_out}, {kCommon, s * by_common}});
  stamp_flow(out, m, kCommon, kOut, held.value - sourced.value, {{kIn, rest * by_in}, {kOut, rest * by_out}, {kCommon, rest * by_common}});
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
                               .linear = false,
                               .evaluate = evaluate};

}  // namespace tiepoint
