// The logic probe: its thresholds, its load, what it remembers.
#include <gtest/gtest.h>

#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

PartBench probe(double supply) {
  PartBench bench("logic-probe");
  bench.ground("-").volts("+", supply);
  return bench;
}

// Philips 74HC00 (30 Jun 2003), VCC = 4.5 V: at least 3.15 V is high, at most 1.35 V low.
TEST(LogicProbe, LevelsAreThoseOfThe74HCSheet) {
  for (const auto& [volts, state] : {std::pair{0.0, State::kLow}, {1.34, State::kLow}, {1.36, State::kFloating}, {2.25, State::kFloating},
                                     {3.14, State::kFloating}, {3.16, State::kHigh}, {4.5, State::kHigh}}) {
    PartBench bench = probe(4.5);
    bench.volts("tip", volts).settle();
    EXPECT_EQ(bench.reading().state, state) << volts;
  }
}

TEST(LogicProbe, AnOpenTipIsNeitherAndRestsAtHalfTheSupply) {
  PartBench bench = probe(5);
  bench.settle();
  EXPECT_EQ(bench.reading().state, State::kFloating);
  EXPECT_NEAR(bench.voltage("tip"), 2.5, 1e-6);
}

// Thevenin's equivalent of the tip is 1 megohm to half the supply: 1 megohm to ground halves that once more.
TEST(LogicProbe, TipLoadsWithAMegohm) {
  PartBench bench = probe(5);
  bench.resistor("tip", "0", 1e6).settle();
  EXPECT_NEAR(bench.voltage("tip"), 1.25, 1e-6);
}

TEST(LogicProbe, WithoutSupplyItIsOff) {
  PartBench bench = probe(0.5);
  bench.volts("tip", 5).settle();
  EXPECT_EQ(bench.reading().state, State::kOff);
}

TEST(LogicProbe, ChangesShowForAQuarterOfASecondAndSteadyPulsesAllTheTime) {
  PartBench bench = probe(5);
  bench.step("tip", 0, 5, 0.1, 1e-3).start().run_to(0.05);
  EXPECT_EQ(bench.reading().state, State::kLow);
  bench.run_to(0.2);
  EXPECT_EQ(bench.reading().state, State::kChanging) << "a pulse of a millisecond is seen";
  bench.run_to(0.34);
  EXPECT_EQ(bench.reading().state, State::kChanging);
  EXPECT_FALSE(bench.simulation().at_rest());
  bench.run_to(0.36);
  EXPECT_EQ(bench.reading().state, State::kLow);
  EXPECT_TRUE(bench.simulation().at_rest());

  PartBench square = probe(5);
  square.add("V", ElementKind::kVoltageSource, {"tip", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1000}).start();
  for (double t = 0.0105; t < 0.02; t += 0.3e-3) EXPECT_EQ(square.run_to(t).reading().state, State::kChanging) << t;
}

}  // namespace
}  // namespace tiepoint
