// Supplies of a better equipped bench: adjustable supply, signal source, solar panel.
//
// Adjustable supply: 0 to 30 V, 0 to 3 A; constant voltage behind 10 milliohm (from memory) until the set limit, then constant
// current; it lights "at limit" then. Leads as in supplies.cpp.
//
// Signal source: sine or square of the set amplitude and offset behind 50 ohm, the trade's usual source resistance. The amplitude is
// that into nothing: half of it into 50 ohm.
//
// Solar panel: the single-diode model.
//
//          +--------+--------[ RS ]--- +        IL = Isc E / (1000 W/m2)
//         (IL)      D    [RP]                   D: n N VT, N cells in series; Voc = 0.6 V a cell at Isc, n = 1.3
//          +--------+--------+-------- -        RS 0.05 ohm, RP 300 ohm a cell
//   A hobby panel: 0.11 A short-circuit current in full sun (1000 W/m2), about 0.5 V a cell in use (from memory). No temperature.

#include <array>
#include <cmath>

#include "engine/devices/source.h"
#include "engine/parts/families.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kLeadLength = 0.2;  // [m]
constexpr int kLeadGauge = 22;
constexpr double kNearLimit = 0.999;  // of the limit: there
constexpr int kMinus = 1;             // the lead that is zero volt

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "+"}, {.name = "-"}}};
constexpr ValueSpec kOnValue = {.key = "on", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
constexpr ValueSpec knob(std::string_view key, std::string_view unit, double standard, double minimum, double maximum) {
  return {.key = key, .unit = unit, .standard = standard, .minimum = minimum, .maximum = maximum, .options = {}, .use = Use::kPosition};
}

double lead_resistance() { return 2 * kLeadLength * awg_resistance(kLeadGauge) + kTwoContacts; }

// Current delivered: out of "+".
bool read_delivered(const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return false;
  out.current = -out.current;
  return true;
}

// ---- Adjustable supply

constexpr double kBenchResistance = 0.01;  // [ohm]
constexpr std::array<ValueSpec, 3> kBenchValues = {{kOnValue, knob("voltage", "V", 5, 0, 30), knob("limit", "A", 0.5, 0.01, 3)}};
enum { kOn, kVoltage, kLimit };

void bench_elements(const Board&, const Part& part, ElementList& out) {
  const bool on = part.values[kOn] != 0;
  out.add(ElementKind::kLimitedSupply, {0, 1},
          {on ? part.values[kVoltage] : 0, on ? kBenchResistance + lead_resistance() : kOpenResistance, part.values[kLimit]});
}

Ratings bench_ratings(const Part& part) { return {.current = part.values[kLimit], .voltage = part.values[kVoltage]}; }

void bench_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const bool on = part.values[kOn] != 0;
  out.state = on ? State::kOn : State::kOff;
  if (!read_delivered(leads, out) || !on) return;
  if (out.current < -kIdleCurrent) out.state = State::kBeingCharged;
  if (out.current > kNearLimit * part.values[kLimit]) out.state = State::kAtLimit;
}

// ---- Signal source

constexpr double kSourceResistance = 50;  // [ohm]
constexpr std::array<std::string_view, 2> kShapes = {"sine", "square"};
constexpr std::array<ValueSpec, 5> kSignalValues = {{
    kOnValue,
    {.key = "waveform", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kShapes.size() - 1), .options = kShapes, .use = Use::kPosition},
    knob("amplitude", "V", 1, 0, 10),
    knob("offset", "V", 0, -10, 10),
    knob("frequency", "Hz", 1, 0.1, 100e3),
}};
enum { kSignalOn, kShape, kAmplitudeKnob, kOffsetKnob, kFrequencyKnob };

