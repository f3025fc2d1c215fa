// Linear networks at rest, against worked examples of textbooks. UP2: OpenStax University Physics vol. 2; CP: OpenStax College
// Physics 2e (module, example); LEC: T. Kuphaldt, Lessons in Electric Circuits (source file, figure). "Recomputed": solved by
// hand or with an exact-rational nodal solver, because the print is rounded.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

void expect_close(double value, double expected, double relative = 1e-9) {
  EXPECT_NEAR(value, expected, relative * std::fabs(expected));
}

// Solves, and holds the solution against the two laws that need no table: Kirchhoff's current law, summed up here from the currents
// told, and what the sources give is what the resistors take.
Solution solve(CircuitBuilder& b) {
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_TRUE(s.ok());
  EXPECT_LT(s.statistics.residual, 1e-12);
  std::vector<double> net(size_t(b.circuit().node_count), 0.0);
  double largest = 0, given = 0, balance = 0;
  for (size_t k = 0; k < s.terminal_current.size(); ++k) {
    net[size_t(b.circuit().terminals[k])] += s.terminal_current[k];
    largest = std::fmax(largest, std::fabs(s.terminal_current[k]));
  }
  for (const std::string& name : b.circuit().element_name) given += std::fabs(b.power(s, name)) / 2, balance += b.power(s, name);
  for (const double sum : net) EXPECT_LT(std::fabs(sum), 1e-12 * (1 + largest));
  EXPECT_LT(std::fabs(balance), 1e-12 * (1 + given));
  EXPECT_LT(s.statistics.power_imbalance, 1e-12 * (1 + given));
  return s;
}

TEST(DcReference, PureSeries) {  // UP2 10.2, m58454, example fs-id1172100577573
  CircuitBuilder b;
  b.volts("V", "a", "0", 9).resistor("R1", "a", "b", 20).resistor("R2", "b", "c", 20).resistor("R3", "c", "d", 20);
  b.resistor("R4", "d", "e", 20).resistor("R5", "e", "0", 10);
  const Solution s = solve(b);
  expect_close(b.current(s, "R1"), 0.1);
  expect_close(b.voltage(s, "a", "b"), 2);
  expect_close(b.voltage(s, "e"), 1);
  for (const std::string r : {"R1", "R2", "R3", "R4"}) expect_close(b.power(s, r), 0.2);
  expect_close(b.power(s, "R5"), 0.1);
  expect_close(b.power(s, "V"), -0.9);
}

TEST(DcReference, PureParallelAndTheSameInSeries) {  // UP2 10.2, m58454, example fs-id1172098280741
  CircuitBuilder b;
  b.volts("V", "a", "0", 3).resistor("R1", "a", "0", 1).resistor("R2", "a", "0", 2).resistor("R3", "a", "0", 2);
  const Solution s = solve(b);
  expect_close(b.current(s, "V"), -6);
  expect_close(b.current(s, "R1"), 3);
  expect_close(b.current(s, "R2"), 1.5);
  expect_close(b.power(s, "R1"), 9);
  expect_close(b.power(s, "R3"), 4.5);
  expect_close(b.power(s, "V"), -18);
  CircuitBuilder t;
  t.volts("V", "a", "0", 3).resistor("R1", "a", "b", 1).resistor("R2", "b", "c", 2).resistor("R3", "c", "0", 2);
  const Solution u = solve(t);
  expect_close(t.current(u, "R1"), 0.6);
  expect_close(t.power(u, "V"), -1.8);
  expect_close(b.power(s, "R2"), 4.5);
  expect_close(3 / -b.current(s, "V"), 0.5);
}

