// Contact of a switch: a resistance, closed or open, that makes and breaks a few times more whenever it is operated.
//
//   operated at t0: the contact goes over to its new position at once, then leaves it for a moment at each t0 + t_k of bounce.h.
// Before t0 it is in the other position.
//
// What is left out: the resistance that wanders while contacts settle, and the dead time of a changeover.
#include "engine/devices/contact.h"

#include <cmath>

#include "engine/devices/bounce.h"
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"closed", "", kNone, 0, 1},
                                         {"closed_resistance", "ohm", 0.05, 1e-9, 1e18},
                                         {"open_resistance", "ohm", 1e10, 1e-9, 1e18},
                                         {"bounce_time", "s", 0, 0, 1},
                                         {"bounces", "", 0, 0, kMostBounces},
                                         {"operated", "s", kLongAgo, kLongAgo, kInfinite},
                                         {"seed", "", 0, 0, 4294967295.0}};

Burst burst_in(std::span<const double> p) { return {uint32_t(p[kContactSeed]), p[kContactBounceTime], p[kContactBounces]}; }

// Has `instant` come? (A corner computed as a float may miss by a rounding.)
bool passed(double instant, double time) { return time >= instant - 1e-12 * std::fabs(instant); }

bool is_closed(std::span<const double> p, double time) {
  const bool closed = p[kContactClosed] != 0;
  if (p[kContactOperated] == kLongAgo) return closed;
  const Burst burst = burst_in(p);
  const double start = p[kContactOperated];
  if (!passed(start, time)) return !closed;
  int away = 0;
  while (away < burst.toggles() && passed(start + burst.at(away), time)) ++away;
  return closed ^ (away % 2 != 0);
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const double conductance = 1 / p[is_closed(p, at.since) ? kContactClosedResistance : kContactOpenResistance];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

double next_corner(std::span<const double> p, double time) {
  if (p[kContactOperated] == kLongAgo) return kInfinite;
  const Burst burst = burst_in(p);
  const double start = p[kContactOperated];
  if (!passed(start, time)) return start;
  for (int k = 0; k < burst.toggles(); ++k)
    if (const double at = start + burst.at(k); !passed(at, time)) return at;
  return kInfinite;
}

bool moving(std::span<const double>, double) { return false; }

}  // namespace

const Model kContactModel = {.kind = ElementKind::kContact,
                             .name = "contact",
                             .terminals = kTerminals,
                             .parameters = kParameters,
                             .joins = "aa",
                             .evaluate = evaluate,
                             .next_corner = next_corner,
                             .moving = moving};

}  // namespace tiepoint
