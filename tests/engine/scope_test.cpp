// The oscilloscope: what its screen shows of known signals, when it triggers, what it does to a circuit.
#include "engine/readings/scope.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <numbers>
#include <sstream>

#include "engine/explain/findings.h"
#include "engine/file/json.h"
#include "engine/file/scope_csv.h"
#include "engine/session/session.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

constexpr double kFrame = 1.0 / 30;  // [s]

double index_of(std::string_view word) {
  for (size_t i = 0; i < kTimeScale.size(); ++i)
    if (kTimeScale[i].word == word) return double(i);
  for (size_t i = 0; i < kVoltScale.size(); ++i)
    if (kVoltScale[i].word == word) return double(i);
  ADD_FAILURE() << word;
  return 0;
}

const Scope& scope_of(const Session& session, std::string_view name = "OS1") { return *session.scope(session.board().find(name)->id); }

void set(Session& session, std::string_view key, double value, std::string_view name = "OS1") {
  const Result<Applied> applied = session.apply({SetValue{std::string(name), std::string(key), value}});
  EXPECT_TRUE(applied.ok()) << key;
}

void run(Session& session, double seconds) {
  for (double left = seconds; left > 1e-12; left -= kFrame) session.advance(std::min(left, kFrame), 100000);
}

// A signal source on rows 1 and 2, the scope's first probe on it.
BoardBuilder source(double amplitude, double offset, double frequency, double waveform = 0) {
  BoardBuilder b;
  b.add("signal-source", "SG1", {"a1", "a2"}).set("amplitude", amplitude).set("offset", offset).set("frequency", frequency).set("waveform", waveform);
  b.board.parts.back().mat = {5, -7};
  b.add("oscilloscope", "OS1", {"a1", "", "a2"});
  b.board.parts.back().mat = {20, -9};
  return b;
}

double value_at(const std::vector<Sample>& samples, double time) {
  for (size_t i = 1; i < samples.size(); ++i) {
    const Sample &a = samples[i - 1], &b = samples[i];
    if (a.time <= time && time <= b.time) return a.value + (b.value - a.value) * (time - a.time) / (b.time - a.time);
  }
  return std::nan("");
}

// mean = offset, RMS = sqrt(offset^2 + amplitude^2 / 2), peak to peak = 2 amplitude: closed forms of a sine. The source has 50 ohm, the
// probe 10 megohm: 5e-6 less.
TEST(Scope, SineHasItsFrequencyAndItsClosedForms) {
  Session session(source(2, 1, 1000).set("time-scale", index_of("500 µs")).board);
  run(session, 0.2);
  const ScopeScreen& screen = scope_of(session).screen();
  EXPECT_EQ(screen.state, ScopeState::kTriggered);
  const Measured& m = screen.channel[0].measured;
  EXPECT_NEAR(m.frequency, 1000, 0.5);
  EXPECT_NEAR(m.period, 1e-3, 5e-7);
  EXPECT_NEAR(m.peak_to_peak, 4, 0.01);
  EXPECT_NEAR(m.mean, 1, 5e-3);
  EXPECT_NEAR(m.rms, std::sqrt(1 + 4 / 2.0), 5e-3);
  EXPECT_NEAR(m.duty, 0.5, 2e-3);
}

TEST(Scope, SineIsMeasuredAtEveryScaleThatShowsPeriods) {
  for (const auto& [frequency, scale] : {std::pair{2.0, "200 ms"}, {50.0, "10 ms"}, {20e3, "20 µs"}, {100e3, "5 µs"}}) {
    Session session(source(1, 0, frequency).set("time-scale", index_of(scale)).board);
    run(session, frequency < 10 ? 6 : 0.3);
    const Measured& m = scope_of(session).screen().channel[0].measured;
    EXPECT_NEAR(m.frequency / frequency, 1, 1e-3) << frequency;
    EXPECT_NEAR(m.peak_to_peak, 2, 0.02) << frequency;
  }
}

