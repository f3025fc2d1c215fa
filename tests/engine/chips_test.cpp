// Chips in time: propagation, pulses that are too short, power coming and going, several chips together.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

constexpr double kDelay = 7e-9;  // [s] of a 74HC04

PartBench inverter(double rises_at, double width = 0) {
  PartBench bench("74hc04");
  bench.volts("vcc", 5).ground("gnd").step("1a", 0, 5, rises_at, width);
  for (const char* in : {"2a", "3a", "4a", "5a", "6a"}) bench.ground(in);
  return bench;
}

TEST(Gate, OutputFollowsAfterPropagationDelay) {
  PartBench bench = inverter(1e-6);
  bench.start().run_to(1e-6 + 0.9 * kDelay);
  EXPECT_NEAR(bench.voltage("1y"), 5, 0.01);
  bench.run_to(1e-6 + 1.1 * kDelay);
  EXPECT_NEAR(bench.voltage("1y"), 0, 0.01);
}

TEST(Gate, PulseShorterThanTheDelayIsSwallowed) {
  PartBench bench = inverter(1e-6, 0.5 * kDelay);
  bench.start();
  for (int k = 0; k < 30; ++k) {
    bench.run_to(1e-6 + 0.1 * kDelay * k + 1e-12);
    EXPECT_NEAR(bench.voltage("1y"), 5, 0.01) << k;
  }
}

// 3.5 to 1.5 V at 100 MHz: each half period is shorter than the delay. The change that each edge announces is put off by the next one, and
// time must not go on to what comes after it.
TEST(Gate, ATimePutOffIsNotJumpedTo) {
  PartBench bench("74hc04");
  bench.volts("vcc", 5).ground("gnd");
  for (const char* in : {"2a", "3a", "4a", "5a", "6a"}) bench.ground(in);
  bench.add("V", ElementKind::kVoltageSource, {"1a", "0"}, {double(Waveform::kSine), 1, 2.5, 1e8});
  bench.resistor("vcc", "c", 1e3).capacitor("c", "0", 100e-12).start();
  for (int k = 1; k <= 10; ++k) {
    bench.run_to(k * 1e-8);
    EXPECT_NEAR(bench.voltage("c"), 5 * (1 - std::exp(-k * 0.1)), 0.01) << k;
    EXPECT_NEAR(bench.voltage("1y"), 5, 0.01) << k;
  }
}

TEST(Gate, LongerPulsePasses) {
  PartBench bench = inverter(1e-6, 3 * kDelay);
  bench.start().run_to(1e-6 + 2 * kDelay);
  EXPECT_NEAR(bench.voltage("1y"), 0, 0.01);
  bench.run_to(1e-6 + 5 * kDelay);
  EXPECT_NEAR(bench.voltage("1y"), 5, 0.01);
}

TEST(Gate, RingOfThreeSwingsWithSixDelays) {
  PartBench bench("74hc00");
  bench.volts("vcc", 5).ground("gnd").step("1a", 0, 5, 50e-9).resistor("3y", "1b", 1);
  bench.resistor("1y", "2a", 1).resistor("2a", "2b", 1).resistor("2y", "3a", 1).resistor("3a", "3b", 1);
  bench.ground("4a").ground("4b").start();
  int edges = 0;
  bool was = true;
  for (int k = 100; k <= 1100; ++k) {
    bench.run_to(k * 0.5e-9);
    const bool now = bench.voltage("1y") > 2.5;
    edges += now != was;
    was = now;
  }
  EXPECT_NEAR(500e-9 / edges, 3 * kDelay, 0.1 * 3 * kDelay);
}

TEST(Gate, WithoutSupplyOutputsAreOpenAndInputsFeedTheRail) {
  PartBench bench("74hc04");
  bench.ground("gnd").resistor("vcc", "0", 1e4).volts("1a", 5);
  for (const char* in : {"2a", "3a", "4a", "5a", "6a"}) bench.ground(in);
  bench.settle();
  // Through the protection junction the rail comes up to about half a volt below the input, and the chip works after a fashion.
  EXPECT_GT(bench.voltage("vcc"), 3.5);
  EXPECT_LT(bench.voltage("vcc"), 4.6);
  PartBench dead("74hc04");
  dead.ground("gnd").ground("vcc").resistor("2y", "up", 1e5).volts("up", 0.3);
  for (const char* in : {"1a", "2a", "3a", "4a", "5a", "6a"}) dead.ground(in);
  dead.settle();
  EXPECT_NEAR(dead.voltage("2y"), 0.3, 1e-3);
}

TEST(Gate, TurnedRoundInTheBoardItIsToldAsReversed) {
  PartBench bench("74hc00");
  bench.volts("gnd", 5).resistor("vcc", "0", 10).settle();
  EXPECT_EQ(bench.reading().state, State::kReversed);
  EXPECT_GT(bench.current("gnd"), 0.2);
}

