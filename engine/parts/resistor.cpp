// Resistor, axial, a quarter of a watt: body 6.3 mm x 2.4 mm (common practice, no source).
// 0 ohm is no resistor but a wire link: the range starts at 0.1 ohm.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kPowerRating = 0.25;  // [W]

// Tolerance is what the last band says; the resistance itself stays nominal.
constexpr std::array<std::string_view, 5> kTolerances = {"1 %", "2 %", "5 %", "10 %", "20 %"};
enum { kResistance, kTolerance };
constexpr std::array<ValueSpec, 2> kValues = {{
    {.key = "resistance",
     .unit = "Ω",
     .standard = 330,
     .minimum = 0.1,
     .maximum = 22e6,
     .options = {},
     .use = Use::kValue,
     .series = 24},
    {.key = "tolerance",
     .unit = "",
     .standard = 2,
     .minimum = 0,
     .maximum = double(kTolerances.size() - 1),
     .options = kTolerances},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

void elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kResistor, {0, 1}, {part.values[kResistance] + kTwoContacts});
}

Ratings ratings(const Part&) { return {.power = kPowerRating}; }

void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.power > kPowerRating)
    out.state = State::kTooHot;
  else
    out.state = std::abs(out.current) > kIdleCurrent ? State::kCarrying : State::kIdle;
}

}  // namespace

constexpr PartType kResistor = {
    {.key = "resistor",
     .prefix = "R",
     .leads = kLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 4, .reach_max = 16, .body_length = 2.5, .body_width = 0.9},
     .values = kValues},
    "resistors",
    Body::kAxialResistor,
    elements,
    0,
    ratings,
    read,
    -1,
    "resistor resistance ohm limit current"};

}  // namespace tiepoint