// At a scale where hundreds of periods are on the screen the extremes and the mean are still those of the closed form.
// No capacitor is near: nothing but the scope asks for steps.
TEST(Scope, SineMuchFasterThanTheScaleShowsItsWholeBand) {
  for (const double frequency : {100.0, 256.0, 1000.0}) {
    Session session(source(2, 1, frequency).set("time-scale", index_of("100 ms")).board);
    run(session, 2);
    const Measured& m = scope_of(session).screen().channel[0].measured;
    EXPECT_NEAR(m.peak_to_peak, 4, 0.02) << frequency;
    EXPECT_NEAR(m.mean, 1, 0.02) << frequency;
  }
}

// What is read off does not depend on how much of a period goes into one bucket of the memory (a screen of 1 s has 1024): RMS of a sine with
// an offset sqrt(offset^2 + A^2 / 2), of a square wave sqrt(offset^2 + A^2), its duty one half. With a capacitor the circuit is stepped,
// without one it is looked at only. Frequency and duty are those of the source, or none where periods can no longer be told apart: a
// thousand buckets with both extremes each would be a kilohertz whatever goes by.
TEST(Scope, MeanAndRmsAreThoseOfTheClosedFormsHoweverManyPeriodsShareABucket) {
  for (const bool stores : {false, true})
    for (const bool square : {false, true})
      for (const double frequency : {3.0, 61.0, 301.0, 402.0, 700.0, 1000.0, 2000.0, 5000.0}) {
        BoardBuilder b = source(2, 0.5, frequency, square);
        b.set("time-scale", index_of("100 ms"));
        if (stores) b.add("ceramic-capacitor", "C1", {"c1", "c2"}).set("capacitance", 1e-9);
        Session session(b.board);
        run(session, 1.5);
        const Measured& m = scope_of(session).screen().channel[0].measured;
        const std::string at = std::to_string(frequency) + " Hz" + (square ? " square" : " sine") + (stores ? ", stepped" : "");
        EXPECT_NEAR(m.rms / std::sqrt(0.25 + (square ? 4 : 2)), 1, 1e-3) << at;
        EXPECT_NEAR(m.mean, 0.5, 2e-3) << at;
        EXPECT_NEAR(m.peak_to_peak, 4, 4e-3) << at;
        EXPECT_EQ(m.dense, frequency > 410) << at;
        if (m.dense) {
          EXPECT_TRUE(std::isnan(m.frequency) && std::isnan(m.duty)) << at;
        } else {
          EXPECT_NEAR(m.frequency / frequency, 1, 1e-3) << at;
          EXPECT_NEAR(m.duty, 0.5, 1e-3) << at;
        }
      }
}

// What is too dense to be told apart is brought into sight by fitting again and again.
TEST(Scope, FittingFindsTheScaleOfAWaveThatIsFarTooFastForThePresentOne) {
  Session session(source(2, 0, 20e3).set("time-scale", index_of("100 ms")).board);
  run(session, 1.5);
  for (int k = 0; k < 4 && !(scope_of(session).screen().channel[0].measured.periods > 0); ++k) {
    const std::optional<ScopeSettings> found = fitted(scope_of(session));
    ASSERT_TRUE(found);
    for (size_t i = 0; i < kTimeScale.size(); ++i)
      if (kTimeScale[i].value == found->time) set(session, "time-scale", double(i));
    run(session, 0.2);
  }
  EXPECT_NEAR(scope_of(session).screen().channel[0].measured.frequency / 20e3, 1, 1e-3);
}

