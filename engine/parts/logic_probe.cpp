// Logic probe: two clips on the supply of the chips it looks at, a tip on a leg. Equations and thresholds: engine/devices/logic_probe.cpp.
// 1 megohm to half of the supply: common practice, no source.
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr double kInputResistance = 1e6;  // [ohm]
constexpr double kMostVolts = 15;         // [V] of supply, and at the tip: common practice, no source
enum { kTip, kPlus, kMinus };
enum { kAsleep, kLow, kNeither, kHigh, kChanged };  // modes of the model
enum { kHighLight, kLowLight, kChangeLight };       // in PartNumbers::lights
constexpr std::array<LeadSpec, 3> kLeads = {{{.name = "tip"}, {.name = "+"}, {.name = "-"}}};

void elements(const Board&, const Part&, ElementList& out) { out.add(ElementKind::kLogicProbe, {kTip, kPlus, kMinus}, {kInputResistance}); }

Ratings ratings(const Part&) { return {.voltage = kMostVolts}; }

void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads) || leads.inside.empty()) return;
  out.power = power_taken(leads);
  out.voltage = leads.voltage[kTip] - leads.voltage[kMinus];
  const int mode = leads.inside[0].mode, level = mode & 3;
  if (level == kAsleep) {
    out.state = State::kOff;
    return;
  }
  out.lights[kHighLight] = level == kHigh, out.lights[kLowLight] = level == kLow, out.lights[kChangeLight] = mode > kChanged;
  out.state = mode > kChanged ? State::kChanging : level == kHigh ? State::kHigh : level == kLow ? State::kLow : State::kFloating;
}

}  // namespace

constexpr PartType kLogicProbe = {
    {.key = "logic-probe",
     .prefix = "LP",
     .leads = kLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 8, .body_width = 3},
     .values = {},
     .touches = true},
    "instruments", Body::kLogicProbe, elements, 0, ratings, read, -1, "logic probe high low level chip digital test floating pulse", kMinus};

}  // namespace tiepoint
