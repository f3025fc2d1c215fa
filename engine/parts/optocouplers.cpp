// Optocoupler and slotted light gate. Equations: engine/devices/optocoupler.cpp.
//
//   4N25 (Vishay 83725): LED 1.2 V (at most 1.5 V) at 50 mA, 60 mA, 5 V backwards; transfer ratio at least 20 %, typically 50 % at 10 mA
//   and 10 V (from memory); 30 V, 50 mA, 150 mW. Six legs: anode, cathode, none, emitter, collector, base.
//     LED: 1.15 V at 10 mA, IS 2.93e-12 A with n = 2, RS 1.5 ohm. Gain 300: coupling 0.5 / 300.
//   Slotted gate (of the TCST1103 kind, Vishay, from memory): LED as above; 4 mA from 20 mA with the slot free, so 20 %; nothing when a
//   flag is in it. The knob says how much of the light the flag takes away. Four legs: anode and cathode on one side of the slot, emitter
//   and collector on the other, which lies over the centre gap.
// 10 pF at each junction of the transistor make it slow (some 5 us into 100 ohm), as it should be. Not modelled: the ratio falls with age,
// heat, and away from 10 mA.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kLedSaturation = 2.93e-12, kLedEmission = 2, kLedSeries = 1.5;  // [A] 1 [ohm]: 1.29 V at 50 mA
constexpr double kLedCurrent = 0.06, kLedReverse = 5;                            // [A] [V]
constexpr double kSaturation = 1e-14, kGain = 300, kReverseGain = 5;
constexpr double kJunctionCapacitance = 10e-12;  // [F]

void add_pair(double ratio, int anode, int cathode, int base, int collector, int emitter, ElementList& out) {
  out.add(ElementKind::kOptocoupler, {anode, cathode, base, collector, emitter},
          {kLedSaturation, kLedEmission, kLedSeries, ratio / kGain, kSaturation, kGain, kReverseGain, kJunctionThermalVoltage,
           kJunctionCapacitance, kJunctionCapacitance});
  out.add(ElementKind::kResistor, {anode, cathode}, {1e8});
  out.add(ElementKind::kResistor, {collector, emitter}, {5e9});  // dark current
}

// Of the LED; the state tells whether light passes to a transistor that can carry current.
template <int A, int K, int C, int E>
void read_pair(const LeadNumbers& leads, double most, PartNumbers& out) {
  const auto here = [&](int lead) { return has_reading(leads.voltage[size_t(lead)]) && has_reading(leads.current[size_t(lead)]); };
  if (!here(A) || !here(K)) return;
  out.voltage = leads.voltage[A] - leads.voltage[K];
  out.current = leads.current[A];
  out.power = out.voltage * out.current;
  double carried = 0;
  if (here(C) && here(E)) {
    carried = leads.current[C];
    out.power += (leads.voltage[C] - leads.voltage[E]) * carried;
  }
  if (out.current > kLedCurrent)
    out.state = State::kTooHot;
  else if (out.voltage < -0.5)
    out.state = State::kReversed;
  else if (std::abs(carried) > most)
    out.state = State::kOverloaded;
  else
    out.state = carried > kIdleCurrent ? State::kConducting : State::kBlocking;
}

// ---- 4N25

enum { kAnode, kCathode, kNone, kEmitter, kCollector, kBase };
constexpr std::array<LeadSpec, 6> kCouplerLeads = {{{.name = "anode"},
                                                    {.name = "cathode", .dx = 1},
                                                    {.name = "unused", .dx = 2},
                                                    {.name = "emitter", .dx = 2, .dy = -3},
                                                    {.name = "collector", .dx = 1, .dy = -3},
                                                    {.name = "base", .dx = 0, .dy = -3}}};
constexpr double kRatio = 0.5, kCollectorCurrent = 0.05;

void coupler_elements(const Board&, const Part&, ElementList& out) { add_pair(kRatio, kAnode, kCathode, kBase, kCollector, kEmitter, out); }
Ratings coupler_ratings(const Part&) { return {.power = 0.15, .current = kLedCurrent, .voltage = 30, .reverse_voltage = kLedReverse}; }
void coupler_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_pair<kAnode, kCathode, kCollector, kEmitter>(leads, kCollectorCurrent, out);
}

// ---- Slotted gate

enum { kGateAnode, kGateCathode, kGateEmitter, kGateCollector };
constexpr std::array<LeadSpec, 4> kGateLeads = {{{.name = "anode"},
                                                 {.name = "cathode", .dx = 1},
                                                 {.name = "emitter", .dx = 1, .dy = -3},
                                                 {.name = "collector", .dx = 0, .dy = -3}}};
constexpr double kFreeRatio = 0.2, kGateCurrent = 0.1;
constexpr std::array<ValueSpec, 1> kFlag = {{
    {.key = "flag", .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition},
}};

void gate_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kInside = 4;  // the base has no leg
  add_pair(kFreeRatio * (1 - part.values[0]), kGateAnode, kGateCathode, kInside, kGateCollector, kGateEmitter, out);
}
Ratings gate_ratings(const Part&) { return {.power = 0.25, .current = kLedCurrent, .voltage = 70, .reverse_voltage = kLedReverse}; }
void gate_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_pair<kGateAnode, kGateCathode, kGateCollector, kGateEmitter>(leads, kGateCurrent, out);
}

}  // namespace

constexpr PartType kOptocoupler = {
    {.key = "optocoupler",
     .prefix = "U",
     .leads = kCouplerLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 3.4, .body_width = 2.6},
     .values = {}},
    "chips", Body::kDip, coupler_elements, 0, coupler_ratings, coupler_read, -1, "optocoupler isolation 4N25 light transistor"};

constexpr PartType kSlottedSensor = {
    {.key = "slotted-sensor",
     .prefix = "U",
     .leads = kGateLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 2.4, .body_width = 4.8},
     .values = kFlag},
    "sensors", Body::kSlottedSensor, gate_elements, 1, gate_ratings, gate_read, -1, "infrared pair light gate slot flag sensor"};

}  // namespace tiepoint