// Button, 10 kilohm, 1 µF. v = V (1 - exp(-t / RC)) is at 1 - 1/e of V after RC; half after RC ln 2.
TEST(Scope, SingleStepOfAnRcShowsItsTimeConstant) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("push-button", "S1", {"e5"});
  b.add("resistor", "R1", {"d7", "d12"}).set("resistance", 10e3);
  b.add("ceramic-capacitor", "C1", {"c12", "c14"}).set("capacitance", 1e-6);
  b.add("jumper-wire", "W2", {"a14", "top-14"});
  b.add("resistor", "R2", {"b7", "b20"}).set("resistance", 1e3);  // empties it again
  b.add("jumper-wire", "W3", {"a20", "top-18"});
  b.add("oscilloscope", "OS1", {"c7", "d12", "top-20"}).set("time-scale", index_of("5 ms")).set("trigger-mode", 2).set("trigger-level", 2.5);
  Session session(b.board);
  session.set_bounce(false);
  run(session, 0.3);
  EXPECT_EQ(scope_of(session).screen().state, ScopeState::kWaiting);
  ASSERT_TRUE(session.apply({PressPart{"S1", true}}).ok());
  run(session, 0.2);
  const ScopeScreen& screen = scope_of(session).screen();
  ASSERT_EQ(screen.state, ScopeState::kCaught);
  const std::vector<Sample>& charging = screen.channel[1].samples;
  const double start = screen.zero, volts = value_at(screen.channel[0].samples, screen.to - 1e-6);
  EXPECT_NEAR(volts, 5, 0.01);
  const double rc = 10e3 * 1e-6;
  const std::vector<double> at_tau = crossings(charging, Edge::kRising, volts * (1 - std::exp(-1.0)), 0);
  ASSERT_EQ(at_tau.size(), 1u);
  EXPECT_NEAR(at_tau[0] - start, rc, 0.005 * rc);
  const std::vector<double> half = crossings(charging, Edge::kRising, volts / 2, 0);
  ASSERT_EQ(half.size(), 1u);
  EXPECT_NEAR(half[0] - start, rc * std::numbers::ln2, 0.005 * rc);
  // One only: letting go and pressing again changes nothing until it is armed.
  const double caught = screen.zero;
  ASSERT_TRUE(session.apply({PressPart{"S1", false}}).ok());
  run(session, 0.1);
  ASSERT_TRUE(session.apply({PressPart{"S1", true}}).ok());
  run(session, 0.1);
  EXPECT_EQ(scope_of(session).screen().zero, caught);
  session.arm(session.board().find("OS1")->id);
  EXPECT_EQ(scope_of(session).screen().state, ScopeState::kWaiting);
  ASSERT_TRUE(session.apply({PressPart{"S1", false}}).ok());
  run(session, 0.1);
  ASSERT_TRUE(session.apply({PressPart{"S1", true}}).ok());
  run(session, 0.1);
  EXPECT_EQ(scope_of(session).screen().state, ScopeState::kCaught);
  EXPECT_GT(scope_of(session).screen().zero, caught);
}

TEST(Scope, TriggeredPictureStandsStill) {
  for (const auto& [edge, slope] : {std::pair{0.0, 1}, {1.0, -1}}) {
    Session session(source(2, 0, 1030).set("time-scale", index_of("200 µs")).set("trigger-level", 0.8).set("trigger-edge", edge).board);
    run(session, 0.1);
    const ScopeScreen& screen = scope_of(session).screen();
    double before = -1;
    for (int frame = 0; frame < 30; ++frame) {
      run(session, kFrame);
      ASSERT_EQ(screen.state, ScopeState::kTriggered) << frame;
      EXPECT_NE(screen.zero, before) << "a new picture each time";
      before = screen.zero;
      const std::vector<Sample>& samples = screen.channel[0].samples;
      EXPECT_NEAR(value_at(samples, screen.zero), 0.8, 0.01);
      const double later = screen.zero + 100e-6;  // half a square
      const double phase = std::asin(0.8 / 2);
      const double turn = 2 * std::numbers::pi * 1030 * 100e-6;
      EXPECT_NEAR(value_at(samples, later), 2 * std::sin(slope > 0 ? phase + turn : std::numbers::pi - phase + turn), 0.02) << frame;
    }
  }
}

