// The 555 timer against its sheet: TI SLFS022I, Sep 2014 (read).
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "tests/engine/build_circuit.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

// Instants at which the output changes, found by sampling closely.
std::vector<double> edges(Simulation& simulation, NodeIndex output, double until, double sample, double level) {
  std::vector<double> found;
  bool was = simulation.solution().node_voltage[size_t(output)] > level;
  for (double t = sample; t <= until; t += sample) {
    simulation.advance(t);
    const ElementState* timer = nullptr;
    const Solution& s = simulation.solution();
    if (!s.ok()) {
      ADD_FAILURE() << text(*s.error);
      return found;
    }
    const bool now = s.node_voltage[size_t(output)] > level;
    for (size_t e = 0; e < s.state.size(); ++e)
      if (simulation.circuit().elements[e].kind == ElementKind::kTimer) timer = &s.state[e];
    if (now != was) found.push_back(timer->mode_since);
    was = now;
  }
  return found;
}

// The timer with ideal thresholds and switches: no drop, no resistance to speak of.
std::vector<double> ideal_timer() { return {1e6, 0, 1e-3, 1e-3, 1e3, 1e-3, 1e3, 1e12, 1e12}; }

struct Astable {
  double high, low, first;
};
Astable astable(double supply, double ra, double rb, double c) {
  CircuitBuilder b;
  b.volts("V", "vcc", "0", supply).resistor("RA", "vcc", "dis", ra).resistor("RB", "dis", "cap", rb).capacitor("C", "cap", "0", c);
  b.add("U", ElementKind::kTimer, {"0", "cap", "out", "vcc", "control", "cap", "dis", "vcc"}, ideal_timer());
  SolverOptions options;
  options.relative_tolerance = 1e-5;
  Simulation simulation(b.circuit(), options);
  simulation.start_from_initial_conditions();
  const double period = 0.7 * (ra + 2 * rb) * c;
  const std::vector<double> at = edges(simulation, b.node("out"), 6 * period, period / 40, supply / 2);
  if (at.size() < 5) {
    ADD_FAILURE() << "it does not swing";
    return {};
  }
  return {at[4] - at[3], at[3] - at[2], at[0]};
}

// RA 5 kohm, RB 3 kohm, C 0.15 uF, the values of the sheet's waveform figure; exact columns ln 2 (ln 3 for the first) times RC.
TEST(TimerReference, AstableOfTheSheet) {
  for (const double supply : {5.0, 15.0}) {
    const Astable a = astable(supply, 5e3, 3e3, 0.15e-6);
    EXPECT_NEAR(a.high, 831.7766167e-6, 5e-4 * 831.8e-6) << supply;
    EXPECT_NEAR(a.low, 311.9162313e-6, 5e-4 * 311.9e-6) << supply;
    EXPECT_NEAR(1 / (a.high + a.low), 874.3606308, 5e-4 * 874) << supply;
    EXPECT_NEAR(a.first, 1.318334746e-3, 5e-4 * 1.318e-3) << supply;
    EXPECT_NEAR(a.high, 831.600e-6, 3e-3 * 831.6e-6);  // the sheet's own constants 0.693
    EXPECT_NEAR(a.low, 311.850e-6, 3e-3 * 311.85e-6);
    EXPECT_NEAR(1 / (a.high + a.low), 872.727, 3e-3 * 872.7);
    EXPECT_NEAR(a.high / (a.high + a.low), 0.7272727273, 5e-4);
  }
}

// 1 Mohm, 100 kohm, 0.1 uF: the audio oscillator of Kuphaldt, Lessons in Electric Circuits, Experiments (read).
TEST(TimerReference, AstableOfTheTextbook) {
  const Astable a = astable(9, 1e6, 100e3, 0.1e-6);
  EXPECT_NEAR(a.high, 76.24618986e-3, 5e-4 * 76e-3);
  EXPECT_NEAR(a.low, 6.931471806e-3, 5e-4 * 6.9e-3);
  EXPECT_NEAR(a.high / (a.high + a.low), 11.0 / 12, 1e-4);
  EXPECT_NEAR(1 / (a.high + a.low), 12.02245867, 5e-4 * 12);
}

