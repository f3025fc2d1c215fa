// How a circuit is taken apart. Where every element joins all its terminals by direct current, knots are not looked for: nothing else may
// come out otherwise.
#include "engine/solver/plan.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>
#include <vector>

#include "tests/engine/build_circuit.h"
#include "tests/engine/random_circuit.h"

namespace tiepoint {
namespace {

struct Told {
  std::vector<std::vector<int>> nodes;  // of each island
  std::vector<int> island_of_element, held, row;
  std::vector<bool> reading;
  int knots = 0;
  friend bool operator==(const Told&, const Told&) = default;
};

Told told(const Circuit& circuit, int nodes, size_t elements) {  // of the first so many
  const SolverPlan plan = make_plan(circuit);
  Told out;
  for (int i = 0; i < plan.island_count; ++i) {
    std::vector<int> own;
    for (const int node : plan.island_nodes[i])
      if (node < nodes) own.push_back(node);
    if (!own.empty()) out.nodes.push_back(own);
    out.knots += int(plan.island_knots[size_t(i)].size());
  }
  for (size_t e = 0; e < elements; ++e) out.island_of_element.push_back(plan.island_of_element[e]);
  for (int n = 0; n < nodes; ++n) {
    out.held.push_back(plan.held_of_node[size_t(n)]), out.row.push_back(plan.row_of_node[size_t(n)]);
    out.reading.push_back(plan.has_reading[size_t(n)]);
  }
  return out;
}

TEST(Plan, ACircuitThatIsJoinedThroughoutIsTakenApartAsOneIsThatIsLookedThroughForKnots) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    CircuitBuilder b = random_circuit(seed, 3 + int(seed % 25), {.junctions = true});
    if (seed % 3 == 0) b.resistor("RA", "loose 1", "loose 2", 1e3).led_a("DA", "loose 2", "loose 1");  // no source, no reference
    if (seed % 4 == 0) b.volts("VA", "held", "0", 3).resistor("RH", "held", "alone", 1e3).resistor("RI", "alone", "0", 1e3);
    const int nodes = b.circuit().node_count;
    const size_t elements = b.circuit().elements.size();
    const Told joined = told(b.circuit(), nodes, elements);
    b.capacitor("C", "0", "0", 1e-6);  // does nothing but to have knots looked for
    const Told looked = told(b.circuit(), nodes, elements);
    EXPECT_EQ(joined, looked) << seed;
    EXPECT_EQ(joined.knots, 0) << seed;
  }
}

TEST(Plan, OneElementWithoutAPathForDirectCurrentIsEnoughToLookForKnots) {
  CircuitBuilder b;
  b.volts("V", "in", "0", 5).resistor("R", "in", "mid", 1e3).capacitor("C1", "mid", "top", 1e-6).capacitor("C2", "top", "0", 1e-6);
  const SolverPlan plan = make_plan(b.circuit());
  ASSERT_EQ(plan.island_count, 1);
  ASSERT_EQ(plan.island_knots[0].size(), 1u);
  ASSERT_EQ(plan.island_knots[0][0].size(), 1u);
  EXPECT_EQ(plan.island_knots[0][0][0], b.node("top"));
}

TEST(Plan, AGateIsAKnotAndChannelAndBaseAreNone) {
  CircuitBuilder b;
  b.volts("V", "in", "0", 5).resistor("R", "in", "drain", 1e3);
  b.add("M", ElementKind::kNmos, {"drain", "gate", "0"}, {0.25, 2.1, 1e-11, 2e-12});
  b.add("Q", ElementKind::kNpn, {"drain", "base", "0"}, {1e-14, 100, 2});
  const SolverPlan plan = make_plan(b.circuit());
  ASSERT_EQ(plan.island_count, 1);
  ASSERT_EQ(plan.island_knots[0].size(), 1u);
  EXPECT_EQ(plan.island_knots[0][0][0], b.node("gate"));
}

}  // namespace
}  // namespace tiepoint
