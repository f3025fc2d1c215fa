// The steady state under a sine, found the long way: a run in time until what the start left has died away, then one period
// taken apart into its sine and cosine. UP2: OpenStax University Physics vol. 2; LEC: T. Kuphaldt, Lessons in Electric Circuits.
#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

using Phasor = std::complex<double>;
constexpr double kTurn = 2 * std::numbers::pi;

struct Accuracy {
  double tolerance, allowed;  // allowed: relative
};
constexpr Accuracy kAccuracies[] = {{1e-3, 5e-3}, {1e-5, 1e-4}};

struct Steady {
  Phasor current, coil, capacitor;  // of the loop, and voltages; the source's sine has the phase 0
};

// Source - R - L - C in one loop. `periods` before the one that is measured.
Steady series_loop(double volts, double frequency, double r, double l, double c, int periods, double tolerance) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), volts, 0, frequency});
  b.resistor("R", "s", "a", r).inductor("L", "a", "c", l).capacitor("C", "c", "0", c);
  SolverOptions options;
  options.relative_tolerance = tolerance;
  Simulation simulation(b.circuit(), options);
  simulation.start_from_initial_conditions();
  constexpr int kSamples = 64;
  Steady sum;
  for (int k = 0; k < kSamples; ++k) {
    simulation.advance((periods + double(k) / kSamples) / frequency);
    const Solution& s = simulation.solution();
    EXPECT_TRUE(s.ok());
    // x = Im(X exp(j w t)), so X = 2j <x exp(-j w t)>.
    const Phasor turn = Phasor(0, 2.0 / kSamples) * std::polar(1.0, -kTurn * k / kSamples);
    sum.current += turn * b.current(s, "R");
    sum.coil += turn * b.voltage(s, "a", "c");
    sum.capacitor += turn * b.voltage(s, "c");
  }
  return sum;
}

TEST(AcReference, SeriesLoopAtTwoHundredHertz) {  // UP2 15.3, m58658, example fs-id1172101794402: Z 4.87 ohm, 20.5 mA, lags by
                                                  // 0.607 rad; exact 0.99471839, 3.7699112, 4.8684387 ohm, 20.540466 mA, 0.60655154
  for (const Accuracy& a : kAccuracies) {
    const Steady s = series_loop(0.1, 200, 4, 3e-3, 0.8e-3, 20, a.tolerance);
    const double current = std::abs(s.current);
    EXPECT_NEAR(current, 20.540466e-3, a.allowed * 20.540466e-3);
    EXPECT_NEAR(current, 20.5e-3, 0.05e-3 + a.allowed * 20e-3);
    EXPECT_NEAR(0.1 / current, 4.8684387, a.allowed * 4.8684387);
    EXPECT_NEAR(-std::arg(s.current), 0.60655154, a.allowed);
    EXPECT_NEAR(std::abs(s.coil) / current, 3.7699112, a.allowed * 3.7699112);
    EXPECT_NEAR(std::abs(s.capacitor) / current, 0.99471839, a.allowed * 0.99471839);
  }
}

TEST(AcReference, ResonanceOfTheSameLoop) {  // UP2 15.5, m58492, example fs-id1172100517213: 103 Hz (exact 102.73407), 25.0 mA
  for (const Accuracy& a : kAccuracies) {
    const Steady s = series_loop(0.1, 102.73407, 4, 3e-3, 0.8e-3, 20, a.tolerance);
    EXPECT_NEAR(std::abs(s.current), 25.0e-3, a.allowed * 25e-3);
    EXPECT_NEAR(std::arg(s.current), 0, a.allowed);
  }
  double best = 0, at = 0;  // and nowhere else is the current larger
  for (const double f : {98.0, 100.0, 102.0, 103.0, 104.0, 106.0, 108.0}) {
    const double current = std::abs(series_loop(0.1, f, 4, 3e-3, 0.8e-3, 20, 1e-5).current);
    if (current > best) best = current, at = f;
  }
  EXPECT_EQ(at, 103);
  EXPECT_LE(best, 25.0e-3 * (1 + 1e-4));
}

TEST(AcReference, SeriesLoopAtSixtyHertz) {  // LEC AC/src/xzrlc.sml, hand tables 12056-12063, fig. 02078: 77.734 mA at +80.680
                                             // degrees; 19.434, 19.048, 137.46 V; more digits computed
  for (const Accuracy& a : kAccuracies) {
    const Steady s = series_loop(120, 60, 250, 650e-3, 1.5e-6, 10, a.tolerance);
    const double current = std::abs(s.current);
    EXPECT_NEAR(current, 77.734213e-3, a.allowed * 77.734213e-3);
    EXPECT_NEAR(std::arg(s.current) * 360 / kTurn, 80.680117, a.allowed * 360 / kTurn);
    EXPECT_NEAR(250 * current, 19.433553, a.allowed * 19.433553);
    EXPECT_NEAR(std::abs(s.coil), 19.048320, a.allowed * 19.048320);
    EXPECT_NEAR(std::abs(s.capacitor), 137.46427, a.allowed * 137.46427);
    EXPECT_NEAR(std::abs(s.coil) / current, 245.04423, a.allowed * 245.04423);
    EXPECT_NEAR(std::abs(s.capacitor) / current, 1768.3883, a.allowed * 1768.3883);
    EXPECT_NEAR(120 / current, 1543.7218, a.allowed * 1543.7218);
  }
}

TEST(AcReference, CornerOfALowPass) {  // LEC AC/src/filters.sml: 500 ohm, 7 uF: 45.473 Hz (exact 45.472841), gain there 0.7071
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 1, 0, 45.472841});
    b.resistor("R", "s", "c", 500).capacitor("C", "c", "0", 7e-6);
    SolverOptions options;
    options.relative_tolerance = a.tolerance;
    Simulation simulation(b.circuit(), options);
    simulation.start_from_initial_conditions();
    Phasor out;
    for (int k = 0; k < 64; ++k) {
      simulation.advance((10 + k / 64.0) / 45.472841);
      out += Phasor(0, 2.0 / 64) * std::polar(1.0, -kTurn * k / 64) * b.voltage(simulation.solution(), "c");
    }
    EXPECT_NEAR(std::abs(out), std::numbers::sqrt2 / 2, a.allowed);
    EXPECT_NEAR(std::arg(out), -kTurn / 8, a.allowed);
  }
}

TEST(AcReference, TankSwingsAtItsOwnFrequency) {  // LEC AC/src/resonant.sml: 100 mH, 10 uF: 159.155 Hz (exact 159.154943)
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.capacitor("C", "c", "0", 10e-6, 1).inductor("L", "c", "0", 100e-3);
    SolverOptions options;
    options.relative_tolerance = a.tolerance;
    Simulation simulation(b.circuit(), options);
    simulation.start_from_initial_conditions();
    double first = 0, last = 0, t_before = 0, v_before = 1;  // rising zeros, interpolated
    int count = -1;
    for (int k = 1; k <= 1100; ++k) {
      const double t = k * 6e-5;
      simulation.advance(t);
      const double v = b.voltage(simulation.solution(), "c");
      if (v_before < 0 && v >= 0) {
        last = t_before + (t - t_before) * v_before / (v_before - v);
        if (++count == 0) first = last;
      }
      t_before = t, v_before = v;
    }
    ASSERT_GT(count, 5);
    EXPECT_NEAR(count / (last - first), 159.154943, a.allowed * 159.154943);
  }
}

}  // namespace
}  // namespace tiepoint
