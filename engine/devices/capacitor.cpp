// Capacitor: charge  Q = C * u  on the plates, where u is the voltage across them.
//
// Without series resistance u = v_p - v_n and the charge stands at the terminals: no unknown of its own.
// With series resistance R the current i is an unknown:  u = v_p - v_n - R*i,  d/dt (C*u) = i.
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kCapacitance, kInitialVoltage, kSeriesResistance };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"capacitance", "F", kNone, 1e-18, 1e6},
                                         {"initial_voltage", "V", kNone, -1e9, 1e9},
                                         {"series_resistance", "ohm", 0, 0, 1e12}};

int extra_for(std::span<const double> p) { return p[kSeriesResistance] > 0 ? 1 : 0; }

void evaluate(std::span<const double> p, const double* x, const Instant&, const Local& out) {
  const double c = p[kCapacitance];
  if (extra_for(p) == 0) {
    stamp_branch(out.q, out.dq, 2, 0, 1, c * (x[0] - x[1]), c);
    return;
  }
  const double r = p[kSeriesResistance];
  out.f[0] = x[2], out.f[1] = -x[2], out.f[2] = -x[2];
  out.df[2] = 1, out.df[5] = -1, out.df[8] = -1;
  out.q[2] = c * (x[0] - x[1] - r * x[2]);
  out.dq[6] = c, out.dq[7] = -c, out.dq[8] = -c * r;
}

void initial(std::span<const double> p, double* q) {
  const double charge = std::isnan(p[kInitialVoltage]) ? 0 : p[kCapacitance] * p[kInitialVoltage];
  if (extra_for(p) == 0) {
    q[0] = charge, q[1] = -charge;
  } else {
    q[2] = charge;
  }
}

}  // namespace

const Model kCapacitorModel = {.kind = ElementKind::kCapacitor,
                               .name = "capacitor",
                               .terminals = kTerminals,
                               .parameters = kParameters,
                               .joins = "ab",
                               .extra = 1,
                               .extra_for = extra_for,
                               .stores = true,
                               .charge_row = 2,
                               .evaluate = evaluate,
                               .initial = initial};

}  // namespace tiepoint
