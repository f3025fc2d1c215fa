// Sensors against their makers' sheets.
#include <gtest/gtest.h>

#include <cmath>

#include "engine/parts/sensing_resistors.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

// Vishay NTCLE100E3, doc. 29049, 18 Sep 2020, table of the 10 kohm, B25/85 = 3977 K type (read).
TEST(ThermistorReference, FollowsMakersTable) {
  const double table[][2] = {{-40, 332094}, {0, 32554}, {10, 19872}, {25, 10000}, {50, 3605}, {85, 1070}, {100, 677.3}, {125, 338.7}};
  for (const auto& [celsius, ohms] : table) EXPECT_NEAR(thermistor_resistance(celsius) / ohms, 1, 5e-4) << celsius;
}

// The same law evaluated elsewhere with 40 digits (computed with mpmath).
TEST(ThermistorReference, FourConstantLawIsTheSameElsewhere) {
  const double values[][2] = {{-40, 332100.07}, {0, 32554.84}, {10, 19872.56}, {25, 10000.20}, {50, 3605.34}, {85, 1070.33}, {100, 677.313}};
  for (const auto& [celsius, ohms] : values) EXPECT_NEAR(thermistor_resistance(celsius) / ohms, 1, 5e-6) << celsius;  // six digits given
}

// The maker's law the other way round, with constants of its own: 1/T = A + B ln r + C ln^2 r + D ln^3 r, r = R/R25.
TEST(ThermistorReference, MakersInverseLawGivesTheTemperatureBack) {
  for (double celsius = -40; celsius <= 125; celsius += 5) {
    const double l = std::log(thermistor_resistance(celsius) / 10000);
    const double kelvin = 1 / (3.354016e-3 + 2.569850e-4 * l + 2.620131e-6 * l * l + 6.383091e-8 * l * l * l);
    EXPECT_NEAR(kelvin - 273.15, celsius, 0.02) << celsius;
  }
}

// 5 V, 10 kohm, thermistor to 0 (computed from the maker's table, which is of no power; on a tenth of the voltage it warms itself by a
// hundredth of what it would).
TEST(ThermistorReference, DividerTellsTemperature) {
  const double values[][2] = {{0, 3.82502}, {25, 2.5}, {50, 1.32488}, {85, 0.48329}, {100, 0.31717}};
  for (const auto& [celsius, volts] : values) {
    PartBench bench("thermistor", {{"temperature", celsius}});
    bench.volts("top", 0.5).resistor("top", "1", 10e3).ground("2").settle();
    EXPECT_NEAR(10 * bench.voltage("1"), volts, 1e-3 * volts) << celsius;
  }
}

// It warms itself by 1 K for each 7 mW (Vishay 29049, from memory): on a fixed voltage the warmth is where U^2 / R(T) = 7 mW/K (T - air),
// found here by halving on the maker's law. With 15 s it has come to 63 % of the way after 15 s while it warms but little.
TEST(ThermistorReference, WarmsItselfByItsOwnPower) {
  for (const double volts : {1.0, 5.0, 12.0, 20.0}) {
    double low = 25, high = 60;
    for (int k = 0; k < 60; ++k) {
      const double t = (low + high) / 2;
      (volts * volts / thermistor_resistance(t) > 7e-3 * (t - 25) ? low : high) = t;
    }
    PartBench bench("thermistor");
    bench.volts("1", volts).ground("2").settle();
    EXPECT_NEAR(bench.reading().temperature, low, 1e-3 + 1e-4 * (low - 25))
        << volts;  // two spring contacts of 20 milliohm stand before it
  }
  PartBench bench("thermistor");
  bench.volts("1", 1).ground("2").start().run_to(15);
  EXPECT_NEAR((bench.reading().temperature - 25) / (1 / 10e3 / 7e-3), 1 - std::exp(-1), 2e-3);
}