TEST(DcReference,
     SeriesParallel) {  // UP2 10.2, m58454, example fs-id1172100565130; printed 2.35 A, 9.65 V, 1.61 A, 0.742 A; recomputed
  CircuitBuilder b;
  b.volts("V", "a", "0", 12).resistor("R1", "a", "b", 1).resistor("R2", "b", "0", 6).resistor("R3", "b", "0", 13);
  const Solution s = solve(b);
  expect_close(b.current(s, "R1"), 228.0 / 97);
  expect_close(b.voltage(s, "b"), 936.0 / 97);
  expect_close(b.current(s, "R2"), 156.0 / 97);
  expect_close(b.current(s, "R3"), 72.0 / 97);
  EXPECT_NEAR(b.current(s, "R1"), 2.35, 0.005);
  EXPECT_NEAR(b.voltage(s, "b"), 9.65, 0.005);
  EXPECT_NEAR(b.current(s, "R2"), 1.61, 0.005);
  EXPECT_NEAR(b.current(s, "R3"), 0.742, 0.0005);
  EXPECT_NEAR(b.power(s, "R2"), 15.5, 0.05);
  EXPECT_NEAR(12 / b.current(s, "R1"), 5.10, 0.006);  // exact 495/97 = 5.1053: the print is a rounding of 5.105
}

TEST(DcReference, FourResistors) {  // UP2 10.2, m58454, exercise fs-id1172100547970, Fig. CNX_UPhysics_27_01_FourResist
  CircuitBuilder b;
  b.volts("V", "a", "0", 24)
      .resistor("R1", "a", "b", 7)
      .resistor("R2", "b", "0", 10)
      .resistor("R3", "b", "c", 6)
      .resistor("R4", "c", "0", 4);
  const Solution s = solve(b);
  expect_close(b.current(s, "R1"), 2);
  expect_close(b.voltage(s, "a", "b"), 14);
  expect_close(b.current(s, "R2"), 1);
  expect_close(b.current(s, "R3"), 1);
  expect_close(b.voltage(s, "b", "c"), 6);
  expect_close(b.voltage(s, "c"), 4);
  expect_close(b.power(s, "R1") + b.power(s, "R2") + b.power(s, "R3") + b.power(s, "R4"), 48);
}

TEST(DcReference, BatteryWithInternalResistance) {  // UP2 10.1, m58453, example fs-id1167583723446. The printed terminal
                                                    // voltage 11.90 is a slip of rounding: 12 * 10 / 10.1 = 11.88 V.
  struct Row {
    double r, load, current, terminal;
  };
  for (const Row& row : {Row{0.1, 10, 12 / 10.1, 120 / 10.1}, Row{0.1, 0.5, 20, 10}, Row{0.5, 0.5, 12, 6}}) {
    CircuitBuilder b;
    b.volts("E", "e", "0", 12).resistor("r", "e", "a", row.r).resistor("R", "a", "0", row.load);
    const Solution s = solve(b);
    expect_close(b.current(s, "R"), row.current);
    expect_close(b.voltage(s, "a"), row.terminal);
    expect_close(b.power(s, "R"), row.current * row.terminal);  // printed 200 W and 72.00 W in the last two
  }
}

TEST(DcReference, BatteriesInParallelAndShorted) {  // LEC DC/src/batt.sml, figs 00264, 00265
  CircuitBuilder b;
  b.volts("E", "e", "0", 10).resistor("r", "e", "a", 0.2).resistor("R", "a", "0", 1);
  const Solution s = solve(b);
  expect_close(b.current(s, "R"), 10 / 1.2);
  expect_close(b.voltage(s, "a"), 10 / 1.2);  // printed 8.333 V
  CircuitBuilder shorted;
  shorted.volts("E", "e", "0", 10).resistor("r", "e", "0", 0.2);
  const Solution short_solution = solve(shorted);
  expect_close(shorted.current(short_solution, "r"), 50);
  CircuitBuilder five, one;
  for (int k = 0; k < 5; ++k)
    five.volts("E" + std::to_string(k), "e" + std::to_string(k), "0", 2)
        .resistor("r" + std::to_string(k), "e" + std::to_string(k), "a", 0.2);
  one.volts("E", "e", "0", 2).resistor("r", "e", "a", 0.04);
  for (CircuitBuilder* c : {&five, &one}) c->resistor("R", "a", "0", 0.7);
  const Solution p = solve(five), q = solve(one);
  expect_close(five.current(p, "R"), one.current(q, "R"));
}

