// Hall switch with an open collector: sinks in a field.
//
//   mode  off --field >= operate--> on --field <= release--> off,   release < operate
//   sink  as the comparator's: i = Isink tanh(V(out) / (Isink R)). Everything fades in between 1 and 2 V of supply.
// The field is a parameter. Its own delay (a few microseconds) is left out.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kField, kOperate, kRelease, kResistance, kSink, kQuiescent };
enum { kOut, kVcc, kGnd, kUnknowns };
enum { kOff, kOn };
constexpr std::string_view kTerminals[] = {"out", "vcc", "gnd"};
constexpr ParameterSpec kParameters[] = {{"field", "T", kNone, -100, 100},          {"operate_field", "T", 0.020, -100, 100},
                                         {"release_field", "T", 0.0145, -100, 100}, {"sink_resistance", "ohm", 7.5, 1e-3, 1e6},
                                         {"sink_limit", "A", 0.025, 1e-9, 1e3},     {"quiescent_current", "A", 4.4e-3, 0, 1}};

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  constexpr int m = kUnknowns;
  const Curve awake = smooth_step(x[kVcc] - x[kGnd] - 1, 1);
  if (at.mode == kOn) stamp_open_collector(out, m, x, kOut, kGnd, kVcc, p[kResistance], p[kSink], awake);
  stamp_flow(out, m, kVcc, kGnd, p[kQuiescent] * awake.value,
             {{kVcc, p[kQuiescent] * awake.slope}, {kGnd, -p[kQuiescent] * awake.slope}});
  stamp_clamp(out, m, x, kGnd, kOut, 0.5, 0.02);
  stamp_conductance(out, m, x, kOut, kGnd, 1e-10);
  stamp_conductance(out, m, x, kVcc, kGnd, 1e-9);
}

bool limit(std::span<const double>, const double* last, double* x) { return limit_supply(last, x, kVcc, kGnd, 1, 2); }

double event(std::span<const double> p, const double*, const Instant& at, int) {
  if (at.mode == kOff) return p[kField] - p[kOperate];
  const double past = std::min(p[kRelease], p[kOperate]) - p[kField];
  return past < 0 || p[kField] >= p[kOperate] ? -1 : past;
}

int next_mode(std::span<const double>, const double*, const Instant& at) { return at.mode == kOff ? kOn : kOff; }

}  // namespace

const Model kHallModel = {.kind = ElementKind::kHall,
                          .name = "hall-switch",
                          .terminals = kTerminals,
                          .parameters = kParameters,
                          .joins = "aaa",
                          .linear = false,
                          .evaluate = evaluate,
                          .limit = limit,
                          .events = 1,
                          .event = event,
                          .next_mode = next_mode};

}  // namespace tiepoint
