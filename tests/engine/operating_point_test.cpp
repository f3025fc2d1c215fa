// Laws of the settled state: currents sum to zero, power balances, linear circuits are linear; and circuits that have no
// answer, or none everywhere, say so.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "engine/solver/island.h"
#include "engine/solver/motion.h"
#include "engine/solver/newton.h"
#include "tests/engine/build_circuit.h"
#include "tests/engine/random_circuit.h"

namespace tiepoint {
namespace {

TEST(OperatingPoint, CurrentsSumToZeroAndPowerBalancesOnRandomCircuits) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    CircuitBuilder b = random_circuit(seed, 4 + int(seed % 30), {.junctions = true});
    const Solution s = solve_operating_point(b.circuit());
    ASSERT_TRUE(s.ok()) << seed << " " << text(*s.error);
    EXPECT_LT(s.statistics.residual, 1e-12) << seed;
    double given = 0;
    for (const std::string name : {"V1", "V2", "I1"}) given += std::fabs(b.power(s, name));
    EXPECT_LT(s.statistics.power_imbalance, 1e-12 * (1 + given)) << seed;
  }
}

TEST(OperatingPoint, ReversingEverySourceNegatesALinearCircuit) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CircuitBuilder b = random_circuit(seed, 12, {}), r = random_circuit(seed, 12, {.sources_reversed = true});
    const Solution s = solve_operating_point(b.circuit()), t = solve_operating_point(r.circuit());
    ASSERT_TRUE(s.ok() && t.ok());
    for (size_t n = 0; n < s.node_voltage.size(); ++n)
      EXPECT_NEAR(s.node_voltage[n], -t.node_voltage[n], 1e-10 * (1 + std::fabs(s.node_voltage[n])));
  }
}

TEST(OperatingPoint, ScalingResistancesKeepsVoltagesOfVoltageDrivenCircuits) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CircuitBuilder b = random_circuit(seed, 9, {}), k = random_circuit(seed, 9, {.scale = 37});
    const auto off = [](CircuitBuilder& c) {
      c.circuit().parameters[size_t(c.circuit().elements[size_t(c.element("I1"))].first_parameter) + 1] = 0;
    };
    off(b), off(k);
    const Solution s = solve_operating_point(b.circuit()), t = solve_operating_point(k.circuit());
    for (size_t n = 0; n < s.node_voltage.size(); ++n) EXPECT_NEAR(s.node_voltage[n], t.node_voltage[n], 1e-9);
    EXPECT_NEAR(b.current(s, "V1"), 37 * k.current(t, "V1"), 1e-9 * std::fabs(b.current(s, "V1")));
  }
}

TEST(OperatingPoint, NumberingNodesOtherwiseChangesNothing) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    std::vector<int> order(15);
    for (int k = 0; k < 15; ++k) order[size_t(k)] = k + 1;
    std::mt19937 random(seed);
    std::shuffle(order.begin(), order.end(), random);
    CircuitBuilder b = random_circuit(seed, 15, {.junctions = true}),
                   p = random_circuit(seed, 15, {.junctions = true, .node_order = order});
    const Solution s = solve_operating_point(b.circuit()), t = solve_operating_point(p.circuit());
    ASSERT_TRUE(s.ok() && t.ok());
    for (int k = 1; k <= 15; ++k)
      EXPECT_NEAR(b.voltage(s, "n" + std::to_string(k)), p.voltage(t, "n" + std::to_string(k)), 1e-8);
  }
}

TEST(OperatingPoint, ResistorNetworksAreReciprocal) {  // a source here felt there is the same source there felt here
  for (unsigned seed = 1; seed <= 10; ++seed) {
    const auto transfer = [&](int from, int to) {
      CircuitBuilder b = random_circuit(seed, 10, {});
      for (const std::string name : {"V1", "V2"}) {
        const int e = b.element(name);
        b.circuit().parameters[size_t(b.circuit().elements[size_t(e)].first_parameter) + 1] = 0;
      }
      b.circuit().parameters[size_t(b.circuit().elements[size_t(b.element("I1"))].first_parameter) + 1] = 0;
      b.amperes("X", "0", "n" + std::to_string(from), 1e-3);
      const Solution s = solve_operating_point(b.circuit());
      return b.voltage(s, "n" + std::to_string(to));
    };
    EXPECT_NEAR(transfer(3, 7), transfer(7, 3), 1e-12 + 1e-10 * std::fabs(transfer(3, 7)));
  }
}

