// Input of a hand-held meter: what its two probes do to a circuit, and what it needs to know of the circuit before it shows a number.
//
//   listening  I = v / Rin                                       volts and everything switched off
//   testing    I = -delivered(v): V behind R, held to I0         ohms, continuity, diode test (limited_supply.cpp's law)
//
// Before it sends a current of its own the meter listens for 1 ms (modes: 0 listens, 1 tests, 2 refuses). A voltage that it did not
// make is a live circuit: it refuses until that is gone. It listens anew whenever the circuit is changed (looks_again), and refuses
// when its own current finds a voltage that it cannot have made, below 0 or above V. While it listens to test, it loads the circuit
// with 100 kilohm, so that a small charge on it goes away. Thresholds: 10 mV to refuse, 5 mV to try again (own choice).
//
// True RMS of what alternates, own unknowns `mean` and `square`, as an RMS converter behind a coupling capacitor finds it:
//   tau dm/dt + m = v          tau ds/dt + s = (v - m)^2          tau = 0.2 s (own choice); the reading is sqrt s
// A sine of frequency f leaves a ripple of 1 / (4 pi f tau) of the reading's square, and m misses 1 / (2 pi f tau)^2 of it.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kInput, kTestVoltage, kTestResistance, kTestCurrent, kAverages };
enum { kListening, kTesting, kRefusing };
constexpr std::string_view kTerminals[] = {"p", "n"};
constexpr ParameterSpec kParameters[] = {{"input_resistance", "ohm", kNone, 1e-9, 1e18},
                                         {"test_voltage", "V", 0, 0, 1e3},
                                         {"test_resistance", "ohm", 10, 1e-9, 1e18},
                                         {"test_current", "A", 1e-3, 1e-12, kInfinite},
                                         {"averages", "", 0, 0, 1}};
constexpr int kMean = 2, kSquare = 3;
constexpr double kListenFor = 1e-3;      // [s]
constexpr double kLive = 0.010;          // [V]
constexpr double kDead = 0.005;          // [V]
constexpr double kDischarge = 100e3;     // [ohm]
constexpr double kCorner = 0.02;         // width of the limit's corner
constexpr double kRemains = 1e-6;        // slope beyond it
constexpr double kTimeConstant = 0.2;    // [s]

bool tests(std::span<const double> p) { return p[kTestVoltage] > 0; }
int extra_for(std::span<const double> p) { return p[kAverages] != 0 ? 2 : 0; }

// Delivered = I0 * (u - (1 - k) soft_ramp(u - 1)), u = (V - v) / (R I0).
void send_current(std::span<const double> p, const double* x, double scale, int m, const Local& out) {
  const double u = (scale * p[kTestVoltage] - (x[0] - x[1])) / (p[kTestResistance] * p[kTestCurrent]);
  const Curve beyond = soft_ramp(u - 1, kCorner);
  const double delivered = p[kTestCurrent] * (u - (1 - kRemains) * beyond.value);
  const double slope = (1 - (1 - kRemains) * beyond.slope) / p[kTestResistance];
  stamp_branch(out.f, out.df, m, 0, 1, -delivered, slope);
}

void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
  const int m = 2 + extra_for(p);
  if (tests(p) && at.mode == kTesting)
    send_current(p, x, at.source_scale, m, out);
  else
    stamp_conductance(out, m, x, 0, 1, 1 / (tests(p) ? std::min(p[kInput], kDischarge) : p[kInput]));
  if (m == 2) return;
  const double swing = x[0] - x[1] - x[kMean];
  out.f[kMean] = -swing;
  double* d = out.df + kMean * m;
  d[kMean] = 1, d[0] = -1, d[1] = 1;
  out.f[kSquare] = x[kSquare] - swing * swing;
  d = out.df + kSquare * m;
  d[kSquare] = 1, d[0] = -2 * swing, d[1] = 2 * swing, d[kMean] = 2 * swing;
  for (const int own : {kMean, kSquare}) {
    out.q[own] = kTimeConstant * x[own];
    out.dq[own * m + own] = kTimeConstant;
  }
}

double event(std::span<const double> p, const double* x, const Instant& at, int) {
  if (!tests(p)) return -1;
  const double v = x[0] - x[1];
  switch (at.mode) {
    case kListening: return std::fabs(v) - kLive;
    case kTesting: return std::max(-v, v - p[kTestVoltage]) - kLive;
    default: return kDead - std::fabs(v);
  }
}

int next_mode(std::span<const double>, const double*, const Instant& at) { return at.mode == kRefusing ? kListening : kRefusing; }
double lasts(std::span<const double> p, int mode) { return tests(p) && mode == kListening ? kListenFor : kInfinite; }
int after(std::span<const double>, int) { return kTesting; }

}  // namespace

const Model kMeterModel = {.kind = ElementKind::kMeter,
                           .name = "meter-input",
                           .terminals = kTerminals,
                           .parameters = kParameters,
                           .joins = "aa",
                           .extra = 2,
                           .extra_for = extra_for,
                           .linear = false,
                           .stores = true,
                           .looks_again = true,
                           .evaluate = evaluate,
                           .events = 1,
                           .event = event,
                           .next_mode = next_mode,
                           .lasts = lasts,
                           .after = after};

}  // namespace tiepoint