TEST(SchmittInverter, OscillatesWithResistorAndCapacitor) {
  PartBench bench("74hc14");
  bench.volts("vcc", 5).ground("gnd").resistor("1y", "1a", 10e3).capacitor("1a", "0", 100e-9);
  for (const char* in : {"2a", "3a", "4a", "5a", "6a"}) bench.ground(in);
  bench.start();
  // Between 0.34 and 0.525 of the supply: T = RC ln((1 - 0.34) / (1 - 0.525) * 0.525 / 0.34), plus 30 ohm of output and two delays.
  const double period = 1e-3 * std::log(0.66 / 0.475 * 0.525 / 0.34);
  int edges = 0;
  bool was = true;
  double first = 0, last = 0;
  for (int k = 1; k <= 2000; ++k) {
    bench.run_to(k * 5e-6);
    const bool now = bench.voltage("1y") > 2.5;
    if (now != was) {
      if (edges++ == 0) first = k * 5e-6;
      last = k * 5e-6;
    }
    was = now;
  }
  ASSERT_GT(edges, 10);
  EXPECT_NEAR(2 * (last - first) / (edges - 1), period, 0.02 * period);
}

TEST(Counter, FlipFlopsHalveTheClock) {
  PartBench bench("74hc74");
  bench.volts("vcc", 5).ground("gnd");
  bench.add("CK", ElementKind::kVoltageSource, {"1clock", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1e3});
  for (const char* high : {"1clear-", "1preset-", "2clear-", "2preset-"}) bench.volts(high, 5);
  bench.resistor("1q-", "1data", 100).resistor("1q", "2clock", 100).resistor("2q-", "2data", 100).start();
  int first = 0, second = 0;
  bool was1 = false, was2 = false;
  for (int k = 0; k < 320; ++k) {
    bench.run_to(k * 50e-6 + 25e-6);
    const bool now1 = bench.voltage("1q") > 2.5, now2 = bench.voltage("2q") > 2.5;
    first += now1 && !was1, second += now2 && !was2;
    was1 = now1, was2 = now2;
  }
  EXPECT_EQ(first, 8);  // 16 clocks
  EXPECT_EQ(second, 4);
}

TEST(Counter, DecadeCounterWalksItsLight) {
  PartBench bench("cd4017");
  bench.volts("vcc", 5).ground("gnd").ground("reset").ground("inhibit");
  bench.add("CK", ElementKind::kVoltageSource, {"clock", "0"}, {double(Waveform::kPulse), 5, 0, 1e3, 0, 0.5e-3, 0, 0, 0.5e-3}).start();
  for (int k = 0; k < 13; ++k) {
    bench.run_to(k * 1e-3 + 0.25e-3);
    for (int out = 0; out < 10; ++out)
      EXPECT_EQ(bench.voltage("q" + std::to_string(out)) > 2.5, out == k % 10) << k << " " << out;
  }
}

TEST(ShiftRegister, OutputsOpenWhenNotEnabled) {
  PartBench bench("74hc595");
  bench.volts("vcc", 5).ground("gnd").volts("enable-", 5).volts("clear-", 5);
  for (const char* in : {"serial", "shift", "latch"}) bench.ground(in);
  bench.volts("up", 2).resistor("up", "qa", 1e4).settle();
  EXPECT_NEAR(bench.voltage("qa"), 2, 1e-3);
}

TEST(Power, RegistersForgetWhenTheSupplyGoes) {
  PartBench bench("74hc74");
  bench.add("V", ElementKind::kVoltageSource, {"vcc", "0"}, {double(Waveform::kPulse), -5, 5, 0, 0, 1e-3, 0, 0, 1e-3}).ground("gnd");
  bench.resistor("vcc", "1clear-", 1e3).resistor("vcc", "1data", 1e3).resistor("vcc", "2clear-", 1e3).resistor("vcc", "2preset-", 1e3);
  bench.resistor("vcc", "1preset-", 1e3).step("1clock", 0, 5, 0.2e-3, 0.2e-3).ground("2clock").ground("2data").start();
  bench.run_to(0.9e-3);
  EXPECT_GT(bench.voltage("1q"), 4.5);
  bench.run_to(3e-3);
  EXPECT_LT(bench.voltage("1q"), 0.5);
}

TEST(Comparator, SwitchesAfterItsDelayAndNeedsAPullUp) {
  PartBench bench("lm393");
  bench.volts("vcc", 5).ground("gnd").volts("1in-", 2).step("1in+", 1, 3, 10e-6).resistor("1out", "vcc", 10e3).ground("2in+").ground("2in-").start();
  bench.run_to(5e-6);
  EXPECT_LT(bench.voltage("1out"), 0.1);
  bench.run_to(11.2e-6);
  EXPECT_LT(bench.voltage("1out"), 0.1);
  bench.run_to(11.4e-6);
  EXPECT_NEAR(bench.voltage("1out"), 5, 0.01);
}

