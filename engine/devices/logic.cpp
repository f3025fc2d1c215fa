// Digital CMOS chips, driven by the voltages at their legs. Terminals: vcc gnd, inputs, outputs (order: logic_machine.h).
//
//   inputs   seen high above rise * VCC, low again below fall * VCC (hysteresis between); a leak of 10 pS to either rail; protection
//            junctions to both rails from 0.5 V beyond, 50 ohm: so a chip without a supply is fed through them
//   outputs  the p or the n transistor as a conductance k (VCC - Von) to its rail that gives no more than a limit:
//            i = g v / sqrt(1 + (g v / limit)^2);  open when not driven; the same junctions to the rails
//   time     outputs follow the inside a delay after the last input that made a difference. A pulse shorter than that is swallowed
//   supply   a quiescent conductance; awake above 1.5 V, forgets everything where its outputs have not driven any more for long: below
//            Von - 0.2 V, at most 1.0 V. Were it to let go while it still drives, a chip that is fed through a clamp and so weakly that
//            waking pulls its own supply down would fall asleep and wake without end and without any time between
// Mode: from bit 0 the inputs as seen, the inner state, the outputs as shown, and whether it is awake.
#include <algorithm>
#include <cmath>

#include "engine/devices/list.h"
#include "engine/devices/logic_machine.h"
#include "engine/devices/smooth.h"
#include "engine/devices/stamp.h"

namespace tiepoint {
namespace {

enum { kFunction, kRise, kFall, kHighDrive, kLowDrive, kTurnOn, kHighDrop, kLimit, kDelay, kQuiescent };
enum { kVcc, kGnd, kFirstInput };
// The standard values are those of the 74HC family; a part gives its own.
constexpr ParameterSpec kParameters[] = {{"function", "", 0, 0, 15},
                                         {"rise_share", "", 0.52, 0, 1},
                                         {"fall_share", "", 0.48, 0, 1},
                                         {"high_drive", "S/V", 5.85e-3, 1e-9, 10},
                                         {"low_drive", "S/V", 7.02e-3, 1e-9, 10},
                                         {"turn_on", "V", 0.7, 0, 10},
                                         {"high_drop", "V", 0, 0, 5},
                                         {"output_limit", "A", 0.07, 1e-6, 10},
                                         {"delay", "s", 9e-9, 0, 1},
                                         {"quiescent_conductance", "S", 2e-7, 1e-15, 1}};
constexpr double kAwake = 1.5, kAsleep = 1.0;         // [V]
constexpr double kFading = 0.2;                       // [V] of supply about Von
constexpr double kLeak = 1e-11;                       // [S]
constexpr double kKnee = 0.5, kProtection = 0.02;     // [V], [S]

double asleep_below(std::span<const double> p) { return std::clamp(p[kTurnOn] - kFading, 0.1, kAsleep); }

// The fields of a mode.
template <const Machine& machine>
struct Word {
  uint32_t seen, state, shown;
  bool awake;
  static Word of(int mode) {
    const auto field = [&](int from, int bits) { return uint32_t(mode) >> from & ((1u << bits) - 1); };
    const int a = machine.inputs, b = a + machine.state_bits, c = b + machine.outputs;
    return {field(0, a), field(a, machine.state_bits), field(b, machine.outputs), field(c, 1) != 0};
  }
  int mode() const {
    const int a = machine.inputs, b = a + machine.state_bits, c = b + machine.outputs;
    return int(seen | state << a | shown << b | uint32_t(awake) << c);
  }
  uint32_t wanted(std::span<const double> p) const { return machine.show(int(p[kFunction]), state, seen); }
};

// Output transistor from `rail` to terminal `o`, conductance k * (VCC - Von); the high one may have a drop in series.
void stamp_drive(const Local& out, int m, const double* x, int rail, int o, double k, double turn_on, double drop, double limit) {
  const Curve over = ramp(x[kVcc] - x[kGnd] - turn_on, kFading);
  const double g = k * over.value;
  if (g == 0) return;
  Curve v = {x[rail] - drop - x[o], 1};
  if (drop > 0) v = ramp(v.value, 0.05);
  const double u = g * v.value / limit, root = std::sqrt(1 + u * u), slope = 1 / (root * root * root);
  const double by_v = g * v.slope * slope, by_supply = k * over.slope * v.value * slope;
  stamp_flow(out, m, rail, o, g * v.value / root, {{rail, by_v}, {o, -by_v}, {kVcc, by_supply}, {kGnd, -by_supply}});
}

template <const Machine& machine>
struct Logic {
  static constexpr int kFirstOutput = kFirstInput + machine.inputs;
  static constexpr int kTerminals = kFirstOutput + machine.outputs;
  using W = Word<machine>;

  static void evaluate(std::span<const double> p, const double* x, const Instant& at, const Local& out) {
    constexpr int m = kTerminals;
    const W word = W::of(at.mode);
    stamp_conductance(out, m, x, kVcc, kGnd, p[kQuiescent]);
    for (int t = kFirstInput; t < m; ++t) {
      stamp_conductance(out, m, x, t, kVcc, kLeak);
      stamp_conductance(out, m, x, t, kGnd, kLeak);
      stamp_clamp(out, m, x, t, kVcc, kKnee, kProtection);
      stamp_clamp(out, m, x, kGnd, t, kKnee, kProtection);
    }
    if (!word.awake) return;
    const uint32_t driven = machine.driven(word.seen);
    for (int k = 0; k < machine.outputs; ++k) {
      if (!(driven >> k & 1)) continue;
      const bool high = word.shown >> k & 1;
      stamp_drive(out, m, x, high ? kVcc : kGnd, kFirstOutput + k, p[high ? kHighDrive : kLowDrive], p[kTurnOn], high ? p[kHighDrop] : 0,
                  p[kLimit]);
    }
  }

