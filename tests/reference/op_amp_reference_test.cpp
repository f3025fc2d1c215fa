// Op-amp and regulators against textbook values and their sheets.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/engine/build_circuit.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

// An op-amp close to ideal: gain as given, rails at +-100 V, no bias and no output resistance to speak of.
std::vector<double> near_ideal(double gain) { return {gain, 1e6, 1e12, 0, 1, 1, 1e-3, 10, 10, 0, 0}; }

// Kuphaldt, Lessons in Electric Circuits, Semiconductors, op-amp chapter (read): gain 200 000, 6 V in: 5.99997000015 V, 29.99985 uV.
TEST(OpAmpReference, FollowerWithFiniteGain) {
  CircuitBuilder b;
  b.volts("VP", "vcc", "0", 100).volts("VN", "vee", "0", -100).volts("VI", "in", "0", 6);
  b.add("A", ElementKind::kOpAmp, {"in", "out", "out", "vcc", "vee"}, near_ideal(200000));
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  // Our gain counts from the lower rail: out + 100 = A (in - out), so the difference is (6 + 100) / (A + 1).
  EXPECT_NEAR(b.voltage(s, "in", "out"), 106.0 / 200001, 1e-9);
}

TEST(OpAmpReference, FollowerOnOneSupply) {
  CircuitBuilder b;
  b.volts("VP", "vcc", "0", 100).volts("VI", "in", "0", 6);
  b.add("A", ElementKind::kOpAmp, {"in", "out", "out", "vcc", "0"}, near_ideal(200000));
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_NEAR(b.voltage(s, "out"), 5.999970000149999, 1e-9);
  EXPECT_NEAR(b.voltage(s, "in", "out"), 29.99985e-6, 1e-9);
}

// The same book: R1 = R2 = 1 kohm, 6 V in: 12 V and 6 mA in the chain; inverting: -6 V.
TEST(OpAmpReference, TimesTwoAndMinusOne) {
  CircuitBuilder b;
  b.volts("VP", "vcc", "0", 100).volts("VN", "vee", "0", -100).volts("VI", "in", "0", 6);
  b.add("A", ElementKind::kOpAmp, {"in", "mid", "out", "vcc", "vee"}, near_ideal(1e8)).resistor("R1", "mid", "0", 1e3).resistor("R2", "out", "mid", 1e3);
  b.add("B", ElementKind::kOpAmp, {"0", "x", "inverted", "vcc", "vee"}, near_ideal(1e8)).resistor("R3", "in", "x", 1e3).resistor("R4", "inverted", "x", 1e3);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_NEAR(b.voltage(s, "out"), 12, 1e-4);
  EXPECT_NEAR(b.current(s, "R1"), 6e-3, 1e-7);
  EXPECT_NEAR(b.voltage(s, "inverted"), -6, 1e-4);
}

// The same book, differentiator: 47 uF whose voltage rises by 3 V each second takes 141 uA.
TEST(OpAmpReference, CapacitorOnARampTakesItsSlopeTimesC) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"in", "0"}, {double(Waveform::kPulse), 3, 0, 0, 0, 0, 1, 0, 1}).resistor("R", "in", "c", 1);
  b.capacitor("C", "c", "0", 47e-6);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(0.5);
  EXPECT_NEAR(b.current(simulation.solution(), "C"), 141e-6, 0.5e-6);
}

PartBench amplifier(double supply) {
  PartBench bench("lm358");
  bench.volts("vcc", supply).ground("gnd").ground("2in+").resistor("2in-", "2out", 1);
  return bench;
}

// LM358 at 5 V, TI SLOS068E (read): output at most 1.5 V below the supply guaranteed (2 kohm), low at most 20 mV (10 kohm).
TEST(OpAmpReference, LM358RailsOnFiveVolts) {
  PartBench high = amplifier(5);
  high.volts("1in+", 5).resistor("1in-", "1out", 1).resistor("1out", "0", 2e3).settle();
  EXPECT_GE(high.voltage("1out"), 3.5);
  EXPECT_LE(high.voltage("1out"), 4.0);
  PartBench low = amplifier(5);
  low.volts("1in+", 0).volts("1in-", 1).resistor("1out", "0", 10e3).settle();
  EXPECT_LE(low.voltage("1out"), 0.020);
  EXPECT_GE(low.voltage("1out"), 0);
  PartBench middle = amplifier(5);
  middle.volts("1in+", 2).resistor("1in-", "1out", 1).resistor("1out", "0", 2e3).settle();
  EXPECT_NEAR(middle.voltage("1out"), 2, 0.007);  // offset at most 7 mV
  EXPECT_LT(middle.current("vcc"), 1.2e-3 + 2 / 2e3);  // supply current at most 1.2 mA for both, plus the load's
}