TEST(Scope, NormalTriggerKeepsTheLastPictureAndAutoGoesOn) {
  Session session(source(1, 0, 500).set("trigger-mode", 1).board);
  run(session, 0.2);
  const ScopeScreen& screen = scope_of(session).screen();
  ASSERT_EQ(screen.state, ScopeState::kTriggered);
  set(session, "trigger-level", 3);  // above all that comes
  run(session, 0.3);
  EXPECT_EQ(screen.state, ScopeState::kWaiting);
  const double kept = screen.zero;
  run(session, 0.2);
  EXPECT_EQ(screen.zero, kept);
  EXPECT_FALSE(screen.channel[0].samples.empty());
  set(session, "trigger-mode", 0);
  run(session, 0.1);
  EXPECT_EQ(screen.state, ScopeState::kFree);
  EXPECT_GT(screen.zero, kept);
}

TEST(Scope, HeldItKeepsItsPictureAndRunningItGoesOn) {
  Session session(source(1, 0, 500).board);
  run(session, 0.2);
  const ScopeScreen& screen = scope_of(session).screen();
  set(session, "running", 0);
  const double zero = screen.zero;
  const std::vector<Sample> kept = screen.channel[0].samples;
  run(session, 0.2);
  EXPECT_EQ(screen.state, ScopeState::kHeld);
  EXPECT_EQ(screen.zero, zero);
  ASSERT_EQ(screen.channel[0].samples.size(), kept.size());
  EXPECT_EQ(screen.channel[0].samples.back().value, kept.back().value);
  // Held, the scale may still be changed: the picture is drawn out around its trigger.
  set(session, "time-scale", index_of("200 µs"));
  EXPECT_EQ(screen.zero, zero);
  EXPECT_NEAR(screen.to - screen.from, 2e-3, 1e-12);
  EXPECT_NEAR(value_at(screen.channel[0].samples, zero + 250e-6), std::sin(2 * std::numbers::pi * 500 * 250e-6), 0.02);
  set(session, "running", 1);
  run(session, 0.1);
  EXPECT_GT(screen.zero, zero);
}

// While a picture is held or caught nothing is recorded: what is recorded afterwards does not follow on, and a picture is only taken where
// all of it is known. A square wave of 200 Hz, looked at in every phase.
TEST(Scope, APictureTakenAfterAPauseHoldsOneWave) {
  for (const bool single : {true, false}) {
    Session session(source(2.5, 2.5, 200, 1).set("trigger-level", 2.5).set("trigger-mode", single ? 2 : 0).board);
    const ScopeScreen& screen = scope_of(session).screen();
    run(session, 0.1);
    for (int k = 0; k < 40; ++k) {
      if (!single) set(session, "running", 0);
      run(session, 0.0371 + 0.00031 * k);
      if (single) session.arm(session.board().find("OS1")->id);
      else set(session, "running", 1);
      run(session, 0.1);
      ASSERT_EQ(screen.state, single ? ScopeState::kCaught : ScopeState::kTriggered) << k;
      for (const double t : {-4.8, -2.7, 0.2, 2.3}) EXPECT_NEAR(value_at(screen.channel[0].samples, screen.zero + 1e-3 * t), 5, 0.03) << single << k << " at " << t;
      for (const double t : {-2.3, -0.2, 2.7, 4.8}) EXPECT_NEAR(value_at(screen.channel[0].samples, screen.zero + 1e-3 * t), 0, 0.03) << single << k << " at " << t;
    }
  }
}

