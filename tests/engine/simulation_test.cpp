// Laws of motion: order of the method, charge across changes, corners and events met exactly, rest, islands, bounded work.
#include "engine/solver/simulation.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "engine/devices/source.h"
#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

SolverOptions fixed_step(double h) {  // error control switched off
  SolverOptions o;
  o.relative_tolerance = 1e9;
  o.longest_step = h;
  o.exact_stages = true;
  return o;
}

double run(CircuitBuilder& b, const SolverOptions& options, double until, const std::string& node) {
  Simulation simulation(b.circuit(), options);
  simulation.start_from_initial_conditions();
  simulation.advance(until);
  EXPECT_TRUE(simulation.solution().ok());
  EXPECT_DOUBLE_EQ(simulation.time(), until);
  return b.voltage(simulation.solution(), node);
}

CircuitBuilder rc() {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "c", 1000).capacitor("C", "c", "0", 1e-3);
  return b;
}

TEST(Simulation, ALinearCircuitIsCarriedExactlyOverAnyTime) {
  CircuitBuilder b = rc();
  for (const double t : {1e-6, 1e-3, 1.0, 8.0}) {
    const double exact = -5 * std::expm1(-t);
    EXPECT_NEAR(run(b, {}, t, "c"), exact, 1e-12 * exact) << t;
  }
}

TEST(Simulation, ALinearCircuitFollowsARampExactly) {  // v = r (t - tau + tau exp(-t/tau)) while 5 V rise in 1 s
  CircuitBuilder b;
  std::vector<double> step(kDuty + 1, 0.0);
  step[kWaveform] = double(Waveform::kStep), step[kAmplitude] = 5, step[kRise] = 1;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, step).resistor("R", "s", "c", 1e3).capacitor("C", "c", "0", 1e-4);
  const double tau = 0.1;
  for (const double t : {0.05, 0.3, 0.9}) EXPECT_NEAR(run(b, {}, t, "c"), 5 * (t + tau * std::expm1(-t / tau)), 1e-11) << t;
}

TEST(Simulation, ACriticallyDampedLoopIsCarriedExactly) {  // its matrix has one direction only: no basis of eigenvectors
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 200).inductor("L", "a", "c", 1e-2).capacitor("C", "c", "0", 1e-6);
  for (const double t : {5e-5, 2e-4, 1e-3}) {
    const double z = t / 1e-4;  // R = 2 sqrt(L/C), omega = 1e4/s
    EXPECT_NEAR(run(b, {}, t, "c"), 5 * (1 - (1 + z) * std::exp(-z)), 1e-10) << t;
  }
}

TEST(Simulation, HalvingTheStepTakesASixteenthOfTheErrorOfANonlinearCircuit) {
  CircuitBuilder b;  // O-30 of the reference tests, here against itself
  b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).led_a("D", "a", "0");
  SolverOptions fine;
  fine.relative_tolerance = 1e-9;
  fine.absolute_voltage = 1e-11;
  const double exact[] = {run(b, fine, 0.1, "c"), run(b, fine, 0.2, "c"), run(b, fine, 0.4, "c")};
  double last = 0;
  for (int k = 0; k <= 3; ++k) {
    double error = 0;
    for (const int i : {0, 1, 2}) {
      const double until = 0.1 * (1 << i);
      error = std::max(error, std::fabs(run(b, fixed_step(0.1 * std::ldexp(1, -k)), until, "c") - exact[i]));
    }
    if (k > 0) {
      EXPECT_NEAR(last / error, 16, 4) << k;
    }
    last = error;
  }
}

TEST(Simulation, HalvingALinearisedStepTakesASixteenthOfTheErrorWhereChargesCurve) {
  CircuitBuilder b;  // a gentle exponential, whose own charge is larger than that of the capacitor beside it
  b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).capacitor("CA", "a", "0", 1e-4, 1);
  b.add("D", ElementKind::kDiode, {"a", "0"}, {1e-3, 100, 0, 0.025852, 1e-6, 0.2});
  SolverOptions fine;
  fine.relative_tolerance = 1e-10, fine.absolute_voltage = 1e-12;
  const double exact = run(b, fine, 0.1, "c");
  double last = 0;
  for (int k = 0; k <= 3; ++k) {
    SolverOptions o = fixed_step(0.1 / 16 * std::ldexp(1, -k));
    o.exact_stages = false;  // all steps but the last are of one linearisation
    const double error = std::fabs(run(b, o, 0.1, "c") - exact);
    if (k > 0) {
      EXPECT_NEAR(last / error, 16, 4) << k;
    }
    last = error;
  }
}

