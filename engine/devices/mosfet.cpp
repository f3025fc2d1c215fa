// Enhancement MOSFET, square law (Shichman & Hodges, IEEE JSSC 3, 1968; from memory), no channel-length effect, no body diode:
//
//   off         VGS <= Vth                     ID = 0
//   triode      VDS <  VGS - Vth               ID = K * ((VGS - Vth)*VDS - VDS^2/2)
//   saturation  VDS >= VGS - Vth               ID = K/2 * (VGS - Vth)^2
// The channel is symmetric: with VDS < 0 drain and source change places. Gate charges CGS * VGS and CGD * VGD. A p-channel
// device is the same with every voltage, current and charge turned round.
#include "engine/devices/list.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kTransconductance, kThreshold, kGateSource, kGateDrain };
enum { D, G, S };  // terminals
constexpr std::string_view kTerminals[] = {"drain", "gate", "source"};
constexpr ParameterSpec kParameters[] = {{"transconductance", "A/V^2", kNone, 1e-15, 1e6},
                                         {"threshold", "V", kNone, 0, 1e4},
                                         {"gate_source_capacitance", "F", 0, 0, 1},
                                         {"gate_drain_capacitance", "F", 0, 0, 1}};

// sign +1: n channel, -1: p channel.
void evaluate(std::span<const double> p, const double* x, double sign, const Local& out) {
  const bool turned = sign * (x[D] - x[S]) < 0;
  const int d = turned ? S : D, s = turned ? D : S;
  const double vds = sign * (x[d] - x[s]), drive = sign * (x[G] - x[s]) - p[kThreshold];
  if (drive > 0) {
    const double k = p[kTransconductance];
    const bool triode = vds < drive;
    const double current = triode ? k * (drive - vds / 2) * vds : k / 2 * drive * drive;
    const double by_gate = triode ? k * vds : k * drive;  // dID/dVGS
    const double by_drain = triode ? k * (drive - vds) : 0;
    out.f[d] = sign * current, out.f[s] = -sign * current;
    const double row[3] = {by_drain, by_gate, -(by_drain + by_gate)};
    const int column[3] = {d, G, s};
    for (int c = 0; c < 3; ++c) {
      out.df[d * 3 + column[c]] += row[c];
      out.df[s * 3 + column[c]] -= row[c];
    }
  }
  if (p[kGateSource] > 0) stamp_branch(out.q, out.dq, 3, G, S, p[kGateSource] * (x[G] - x[S]), p[kGateSource]);
  if (p[kGateDrain] > 0) stamp_branch(out.q, out.dq, 3, G, D, p[kGateDrain] * (x[G] - x[D]), p[kGateDrain]);
}

void evaluate_nmos(std::span<const double> p, const double* x, const Instant&, const Local& out) { evaluate(p, x, 1, out); }
void evaluate_pmos(std::span<const double> p, const double* x, const Instant&, const Local& out) { evaluate(p, x, -1, out); }

}  // namespace

const Model kNmosModel = {.kind = ElementKind::kNmos,
                          .name = "nmos",
                          .terminals = kTerminals,
                          .parameters = kParameters,
                          .joins = "aba",
                          .linear = false,
                          .stores = true,
                          .evaluate = evaluate_nmos};

const Model kPmosModel = {.kind = ElementKind::kPmos,
                          .name = "pmos",
                          .terminals = kTerminals,
                          .parameters = kParameters,
                          .joins = "aba",
                          .linear = false,
                          .stores = true,
                          .evaluate = evaluate_pmos};

}  // namespace tiepoint
