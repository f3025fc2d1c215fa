// Analog chips and regulators.
//
//   NE555   TI SLFS022I (Sep 2014): levels 1/3 and 2/3 of the supply; output low 0.1 V at 5 mA, high 3.3 V at 100 mA with 5 V; no-load supply
//           3 mA low, 2 mA high with 5 V; 4.5 to 16 V (18 V at most), 200 mA, 600 mW. Divider 3 x 5 kohm.
//   TLC555  CMOS; TI SLFS043C: output low 0.21 V at 8 mA, high 4.8 V at 1 mA with 5 V; discharge 0.14 V at 10 mA; supply 170 uA; 2 to 15 V
//           (18 V at most). Divider 3 x 40 kohm (from memory).
//   LM358   TI SLOS068E (Sep 2002): gain 100 V/mV, 0.7 MHz, 0.3 V/us, output from 5 mV up to 1.5 V below the supply; offset typically
//           3 mV, at most 7 mV (here +3 mV of the first amplifier and -3 mV of the second, own choice of signs; of a real part anything up to
//           7 mV: specimen.h); bias typically 20, at most 250 nA out of the inputs (20 nA here); supply 0.7 mA for both; 3 to 32 V; 30 mA out, 20 mA in (from memory).
//   LM393   dual comparator, open collectors: sinks 4 mA at 0.15 to 0.4 V, 16 mA typically at most; 1.3 us; bias 25 nA; supply 0.8 mA for
//           both; 2 to 36 V; offset typically 2 mV, at most 5 mV (here +2 mV and -2 mV, chosen as for the LM358) (TI, from memory).
//   LM7805  ST DS0422 Rev 37: 4.8 to 5.2 V, dropout typically 2 V at 1 A, quiescent at most 8 mA (typically 5); 1.5 A, 35 V in;
//           in free air about 2 W. Short-circuit current 2.2 A; foldback is left out; it cuts out when it is too hot (heat.h).
//   LM317   Fairchild Rev 1.0.6: 1.25 V between out and adjust, 46 uA out of adjust; dropout about 2 V; 1.5 A; 40 V across it. Its own
//           3.5 mA that must flow through the load are left out.
//   L293D   TI SLRS008C: four half bridges in two pairs; high 1.4 V below the load's supply and low 1.2 V at 0.6 A; 1.2 A at most; inputs between
//           1.5 and 2.3 V: 1.5 V here; logic supply 4.5 to 7 V, some 16 to 44 mA: 4 x 6 mA here; load 36 V; 2 W. Clamps 1.3 V at 0.6 A.
// Order of legs: makers' sheets. 7805 in a TO-220: in, ground, out; LM317: adjust, out, in.

#include <array>

#include "engine/parts/dip.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

// ---- Timers

constexpr auto kTimerLeads = dip_leads<8>({"gnd", "trigger", "output", "reset", "control", "threshold", "discharge", "vcc"});
enum { kTimerGnd = 0, kTimerVcc = 7 };
constexpr SupplyLimits kBipolarTimer = {4.5, 18, 0.6}, kCmosTimer = {2, 18, 0.6};

template <bool cmos>
void timer_elements(const Board&, const Part&, ElementList& out) {
  if (cmos)
    out.add(ElementKind::kTimer, {0, 1, 2, 3, 4, 5, 6, 7}, {40e3, 0, 150, 26, 0.1, 14, 0.1, 39e3, 39e3});
  else
    out.add(ElementKind::kTimer, {0, 1, 2, 3, 4, 5, 6, 7}, {5e3, 1.2, 5, 10, 0.2, 10, 0.1, 3e3, 1.9e3});
  add_substrate(kTimerGnd, kTimerVcc, out);
}

template <bool cmos>
Ratings timer_ratings(const Part&) {
  return {.power = 0.6, .current = cmos ? 0.1 : 0.2, .voltage = (cmos ? kCmosTimer : kBipolarTimer).largest};
}

template <bool cmos>
void timer_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_chip(cmos ? kCmosTimer : kBipolarTimer, kTimerVcc, kTimerGnd, leads, out);
}

// ---- Two op-amps, two comparators