TEST(Scope, StripChartShowsTheNewestStretch) {
  Session session(source(1, 0, 0.5).set("time-scale", index_of("500 ms")).set("display", 1).board);
  run(session, 7);
  const ScopeScreen& screen = scope_of(session).screen();
  EXPECT_EQ(screen.state, ScopeState::kChart);
  EXPECT_NEAR(screen.to, session.time(), 1e-9);
  EXPECT_NEAR(screen.to - screen.from, 5, 1e-9);
  for (double t = 2.5; t < 7; t += 0.25) EXPECT_NEAR(value_at(screen.channel[0].samples, t), std::sin(std::numbers::pi * t), 0.01) << t;
}

// ---- Peaks

TEST(Scope, OneSpikeOfASingleSampleIsOnTheScreen) {
  ScopeSettings settings;
  settings.channels = 1, settings.channel[0] = {true, 1, 0};
  settings.time = 0.1;
  Scope scope(settings);
  for (int i = 0; i < 1000000; ++i) scope.add(0, i * 1e-6, i == 543210 ? 3.7 : i == 700001 ? -1.25 : 0.5);
  scope.look(1);
  const ScopeScreen& screen = scope.screen();
  EXPECT_LE(screen.channel[0].samples.size(), 4u * 1026) << "memory is bounded";
  std::vector<Column> columns(300);
  into_columns(screen.channel[0].samples, screen.from, screen.to, columns);
  double low = 9, high = -9;
  for (const Column& c : columns) low = std::min(low, c.low), high = std::max(high, c.high);
  EXPECT_EQ(high, 3.7);
  EXPECT_EQ(low, -1.25);
  EXPECT_EQ(screen.channel[0].measured.high, 3.7);
}

// Spikes of a tenth of a millisecond, twenty a second, on a strip chart of two seconds.
TEST(Scope, PulsesShorterThanAFrameAreOnTheScreen) {
  BoardBuilder b;
  b.add("signal-source", "SG1", {"a1", "a8"}).set("amplitude", 5).set("frequency", 10).set("waveform", 1);
  b.add("ceramic-capacitor", "C1", {"b1", "b3"}).set("capacitance", 1e-7);
  b.add("resistor", "R1", {"c3", "c8"}).set("resistance", 150);
  b.add("oscilloscope", "OS1", {"a3", "", "b8"}).set("time-scale", index_of("200 ms")).set("display", 1);
  Session session(b.board);
  run(session, 3);
  // Each edge of 10 V gives a spike of 10 V * 150 / 200 that is gone after 5 * 200 ohm * 0.1 µF = 0.1 ms.
  std::vector<Column> columns(400);
  const ScopeScreen& screen = scope_of(session).screen();
  into_columns(screen.channel[0].samples, screen.from, screen.to, columns);
  int up = 0, down = 0;
  for (const Column& c : columns) up += c.high > 6.5, down += c.low < -6.5;
  ASSERT_FALSE(session.readings().error);
  EXPECT_GE(up, 19);
  EXPECT_GE(down, 19);
  EXPECT_NEAR(screen.channel[0].measured.high, 7.5, 0.5);
}

// ---- What it does to the circuit

// 5 V over two resistors of 10 megohm: 10 megohm of the probe beside the lower one leave a third, where half stood before. What the
// supply's own resistance and its other load take is far less than the tolerance.
TEST(Scope, ProbeLoadsAHighResistanceDivider) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+3", "a3"});
  b.add("resistor", "R1", {"b3", "b8"}).set("resistance", 10e6);
  b.add("resistor", "R2", {"c8", "c13"}).set("resistance", 10e6);
  b.add("jumper-wire", "W2", {"a13", "top-13"});
  BoardBuilder without = b;
  b.add("oscilloscope", "OS1", {"d8", "", "top-9"});
  Session loaded(b.board), free(without.board);
  loaded.settle(), free.settle();
  EXPECT_NEAR(voltage_at(free.board(), free.wiring(), free.readings(), b.at("c8")), 2.5, 2e-3);
  EXPECT_NEAR(voltage_at(loaded.board(), loaded.wiring(), loaded.readings(), b.at("c8")), 5.0 / 3, 2e-3);
  EXPECT_EQ(loaded.readings().parts[size_t(b.part("OS1"))].state, State::kMeasuring);
}

