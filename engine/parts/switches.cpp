// Contacts moved by a hand.
//
// Push button, 6 mm x 6 mm, four legs in two joined pairs. Across the centre gap its legs take rows e and f, two columns apart.
// Wuerth 430182 sheet: at most 100 milliohm closed, at least 100 megohm open, 50 mA at 12 V. Model: each leg's spring contact
// leads to the metal of its pair, the contact joins the two metals:
//
//    lead 1 --o--+            +--o-- lead 3
//                A --/ -- B                     o: one spring contact
//    lead 2 --o--+            +--o-- lead 4
//
// Slide switch, one pole, two positions: "common" on lead 1 or on lead 2. 30 milliohm closed, 300 mA (typical of small slide
// switches, from memory); its contacts in the board are folded in, since only one side ever carries current.
//
// An open contact is 10 gigohm in both: far above what the sheet asks, so that nothing seems to flow.
//
// Bounce: the button up to 5 ms each way (what makers' sheets of this size allow, from memory) and up to 6 openings; the slide up to
// 5 ms and 6 openings where it arrives (common practice, no source; see contacts.h).

#include <array>
#include <cmath>

#include "engine/parts/contacts.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

// ---- Push button

constexpr double kButtonClosed = 0.1;    // [ohm]
constexpr double kButtonCurrent = 0.05;  // [A]
constexpr double kButtonVoltage = 12;    // [V]
constexpr Bounce kButtonBounce = {5e-3, 6};

constexpr std::array<ValueSpec, 1> kButtonValues = {{
    {.key = "pressed", .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kMomentary},
}};
constexpr std::array<LeadSpec, 4> kButtonLeads = {{
    {.name = "1", .dx = 0, .dy = 0, .joined = 0},
    {.name = "2", .dx = 0, .dy = 3, .joined = 0},
    {.name = "3", .dx = 2, .dy = 0, .joined = 1},
    {.name = "4", .dx = 2, .dy = 3, .joined = 1},
}};

void button_elements(const Board&, const Part& part, ElementList& out) {
  constexpr int kMetalA = 4, kMetalB = 5;  // inner nodes 0 and 1
  add_contact(kMetalA, kMetalB, part.values[0] != 0, kButtonClosed, kButtonBounce, out);
  out.add(ElementKind::kResistor, {0, kMetalA}, {kContactResistance});
  out.add(ElementKind::kResistor, {1, kMetalA}, {kContactResistance});
  out.add(ElementKind::kResistor, {2, kMetalB}, {kContactResistance});
  out.add(ElementKind::kResistor, {3, kMetalB}, {kContactResistance});
}

Ratings button_ratings(const Part&) { return {.current = kButtonCurrent, .voltage = kButtonVoltage}; }

// Of a pair's two legs, the one that carries more.
size_t busier(const LeadNumbers& leads, size_t a, size_t b) {
  return std::abs(leads.current[b]) > std::abs(leads.current[a]) ? b : a;
}

void button_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  out.state = part.values[0] != 0 ? State::kClosed : State::kOpen;
  if (!known(leads)) return;
  out.voltage = leads.voltage[busier(leads, 0, 1)] - leads.voltage[busier(leads, 2, 3)];
  out.current = leads.current[0] + leads.current[1];
  out.power = power_taken(leads);
  if (std::abs(out.current) > kButtonCurrent) out.state = State::kOverloaded;
}

// ---- Slide switch

constexpr double kSlideClosed = 0.03;  // [ohm]
constexpr double kSlideCurrent = 0.3;  // [A]
constexpr double kSlideVoltage = 50;   // [V]
constexpr Bounce kSlideBounce = {5e-3, 6};

constexpr std::array<std::string_view, 2> kPositions = {"common-1", "common-2"};
constexpr std::array<ValueSpec, 1> kSlideValues = {{
    {.key = "position", .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = kPositions, .use = Use::kPosition},
}};
constexpr std::array<LeadSpec, 3> kSlideLeads = {{
    {.name = "1", .dx = 0, .dy = 0},
    {.name = "common", .dx = 1, .dy = 0},
    {.name = "2", .dx = 2, .dy = 0},
}};

void slide_elements(const Board&, const Part& part, ElementList& out) {
  const bool second = part.values[0] != 0;
  add_throw(1, 0, !second, kSlideClosed + kTwoContacts, kSlideBounce, out);
  add_throw(1, 2, second, kSlideClosed + kTwoContacts, kSlideBounce, out);
}

Ratings slide_ratings(const Part&) { return {.current = kSlideCurrent, .voltage = kSlideVoltage}; }

// A slide switch is always closed to one side; the numbers are of that side, from "common" outwards.
void slide_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  out.state = State::kClosed;
  if (!known(leads)) return;
  out.voltage = leads.voltage[1] - leads.voltage[part.values[0] != 0 ? 2 : 0];
  out.current = leads.current[1];
  out.power = power_taken(leads);
  if (std::abs(out.current) > kSlideCurrent) out.state = State::kOverloaded;
}

constexpr double kButtonBody = 6.0 / 2.54;  // hole steps

}  // namespace

constexpr PartType kPushButton = {
    {.key = "push-button",
     .prefix = "S",
     .leads = kButtonLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = kButtonBody, .body_width = kButtonBody},
     .values = kButtonValues},
    "switches",
    Body::kTactButton,
    button_elements,
    2,
    button_ratings,
    button_read,
    -1,
    "button push press key switch tactile"};

constexpr PartType kSlideSwitch = {
    {.key = "slide-switch",
     .prefix = "S",
     .leads = kSlideLeads,
     .footprint = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 3.4, .body_width = 1.4},
     .values = kSlideValues},
    "switches",
    Body::kSlideSwitch,
    slide_elements,
    0,
    slide_ratings,
    slide_read,
    -1,
    "switch slide on off changeover two way"};

}  // namespace tiepoint