TEST(DcReference, TwoLoopsTwoSources) {  // UP2 10.3, m58455, running example, Fig. CNX_UPhysics_27_02_Kirchhoff1
  CircuitBuilder b;
  b.volts("V1", "a", "0", 24)
      .resistor("R1", "a", "b", 3)
      .resistor("R2", "b", "0", 3)
      .resistor("R3", "b", "c", 3)
      .resistor("R4", "c", "d", 4);
  b.volts("V2", "d", "0", 29);
  const Solution s = solve(b);
  expect_close(b.current(s, "R1"), 3);
  expect_close(b.current(s, "R2"), 5);
  expect_close(b.current(s, "R3"), -2);
  expect_close(b.voltage(s, "b"), 15);
  expect_close(b.voltage(s, "c"), 21);
  expect_close(b.power(s, "V1"), -72);
  expect_close(b.power(s, "V2"), -58);
}

TEST(DcReference, LadderWithTheveninAndMaximumPower) {  // LEC DC/src/dcnet.sml, branch current, Millman, Thevenin, Norton,
                                                        // maximum power; figs 00209, 10179, 10204
  const auto ladder = [](double load) {
    CircuitBuilder b;
    b.volts("B1", "a", "0", 28)
        .resistor("R1", "a", "b", 4)
        .resistor("R2", "b", "0", load)
        .resistor("R3", "b", "c", 1)
        .volts("B2", "c", "0", 7);
    return b;
  };
  CircuitBuilder b = ladder(2);
  const Solution s = solve(b);
  expect_close(b.current(s, "R1"), 5);
  expect_close(b.current(s, "R2"), 4);
  expect_close(b.current(s, "R3"), 1);
  expect_close(b.current(s, "B2"), 1);  // it is being charged
  expect_close(b.voltage(s, "a", "b"), 20);
  expect_close(b.voltage(s, "b"), 8);
  expect_close(b.voltage(s, "b", "c"), 1);
  CircuitBuilder open = ladder(1e12), shorted = ladder(1e-9), matched = ladder(0.8);
  const Solution o = solve_operating_point(open.circuit()), k = solve_operating_point(shorted.circuit()), m = solve(matched);
  expect_close(open.voltage(o, "b"), 11.2);
  expect_close(shorted.current(k, "R2"), 14, 1e-8);
  expect_close(open.voltage(o, "b") / shorted.current(k, "R2"), 0.8, 1e-8);
  expect_close(matched.voltage(m, "b"), 5.6);
  expect_close(matched.current(m, "R2"), 7);
  expect_close(matched.power(m, "R2"), 39.2);
  for (const double load : {0.7, 0.9}) {
    CircuitBuilder other = ladder(load);
    EXPECT_LT(other.power(solve(other), "R2"), 39.2);
  }
}

TEST(DcReference,
     UnbalancedBridge) {  // LEC DC/src/dcnet.sml, delta-Y section, tables 10209-10211, fig. 00251; printed in mA and mV
  CircuitBuilder b;
  b.volts("V", "s", "0", 10).resistor("R1", "s", "p", 12).resistor("R2", "s", "q", 18).resistor("R3", "p", "q", 6);
  b.resistor("R4", "p", "0", 18).resistor("R5", "q", "0", 12);
  const Solution s = solve(b);
  EXPECT_NEAR(b.current(s, "R1"), 392.16e-3, 0.005e-3);
  EXPECT_NEAR(b.current(s, "R2"), 294.12e-3, 0.005e-3);
  EXPECT_NEAR(b.current(s, "R3"), 98.04e-3, 0.005e-3);
  EXPECT_NEAR(b.current(s, "R4"), 294.12e-3, 0.005e-3);
  EXPECT_NEAR(b.current(s, "R5"), 392.16e-3, 0.005e-3);
  EXPECT_NEAR(b.voltage(s, "p", "q"), 588.24e-3, 0.005e-3);
  EXPECT_NEAR(-10 / b.current(s, "V"), 14.571, 0.0005);
  expect_close(b.voltage(s, "p"), 90.0 / 17);
  expect_close(b.voltage(s, "q"), 80.0 / 17);
  expect_close(b.current(s, "V"), -35.0 / 51);
}