constexpr auto kDualLeads = dip_leads<8>({"1out", "1in-", "1in+", "gnd", "2in+", "2in-", "2out", "vcc"});
enum { kDualGnd = 3, kDualVcc = 7 };
constexpr SupplyLimits kAmplifierSupply = {3, 32, 0.7}, kComparatorSupply = {2, 36, 0.6};

void amplifier_elements(const Board&, const Part&, ElementList& out) {
  constexpr double kGain = 1e5, kBandwidth = 0.7e6, kSlew = 0.3e6, kOffset = 3e-3;  // 1, [Hz], [V/s], [V]
  out.add(ElementKind::kOpAmp, {2, 1, 0, kDualVcc, kDualGnd}, {kGain, kBandwidth, kSlew, kOffset});
  out.add(ElementKind::kOpAmp, {4, 5, 6, kDualVcc, kDualGnd}, {kGain, kBandwidth, kSlew, -kOffset});
  add_substrate(kDualGnd, kDualVcc, out);
}
Ratings amplifier_ratings(const Part&) { return {.power = kAmplifierSupply.power, .current = 0.04, .voltage = kAmplifierSupply.largest}; }
void amplifier_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_chip(kAmplifierSupply, kDualVcc, kDualGnd, leads, out);
}

void comparator_elements(const Board&, const Part&, ElementList& out) {
  constexpr double kOffset = 2e-3;  // [V]
  out.add(ElementKind::kComparator, {2, 1, 0, kDualVcc, kDualGnd}, {kOffset});
  out.add(ElementKind::kComparator, {4, 5, 6, kDualVcc, kDualGnd}, {-kOffset});
  add_substrate(kDualGnd, kDualVcc, out);
}
Ratings comparator_ratings(const Part&) {
  return {.power = kComparatorSupply.power, .current = 0.02, .voltage = kComparatorSupply.largest};
}
void comparator_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_chip(kComparatorSupply, kDualVcc, kDualGnd, leads, out);
}

// ---- Regulators

constexpr std::array<LeadSpec, 3> kFixedLeads = {{{.name = "in"}, {.name = "gnd", .dx = 1}, {.name = "out", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kAdjustableLeads = {{{.name = "adjust"}, {.name = "out", .dx = 1}, {.name = "in", .dx = 2}}};
constexpr double kRegulatorPower = 2;  // [W] without a heat sink
enum { kFixedIn, kFixedGnd, kFixedOut };
enum { kAdjust, kAdjustableOut, kAdjustableIn };

// set_voltage, supply_share, output_resistance, dropout, drop_resistance, current_limit, sink_limit, quiescent_current
void fixed_elements(const Board&, const Part&, ElementList& out) {
  out.add(ElementKind::kRegulator, {kFixedIn, kFixedOut, kFixedGnd}, {5, 0, 0.017, 1.4, 0.6, 2.2, 1e-6, 5e-3});
}
void adjustable_elements(const Board&, const Part&, ElementList& out) {
  out.add(ElementKind::kRegulator, {kAdjustableIn, kAdjustableOut, kAdjust}, {1.25, 0, 0.005, 1.4, 0.6, 2.2, 1e-6, 46e-6});
}
Ratings fixed_ratings(const Part&) { return {.power = kRegulatorPower, .current = 1.5, .voltage = 35}; }
Ratings adjustable_ratings(const Part&) { return {.power = kRegulatorPower, .current = 1.5, .voltage = 40}; }

// Output voltage against the common lead, and the current delivered.
template <int in, int out_lead, int common>
void regulator_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return;
  out.voltage = leads.voltage[out_lead] - leads.voltage[common];
  out.current = -leads.current[out_lead];
  out.power = power_taken(leads);
  const double across = leads.voltage[in] - leads.voltage[common];
  if (across < -0.4)
    out.state = State::kReversed;
  else if (out.power > kRegulatorPower)
    out.state = State::kTooHot;
  else if (across > 40)
    out.state = State::kOverVoltage;
  else
    out.state = out.current > 1.5 ? State::kAtLimit : across > 1 ? State::kOn : State::kOff;
}

constexpr Footprint kPowerCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 4.0, .body_width = 1.8};

// ---- Motor driver

constexpr std::array<LeadSpec, 16> driver_leads() {
  auto leads = dip_leads<16>(
      {"1-2enable", "1a", "1y", "gnd-1", "gnd-2", "2y", "2a", "load", "3-4enable", "3a", "3y", "gnd-3", "gnd-4", "4y", "4a", "vcc"});
  for (const size_t k : {3, 4, 11, 12}) leads[k].joined = 0;
  return leads;
}
constexpr auto kDriverLeads = driver_leads();
enum { kDriverLoad = 7, kDriverVcc = 15, kDriverMetal = 16 };  // the ground legs are one piece: inner node 0
constexpr SupplyLimits kDriverSupply = {4.5, 7, 2};

void driver_elements(const Board&, const Part&, ElementList& out) {
  for (const int ground : {3, 4, 11, 12}) out.add(ElementKind::kResistor, {ground, kDriverMetal}, {kContactResistance});
  struct Half { int in, enable, out; };
  for (const Half& h : {Half{1, 0, 2}, Half{6, 0, 5}, Half{9, 8, 10}, Half{14, 8, 13}})
    out.add(ElementKind::kHalfBridge, {h.in, h.enable, h.out, kDriverVcc, kDriverLoad, kDriverMetal}, {0.8, 0.6, 1, 1.2, 0.7, 6e-3});
  add_substrate(kDriverMetal, kDriverVcc, out);
  add_substrate(kDriverMetal, kDriverLoad, out);
}
Ratings driver_ratings(const Part&) { return {.power = kDriverSupply.power, .current = 0.6, .voltage = 36}; }
void driver_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  int ground = 3;
  for (const int k : {3, 4, 11, 12})
    if (has_reading(leads.voltage[size_t(k)])) ground = k;
  read_chip(kDriverSupply, kDriverVcc, ground, leads, out);
}

}  // namespace