TEST(Simulation, TighterToleranceGivesSmallerError) {
  CircuitBuilder b;  // a half-wave rectifier
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50});
  b.resistor("RS", "s", "a", 1).silicon("D", "a", "c").capacitor("C", "c", "0", 1e-4).resistor("R", "c", "0", 1e3);
  SolverOptions fine;
  fine.relative_tolerance = 1e-9, fine.absolute_voltage = 1e-11;
  double last = 1;
  for (const double tolerance : {1e-2, 1e-4, 1e-6}) {
    SolverOptions o;
    o.relative_tolerance = tolerance;
    double error = 0;
    for (const double t : {2.5e-3, 4e-3, 7.5e-3}) error = std::max(error, std::fabs(run(b, o, t, "c") - run(b, fine, t, "c")));
    EXPECT_LT(error, 10 * tolerance);  // of 10 V
    EXPECT_LT(error, 0.5 * last);
    last = error;
  }
}

TEST(Simulation, CurrentsSumToZeroOnTheWay) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50})
      .resistor("R", "s", "a", 1)
      .silicon("D", "a", "c");
  b.capacitor("C", "c", "0", 1e-4).resistor("RL", "c", "d", 900).inductor("L", "d", "0", 0.1);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  for (int k = 0; k <= 200; ++k) {
    simulation.advance(k * 1e-4);
    const Solution& s = simulation.solution();
    ASSERT_TRUE(s.ok());
    EXPECT_LT(s.statistics.residual, 1e-12 + 1e-9 * std::fabs(b.current(s, "R"))) << k;
    EXPECT_NEAR(b.current(s, "V"), -b.current(s, "R"), 1e-15);
  }
}

TEST(Simulation, StartsExactlyAtTheInitialConditions) {
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 1e-6, 5).resistor("R1", "c", "l", 100).inductor("L", "l", "0", 1e-3, 0.02);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const Solution& s = simulation.solution();
  EXPECT_NEAR(b.voltage(s, "c"), 5, 1e-9);
  EXPECT_NEAR(b.current(s, "L"), 0.02, 1e-12);
  EXPECT_NEAR(b.current(s, "C"), -0.02, 1e-12);
  EXPECT_NEAR(b.voltage(s, "l"), 3, 1e-9);
  EXPECT_NEAR(s.voltage_rate[size_t(b.node("c"))], -0.02 / 1e-6, 1e-3);
}

TEST(Simulation, AChangedParameterKeepsTheCharge) {
  CircuitBuilder b = rc();
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(0.7);
  const double before = b.voltage(simulation.solution(), "c");
  std::vector<double> p = simulation.circuit().parameters;
  p[size_t(b.circuit().elements[size_t(b.element("R"))].first_parameter)] = 50;
  simulation.set_parameters(p);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), before, 1e-7);
  EXPECT_NEAR(b.current(simulation.solution(), "R"), (5 - before) / 50, 1e-8);     // at once, before any step
  p[size_t(b.circuit().elements[size_t(b.element("C"))].first_parameter)] = 2e-3;  // twice the capacitance, the same charge
  simulation.set_parameters(p);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), before / 2, 1e-6);
}

TEST(Simulation, AResistancePutIntoACapacitorKeepsItsCharge) {  // a change of the unknowns behind one interface
  CircuitBuilder b = rc();
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(0.7);
  const double before = b.voltage(simulation.solution(), "c");
  std::vector<double> p = simulation.circuit().parameters;
  p[size_t(b.circuit().elements[size_t(b.element("C"))].first_parameter) + 2] = 10;
  simulation.set_parameters(p);
  const double current = (5 - before) / 1010;
  EXPECT_NEAR(b.current(simulation.solution(), "C"), current, 1e-8);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), before + 10 * current, 1e-6);
  p[size_t(b.circuit().elements[size_t(b.element("C"))].first_parameter) + 2] = 0;
  simulation.set_parameters(p);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), before, 1e-6);
  EXPECT_DOUBLE_EQ(simulation.time(), 0.7);
}