// The part itself, with its real output and discharge: within the sheet's initial error of 2.25 %.
TEST(TimerReference, PartIsWithinInitialError) {
  for (const char* kind : {"ne555", "tlc555"}) {
    PartBench bench(kind);
    bench.volts("vcc", 5).ground("gnd").resistor("reset", "vcc", 1).resistor("vcc", "discharge", 5e3).resistor("discharge", "trigger", 3e3);
    bench.resistor("trigger", "threshold", 1e-3).capacitor("trigger", "0", 0.15e-6).start();
    const std::vector<double> at = edges(bench.simulation(), bench.node("output"), 8e-3, 20e-6, 2);
    ASSERT_GT(at.size(), 5u) << kind;
    EXPECT_NEAR(at[5] - at[3], 1 / 874.36, 0.0225 / 874.36) << kind;
  }
}

// Function table of the sheet, section 7.4: RESET low gives low whatever else; else TRIG low gives high; else THRES high gives low; else as it was.
TEST(TimerReference, FunctionTable) {
  // Held: brought to a state first by RESET or TRIG, then left alone.
  const auto output = [](double reset, double trigger, double threshold, bool high_before) {
    PartBench bench("ne555");
    bench.volts("vcc", 5).ground("gnd").step("trigger", high_before ? 0 : 4, trigger, 1e-3).step("threshold", 0, threshold, 1e-3);
    bench.step("reset", high_before ? 5 : 0, reset, 1e-3).resistor("discharge", "vcc", 10e3).resistor("output", "0", 1e5).start();
    bench.run_to(2e-3);
    const bool high = bench.voltage("output") > 2.5;
    EXPECT_EQ(bench.voltage("discharge") < 0.5, !high);  // discharge is on exactly when the output is low
    return high;
  };
  for (const bool before : {false, true}) {
    for (const double trigger : {0.0, 4.0})
      for (const double threshold : {0.0, 5.0}) EXPECT_FALSE(output(0, trigger, threshold, before));
    EXPECT_TRUE(output(5, 0, 0, before));
    EXPECT_TRUE(output(5, 0, 5, before));
    EXPECT_FALSE(output(5, 4, 5, before));
    EXPECT_EQ(output(5, 4, 0, before), before);
  }
}

// Electrical characteristics, NE555 at 5 V and 15 V.
TEST(TimerReference, LevelsAndSupplyCurrent) {
  const auto timer = [](double supply, double trigger) {
    PartBench bench("ne555");
    bench.volts("vcc", supply).ground("gnd").volts("trigger", trigger).volts("threshold", supply).resistor("reset", "vcc", 1);
    return bench;
  };
  PartBench low = timer(5, 5);
  low.amperes("output", 5e-3).settle();
  EXPECT_LT(low.voltage("output"), 0.35);
  EXPECT_GT(low.voltage("output"), 0);
  EXPECT_NEAR(low.voltage("control"), 3.33, 0.05);  // 2.6 to 4 V
  PartBench low15 = timer(15, 15);
  low15.amperes("output", 50e-3).settle();
  EXPECT_LT(low15.voltage("output"), 0.75);
  PartBench high = timer(5, 0);
  high.amperes("output", -0.1).settle();
  EXPECT_GE(high.voltage("output"), 2.75);
  EXPECT_NEAR(high.voltage("output"), 3.3, 0.15);
  PartBench high15 = timer(15, 0);
  high15.amperes("output", -0.1).settle();
  EXPECT_GE(high15.voltage("output"), 12.75);
  EXPECT_NEAR(high15.voltage("output"), 13.3, 0.15);
  struct Row { double supply, trigger, typical, most; };
  for (const Row& row : {Row{5, 5, 3e-3, 6e-3}, Row{5, 0, 2e-3, 5e-3}, Row{15, 15, 10e-3, 15e-3}, Row{15, 0, 9e-3, 13e-3}}) {
    PartBench bench = timer(row.supply, row.trigger);
    bench.resistor("output", "0", 1e9).settle();
    EXPECT_LT(bench.current("vcc"), row.most) << row.supply;
    EXPECT_NEAR(bench.current("vcc"), row.typical, 0.35 * row.typical) << row.supply << " " << row.trigger;
  }
}