void signal_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kInside = 2;
  const bool on = part.values[kSignalOn] != 0;
  const Waveform shape = !on ? Waveform::kDc : part.values[kShape] == 0 ? Waveform::kSine : Waveform::kSquare;
  out.add(ElementKind::kVoltageSource, {kInside, 1},
          {double(shape), on ? part.values[kAmplitudeKnob] : 0, on ? part.values[kOffsetKnob] : 0, part.values[kFrequencyKnob]});
  out.add(ElementKind::kResistor, {kInside, 0}, {kSourceResistance + lead_resistance()});
}

Ratings signal_ratings(const Part&) { return {.current = 0.2, .voltage = 10}; }

void signal_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  out.state = part.values[kSignalOn] != 0 ? State::kOn : State::kOff;
  if (!read_delivered(leads, out)) return;
  if (part.values[kSignalOn] != 0) out.frequency = part.values[kFrequencyKnob];
}

// ---- Solar panel

constexpr double kShortCurrent = 0.11;     // [A] at 1000 W/m2
constexpr double kFullSun = 1000;          // [W/m2]
constexpr double kOpenPerCell = 0.6;       // [V]
constexpr double kSolarEmission = 1.3;
constexpr double kSeriesPerCell = 0.05, kShuntPerCell = 300;  // [ohm]
constexpr std::array<std::string_view, 5> kCellCounts = {"1", "2", "4", "8", "12"};
constexpr std::array<double, 5> kCells = {1, 2, 4, 8, 12};
constexpr std::array<ValueSpec, 2> kSolarValues = {{
    knob("irradiance", "W/m²", 500, 0, 1200),
    {.key = "solar-cells", .unit = "", .standard = 4, .minimum = 0, .maximum = double(kCellCounts.size() - 1), .options = kCellCounts},
}};

void solar_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kInside = 2;
  const double cells = kCells[size_t(part.values[1])];
  const double light_current = kShortCurrent * part.values[0] / kFullSun;
  // Of a cell: IS = (Isc - Voc / RP) / (exp(Voc / (n VT)) - 1).
  const double saturation =
      (kShortCurrent - kOpenPerCell / kShuntPerCell) / std::expm1(kOpenPerCell / (kSolarEmission * kJunctionThermalVoltage));
  out.add(ElementKind::kCurrentSource, {1, kInside}, {double(Waveform::kDc), light_current});
  out.add(ElementKind::kDiode, {kInside, 1}, {saturation, kSolarEmission * cells, 0, kJunctionThermalVoltage});
  out.add(ElementKind::kResistor, {kInside, 1}, {kShuntPerCell * cells});
  out.add(ElementKind::kResistor, {kInside, 0}, {kSeriesPerCell * cells + lead_resistance()});
}

Ratings solar_ratings(const Part& part) { return {.current = kShortCurrent, .voltage = kOpenPerCell * kCells[size_t(part.values[1])]}; }

void solar_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  out.state = part.values[0] > 0 ? State::kOn : State::kOff;
  if (!read_delivered(leads, out)) return;
  if (out.current < -kIdleCurrent) out.state = State::kBeingCharged;
}

constexpr Footprint mat(double length, double width) {
  return {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

}  // namespace

constexpr PartType kBenchSupply = {
    {.key = "bench-supply", .prefix = "PS", .leads = kLeads, .footprint = mat(26, 14), .values = kBenchValues},
    "power", Body::kBenchSupply, bench_elements, 0, bench_ratings, bench_read, kMinus, "supply bench laboratory adjustable voltage current limit power"};

constexpr PartType kSignalSource = {
    {.key = "signal-source", .prefix = "SG", .leads = kLeads, .footprint = mat(22, 10), .values = kSignalValues},
    "power", Body::kSignalSource, signal_elements, 1, signal_ratings, signal_read, kMinus, "signal source generator sine square wave frequency"};

constexpr PartType kSolarPanel = {
    {.key = "solar-panel", .prefix = "PV", .leads = kLeads, .footprint = mat(24, 24), .values = kSolarValues},
    "power", Body::kSolarPanel, solar_elements, 1, solar_ratings, solar_read, kMinus, "solar cell panel sun light power supply photovoltaic"};

}  // namespace tiepoint