constexpr PartType kNE555 = {
    {.key = "ne555", .prefix = "U", .leads = kTimerLeads, .footprint = dip_body(8), .values = {}},
    "chips", Body::kDip, timer_elements<false>, 0, timer_ratings<false>, timer_read<false>, -1, "chip timer 555 NE555 oscillator flasher delay"};

constexpr PartType kTLC555 = {
    {.key = "tlc555", .prefix = "U", .leads = kTimerLeads, .footprint = dip_body(8), .values = {}},
    "chips", Body::kDip, timer_elements<true>, 0, timer_ratings<true>, timer_read<true>, -1, "chip timer 555 TLC555 CMOS oscillator flasher delay"};

constexpr PartType kLM358 = {
    {.key = "lm358", .prefix = "U", .leads = kDualLeads, .footprint = dip_body(8), .values = {}},
    "chips", Body::kDip, amplifier_elements, 0, amplifier_ratings, amplifier_read, -1, "chip operational amplifier op-amp LM358 two"};

constexpr PartType kLM393 = {
    {.key = "lm393", .prefix = "U", .leads = kDualLeads, .footprint = dip_body(8), .values = {}},
    "chips", Body::kDip, comparator_elements, 0, comparator_ratings, comparator_read, -1, "chip comparator LM393 two open collector"};

constexpr PartType kLM7805 = {
    {.key = "lm7805", .prefix = "U", .leads = kFixedLeads, .footprint = kPowerCase, .values = {}},
    "power", Body::kTo220, fixed_elements, 0, fixed_ratings, regulator_read<kFixedIn, kFixedOut, kFixedGnd>, -1,
    "regulator 5 V LM7805 power supply stabilise"};

constexpr PartType kLM317 = {
    {.key = "lm317", .prefix = "U", .leads = kAdjustableLeads, .footprint = kPowerCase, .values = {}},
    "power", Body::kTo220, adjustable_elements, 0, adjustable_ratings, regulator_read<kAdjustableIn, kAdjustableOut, kAdjust>, -1,
    "regulator adjustable LM317 power supply stabilise"};

constexpr PartType kL293D = {
    {.key = "l293d", .prefix = "U", .leads = kDriverLeads, .footprint = dip_body(16), .values = {}},
    "chips", Body::kDip, driver_elements, 1, driver_ratings, driver_read, -1, "chip motor driver half bridge L293D four"};

}  // namespace tiepoint
