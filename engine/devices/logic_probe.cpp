// Logic probe: looks at one voltage as a 74HC input would, and remembers for a moment that it changed.
//
//   tip --- 2R --- vcc        S = v(vcc) - v(gnd), u = v(tip) - v(gnd)
//    |
//   2R                        high above 0.7 S, low below 0.3 S: what a 74HC input is promised to take as one or the other (3.15 V and
//    |                        1.35 V at 4.5 V in the Philips 74HC00 sheet of 30 Jun 2003). Left again 0.02 S further in.
//   gnd                       Awake above 1.5 V of supply, asleep below 1.2 V (own choice).
//
// An open tip rests at half the supply: neither. R = `input_resistance`.
// Mode: 0 asleep, 1 low, 2 neither, 3 high; 4 more for 0.25 s after a change (own choice: long enough to be seen).
#include <algorithm>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kTip, kVcc, kGnd };
enum { kAsleep, kLow, kNeither, kHigh, kChanged };
constexpr std::string_view kTerminals[] = {"tip", "vcc", "gnd"};
constexpr ParameterSpec kParameters[] = {{"input_resistance", "ohm", 1e6, 1e-9, 1e18}};
constexpr double kRise = 0.7, kFall = 0.3, kBack = 0.02;  // shares of the supply
constexpr double kWakes = 1.5, kSleeps = 1.2;             // [V]
constexpr double kSeen = 0.25;                            // [s]

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double g = 1 / (2 * p[0]);
  stamp_branch(out.f, out.df, 3, kTip, kVcc, g * (x[kTip] - x[kVcc]), g);
  stamp_branch(out.f, out.df, 3, kTip, kGnd, g * (x[kTip] - x[kGnd]), g);
}

double event(std::span<const double>, const double* x, const Instant& at, int k) {
  const double supply = x[kVcc] - x[kGnd], u = x[kTip] - x[kGnd];
  const int level = at.mode & 3;
  if (level == kAsleep) return k == 0 ? supply - kWakes : -1;
  if (k == 0) return kSleeps - supply;
  switch (level) {
    case kLow: return u - (kFall + kBack) * supply;
    case kHigh: return (kRise - kBack) * supply - u;
    default: return std::max(u - kRise * supply, kFall * supply - u);
  }
}

int next_mode(std::span<const double> p, const double* x, const Instant& at) {
  const double supply = x[kVcc] - x[kGnd], u = x[kTip] - x[kGnd];
  const bool asleep = (at.mode & 3) == kAsleep;
  if (!asleep && event(p, x, at, 0) >= 0) return kAsleep;
  const int level = u >= kRise * supply ? kHigh : u <= kFall * supply ? kLow : kNeither;
  return asleep ? level : level + kChanged;
}

double lasts(std::span<const double>, int mode) { return mode > kChanged ? kSeen : kInfinite; }
int after(std::span<const double>, int mode) { return mode - kChanged; }

}  // namespace

const Model kLogicProbeModel = {.kind = ElementKind::kLogicProbe,
                                .name = "logic-probe",
                                .terminals = kTerminals,
                                .parameters = kParameters,
                                .joins = "aaa",
                                .evaluate = evaluate,
                                .events = 2,
                                .event = event,
                                .next_mode = next_mode,
                                .lasts = lasts,
                                .after = after};

}  // namespace tiepoint
