// Resistors with a sliding contact: the panel potentiometer (turned by a shaft) and the trimmer (turned by a screwdriver).
//
//    lead 1 --[ s R + E ]--+--[ (1 - s) R + E ]-- lead 3         s: share of the track left of the wiper, E: end resistance
//                          |
//                        wiper
//
// Linear taper: s = position. Audio taper: two straight pieces through 15 % of the track at half a turn (common practice, makers
// give 10 to 20 %; from memory). E = 2 ohm: "absolute minimum resistance 1 % or 2 ohm, whichever is greater" (Bourns 3386 sheet, from
// memory), so the track never becomes a wire. The spring contacts of the leads are folded in.
//
// Ratings: 0.1 W for a small carbon potentiometer (from memory), 0.5 W for the trimmer (Bourns 3386, from memory). A rating holds for
// the whole track, so a short piece of it carries no more than the current sqrt(P / R) that the whole one may.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kEndResistance = 2;    // [ohm]
constexpr double kHalfWay = 0.15;       // share of an audio track at half a turn
constexpr double kShaftPower = 0.1;     // [W]
constexpr double kTrimmerPower = 0.5;   // [W]

constexpr std::array<std::string_view, 2> kTapers = {"linear", "audio"};
enum { kResistance, kTaper, kPosition };
constexpr ValueSpec kTrack = {
    .key = "resistance", .unit = "Ω", .standard = 10e3, .minimum = 100, .maximum = 2e6, .options = {}, .use = Use::kValue, .series = 3};
constexpr ValueSpec kTurn = {.key = "position", .unit = "", .standard = 0.5, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
constexpr std::array<ValueSpec, 3> kValues = {{
    kTrack,
    {.key = "taper", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kTapers.size() - 1), .options = kTapers},
    kTurn,
}};
constexpr std::array<ValueSpec, 3> kTrimmerValues = kValues;

constexpr std::array<LeadSpec, 3> kShaftLeads = {{{.name = "1"}, {.name = "wiper", .dx = 2}, {.name = "3", .dx = 4}}};
constexpr std::array<LeadSpec, 3> kTrimmerLeads = {{{.name = "1"}, {.name = "wiper", .dx = 1}, {.name = "3", .dx = 2}}};

double share(const Part& part) {
  const double turn = part.values[kPosition];
  if (part.values[kTaper] == 0) return turn;
  return turn < 0.5 ? 2 * kHalfWay * turn : kHalfWay + (1 - kHalfWay) * (2 * turn - 1);
}

void elements(const Board&, const Part& part, ElementList& out) {
  const double track = part.values[kResistance], left = share(part) * track;
  out.add(ElementKind::kResistor, {0, 1}, {left + kEndResistance + kTwoContacts});
  out.add(ElementKind::kResistor, {1, 2}, {track - left + kEndResistance + kTwoContacts});
}

// Voltage over the whole track, from lead 1 to lead 3, and the current into lead 1.
void read_track(double rating, const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return;
  out.voltage = leads.voltage[0] - leads.voltage[2];
  out.current = leads.current[0];
  out.power = power_taken(leads);
  const double largest = std::sqrt(rating / part.values[kResistance]);
  const double busiest = std::max(std::abs(leads.current[0]), std::abs(leads.current[2]));
  if (busiest > largest)
    out.state = State::kTooHot;
  else
    out.state = busiest > kIdleCurrent ? State::kCarrying : State::kIdle;
}

Ratings shaft_ratings(const Part&) { return {.power = kShaftPower}; }
Ratings trimmer_ratings(const Part&) { return {.power = kTrimmerPower}; }
void shaft_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) { read_track(kShaftPower, part, leads, out); }
void trimmer_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) { read_track(kTrimmerPower, part, leads, out); }

}  // namespace

constexpr PartType kPotentiometer = {
    {.key = "potentiometer",
     .prefix = "RV",
     .leads = kShaftLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 4.6, .body_width = 2.4},
     .values = kValues},
    "resistors", Body::kPotentiometer, elements, 0, shaft_ratings, shaft_read, -1, "potentiometer variable resistor knob divider volume dimmer"};

constexpr PartType kTrimmer = {
    {.key = "trimmer",
     .prefix = "RV",
     .leads = kTrimmerLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 3.0, .body_width = 1.8},
     .values = kTrimmerValues},
    "resistors", Body::kTrimmer, elements, 0, trimmer_ratings, trimmer_read, -1, "trimmer preset variable resistor screw adjust"};

}  // namespace tiepoint