TEST(Simulation, AdoptsChargeAndCurrentByName) {
  CircuitBuilder b = rc();
  b.resistor("RL", "s", "l", 10).inductor("L", "l", "0", 5);
  Simulation older(b.circuit());
  older.start_from_initial_conditions();
  older.advance(1.5);
  CircuitBuilder other;  // another numbering, the source pulled out
  other.inductor("L", "x", "0", 5).resistor("RL", "0", "x", 10).resistor("R9", "k", "0", 1000).capacitor("C", "k", "0", 1e-3);
  Simulation newer(other.circuit());
  newer.adopt_state(older);
  EXPECT_NEAR(other.voltage(newer.solution(), "k"), b.voltage(older.solution(), "c"), 1e-6);
  EXPECT_NEAR(other.current(newer.solution(), "L"), b.current(older.solution(), "L"), 1e-9);
  EXPECT_DOUBLE_EQ(newer.time(), 1.5);
  newer.advance(2.5);
  EXPECT_NEAR(other.voltage(newer.solution(), "k"), b.voltage(older.solution(), "c") * std::exp(-1.0), 2e-3);
}

TEST(Simulation, TwoChargedCapacitorsJoinedByMetalShareTheirCharge) {
  CircuitBuilder b;
  b.capacitor("C1", "a", "0", 1e-6, 6).capacitor("C2", "a", "0", 2e-6, 0);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  EXPECT_NEAR(b.voltage(simulation.solution(), "a"), 2, 1e-9);
}

TEST(Simulation, StepsEndOnCornersAndValuesThereAreThoseAfter) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kStep), 5, 0, 0, 0, 0.3})
      .resistor("R", "s", "c", 100)
      .capacitor("C", "c", "0", 1e-3);
  Simulation simulation(b.circuit());
  simulation.settle();
  simulation.advance(0.3);
  EXPECT_NEAR(b.current(simulation.solution(), "C"), 0.05, 1e-9);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), 0, 1e-9);
  simulation.advance(0.4);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), 5 * (1 - std::exp(-1.0)), 3e-3);
}

TEST(Simulation, ASquareWaveIsFollowedThroughThousandsOfCorners) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSquare), 2.5, 2.5, 1000})
      .resistor("R", "s", "c", 1000)
      .capacitor("C", "c", "0", 1e-6);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(0.1);
  // Periodic state: after a high half period v = 5 / (1 + exp(-T / 2RC)), after a low one 5 - that.
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), 5 - 5 / (1 + std::exp(-0.5)), 2e-3);
}

TEST(Simulation, ASwitchIsThrownOnTime) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 10).add("S", ElementKind::kTimedSwitch, {"s", "r"}, {0, 0.1, 0.2, 1e-6, 1e12});
  b.resistor("R", "r", "c", 100).capacitor("C", "c", "0", 1e-3);
  Simulation simulation(b.circuit());
  simulation.settle();
  EXPECT_NEAR(b.current(simulation.solution(), "R"), 0, 1e-10);
  simulation.start_from_initial_conditions();
  simulation.advance(0.2);
  const double peak = 10 * (1 - std::exp(-1.0));
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), peak, 5e-3);
  simulation.advance(5);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), peak, 5e-3);  // nowhere to go
}

TEST(Simulation, EventsAreFoundWithinTheStep) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 100).resistor("R", "s", "c", 1000).capacitor("C", "c", "0", 1e-3);
  b.add("S", ElementKind::kTriggeredSwitch, {"c", "0"}, {80, 1, 1, 1e12});
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const double strike = std::log(5.0);
  simulation.advance(strike - 1e-3);
  EXPECT_LT(b.current(simulation.solution(), "S"), 1e-6);
  simulation.advance(strike + 1e-3);
  EXPECT_GT(b.current(simulation.solution(), "S"), 10);
}

TEST(Simulation, ComesToRestAndThenCostsNothing) {
  CircuitBuilder b = rc();
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  EXPECT_FALSE(simulation.at_rest());
  simulation.advance(60);
  EXPECT_TRUE(simulation.at_rest());
  const long steps = simulation.solution().statistics.steps;
  simulation.advance(1e6);
  EXPECT_EQ(simulation.solution().statistics.steps, steps);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), 5, 1e-12);
}

TEST(Simulation, AResistiveCircuitIsAtRestAtOnce) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 220).led_a("D", "a", "0");
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  EXPECT_TRUE(simulation.at_rest());
  simulation.advance(100);
  EXPECT_EQ(simulation.solution().statistics.steps, 0);
}