// TI SLOS068E: offset typically 3, at most 7 mV; bias typically 20, at most 250 nA, out of the inputs. A gain of 101 shows the offset.
TEST(OpAmpReference, LM358OffsetAndBias) {
  const char* const pins[2][3] = {{"1in+", "1in-", "1out"}, {"2in+", "2in-", "2out"}};
  for (const auto& [plus, minus, out] : pins) {
    PartBench bench("lm358");
    bench.volts("vcc", 12).ground("gnd").volts("ref", 6).volts(plus, 6);
    bench.resistor(minus, "ref", 1e3).resistor(out, minus, 100e3);
    const bool first = plus[0] == '1';
    bench.ground(first ? "2in+" : "1in+").resistor(first ? "2in-" : "1in-", first ? "2out" : "1out", 1).settle();
    const double offset = (bench.voltage(out) - 6) / 101;
    EXPECT_GE(std::fabs(offset), 2e-3);
    EXPECT_LE(std::fabs(offset), 7e-3);
    EXPECT_LT(bench.current(plus), 0);  // out of a pnp input
    EXPECT_GE(bench.current(plus), -250e-9);
  }
}

// Slew rate 0.3 V/us: a step of 3 V takes about 10 us; the follower's small signals settle with 1 / (2 pi 0.7 MHz).
TEST(OpAmpReference, LM358SlewRate) {
  PartBench bench = amplifier(12);
  bench.step("1in+", 1, 4, 1e-3).resistor("1in-", "1out", 1).resistor("1out", "0", 10e3).settle();
  bench.run_to(1e-3 + 5e-6);
  EXPECT_NEAR(bench.voltage("1out"), 1 + 5 * 0.3, 0.05);
  bench.run_to(1e-3 + 30e-6);
  EXPECT_NEAR(bench.voltage("1out"), 4, 0.01);
}

// The same sheet: offset at most 7 mV, large-signal gain typically 100 V/mV, unity-gain bandwidth 0.7 MHz.
TEST(OpAmpReference, LM358GainAndBandwidth) {
  const auto difference = [](double in) {
    PartBench bench = amplifier(15);
    bench.volts("1in+", in).resistor("1in-", "1out", 1).settle();
    return bench.voltage("1in+", "1in-");
  };
  EXPECT_LT(std::fabs(difference(5)), 7e-3);
  EXPECT_NEAR(9 / (difference(10) - difference(1)), 100e3, 5e3);
  PartBench follower = amplifier(12);  // 10 mV about 5 V at 0.7 MHz: 1 / sqrt 2 comes through
  follower.add("V(1in+)", ElementKind::kVoltageSource, {"1in+", "0"}, {double(Waveform::kSine), 0.01, 5, 0.7e6});
  follower.resistor("1in-", "1out", 1).resistor("1out", "0", 10e3).settle();
  double least = 5, most = 5;
  for (int k = 0; k < 200; ++k) {
    follower.run_to(10e-6 + k * 20e-9);
    least = std::min(least, follower.voltage("1out")), most = std::max(most, follower.voltage("1out"));
  }
  EXPECT_NEAR((most - least) / 0.02, 0.7071, 0.03);
}

// ST DS0422 Rev 37 (read): 4.75 to 5.25 V from 5 mA to 1 A and 7 to 18 V; dropout typically 2 V at 1 A; quiescent at most 8 mA; load
// change from 5 mA to 1.5 A at most 100 mV.
TEST(RegulatorReference, L7805) {
  const auto output = [](double in, double load, double* quiescent = nullptr) {
    PartBench bench("lm7805");
    bench.volts("in", in).ground("gnd").amperes("out", -load).settle();
    if (quiescent) *quiescent = -bench.current("gnd");
    return bench.voltage("out");
  };
  for (const double in : {7.5, 10.0, 18.0})
    for (const double load : {0.005, 0.5, 1.0}) {
      double quiescent = 0;
      const double v = output(in, load, &quiescent);
      EXPECT_GT(v, 4.75) << in << " V " << load << " A";
      EXPECT_LT(v, 5.25) << in << " V " << load << " A";
      EXPECT_LT(quiescent, 8e-3);
      EXPECT_GT(quiescent, 3e-3);
    }
  EXPECT_LT(output(10, 0.005) - output(10, 1.5), 0.1);
  EXPECT_GT(output(10, 0.5), 4.8);  // at 25 °C, at which the bench stands
  EXPECT_LT(output(10, 0.5), 5.2);
  EXPECT_NEAR(6.5 - output(6.5, 1), 2, 0.2);  // the drop at 1 A once it no longer regulates
}