TEST(DcReference, NodeVoltagePair) {  // LEC DC/src/dcnet.sml, node-voltage section, solved by hand
  CircuitBuilder b;
  b.volts("V1", "s", "0", 10).volts("V2", "t", "0", -4).resistor("R1", "s", "1", 2).resistor("R2", "1", "0", 4);
  b.resistor("R3", "1", "2", 2.5).resistor("R4", "2", "0", 5).resistor("R5", "2", "t", 1);
  const Solution s = solve(b);
  expect_close(b.voltage(s, "1"), 80.0 / 21);
  expect_close(b.voltage(s, "2"), -65.0 / 42);
}

TEST(DcReference, VoltageDivider) {  // LEC DC/src/divider.sml, figs 00106, 10099
  for (const double volts : {45.0, 180.0}) {
    CircuitBuilder b;
    b.volts("V", "a", "0", volts).resistor("R1", "a", "b", 5e3).resistor("R2", "b", "c", 10e3).resistor("R3", "c", "0", 7.5e3);
    const Solution s = solve(b);
    expect_close(b.current(s, "R1"), volts / 22500);
    expect_close(b.voltage(s, "a", "b"), volts * 2 / 9);
    expect_close(b.voltage(s, "c"), volts / 3);
  }
}

TEST(DcReference,
     VoltmeterLoadsADividerAndNoHiddenLeakDoes) {  // LEC DC/src/dcmeter.sml, fig. 00156: 0.8889 V, 12 V without the meter
  CircuitBuilder b;
  b.volts("V", "a", "0", 24).resistor("R1", "a", "b", 250e6).resistor("R2", "b", "0", 250e6);
  expect_close(b.voltage(solve(b), "b"), 12);
  b.resistor("meter", "b", "0", 10e6);
  const Solution s = solve(b);
  expect_close(b.voltage(s, "b"), 8.0 / 9);  // a leak of 1e-12 S at the node would show at 1e-5
  expect_close(b.voltage(s, "a", "b"), 24 - 8.0 / 9);
}

TEST(DcReference,
     MixedCellsInSeries) {  // UP2 10.3, m58455, exercise fs-id1172100584275: 0.617 A, 3.81 W; 0.500 W with a weak cell
  const auto cells = [](double weak) {
    CircuitBuilder b;
    std::string at = "0";
    for (int k = 0; k < 4; ++k) {
      const std::string n = std::to_string(k);
      b.volts("E" + n, "e" + n, at, k == 3 ? 1.53 : 1.58).resistor("r" + n, "e" + n, "t" + n, k == 3 ? weak : 0.02);
      at = "t" + n;
    }
    b.resistor("R", at, "0", 10);
    return b;
  };
  CircuitBuilder fresh = cells(0.1), worn = cells(18);
  const Solution s = solve(fresh), w = solve(worn);
  expect_close(fresh.current(s, "R"), 6.27 / 10.16);
  EXPECT_NEAR(fresh.power(s, "R"), 3.81, 0.005);
  expect_close(worn.power(w, "R"), 10 * std::pow(6.27 / 28.06, 2));
  EXPECT_NEAR(worn.power(w, "R"), 0.500, 0.0018);  // the printed 18.0 ohm is the rounded answer to 0.500 W
}

TEST(DcReference, BalancedWheatstoneBridge) {  // CP 21.5, m42362, exercise fs-id1422615: Rx = 1.56 kohm, exactly 1562.5
  for (const double supply : {1.0, 5.0, 12.0}) {
    CircuitBuilder b;
    b.volts("V", "s", "0", supply).resistor("R1", "s", "p", 1000).resistor("R3", "p", "0", 2500);
    b.resistor("R2", "s", "q", 625).resistor("Rx", "q", "0", 1562.5).resistor("meter", "p", "q", 100);
    const Solution s = solve(b);
    expect_close(b.voltage(s, "p"), supply * 2.5 / 3.5);
    expect_close(b.voltage(s, "q"), supply * 2.5 / 3.5);
    EXPECT_LT(std::fabs(b.current(s, "meter")), 2e-17 * supply);  // a rounding or two of the node voltages over 100 ohm
  }
}

