// Optocoupler: an infrared LED that shines on the base of an npn transistor; they share no metal.
//
//   LED         i = IS (exp((v - RS i) / (n VT)) - 1)                                         (junction.h)
//   transistor  Ebers & Moll (bipolar.cpp) with the light's current c * max(i, 0) into the base, out of the collector
// c = coupling. With the base open the collector carries BF c i: the current transfer ratio. Charges: CBE and CBC of the transistor, which
// make it slow, since only the small light current can move them. The base is a terminal; where a case has no leg for it, it is an
// inner node of the part.
#include <cmath>

#include "engine/devices/junction.h"
#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kLedSaturation, kLedEmission, kLedSeries, kCoupling, kSaturation, kForward, kReverse, kThermal, kBaseEmitter, kBaseCollector };
enum { A, K, B, C, E, kUnknowns };
constexpr std::string_view kTerminals[] = {"anode", "cathode", "base", "collector", "emitter"};
constexpr ParameterSpec kParameters[] = {{"led_saturation_current", "A", kNone, 1e-60, 1},
                                         {"led_emission", "", 1, 0.1, 100},
                                         {"led_series_resistance", "ohm", 0, 0, 1e9},
                                         {"coupling", "", 1e-3, 0, 10},
                                         {"saturation_current", "A", 1e-14, 1e-60, 1},
                                         {"forward_gain", "", 400, 1e-3, 1e6},
                                         {"reverse_gain", "", 5, 1e-3, 1e6},
                                         {"thermal_voltage", "V", kThermalVoltage, 1e-4, 1},
                                         {"base_emitter_capacitance", "F", 0, 0, 1},
                                         {"base_collector_capacitance", "F", 0, 0, 1}};

Junction led(std::span<const double> p) { return {p[kLedSaturation], p[kLedEmission] * p[kThermal], p[kLedSeries]}; }
Junction transistor(std::span<const double> p) { return {p[kSaturation], p[kThermal], 0}; }

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  constexpr int m = kUnknowns;
  const JunctionPoint light = junction_at(led(p), x[A] - x[K]);
  stamp_branch(out.f, out.df, m, A, K, light.current, light.slope);
  if (light.current > 0)  // from the collector into the base
    stamp_flow(out, m, C, B, p[kCoupling] * light.current, {{A, p[kCoupling] * light.slope}, {K, -p[kCoupling] * light.slope}});
  const JunctionPoint f = junction_at(transistor(p), x[B] - x[E]), r = junction_at(transistor(p), x[B] - x[C]);
  stamp_flow(out, m, C, E, f.current - r.current, {{B, f.slope - r.slope}, {E, -f.slope}, {C, r.slope}});
  stamp_branch(out.f, out.df, m, B, E, f.current / p[kForward], f.slope / p[kForward]);
  stamp_branch(out.f, out.df, m, B, C, r.current / p[kReverse], r.slope / p[kReverse]);
  if (p[kBaseEmitter] > 0) stamp_branch(out.q, out.dq, m, B, E, p[kBaseEmitter] * (x[B] - x[E]), p[kBaseEmitter]);
  if (p[kBaseCollector] > 0) stamp_branch(out.q, out.dq, m, B, C, p[kBaseCollector] * (x[B] - x[C]), p[kBaseCollector]);
}

template <auto hold>
bool limit(std::span<const double> p, const double* last, double* x) {
  double v = x[A] - x[K], vbe = x[B] - x[E], vbc = x[B] - x[C];
  const bool al = hold(led(p), last[A] - last[K], &v);
  const bool be = hold(transistor(p), last[B] - last[E], &vbe);
  const bool bc = hold(transistor(p), last[B] - last[C], &vbc);
  if (al) x[A] = x[K] + v;
  if (be) x[E] = x[B] - vbe;
  if (bc) x[C] = x[B] - vbc;
  return al || be || bc;
}

}  // namespace

const Model kOptocouplerModel = {.kind = ElementKind::kOptocoupler,
                                 .name = "optocoupler",
                                 .terminals = kTerminals,
                                 .parameters = kParameters,
                                 .joins = "aabbb",
                                 .linear = false,
                                 .stores = true,
                                 .evaluate = evaluate,
                                 .limit = limit<limit_junction>,
                                 .stride = limit<stride_junction>};

}  // namespace tiepoint
