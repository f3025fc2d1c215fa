// Supply with a current limit: an ideal voltage V behind a resistance R until the delivered current reaches the limit, then
// (all but) constant current. With u = (V - v) / (R * limit), the current it would deliver without limit relative to the limit:
//
//   I = limit * (u - (1 - k) * w * ln(1 + exp((u - 1) / w)))        w = 0.02 width of the corner, k = 1e-6 slope that remains
//
// Smooth and monotone: dI/du = 1 - (1 - k) / (1 + exp(-(u - 1) / w)) lies between k and 1. Well below the limit I = limit * u
// to within w * exp(-(1 - u) / w), well above it I = limit * (1 + k*(u - 1)). An infinite limit leaves V behind R. Own formula.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kVoltage, kResistance, kLimit };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"voltage", "V", kNone, -1e9, 1e9},
                                         {"resistance", "ohm", kNone, 1e-9, 1e18},
                                         {"current_limit", "A", kInfinite, 1e-12, kInfinite}};
constexpr double kWidth = 0.02;
constexpr double kSlope = 1e-6;

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const double free_current = (at.source_scale * p[kVoltage] - (x[0] - x[1])) / p[kResistance];
  double current = free_current, slope = 1;
  const double beyond = (free_current / p[kLimit] - 1) / kWidth;
  if (beyond > -40) {  // below this the corner's part is under 1e-19 of the limit
    const double e = std::exp(-std::fabs(beyond));
    const double bend = std::log1p(e) + (beyond > 0 ? beyond : 0);
    const double share = (beyond > 0 ? 1 : e) / (1 + e);
    current -= (1 - kSlope) * kWidth * p[kLimit] * bend;
    slope = 1 - (1 - kSlope) * share;
  }
  stamp_branch(out.f, out.df, 2, 0, 1, -current, slope / p[kResistance]);
}

// From far beyond the limit, where the curve is all but flat, a tangent points to thousands of volts: it is followed to the
// corner.
bool limit(std::span<const double> p, const double* last, double* x) {
  const double corner = p[kVoltage] - p[kResistance] * p[kLimit];
  if (!(last[0] - last[1] < corner - kWidth * p[kResistance] * p[kLimit] && x[0] - x[1] > corner)) return false;
  x[0] = x[1] + corner;
  return true;
}

}  // namespace

const Model kLimitedSupplyModel = {.kind = ElementKind::kLimitedSupply,
                                   .name = "limited-supply",
                                   .terminals = kTerminals,
                                   .parameters = kParameters,
                                   .joins = "aa",
                                   .linear = false,
                                   .supplies = true,
                                   .evaluate = evaluate,
                                   .limit = limit};

}  // namespace tiepoint