TEST(DcReference, BridgeBalancedByItsThirdArm) {  // the same exercise set: 50, 175 and 100 ohm; R3 = 50 * 100 / 175 = 28.571 (computed)
  const auto meter = [](double r3) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 5).resistor("R1", "s", "p", 50).resistor("R3", "p", "0", r3);
    b.resistor("R2", "s", "q", 175).resistor("Rx", "q", "0", 100).resistor("meter", "p", "q", 100);
    return b.current(solve(b), "meter");
  };
  EXPECT_LT(std::fabs(meter(50.0 * 100 / 175)), 5e-15);  // 1e-15 A per volt of supply
  EXPECT_LT(meter(28.571 * 0.999), -1e-6);
  EXPECT_GT(meter(28.571 * 1.001), 1e-6);
}

double total_capacitance(CircuitBuilder& b, double volts) {  // charged through 1 ohm from `volts` at "s", settled
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(1);
  EXPECT_TRUE(simulation.solution().ok());
  EXPECT_TRUE(simulation.at_rest());
  double charge = 0;
  for (const std::string c : {"C1", "C2", "C3"}) {
    const Element& e = b.circuit().elements[size_t(b.element(c))];
    if (b.circuit().terminals[size_t(e.first_terminal)] != b.node("a")) continue;
    charge += b.circuit().parameters[size_t(e.first_parameter)] *
              (simulation.solution().node_voltage[size_t(b.node("a"))] -
               simulation.solution().node_voltage[size_t(b.circuit().terminals[size_t(e.first_terminal) + 1])]);
  }
  return charge / volts;
}

TEST(DcReference, CapacitorNetworks) {  // UP2 8.2, m58449, examples fs-id1167131097759, …134512809, …131127008, …131223019
  CircuitBuilder b;
  b.volts("V", "s", "0", 12)
      .resistor("R", "s", "a", 1)
      .capacitor("C1", "a", "x", 12e-6)
      .capacitor("C2", "x", "0", 2e-6)
      .capacitor("C3", "x", "0", 4e-6);
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(1e-2);
  const Solution& s = simulation.solution();
  expect_close(b.voltage(s, "a", "x"), 4, 1e-6);
  expect_close(b.voltage(s, "x"), 8, 1e-6);
  expect_close(12e-6 * b.voltage(s, "a", "x"), 48.0e-6, 1e-6);
  expect_close(2e-6 * b.voltage(s, "x"), 16.0e-6, 1e-6);
  expect_close(4e-6 * b.voltage(s, "x"), 32.0e-6, 1e-6);
  Simulation early(b.circuit());  // 12 V over 12 uF in series with 6 uF behind 1 ohm: 4 us, settled long before 1 ms
  early.start_from_initial_conditions();
  early.advance(1e-3);
  expect_close(b.voltage(early.solution(), "x"), 8, 1e-6);
  CircuitBuilder series, parallel, mixed;
  for (CircuitBuilder* c : {&series, &parallel, &mixed}) c->volts("V", "s", "0", 10).resistor("R", "s", "a", 1);
  series.capacitor("C1", "a", "x", 1e-6).capacitor("C2", "x", "y", 5e-6).capacitor("C3", "y", "0", 8e-6);
  parallel.capacitor("C1", "a", "0", 1e-6).capacitor("C2", "a", "0", 5e-6).capacitor("C3", "a", "0", 8e-6);
  mixed.capacitor("C1", "a", "x", 1e-6).capacitor("C2", "x", "0", 5e-6).capacitor("C3", "a", "0", 8e-6);
  EXPECT_NEAR(total_capacitance(series, 10), 0.755e-6, 0.0005e-6);
  EXPECT_NEAR(total_capacitance(parallel, 10), 14.0e-6, 0.05e-6);
  EXPECT_NEAR(total_capacitance(mixed, 10), 8.833e-6, 0.0005e-6);
}

}  // namespace
}  // namespace tiepoint
