// Light-emitting diode, 5 mm.
//
//   I = IS (exp(V / (n VT)) - 1),  the lead voltage is V + RS I;  VT = 0.025852 V (300 K)
//
// Fit: IS is chosen so that the lead voltage at 20 mA is the sheet's typical value; n and RS are from memory (about 2 for GaAsP
// and GaP, 2.5 for InGaN; about ten ohms), the only second point found being Cree LC503TBL1 blue: 1.7 to 2.5 V at 1 uA.
//
//   colour  typical, largest forward voltage at 20 mA | continuous current, reverse voltage | sheet
//   red     2.0, 3.0 V | 20 mA, 6 V | Vishay TLUR6400 (83171)
//   orange  2.4, 3.0 V | 30 mA, 6 V | Vishay TLHO4200 (83005; a 3 mm lamp), limits from memory
//   yellow  2.4, 3.0 V | 30 mA, 6 V | Vishay TLHY6400, limits from memory
//   green   2.4, 3.0 V | 30 mA, 6 V | Vishay TLHG4400 (83006; GaP, a 3 mm lamp), limits from memory
//   blue    3.4, 4.0 V | 35 mA, 5 V | Cree C5SMF (CLD-CT1240)
//   white   3.2, 4.0 V | 25 mA, 5 V | Cree LC513FWH1 (CLD-CT208)
//
// Leakage: the sheets allow 10 uA at the reverse voltage; 10 megohm across the junction (0.5 uA at 5 V, from memory) stays
// inside and keeps an LED behind an open contact at a few millivolts, as a meter would find it.
//
// Light: luminous intensity goes about with the current (typical curves, from memory), so brightness = I / 20 mA.
// Dark below 0.1 % of that, faint below 5 % (own choice: about what an eye takes for off and for weak in a lit room).

#include "engine/parts/led.h"

#include <array>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr double kBreakdownCurrent = 1e-3;  // [A] of no effect without a breakdown voltage

// IS = 20 mA / (exp((VF - 20 mA RS) / (n VT)) - 1)
constexpr std::array<LedFigures, 6> kFigures = {{
    {"red", 7.009876e-18, 2.0, 8, 0.020, 6},
    {"orange", 6.635039e-21, 2.0, 10, 0.030, 6},
    {"yellow", 6.635039e-21, 2.0, 10, 0.030, 6},
    {"green", 6.635039e-21, 2.0, 10, 0.030, 6},
    {"blue", 7.466709e-23, 2.5, 18, 0.035, 5},
    {"white", 4.780725e-22, 2.5, 14, 0.025, 5},
}};
constexpr std::array<std::string_view, 6> kColours = {"red", "orange", "yellow", "green", "blue", "white"};

constexpr double kFaint = 0.001, kLit = 0.05;  // of full brightness
constexpr double kBackwards = -0.5;            // [V] more than any forward circuit leaves across an LED

constexpr std::array<ValueSpec, 1> kValues = {{
    {.key = "colour", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kColours.size() - 1), .options = kColours},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "anode"}, {.name = "cathode"}}};

const LedFigures& figures(const Part& part) { return kFigures[size_t(part.values[0])]; }

void elements(const Board&, const Part& part, ElementList& out) {
  const LedFigures& f = figures(part);
  out.add(ElementKind::kDiode, {0, 1},
          {f.saturation_current, f.emission, f.series_resistance + kTwoContacts, kJunctionThermalVoltage, 0, 0, kNone,
           kBreakdownCurrent});
  out.add(ElementKind::kResistor, {0, 1}, {kLedLeakage});
}

Ratings ratings(const Part& part) {
  return {.current = figures(part).largest_current, .reverse_voltage = figures(part).reverse_voltage};
}

void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  out.brightness = out.current > 0 ? out.current / kLedFullCurrent : 0;
  if (out.voltage < kBackwards)
    out.state = State::kReversed;
  else if (out.current > figures(part).largest_current)
    out.state = State::kTooBright;
  else
    out.state = out.brightness >= kLit ? State::kLit : out.brightness >= kFaint ? State::kFaint : State::kDark;
}

}  // namespace

std::span<const LedFigures> led_figures() { return kFigures; }

constexpr PartType kLed = {{.key = "led",
                            .prefix = "LED",
                            .leads = kLeads,
                            .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3},
                            .values = kValues},
                           "light",
                           Body::kRoundLed,
                           elements,
                           0,
                           ratings,
                           read,
                           -1,
                           "led light lamp diode red orange yellow green blue white"};

}  // namespace tiepoint
