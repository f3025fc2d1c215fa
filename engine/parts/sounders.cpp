// What makes a sound: buzzer with its own oscillator, buzzer disc, small loudspeaker. (All figures from memory: typical parts.)
//
//   Buzzer with an oscillator inside, 5 V: 30 mA, 2.3 kHz from 3 V on; the other way round it is silent and passes next to nothing.
//   Piezo disc: 20 nF beside 10 megohm; sounds with what swings across it, 30 V at most.
//   Loudspeaker, 8 ohm, 0.5 W, 57 mm: 7.2 ohm and 0.15 mH; its resonance is left out.
// The frequency of what swings is told by an ear (engine/devices/listener.cpp) for 0.1 s after the last swing. Between 20 Hz and 20 kHz a
// person hears it.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

// Frequency by the ear, NaN when nothing swings. Mode 1 and mode 0 take turns.
double heard(const ElementInside& ear) {
  constexpr double kForgotten = 0.1;  // [s]
  const double period = ear.lasted[0] + ear.lasted[1];
  return ear.lasted[0] > 0 && ear.lasted[1] > 0 && ear.mode_age < kForgotten && period > 0 ? 1 / period : kNoReading;
}
bool audible(double frequency) { return frequency >= 20 && frequency <= 20e3; }  // false for NaN

constexpr std::array<LeadSpec, 2> kPolarLeads = {{{.name = "+"}, {.name = "-"}}};

// ---- Buzzer with an oscillator

constexpr double kTone = 2300, kLeastVoltage = 3, kMostVoltage = 8;  // [Hz] [V] [V]

void buzzer_elements(const Board&, const Part&, ElementList& out) {
  constexpr int kInside = 2;
  out.add(ElementKind::kDiode, {0, kInside}, {1e-9, 1.8, 0.5, kJunctionThermalVoltage});
  out.add(ElementKind::kResistor, {kInside, 1}, {140});
}
Ratings buzzer_ratings(const Part&) { return {.current = 0.05, .voltage = kMostVoltage}; }

void buzzer_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const bool sounds = out.voltage >= kLeastVoltage;
  if (sounds) out.frequency = kTone;
  if (out.voltage > kMostVoltage)
    out.state = State::kOverVoltage;
  else if (out.voltage < -0.5)
    out.state = State::kReversed;
  else
    out.state = sounds ? State::kSounding : State::kSilent;
}

// ---- Disc and loudspeaker

constexpr double kFreeVoltage = std::numeric_limits<double>::quiet_NaN();
enum { kEar = 0 };

void disc_elements(const Board&, const Part&, ElementList& out) {
  out.add(ElementKind::kListener, {0, 1}, {});
  out.add(ElementKind::kCapacitor, {0, 1}, {20e-9, kFreeVoltage, 100});
  out.add(ElementKind::kResistor, {0, 1}, {10e6});
}
Ratings disc_ratings(const Part&) { return {.voltage = 30}; }

void speaker_elements(const Board&, const Part&, ElementList& out) {
  constexpr int kInside = 2;
  out.add(ElementKind::kListener, {0, kInside}, {});  // to what drives the cone, the current, and not to what its change induces
  out.add(ElementKind::kResistor, {0, kInside}, {7.2});
  out.add(ElementKind::kInductor, {kInside, 1}, {0.15e-3, kFreeVoltage, kTwoContacts});
}
Ratings speaker_ratings(const Part&) { return {.power = 0.5}; }

template <bool coil>
void sounder_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (!leads.inside.empty()) out.frequency = heard(leads.inside[kEar]);
  if (coil && out.current * out.current * 7.2 > 0.5)
    out.state = State::kTooHot;
  else if (!coil && std::abs(out.voltage) > 30)
    out.state = State::kOverVoltage;
  else
    out.state = audible(out.frequency) ? State::kSounding : State::kSilent;
}

constexpr std::array<LeadSpec, 2> kPlainLeads = {{{.name = "1"}, {.name = "2"}}};

}  // namespace

constexpr PartType kBuzzer = {
    {.key = "buzzer",
     .prefix = "BZ",
     .leads = kPolarLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 2, .reach_max = 4, .body_length = 4.7, .body_width = 4.7},
     .values = {}},
    "motion", Body::kBuzzer, buzzer_elements, 1, buzzer_ratings, buzzer_read, -1, "buzzer sound beep alarm active"};

constexpr PartType kPiezoDisc = {
    {.key = "piezo-disc",
     .prefix = "BZ",
     .leads = kPlainLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 2, .reach_max = 4, .body_length = 4.7, .body_width = 4.7},
     .values = {}},
    "motion", Body::kPiezo, disc_elements, 0, disc_ratings, sounder_read<false>, -1, "buzzer piezo sound tone passive"};

constexpr PartType kLoudspeaker = {
    {.key = "loudspeaker",
     .prefix = "LS",
     .leads = kPolarLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 22, .body_width = 22},
     .values = {}},
    "motion", Body::kLoudspeaker, speaker_elements, 1, speaker_ratings, sounder_read<true>, -1, "loudspeaker speaker sound tone"};

}  // namespace tiepoint