TEST(Simulation, ARunningSineNeverRests) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 5, 0, 50})
      .resistor("R", "s", "a", 220)
      .silicon("D", "a", "0");
  Simulation simulation(b.circuit());
  simulation.settle();
  simulation.advance(0.005);
  EXPECT_FALSE(simulation.at_rest());
  EXPECT_GT(b.current(simulation.solution(), "D"), 0.01);  // no storage: solved where it is looked at
  simulation.advance(0.015);
  EXPECT_LT(b.current(simulation.solution(), "D"), 0);
}

TEST(Simulation, IslandsKeepTheirOwnSteps) {
  CircuitBuilder slow = rc(), both = rc();
  both.add("V2", ElementKind::kVoltageSource, {"f", "0"}, {double(Waveform::kSine), 1, 0, 1e4})
      .resistor("R2", "f", "g", 100)
      .capacitor("C2", "g", "0", 1e-7);
  Simulation a(slow.circuit()), c(both.circuit());
  for (Simulation* s : {&a, &c}) s->start_from_initial_conditions(), s->advance(0.01);
  EXPECT_EQ(c.solution().statistics.islands, 2);
  EXPECT_DOUBLE_EQ(slow.voltage(a.solution(), "c"), both.voltage(c.solution(), "c"));
}

TEST(Simulation, WorkIsBounded) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 1, 0, 1e6})
      .resistor("R", "s", "c", 100)
      .capacitor("C", "c", "0", 1e-9);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const double reached = simulation.advance(1, {.max_steps = 200});
  EXPECT_GT(reached, 0);
  EXPECT_LT(reached, 1);
  EXPECT_LE(simulation.solution().statistics.steps, 201);
  EXPECT_TRUE(simulation.solution().ok());
  EXPECT_GT(simulation.advance(1, {.max_steps = 200}), reached);
}

TEST(Simulation, ScalingImpedanceKeepsVoltagesAndTimes) {  // R and L times k, C by k
  const double k = 47;
  CircuitBuilder b, s;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 40).inductor("L", "a", "c", 1e-2).capacitor("C", "c", "0", 1e-6);
  s.volts("V", "s", "0", 5)
      .resistor("R", "s", "a", 40 * k)
      .inductor("L", "a", "c", 1e-2 * k)
      .capacitor("C", "c", "0", 1e-6 / k);
  SolverOptions o;
  o.relative_tolerance = 1e-5;
  EXPECT_NEAR(run(b, o, 2.5e-4, "c"), run(s, o, 2.5e-4, "c"), 1e-4);
}

TEST(Simulation, AnAstableStartsFromItsBalancedState) {  // in life noise tips it over
  CircuitBuilder b;
  b.volts("V", "cc", "0", 9);
  for (const std::string side : {"1", "2"}) {
    const std::string other = side == "1" ? "2" : "1";
    b.resistor("RC" + side, "cc", "c" + side, 1000).resistor("RB" + side, "cc", "b" + side, 47e3);
    b.capacitor("C" + side, "c" + side, "b" + other, 1e-5)
        .add("Q" + side, ElementKind::kNpn, {"c" + side, "b" + side, "0"}, {1e-14, 200, 2});
  }
  Simulation simulation(b.circuit());
  simulation.settle();
  double least = 9, most = 0;
  for (int k = 1; k <= 300; ++k) {
    simulation.advance(k * 0.01);
    ASSERT_TRUE(simulation.solution().ok()) << text(*simulation.solution().error);
    if (k < 100) continue;
    least = std::min(least, b.voltage(simulation.solution(), "c1"));
    most = std::max(most, b.voltage(simulation.solution(), "c1"));
  }
  EXPECT_LT(least, 0.2);
  EXPECT_GT(most, 8);
  EXPECT_FALSE(simulation.at_rest());
}

TEST(Simulation, AnErrorEndsWithTheChangeThatCausedIt) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "0", 100);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::vector<double> p = b.circuit().parameters, bad = p;
  bad.back() = NAN;
  simulation.set_parameters(bad);
  EXPECT_FALSE(simulation.solution().ok());
  EXPECT_EQ(simulation.advance(1), 0);
  simulation.set_parameters(p);
  ASSERT_TRUE(simulation.solution().ok());
  EXPECT_DOUBLE_EQ(b.current(simulation.solution(), "R"), 0.05);
}

