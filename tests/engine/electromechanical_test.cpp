// Parts with a life in time: relay, fuses, lamp, servo, sounders, motors.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"
#include "tests/engine/part_bench.h"

namespace tiepoint {
namespace {

// ---- Relay

PartBench relay(double coil_volts, double at = 1e-3, double width = 0) {
  PartBench bench("relay");
  bench.step("coil+", 0, coil_volts, at, width).ground("coil-");
  bench.volts("common", 5).resistor("no", "0", 1e3).resistor("nc", "0", 1e3).resistor("common-2", "common", 1e-3);
  return bench;
}

TEST(Relay, ReleasedJoinsCommonToNormallyClosed) {
  PartBench bench = relay(0);
  bench.settle();
  EXPECT_NEAR(bench.voltage("nc"), 5, 0.01);
  EXPECT_NEAR(bench.voltage("no"), 0, 0.01);
  EXPECT_EQ(bench.reading().state, State::kReleased);
}

TEST(Relay, PullsInAfterCurrentRoseAndOperateTime) {
  PartBench bench = relay(5);
  // i = 30 mA (1 - exp(-t R / L)) reaches 70 % after 1.204 L / R = 1.08 ms; the armature needs 5 ms.
  const double pulled = 1e-3 - std::log(0.3) * 0.15 / 167 + 5e-3;
  bench.start().run_to(pulled - 0.1e-3);
  EXPECT_NEAR(bench.voltage("no"), 0, 0.01);
  EXPECT_NEAR(bench.voltage("nc"), 0, 0.01);  // on its way neither contact is closed
  bench.run_to(pulled + 1.1e-3);              // it has bounced for 1 ms at most
  EXPECT_NEAR(bench.voltage("no"), 5, 0.01);
  EXPECT_NEAR(bench.voltage("nc"), 0, 0.01);
  EXPECT_EQ(bench.reading().state, State::kPulled);
}

TEST(Relay, TooLittleVoltageDoesNotPullIn) {
  PartBench bench = relay(3.4);
  bench.start().run_to(0.1);
  EXPECT_NEAR(bench.voltage("nc"), 5, 0.01);
}

TEST(Relay, ShortPulseTurnsArmatureBackOnItsWay) {
  // Long enough to start it moving, not to arrive: it falls back without ever touching the other contact.
  PartBench bench = relay(5, 1e-3, 3e-3);
  bench.start();
  for (int k = 1; k < 40; ++k) {
    bench.run_to(0.5e-3 * k);
    EXPECT_NEAR(bench.voltage("no"), 0, 0.01) << k;
  }
  EXPECT_NEAR(bench.voltage("nc"), 5, 0.01);
}

TEST(Relay, HoldsBetweenPullInAndReleaseCurrent) {
  PartBench bench("relay");
  bench.add("V", ElementKind::kVoltageSource, {"coil+", "0"}, {double(Waveform::kPulse), 3, 2, 0, 0, 1e-3, 0, 0, 20e-3}).ground("coil-");
  bench.volts("common", 5).resistor("no", "0", 1e3);
  bench.start().run_to(15e-3);
  EXPECT_NEAR(bench.voltage("no"), 5, 0.01);  // 5 V: in
  bench.run_to(60e-3);
  EXPECT_NEAR(bench.voltage("no"), 5, 0.01);  // back at 2 V: holds
}

TEST(Relay, SettledStateDoesNotWaitForTheArmature) {
  PartBench bench("relay");
  bench.volts("coil+", 5).ground("coil-").volts("common", 5).resistor("no", "0", 1e3);
  bench.settle();
  EXPECT_NEAR(bench.voltage("no"), 5, 0.01);
}

// Openings of a contact between two instants, seen every 2 us.
int openings(PartBench& bench, const std::string& contact, double from, double to) {
  int count = 0;
  bool was = false;
  for (double t = from; t < to; t += 2e-6) {
    bench.run_to(t);
    const bool closed = bench.voltage(contact) > 2.5;
    count += was && !closed;
    was = closed;
  }
  return count;
}

TEST(Relay, BouncesWhereItArrivesAndComesToRest) {
  PartBench bench = relay(5, 1e-3, 20e-3);
  bench.start();
  const double pulled = 1e-3 - std::log(0.3) * 0.15 / 167 + 5e-3;
  const int in = openings(bench, "no", pulled - 0.1e-3, pulled + 1.1e-3);
  EXPECT_LE(in, 4);
  bench.run_to(20e-3);
  EXPECT_NEAR(bench.voltage("no"), 5, 0.01);
  const int back = openings(bench, "nc", 21e-3, 32e-3);
  EXPECT_LE(back, 6);
  EXPECT_NEAR(bench.voltage("nc"), 5, 0.01);
  EXPECT_NEAR(bench.voltage("no"), 0, 0.01);
  EXPECT_EQ(bench.reading().state, State::kReleased);
  EXPECT_GT(in + back, 0);  // this name's bursts are not both empty
}

// One relay switches the next: the settled state of a row of them is found without waiting for any, bounce or not.
TEST(Relay, ARowOfThemSettles) {
  CircuitBuilder b;
  b.volts("V", "in", "0", 5);
  std::string drive = "in";
  for (int k = 0; k < 6; ++k) {
    const std::string n = std::to_string(k), out = "out" + n;
    b.add("K" + n, ElementKind::kRelay, {drive, "0", "in", out, "nc" + n},
          {167, 0.15, 0.021, 0.0075, 5e-3, 2.5e-3, 0.1, 1e10, 1e-3, 4, 3e-3, 6, double(k * 77)});
    b.resistor("R" + n, out, "0", 1e3).resistor("N" + n, "nc" + n, "0", 1e3);
    drive = out;
  }
  const Circuit circuit = b.circuit();
  Simulation simulation(circuit);
  simulation.settle();
  ASSERT_TRUE(simulation.solution().ok());
  EXPECT_NEAR(b.voltage(simulation.solution(), drive), 5, 0.1);
}

TEST(Relay, ContactsNeedAReferenceOfTheirOwn) {
  EXPECT_EQ(sides(ElementKind::kRelay), "aabbb");
  PartBench bench("relay");
  bench.volts("coil+", 5).ground("coil-");
  const std::vector<int> group = galvanic_groups(bench.circuit());
  EXPECT_EQ(group[size_t(bench.node("coil+"))], group[size_t(bench.node("coil-"))]);
  EXPECT_NE(group[size_t(bench.node("coil+"))], group[size_t(bench.node("no"))]);
  EXPECT_EQ(group[size_t(bench.node("nc"))], group[size_t(bench.node("no"))]);
}

// ---- Fuses

double melting_time(double relative) {
  PartBench bench("fuse", {{"fuse-rating", 2}});
  bench.step("supply", 0, 10, 0.01).resistor("supply", "1", 10 / (relative * 0.5) - 0.34).ground("2").start();
  double time = 0.01;
  while (time < 60 && bench.reading().state != State::kMelted) bench.run_to(time *= 1.02);
  return time - 0.01;
}

// IEC 60127-2, sheet 2, quick fuses (from memory).
TEST(Fuse, MeltsWithinTheQuickWindows) {
  PartBench carries("fuse", {{"fuse-rating", 2}});
  carries.amperes("1", 1.5 * 0.5).ground("2").settle();
  EXPECT_EQ(carries.reading().state, State::kOverloaded);  // but whole, for an hour
  EXPECT_LT(melting_time(2.1), 1800);
  EXPECT_GT(melting_time(2.75), 0.01);
  EXPECT_LT(melting_time(2.75), 3);
  EXPECT_GT(melting_time(4), 3e-3);
  EXPECT_LT(melting_time(4), 0.3);
  EXPECT_LT(melting_time(10), 0.02);
}

TEST(Fuse, StaysMelted) {
  PartBench bench("fuse", {{"fuse-rating", 2}});
  bench.step("1", 0, 5, 0, 0.1).resistor("2", "0", 1).start().run_to(0.05);
  EXPECT_EQ(bench.reading().state, State::kMelted);
  bench.run_to(20);
  EXPECT_EQ(bench.reading().state, State::kMelted);
  EXPECT_LT(std::abs(bench.current("1")), 1e-8);
}

TEST(ResettableFuse, CarriesItsCurrentTripsAtTwiceAndCoolsAgain) {
  PartBench carries("resettable-fuse", {{"hold-current", 2}});
  carries.volts("supply", 5).resistor("supply", "1", 5 / 0.5 - 1.21).ground("2").start().run_to(600);
  EXPECT_EQ(carries.reading().state, State::kCarrying);
  EXPECT_NEAR(carries.current("1"), 0.5, 0.02);
  PartBench trips("resettable-fuse", {{"hold-current", 2}});
  trips.step("supply", 0, 5, 0.01, 300).resistor("supply", "1", 5 / 1.0 - 1.21).ground("2").start().run_to(280);
  EXPECT_EQ(trips.reading().state, State::kTripped);
  EXPECT_LT(trips.current("1"), 0.35);
  trips.run_to(500);
  EXPECT_EQ(trips.reading().state, State::kIdle);  // cold and whole again
}

// ---- Filament lamp

TEST(FilamentLamp, ColdOneDrawsATwelfthOfItsResistance) {
  PartBench bench("filament-lamp", {{"bulb", 2}});
  bench.volts("1", 6).ground("2").start();
  const double inrush = bench.current("1");
  EXPECT_NEAR(inrush / 0.1, std::pow(8, 1.2), 0.02);
  EXPECT_EQ(bench.reading().state, State::kDark);
  bench.run_to(1);
  EXPECT_NEAR(bench.current("1"), 0.1, 1e-4);
  EXPECT_NEAR(bench.reading().brightness, 1, 0.01);
  EXPECT_NEAR(bench.reading().temperature, 2400 - 273.15, 2);
}

TEST(FilamentLamp, WarmsInSomeFiftyMilliseconds) {
  PartBench bench("filament-lamp", {{"bulb", 2}});
  bench.volts("1", 6).ground("2").start().run_to(0.005);
  EXPECT_LT(bench.reading().brightness, 0.5);
  bench.run_to(0.15);
  EXPECT_GT(bench.reading().brightness, 0.9);
}

TEST(FilamentLamp, SettledEqualsLongRun) {
  PartBench settled("filament-lamp", {{"bulb", 3}});
  settled.volts("supply", 9).resistor("supply", "1", 22).ground("2").settle();
  PartBench run("filament-lamp", {{"bulb", 3}});
  run.volts("supply", 9).resistor("supply", "1", 22).ground("2").start().run_to(2);
  EXPECT_NEAR(settled.current("1"), run.current("1"), 1e-5);
}

// ---- Motors

TEST(DcMotor, RunsAtTheSheetsSpeedAndCurrentWithoutLoad) {
  PartBench bench("dc-motor");
  bench.volts("+", 3).ground("-").settle();
  EXPECT_NEAR(bench.current("+"), 0.15, 0.005);
  EXPECT_NEAR(bench.reading().speed * 60 / (2 * 3.14159265), 12300, 300);
  EXPECT_EQ(bench.reading().state, State::kTurning);
}

TEST(DcMotor, StallsUnderTooMuchLoadAndDrawsItsStallCurrent) {
  PartBench bench("dc-motor", {{"load", 0.005}});
  bench.volts("+", 3).ground("-").settle();
  EXPECT_NEAR(bench.current("+"), 2.04, 0.05);
  EXPECT_EQ(bench.reading().state, State::kStalled);
}

TEST(DcMotor, TurnsBackwardsWithTheSupplyTurnedRound) {
  PartBench bench("dc-motor");
  bench.volts("+", -3).ground("-").settle();
  EXPECT_LT(bench.reading().speed, -1000);
}

TEST(DcMotor, KeepsTurningAndGivesItsBackEmfWhenCutOff) {
  PartBench bench("dc-motor");
  bench.step("supply", 3, 0, 1).add("S", ElementKind::kTimedSwitch, {"supply", "+"}, {1, 1.0}).resistor("+", "0", 1e6).ground("-").settle();
  bench.run_to(1.001);
  EXPECT_GT(bench.voltage("+"), 2.5);  // a generator now
  bench.run_to(4);
  EXPECT_LT(bench.voltage("+"), 0.1);  // friction has stopped it
}

// ---- Servo

double angle_after_pulses(double width) {
  PartBench bench("servo");
  bench.volts("+", 4.8).ground("-");
  bench.add("P", ElementKind::kVoltageSource, {"signal", "0"}, {double(Waveform::kPulse), 5, 0, 50, 0, 1e-3, 0, 0, width}).start().run_to(0.5);
  return bench.reading().angle * 180 / 3.14159265358979;
}

TEST(Servo, PulseWidthSetsTheAngle) {
  EXPECT_NEAR(angle_after_pulses(1.5e-3), 0, 0.5);
  EXPECT_NEAR(angle_after_pulses(1.0e-3), -45, 0.5);
  EXPECT_NEAR(angle_after_pulses(2.0e-3), 45, 0.5);
  EXPECT_NEAR(angle_after_pulses(3.0e-3), 90, 0.5);  // the stop
}

TEST(Servo, TakesATenthOfASecondForSixtyDegrees) {
  PartBench bench("servo");
  bench.volts("+", 4.8).ground("-");
  bench.add("P", ElementKind::kVoltageSource, {"signal", "0"}, {double(Waveform::kPulse), 5, 0, 50, 0, 0, 0, 0, 2.5e-3}).start().run_to(0.1);
  EXPECT_NEAR(bench.reading().angle * 180 / 3.14159265, 59, 4);
  EXPECT_EQ(bench.reading().state, State::kTurning);
}

TEST(Servo, WithoutPulsesItLetsGo) {
  PartBench bench("servo");
  bench.volts("+", 4.8).ground("-").step("signal", 0, 5, 1e-3, 1e-3).start().run_to(1);
  EXPECT_NEAR(bench.current("+"), 6e-3, 1e-4);
}

// ---- Sounders

TEST(Buzzer, SoundsTheRightWayRoundOnly) {
  PartBench right("buzzer");
  right.volts("+", 5).ground("-").settle();
  EXPECT_EQ(right.reading().state, State::kSounding);
  EXPECT_NEAR(right.current("+"), 0.03, 0.003);
  EXPECT_DOUBLE_EQ(right.reading().frequency, 2300);
  PartBench wrong("buzzer");
  wrong.volts("+", -5).ground("-").settle();
  EXPECT_EQ(wrong.reading().state, State::kReversed);
  EXPECT_LT(std::abs(wrong.current("+")), 1e-6);
}

TEST(Loudspeaker, TellsTheFrequencyItIsDrivenWith) {
  for (const double frequency : {100.0, 440.0, 2000.0}) {
    PartBench bench("loudspeaker");
    bench.add("V", ElementKind::kVoltageSource, {"supply", "0"}, {double(Waveform::kSine), 1, 0, frequency}).resistor("supply", "+", 1).ground("-");
    bench.start().run_to(0.2);
    EXPECT_NEAR(bench.reading().frequency, frequency, 0.01 * frequency);
    EXPECT_EQ(bench.reading().state, State::kSounding);
  }
}

TEST(Loudspeaker, BehindAnOpenContactIsSilent) {  // nanoamperes, whatever voltage their sudden change induces
  PartBench bench("loudspeaker");
  bench.add("V", ElementKind::kVoltageSource, {"supply", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1000}).resistor("supply", "+", 1e10).ground("-");
  bench.start().run_to(0.2);
  EXPECT_EQ(bench.reading().state, State::kSilent);
}

TEST(PiezoDisc, SquareWaveSoundsAndSteadyVoltageIsSilent) {
  PartBench bench("piezo-disc");
  bench.add("V", ElementKind::kVoltageSource, {"supply", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1000}).resistor("supply", "1", 1e3).ground("2");
  bench.start().run_to(0.1);
  EXPECT_NEAR(bench.reading().frequency, 1000, 10);
  PartBench steady("piezo-disc");
  steady.volts("1", 5).ground("2").start().run_to(0.5);
  EXPECT_EQ(steady.reading().state, State::kSilent);
}

}  // namespace
}  // namespace tiepoint