// A square wave behind 1 megohm: the tip's 15 pF rounds it with (1M || 10M) * 15 pF = 13.6 µs, and 10 / 11 of it is left.
TEST(Scope, TipRoundsAnEdgeBehindAMegohm) {
  BoardBuilder b;
  b.add("signal-source", "SG1", {"a1", "a2"}).set("amplitude", 1).set("frequency", 1000).set("waveform", 1);
  b.add("resistor", "R1", {"b1", "b6"}).set("resistance", 1e6);
  b.add("oscilloscope", "OS1", {"a6", "a1", "b2"}).set("time-scale", index_of("20 µs")).set("trigger-source", 1);
  Session session(b.board);
  run(session, 0.1);
  const ScopeScreen& screen = scope_of(session).screen();
  ASSERT_EQ(screen.state, ScopeState::kTriggered);
  const double tau = 1e6 * 10e6 / 11e6 * 15e-12, full = 10.0 / 11;
  for (const double t : {0.5 * tau, tau, 2 * tau})
    EXPECT_NEAR(value_at(screen.channel[0].samples, screen.zero + t), full * (1 - 2 * std::exp(-t / tau)), 0.02) << t;
}

TEST(Scope, WithoutItsGroundClipThereIsNoReading) {
  BoardBuilder b = one_button();
  b.add("oscilloscope", "OS1", {"d7", "", ""});
  Session session(b.board);
  session.settle();
  EXPECT_EQ(session.readings().parts.back().state, State::kUnknown);
}

TEST(Scope, IsNoFaultOfTheBoard) {
  BoardBuilder b = one_button();
  b.add("oscilloscope-4", "OS1", {"c7", "d12", "", "", "top-20"});
  Session session(b.board);
  session.settle();
  for (const Finding& f : findings({session.board(), session.wiring(), session.circuit(), session.readings()}))
    for (const Place& place : f.places) EXPECT_NE(place.part, session.board().find("OS1")->id);
}

// ---- Rest

TEST(Scope, BoardAtRestSleepsOnceThePictureIsComplete) {
  BoardBuilder b = one_button();
  b.add("oscilloscope", "OS1", {"c7", "", "top-20"}).set("time-scale", index_of("20 ms")).set("trigger-level", 1);
  Session session(b.board);
  session.set_bounce(false);
  run(session, 1);
  EXPECT_TRUE(session.at_rest());
  ASSERT_TRUE(session.apply({PressPart{"S1", true}}).ok());
  run(session, 2 * kFrame);
  EXPECT_FALSE(session.at_rest()) << "the edge has yet to come to the middle";
  run(session, 0.4);
  EXPECT_TRUE(session.at_rest());
  const ScopeScreen& screen = scope_of(session).screen();
  EXPECT_EQ(screen.state, ScopeState::kTriggered);
  EXPECT_LT(value_at(screen.channel[0].samples, screen.zero - 1e-4), 0.1);
  EXPECT_GT(value_at(screen.channel[0].samples, screen.zero + 1e-4), 4.5);
  const uint64_t revision = scope_of(session).revision();
  run(session, 5);
  EXPECT_EQ(scope_of(session).revision(), revision) << "nothing is drawn anew";
}

TEST(Scope, SteadyStateAllocatesNothingForThePicture) {
  Session session(source(1, 0, 1000).board);
  run(session, 1);
  const ScopeScreen& screen = scope_of(session).screen();
  const Sample* where = screen.channel[0].samples.data();
  const size_t room = screen.channel[0].samples.capacity();
  run(session, 1);
  EXPECT_EQ(screen.channel[0].samples.data(), where);
  EXPECT_EQ(screen.channel[0].samples.capacity(), room);
}

// ---- Settings