// A square wave's corner at 1.4 s and an end of an advance a few units in the last place behind it: there is no step between
// the two.
TEST(Simulation, AnEndJustBehindACornerIsReached) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSquare), 5, 0, 10});
  b.capacitor("C", "s", "out", 1e-7).resistor("R", "out", "0", 200);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const double corner = 1.4;
  double end = corner;
  for (int units = 1; units <= 6; ++units) {
    end = std::nextafter(end, 2);
    simulation.start_from_initial_conditions();
    EXPECT_EQ(simulation.advance(corner - 0.01), corner - 0.01);
    EXPECT_EQ(simulation.advance(end), end) << units;
    EXPECT_EQ(simulation.advance(1.41), 1.41) << units;
    EXPECT_TRUE(simulation.solution().ok()) << units;
  }
}

// An RC charging from 5 V through 1 kilohm: every step that is told lies on the exponential, and the end is told too.
TEST(Simulation, WatchedVoltagesAreToldAtEveryStep) {
  CircuitBuilder b;
  b.volts("V", "in", "0", 5).resistor("R", "in", "out", 1e3).capacitor("C", "out", "0", 1e-6);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::vector<std::pair<double, double>> out;
  int held = 0;
  simulation.watch({{b.node("in"), b.node("out")}, {b.node("in"), b.node("0")}}, [&](int pair, double time, double voltage, const WatchedSpan&) {
    if (pair == 0) out.emplace_back(time, voltage);
    if (pair == 0) return;
    ++held;
    EXPECT_EQ(voltage, 5);
  });
  simulation.advance(3e-3);
  ASSERT_GT(out.size(), 5u);
  for (size_t i = 0; i < out.size(); ++i) {
    EXPECT_NEAR(out[i].second, 5 * std::exp(-out[i].first / 1e-3), 5e-3);
    if (i > 0) EXPECT_GE(out[i].first, out[i - 1].first);
  }
  EXPECT_EQ(out.back().first, 3e-3);
  EXPECT_EQ(held, 1) << "a held pair is told where an advance ends";
  const size_t told = out.size();
  simulation.watch({}, {});
  simulation.advance(4e-3);
  EXPECT_EQ(out.size(), told);
}

TEST(Simulation, RestDoesNotJumpOverAnEvent) {  // the lamp's way to 0.99 mV leads through 1 mV, where it goes out
  CircuitBuilder b;
  b.volts("E", "e", "0", 100).resistor("R", "e", "c", 101).capacitor("C", "c", "0", 0.05);
  b.add("lamp", ElementKind::kTriggeredSwitch, {"c", "0"}, {80, 1e-3, 1e-3, 1e12});
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(12);
  EXPECT_GT(b.voltage(simulation.solution(), "c"), 40);
}

TEST(Simulation, WatchedVoltagesAreSampledBetweenTheSteps) {
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).led_a("D", "a", "0");
  SolverOptions fine;
  fine.relative_tolerance = 1e-9, fine.absolute_voltage = 1e-11;
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::vector<std::pair<double, double>> out;
  simulation.watch({{b.node("c"), b.node("0")}}, [&](int, double time, double voltage, const WatchedSpan&) { out.emplace_back(time, voltage); });
  simulation.sample(1e-3, 1e-3);
  simulation.advance(0.1);
  simulation.advance(0.3);
  EXPECT_LT(simulation.solution().statistics.steps, 60);
  ASSERT_GT(out.size(), 300u);
  for (size_t k = 1; k < out.size(); ++k) {
    EXPECT_GE(out[k].first, out[k - 1].first);
    EXPECT_LE(out[k].first, out[k - 1].first + 1.001e-3);
    if (k % 25 == 0) EXPECT_NEAR(out[k].second, run(b, fine, out[k].first, "c"), 2e-3) << k;
  }
}

