// Silicon diode in a glass or plastic body.
//
//   I = IS (exp(V / (n VT)) - 1),  the lead voltage is V + RS I;  VT = 0.025852 V (300 K)
//
//   1N4148: fitted through 0.60 V at 1 mA and 0.72 V at 10 mA, RS 0.6 ohm (typical curve, from memory). Sheet (Vishay 81857):
//           at most 1.0 V at 10 mA, 25 nA at 20 V; 300 mA, 75 V working, breakdown from 100 V (at 100 uA). The sister type
//           1N4448, same sheet family, is given as 0.62 to 0.72 V at 5 mA (Diotech 1N4148/1N4448); the fit is at 0.682 V there.
//   1N4007: fitted through 0.66 V at 10 mA and 0.93 V at 1 A, RS 33 milliohm (typical curve, from memory). Sheet (Fairchild
//           1N4001-1N4007, 2001): at most 1.1 V at 1 A, 5 uA at 1000 V; 1 A, 1000 V. Breakdown not modelled.
// Leakage: 2 gigohm (10 nA at 20 V) and 1 gigohm (1 uA at 1000 V), inside the sheets' limits. Not modelled: junction
// capacitance, stored charge (4 ns and about 2 us), temperature.

#include "engine/parts/diode.h"

#include <array>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr double kBreakdownCurrent = 100e-6;  // [A]

constexpr std::array<DiodeFigures, 2> kFigures = {{
    {"1N4148", 5.883470e-9, 1.925195, 0.6, 0.3, 75, 100, 2e9},
    {"1N4007", 2.759974e-8, 1.993484, 0.033, 1.0, 1000, kNone, 1e9},
}};
constexpr std::array<std::string_view, 2> kTypes = {"1N4148", "1N4007"};
constexpr double kBackwards = -0.1;  // [V]

constexpr std::array<ValueSpec, 1> kValues = {{
    {.key = "type", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kTypes.size() - 1), .options = kTypes},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "anode"}, {.name = "cathode"}}};

const DiodeFigures& figures(const Part& part) { return kFigures[size_t(part.values[0])]; }

void elements(const Board&, const Part& part, ElementList& out) {
  const DiodeFigures& f = figures(part);
  out.add(ElementKind::kDiode, {0, 1},
          {f.saturation_current, f.emission, f.series_resistance + kTwoContacts, kJunctionThermalVoltage, 0, 0,
           f.breakdown_voltage, kBreakdownCurrent});
  out.add(ElementKind::kResistor, {0, 1}, {f.leakage});
}

Ratings ratings(const Part& part) {
  return {.current = figures(part).largest_current, .reverse_voltage = figures(part).reverse_voltage};
}

void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const DiodeFigures& f = figures(part);
  if (out.current > f.largest_current)
    out.state = State::kTooHot;
  else if (out.voltage < -f.reverse_voltage)
    out.state = State::kOverVoltage;
  else if (out.voltage < kBackwards)
    out.state = State::kBlocking;
  else
    out.state = out.current > kIdleCurrent ? State::kConducting : State::kIdle;
}

}  // namespace

std::span<const DiodeFigures> diode_figures() { return kFigures; }

constexpr PartType kDiode = {
    {.key = "diode",
     .prefix = "D",
     .leads = kLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 4, .reach_max = 16, .body_length = 2.0, .body_width = 0.9},
     .values = kValues},
    "light",
    Body::kAxialDiode,
    elements,
    0,
    ratings,
    read,
    -1,
    "diode silicon rectifier one way 1N4148 1N4007"};

}  // namespace tiepoint
