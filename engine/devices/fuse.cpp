// Fuse and resettable fuse, by their heat. u = temperature rise, 1 where the wire melts (the polymer switches):
//
//   fuse             tau du/dt + u = (i / Imin)^2       Imin: the least current that ever melts it. Melts at u = 1, for good.
//   resettable fuse  tau du/dt + u = v i / Pd           Pd: the power that holds it at its switching temperature
//                    R = R0 (1 + exp((u - 1) / w)), at most R0 * 1e5, w = 0.01
// For a short, strong current the fuse melts after  i^2 t = Imin^2 tau, its melting integral. The resettable fuse has no steady
// place between R0 and its switched state once R0 i^2 > Pd, and cools back when the current stops.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr int kRise = 2, kUnknowns = 3;
void store_heat(double tau, const double* x, const Local& out) {
  out.q[kRise] = tau * x[kRise];
  out.dq[kRise * kUnknowns + kRise] = tau;
}

// ---- Fuse

enum { kResistance, kLeastMelting, kTimeConstant, kNumber };
// Mode n + 1: the fuse of number n has melted. A new one, with another number, is whole.
bool melted(std::span<const double> p, int mode) { return mode == int(p[kNumber]) + 1; }
constexpr ParameterSpec kFuseParameters[] = {
    {"resistance", "ohm", kNone, 1e-6, 1e9}, {"least_melting_current", "A", kNone, 1e-6, 1e4}, {"time_constant", "s", 0.5, 1e-6, 1e4},
    {"number", "", 0, 0, 1e6}};
constexpr double kMeltedConductance = 1e-10;  // [S]

void evaluate_fuse(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const double g = melted(p, at.mode) ? kMeltedConductance : 1 / p[kResistance];
  stamp_conductance(out, kUnknowns, x, 0, 1, g);
  const double scale = g / p[kLeastMelting], relative = scale * (x[0] - x[1]);  // i / Imin
  out.f[kRise] = x[kRise] - relative * relative;
  double* d = out.df + kRise * kUnknowns;
  d[kRise] = 1, d[0] = -2 * relative * scale, d[1] = 2 * relative * scale;
  store_heat(p[kTimeConstant], x, out);
}

double fuse_event(std::span<const double> p, const double* x, const Instant& at, int) { return melted(p, at.mode) ? -1 : x[kRise] - 1; }
int fuse_next(std::span<const double> p, const double*, const Instant&) { return int(p[kNumber]) + 1; }

// ---- Resettable fuse

enum { kColdResistance, kHoldingPower, kPolymerTime };
constexpr ParameterSpec kPolymerParameters[] = {
    {"cold_resistance", "ohm", kNone, 1e-6, 1e9}, {"holding_power", "W", kNone, 1e-9, 1e4}, {"time_constant", "s", 10, 1e-6, 1e4}};
constexpr double kSwitchWidth = 0.01, kLargestGrowth = 1e5;

void evaluate_polymer(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double steep = std::min((x[kRise] - 1) / kSwitchWidth, std::log(kLargestGrowth));
  const bool held = steep < (x[kRise] - 1) / kSwitchWidth;
  const double e = std::exp(steep);
  const double g = 1 / (p[kColdResistance] * (1 + e));
  const double g_slope = held ? 0 : -g * e / (1 + e) / kSwitchWidth;
  const double v = x[0] - x[1];
  stamp_flow(out, kUnknowns, 0, 1, g * v, {{0, g}, {1, -g}, {kRise, g_slope * v}});
  out.f[kRise] = x[kRise] - g * v * v / p[kHoldingPower];
  double* d = out.df + kRise * kUnknowns;
  d[kRise] = 1 - g_slope * v * v / p[kHoldingPower];
  d[0] = -2 * g * v / p[kHoldingPower], d[1] = -d[0];
  store_heat(p[kPolymerTime], x, out);
}

}  // namespace

const Model kFuseModel = {.kind = ElementKind::kFuse,
                          .name = "fuse",
                          .terminals = kTerminals,
                          .parameters = kFuseParameters,
                          .joins = "aa",
                          .extra = 1,
                          .linear = false,
                          .stores = true,
                          .evaluate = evaluate_fuse,
                          .events = 1,
                          .event = fuse_event,
                          .next_mode = fuse_next};

const Model kResettableFuseModel = {.kind = ElementKind::kResettableFuse,
                                    .name = "resettable-fuse",
                                    .terminals = kTerminals,
                                    .parameters = kPolymerParameters,
                                    .joins = "aa",
                                    .extra = 1,
                                    .linear = false,
                                    .stores = true,
                                    .evaluate = evaluate_polymer};

}  // namespace tiepoint