TEST(OperatingPoint, AllWaysToSolveAgreeOnRandomCircuits) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    CircuitBuilder b = random_circuit(seed, 25, {.junctions = true});
    const Circuit& circuit = b.circuit();
    Parameters parameters(circuit);
    ASSERT_FALSE(parameters.fill(circuit, circuit.parameters));
    const SolverPlan plan = make_plan(circuit);
    HeldVoltages held(plan, parameters);
    for (int i = 0; i < plan.island_count; ++i) {
      Row<double> x[3];
      int k = 0;
      for (const Storage storage : {Storage::kDense, Storage::kSparse, Storage::kAutomatic}) {
        Island island;
        island.build(circuit, plan, i, parameters, storage);
        island.refresh(parameters, 0);
        island.prepare(0, held.at(island, 0, 0));
        ASSERT_TRUE(solve_stubbornly(island, {.settled = true}, {}, held.at(island, 0, 0)).ok);
        x[k++] = island.x;
      }
      for (size_t n = 0; n < x[0].size(); ++n)
        for (const auto& other : {x[1], x[2]}) EXPECT_NEAR(x[0][n], other[n], 1e-9 * (1 + std::fabs(x[0][n])));
    }
  }
}

TEST(OperatingPoint, ALadderOfTwoThousandNodesIsSolvedSparse) {
  CircuitBuilder b;
  b.volts("V", "n0", "0", 5);
  for (int k = 0; k < 1000; ++k) {
    const std::string from = "n" + std::to_string(k), to = "n" + std::to_string(k + 1);
    b.resistor("R" + std::to_string(k), from, to, 10).led_a("D" + std::to_string(k), to, "0");
  }
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_LT(s.statistics.residual, 1e-11);
  EXPECT_EQ(s.statistics.unknowns, 1000);
}

TEST(OperatingPoint, NodesHeldBySourcesSplitTheCircuitIntoIslands) {
  CircuitBuilder b;
  b.volts("V", "rail", "0", 9);
  for (int k = 0; k < 8; ++k) {
    const std::string n = std::to_string(k);
    b.resistor("R" + n, "rail", "a" + n, 1000).led_a("D" + n, "a" + n, "0");
  }
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_EQ(s.statistics.islands, 8);
  EXPECT_EQ(s.statistics.unknowns, 8);
  EXPECT_NEAR(b.current(s, "V"), -8 * b.current(s, "D0"), 1e-12);
}

TEST(OperatingPoint, StackedSourcesNeedNoUnknowns) {
  CircuitBuilder b;
  b.volts("V1", "a", "0", 1.5)
      .volts("V2", "b", "a", 1.5)
      .volts("V3", "b", "c", 4.5)
      .resistor("R1", "b", "0", 300)
      .resistor("R2", "c", "a", 30);
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_EQ(s.statistics.unknowns, 0);
  EXPECT_DOUBLE_EQ(b.voltage(s, "b"), 3);
  EXPECT_DOUBLE_EQ(b.voltage(s, "c"), -1.5);
  EXPECT_DOUBLE_EQ(b.current(s, "R2"), -0.1);
  EXPECT_DOUBLE_EQ(b.current(s, "V3"), -0.1 * -1 * -1);
  EXPECT_LT(s.statistics.power_imbalance, 1e-15);
}

TEST(OperatingPoint, PartsWithoutASupplyCarryNothingAndShowNoReading) {
  CircuitBuilder b;
  b.volts("V", "a", "0", 5).resistor("R1", "a", "0", 100).resistor("R2", "x", "y", 100).led_a("D", "y", "x");
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_TRUE(std::isnan(s.node_voltage[size_t(b.node("x"))]) && std::isnan(s.node_voltage[size_t(b.node("y"))]));
  EXPECT_EQ(b.current(s, "R2"), 0);
  EXPECT_DOUBLE_EQ(b.current(s, "R1"), 0.05);
}

