// MOSFETs: the square law (engine/devices/mosfet.cpp), gate capacitances, and the body diode between source and drain.
//
//   2N7000   n-channel, TO-92 (source gate drain, flat face towards you). Diotec/onsemi: VGS(th) 0.8-3 V at 1 mA, RDS(on) at most 5 ohm
//            at 10 V / 500 mA and 6 ohm at 4.5 V / 75 mA; 60 V, 20 V at the gate, 200 mA, 350 mW; its twin BS170 has typically 2.1 V
//            and 320 mS at 200 mA, whence K = gm^2 / (2 ID) = 0.256. Ciss 20-50 pF, Crss 4-5 pF (from memory).
//   BS170    n-channel, TO-92 (drain gate source, the other way round than the 2N7000). onsemi: VGS(th) 0.8, 2.1, 3 V at 1 mA, RDS(on)
//            typically 1.2, at most 5 ohm at 10 V / 200 mA, gFS 320 mS; 60 V, 20 V at the gate, 500 mA, 830 mW; Ciss 24 pF, Crss 7 pF (limits
//            and capacitances from memory). The law gives 0.5 ohm: the crystal's own series resistance is left out.
//   IRLZ44N  n-channel, logic level, TO-220 (gate drain source). VGS(th) 1-2 V, RDS(on) at most 22 mohm at 10 V and 35 mohm at 4 V;
//            55 V, 16 V at the gate, 47 A with a heat sink; Ciss 1700 pF, Crss 150 pF (from memory). In free air about 2 W and so
//            10 A; a breadboard's contacts bear far less.
//   BS250    p-channel, TO-92 (source gate drain). Philips/Diodes: VGS(th) 1-3.5 V, RDS(on) typically 3.5, at most 5 ohm at 10 V /
//            200 mA (Diodes DS21902), gFS 150 mS; 45 to 60 V, 20 V, 250 mA, 830 mW; Ciss 60 pF.
//   IRF9540N p-channel, TO-220 (gate drain source). VGS(th) 2-4 V, RDS(on) at most 117 mohm at 10 V / 11 A; 100 V, 20 V, 23 A with a
//            heat sink, gFS 5.3 S or more; Ciss 1300 pF, Crss 240 pF (from memory).
// Body diode: fitted through 0.85 V at 0.15 A (BS250 sheet) for the small ones, 1 V at 20 A for the large ones (from memory).
// Not modelled: the current below the threshold, breakdown (a rating), temperature. The gate is not damaged by a touch, as a real one may be.

#include <array>
#include <cmath>

#include "engine/parts/families.h"
#include "engine/parts/transistors.h"

