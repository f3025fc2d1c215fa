// Switches that stay where they are put: toggle, rows of small switches (DIP), rotary.
//
// Toggle, one pole, two positions, 4.7 mm between its lugs, which bend into holes two steps apart: 20 milliohm, 3 A (small panel
// toggles, from memory).
// DIP switch, 4 or 8 single contacts in a dual-in-line body, 7.62 mm between the rows: 50 milliohm, 25 mA switching, 24 V (from
// memory; it may carry 100 mA). Contact k joins the k-th lead of the lower row with the one across from it.
// Rotary, one pole, five positions, break before make, legs in one row: 50 milliohm, 0.3 A (from memory).
// An open contact is 10 gigohm. Bounce: toggle and rotary up to 5 ms and 6 openings where they arrive, DIP contacts up to 2 ms and 4
// (common practice, no source; see contacts.h).

#include <array>
#include <cmath>

#include "engine/parts/contacts.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr ValueSpec contact(std::string_view key) {
  return {.key = key, .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
}

constexpr Bounce kSwitchBounce = {5e-3, 6}, kDipBounce = {2e-3, 4};

// One pole leading to one of several leads: `pole` is the lead of the pole; the others follow in order, the pole left out.
template <int count>
void add_pole(const Part& part, int pole, double closed, ElementList& out) {
  for (int k = 0, lead = 0; k < count; ++k, ++lead) {
    if (lead == pole) ++lead;
    add_throw(pole, lead, int(part.values[0]) == k, closed + kTwoContacts, kSwitchBounce, out);
  }
}

// Always closed to one side; the numbers are of that side, from the pole outwards.
template <int count>
void read_pole(const Part& part, int pole, double largest, const LeadNumbers& leads, PartNumbers& out) {
  out.state = State::kClosed;
  if (!known(leads)) return;
  const int position = int(part.values[0]);
  out.voltage = leads.voltage[size_t(pole)] - leads.voltage[size_t(position < pole ? position : position + 1)];
  out.current = leads.current[size_t(pole)];
  out.power = power_taken(leads);
  if (std::abs(out.current) > largest) out.state = State::kOverloaded;
}

// ---- Toggle

constexpr double kToggleClosed = 0.02, kToggleCurrent = 3, kToggleVoltage = 120;  // [ohm], [A], [V]
constexpr std::array<std::string_view, 2> kSides = {"common-1", "common-2"};
constexpr std::array<ValueSpec, 1> kToggleValues = {{
    {.key = "position", .unit = "", .standard = 0, .minimum = 0, .maximum = 1, .options = kSides, .use = Use::kPosition},
}};
constexpr std::array<LeadSpec, 3> kToggleLeads = {{{.name = "1"}, {.name = "common", .dx = 2}, {.name = "2", .dx = 4}}};

void toggle_elements(const Board&, const Part& part, ElementList& out) { add_pole<2>(part, 1, kToggleClosed, out); }
Ratings toggle_ratings(const Part&) { return {.current = kToggleCurrent, .voltage = kToggleVoltage}; }
void toggle_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) { read_pole<2>(part, 1, kToggleCurrent, leads, out); }

// ---- Rotary

constexpr double kRotaryClosed = 0.05, kRotaryCurrent = 0.3, kRotaryVoltage = 50;  // [ohm], [A], [V]
constexpr std::array<std::string_view, 5> kStops = {"1", "2", "3", "4", "5"};
constexpr std::array<ValueSpec, 1> kRotaryValues = {{
    {.key = "position", .unit = "", .standard = 0, .minimum = 0, .maximum = double(kStops.size() - 1), .options = kStops, .use = Use::kPosition},
}};
constexpr std::array<LeadSpec, 6> kRotaryLeads = {{{.name = "common"},
                                                   {.name = "1", .dx = 1},
                                                   {.name = "2", .dx = 2},
                                                   {.name = "3", .dx = 3},
                                                   {.name = "4", .dx = 4},
                                                   {.name = "5", .dx = 5}}};

void rotary_elements(const Board&, const Part& part, ElementList& out) { add_pole<5>(part, 0, kRotaryClosed, out); }
Ratings rotary_ratings(const Part&) { return {.current = kRotaryCurrent, .voltage = kRotaryVoltage}; }
void rotary_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) { read_pole<5>(part, 0, kRotaryCurrent, leads, out); }

// ---- DIP switch

constexpr double kDipClosed = 0.05, kDipCurrent = 0.1, kDipVoltage = 24;  // [ohm], [A], [V]
constexpr std::array<ValueSpec, 8> kDip8Values = {
    {contact("switch-1"), contact("switch-2"), contact("switch-3"), contact("switch-4"), contact("switch-5"), contact("switch-6"),
     contact("switch-7"), contact("switch-8")}};
