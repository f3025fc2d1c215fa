// Fuses. Equations: engine/devices/fuse.cpp.
//
//   Fuse, 5 mm x 20 mm, quick (F): must carry 1.5 times its rating for an hour, melt within half an hour at 2.1 times, in 10 ms to 3 s at
//   2.75, 3 ms to 300 ms at 4 and within 20 ms at 10 times (IEC 60127-2 sheet 2, from memory). With a least melting current of 1.7 times
//   the rating and 0.5 s these hold. Cold resistance 5, 1.5, 0.3, 0.12 ohm for 0.1, 0.25, 0.5, 1 A (from memory).
//   Resettable fuse, polymer (makers' tables, from memory): carries 0.1, 0.25, 0.5 A, trips for certain at twice that; 7.5, 3.0, 1.17 ohm;
//   0.38, 0.45, 0.77 W when tripped; some seconds at five times the current it carries.
// A melted fuse stays melted until a new one is put in.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

// ---- Fuse

struct FuseFigures {
  double current, resistance;  // [A] [ohm]
};
constexpr std::array<FuseFigures, 4> kFuses = {{{0.1, 5}, {0.25, 1.5}, {0.5, 0.3}, {1, 0.12}}};
constexpr std::array<std::string_view, 4> kFuseNames = {"100 mA", "250 mA", "500 mA", "1 A"};
constexpr double kLeastMelting = 1.7;   // of the rating
constexpr double kFuseTime = 0.5;       // [s]
constexpr std::array<ValueSpec, 1> kFuseValues = {{
    {.key = "fuse-rating", .unit = "", .standard = 2, .minimum = 0, .maximum = double(kFuseNames.size() - 1), .options = kFuseNames},
}};

const FuseFigures& fuse(const Part& part) { return kFuses[size_t(part.values[0])]; }

void fuse_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kFuse, {0, 1}, {fuse(part).resistance + kTwoContacts, kLeastMelting * fuse(part).current, kFuseTime, double(part.specimen)});
}
Ratings fuse_ratings(const Part& part) { return {.current = fuse(part).current, .voltage = 250}; }

void fuse_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const bool has = read_two_leads(leads, out);
  if (!leads.inside.empty() && leads.inside[0].mode == 1)
    out.state = State::kMelted;
  else if (has)
    out.state = std::abs(out.current) > fuse(part).current ? State::kOverloaded
                : std::abs(out.current) > kIdleCurrent     ? State::kCarrying
                                                           : State::kIdle;
}

// ---- Resettable fuse

struct PolymerFigures {
  double hold, resistance, power;  // [A] [ohm] [W]
};
constexpr std::array<PolymerFigures, 3> kPolymers = {{{0.1, 7.5, 0.38}, {0.25, 3.0, 0.45}, {0.5, 1.17, 0.77}}};
constexpr std::array<std::string_view, 3> kPolymerNames = {"100 mA", "250 mA", "500 mA"};
constexpr double kPolymerTime = 30;  // [s]
constexpr std::array<ValueSpec, 1> kPolymerValues = {{
    {.key = "hold-current", .unit = "", .standard = 2, .minimum = 0, .maximum = double(kPolymerNames.size() - 1), .options = kPolymerNames},
}};

const PolymerFigures& polymer(const Part& part) { return kPolymers[size_t(part.values[0])]; }

void polymer_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kResettableFuse, {0, 1}, {polymer(part).resistance + kTwoContacts, polymer(part).power, kPolymerTime});
}
Ratings polymer_ratings(const Part& part) { return {.current = polymer(part).hold, .voltage = 60}; }

void polymer_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const bool tripped = !leads.inside.empty() && leads.inside[0].own[0] > 0.95;
  if (tripped)
    out.state = State::kTripped;
  else
    out.state = std::abs(out.current) > polymer(part).hold ? State::kOverloaded
                : std::abs(out.current) > kIdleCurrent     ? State::kCarrying
                                                           : State::kIdle;
}

}  // namespace

constexpr PartType kFuse = {
    {.key = "fuse",
     .prefix = "F",
     .leads = kLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 8, .reach_max = 12, .body_length = 7.9, .body_width = 2.0},
     .values = kFuseValues},
    "power", Body::kFuse, fuse_elements, 0, fuse_ratings, fuse_read, -1, "fuse protection overcurrent melt"};

constexpr PartType kResettableFuse = {
    {.key = "resettable-fuse",
     .prefix = "F",
     .leads = kLeads,
     .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 4},
     .values = kPolymerValues},
    "power", Body::kResettableFuse, polymer_elements, 0, polymer_ratings, polymer_read, -1, "fuse resettable polymer protection overcurrent ptc"};

}  // namespace tiepoint
