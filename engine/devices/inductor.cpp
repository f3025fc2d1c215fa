// Inductor: flux linkage  Phi = L * i;  d/dt Phi = v_p - v_n - R*i  with series resistance R. Unknown of its own: the current
// i.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kInductance, kInitialCurrent, kSeriesResistance };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"inductance", "H", kNone, 1e-18, 1e6},
                                         {"initial_current", "A", kNone, -1e9, 1e9},
                                         {"series_resistance", "ohm", 0, 0, 1e12}};

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double r = p[kSeriesResistance];
  out.f[0] = x[2], out.f[1] = -x[2];
  out.df[2] = 1, out.df[5] = -1;
  out.f[2] = r * x[2] - (x[0] - x[1]);
  out.df[6] = -1, out.df[7] = 1, out.df[8] = r;
  out.q[2] = p[kInductance] * x[2];
  out.dq[8] = p[kInductance];
}

void initial(std::span<const double> p, double* q) {
  q[2] = std::isnan(p[kInitialCurrent]) ? 0 : p[kInductance] * p[kInitialCurrent];
}

}  // namespace

const Model kInductorModel = {.kind = ElementKind::kInductor,
                              .name = "inductor",
                              .terminals = kTerminals,
                              .parameters = kParameters,
                              .joins = "aa",
                              .extra = 1,
                              .stores = true,
                              .evaluate = evaluate,
                              .initial = initial};

}  // namespace tiepoint
