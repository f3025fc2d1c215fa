// Switch that is thrown at given instants: a resistance, closed or open. Starts closed or open and changes at up to two
// instants, so that "closed at t = 0" and "a push of 0.2 s" can be written down.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kStartsClosed, kFirst, kSecond, kClosed, kOpen };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"starts_closed", "", 0, 0, 1},
                                         {"first_toggle", "s", kInfinite, 0, kInfinite},
                                         {"second_toggle", "s", kInfinite, 0, kInfinite},
                                         {"closed_resistance", "ohm", 1e-6, 1e-9, 1e18},
                                         {"open_resistance", "ohm", 1e12, 1e-9, 1e18}};

// A toggle at `instant` has happened at `time` (a corner computed as a float may miss by a rounding).
bool passed(double instant, double time) { return time >= instant - 1e-12 * std::fabs(instant); }

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const bool closed = (p[kStartsClosed] != 0) ^ passed(p[kFirst], at.since) ^ passed(p[kSecond], at.since);
  const double conductance = 1 / p[closed ? kClosed : kOpen];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

double next_corner(std::span<const double> p, double time) {
  double next = kInfinite;
  for (const int k : {kFirst, kSecond})
    if (!passed(p[k], time) && p[k] < next) next = p[k];
  return next;
}

bool moving(std::span<const double>, double) { return false; }

}  // namespace

const Model kTimedSwitchModel = {.kind = ElementKind::kTimedSwitch,
                                 .name = "timed-switch",
                                 .terminals = kTerminals,
                                 .parameters = kParameters,
                                 .joins = "aa",
                                 .timed = true,
                                 .evaluate = evaluate,
                                 .next_corner = next_corner,
                                 .moving = moving};

}  // namespace tiepoint
