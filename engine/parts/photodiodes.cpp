// Photodiode and phototransistor. What they see is a knob of the part, in lux of a tungsten lamp (2856 K, "standard light A").
//
// Photodiode BPW34 (Vishay 81521): a junction with a current source along it, cathode to anode inside.
//   Short-circuit current 70 uA at 1000 lx, 47 uA at 1 mW/cm2 (950 nm), open voltage 350 mV there; dark current typically 2 nA at 10 V;
//   70 pF; 60 V (some from memory). IS = 47 uA / (exp(0.35 V / VT) - 1), n = 1; leakage 5 gigohm.
//
// Phototransistor TEPT5600 (Vishay 84768): an npn whose base current is the light's. Typically 350 uA at 100 lx; 6 V from collector to
//   emitter, 20 mA, 100 mW; dark current 3 nA (of its sister TEMT6000, Vishay 81579). With a gain of 500 (own choice; only the product
//   counts) the base gets 7 nA per lx. The base has no leg.

#include <array>
#include <cmath>

#include "engine/devices/source.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<ValueSpec, 1> kLight = {{
    {.key = "light", .unit = "lx", .standard = 300, .minimum = 0, .maximum = 100e3, .options = {}, .use = Use::kPosition},
}};

// ---- Photodiode

constexpr double kDiodeCurrentPerLux = 70e-9;   // [A/lx]
constexpr double kDiodeSaturation = 6.18e-11;   // [A]
constexpr double kDiodeCapacitance = 70e-12;    // [F]
constexpr double kDiodeLeakage = 5e9;           // [ohm]
constexpr double kDiodeReverse = 60;            // [V]
constexpr double kDiodePower = 0.215;           // [W]
constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr std::array<LeadSpec, 2> kDiodeLeads = {{{.name = "anode"}, {.name = "cathode"}}};

void diode_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kDiode, {0, 1}, {kDiodeSaturation, 1, 5 + kTwoContacts, kJunctionThermalVoltage, kDiodeCapacitance, 0, kNone});
  out.add(ElementKind::kCurrentSource, {1, 0}, {double(Waveform::kDc), kDiodeCurrentPerLux * part.values[0]});
  out.add(ElementKind::kResistor, {0, 1}, {kDiodeLeakage});
}

Ratings diode_ratings(const Part&) { return {.power = kDiodePower, .reverse_voltage = kDiodeReverse}; }

void diode_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.power > kDiodePower)
    out.state = State::kTooHot;
  else if (out.voltage < -kDiodeReverse)
    out.state = State::kOverVoltage;
  else
    out.state = std::abs(out.current) > kIdleCurrent ? State::kConducting : State::kIdle;
}

// ---- Phototransistor

constexpr double kBaseCurrentPerLux = 7e-9;  // [A/lx]
constexpr double kGain = 500;
constexpr double kCollectorResistance = 10;  // [ohm], from memory
constexpr double kTransistorCurrent = 0.02;   // [A]
constexpr double kTransistorVoltage = 6;      // [V]
constexpr double kTransistorPower = 0.1;      // [W]
constexpr std::array<LeadSpec, 2> kTransistorLeads = {{{.name = "collector"}, {.name = "emitter"}}};

void transistor_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kBase = 2, kInside = 3;
  out.add(ElementKind::kNpn, {kInside, kBase, 1}, {1e-14, kGain, 5, kJunctionThermalVoltage, 10e-12, 10e-12, 1e-9});
  out.add(ElementKind::kResistor, {0, kInside}, {kCollectorResistance + kContactResistance});
  out.add(ElementKind::kCurrentSource, {kInside, kBase}, {double(Waveform::kDc), kBaseCurrentPerLux * part.values[0]});
  out.add(ElementKind::kResistor, {0, 1}, {2e9});  // dark current: 3 nA at 5 V
}

Ratings transistor_ratings(const Part&) {
  return {.power = kTransistorPower, .current = kTransistorCurrent, .voltage = kTransistorVoltage};
}

void transistor_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.power > kTransistorPower)
    out.state = State::kTooHot;
  else if (std::abs(out.current) > kTransistorCurrent)
    out.state = State::kOverloaded;
  else if (out.voltage > kTransistorVoltage)
    out.state = State::kOverVoltage;
  else
    out.state = out.current > kIdleCurrent ? State::kConducting : State::kBlocking;
}

constexpr Footprint kLegs = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3};

}  // namespace

constexpr PartType kPhotodiode = {
    {.key = "photodiode", .prefix = "D", .leads = kDiodeLeads, .footprint = kLegs, .values = kLight},
    "sensors", Body::kPhotodiode, diode_elements, 0, diode_ratings, diode_read, -1, "photodiode light sensor BPW34"};

constexpr PartType kPhototransistor = {
    {.key = "phototransistor", .prefix = "Q", .leads = kTransistorLeads, .footprint = kLegs, .values = kLight},
    "sensors", Body::kPhototransistor, transistor_elements, 2, transistor_ratings, transistor_read, -1,
    "phototransistor light sensor ambient transistor"};

}  // namespace tiepoint
