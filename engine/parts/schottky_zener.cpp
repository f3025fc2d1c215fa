// Schottky and Zener diodes.
//
// Schottky: Shockley's equation with a large saturation current.
//   1N5817, 1N5819  at most 0.45 and 0.60 V at 1 A, 0.75 and 0.90 V at 3 A; at most 1 mA at 20 and 40 V; 1 A (onsemi 1N5817/D).
//                   Fitted: 0.38 V (0.45 V) at 1 A, RS 80 and 100 mohm, leakage 20 kohm and 40 kohm across the junction: 1 mA
//                   at 20 V is the sheet's largest, 100 uA at 20 V what is usual, so 200 k and 400 k are taken (from memory).
//   BAT85           at most 0.24, 0.32, 0.40, 0.50, 0.80 V at 0.1, 1, 10, 30, 100 mA; 2 uA at 25 V; 30 V, 200 mA (from memory).
//
// Zener. Half a watt: BZX55C series (Vishay 85604), all at 5 mA test current. One watt: 1N4728A to 1N4764A (makers' sheets of
// the registered series), each with a test current of about a quarter of its power; 2.7 V, which that series lacks: BZX85C2V7
// (from memory). Two junctions:
//   forward    an ordinary one, IS 1e-12 A, n 1.2, RS 1.5 ohm: at most 1.5 V (half a watt) and 1.2 V (one watt) at 200 mA;
//   breakdown  i = -IZT exp((w - RS |i|) / (m VT)), w = |v| - (VZ - RS IZT): VZ at IZT; dynamic resistance m VT / IZT + RS. The
//              sheets give its largest value; that is shared out between the knee (m, softer below 5 V, where the effect is
//              tunnelling) and RS so that the leakage limits (0.1 to 2 uA at 1 to 11 V; 10 to 150 uA of the large ones) hold.

#include "engine/parts/schottky_zener.h"

#include <array>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "anode"}, {.name = "cathode"}}};
constexpr double kBackwards = -0.1;  // [V]

// ---- Schottky

struct SchottkyFigures {
  double saturation_current, emission, series_resistance;  // [A], 1, [ohm]
  double largest_current, reverse_voltage, leakage;        // [A], [V], [ohm]
};
constexpr std::array<SchottkyFigures, 3> kSchottky = {{
    {1.4e-5, 1.05, 0.08, 1, 20, 200e3},
    {2.6e-6, 1.05, 0.10, 1, 40, 400e3},
    {1.5e-7, 1.1, 2.5, 0.2, 30, 20e6},
}};
constexpr std::array<std::string_view, 3> kSchottkyTypes = {"1N5817", "1N5819", "BAT85"};
constexpr std::array<ValueSpec, 1> kSchottkyValues = {{
    {.key = "type",
     .unit = "",
     .standard = 0,
     .minimum = 0,
     .maximum = double(kSchottkyTypes.size() - 1),
     .options = kSchottkyTypes},
}};

void schottky_elements(const Board&, const Part& part, ElementList& out) {
  const SchottkyFigures& f = kSchottky[size_t(part.values[0])];
  out.add(ElementKind::kDiode, {0, 1},
          {f.saturation_current, f.emission, f.series_resistance + kTwoContacts, kJunctionThermalVoltage, 0, 0,
           f.reverse_voltage * 1.5, 1e-3});
  out.add(ElementKind::kResistor, {0, 1}, {f.leakage});
}

Ratings schottky_ratings(const Part& part) {
  const SchottkyFigures& f = kSchottky[size_t(part.values[0])];
  return {.current = f.largest_current, .reverse_voltage = f.reverse_voltage};
}

void schottky_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const SchottkyFigures& f = kSchottky[size_t(part.values[0])];
  if (out.current > f.largest_current)
    out.state = State::kTooHot;
  else if (out.voltage < -f.reverse_voltage)
    out.state = State::kOverVoltage;
  else if (out.voltage < kBackwards)
    out.state = State::kBlocking;
  else
    out.state = out.current > kIdleCurrent ? State::kConducting : State::kIdle;
}

// ---- Zener

