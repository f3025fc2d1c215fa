// Inductor on a ferrite core: a small radial or axial choke.
//
//   v = L di/dt + R i
//
// Winding resistance: makers' tables of small chokes give about 0.1 ohm at 10 uH, 1 ohm at 220 uH, 3 ohm at 1 mH, 30 ohm at 10 mH
// (from memory); between them it goes about as L^0.85: R = 3 ohm (L / 1 mH)^0.85. The current they bear falls with the same tables
// from 1 A at 10 uH to 0.25 A at 1 mH (from memory): Imax = 0.25 A (L / 1 mH)^-0.3. Saturation of the core is not modelled.
//
// Caution for anyone at a real bench: a coil whose current is cut off makes a high voltage of its own; give the current a way on.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kFreeCurrent = std::numeric_limits<double>::quiet_NaN();  // the board's history decides

constexpr std::array<ValueSpec, 1> kValues = {{
    {.key = "inductance", .unit = "H", .standard = 1e-3, .minimum = 1e-6, .maximum = 0.1, .options = {}, .use = Use::kValue, .series = 12},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

double winding_resistance(double inductance) { return 3 * std::pow(inductance / 1e-3, 0.85); }
double largest_current(double inductance) { return 0.25 * std::pow(inductance / 1e-3, -0.3); }

void elements(const Board&, const Part& part, ElementList& out) {
  const double inductance = part.values[0];
  out.add(ElementKind::kInductor, {0, 1}, {inductance, kFreeCurrent, winding_resistance(inductance) + kTwoContacts});
}

Ratings ratings(const Part& part) { return {.current = largest_current(part.values[0])}; }

void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const double size = std::abs(out.current);
  out.state = size > largest_current(part.values[0]) ? State::kTooHot : size > kIdleCurrent ? State::kCarrying : State::kIdle;
}

}  // namespace

constexpr PartType kInductor = {
    {.key = "inductor",
     .prefix = "L",
     .leads = kLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 2, .reach_max = 16, .body_length = 1.8, .body_width = 1.2},
     .values = kValues},
    "storage", Body::kInductor, elements, 0, ratings, read, -1, "inductor coil choke henry magnetic store"};

}  // namespace tiepoint