  // Event k < inputs: input k crosses; the last one: waking up or falling asleep.
  static double event(std::span<const double> p, const double* x, const Instant& at, int k) {
    const W word = W::of(at.mode);
    const double supply = x[kVcc] - x[kGnd];
    if (k == machine.inputs) return word.awake ? asleep_below(p) - supply : supply - kAwake;
    if (!word.awake) return -1;
    const double v = x[kFirstInput + k] - x[kGnd];
    return word.seen >> k & 1 ? p[kFall] * supply - v : v - p[kRise] * supply;
  }

  static int next_mode(std::span<const double> p, const double* x, const Instant& at) {
    W word = W::of(at.mode);
    if (event(p, x, at, machine.inputs) >= 0) return word.awake ? 0 : wake(p, x);
    const uint32_t before = word.seen;
    for (int k = 0; k < machine.inputs; ++k)
      if (event(p, x, at, k) >= 0) word.seen ^= 1u << k;
    word.state = machine.step(int(p[kFunction]), word.state, before, word.seen);
    return word.mode();
  }

  // All registers empty; the outputs are right at once.
  static int wake(std::span<const double> p, const double* x) {
    W word = {0, 0, 0, true};
    for (int k = 0; k < machine.inputs; ++k)
      if (2 * (x[kFirstInput + k] - x[kGnd]) > (p[kRise] + p[kFall]) * (x[kVcc] - x[kGnd])) word.seen |= 1u << k;
    word.state = machine.step(int(p[kFunction]), 0, word.seen, word.seen);
    word.shown = word.wanted(p);
    return word.mode();
  }

  static double lasts(std::span<const double> p, int mode) {
    const W word = W::of(mode);
    return word.awake && word.shown != word.wanted(p) ? p[kDelay] : kInfinite;
  }

  static int after(std::span<const double> p, int mode) {
    W word = W::of(mode);
    word.shown = word.wanted(p);
    return word.mode();
  }

  static constexpr Model make(ElementKind kind, std::string_view name, std::span<const std::string_view> terminals) {
    constexpr std::string_view kAll = "aaaaaaaaaaaaaaaaaaaaaaaa";
    return {.kind = kind,
            .name = name,
            .terminals = terminals,
            .parameters = kParameters,
            .joins = kAll.substr(0, size_t(kTerminals)),
            .linear = false,
            .evaluate = evaluate,
            .events = machine.inputs + 1,
            .event = event,
            .next_mode = next_mode,
            .lasts = lasts,
            .after = after};
  }
};

constexpr std::string_view kInverterLegs[] = {"vcc", "gnd", "a", "y"};
constexpr std::string_view kGateLegs[] = {"vcc", "gnd", "a", "b", "y"};
constexpr std::string_view kFlipFlopLegs[] = {"vcc", "gnd", "clear-", "data", "clock", "preset-", "q", "q-"};
constexpr std::string_view kCounterLegs[] = {"vcc", "gnd", "clear-", "clock", "a", "b", "c", "d", "enable-p", "load-", "enable-t", "qa", "qb", "qc", "qd", "carry"};
constexpr std::string_view kShiftInLegs[] = {"vcc", "gnd", "load-", "clock", "d0", "d1", "d2", "d3", "d4", "d5", "d6", "d7", "serial", "inhibit", "q7", "q7-"};
constexpr std::string_view kShiftOutLegs[] = {"vcc", "gnd", "serial", "enable-", "latch", "shift", "clear-", "qa", "qb", "qc", "qd", "qe", "qf", "qg", "qh", "qh'"};
constexpr std::string_view kDecadeLegs[] = {"vcc", "gnd", "clock", "inhibit", "reset", "q0", "q1", "q2", "q3", "q4", "q5", "q6", "q7", "q8", "q9", "carry"};
constexpr std::string_view kSegmentsLegs[] = {"vcc", "gnd", "in-a", "in-b", "in-c", "in-d", "test-", "blank-", "latch", "a", "b", "c", "d", "e", "f", "g"};

}  // namespace

constexpr Model kInverterModel = Logic<kInverterMachine>::make(ElementKind::kInverter, "inverter", kInverterLegs);
constexpr Model kGateModel = Logic<kGateMachine>::make(ElementKind::kGate, "gate", kGateLegs);
constexpr Model kFlipFlopModel = Logic<kFlipFlopMachine>::make(ElementKind::kFlipFlop, "flip-flop", kFlipFlopLegs);
constexpr Model kCounterModel = Logic<kCounterMachine>::make(ElementKind::kCounter, "counter", kCounterLegs);
constexpr Model kShiftInModel = Logic<kShiftInMachine>::make(ElementKind::kShiftIn, "shift-in", kShiftInLegs);
constexpr Model kShiftOutModel = Logic<kShiftOutMachine>::make(ElementKind::kShiftOut, "shift-out", kShiftOutLegs);
constexpr Model kDecadeModel = Logic<kDecadeMachine>::make(ElementKind::kDecade, "decade", kDecadeLegs);
constexpr Model kSegmentsModel = Logic<kSegmentsMachine>::make(ElementKind::kSegments, "segments", kSegmentsLegs);

}  // namespace tiepoint
