// Linear transients, against textbook tables and closed forms. UP2: OpenStax University Physics vol. 2; LEC: T. Kuphaldt,
// Lessons in Electric Circuits. At the default accuracy 0.1 % of the signal's span is allowed, 0.01 % with a tolerance of 1e-5.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

struct Accuracy {
  double tolerance, allowed;  // allowed: share of the span
};
constexpr Accuracy kAccuracies[] = {{1e-3, 1e-3}, {1e-5, 1e-4}};

SolverOptions with(double tolerance) {
  SolverOptions o;
  o.relative_tolerance = tolerance;
  return o;
}

TEST(TransientReference, RcChargeTabulated) {  // LEC DC/src/time.sml, worked table, fig. 00330; exact 15 (1 - exp(-t))
  struct Row {
    double t, printed_v, printed_i, half_digit_i;
  };
  const Row rows[] = {{0.5, 5.902, 909.8e-6, 0.05e-6},  {1, 9.482, 551.8e-6, 0.05e-6},    {2, 12.970, 203.0e-6, 0.05e-6},
                      {3, 14.253, 74.68e-6, 0.005e-6},  {4, 14.725, 27.47e-6, 0.005e-6},  {5, 14.899, 10.11e-6, 0.005e-6},
                      {6, 14.963, 3.718e-6, 0.0005e-6}, {10, 14.999, 0.068e-6, 0.0005e-6}};
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 15)
        .add("S", ElementKind::kTimedSwitch, {"s", "r"}, {1, INFINITY, INFINITY, 1e-6})
        .resistor("R", "r", "c", 10e3)
        .capacitor("C", "c", "0", 100e-6);
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    EXPECT_NEAR(b.current(simulation.solution(), "R"), 1.5e-3, 1e-9);
    for (const Row& row : rows) {
      simulation.advance(row.t);
      const double v = b.voltage(simulation.solution(), "c"), i = b.current(simulation.solution(), "C");
      EXPECT_NEAR(v, 15 * (1 - std::exp(-row.t)), a.allowed * 15);
      EXPECT_NEAR(v, row.printed_v, 0.0005 + a.allowed * 15);
      EXPECT_NEAR(i, row.printed_i, row.half_digit_i + a.allowed * 1.5e-3);
    }
  }
}

TEST(TransientReference,
     RlRiseTabulated) {  // LEC DC/src/time.sml, fig. 00332. Its last row prints 14.99 A; exact is 14.9993 A.
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 15).resistor("R", "s", "l", 1).inductor("L", "l", "0", 1);
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    struct Row {
      double t, printed_i, half_digit_i, printed_v, half_digit_v;
    };
    for (const Row& row : {Row{0.5, 5.902, 5e-4, 9.098, 5e-4}, Row{1, 9.482, 5e-4, 5.518, 5e-4}, Row{2, 12.97, 5e-3, 2.030, 5e-4},
                           Row{3, 14.25, 5e-3, 0.747, 5e-4}, Row{4, 14.73, 5e-3, 0.275, 5e-4}, Row{5, 14.90, 5e-3, 0.101, 5e-4},
                           Row{6, 14.96, 5e-3, 0.037181, 5e-7}, Row{10, 14.9993, 5e-5, 0.000681, 5e-7}}) {
      const double t = row.t;
      simulation.advance(t);
      const double i = b.current(simulation.solution(), "L"), v = b.voltage(simulation.solution(), "l");
      EXPECT_NEAR(i, 15 * (1 - std::exp(-t)), a.allowed * 15);
      EXPECT_NEAR(v, 15 * std::exp(-t), a.allowed * 15);
      EXPECT_NEAR(i, row.printed_i, row.half_digit_i + a.allowed * 15);
      EXPECT_NEAR(v, row.printed_v, row.half_digit_v + a.allowed * 15);
    }
  }
}

TEST(TransientReference,
     CapacitorBehindADivider) {  // LEC DC/src/time.sml "complex circuits", figs 00335, 10259-10262: 1.8182 V, 1.3325 V
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 20)
        .resistor("R1", "s", "x", 2000)
        .resistor("R2", "x", "y", 500)
        .capacitor("C", "x", "y", 100e-6)
        .resistor("R3", "y", "0", 3000);
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    simulation.advance(0.06);
    EXPECT_NEAR(b.voltage(simulation.solution(), "x", "y"), 1.332481269, a.allowed * 1.8182);
    simulation.advance(2);
    EXPECT_NEAR(b.voltage(simulation.solution(), "x", "y"), 20.0 / 11, 1e-6);  // printed 1.8182 V
    Simulation again(b.circuit(), with(a.tolerance));
    again.start_from_initial_conditions();
    again.advance(45.454545e-3);  // one time constant of 454.545 ohm and 100 uF
    EXPECT_NEAR(b.voltage(again.solution(), "x", "y"), 20.0 / 11 * (1 - std::exp(-1.0)), a.allowed * 1.8182);
  }
}

