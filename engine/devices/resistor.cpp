// Resistor: Ohm's law  I = (v_p - v_n) / R.
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"resistance", "ohm", kNone, 1e-9, 1e18}};

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double conductance = 1 / p[0];
  stamp_branch(out.f, out.df, 2, 0, 1, conductance * (x[0] - x[1]), conductance);
}

}  // namespace

const Model kResistorModel = {.kind = ElementKind::kResistor,
                              .name = "resistor",
                              .terminals = kTerminals,
                              .parameters = kParameters,
                              .joins = "aa",
                              .evaluate = evaluate};

}  // namespace tiepoint