// Beyond the power at which warming lowers the resistance faster than the heat leaves (delta T^2 / B, here about 0.17 W at 24 K; own sum
// from the law) a fixed voltage runs away with it. It stays a number, and is called too hot.
TEST(ThermistorReference, RunsAwayOnTooMuchVoltage) {
  PartBench bench("thermistor");
  bench.volts("1", 40).ground("2").settle();
  ASSERT_TRUE(bench.solution().ok());
  EXPECT_EQ(bench.reading().state, State::kTooHot);
  PartBench later("thermistor");
  later.volts("1", 40).ground("2").start().run_to(300);
  EXPECT_EQ(later.reading().state, State::kTooHot);
}

// Sunrom 3190 sheet, 28 Jul 2008 (read): 400 ohm at 1000 lx, 9 kohm at 10 lx, 1 Mohm dark; the power law through the two gives
// 1897.37 ohm at 100 lx (computed).
TEST(PhotoresistorReference, PowerLawThroughMakersPoints) {
  EXPECT_NEAR(photoresistor_resistance(1000), 400, 1e-9);
  EXPECT_NEAR(photoresistor_resistance(10), 9000, 1e-6);
  EXPECT_NEAR(photoresistor_resistance(100) / 1897.37, 1, 1e-5);
  EXPECT_DOUBLE_EQ(photoresistor_resistance(0), 1e6);
}

// LM35 (National): 10 mV per degree; 250 mV at 25 °C, 1500 mV at 150 °C (read).
TEST(TemperatureSensorReference, TenMillivoltsPerDegree) {
  for (const double celsius : {25.0, 100.0, 150.0}) {
    PartBench bench("lm35", {{"temperature", celsius}});
    bench.volts("vcc", 5).ground("gnd").resistor("output", "0", 100e3).settle();
    EXPECT_NEAR(bench.voltage("output"), 0.010 * celsius, 1e-4) << celsius;
    EXPECT_LT(bench.current("vcc"), 91e-6);  // quiescent current at most 91 uA beside the load (from memory)
  }
}

// Vishay 81521, BPW34 (some from memory): 70 uA short-circuited at 1000 lx; 47 uA give 350 mV open; dark current at most 30 nA at 10 V.
TEST(PhotodiodeReference, ShortCircuitOpenAndDark) {
  PartBench lit("photodiode", {{"light", 1000}});
  lit.ground("anode").ground("cathode").settle();
  EXPECT_NEAR(-lit.current("anode"), 70e-6, 1e-6);
  PartBench open("photodiode", {{"light", 47e-6 / 70e-9}});
  open.ground("cathode").resistor("anode", "0", 1e9).settle();
  EXPECT_NEAR(open.voltage("anode"), 0.350, 0.002);
  PartBench dark("photodiode", {{"light", 0}});
  dark.ground("anode").volts("cathode", 10).settle();
  EXPECT_GT(dark.current("cathode"), 0);
  EXPECT_LT(dark.current("cathode"), 30e-9);
}

// Vishay 84768, TEPT5600 (read): typically 350 uA at 100 lx, in proportion to the light.
TEST(PhototransistorReference, CurrentGoesWithLight) {
  for (const double lux : {1.0, 100.0, 1000.0}) {
    PartBench bench("phototransistor", {{"light", lux}});
    bench.volts("collector", 5).ground("emitter").settle();
    EXPECT_NEAR(bench.current("collector") / (3.5e-6 * lux), 1, 0.03) << lux;
  }
}

// Transfer ratio of a 4N25 at least 20 % at 10 mA and 10 V, typically 50 % (Vishay 83725, from memory); LED at most 1.5 V at 50 mA.
TEST(OptocouplerReference, TransferRatioAndForwardVoltage) {
  PartBench bench("optocoupler");
  bench.amperes("anode", 0.010).ground("cathode").volts("collector", 10).ground("emitter").settle();
  EXPECT_GT(bench.current("collector"), 2e-3);
  EXPECT_NEAR(bench.current("collector"), 5e-3, 0.2e-3);
  EXPECT_NEAR(bench.voltage("anode"), 1.15, 0.02);
  PartBench hard("optocoupler");
  hard.amperes("anode", 0.050).ground("cathode").ground("collector").ground("emitter").settle();
  EXPECT_LT(hard.voltage("anode"), 1.5);
}

}  // namespace
}  // namespace tiepoint