constexpr std::array<ValueSpec, 4> kDip4Values = {{contact("switch-1"), contact("switch-2"), contact("switch-3"), contact("switch-4")}};

constexpr int kAcross = -3;  // hole steps from the lower row to the upper one
constexpr std::array<LeadSpec, 8> kDip4Leads = {{{.name = "1"},
                                                 {.name = "2", .dx = 1},
                                                 {.name = "3", .dx = 2},
                                                 {.name = "4", .dx = 3},
                                                 {.name = "5", .dx = 3, .dy = kAcross},
                                                 {.name = "6", .dx = 2, .dy = kAcross},
                                                 {.name = "7", .dx = 1, .dy = kAcross},
                                                 {.name = "8", .dx = 0, .dy = kAcross}}};
constexpr std::array<LeadSpec, 16> kDip8Leads = {{{.name = "1"},
                                                  {.name = "2", .dx = 1},
                                                  {.name = "3", .dx = 2},
                                                  {.name = "4", .dx = 3},
                                                  {.name = "5", .dx = 4},
                                                  {.name = "6", .dx = 5},
                                                  {.name = "7", .dx = 6},
                                                  {.name = "8", .dx = 7},
                                                  {.name = "9", .dx = 7, .dy = kAcross},
                                                  {.name = "10", .dx = 6, .dy = kAcross},
                                                  {.name = "11", .dx = 5, .dy = kAcross},
                                                  {.name = "12", .dx = 4, .dy = kAcross},
                                                  {.name = "13", .dx = 3, .dy = kAcross},
                                                  {.name = "14", .dx = 2, .dy = kAcross},
                                                  {.name = "15", .dx = 1, .dy = kAcross},
                                                  {.name = "16", .dx = 0, .dy = kAcross}}};

void dip_elements(const Board&, const Part& part, ElementList& out) {
  const int last = int(part.leads.size()) - 1;
  for (int k = 0; k < int(part.values.size()); ++k)
    add_contact(k, last - k, part.values[size_t(k)] != 0, kDipClosed + kTwoContacts, kDipBounce, out);
}

Ratings dip_ratings(const Part&) { return {.current = kDipCurrent, .voltage = kDipVoltage}; }

// The current is that of the busiest contact.
void dip_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  bool any = false;
  for (double v : part.values) any = any || v != 0;
  out.state = any ? State::kClosed : State::kOpen;
  double busiest = 0, power = 0;
  bool some = false;
  const size_t last = part.leads.size() - 1;
  for (size_t k = 0; k < part.values.size(); ++k) {
    if (!has_reading(leads.current[k]) || !has_reading(leads.voltage[k]) || !has_reading(leads.voltage[last - k])) continue;
    some = true;
    if (std::abs(leads.current[k]) > std::abs(busiest)) busiest = leads.current[k];
    power += leads.current[k] * (leads.voltage[k] - leads.voltage[last - k]);
  }
  if (!some) return;
  out.current = busiest;
  out.power = power;
  if (std::abs(busiest) > kDipCurrent) out.state = State::kOverloaded;
}

constexpr Footprint body(double length, double width) {
  return {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

}  // namespace

constexpr PartType kToggleSwitch = {
    {.key = "toggle-switch", .prefix = "S", .leads = kToggleLeads, .footprint = body(5.2, 2.7), .values = kToggleValues},
    "switches", Body::kToggleSwitch, toggle_elements, 0, toggle_ratings, toggle_read, -1, "switch toggle lever on off changeover"};

constexpr PartType kDipSwitch4 = {
    {.key = "dip-switch-4", .prefix = "S", .leads = kDip4Leads, .footprint = body(4.6, 3.9), .values = kDip4Values},
    "switches", Body::kDipSwitch, dip_elements, 0, dip_ratings, dip_read, -1, "switch dip row four settings"};

constexpr PartType kDipSwitch8 = {
    {.key = "dip-switch-8", .prefix = "S", .leads = kDip8Leads, .footprint = body(8.6, 3.9), .values = kDip8Values},
    "switches", Body::kDipSwitch, dip_elements, 0, dip_ratings, dip_read, -1, "switch dip row eight settings byte"};

constexpr PartType kRotarySwitch = {
    {.key = "rotary-switch", .prefix = "S", .leads = kRotaryLeads, .footprint = body(6.4, 2.7), .values = kRotaryValues},
    "switches", Body::kRotarySwitch, rotary_elements, 0, rotary_ratings, rotary_read, -1, "switch rotary selector five positions turn"};

}  // namespace tiepoint
