// What is read off a recorded trace, against closed forms.
#include "engine/readings/trace.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

std::vector<Sample> sine(double amplitude, double offset, double frequency, double seconds, double step) {
  std::vector<Sample> out;
  for (int i = 0; i * step <= seconds; ++i) out.push_back({i * step, offset + amplitude * std::sin(kTurn * frequency * i * step)});
  return out;
}

TEST(Trace, SineHasItsFrequencyMeanAndRms) {
  const Measured m = measure(sine(3, 1, 50, 0.1, 1e-5));
  EXPECT_NEAR(m.frequency, 50, 1e-3);
  EXPECT_NEAR(m.period, 0.02, 1e-6);
  EXPECT_NEAR(m.peak_to_peak, 6, 1e-4);
  EXPECT_NEAR(m.mean, 1, 1e-4);
  EXPECT_NEAR(m.rms, std::sqrt(1 + 9.0 / 2), 1e-4);  // mean^2 + amplitude^2 / 2
  EXPECT_NEAR(m.duty, 0.5, 1e-4);
}

TEST(Trace, PulseHasItsDuty) {
  std::vector<Sample> pulse;
  for (int i = 0; i < 5000; ++i) pulse.push_back({i * 1e-5, i % 1000 < 300 ? 5.0 : 0.0});
  const Measured m = measure(pulse);
  EXPECT_NEAR(m.frequency, 100, 1e-6);
  EXPECT_NEAR(m.duty, 0.3, 1e-3);
  EXPECT_NEAR(m.mean, 1.5, 0.01);
  EXPECT_NEAR(m.rms, 5 * std::sqrt(0.3), 0.01);
}

// A pulse train told at its corners alone: mean V d, RMS V sqrt(d), whatever share of a period a bucket holds, and after a change of scale.
TEST(Trace, APulsesDutyMeanAndRmsAreRightInBucketsOfMuchOfAPeriod) {
  std::vector<double> scratch;
  for (const double duty : {0.1, 0.3, 0.5, 0.8})
    for (const double share : {0.01, 0.11, 0.27, 0.39, 0.7, 1.3, 7.7}) {  // of a period in a bucket
      constexpr double kEdge = 1e-6;
      Trace trace(1000, share);
      for (int k = 0; k * 1.0 < 900 * share + 3; ++k)
        trace.add(k, 1), trace.add(k + kEdge, 6), trace.add(k + duty, 6), trace.add(k + duty + kEdge, 1);
      for (const double scale : {1.0, 2.5}) {
        if (scale > 1) trace.rebucket(share * scale);
        const Measured m = measure(trace, trace.samples(), scratch);
        const std::string at = "duty " + std::to_string(duty) + ", share " + std::to_string(share) + " scale " + std::to_string(scale);
        EXPECT_NEAR(m.mean, 1 + 5 * duty, 0.02) << at;
        EXPECT_NEAR(m.rms, std::sqrt(1 + 35 * duty), 0.02) << at;
        EXPECT_EQ(m.dense, share * scale > 0.4) << at;
        if (!m.dense) {
          EXPECT_NEAR(m.duty, duty, 5e-3) << at;
        }
      }
    }
}

