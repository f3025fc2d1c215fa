// Newton's method on one island: the strides towards a settled state end where the usual steps do, and where bisection does.
#include "engine/solver/newton.h"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <string>
#include <vector>

#include "engine/devices/junction.h"
#include "engine/solver/motion.h"
#include "tests/engine/build_circuit.h"
#include "tests/engine/random_circuit.h"

namespace tiepoint {
namespace {

struct Solved {
  bool ok = true;
  int iterations = 0;
  std::vector<double> volts;  // per node of the circuit
};

// From nothing, by plain Newton with either rule; no other method comes to its help.
Solved solve_from_zero(const Circuit& circuit, bool strides) {
  Parameters parameters(circuit);
  EXPECT_FALSE(parameters.fill(circuit, circuit.parameters));
  const SolverPlan plan = make_plan(circuit);
  HeldVoltages held(plan, parameters);
  Solved out;
  out.volts.assign(size_t(circuit.node_count), 0.0);
  for (int i = 0; i < plan.island_count; ++i) {
    Island island;
    island.build(circuit, plan, i, parameters);
    island.refresh(parameters, 0);
    const auto voltages = held.at(island, 0, 0);
    island.prepare(0, voltages);
    island.strides = strides;
    const NewtonResult result = newton(island, {.settled = true}, {}, 400);
    out.ok = out.ok && result.ok, out.iterations += result.iterations;
    for (int row = 0; row < island.node_count; ++row) out.volts[size_t(island.node_of_row[size_t(row)])] = island.x[size_t(row)];
  }
  return out;
}

// The root of a rising function, to the last digit of a long double.
long double bisect(const std::function<long double(long double)>& f, long double low, long double high) {
  for (int k = 0; k < 200; ++k) {
    const long double middle = (low + high) / 2;
    (f(middle) < 0 ? low : high) = middle;
  }
  return (low + high) / 2;
}
long double shockley(long double is, long double v1, long double v) { return is * expm1l(v / v1); }

constexpr double kVt = kThermalVoltage;

TEST(Newton, ADiodeBehindAResistorIsWhereBisectionFindsItWithEitherRule) {
  int usual = 0, longer = 0;
  for (const double volts : {-3.0, 0.3, 1.5, 5.0, 48.0})
    for (const double ohms : {1.0, 47.0, 1e3, 1e5, 1e7})
      for (const auto& [is, n, rs] : std::vector<std::tuple<double, double, double>>{{5e-9, 1.8, 0}, {1e-14, 1, 0.5}, {1e-18, 2, 5}}) {
        CircuitBuilder b;
        b.volts("V", "in", "0", volts).resistor("R", "in", "out", ohms).diode("D", "out", "0", is, n, rs);
        // v across all, i = IS (exp((v - RS i) / n VT) - 1) and i = (V - v) / R, so that the junction has v - RS (V - v) / R.
        const auto excess = [&, is = is, n = n, rs = rs](long double v) {
          const long double i = (static_cast<long double>(volts) - v) / ohms;
          return shockley(is, static_cast<long double>(n) * kVt, v - rs * i) - i;
        };
        const double truth = double(bisect(excess, std::min(volts, 0.0) - 1e-9, std::max(volts, 0.0) + 1e-9));
        for (const bool strides : {false, true}) {
          const Solved s = solve_from_zero(b.circuit(), strides);
          ASSERT_TRUE(s.ok) << volts << " V " << ohms << " ohm";
          EXPECT_NEAR(s.volts[size_t(b.node("out"))], truth, 2e-7) << volts << " V " << ohms << " ohm, IS " << is;
          (strides ? longer : usual) += s.iterations;
        }
      }
  EXPECT_LT(longer, usual);
}

TEST(Newton, AZenerIsWhereBisectionFindsItWithEitherRule) {
  for (const double volts : {4.0, 6.0, 7.3, 9.0, 12.0, 60.0})  // at 6 V what is stopped at the bend came back rounded, and was stopped again
    for (const double ohms : {10.0, 33.0, 470.0, 1e5}) {
      CircuitBuilder b;
      b.volts("V", "in", "0", volts).resistor("R", "in", "out", ohms);
      b.add("D", ElementKind::kDiode, {"0", "out"}, {1e-12, 1, 0, kVt, 0, 0, 5.1});  // 1 mA at 5.1 V
      const auto excess = [&](long double v) {
        return 1e-3L * expl((v - 5.1L) / kVt) + 1e-12L * (1 - expl(-v / kVt)) - (static_cast<long double>(volts) - v) / ohms;
      };
      const double truth = double(bisect(excess, 0, volts));
      for (const bool strides : {false, true}) {
        const Solved s = solve_from_zero(b.circuit(), strides);
        ASSERT_TRUE(s.ok) << volts << " V " << ohms << " ohm";
        EXPECT_NEAR(s.volts[size_t(b.node("out"))], truth, 2e-7) << volts << " V " << ohms << " ohm";
      }
    }
}

// The base current alone decides (Ebers & Moll with VBC < 0 far enough is i = IS/BF (exp(VBE/VT) - 1), less what leaks back through BC), so
// bisection on VBE and then on VCE finds the point, saturated or not.
TEST(Newton, ATransistorIsWhereBisectionFindsItWithEitherRule) {
  int usual = 0, longer = 0;
  const long double is = 1e-14L, bf = 100, br = 2;
  for (const double sign : {1.0, -1.0})
    for (const double in : {0.2, 0.6, 0.8, 1.2, 5.0})
      for (const double rb : {1e3, 1e4, 1e6})
        for (const double rc : {47.0, 1e3, 1e5}) {
          CircuitBuilder b;
          b.volts("VCC", "cc", "0", sign * 5).volts("VIN", "in", "0", sign * in);
          b.resistor("RB", "in", "b", rb).resistor("RC", "cc", "c", rc);
          b.add("Q", sign > 0 ? ElementKind::kNpn : ElementKind::kPnp, {"c", "b", "0"}, {1e-14, 100, 2});
          const auto collector = [&](long double vbe) {
            return bisect(
                [&](long double vce) {
                  const long double f = shockley(is, kVt, vbe), r = shockley(is, kVt, vbe - vce);
                  return f - r - r / br - (5 - vce) / rc;
                },
                -1, 6);
          };
          const long double vbe = bisect(
              [&](long double v) {
                return shockley(is, kVt, v) / bf + shockley(is, kVt, v - collector(v)) / br - (static_cast<long double>(in) - v) / rb;
              },
              -1, in);
          const long double vce = collector(vbe);
          for (const bool strides : {false, true}) {
            const Solved s = solve_from_zero(b.circuit(), strides);
            ASSERT_TRUE(s.ok) << in << " V, RB " << rb << ", RC " << rc;
            EXPECT_NEAR(sign * s.volts[size_t(b.node("b"))], double(vbe), 3e-7) << in << " V, RB " << rb << ", RC " << rc;
            EXPECT_NEAR(sign * s.volts[size_t(b.node("c"))], double(vce), 3e-7) << in << " V, RB " << rb << ", RC " << rc;
            (strides ? longer : usual) += s.iterations;
          }
        }
  EXPECT_LT(longer, usual);
}

// An optocoupler's open base: what leaks in from the collector leaves through the emitter. Dark, with the collector high, that is
// IS/BF (exp(VBE/VT) - 1) = IS/BR, VBE = VT ln(1 + BF/BR): nothing but leakage of 1e-16 A decides it. With light, c i comes on top.
TEST(Newton, AnOptocouplersOpenBaseIsWhereItsLeakagePutsIt) {
  int usual = 0, longer = 0;
  for (const double saturation : {1e-12, 1e-14, 1e-16})
    for (const double gain : {20.0, 300.0, 2000.0})
      for (const double light : {0.0, 1e-9, 1e-6, 1e-3}) {
        CircuitBuilder b;
        b.volts("V", "c", "0", 5).amperes("I", "0", "a", light).resistor("RL", "a", "0", 1e9);
        b.add("U", ElementKind::kOptocoupler, {"a", "0", "b", "c", "0"}, {2.93e-12, 2, 1.5, 1e-3, saturation, gain, 5});
        const long double v1 = 2 * static_cast<long double>(kVt), c = 1e-3L;
        const long double va = bisect(
            [&](long double v) {  // of the LED's junction, in which i is
              const long double i = shockley(2.93e-12L, v1, v);
              return i + (v + 1.5L * i) / 1e9L - light;
            },
            0, 5);
        const long double i = shockley(2.93e-12L, v1, va);
        const long double vbe = kVt * logl(1 + static_cast<long double>(gain) / saturation * (saturation / 5 + c * i));
        for (const bool strides : {false, true}) {
          const Solved s = solve_from_zero(b.circuit(), strides);
          ASSERT_TRUE(s.ok) << saturation << " A, gain " << gain << ", " << light << " A";
          EXPECT_NEAR(s.volts[size_t(b.node("b"))], double(vbe), 1e-6) << saturation << " A, gain " << gain << ", " << light << " A";
          (strides ? longer : usual) += s.iterations;
        }
      }
  EXPECT_LT(longer, usual);
}

TEST(Newton, BothRulesAgreeOnRandomCircuitsAndStridesNeedFewerIterations) {
  int usual = 0, longer = 0, both = 0;
  for (unsigned seed = 1; seed <= 80; ++seed) {
    CircuitBuilder b = random_circuit(seed, 4 + int(seed % 30), {.junctions = true});
    const Solved s = solve_from_zero(b.circuit(), false), t = solve_from_zero(b.circuit(), true);
    if (!s.ok || !t.ok) continue;  // others come to help then
    ++both, usual += s.iterations, longer += t.iterations;
    for (size_t n = 0; n < s.volts.size(); ++n) EXPECT_NEAR(s.volts[n], t.volts[n], 1e-8 * (1 + std::fabs(s.volts[n]))) << seed;
  }
  EXPECT_GT(both, 75);
  EXPECT_LT(longer, usual);
}

TEST(Newton, ASolvedStateTellsOfNoStridesLeftBehind) {  // they are for the first attempt at a settled state alone
  CircuitBuilder b;
  b.volts("V", "in", "0", 5).resistor("R", "in", "out", 100).led_a("D", "out", "0");
  Parameters parameters(b.circuit());
  ASSERT_FALSE(parameters.fill(b.circuit(), b.circuit().parameters));
  const SolverPlan plan = make_plan(b.circuit());
  HeldVoltages held(plan, parameters);
  Island island;
  island.build(b.circuit(), plan, 0, parameters);
  island.refresh(parameters, 0);
  island.prepare(0, held.at(island, 0, 0));
  ASSERT_TRUE(solve_stubbornly(island, {.settled = true}, {}, held.at(island, 0, 0)).ok);
  EXPECT_FALSE(island.strides);
}

}  // namespace
}  // namespace tiepoint
