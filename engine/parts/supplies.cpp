// USB outlet. Its leads fly to any hole; "-" is the zero of the island it feeds.
//
//   V = E - R I  until I reaches the limit, then the limit's current (constant-voltage, constant-current)
//
// USB outlet: 5 V, port and cable 0.2 ohm (from memory; at 500 mA it then gives 4.9 V, inside the 4.75 to 5.25 V of USB 2.0),
// limit 500 mA, what USB 2.0 lets a configured device take. Batteries: cells.cpp; other supplies: bench_supplies.cpp.
//
// Leads: 0.2 m of 22 gauge each, 53 milliohm per metre, and a spring contact each. Switched off: the same element with 0 V
// behind an open contact.
//
// Caution for anyone at a real bench: this is a low-voltage supply. Never bring mains onto a breadboard.

#include <array>
#include <cmath>

#include "engine/parts/families.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kLeadLength = 0.2;  // [m]
constexpr int kLeadGauge = 22;
constexpr double kNearLimit = 0.98;  // of the limit: the model's corner is 2 % wide

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "+"}, {.name = "-"}}};
constexpr ValueSpec kOn = {
    .key = "on", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};

void add_supply(bool on, double voltage, double resistance, double limit, ElementList& out) {
  const double leads = 2 * kLeadLength * awg_resistance(kLeadGauge) + kTwoContacts;
  out.add(ElementKind::kLimitedSupply, {0, 1}, {on ? voltage : 0, on ? resistance + leads : kOpenResistance, limit});
}

// Current delivered: out of "+".
bool read_supply(bool on, const LeadNumbers& leads, PartNumbers& out) {
  out.state = on ? State::kOn : State::kOff;
  if (!read_two_leads(leads, out)) return false;
  out.current = -out.current;
  if (on && out.current < -kIdleCurrent) out.state = State::kBeingCharged;
  return on;
}

// ---- USB outlet

constexpr double kUsbVoltage = 5.0;     // [V]
constexpr double kUsbResistance = 0.2;  // [ohm]
constexpr double kUsbLimit = 0.5;       // [A]
constexpr std::array<ValueSpec, 1> kUsbValues = {{kOn}};

void usb_elements(const Board&, const Part& part, ElementList& out) {
  add_supply(part.values[0] != 0, kUsbVoltage, kUsbResistance, kUsbLimit, out);
}

Ratings usb_ratings(const Part&) { return {.current = kUsbLimit, .voltage = kUsbVoltage}; }

void usb_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (read_supply(part.values[0] != 0, leads, out) && out.current > kNearLimit * kUsbLimit) out.state = State::kAtLimit;
}

constexpr int kMinus = 1;  // the lead that is zero volt

}  // namespace

constexpr PartType kUsbSupply = {
    {.key = "usb-supply",
     .prefix = "PS",
     .leads = kLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 12, .body_width = 6},
     .values = kUsbValues},
    "power",
    Body::kOutlet,
    usb_elements,
    0,
    usb_ratings,
    usb_read,
    kMinus,
    "supply power usb outlet 5 V source"};

}  // namespace tiepoint