// Fairchild LM317 Rev 1.0.6 (read): VO = 1.25 (1 + R2/R1) + IADJ R2, IADJ typically 46 uA. 240 and 720 ohm: 5.03312 V; 1500 ohm: 9.1315 V.
TEST(RegulatorReference, LM317Divider) {
  for (const auto& [r2, volts] : {std::pair{720.0, 5.03312}, std::pair{1500.0, 9.1315}}) {
    PartBench bench("lm317");
    bench.volts("in", 15).resistor("out", "adjust", 240).resistor("adjust", "0", r2).resistor("out", "0", 100).settle();
    EXPECT_NEAR(bench.voltage("out"), volts, 2e-3 * volts);
    const double reference = bench.voltage("out", "adjust");
    EXPECT_GT(reference, 1.20);
    EXPECT_LT(reference, 1.30);
  }
}

// The formula without its small current: 1.25 V (1 + R2/R1). 240 and 720 ohm: 5.000 V; 1500 ohm: 9.0625 V (computed). Only the ratio
// counts; a tenth of the resistances is taken, as the model's own leak of 1 nS between its legs would show in the sixth digit.
TEST(RegulatorReference, DividerFormulaOfTheReferenceAlone) {
  for (const auto& [r2, volts] : {std::pair{720.0, 5.0}, std::pair{1500.0, 9.0625}}) {
    CircuitBuilder b;
    b.volts("V", "in", "0", 15).resistor("R1", "out", "adj", 24).resistor("R2", "adj", "0", r2 / 10);
    b.add("U", ElementKind::kRegulator, {"in", "out", "adj"}, {1.25, 0, 1e-6});
    EXPECT_NEAR(b.voltage(solve_operating_point(b.circuit()), "out"), volts, 1e-6 * volts);
  }
}

// LM393: sinks 4 mA at no more than 0.4 V; 16 mA typically, at least 6 mA at 1.5 V; 1.3 us (TI, from memory).
TEST(ComparatorReference, LM393Output) {
  PartBench bench("lm393");
  bench.volts("vcc", 5).ground("gnd").volts("1in-", 2).volts("1in+", 1).amperes("1out", 4e-3).ground("2in+").volts("2in-", 0.1);
  bench.volts("2out", 1.5).settle();
  EXPECT_LT(bench.voltage("1out"), 0.4);
  EXPECT_GT(bench.voltage("1out"), 0.05);
  EXPECT_GT(bench.current("2out"), 6e-3);
}

// LM393: offset typically 2 mV, at most 5 mV (TI, from memory). The inputs are 1 V; what the other input must rise or fall to until the output
// changes sides is found by halving.
TEST(ComparatorReference, LM393Offset) {
  const char* const pins[2][3] = {{"1in+", "1in-", "1out"}, {"2in+", "2in-", "2out"}};
  double offsets[2];
  for (const auto& [plus, minus, out] : pins) {
    const bool first = plus[0] == '1';
    double low = -0.1, high = 0.1;
    for (int k = 0; k < 20; ++k) {
      const double middle = (low + high) / 2;
      PartBench bench("lm393");
      bench.volts("vcc", 5).ground("gnd").volts(minus, 1).volts(plus, 1 + middle).resistor(out, "vcc", 10e3);
      bench.ground(first ? "2in+" : "1in+").ground(first ? "2in-" : "1in-").settle();
      (bench.voltage(out) < 2.5 ? low : high) = middle;  // sinks: in+ is still below
    }
    double& offset = offsets[first ? 0 : 1];
    offset = -(low + high) / 2;
    EXPECT_NEAR(std::fabs(offset), 2e-3, 0.1e-3);  // typical; the hysteresis, our own, is half of 0.1 mV
    EXPECT_LT(std::fabs(offset), 5e-3);
  }
  EXPECT_LT(offsets[0] * offsets[1], 0);
}

}  // namespace
}  // namespace tiepoint
