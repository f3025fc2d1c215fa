// Contacts that something else than a finger closes: tilt, a magnet, a moving part of a machine.
//
// Tilt switch: a ball in a can joins two pins while the can stands upright. Closed up to 45 degrees from upright (typical ball
// switches; from memory), 1 ohm at worst, taken as 0.5 ohm; 25 mA, 12 V.
// Reed switch: two springs in a glass tube. Closes when the magnet comes nearer than 10 mm (a small bar magnet and a reed of 15
// ampere-turns, from memory). Reeds let go at 40 to 80 % of the field that pulls them in (makers' sheets, from memory); a small magnet's
// field falls with the cube of the distance, so 58 % is (10 mm / 12 mm)^3: opens beyond 12 mm. 0.1 ohm, 0.5 A, 100 V.
// Limit switch: a snap-action changeover with a lever, legs 5.08 mm apart. Common leads to "nc" at rest and to "no" when pushed.
// 50 milliohm, 3 A (from memory; maker's sheets give 30 to 100).
// An open contact is 10 gigohm. Bounce: the reed up to 0.5 ms and 4 openings (a maker's glossary: 0.5 to 1 ms), the limit switch up
// to 3 ms and 6, the ball of the tilt switch up to 10 ms and 10 (common practice, no source; see contacts.h).

#include <array>
#include <cmath>

#include "engine/devices/bounce.h"
#include "engine/parts/contacts.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<LeadSpec, 2> kTwoLeads = {{{.name = "1"}, {.name = "2"}}};

struct ContactFigures {
  double closed;   // [ohm]
  double current;  // [A]
  double voltage;  // [V]
  Bounce bounce;
};
constexpr ContactFigures kTilt = {0.5, 0.025, 12, {10e-3, 10}}, kReed = {0.1, 0.5, 100, {0.5e-3, 4}}, kLimit = {0.05, 3, 125, {3e-3, 6}};
constexpr double kTiltAngle = 45;        // [°]

bool upright(const Part& part) { return part.values[0] < kTiltAngle; }

template <const ContactFigures& f, bool (*closed)(const Part&)>
void elements(const Board&, const Part& part, ElementList& out) {
  add_contact(0, 1, closed(part), f.closed + kTwoContacts, f.bounce, out);
}

template <const ContactFigures& f>
Ratings ratings(const Part&) {
  return {.current = f.current, .voltage = f.voltage};
}

template <const ContactFigures& f, bool (*closed)(const Part&)>
void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  out.state = closed(part) ? State::kClosed : State::kOpen;
  if (!read_two_leads(leads, out)) return;
  if (std::abs(out.current) > f.current) out.state = State::kOverloaded;
}

// ---- Reed

void reed_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kReed, {0, 1},
          {part.values[0], kReedPullIn, kReedDropOut, kReed.closed + kTwoContacts, kOpenResistance, kReed.bounce.time,
           kReed.bounce.most, double(seed_of(part.name))});
}

// Between the two distances it stays as it was; where nothing tells how that was it is open.
void reed_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const bool closed = leads.inside.empty() ? part.values[0] <= kReedPullIn : state_in(leads.inside[0].mode) != 0;
  out.state = closed ? State::kClosed : State::kOpen;
  if (!read_two_leads(leads, out)) return;
  if (std::abs(out.current) > kReed.current) out.state = State::kOverloaded;
}

constexpr std::array<ValueSpec, 1> kTiltValues = {{
    {.key = "tilt", .unit = "°", .standard = 0, .minimum = 0, .maximum = 180, .options = {}, .use = Use::kPosition},
}};
constexpr std::array<ValueSpec, 1> kReedValues = {{
    {.key = "magnet", .unit = "m", .standard = 0.05, .minimum = 0, .maximum = 0.05, .options = {}, .use = Use::kPosition},
}};

// ---- Limit switch

constexpr std::array<ValueSpec, 1> kLimitValues = {{
    {.key = "pressed", .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kMomentary},
}};
constexpr std::array<LeadSpec, 3> kLimitLeads = {{{.name = "common"}, {.name = "no", .dx = 2}, {.name = "nc", .dx = 4}}};
enum { kCommon, kNormallyOpen, kNormallyClosed };

void limit_elements(const Board&, const Part& part, ElementList& out) {
  const bool pushed = part.values[0] != 0;
  const double closed = kLimit.closed + kTwoContacts;
  add_throw(kCommon, kNormallyOpen, pushed, closed, kLimit.bounce, out);
  add_throw(kCommon, kNormallyClosed, !pushed, closed, kLimit.bounce, out);
}

// From "common" outwards; the state is that of the contact that closes when pushed.
void limit_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const bool pushed = part.values[0] != 0;
  out.state = pushed ? State::kClosed : State::kOpen;
  if (!known(leads)) return;
  out.voltage = leads.voltage[kCommon] - leads.voltage[pushed ? kNormallyOpen : kNormallyClosed];
  out.current = leads.current[kCommon];
  out.power = power_taken(leads);
  if (std::abs(out.current) > kLimit.current) out.state = State::kOverloaded;
}

}  // namespace

constexpr PartType kTiltSwitch = {
    {.key = "tilt-switch", .prefix = "S", .leads = kTwoLeads, .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3}, .values = kTiltValues},
    "sensors", Body::kTiltSwitch, elements<kTilt, upright>, 0, ratings<kTilt>, read<kTilt, upright>, -1, "tilt ball switch sensor lean"};

constexpr PartType kReedSwitch = {
    {.key = "reed-switch",
     .prefix = "S",
     .leads = kTwoLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 6, .reach_max = 16, .body_length = 5.5, .body_width = 0.9},
     .values = kReedValues},
    "sensors",
    Body::kReedSwitch,
    reed_elements,
    0,
    ratings<kReed>,
    reed_read,
    -1,
    "reed magnet switch sensor door"};

constexpr PartType kLimitSwitch = {
    {.key = "limit-switch",
     .prefix = "S",
     .leads = kLimitLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 7.8, .body_width = 2.5},
     .values = kLimitValues},
    "switches", Body::kLimitSwitch, limit_elements, 0, ratings<kLimit>, limit_read, -1, "limit switch lever snap end stop"};

}  // namespace tiepoint
