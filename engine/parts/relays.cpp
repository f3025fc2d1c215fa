// Relay and solenoid. Equations: engine/devices/relay.cpp; the solenoid is a coil.
//
//   Relay, 5 V, one changeover contact, for signals (a common small type; from memory): coil 167 ohm (30 mA); pulls in at 80 % of
//   5 V at the latest, taken as 70 %; lets go at 10 % at the earliest, taken as 25 %; 5 ms and 2.5 ms; contacts 0.1 ohm, 1 A at 24 V.
//   Inductance 0.15 H. Bounce up to 1 ms and 4 openings as it pulls in, up to 3 ms and 6 as it falls back on the weaker spring (makers'
//   sheets of such relays, from memory; the openings common practice, no source; see contacts.h). Legs: coil at the left end, the contacts' at the right, 7.62 mm between the rows (the order is our own, as
//   makers differ).
//   Solenoid, 5 V, 20 ohm, 15 mH; pulls its bar from 0.15 A on, lets go below 0.08 A: only the pull is told, from the current (from memory).
//
// Caution for anyone at a real bench: give the coil's current a way on when it is cut off (a diode across it, cathode to plus), or its
// kick destroys the transistor. Never switch mains on a breadboard.

#include <array>
#include <cmath>

#include "engine/devices/bounce.h"
#include "engine/parts/contacts.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kCoilResistance = 167, kCoilInductance = 0.15;  // [ohm] [H]
constexpr double kNominal = 5;                                   // [V]
constexpr double kPullIn = 0.7, kLetGo = 0.25;                   // of the nominal voltage
constexpr double kClosedResistance = 0.1, kContactRating = 1;    // [ohm] [A]
constexpr Bounce kBounce = {1e-3, 4}, kReturnBounce = {3e-3, 6};
enum { kCoilPlus, kCommon, kNormallyOpen, kNormallyClosed, kCommon2, kCoilMinus, kLegs };
enum { kModeReleased, kModePulling, kModePulled, kModeFalling };

constexpr std::array<LeadSpec, kLegs> kRelayLeads = {{{.name = "coil+"},
                                                      {.name = "common", .dx = 3, .joined = 0},
                                                      {.name = "no", .dx = 5},
                                                      {.name = "nc", .dx = 5, .dy = -3},
                                                      {.name = "common-2", .dx = 3, .dy = -3, .joined = 0},
                                                      {.name = "coil-", .dx = 0, .dy = -3}}};

void relay_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kMetal = kLegs;  // the two commons are one piece: inner node 0
  out.add(ElementKind::kRelay, {kCoilPlus, kCoilMinus, kMetal, kNormallyOpen, kNormallyClosed},
          {kCoilResistance, kCoilInductance, kPullIn * kNominal / kCoilResistance, kLetGo * kNominal / kCoilResistance, 5e-3,
           2.5e-3, kClosedResistance, kOpenResistance, kBounce.time, kBounce.most, kReturnBounce.time, kReturnBounce.most,
           double(seed_of(part.name))});
  out.add(ElementKind::kResistor, {kCommon, kMetal}, {kContactResistance});
  out.add(ElementKind::kResistor, {kCommon2, kMetal}, {kContactResistance});
}

Ratings relay_ratings(const Part&) { return {.power = 0.5, .current = kContactRating, .voltage = 24}; }

// Voltage and current of the coil.
void relay_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (has_reading(leads.voltage[kCoilPlus]) && has_reading(leads.voltage[kCoilMinus])) {
    out.voltage = leads.voltage[kCoilPlus] - leads.voltage[kCoilMinus];
    out.current = leads.current[kCoilPlus];
    out.power = out.voltage * out.current;
  }
  if (leads.inside.empty()) return;
  const int mode = state_in(leads.inside[0].mode);
  out.state = mode == kModePulled || mode == kModeFalling ? State::kPulled : State::kReleased;
  double contact = 0;  // [A] through the contacts
  for (const int leg : {kNormallyOpen, kNormallyClosed})
    if (has_reading(leads.current[size_t(leg)])) contact = std::fmax(contact, std::abs(leads.current[size_t(leg)]));
  if (contact > kContactRating) out.state = State::kOverloaded;
  if (has_reading(out.power) && out.power > 0.5) out.state = State::kTooHot;
}

// ---- Solenoid

constexpr double kSolenoidResistance = 20, kSolenoidInductance = 15e-3, kSolenoidPull = 0.15;  // [ohm] [H] [A]
constexpr double kFreeCurrent = std::numeric_limits<double>::quiet_NaN();
constexpr std::array<LeadSpec, 2> kSolenoidLeads = {{{.name = "+"}, {.name = "-"}}};

void solenoid_elements(const Board&, const Part&, ElementList& out) {
  out.add(ElementKind::kInductor, {0, 1}, {kSolenoidInductance, kFreeCurrent, kSolenoidResistance + kTwoContacts});
}
Ratings solenoid_ratings(const Part&) { return {.power = 2, .current = 0.32, .voltage = 6}; }

void solenoid_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  out.state = out.power > 2 ? State::kTooHot : std::abs(out.current) >= kSolenoidPull ? State::kPulled : State::kReleased;
}

}  // namespace

constexpr PartType kRelay = {
    {.key = "relay",
     .prefix = "K",
     .leads = kRelayLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 6, .body_width = 3.9},
     .values = {}},
    "motion", Body::kRelay, relay_elements, 1, relay_ratings, relay_read, -1, "relay coil contact switch electromagnet"};

constexpr PartType kSolenoid = {
    {.key = "solenoid",
     .prefix = "L",
     .leads = kSolenoidLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 10, .body_width = 6},
     .values = {}},
    "motion", Body::kSolenoid, solenoid_elements, 0, solenoid_ratings, solenoid_read, -1, "solenoid electromagnet pull bolt coil"};

}  // namespace tiepoint