TEST(Scope, FittedShowsAFewPeriodsWithTheTriggerHalfWayUp) {
  Session session(source(2, 1.5, 440).set("time-scale", index_of("50 ms")).set("volts-1", index_of("20 V")).board);
  run(session, 1);
  const std::optional<ScopeSettings> fit = fitted(scope_of(session));
  ASSERT_TRUE(fit.has_value());
  EXPECT_GE(fit->span() * 440, 2);
  EXPECT_LE(fit->span() * 440, 6.3);
  EXPECT_NEAR(fit->level, 1.5, 0.1);
  EXPECT_LE(fit->height(0, 3.5), kSquaresUp / 2);
  EXPECT_GE(fit->height(0, -0.5), -kSquaresUp / 2);
  EXPECT_GE(4 / fit->channel[0].volts, 2) << "large enough to see";
}

TEST(Scope, SavedAndOpenedAgain) {
  BoardBuilder b = source(1, 0, 1000);
  b.set("time-scale", index_of("200 µs")).set("trigger-level", -1.5).set("position-2", 2.25).set("cursors", 3);
  const Result<Board> again = read_board(write_board(b.board), catalogue());
  ASSERT_TRUE(again.ok()) << text(again.error());
  EXPECT_EQ(*again, b.board);
  EXPECT_NE(write_board(b.board).find("\"200 µs\""), std::string::npos);
}

TEST(Scope, ScalesAreStepsOfOneTwoFive) {
  const auto check = [](const auto& steps) {
    for (size_t i = 0; i < steps.size(); ++i) {
      const double mantissa = steps[i].value / std::pow(10, std::floor(std::log10(steps[i].value) + 1e-9));
      EXPECT_TRUE(std::fabs(mantissa - 1) < 1e-6 || std::fabs(mantissa - 2) < 1e-6 || std::fabs(mantissa - 5) < 1e-6) << steps[i].word;
      if (i > 0) EXPECT_GT(steps[i].value, steps[i - 1].value);
    }
  };
  check(kTimeScale), check(kVoltScale);
}

// ---- Table

TEST(Scope, TableHoldsTheScreenAsCommaSeparatedValues) {
  Session session(source(2, 0, 1000).set("time-scale", index_of("200 µs")).set("shown-2", 0).board);
  run(session, 0.1);
  const std::string table = scope_csv(scope_of(session));
  ASSERT_TRUE(table.starts_with("time (s),channel 1 (V)\r\n")) << table.substr(0, 60);
  std::istringstream lines(table);
  std::string line;
  std::getline(lines, line);
  int rows = 0;
  double before = -1;
  while (std::getline(lines, line)) {
    ASSERT_EQ(line.back(), '\r');
    double time = 0, volts = 0;
    ASSERT_EQ(std::sscanf(line.c_str(), "%lf,%lf", &time, &volts), 2) << line;
    EXPECT_GT(time, before);
    EXPECT_NEAR(volts, 2 * std::sin(2 * std::numbers::pi * 1000 * time), 0.02) << line;
    before = time;
    ++rows;
  }
  EXPECT_GT(rows, 200);
  EXPECT_NEAR(before, 1e-3, 1e-5) << "to the right edge, five squares behind the trigger";
}

TEST(Scope, TableHasEmptyFieldsWhereAChannelKnowsNothing) {
  ScopeSettings settings;
  settings.channels = 2, settings.channel[0] = {true, 1, 0}, settings.channel[1] = {true, 1, 0};
  settings.time = 0.1;
  Scope scope(settings);
  scope.add(0, 0, 1), scope.add(0, 1, 1.5), scope.add(1, 0.5, -2);
  scope.look(1);
  EXPECT_EQ(scope_csv(scope), "time (s),channel 1 (V),channel 2 (V)\r\n-0.5,1,\r\n0,1.25,-2\r\n0.5,1.5,\r\n");
}

}  // namespace
}  // namespace tiepoint