TEST(TransientReference,
     LampFlashesWhenTheVoltageReachesItsThreshold) {  // UP2 10.5, m58457, example fs-id1172101881535: 8.13 s;
                                                      // exact 5.05 ln 5. The lamp empties 50 mF through 1 mohm.
  CircuitBuilder b;
  b.volts("E", "e", "0", 100).resistor("r", "e", "s", 1).resistor("R", "s", "c", 100).capacitor("C", "c", "0", 0.05);
  b.add("lamp", ElementKind::kTriggeredSwitch, {"c", "0"}, {80, 1e-3, 1e-3, 1e12});
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const double interval = 5.05 * std::log(5.0);
  for (int flash = 1; flash <= 3; ++flash) {
    simulation.advance(flash * interval * (1 - 1e-3));
    EXPECT_GT(b.voltage(simulation.solution(), "c"), 79) << flash;
    EXPECT_LT(b.voltage(simulation.solution(), "c"), 80) << flash;
    simulation.advance(flash * interval * (1 + 1e-3));
    EXPECT_LT(b.voltage(simulation.solution(), "c"), 1) << flash;
  }
}

TEST(TransientReference, CoilWithSourceThenWithout) {  // UP2 14.4, m58752, examples fs-id1167131475595, fs-id1167131626450
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 2).resistor("R", "s", "l", 4).inductor("L", "l", "0", 4);
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    simulation.advance(2);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.43233236, a.allowed * 0.5);
    EXPECT_NEAR(b.voltage(simulation.solution(), "l"), 0.27067057, a.allowed * 2);
    simulation.settle();
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.5, 1e-12);
    std::vector<double> p = b.circuit().parameters;
    p[1] = 0;  // the source is replaced by a short
    simulation.set_parameters(p);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.5, 1e-9);  // continuous across the instant
    const double start = simulation.time();
    simulation.advance(start + std::log(2.0));
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.25, a.allowed * 0.5);
    simulation.advance(start + std::log(10.0));
    EXPECT_NEAR(std::pow(b.current(simulation.solution(), "L") / 0.5, 2), 0.01, 2 * a.allowed);
  }
}

TEST(TransientReference,
     CoilSwitchedFromItsSourceToAResistor) {  // UP2 14.4, exercise fs-id1167134891636: 2.4 A, 12 V at 0.40 ms
  for (const Accuracy& a : kAccuracies) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 20)
        .resistor("R1", "s", "r", 5)
        .add("S", ElementKind::kTimedSwitch, {"r", "l"}, {1, 1e-3, INFINITY, 1e-9, 1e12});
    b.add("S2", ElementKind::kTimedSwitch, {"l", "m"}, {0, 1e-3, INFINITY, 1e-9, 1e12})
        .resistor("R2", "m", "0", 5)
        .inductor("L", "l", "0", 4e-3);
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.settle();
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 4, 1e-8);
    simulation.advance(1e-3);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 4, 1e-6);
    simulation.advance(1.4e-3);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 2.4261226, a.allowed * 4);
    EXPECT_NEAR(b.voltage(simulation.solution(), "l"), -12.130613, a.allowed * 20);
  }
}

TEST(TransientReference, LosslessCoilAndCapacitor) {  // UP2 14.5, m58754, example fs-id1167132727094
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 8e-6, 1.5).inductor("L", "c", "0", 20e-3);
  const auto energy = [&](const Solution& s) {
    return 0.5 * 8e-6 * std::pow(b.voltage(s, "c"), 2) + 0.5 * 20e-3 * std::pow(b.current(s, "L"), 2);
  };
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const double quarter = 0.62831853e-3;  // printed 0.63 ms
  simulation.advance(quarter);
  EXPECT_NEAR(b.voltage(simulation.solution(), "c"), 0, 1.5e-3);
  EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.030, 30e-6);
  // The method damps a little by design (it is L-stable): a hundred periods at a tight tolerance lose less than 0.1 %.
  Simulation tight(b.circuit(), with(1e-6));
  tight.start_from_initial_conditions();
  EXPECT_NEAR(energy(tight.solution()), 9e-6, 1e-14);
  tight.advance(100 * 4 * quarter);
  EXPECT_NEAR(energy(tight.solution()), 9e-6, 9e-9);
  EXPECT_FALSE(tight.at_rest());
}