// The voltage on one leg, on its way from `from` to `to`, at which the output changes. NAN: it does not.
double turning_point(double supply, const std::string& leg, double from, double to, double trigger, double threshold) {
  PartBench bench("ne555");
  bench.volts("vcc", supply).ground("gnd").resistor("discharge", "vcc", 10e3).resistor("output", "0", 1e5);
  for (const auto& [name, volts] : {std::pair<std::string, double>{"trigger", trigger}, {"threshold", threshold}, {"reset", supply}})
    if (name != leg) bench.step(name, name == "trigger" ? 0 : volts, volts, 0.5e-3);  // set once, then let go
  bench.add("V(ramp)", ElementKind::kVoltageSource, {leg, "0"}, {double(Waveform::kPulse), to - from, from, 0, 0, 1e-3, 10e-3, 0, 1}).start();
  bench.run_to(0.9e-3);
  const bool before = bench.voltage("output") > supply / 2;
  for (int k = 0; k <= 1010; ++k) {
    bench.run_to(1e-3 + k * 1e-5);
    if ((bench.voltage("output") > supply / 2) != before) return bench.voltage(leg);
  }
  return NAN;
}

// The same sheet, levels: THRES 2.4/3.3/4.2, TRIG 1.1/1.67/2.2, RESET 0.3/0.7/1.0 V at 5 V; THRES 8.8/10/11.2, TRIG 4.5/5/5.6 V at 15 V.
TEST(TimerReference, ThresholdsInTheirWindows) {
  struct Row { double supply, threshold[3], trigger[3]; };
  for (const Row& row : {Row{5, {2.4, 3.3, 4.2}, {1.1, 1.67, 2.2}}, Row{15, {8.8, 10, 11.2}, {4.5, 5, 5.6}}}) {
    const double threshold = turning_point(row.supply, "threshold", 0, row.supply, row.supply, 0);
    EXPECT_GT(threshold, row.threshold[0]) << row.supply;
    EXPECT_LT(threshold, row.threshold[2]) << row.supply;
    EXPECT_NEAR(threshold, row.threshold[1], 0.02 * row.supply);
    const double trigger = turning_point(row.supply, "trigger", row.supply, 0, 0, 0);
    EXPECT_GT(trigger, row.trigger[0]) << row.supply;
    EXPECT_LT(trigger, row.trigger[2]) << row.supply;
    EXPECT_NEAR(trigger, row.trigger[1], 0.02 * row.supply);
  }
  const double reset = turning_point(5, "reset", 5, 0, 5, 0);
  EXPECT_GT(reset, 0.3);
  EXPECT_LT(reset, 1.0);
  EXPECT_NEAR(reset, 0.7, 0.05);
}

// TLC555 at 5 V, TI SLFS043C (read): output low at most 0.4 V at 8 mA, high at least 4.1 V at 1 mA, discharge at most 0.5 V at 10 mA,
// supply at most 350 uA.
TEST(TimerReference, CmosLevels) {
  PartBench low("tlc555");
  low.volts("vcc", 5).ground("gnd").volts("trigger", 5).volts("threshold", 5).resistor("reset", "vcc", 1).amperes("output", 8e-3);
  low.amperes("discharge", 10e-3).settle();
  EXPECT_LT(low.voltage("output"), 0.4);
  EXPECT_LT(low.voltage("discharge"), 0.5);
  EXPECT_LT(low.current("vcc"), 350e-6);
  PartBench high("tlc555");
  high.volts("vcc", 5).ground("gnd").volts("trigger", 0).volts("threshold", 0).resistor("reset", "vcc", 1).amperes("output", -1e-3).settle();
  EXPECT_GE(high.voltage("output"), 4.1);
}

}  // namespace
}  // namespace tiepoint
