// Filament lamp: a tungsten wire that warms itself. With h = T / T0 the absolute temperature over that of the room (T0 = 300 K):
//
//   resistance  R = R0 h^1.2                     tungsten between 300 and 3000 K, to a few per cent (from memory)
//   loss        P = K (h^4 - 1)                  radiation (Stefan-Boltzmann)
//   heat        C T0 dh/dt = v i - P
// R0 and K follow from the rated point: V, I and the temperature it then has. The own unknown is u = h - 1, so that 0 is cold.
// Outside 0.5 < h < 20, where no lamp is but a solver may pass, resistance stays and the loss goes on straight.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kVoltage, kCurrent, kTemperature, kHeatCapacity };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"rated_voltage", "V", kNone, 1e-3, 1e4},
                                         {"rated_current", "A", kNone, 1e-6, 1e3},
                                         {"rated_temperature", "K", 2500, 400, 3600},
                                         {"heat_capacity", "J/K", 1e-5, 1e-9, 1e3}};
constexpr double kRoom = 300, kExponent = 1.2;  // [K], 1
constexpr int kRise = 2;                        // own unknown

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double rated = p[kTemperature] / kRoom;
  const double cold = p[kCurrent] / p[kVoltage] * std::pow(rated, kExponent);  // [S] conductance at room temperature
  const double loss_factor = p[kVoltage] * p[kCurrent] / (rated * rated * rated * rated - 1);
  const double h = 1 + x[kRise], held = std::clamp(h, 0.5, 20.0);
  const double g = cold * std::pow(held, -kExponent);
  const double g_slope = h == held ? -kExponent * g / held : 0;
  const double v = x[0] - x[1];
  stamp_flow(out, 3, 0, 1, g * v, {{0, g}, {1, -g}, {kRise, g_slope * v}});
  const double cube = held * held * held;
  out.f[kRise] = loss_factor * (cube * held - 1 + 4 * cube * (h - held)) - g * v * v;
  out.df[kRise * 3 + 0] = -2 * g * v;
  out.df[kRise * 3 + 1] = 2 * g * v;
  out.df[kRise * 3 + kRise] = 4 * loss_factor * cube - g_slope * v * v;
  out.q[kRise] = p[kHeatCapacity] * kRoom * x[kRise];
  out.dq[kRise * 3 + kRise] = p[kHeatCapacity] * kRoom;
}

}  // namespace

const Model kFilamentModel = {.kind = ElementKind::kFilament,
                              .name = "filament",
                              .terminals = kTerminals,
                              .parameters = kParameters,
                              .joins = "aa",
                              .extra = 1,
                              .linear = false,
                              .stores = true,
                              .evaluate = evaluate};

}  // namespace tiepoint