TEST(TransientReference,
     DampingClassAndDissipatedEnergy) {  // UP2 14.6, m58756, exercise fs-id1167134713946: overdamped, 0.75 J in all
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 6e-6, 500).inductor("L", "c", "l", 5e-3).resistor("R", "l", "0", 200);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  double energy = 0, last_power = b.power(simulation.solution(), "R"), last = 500;
  const double h = 2e-6;
  for (int k = 1; k <= 10000; ++k) {
    simulation.advance(k * h);
    const double power = b.power(simulation.solution(), "R"), v = b.voltage(simulation.solution(), "c");
    energy += h / 2 * (power + last_power);
    EXPECT_GE(v, -1e-3);  // no overshoot
    EXPECT_LE(v, last + 1e-6);
    last_power = power, last = v;
  }
  EXPECT_NEAR(energy, 0.75, 0.005 * 0.75);
  for (const double r : {50.0, 65.0}) {  // critical: 2 sqrt(L/C) = 57.735 ohm
    CircuitBuilder c;
    c.capacitor("C", "c", "0", 6e-6, 500).inductor("L", "c", "l", 5e-3).resistor("R", "l", "0", r);
    Simulation s(c.circuit(), with(1e-6));
    s.start_from_initial_conditions();
    double least = 500;
    for (int k = 1; k <= 2000; ++k) s.advance(k * h), least = std::min(least, c.voltage(s.solution(), "c"));
    if (r < 57.735) {
      EXPECT_LT(least, -0.01);
    } else {
      EXPECT_GT(least, -1e-3);
    }
  }
}

TEST(TransientReference, EnvelopeHalves) {  // UP2 14.6, m58756, exercise fs-id1167129991327: 6.9 ms, exact (2L/R) ln 2
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 1.5e-6, 10).inductor("L", "c", "l", 10e-3).resistor("R", "l", "0", 2);
  Simulation simulation(b.circuit(), with(1e-5));
  simulation.start_from_initial_conditions();
  const auto peak_after = [&](double from) {
    double peak = 0;
    for (int k = 0; k < 800; ++k)
      simulation.advance(from + k * 1e-6), peak = std::max(peak, std::fabs(b.voltage(simulation.solution(), "c")));
    return peak;
  };
  const double period = 2 * 3.14159265358979 * std::sqrt(10e-3 * 1.5e-6);
  const double first = peak_after(period), later = peak_after(period + 6.9314718e-3);
  EXPECT_NEAR(later / first, 0.5, 0.005);
}

TEST(TransientReference,
     SeriesRlcStepInThreeDampingCases) {  // closed form  vC = 5 + y,  y'' + (R/L) y' + y/(LC) = 0, to 40 digits
  struct Row {
    double t, v[3], i[3];
  };  // R = 40 (under), 200 (critical), 500 ohm (over); i in mA
  const Row rows[] = {{50e-6, {0.5734059199, 0.4510200522, 0.3110693305}, {21.72689424, 15.16326649, 8.835538286}},
                      {100e-6, {2.025168837, 1.321205588, 0.7589193089}, {34.69399311, 18.39397206, 8.765016900}},
                      {200e-6, {5.637422225, 2.969970751, 1.556297957}, {31.65412349, 13.53352832, 7.186705447}},
                      {300e-6, {7.575660584, 4.004258633, 2.204979541}, {5.624526604, 7.468060255, 5.833541392}},
                      {500e-6, {5.027722259, 4.797861590, 3.158804354}, {-18.44741097, 1.684486750, 3.842799063}},
                      {1e-3, {5.680460238, 4.997503004, 4.351533928}, {-2.517894208, 0.02269996488, 1.353427497}}};
  const double ohms[] = {40, 200, 500}, span_v[] = {7.633, 5, 4.352}, span_i[] = {53.1, 18.4, 8.84};
  for (const Accuracy& a : kAccuracies)
    for (int k = 0; k < 3; ++k) {
      CircuitBuilder b;
      b.volts("V", "s", "0", 5).resistor("R", "s", "a", ohms[k]).inductor("L", "a", "c", 10e-3).capacitor("C", "c", "0", 1e-6);
      Simulation simulation(b.circuit(), with(a.tolerance));
      simulation.start_from_initial_conditions();
      for (const Row& row : rows) {
        simulation.advance(row.t);
        EXPECT_NEAR(b.voltage(simulation.solution(), "c"), row.v[k], a.allowed * span_v[k]) << ohms[k] << " " << row.t;
        EXPECT_NEAR(b.current(simulation.solution(), "L") * 1e3, row.i[k], a.allowed * span_i[k]) << ohms[k] << " " << row.t;
      }
    }
}

TEST(TransientReference, UnderdampedPeak) {  // the same circuit with 40 ohm: 7.633102997 V at 320.637457 us
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 40).inductor("L", "a", "c", 10e-3).capacitor("C", "c", "0", 1e-6);
  Simulation simulation(b.circuit(), with(1e-6));
  simulation.start_from_initial_conditions();
  double peak = 0, at = 0;
  for (int k = 0; k <= 400; ++k) {
    simulation.advance(300e-6 + k * 1e-7);
    const double v = b.voltage(simulation.solution(), "c");
    if (v > peak) peak = v, at = simulation.time();
  }
  EXPECT_NEAR(peak, 7.633102997, 1e-4);
  EXPECT_NEAR(at, 320.637457e-6, 0.5e-6);
}

}  // namespace
}  // namespace tiepoint
