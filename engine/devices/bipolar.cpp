// Bipolar transistor, transport form of Ebers & Moll (Proc. IRE 42, 1954; from memory), no Early effect, no ohmic parts:
//
//   forward F = IS * (exp(VBE/VT) - 1)     reverse R = IS * (exp(VBC/VT) - 1)
//   IC = F - R - R/BR      IB = F/BF + R/BR      IE = -(IC + IB)
//   charges: CBE * VBE + TT * F between base and emitter, CBC * VBC between base and collector
// A pnp is the same with every voltage, current and charge turned round.
#include "engine/devices/junction.h"
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kSaturation, kForward, kReverse, kThermal, kBaseEmitter, kBaseCollector, kTransit };
enum { C, B, E };  // terminals
constexpr std::string_view kTerminals[] = {"collector", "base", "emitter"};
constexpr ParameterSpec kParameters[] = {{"saturation_current", "A", kNone, 1e-60, 1},
                                         {"forward_gain", "", 100, 1e-3, 1e6},
                                         {"reverse_gain", "", 1, 1e-3, 1e6},
                                         {"thermal_voltage", "V", kThermalVoltage, 1e-4, 1},
                                         {"base_emitter_capacitance", "F", 0, 0, 1},
                                         {"base_collector_capacitance", "F", 0, 0, 1},
                                         {"transit_time", "s", 0, 0, 1}};

// sign +1: npn, -1: pnp. Slopes keep their sign: d(-f(-x))/dx = f'(-x).
void evaluate(std::span<const double> p, const double* x, double sign, const Local& out) {
  const Junction junction = {p[kSaturation], p[kThermal], 0};
  const double vbe = sign * (x[B] - x[E]), vbc = sign * (x[B] - x[C]);
  const JunctionPoint f = junction_at(junction, vbe), r = junction_at(junction, vbc);
  const double forward = 1 / p[kForward], reverse = 1 / p[kReverse], back = 1 + reverse;
  const double ic = f.current - back * r.current;
  const double ib = f.current * forward + r.current * reverse;
  out.f[C] = sign * ic, out.f[B] = sign * ib, out.f[E] = -sign * (ic + ib);
  // Columns: d/dVBE = +B -E, d/dVBC = +B -C.
  const double ic_be = f.slope, ic_bc = -back * r.slope;
  const double ib_be = f.slope * forward, ib_bc = r.slope * reverse;
  double* d = out.df;
  d[C * 3 + C] = -ic_bc, d[C * 3 + B] = ic_be + ic_bc, d[C * 3 + E] = -ic_be;
  d[B * 3 + C] = -ib_bc, d[B * 3 + B] = ib_be + ib_bc, d[B * 3 + E] = -ib_be;
  for (int k = 0; k < 3; ++k) d[E * 3 + k] = -(d[C * 3 + k] + d[B * 3 + k]);
  if (p[kBaseEmitter] > 0 || p[kTransit] > 0)
    stamp_branch(out.q, out.dq, 3, B, E, sign * (p[kBaseEmitter] * vbe + p[kTransit] * f.current),
                 p[kBaseEmitter] + p[kTransit] * f.slope);
  if (p[kBaseCollector] > 0) stamp_branch(out.q, out.dq, 3, B, C, sign * p[kBaseCollector] * vbc, p[kBaseCollector]);
}

template <auto hold, int sign>
bool limit(std::span<const double> p, const double* last, double* x) {
  const Junction junction = {p[kSaturation], p[kThermal], 0};
  double vbe = sign * (x[B] - x[E]), vbc = sign * (x[B] - x[C]);
  const bool be = hold(junction, sign * (last[B] - last[E]), &vbe);
  const bool bc = hold(junction, sign * (last[B] - last[C]), &vbc);
  if (be) x[E] = x[B] - sign * vbe;
  if (bc) x[C] = x[B] - sign * vbc;
  return be || bc;
}

void evaluate_npn(std::span<const double> p, const double* x, const Instant&, const Local& out) { evaluate(p, x, 1, out); }
void evaluate_pnp(std::span<const double> p, const double* x, const Instant&, const Local& out) { evaluate(p, x, -1, out); }

}  // namespace

const Model kNpnModel = {.kind = ElementKind::kNpn,
                         .name = "npn",
                         .terminals = kTerminals,
                         .parameters = kParameters,
                         .joins = "aaa",
                         .linear = false,
                         .stores = true,
                         .evaluate = evaluate_npn,
                         .limit = limit<limit_junction, 1>,
                         .stride = limit<stride_junction, 1>};

const Model kPnpModel = {.kind = ElementKind::kPnp,
                         .name = "pnp",
                         .terminals = kTerminals,
                         .parameters = kParameters,
                         .joins = "aaa",
                         .linear = false,
                         .stores = true,
                         .evaluate = evaluate_pnp,
                         .limit = limit<limit_junction, -1>,
                         .stride = limit<stride_junction, -1>};

}  // namespace tiepoint
