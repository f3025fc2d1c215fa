// Diode and LED: Shockley's junction with a series resistance inside, and breakdown.
//
//   forward   i = IS * (exp((v - RS*i) / (n*VT)) - 1)                          (junction.h)
//   breakdown i = -IBV * exp(-(v - RS*i + BV) / (n*VT))                        both parts together
//   charge    q = CJ * v_j + TT * i,  v_j = v - RS*i the junction's own voltage
// The charge is taken at the junction voltage that belongs to the conduction current: the drop of the charging current itself
// in RS is left out (a time constant RS*CJ, picoseconds). Each part sees RS with its own current: where one of them conducts,
// the other is its saturation current or less.
#include <cmath>

#include "engine/devices/junction.h"
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kSaturation, kEmission, kSeries, kThermal, kCapacitance, kTransit, kBreakdown, kBreakdownCurrent };
constexpr std::string_view kTerminals[] = {"anode", "cathode"};
constexpr ParameterSpec kParameters[] = {{"saturation_current", "A", kNone, 1e-60, 1},
                                         {"emission", "", 1, 0.1, 100},
                                         {"series_resistance", "ohm", 0, 0, 1e9},
                                         {"thermal_voltage", "V", kThermalVoltage, 1e-4, 1},
                                         {"junction_capacitance", "F", 0, 0, 1},
                                         {"transit_time", "s", 0, 0, 1},
                                         {"breakdown_voltage", "V", kInfinite, 0.5, kInfinite},
                                         {"breakdown_current", "A", 1e-3, 1e-15, 1e3}};

constexpr double kFarAway = 45;  // times n*VT from breakdown its current is under 3e-20 of IBV

Junction forward(std::span<const double> p) { return {p[kSaturation], p[kEmission] * p[kThermal], p[kSeries]}; }

// The breakdown part seen from its own side: w = -(v + BV), current -i = IBV * exp((w - RS*(-i)) / V1), up to the constant IBV
// of junction_at, which is put back.
JunctionPoint breakdown_at(std::span<const double> p, double v) {
  const Junction j = {p[kBreakdownCurrent], p[kEmission] * p[kThermal], p[kSeries]};
  const double shift = p[kSeries] * p[kBreakdownCurrent];  // junction_at counts R * (i - IBV)
  const JunctionPoint at = junction_at(j, -(v + p[kBreakdown]) - shift);
  return {-(at.current + p[kBreakdownCurrent]), at.slope};
}

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double v = x[0] - x[1];
  JunctionPoint at = junction_at(forward(p), v);
  if (v + p[kBreakdown] < kFarAway * p[kEmission] * p[kThermal]) {
    const JunctionPoint back = breakdown_at(p, v);
    at.current += back.current, at.slope += back.slope;
  }
  stamp_branch(out.f, out.df, 2, 0, 1, at.current, at.slope);
  if (p[kCapacitance] > 0 || p[kTransit] > 0) {
    const double charge = p[kCapacitance] * (v - p[kSeries] * at.current) + p[kTransit] * at.current;
    const double slope = p[kCapacitance] * (1 - p[kSeries] * at.slope) + p[kTransit] * at.slope;
    stamp_branch(out.q, out.dq, 2, 0, 1, charge, slope);
  }
}

template <auto hold>
bool limit(std::span<const double> p, const double* last, double* x) {
  const double was = last[0] - last[1];
  double v = x[0] - x[1];
  bool changed = false;
  if (v < -p[kBreakdown] / 2) {
    const Junction j = {p[kBreakdownCurrent], p[kEmission] * p[kThermal], p[kSeries]};
    double w = -(v + p[kBreakdown]);
    changed = hold(j, -(was + p[kBreakdown]), &w);
    v = -w - p[kBreakdown];
  } else {
    changed = hold(forward(p), was, &v);
  }
  if (changed) x[0] = x[1] + v;
  return changed;
}

}  // namespace

const Model kDiodeModel = {.kind = ElementKind::kDiode,
                           .name = "diode",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aa",
                           .linear = false,
                           .stores = true,
                           .evaluate = evaluate,
                           .limit = limit<limit_junction>,
                           .stride = limit<stride_junction>};

}  // namespace tiepoint
