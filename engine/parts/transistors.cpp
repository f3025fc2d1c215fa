// Bipolar transistors.
//
//   Ebers & Moll's equations (engine/devices/bipolar.cpp), a resistance RC in the collector's lead, and the breakdown of the
//   base-emitter junction at VEBO (a diode of engine/devices/diode.cpp turned round, its forward part too small to matter).
//
// Figures and the sheets they must agree with (VBE(sat), VCE(sat), hFE at the currents named):
//   2N3904  Fairchild/onsemi Rev 1.1.0 (2014): hFE 100-300 at 10 mA; VCE(sat) at most 0.2 V at 10/1 mA, 0.3 V at 50/5 mA;
//           VBE(sat) 0.65-0.85 V at 10/1 mA; 40 V, 6 V, 200 mA, 625 mW; Cob 4 pF, Cib 8 pF, fT 300 MHz.
//   2N3906  hFE 100-300 at 10 mA; VCE(sat) at most 0.25 V at 10/1 mA, 0.4 V at 50/5 mA; VBE(sat) 0.65-0.85 V (Fairchild, from
//           memory; a TO-92 sheet read: 0.4 V and 0.95 V at 50/5 mA, 40 V, 5 V, 200 mA, fT 250 MHz).
//   BC547   group B: hFE 200-450 at 2 mA; VBE 0.58-0.70 V at 2 mA, typically 0.66 V; VCE(sat) typically 0.09, at most 0.25 V at
//           10/0.5 mA, at most 0.6 V at 100/5 mA; 45 V, 6 V, 100 mA, 500 mW; Cob 3.5 pF, Cib 9 pF, fT 300 MHz (Fairchild Rev 1.1.1).
//   BC557   the same the other way round: 45 V, 5 V, 100 mA, 500 mW; Cob 6 pF, fT 150 MHz (from memory).
//   2N2222  Philips (29 May 1997): hFE 100-300 at 150 mA, 35 or more at 0.1 mA; VCE(sat) at most 0.4 V at 150/15 mA, VBE(sat) at
//           most 1.3 V; 30 V, 5 V, 800 mA, 500 mW; Cob 8 pF, Cib 25 pF, fT 250 MHz.
//   The gain is one number here; real ones fall off at small and at large currents. The reverse gain is from memory.
// Not modelled: Early effect, temperature, breakdown of the collector (its limit is a rating).
//
// Order of the leads, flat face towards you, legs down: 2N3904, 2N3906 emitter base collector; BC547, BC557 collector base emitter;
// 2N2222 in a metal can (TO-18), from the tab clockwise seen from below: emitter base collector, bent into a row.
//
// Darlington TIP120 (TO-220: base collector emitter): two transistors and two resistors, B1 - E1 8 kohm, B2 - E2 120 ohm, and a diode
// from emitter to collector, as the maker's inner circuit shows (Motorola/ST, values from memory). ST: hFE 1000 or more at 0.5 and 3 A;
// VCE(sat) at most 2 V at 3 A / 12 mA; VBE(on) at most 2.5 V at 3 A; 60 V, 5 V, 5 A, 2 W in free air.

#include "engine/parts/transistors.h"

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<BipolarFigures, 6> kFigures = {{
    {"2N3904", false, 7e-15, 180, 4, 1.0, 6e-12, 3e-12, 0.45e-9, 0.2, 40, 6, 0.625},
    {"2N3906", true, 1.5e-14, 180, 4, 2.0, 7e-12, 4e-12, 0.55e-9, 0.2, 40, 5, 0.625},
    {"BC547", false, 2e-14, 300, 5, 1.0, 9e-12, 3.5e-12, 0.45e-9, 0.1, 45, 6, 0.5},
    {"BC557", true, 2e-14, 300, 5, 1.0, 10e-12, 6e-12, 0.9e-9, 0.1, 45, 5, 0.5},
    {"2N2222", false, 1.4e-14, 180, 6, 0.3, 20e-12, 7e-12, 0.5e-9, 0.8, 30, 5, 0.5},
    {"TIP120", false, 1e-12, 90, 2, 0.05, 200e-12, 100e-12, 10e-9, 5, 60, 5, 2.0},
}};
enum Index { k2N3904Index, k2N3906Index, kBC547Index, kBC557Index, k2N2222Index, kTIP120Index };

constexpr double kNegligible = 1e-40;        // [A] the saturation current of a junction that is only there for its breakdown
constexpr double kBreakdownCurrent = 10e-6;  // [A] the sheets' test current for VEBO
constexpr double kNone = std::numeric_limits<double>::infinity();