// Half of v = A sin(2 pi f t) by two resistors, in closed form. Straight lines between 40 points of a period are A (1 - cos(pi / 40)) = 0.3 %
// of the amplitude off at most.
TEST(Simulation, ASineThroughResistorsIsSeenAsASine) {
  constexpr double kTurn = 2 * std::numbers::pi;
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 2, 0, 1000}).resistor("R1", "s", "a", 1e3).resistor("R2", "a", "0", 1e3);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::vector<std::pair<double, double>> out;
  simulation.watch({{b.node("a"), b.node("0")}}, [&](int, double time, double voltage, const WatchedSpan&) { out.emplace_back(time, voltage); });
  simulation.sample(4e-3, 4e-3);
  for (int frame = 1; frame <= 3; ++frame) simulation.advance(0.015 * frame);
  double high = -1, low = 1;
  for (size_t k = 1; k < out.size(); ++k) {
    EXPECT_LE(out[k].first, out[k - 1].first + 1.0 / 39e3);
    EXPECT_NEAR(out[k].second, std::sin(kTurn * 1000 * out[k].first), 1e-9);
    const double middle = (out[k].first + out[k - 1].first) / 2;
    EXPECT_NEAR((out[k].second + out[k - 1].second) / 2, std::sin(kTurn * 1000 * middle), 3.2e-3);
    high = std::max(high, out[k].second), low = std::min(low, out[k].second);
  }
  EXPECT_NEAR(high, 1, 3.2e-3);
  EXPECT_NEAR(low, -1, 3.2e-3);
  EXPECT_LT(out.size(), 2200u);  // 45 periods
}

// A sine far faster than there are looks is a band from -A to A with the root of the mean square A / sqrt 2, not a slower sine: neighbours
// are far apart in phase. A direct voltage is looked at no oftener than it was asked for.
TEST(Simulation, ASineTooFastToBeFollowedIsSeenAsABand) {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 2, 0, 1e6}).resistor("R1", "s", "a", 1e3).resistor("R2", "a", "0", 1e3);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  std::vector<double> out;
  simulation.watch({{b.node("a"), b.node("0")}}, [&](int, double, double voltage, const WatchedSpan&) { out.push_back(voltage); });
  simulation.sample(4e-3, 4e-3);
  simulation.advance(1.0 / 60);
  ASSERT_GT(out.size(), 400u);
  EXPECT_LT(out.size(), 800u);
  double squares = 0;
  int swings = 0;
  for (size_t k = 1; k < out.size(); ++k) squares += out[k] * out[k], swings += (out[k] > 0) != (out[k - 1] > 0);
  EXPECT_NEAR(std::sqrt(squares / double(out.size() - 1)), std::sqrt(0.5), 0.01);
  EXPECT_GT(swings, int(out.size()) / 2);
  EXPECT_GT(*std::max_element(out.begin(), out.end()), 0.999);
  EXPECT_LT(*std::min_element(out.begin(), out.end()), -0.999);

  CircuitBuilder direct;
  direct.volts("V", "s", "0", 2).resistor("R1", "s", "a", 1e3).resistor("R2", "a", "0", 1e3);
  Simulation still(direct.circuit());
  still.start_from_initial_conditions();
  int told = 0;
  still.watch({{direct.node("a"), direct.node("0")}}, [&](int, double, double, const WatchedSpan&) { ++told; });
  still.sample(4e-3, 4e-3);
  still.advance(1.0 / 60);
  EXPECT_LE(told, 6);
}

CircuitBuilder rc_ladder(int stages) {
  CircuitBuilder b;
  b.volts("V", "n0", "0", 1);
  for (int k = 1; k <= stages; ++k) {
    const std::string own = std::to_string(k), before = "n" + std::to_string(k - 1);
    b.resistor("R" + own, before, "n" + own, 1e3).capacitor("C" + own, "n" + own, "0", 1e-6);
  }
  return b;
}

// By the equations alone: a stage solved for its way from the start of the step is the same as one iterated to its end.
TEST(Simulation, ALargeLinearCircuitTakesTheSameStepsWithoutIteration) {
  CircuitBuilder b = rc_ladder(40);
  SolverOptions exact = fixed_step(1e-3), short_way = exact;
  short_way.exact_stages = false;
  for (const char* node : {"n1", "n20", "n40"})
    EXPECT_NEAR(run(b, short_way, 0.1, node), run(b, exact, 0.1, node), 1e-12) << node;
}

TEST(Simulation, WhatDiesAwayAlongAChainIsNothingBeforeNumbersGetSlow) {
  CircuitBuilder b = rc_ladder(800);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  for (const double until : {1e-5, 1e-4, 1e-3}) {
    simulation.advance(until);
    for (const double v : simulation.solution().node_voltage) EXPECT_NE(std::fpclassify(v), FP_SUBNORMAL);
  }
  EXPECT_GT(b.voltage(simulation.solution(), "n1"), 0.1);
}

}  // namespace
}  // namespace tiepoint