// Straight from -A to A and back, told at the turns: RMS A / sqrt 3. What the solver knows of a sine between two instants, its means over
// exactly half a period, takes the place of the line.
TEST(Trace, WhatIsToldOfAPieceTakesThePlaceOfTheLine) {
  std::vector<double> scratch;
  Trace lines(100, 0), told(100, 0);
  for (int k = 0; k < 41; ++k) {
    lines.add(k, k % 2 ? 3 : -3);
    if (k == 0) told.add(k, 0);
    else told.add(k, 0, (k % 2 ? 1 : -1) * 2 / std::numbers::pi, 0.5);  // |sin| has the mean 2 / pi, sin^2 one half
  }
  EXPECT_NEAR(measure(lines, lines.samples(), scratch).rms, std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(measure(told, told.samples(), scratch).rms, std::sqrt(0.5), 1e-12);
  EXPECT_NEAR(measure(told, told.samples(), scratch).mean, 0, 1e-12);
  told.rebucket(7);
  EXPECT_NEAR(measure(told, told.samples(), scratch).rms, std::sqrt(0.5), 1e-12);
}

TEST(Trace, NothingIsCountedAcrossAGap) {
  std::vector<double> scratch;
  Trace trace(100, 0.5);
  for (const double t : {0.0, 0.1, 0.2, 1.0}) trace.add(t, 2);
  trace.add(1.1, std::nan(""));
  for (const double t : {9.0, 9.5, 10.0}) trace.add(t, 4);
  const Measured m = measure(trace, trace.samples(), scratch);  // a second of 2 V, a second of 4 V
  EXPECT_NEAR(m.mean, 3, 1e-12);
  EXPECT_NEAR(m.rms, std::sqrt(10.0), 1e-12);
}

TEST(Trace, RippleOnASlowEdgeIsOnePeriodNotMany) {
  std::vector<Sample> noisy = sine(1, 0, 10, 1.0, 1e-4);
  for (size_t i = 0; i < noisy.size(); ++i) noisy[i].value += i % 2 ? 0.05 : -0.05;
  EXPECT_NEAR(measure(noisy).frequency, 10, 0.05);
}

TEST(Trace, WithoutAWholePeriodThereIsNoFrequency) {
  const Measured half = measure(sine(1, 0, 10, 0.05, 1e-4));
  EXPECT_TRUE(std::isnan(half.frequency));
  EXPECT_TRUE(std::isnan(half.duty));
  const Measured flat = measure(std::vector<Sample>{{0, 2}, {1, 2}});
  EXPECT_TRUE(std::isnan(flat.frequency));
  EXPECT_EQ(flat.peak_to_peak, 0);
  EXPECT_NEAR(flat.rms, 2, 1e-12);
  EXPECT_TRUE(std::isnan(measure({}).mean));
}

// v = V (1 - exp(-t / RC)): crosses V / 2 at RC ln 2, and its mean over [0, T] is V (1 - RC / T (1 - exp(-T / RC))).
TEST(Trace, ChargingCapacitorFollowsItsExponential) {
  CircuitBuilder b;
  b.volts("V", "in", "0", 5).resistor("R", "in", "out", 1e3).capacitor("C", "out", "0", 1e-6);
  const NodeIndex out = b.node("out");
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  Trace trace(4000, 0);
  const double rc = 1e-3, last = 5 * rc;
  for (int i = 0; i <= 1000; ++i) {
    const double time = last * i / 1000;
    if (i > 0) simulation.advance(time);
    trace.add(time, simulation.solution().node_voltage[size_t(out)]);
  }
  const std::vector<Sample> samples = trace.samples();
  const std::vector<double> half = crossings(samples, Edge::kRising, 2.5, 0);
  ASSERT_EQ(half.size(), 1u);
  EXPECT_NEAR(half[0], rc * std::log(2.0), 2e-3 * rc);
  EXPECT_NEAR(measure(samples).mean, 5 * (1 - rc / last * (1 - std::exp(-last / rc))), 5e-3);
}

TEST(Trace, NoPeakIsLostInABucket) {
  Trace trace(100, 1e-3);
  for (int i = 0; i < 100000; ++i) trace.add(i * 1e-6, i == 43210 ? 9.0 : i == 77777 ? -4.0 : 1.0);
  const auto columns = trace.columns(0, 0.1, 200);
  double low = 1, high = 1;
  for (const auto& c : columns) low = std::min(low, c.low), high = std::max(high, c.high);
  EXPECT_EQ(high, 9);
  EXPECT_EQ(low, -4);
  EXPECT_EQ(columns[10].low, 1);
  EXPECT_EQ(columns[10].high, 1);
}

TEST(Trace, ColumnsFinerThanSamplesHaveNoHoles) {
  Trace trace(16, 0);
  trace.add(0, 0), trace.add(1, 10);
  const auto columns = trace.columns(0, 1, 10);
  for (size_t c = 0; c < 10; ++c) {
    EXPECT_NEAR(columns[c].low, double(c), 1e-9);
    EXPECT_NEAR(columns[c].high, double(c) + 1, 1e-9);
  }
}

TEST(Trace, TheOldestGoesFirstAndGapsStayGaps) {
  Trace trace(4, 0);
  for (int i = 0; i < 6; ++i) trace.add(i, i);
  EXPECT_EQ(trace.size(), 4u);
  EXPECT_EQ(trace.at(0).first, 2);
  trace.add(5, 99);  // not after the last
  EXPECT_EQ(trace.at(3).last, 5);
  trace.add(6, std::nan("")), trace.add(7, std::nan("")), trace.add(8, 3);
  EXPECT_EQ(trace.size(), 4u);
  const auto columns = trace.columns(5.5, 7.5, 2);
  EXPECT_GT(columns[0].low, columns[0].high) << "nothing is drawn across a gap";
}

TEST(Trigger, NewestWholePicture) {
  const std::vector<Sample> s = sine(1, 0, 10, 1.0, 1e-4);
  const auto rising = trigger_time(s, {.mode = TriggerMode::kNormal}, 0.02, 0.15);
  ASSERT_TRUE(rising);
  EXPECT_NEAR(*rising, 0.8, 1e-4);
  const auto falling = trigger_time(s, {.mode = TriggerMode::kNormal, .edge = Edge::kFalling}, 0.02, 0.10);
  ASSERT_TRUE(falling);
  EXPECT_NEAR(*falling, 0.85, 1e-4);
  const auto level = trigger_time(s, {.mode = TriggerMode::kNormal, .level = 0.5}, 0.02, 0.15);
  ASSERT_TRUE(level);
  EXPECT_NEAR(*level, 0.8 + std::asin(0.5) / kTurn / 10, 1e-4);
}

TEST(Trigger, ModesDifferWhereNothingCrosses) {
  const std::vector<Sample> s = sine(1, 0, 10, 1.0, 1e-4);
  EXPECT_FALSE(trigger_time(s, {.mode = TriggerMode::kNormal, .level = 2}, 0, 0.1));
  const auto automatic = trigger_time(s, {.mode = TriggerMode::kAuto, .level = 2}, 0, 0.1);
  ASSERT_TRUE(automatic);
  EXPECT_NEAR(*automatic, 0.9, 1e-9);
}

TEST(Trigger, SingleTakesTheFirstAfterItWasArmed) {
  const std::vector<Sample> s = sine(1, 0, 10, 1.0, 1e-4);
  const auto single = trigger_time(s, {.mode = TriggerMode::kSingle, .armed_at = 0.33}, 0.01, 0.1);
  ASSERT_TRUE(single);
  EXPECT_NEAR(*single, 0.4, 1e-4);
  EXPECT_FALSE(trigger_time(s, {.mode = TriggerMode::kSingle, .armed_at = 0.95}, 0.01, 0.1));
}

}  // namespace
}  // namespace tiepoint
