// Thermistor that warms itself: one pole, as all that gets hot here (engine/parts/heat.h).
//
//   R = Rs + R25 exp(A + B/T + C/T^2 + D/T^3),  T = Ta + u                     the maker's four-constant law (Vishay 29049)
//   tau du/dt + u = v i / delta                                                delta: dissipation constant, in still air
// The own unknown is the rise u over the surroundings. Outside 150 < T < 700 K, where no thermistor is but a solver may pass, the
// resistance stays what it is at the end.
#include "engine/devices/thermistor.h"

#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {

Curve thermistor_at(const ThermistorLaw& law, double kelvin) {
  const double t = 1 / kelvin;
  const double r = law.r25 * std::exp(law.a + (law.b + (law.c + law.d * t) * t) * t);
  return {r, -r * (law.b + (2 * law.c + 3 * law.d * t) * t) * t * t};
}

namespace {

enum { kTemperature, kR25, kA, kB, kC, kD, kDissipation, kTime, kSeries };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"temperature", "°C", 25, -120, 400},    {"resistance_25", "ohm", 10e3, 1e-3, 1e12},
                                         {"a", "", -14.6337, -1e3, 1e3},          {"b", "K", 4791.842, -1e5, 1e5},
                                         {"c", "K2", -115334, -1e9, 1e9},         {"d", "K3", -3.730535e6, -1e12, 1e12},
                                         {"dissipation", "W/K", 7e-3, 1e-9, 1e6}, {"time_constant", "s", 15, 1e-6, 1e6},
                                         {"series_resistance", "ohm", 0, 0, 1e9}};
constexpr int kRise = 2, kUnknowns = 3;
constexpr double kColdest = 150, kHottest = 700;  // [K]

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double kelvin = p[kTemperature] + 273.15 + x[kRise], held = std::clamp(kelvin, kColdest, kHottest);
  const Curve r = thermistor_at({p[kR25], p[kA], p[kB], p[kC], p[kD]}, held);
  const double g = 1 / (p[kSeries] + r.value);
  const double g_slope = held == kelvin ? -g * g * r.slope : 0;
  const double v = x[0] - x[1];
  stamp_flow(out, kUnknowns, 0, 1, g * v, {{0, g}, {1, -g}, {kRise, g_slope * v}});
  out.f[kRise] = x[kRise] - g * v * v / p[kDissipation];
  double* d = out.df + kRise * kUnknowns;
  d[kRise] = 1 - g_slope * v * v / p[kDissipation];
  d[0] = -2 * g * v / p[kDissipation], d[1] = -d[0];
  out.q[kRise] = p[kTime] * x[kRise];
  out.dq[kRise * kUnknowns + kRise] = p[kTime];
}

}  // namespace

const Model kThermistorModel = {.kind = ElementKind::kThermistor,
                                .name = "thermistor",
                                .terminals = kTerminals,
                                .parameters = kParameters,
                                .joins = "aa",
                                .extra = 1,
                                .linear = false,
                                .stores = true,
                                .evaluate = evaluate};

}  // namespace tiepoint