constexpr std::array<ZenerFigures, 14> kZener = {{
    {"2.7 V", 2.7, {{5e-3, 85, 4}, {80e-3, 6, 8}}},    // BZX55C2V7, BZX85C2V7
    {"3.3 V", 3.3, {{5e-3, 85, 4}, {76e-3, 10, 10}}},  // BZX55C3V3, 1N4728A
    {"3.9 V", 3.9, {{5e-3, 85, 5}, {64e-3, 9, 14}}},   // BZX55C3V9, 1N4730A
    {"4.7 V", 4.7, {{5e-3, 60, 5}, {53e-3, 8, 9}}},    // BZX55C4V7, 1N4732A
    {"5.1 V", 5.1, {{5e-3, 35, 3}, {49e-3, 7, 6}}},    // BZX55C5V1, 1N4733A
    {"5.6 V", 5.6, {{5e-3, 25, 2}, {45e-3, 5, 4}}},    // BZX55C5V6, 1N4734A
    {"6.2 V", 6.2, {{5e-3, 10, 1}, {41e-3, 2, 1.5}}},  // BZX55C6V2, 1N4735A
    {"6.8 V", 6.8, {{5e-3, 8, 1}, {37e-3, 3.5, 2}}},   // BZX55C6V8, 1N4736A
    {"7.5 V", 7.5, {{5e-3, 7, 1}, {34e-3, 4, 2}}},     // BZX55C7V5, 1N4737A
    {"8.2 V", 8.2, {{5e-3, 7, 1}, {31e-3, 4.5, 2}}},   // BZX55C8V2, 1N4738A
    {"9.1 V", 9.1, {{5e-3, 10, 1}, {28e-3, 5, 2}}},    // BZX55C9V1, 1N4739A
    {"10 V", 10, {{5e-3, 15, 1}, {25e-3, 7, 2}}},      // BZX55C10, 1N4740A
    {"12 V", 12, {{5e-3, 20, 1}, {21e-3, 9, 2}}},      // BZX55C12, 1N4742A
    {"15 V", 15, {{5e-3, 30, 1}, {17e-3, 14, 2}}},     // BZX55C15, 1N4744A
}};
constexpr auto kZenerVoltages = [] {
  std::array<std::string_view, kZener.size()> names = {};
  for (size_t k = 0; k < names.size(); ++k) names[k] = kZener[k].voltage_name;
  return names;
}();
constexpr std::array<std::string_view, 2> kZenerPowers = {"0.5 W", "1 W"};
constexpr double kZenerForward = 0.2;  // [A] forward, the sheet's test current taken as the limit

enum { kZenerVoltage, kZenerCase };
constexpr std::array<ValueSpec, 2> kZenerValues = {{
    {.key = "zener-voltage",
     .unit = "",
     .standard = 4,
     .minimum = 0,
     .maximum = double(kZenerVoltages.size() - 1),
     .options = kZenerVoltages},
    {.key = "power",
     .unit = "",
     .standard = 0,
     .minimum = 0,
     .maximum = double(kZenerPowers.size() - 1),
     .options = kZenerPowers},
}};

const ZenerFigures& zener(const Part& part) { return kZener[size_t(part.values[kZenerVoltage])]; }
double zener_power(const Part& part) { return kZenerPower[size_t(part.values[kZenerCase])]; }

void zener_elements(const Board&, const Part& part, ElementList& out) {
  constexpr double kNegligible = 1e-40;  // [A] the breakdown junction conducts nothing forward
  const ZenerCase& f = zener(part).cases[size_t(part.values[kZenerCase])];
  const double ohmic = f.dynamic_resistance - f.knee_emission * kJunctionThermalVoltage / f.test_current;
  out.add(ElementKind::kDiode, {0, 1}, {1e-12, 1.2, 1.5 + kTwoContacts, kJunctionThermalVoltage, 0, 0, kNone});
  out.add(ElementKind::kDiode, {0, 1},
          {kNegligible, f.knee_emission, ohmic, kJunctionThermalVoltage, 0, 0, zener(part).voltage - ohmic * f.test_current,
           f.test_current});
}

Ratings zener_ratings(const Part& part) {
  return {.power = zener_power(part), .current = kZenerForward, .reverse_voltage = zener(part).voltage};
}

// In its proper use a Zener conducts backwards.
void zener_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.power > zener_power(part) || out.current > kZenerForward)
    out.state = State::kTooHot;
  else if (std::abs(out.current) > kIdleCurrent)
    out.state = State::kConducting;
  else
    out.state = out.voltage < kBackwards ? State::kBlocking : State::kIdle;
}

constexpr Footprint kAxial = {.seat = Seat::kFlexible, .reach_min = 4, .reach_max = 16, .body_length = 2.0, .body_width = 0.9};

}  // namespace

std::span<const ZenerFigures> zener_figures() { return kZener; }

constexpr PartType kSchottkyDiode = {
    {.key = "schottky-diode", .prefix = "D", .leads = kLeads, .footprint = kAxial, .values = kSchottkyValues},
    "light",
    Body::kAxialDiode,
    schottky_elements,
    0,
    schottky_ratings,
    schottky_read,
    -1,
    "diode schottky low drop rectifier 1N5817 1N5819 BAT85"};

constexpr PartType kZenerDiode = {
    {.key = "zener-diode", .prefix = "D", .leads = kLeads, .footprint = kAxial, .values = kZenerValues},
    "light",
    Body::kAxialDiode,
    zener_elements,
    0,
    zener_ratings,
    zener_read,
    -1,
    "diode zener voltage reference regulator BZX55 BZX85 1N4728A 1N4730A 1N4732A 1N4733A 1N4734A 1N4735A 1N4736A 1N4737A "
    "1N4738A 1N4739A 1N4740A 1N4742A 1N4744A"};

}  // namespace tiepoint
