// Switch triggered by its own voltage: closes when v_p - v_n rises to the closing voltage, opens when it falls to the opening
// voltage; a resistance in both modes. Mode 0: open, 1: closed. So a gas-filled lamp strikes and goes out.
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kClosing, kOpening, kClosed, kOpen };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"closing_voltage", "V", kNone, -1e9, 1e9},
                                         {"opening_voltage", "V", kNone, -1e9, 1e9},
                                         {"closed_resistance", "ohm", 1e-3, 1e-9, 1e18},
                                         {"open_resistance", "ohm", 1e12, 1e-9, 1e18}};

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const double conductance = 1 / p[at.mode == 1 ? kClosed : kOpen];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

double event(std::span<const double> p, const double* x, const Instant& at, int) {
  return at.mode == 1 ? p[kOpening] - (x[0] - x[1]) : (x[0] - x[1]) - p[kClosing];
}

int next_mode(std::span<const double>, const double*, const Instant& at) { return at.mode == 1 ? 0 : 1; }

}  // namespace

const Model kTriggeredSwitchModel = {.kind = ElementKind::kTriggeredSwitch,
                                     .name = "triggered-switch",
                                     .terminals = kTerminals,
                                     .parameters = kParameters,
                                     .joins = "aa",
                                     .evaluate = evaluate,
                                     .events = 1,
                                     .event = event,
                                     .next_mode = next_mode};

}  // namespace tiepoint
