// Contacts of switches, and how they bounce. Equation: engine/devices/contact.cpp.
//
// What is published: 18 kinds of switch bounced for 1.6 ms on average, all but one for at most 6.2 ms (J. Ganssle, A Guide to
// Debouncing, 2004; the figures as others quote them); "typically 10 to 100 times over about 1 ms" (Horowitz and Hill, The Art of
// Electronics, 2nd edition, p. 506, as quoted; far fewer are made here, as each costs a restart of the solver); from a fraction of a
// millisecond to 50 ms (a maker of oscilloscopes); reed contacts 0.5 to 1 ms (a maker's glossary). Figures of single kinds that
// name no source are common practice.
#pragma once

#include <cstdint>
#include <string_view>

#include "engine/devices/contact.h"
#include "engine/parts/part_type.h"

namespace tiepoint {

struct Bounce {
  double time;  // [s] longest burst
  double most;  // openings in it
};
inline constexpr Bounce kCleanly = {0, 0};

// A reed's magnet [m]: the springs close within the one distance and open beyond the other.
inline constexpr double kReedPullIn = 0.010, kReedDropOut = 0.012;

// A number of 32 bits from a name (FNV-1a), and from more bytes after it.
inline constexpr uint32_t kSeedStart = 2166136261u;
constexpr uint32_t stir(uint32_t hash, uint32_t byte) { return (hash ^ byte) * 16777619u; }
constexpr uint32_t seed_of(std::string_view name, uint32_t hash = kSeedStart) {
  for (const char c : name) hash = stir(hash, uint8_t(c));
  return hash;
}

inline void add_contact(int a, int b, bool closed, double closed_resistance, const Bounce& bounce, ElementList& out) {
  out.add(ElementKind::kContact, {a, b},
          {closed ? 1.0 : 0.0, closed_resistance, kOpenResistance, bounce.time, bounce.most, kLongAgo, 0});
}

// Of a changeover: it comes loose cleanly, as the blade is away before it touches the other side, and bounces where it arrives.
inline void add_throw(int pole, int lead, bool closed, double closed_resistance, const Bounce& bounce, ElementList& out) {
  add_contact(pole, lead, closed, closed_resistance, closed ? bounce : kCleanly, out);
}

}  // namespace tiepoint