TEST(OperatingPoint, SeriesCapacitorsShareTheVoltageByTheirCharge) {  // UP2 8.2: the smaller one takes more
  CircuitBuilder b;
  b.volts("V", "s", "0", 12).capacitor("C1", "s", "x", 12e-6).capacitor("C2", "x", "0", 2e-6).capacitor("C3", "x", "0", 4e-6);
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_NEAR(b.voltage(s, "x"), 8, 1e-12);
  EXPECT_EQ(b.current(s, "V"), 0);
}

TEST(OperatingPoint, SeriesCapacitorsWithResistanceInsideShareAlike) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 12).resistor("R", "x", "y", 4700);
  b.add("C1", ElementKind::kCapacitor, {"s", "x"}, {12e-6, NAN, 0.5})
      .add("C2", ElementKind::kCapacitor, {"y", "0"}, {6e-6, NAN, 0});
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_NEAR(b.voltage(s, "x"), 8, 1e-12);
  EXPECT_NEAR(b.voltage(s, "y"), 8, 1e-12);
}

TEST(OperatingPoint, ChargeGivenToAnInnerNodeStays) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 12).capacitor("C1", "s", "x", 1e-6, 2).capacitor("C2", "x", "0", 1e-6, 4);  // 2 µC on the node between
  EXPECT_NEAR(b.voltage(solve_operating_point(b.circuit()), "x"), 7, 1e-12);
}

TEST(OperatingPoint, ACapacitorWithOneLegInTheAirTakesNoCharge) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 100).capacitor("C", "a", "air", 1e-6);
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_NEAR(b.voltage(s, "air"), 5, 1e-12);
  EXPECT_EQ(b.current(s, "V"), 0);
}

TEST(OperatingPoint, AGateInTheAirHasNoReading) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5)
      .resistor("R", "s", "d", 1000)
      .resistor("RG", "g", "g2", 100)
      .add("Q", ElementKind::kNmos, {"d", "g", "0"}, {0.25, 2.1});
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_TRUE(std::isnan(s.node_voltage[size_t(b.node("g"))]));
  EXPECT_NEAR(b.voltage(s, "d"), 5, 1e-12);
}

TEST(OperatingPoint, ReversedDiodesInSeriesAreSolved) {
  CircuitBuilder b;
  b.volts("V", "s", "0", -5).resistor("R", "s", "a", 220).led_a("D1", "a", "b").led_a("D2", "b", "c").led_a("D3", "c", "0");
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_LT(std::fabs(b.current(s, "V")), 1e-15);
}

// No current flows, so the voltage is that of the source everywhere; by the sum of the metal's conductances alone, 50 S each, it would be
// several per cent off: 1 TΩ is lost in its last digits.
TEST(OperatingPoint, MetalThatOnlyOpenContactsJoinToTheRestHasTheVoltageBehindThem) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 10);
  for (int k = 0; k < 5; ++k) {
    const std::string here = "m" + std::to_string(k), next = "m" + std::to_string(k + 1);
    b.resistor("open" + std::to_string(k), "s", here, 1e13).resistor("metal" + std::to_string(k), here, next, 0.02);
  }
  b.inductor("coil", "m2", "m5", 0.5);
  for (const double level : {10.0, -3.0}) {
    b.circuit().parameters[size_t(b.circuit().elements[0].first_parameter) + 1] = level;
    const Solution s = solve_operating_point(b.circuit());
    ASSERT_TRUE(s.ok());
    for (int k = 0; k < 6; ++k) EXPECT_NEAR(b.voltage(s, "m" + std::to_string(k)), level, 1e-5) << k;
  }
}