TEST(OpAmp, ManyWiringsSettle) {
  // Followers, amplifiers, feedback to the wrong input, no feedback, inputs beyond the rails: all have a settled state.
  for (const double supply : {3.0, 5.0, 9.0, 30.0})
    for (const double in : {-0.3, 0.0, 0.01, 1.0, 2.5, 5.0, 12.0})
      for (int wiring = 0; wiring < 5; ++wiring) {
        PartBench bench("lm358");
        bench.volts("vcc", supply).ground("gnd").ground("2in+").resistor("2in-", "2out", 1e3).resistor("1out", "0", 10e3).resistor("src", "0", 1e6);
        bench.volts("src", in);
        const char *plus = "1in+", *minus = "1in-";
        if (wiring == 0) bench.resistor("src", plus, 1e3).resistor("1out", minus, 1e3);
        if (wiring == 1) bench.resistor("src", plus, 1e3).resistor("1out", minus, 10e3).resistor(minus, "0", 1e3);
        if (wiring == 2) bench.resistor("src", minus, 1e3).resistor("1out", plus, 10e3).resistor(plus, "0", 1e3);
        if (wiring == 3) bench.resistor("src", plus, 1e3).resistor(minus, "0", 1e3);
        if (wiring == 4) bench.resistor("src", minus, 1e3).resistor("1out", minus, 10e3).resistor(plus, "0", 1e3);
        bench.settle();
        const double out = bench.voltage("1out");
        EXPECT_GT(out, -0.5) << supply << " " << in << " " << wiring;
        EXPECT_LT(out, supply) << supply << " " << in << " " << wiring;
        if (wiring == 0 && in >= 0.05 && in < supply - 1.5) {
          EXPECT_NEAR(out, in, 7e-3);  // the largest offset of the sheet, TI SLOS068E
        }
      }
}

// The bias current of a pnp input comes from vcc: it lifts an open input to there and no farther, and nothing flows into one above vcc but the
// leak to gnd (common practice, no source).
TEST(BiasCurrent, LiftsAnOpenInputNoHigherThanTheSupply) {
  for (const char* chip : {"lm358", "lm393"}) {
    PartBench bench(chip);
    bench.volts("vcc", 5).ground("gnd").ground("1in-").volts("2in+", 12).ground("2in-").settle();
    EXPECT_GT(bench.voltage("1in+"), 4) << chip;
    EXPECT_LE(bench.voltage("1in+"), 5) << chip;
    EXPECT_NEAR(bench.current("2in+"), 0, 1e-9) << chip;
    EXPECT_NEAR(bench.current("2in-"), chip == std::string("lm358") ? -20e-9 : -25e-9, 1e-9) << chip;
  }
}

// A chip fed so weakly that driving pulls its own supply down stays awake where its outputs fade: it does not fall asleep, let its supply
// rise, wake and drive again, all at one instant and without end.
TEST(LogicSupply, AChipThatPullsItsOwnSupplyDownComesToRest) {
  PartBench bench("74hc08");
  bench.volts("feed", 3).resistor("feed", "vcc", 10e3).ground("gnd");
  bench.resistor("1a", "vcc", 1e3).resistor("1b", "vcc", 1e3).resistor("1y", "0", 100);
  for (const char* input : {"2b", "3a", "3b", "4a", "4b"}) bench.ground(input);
  // Something else goes on meanwhile, so that the steps are taken.
  bench.add("sine", ElementKind::kVoltageSource, {"2a", "0"}, {double(Waveform::kSine), 0.1, 0, 1e3});
  bench.start();
  EXPECT_NEAR(bench.simulation().advance(1e-3, {1000}), 1e-3, 1e-12);
  EXPECT_EQ(bench.solution().state[0].mode_since, 0);  // asleep or awake since the start
  EXPECT_GT(bench.voltage("vcc"), 0.5);
  EXPECT_LT(bench.voltage("vcc"), 1.0);
  EXPECT_GT(bench.voltage("1y"), 0.01);  // it still drives what the feed can give: (3 V - vcc) / 10 kohm into 100 ohm
}

// A quad of gates as four elements and a divider by logic: NAND latch set and reset by short pulses.
TEST(Latch, TwoNandsRemember) {  // until the first edge two gates exactly alike only race each other, so that is not long
  PartBench bench("74hc00");
  bench.volts("vcc", 5).ground("gnd").resistor("1y", "2a", 1).resistor("2y", "1b", 1).step("1a", 5, 0, 1e-5, 1e-6).step("2b", 5, 0, 2e-5, 1e-6);
  for (const char* in : {"3a", "3b", "4a", "4b"}) bench.ground(in);
  bench.start().run_to(1.5e-5);
  EXPECT_NEAR(bench.voltage("1y"), 5, 0.01);
  EXPECT_NEAR(bench.voltage("2y"), 0, 0.01);
  bench.run_to(2.5e-5);
  EXPECT_NEAR(bench.voltage("1y"), 0, 0.01);
  EXPECT_NEAR(bench.voltage("2y"), 5, 0.01);
}

}  // namespace
}  // namespace tiepoint