constexpr std::array<LeadSpec, 3> kEbc = {{{.name = "emitter"}, {.name = "base", .dx = 1}, {.name = "collector", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kCbe = {{{.name = "collector"}, {.name = "base", .dx = 1}, {.name = "emitter", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kBce = {{{.name = "base"}, {.name = "collector", .dx = 1}, {.name = "emitter", .dx = 2}}};

void add_transistor(const BipolarFigures& f, int collector, int base, int emitter, ElementList& out) {
  out.add(f.pnp ? ElementKind::kPnp : ElementKind::kNpn, {collector, base, emitter},
          {f.saturation_current, f.forward_gain, f.reverse_gain, kJunctionThermalVoltage, f.base_emitter_capacitance,
           f.base_collector_capacitance, f.transit_time});
}

// The base-emitter junction's breakdown: a diode along the junction, base to emitter in an npn.
void add_breakdown(const BipolarFigures& f, int base, int emitter, ElementList& out) {
  out.add(ElementKind::kDiode, {f.pnp ? emitter : base, f.pnp ? base : emitter},
          {kNegligible, 1, 0, kJunctionThermalVoltage, 0, 0, f.base_voltage + 1, kBreakdownCurrent});
}

// first: which leads are collector, base and emitter.
template <Index index, int C, int B, int E>
void elements(const Board&, const Part&, ElementList& out) {
  constexpr int kInside = 3;  // the collector behind its resistance
  const BipolarFigures& f = kFigures[index];
  add_transistor(f, kInside, B, E, out);
  out.add(ElementKind::kResistor, {C, kInside}, {f.collector_resistance + kContactResistance});
  add_breakdown(f, B, E, out);
}

void darlington_elements(const Board&, const Part&, ElementList& out) {
  enum { B, C, E, kMiddle, kInside };
  const BipolarFigures& f = kFigures[kTIP120Index];
  BipolarFigures driver = f;
  driver.saturation_current = f.saturation_current / 20;  // a twentieth of the output transistor's size (own choice)
  driver.base_emitter_capacitance = f.base_emitter_capacitance / 10;
  driver.base_collector_capacitance = f.base_collector_capacitance / 10;
  add_transistor(driver, kInside, B, kMiddle, out);
  add_transistor(f, kInside, kMiddle, E, out);
  out.add(ElementKind::kResistor, {C, kInside}, {f.collector_resistance + kContactResistance});
  out.add(ElementKind::kResistor, {B, kMiddle}, {8e3});
  out.add(ElementKind::kResistor, {kMiddle, E}, {120});
  out.add(ElementKind::kDiode, {E, C}, {1e-9, 1.6, 0.1, kJunctionThermalVoltage, 0, 0, kNone});
}

template <Index index>
Ratings ratings(const Part&) {
  const BipolarFigures& f = kFigures[index];
  return {.power = f.power, .current = f.largest_current, .voltage = f.collector_voltage, .reverse_voltage = f.base_voltage};
}

// Voltage from collector to emitter and collector current, both positive when the transistor works as it should.
template <Index index, int C, int B, int E>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return;
  const BipolarFigures& f = kFigures[index];
  const double sign = f.pnp ? -1 : 1;
  out.voltage = sign * (leads.voltage[C] - leads.voltage[E]);
  out.current = sign * leads.current[C];
  out.power = power_taken(leads);
  if (out.power > f.power)
    out.state = State::kTooHot;
  else if (std::abs(out.current) > f.largest_current)
    out.state = State::kOverloaded;
  else if (std::abs(out.voltage) > f.collector_voltage || sign * (leads.voltage[E] - leads.voltage[B]) > f.base_voltage)
    out.state = State::kOverVoltage;
  else
    out.state = out.current > kIdleCurrent ? State::kConducting : State::kBlocking;
}

constexpr Footprint kSmallCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 2.0, .body_width = 1.6};
constexpr Footprint kPowerCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 4.0, .body_width = 1.8};

template <Index index, int C, int B, int E>
constexpr PartType make(std::string_view key, std::span<const LeadSpec> leads, Body body, std::string_view search) {
  return {{.key = key, .prefix = "Q", .leads = leads, .footprint = kSmallCase, .values = {}},
          "transistors",
          body,
          elements<index, C, B, E>,
          1,
          ratings<index>,
          read<index, C, B, E>,
          -1,
          search};
}

}  // namespace

std::span<const BipolarFigures> bipolar_figures() { return kFigures; }

constexpr PartType k2N3904 = make<k2N3904Index, 2, 1, 0>("2n3904", kEbc, Body::kTo92, "transistor npn 2N3904 switch amplifier bipolar");
constexpr PartType k2N3906 = make<k2N3906Index, 2, 1, 0>("2n3906", kEbc, Body::kTo92, "transistor pnp 2N3906 switch amplifier bipolar");
constexpr PartType kBC547 = make<kBC547Index, 0, 1, 2>("bc547", kCbe, Body::kTo92, "transistor npn BC547 switch amplifier bipolar");
constexpr PartType kBC557 = make<kBC557Index, 0, 1, 2>("bc557", kCbe, Body::kTo92, "transistor pnp BC557 switch amplifier bipolar");
constexpr PartType k2N2222 = make<k2N2222Index, 2, 1, 0>("2n2222", kEbc, Body::kTo18, "transistor npn 2N2222 switch bipolar");

constexpr PartType kTIP120 = {
    {.key = "tip120", .prefix = "Q", .leads = kBce, .footprint = kPowerCase, .values = {}},
    "transistors", Body::kTo220, darlington_elements, 2, ratings<kTIP120Index>, read<kTIP120Index, 1, 0, 2>, -1,
    "transistor darlington npn TIP120 power switch bipolar"};

}  // namespace tiepoint
