// Relay with one changeover contact. The coil is a resistance and an inductance; the armature has four modes:
//
//   released --|i| >= pull-in--> pulling --operate time--> pulled --|i| <= release--> falling --release time--> released
// and turns back on its way when the current crosses the other limit. On its way neither contact is closed: break before make. Where
// it arrives the contact bounces (bounce.h). The change of inductance with the gap is left out. Coil and contacts share no metal.
#include <cmath>

#include "engine/devices/bounce.h"
#include "engine/devices/contact.h"
#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum {
  kCoilResistance,
  kInductance,
  kPullIn,
  kRelease,
  kOperateTime,
  kReleaseTime,
  kClosed,
  kOpen,
  kBounceTime,
  kBounces,
  kReturnTime,
  kReturns,
  kSeed
};
static_assert(int(kBounces) == kRelayBounces && int(kReturns) == kRelayReturnBounces);
enum { kPlus, kMinus, kCommon, kNormallyOpen, kNormallyClosed, kCoilCurrent, kUnknowns };
enum { kReleased, kPulling, kPulled, kFalling };
constexpr std::string_view kTerminals[] = {"coil+", "coil-", "common", "no", "nc"};
constexpr ParameterSpec kParameters[] = {{"coil_resistance", "ohm", kNone, 1e-3, 1e9},
                                         {"inductance", "H", 0.1, 0, 1e3},
                                         {"pull_in_current", "A", kNone, 1e-9, 1e3},
                                         {"release_current", "A", kNone, 1e-9, 1e3},
                                         {"operate_time", "s", 7e-3, 0, 10},
                                         {"release_time", "s", 3e-3, 0, 10},
                                         {"closed_resistance", "ohm", 0.05, 1e-9, 1e18},
                                         {"open_resistance", "ohm", 1e10, 1e-9, 1e18},
                                         {"bounce_time", "s", 0, 0, 1},
                                         {"bounces", "", 0, 0, kMostBounces},
                                         {"return_bounce_time", "s", 0, 0, 1},
                                         {"return_bounces", "", 0, 0, kMostBounces},
                                         {"seed", "", 0, 0, 4294967295.0}};

BounceFigures bounce(std::span<const double> p, int state) {
  return state == kPulled ? BounceFigures{p[kBounceTime], p[kBounces], p[kSeed]}
                          : BounceFigures{p[kReturnTime], p[kReturns], p[kSeed]};
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  const double i = x[kCoilCurrent];
  stamp_flow(out, m, kPlus, kMinus, i, {{kCoilCurrent, 1}});
  out.f[kCoilCurrent] = p[kCoilResistance] * i - (x[kPlus] - x[kMinus]);
  double* d = out.df + kCoilCurrent * m;
  d[kCoilCurrent] = p[kCoilResistance], d[kPlus] = -1, d[kMinus] = 1;
  out.q[kCoilCurrent] = p[kInductance] * i;
  out.dq[kCoilCurrent * m + kCoilCurrent] = p[kInductance];
  const int state = state_in(at.mode);
  stamp_conductance(out, m, x, kCommon, kNormallyOpen, 1 / p[state == kPulled && touches(at.mode) ? kClosed : kOpen]);
  stamp_conductance(out, m, x, kCommon, kNormallyClosed, 1 / p[state == kReleased && touches(at.mode) ? kClosed : kOpen]);
}

bool wants_in(int state) { return state == kReleased || state == kFalling; }

double event(std::span<const double> p, const double* x, const Instant& at, int) {
  if (skips_burst(at)) return 1;
  const double size = std::fabs(x[kCoilCurrent]);
  return wants_in(state_in(at.mode)) ? size - p[kPullIn] : p[kRelease] - size;
}

int next_mode(std::span<const double>, const double*, const Instant& at) {
  const int state = state_in(at.mode);
  return at_rest_in(at.mode, skips_burst(at) ? state : wants_in(state) ? kPulling : kFalling);
}

double lasts(std::span<const double> p, int mode) {
  const int state = state_in(mode);
  if (step_in(mode) > 0) return step_lasts(mode, bounce(p, state));
  return state == kPulling ? p[kOperateTime] : state == kFalling ? p[kReleaseTime] : kInfinite;
}

int after(std::span<const double> p, int mode) {
  const int state = state_in(mode);
  if (step_in(mode) > 0) return after_step(mode, bounce(p, state));
  const int there = state == kPulling ? kPulled : kReleased;
  return arrive(mode, there, bounce(p, there));
}

}  // namespace

const Model kRelayModel = {.kind = ElementKind::kRelay,
                           .name = "relay",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aabbb",
                           .extra = 1,
                           .stores = true,
                           .evaluate = evaluate,
                           .events = 1,
                           .event = event,
                           .next_mode = next_mode,
                           .lasts = lasts,
                           .after = after};

}  // namespace tiepoint