TEST(OperatingPoint, ALimitedSupplyIntoAShortGivesItsLimit) {
  CircuitBuilder b;
  b.add("PS", ElementKind::kLimitedSupply, {"p", "0"}, {5, 0.1, 0.5}).resistor("short", "p", "0", 0.02);
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_NEAR(b.current(s, "short"), 0.5, 1e-4);
}

TEST(OperatingPoint, SwitchedOffSupplyLeavesItsCircuitDead) {
  CircuitBuilder b;
  b.add("PS", ElementKind::kLimitedSupply, {"p", "0"}, {0, 1e10, 0.5}).resistor("R", "p", "a", 220).led_a("D", "a", "0");
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_EQ(b.current(s, "D"), 0);
}

TEST(OperatingPoint, IdealSourcesInALoopAreNamed) {
  CircuitBuilder b;
  b.volts("V1", "a", "0", 5).volts("V2", "a", "0", 5.1).resistor("R", "a", "0", 100);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_FALSE(s.ok());
  EXPECT_EQ(s.error->code, Code::kSourceLoop);
  EXPECT_EQ(s.error->part, "V2");
}

TEST(OperatingPoint, AnIdealCoilAcrossAnIdealSourceHasNoSettledState) {
  CircuitBuilder b;
  b.volts("V1", "a", "0", 5).inductor("L1", "a", "0", 1e-3);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_FALSE(s.ok());
  EXPECT_EQ(s.error->part, "L1");
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  simulation.advance(1e-3);
  ASSERT_TRUE(simulation.solution().ok());
  EXPECT_NEAR(b.current(simulation.solution(), "L1"), 5, 1e-9);  // V t / L
}

TEST(OperatingPoint, ACurrentThatCanGoNowhereNamesElementAndNodeAndGivesNoNumbers) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "0", 100).amperes("I1", "0", "x", 1e-3).capacitor("C", "x", "0", 1e-6);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_FALSE(s.ok());
  EXPECT_EQ(s.error->code, Code::kNoSolution);
  EXPECT_EQ(s.error->part, "I1");
  EXPECT_EQ(s.error->found, "x");
  for (const double v : s.node_voltage) EXPECT_TRUE(std::isnan(v));
  for (const double v : s.terminal_current) EXPECT_TRUE(std::isnan(v));
  for (const double v : s.voltage_rate) EXPECT_TRUE(std::isnan(v));
}

TEST(OperatingPoint, AParameterOutOfBoundsIsNamed) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R7", "s", "0", 0);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_FALSE(s.ok());
  EXPECT_EQ(s.error->code, Code::kBadValue);
  EXPECT_EQ(s.error->part, "R7");
  EXPECT_TRUE(std::isnan(s.node_voltage[0]));
}

TEST(OperatingPoint, AnEmptyCircuitIsSolved) {
  const Solution s = solve_operating_point(CircuitBuilder().circuit());
  EXPECT_TRUE(s.ok());
  EXPECT_EQ(s.node_voltage[0], 0);
}

TEST(OperatingPoint, BothLegsInOneNodeCarryNothing) {
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "s", 100).led_a("D", "s", "s").capacitor("C", "0", "0", 1e-6);
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok());
  EXPECT_EQ(b.current(s, "R"), 0);
}

// Every way out must lead to the same answer as the straight way, with nothing of its own left in it.
TEST(OperatingPoint, HardStartsStillFindTheAnswer) {
  CircuitBuilder b;  // a chain of ten direct-coupled transistors, each driving the next into saturation
  b.volts("V", "cc", "0", 9).resistor("RB0", "cc", "b0", 1e5);
  for (int k = 0; k < 10; ++k) {
    const std::string base = "b" + std::to_string(k), next = "b" + std::to_string(k + 1);
    b.resistor("RC" + base, "cc", next, 2200).add("Q" + base, ElementKind::kNpn, {next, base, "0"}, {1e-14, 200, 2});
  }
  const Solution s = solve_operating_point(b.circuit());
  ASSERT_TRUE(s.ok()) << text(*s.error);
  EXPECT_LT(s.statistics.residual, 1e-12);
}

}  // namespace
}  // namespace tiepoint
