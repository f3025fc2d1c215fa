// Meter: a hand-held multimeter. Equations of its input: engine/devices/meter.cpp.
//
//   red ---+--------------------+---------- inside          fuse and shunt carry the current when it measures amperes;
//          |                    |              |            else the shunt is an open contact
//      [ input ]             ( fuse )       [ shunt ]
//          |                    +-- inside     |
//   black -+-----------------------------------+
//
//   volts       10 megohm, direct or alternating (true RMS of what alternates)
//   amperes     0.5 ohm between the probes: shunt 0.1 ohm, cold fuse 0.3 ohm, probe leads and tips 0.1 ohm; fuse 0.5 A quick
//               (its laws: fuses.cpp)
//   ohms        0.2 mA, at most 2.5 V when open; up to 60 megohm. The ratio of voltage to current is shown, so it holds at any current
//   continuity  the same; sounds below 30 ohm
//   diode       1 mA, at most 3 V when open; shows the forward voltage
// 10 megohm, 0.5 A fuse, test currents and voltages, 60 megohm: common practice, no source.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "red-probe"}, {.name = "black-probe"}}};
constexpr std::array<std::string_view, 7> kFunctions = {"off", "volts", "ac-volts", "amperes", "ohms", "continuity", "diode"};
enum { kOff, kVolts, kAcVolts, kAmperes, kOhms, kContinuity, kDiodeTest };
enum { kFunction, kFuseNumber };
constexpr std::array<ValueSpec, 2> kValues = {{
    {.key = "function", .unit = "", .standard = kVolts, .minimum = 0, .maximum = double(kFunctions.size() - 1), .options = kFunctions,
     .use = Use::kPosition},
    // Counts the fuses put in; a new one is the next number.
    {.key = "fuse-number", .unit = "", .standard = 1, .minimum = 1, .maximum = 1000, .options = {}, .use = Use::kPosition},
}};

constexpr double kInputResistance = 10e6;           // [ohm]
constexpr double kDisconnected = 1e12;              // [ohm]
constexpr double kShunt = 0.1, kFuseResistance = 0.3, kProbeLeads = 0.1;  // [ohm]
constexpr double kFuseRating = 0.5;                 // [A]
constexpr double kLeastMelting = 1.7 * kFuseRating;  // [A]
constexpr double kFuseTime = 0.5;                   // [s]
constexpr double kOhmsVoltage = 2.5, kDiodeVoltage = 3.0;    // [V] open
constexpr double kOhmsCurrent = 0.2e-3, kDiodeCurrent = 1e-3;  // [A]
constexpr double kTestResistance = 10;              // [ohm]
constexpr double kMostOhms = 60e6;                  // [ohm]
constexpr double kMostVolts = 600;                  // [V]
constexpr double kTone = 30;                        // [ohm]
constexpr double kToneFrequency = 2000;             // [Hz]
constexpr int kInside = 2;                          // inner node
enum { kInputElement, kFuseElement };               // in the order of `elements`
enum { kListening, kTesting, kRefusing };           // modes of the input
constexpr int kSquare = 1;                          // own unknown of the input

int function(const Part& part) { return int(part.values[kFunction]); }

void elements(const Board&, const Part& part, ElementList& out) {
  const int f = function(part);
  const bool tests = f == kOhms || f == kContinuity || f == kDiodeTest;
  out.add(ElementKind::kMeter, {0, 1},
          {f == kOff || f == kAmperes ? kDisconnected : kInputResistance,
           !tests            ? 0
           : f == kDiodeTest ? kDiodeVoltage
                             : kOhmsVoltage,
           kTestResistance, f == kDiodeTest ? kDiodeCurrent : kOhmsCurrent, f == kAcVolts ? 1.0 : 0.0});
  out.add(ElementKind::kFuse, {0, kInside}, {kFuseResistance, kLeastMelting, kFuseTime, part.values[kFuseNumber]});
  out.add(ElementKind::kResistor, {kInside, 1}, {f == kAmperes ? kShunt + kProbeLeads : kDisconnected});
}

Ratings ratings(const Part&) { return {.current = kFuseRating, .voltage = kMostVolts}; }

void show(double value, std::string_view unit, double most, PartNumbers& out) {
  out.shown_unit = unit;
  out.state = std::abs(value) <= most ? State::kMeasuring : State::kOverRange;
  if (out.state == State::kMeasuring) out.shown = value;
}

void read_amperes(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (leads.inside.size() > kFuseElement && leads.inside[kFuseElement].mode == int(part.values[kFuseNumber]) + 1) {
    out.shown_unit = "A";
    out.state = State::kMelted;
    return;
  }
  show(out.current, "A", 10, out);
  if (std::abs(out.current) > kFuseRating) out.state = State::kOverloaded;
}

void read_test(int f, const LeadNumbers& leads, PartNumbers& out) {
  out.shown_unit = f == kDiodeTest ? "V" : "Ω";
  const int mode = leads.inside.empty() ? kListening : leads.inside[kInputElement].mode;
  if (mode == kRefusing) out.state = State::kLiveCircuit;
  if (mode != kTesting) return;
  const double delivered = -out.current;
  if (f == kDiodeTest) {
    // Nearly all of the current must flow: else the probes are open, or the diode stands backwards.
    show(delivered > 0.9 * kDiodeCurrent ? out.voltage : 2 * kDiodeVoltage, "V", kDiodeVoltage, out);
    return;
  }
  const double smallest = kOhmsVoltage / kMostOhms / 10;  // [A] less than flows at the end of the range
  show(std::max(0.0, out.voltage) / std::max(delivered, smallest), "Ω", kMostOhms, out);
  if (f != kContinuity || !(out.shown < kTone)) return;
  out.state = State::kSounding;
  out.frequency = kToneFrequency;
}

void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const int f = function(part);
  const bool known_leads = read_two_leads(leads, out);
  if (f == kOff) {
    out.state = State::kOff;
    return;
  }
  if (!known_leads) return;
  switch (f) {
    case kVolts: return show(out.voltage, "V", kMostVolts, out);
    case kAcVolts: {
      const bool has = !leads.inside.empty() && leads.inside[kInputElement].own.size() > kSquare;
      return show(has ? std::sqrt(std::max(0.0, leads.inside[kInputElement].own[kSquare])) : 0, "V", kMostVolts, out);
    }
    case kAmperes: return read_amperes(part, leads, out);
    default: return read_test(f, leads, out);
  }
}

}  // namespace

constexpr PartType kMeter = {
    {.key = "meter",
     .prefix = "M",
     .leads = kLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 8.4, .body_width = 14},
     .values = kValues,
     .touches = true},
    "instruments", Body::kMeter, elements, 1, ratings, read, -1, "meter multimeter measure volts amperes ohms continuity diode test probes voltage current resistance", 1};

}  // namespace tiepoint