namespace tiepoint {
namespace {

constexpr double kSmallDiode = 3.1e-10, kLargeDiode = 7e-9;  // [A] with emission 1.5 and the series resistances below
constexpr double kEmission = 1.5, kSmallSeries = 0.5, kLargeSeries = 0.008;
constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr double kLeakage = 1e9;  // [ohm] drain to source: the sheets allow 1 uA at 48 V

constexpr std::array<FieldEffectFigures, 5> kFigures = {{
    {"2N7000", false, 0.256, 2.1, 20e-12, 5e-12, kSmallDiode, 0.2, 60, 20, 0.35},
    {"BS170", false, 0.256, 2.1, 17e-12, 7e-12, kSmallDiode, 0.5, 60, 20, 0.83},
    {"IRLZ44N", false, 16, 1.6, 1550e-12, 150e-12, kLargeDiode, 10, 55, 16, 2},
    {"BS250", true, 0.045, 2.0, 50e-12, 10e-12, kSmallDiode, 0.25, 45, 20, 0.83},
    {"IRF9540N", true, 2.5, 3.0, 1060e-12, 240e-12, kLargeDiode, 4, 100, 20, 2},
}};
enum Index { k2N7000Index, kBS170Index, kIRLZ44NIndex, kBS250Index, kIRF9540NIndex };

constexpr std::array<LeadSpec, 3> kSgd = {{{.name = "source"}, {.name = "gate", .dx = 1}, {.name = "drain", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kDgs = {{{.name = "drain"}, {.name = "gate", .dx = 1}, {.name = "source", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kGds = {{{.name = "gate"}, {.name = "drain", .dx = 1}, {.name = "source", .dx = 2}}};

template <Index index, int D, int G, int S>
void elements(const Board&, const Part&, ElementList& out) {
  const FieldEffectFigures& f = kFigures[index];
  out.add(f.p_channel ? ElementKind::kPmos : ElementKind::kNmos, {D, G, S},
          {f.transconductance, f.threshold, f.gate_source_capacitance, f.gate_drain_capacitance});
  const bool small = f.power < 1;
  out.add(ElementKind::kDiode, {f.p_channel ? D : S, f.p_channel ? S : D},
          {f.diode_saturation, kEmission, small ? kSmallSeries : kLargeSeries, kJunctionThermalVoltage, 0, 0, kNone});
  out.add(ElementKind::kResistor, {D, S}, {kLeakage});
}

template <Index index>
Ratings ratings(const Part&) {
  const FieldEffectFigures& f = kFigures[index];
  return {.power = f.power, .current = f.largest_current, .voltage = f.drain_voltage, .reverse_voltage = f.gate_voltage};
}

// Voltage from drain to source and drain current, both positive when the transistor works as it should.
template <Index index, int D, int G, int S>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return;
  const FieldEffectFigures& f = kFigures[index];
  const double sign = f.p_channel ? -1 : 1;
  out.voltage = sign * (leads.voltage[D] - leads.voltage[S]);
  out.current = sign * leads.current[D];
  out.power = power_taken(leads);
  if (out.power > f.power)
    out.state = State::kTooHot;
  else if (std::abs(out.current) > f.largest_current)
    out.state = State::kOverloaded;
  else if (out.voltage > f.drain_voltage || std::abs(leads.voltage[G] - leads.voltage[S]) > f.gate_voltage)
    out.state = State::kOverVoltage;
  else
    out.state = std::abs(out.current) > kIdleCurrent ? State::kConducting : State::kBlocking;
}

constexpr Footprint kSmallCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 2.0, .body_width = 1.6};
constexpr Footprint kPowerCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 4.0, .body_width = 1.8};

template <Index index, int D, int G, int S>
constexpr PartType make(std::string_view key, std::span<const LeadSpec> leads, Body body, std::string_view search) {
  return {{.key = key, .prefix = "Q", .leads = leads, .footprint = body == Body::kTo220 ? kPowerCase : kSmallCase, .values = {}},
          "transistors",
          body,
          elements<index, D, G, S>,
          0,
          ratings<index>,
          read<index, D, G, S>,
          -1,
          search};
}

}  // namespace

std::span<const FieldEffectFigures> field_effect_figures() { return kFigures; }

constexpr PartType k2N7000 = make<k2N7000Index, 2, 1, 0>("2n7000", kSgd, Body::kTo92, "transistor mosfet n-channel 2N7000 switch");
constexpr PartType kBS170 = make<kBS170Index, 0, 1, 2>("bs170", kDgs, Body::kTo92, "transistor mosfet n-channel BS170 switch");
constexpr PartType kIRLZ44N = make<kIRLZ44NIndex, 1, 0, 2>("irlz44n", kGds, Body::kTo220, "transistor mosfet n-channel IRLZ44N power logic level");
constexpr PartType kBS250 = make<kBS250Index, 2, 1, 0>("bs250", kSgd, Body::kTo92, "transistor mosfet p-channel BS250 switch");
constexpr PartType kIRF9540N = make<kIRF9540NIndex, 1, 0, 2>("irf9540n", kGds, Body::kTo220, "transistor mosfet p-channel IRF9540N power");

}  // namespace tiepoint
