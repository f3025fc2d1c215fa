// Filament lamp in a small screw cap, on two wires. Its equations: engine/devices/filament.cpp.
//
//   2.5 V 0.3 A, 3.8 V 0.3 A (torch bulbs), 6 V 0.1 A, 12 V 0.1 A (panel bulbs); 2400 K at the rated voltage (from memory). So a cold
//   one has a twelfth of its hot resistance. Heat capacity 2.5e-5 J/K for each watt: warm in some 50 ms (from memory).
//   Light goes as V^3.4 and power as V^1.6 (common practice, from memory); with power as T^4 that is light as T^8.5. At one and a
//   quarter of the rated voltage it lives a twentieth of its time: called too bright from 1.2 times the rated power on (as the filament shows it: a cold one
//   may take more).
//
// Caution for anyone at a real bench: a filament lamp gets hot.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

struct Bulb {
  double voltage, current;  // [V], [A]
};
constexpr std::array<Bulb, 4> kBulbs = {{{2.5, 0.3}, {3.8, 0.3}, {6, 0.1}, {12, 0.1}}};
constexpr std::array<std::string_view, 4> kNames = {"2.5 V", "3.8 V", "6 V", "12 V"};
constexpr double kHot = 2400, kRoom = 300;     // [K]
constexpr double kHeatPerWatt = 2.5e-5;        // [J/K/W]
constexpr double kTooMuch = 1.2;               // of the rated power
constexpr double kLit = 0.05, kFaint = 0.001;  // of full brightness

constexpr std::array<ValueSpec, 1> kValues = {{
    {.key = "bulb", .unit = "", .standard = 2, .minimum = 0, .maximum = double(kNames.size() - 1), .options = kNames},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

const Bulb& bulb(const Part& part) { return kBulbs[size_t(part.values[0])]; }

void elements(const Board&, const Part& part, ElementList& out) {
  const Bulb& b = bulb(part);
  out.add(ElementKind::kFilament, {0, 1}, {b.voltage, b.current, kHot, kHeatPerWatt * b.voltage * b.current});
}

Ratings ratings(const Part& part) { return {.power = kTooMuch * bulb(part).voltage * bulb(part).current, .voltage = bulb(part).voltage}; }

void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out) || leads.inside.empty()) return;
  const double hotness = 1 + leads.inside[0].own[0];  // T / T0
  out.temperature = kRoom * hotness - 273.15;
  out.brightness = std::pow(std::fmax(hotness, 0) * kRoom / kHot, 8.5);
  if (out.brightness > std::pow(kTooMuch, 8.5 / 4))
    out.state = State::kTooBright;
  else
    out.state = out.brightness >= kLit ? State::kLit : out.brightness >= kFaint ? State::kFaint : State::kDark;
}

}  // namespace

constexpr PartType kFilamentLamp = {
    {.key = "filament-lamp",
     .prefix = "LA",
     .leads = kLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 6, .body_width = 6},
     .values = kValues},
    "light", Body::kFilamentLamp, elements, 0, ratings, read, -1, "lamp bulb filament light torch incandescent"};

}  // namespace tiepoint
