// Capacitors: a ceramic disc and an electrolytic can.
//
// Ceramic: 50 V, series resistance 50 milliohm (from memory).
// Electrolytic: the series resistance follows from the loss factor at 120 Hz, tan d = 2 pi f C ESR. Makers' tables give about
// 0.22, 0.19, 0.16, 0.14, 0.12, 0.10 for 6.3, 10, 16, 25, 35, 50 V (from memory). Put in backwards it heats up and may burst;
// about 1 V backwards is borne (from memory). Not modelled: leakage, tolerance, loss of capacitance with voltage.
//
// Caution for anyone at a real bench: a charged capacitor keeps its charge after the supply is off.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kFreeVoltage =
    std::numeric_limits<double>::quiet_NaN();  // no initial voltage given: the board's history decides
constexpr double kEmpty = 0.01;                // [V]
constexpr double kBackwards = -1.0;            // [V]

void add_capacitor(double capacitance, double series_resistance, ElementList& out) {
  out.add(ElementKind::kCapacitor, {0, 1}, {capacitance, kFreeVoltage, series_resistance + kTwoContacts});
}

// Charging: current flows the way that raises the size of the voltage.
State charge_state(const PartNumbers& n) {
  if (std::abs(n.current) > kIdleCurrent) return n.voltage * n.current >= 0 ? State::kCharging : State::kDischarging;
  return std::abs(n.voltage) < kEmpty ? State::kEmpty : State::kCharged;
}

// ---- Ceramic

constexpr double kCeramicVoltage = 50;       // [V]
constexpr double kCeramicResistance = 0.05;  // [ohm]

constexpr std::array<ValueSpec, 1> kCeramicValues = {{
    {.key = "capacitance",
     .unit = "F",
     .standard = 100e-9,
     .minimum = 1e-12,
     .maximum = 10e-6,
     .options = {},
     .use = Use::kValue,
     .series = 12},
}};
constexpr std::array<LeadSpec, 2> kCeramicLeads = {{{.name = "1"}, {.name = "2"}}};

void ceramic_elements(const Board&, const Part& part, ElementList& out) {
  add_capacitor(part.values[0], kCeramicResistance, out);
}

Ratings ceramic_ratings(const Part&) { return {.voltage = kCeramicVoltage}; }

void ceramic_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  out.state = std::abs(out.voltage) > kCeramicVoltage ? State::kOverVoltage : charge_state(out);
}

// ---- Electrolytic

struct Grade {
  double voltage;      // [V]
  double loss_factor;  // tan d at 120 Hz
};
constexpr std::array<Grade, 6> kGrades = {{{6.3, 0.22}, {10, 0.19}, {16, 0.16}, {25, 0.14}, {35, 0.12}, {50, 0.10}}};
constexpr std::array<std::string_view, 6> kGradeNames = {"6.3 V", "10 V", "16 V", "25 V", "35 V", "50 V"};
constexpr double kTwoPi120Hz = 2 * 3.14159265358979324 * 120;  // [rad/s]

enum { kCapacitance, kGrade };
constexpr std::array<ValueSpec, 2> kCanValues = {{
    {.key = "capacitance",
     .unit = "F",
     .standard = 100e-6,
     .minimum = 0.1e-6,
     .maximum = 10e-3,
     .options = {},
     .use = Use::kValue,
     .series = 6},
    {.key = "rating",
     .unit = "",
     .standard = 2,
     .minimum = 0,
     .maximum = double(kGradeNames.size() - 1),
     .options = kGradeNames},
}};
constexpr std::array<LeadSpec, 2> kCanLeads = {{{.name = "+"}, {.name = "-"}}};

const Grade& grade(const Part& part) { return kGrades[size_t(part.values[kGrade])]; }

void can_elements(const Board&, const Part& part, ElementList& out) {
  const double c = part.values[kCapacitance];
  add_capacitor(c, grade(part).loss_factor / (kTwoPi120Hz * c), out);
}

Ratings can_ratings(const Part& part) { return {.voltage = grade(part).voltage, .reverse_voltage = -kBackwards}; }

void can_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (out.voltage < kBackwards)
    out.state = State::kReversed;
  else
    out.state = out.voltage > grade(part).voltage ? State::kOverVoltage : charge_state(out);
}

}  // namespace

constexpr PartType kCeramicCapacitor = {{.key = "ceramic-capacitor",
                                         .prefix = "C",
                                         .leads = kCeramicLeads,
                                         .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3},
                                         .values = kCeramicValues},
                                        "storage",
                                        Body::kDiscCapacitor,
                                        ceramic_elements,
                                        0,
                                        ceramic_ratings,
                                        ceramic_read,
                                        -1,
                                        "capacitor ceramic disc farad"};

constexpr PartType kElectrolyticCapacitor = {{.key = "electrolytic-capacitor",
                                              .prefix = "C",
                                              .leads = kCanLeads,
                                              .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3},
                                              .values = kCanValues},
                                             "storage",
                                             Body::kCanCapacitor,
                                             can_elements,
                                             0,
                                             can_ratings,
                                             can_read,
                                             -1,
                                             "capacitor electrolytic can polarity farad store charge"};

}  // namespace tiepoint
