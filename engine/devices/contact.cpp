// Contact of a switch: a resistance, closed or open, that makes and breaks a few times more whenever it is operated.
//
//   operated at t0: the contact goes over to its new position at once, then leaves it n times for a moment,
//   all within the burst  D <= bounce_time:      t_k = t0 + D (1 - (1 - s_k)^2),  s_k = (k + 0.1 + 0.8 r) / 2n,  k = 0 .. 2n-1
//   so that the swings come closer together, as those of a dropped ball do (own formula; makers publish times, no pattern).
//   n is one of 0 .. bounces, D between 0.3 and 1 of bounce_time; n, D and every r follow from `seed` by whole-number sums alone,
//   so that every run and every build bounces alike. Before t0 it is in the other position.
//
// What is left out: the resistance that wanders while contacts settle, and the dead time of a changeover.
#include <cmath>
#include <cstdint>

#include "engine/devices/contact.h"
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

// The k-th number in [0, 1) that belongs to a seed. The mixing is an xorshift-and-multiply with odd constants (own choice).
double share(uint32_t seed, uint32_t k) {
  uint32_t h = seed + 0x9E3779B9u * (k + 1);
  h = (h ^ h >> 16) * 0x85EBCA6Bu;
  h = (h ^ h >> 13) * 0xC2B2AE35u;
  return ((h ^ h >> 16) >> 8) * 0x1p-24;
}

struct Burst {
  explicit Burst(std::span<const double> p)
      : seed(uint32_t(p[kContactSeed])),
        toggles(2 * int(share(seed, 0) * (p[kContactBounces] + 1))),
        length(p[kContactBounceTime] * (0.3 + 0.7 * share(seed, 1))),
        start(p[kContactOperated]) {}
  double at(int k) const {
    const double left = 1 - (k + 0.1 + 0.8 * share(seed, uint32_t(k) + 2)) / toggles;
    return start + length * (1 - left * left);
  }
  uint32_t seed;
  int toggles;
  double length;  // [s]
  double start;   // [s]
};

// Has `instant` come? (A corner computed as a float may miss by a rounding.)
bool passed(double instant, double time) { return time >= instant - 1e-12 * std::fabs(instant); }

bool is_closed(std::span<const double> p, double time) {
  const bool closed = p[kContactClosed] != 0;
  if (p[kContactOperated] == kLongAgo) return closed;
  const Burst burst(p);
  if (!passed(burst.start, time)) return !closed;
  int away = 0;
  while (away < burst.toggles && passed(burst.at(away), time)) ++away;
  return closed ^ (away % 2 != 0);
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, Local out) {
  const double conductance = 1 / p[is_closed(p, at.since) ? kContactClosedResistance : kContactOpenResistance];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

double next_corner(std::span<const double> p, double time) {
  if (p[kContactOperated] == kLongAgo) return kInfinite;
  const Burst burst(p);
  if (!passed(burst.start, time)) return burst.start;
  for (int k = 0; k < burst.toggles; ++k)
    if (const double at = burst.at(k); !passed(at, time)) return at;
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
