// Reed contact: two springs in a magnet's field, a resistance closed or open.
//
//   mode  open --distance <= pull-in--> closed --distance > drop-out--> open,   drop-out > pull-in
// since springs that touch hold each other with less field than it took to bring them together. It bounces as it closes (bounce.h) and
// opens cleanly. Where the magnet lay before the start nothing bounces.
#include <algorithm>

#include "engine/devices/bounce.h"
#include "engine/devices/contact.h"
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kDistance, kPullIn, kDropOut, kClosedResistance, kOpenResistance, kBounceTime, kBounces, kSeed };
static_assert(int(kBounces) == kReedBounces);
enum { kOpen, kClosed };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"distance", "m", kNone, 0, 1e3},
                                         {"pull_in", "m", 0.010, 0, 1e3},
                                         {"drop_out", "m", 0.012, 0, 1e3},
                                         {"closed_resistance", "ohm", 0.1, 1e-9, 1e18},
                                         {"open_resistance", "ohm", 1e10, 1e-9, 1e18},
                                         {"bounce_time", "s", 0, 0, 1},
                                         {"bounces", "", 0, 0, kMostBounces},
                                         {"seed", "", 0, 0, 4294967295.0}};

BounceFigures bounce(std::span<const double> p) { return {p[kBounceTime], p[kBounces], p[kSeed]}; }

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const bool closed = state_in(at.mode) == kClosed && touches(at.mode);
  const double conductance = 1 / p[closed ? kClosedResistance : kOpenResistance];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

double event(std::span<const double> p, const double*, const Instant& at, int) {
  if (skips_burst(at)) return 1;
  if (state_in(at.mode) == kOpen) return p[kPullIn] - p[kDistance];
  const double past = p[kDistance] - std::max(p[kDropOut], p[kPullIn]);
  return past > 0 ? past : -1;
}

int next_mode(std::span<const double> p, const double*, const Instant& at) {
  if (skips_burst(at)) return at_rest_in(at.mode, kClosed);
  if (state_in(at.mode) == kClosed) return at_rest_in(at.mode, kOpen);
  return at.time > 0 ? arrive(at.mode, kClosed, bounce(p)) : at_rest_in(at.mode, kClosed);
}

double lasts(std::span<const double> p, int mode) { return step_in(mode) > 0 ? step_lasts(mode, bounce(p)) : kInfinite; }
int after(std::span<const double> p, int mode) { return after_step(mode, bounce(p)); }

}  // namespace

const Model kReedModel = {.kind = ElementKind::kReed,
                          .name = "reed",
                          .terminals = kTerminals,
                          .parameters = kParameters,
                          .joins = "aa",
                          .evaluate = evaluate,
                          .events = 1,
                          .event = event,
                          .next_mode = next_mode,
                          .lasts = lasts,
                          .after = after};

}  // namespace tiepoint
