// Laws that need no table, and linear algebra of another hand: Eigen's fully pivoting elimination (Guennebaud, Jacob et al., Eigen 3) over
// the circuit's equations written down here a second time.
#include <gtest/gtest.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

#include "engine/solver/linear_solver.h"
#include "tests/engine/random_circuit.h"

namespace tiepoint {
namespace {

using Number = long double;
using Matrix = Eigen::Matrix<Number, Eigen::Dynamic, Eigen::Dynamic>;
using Column = Eigen::Matrix<Number, Eigen::Dynamic, 1>;

// Node voltages of a circuit of resistors, sources and diodes by modified nodal analysis (Ho, Ruehli, Brennan, IEEE Trans. CAS 22, 1975).
// A diode (IS, n, RS) stands in by its tangent at the current it carries in `at`: the solution of the nonlinear circuit is the one whose
// own tangents lead back to it.
std::vector<double> by_full_pivoting(CircuitBuilder& b, const Solution& at) {
  const Circuit& circuit = b.circuit();
  int size = circuit.node_count;
  for (const Element& e : circuit.elements) size += e.kind == ElementKind::kVoltageSource;
  Matrix a = Matrix::Zero(size, size);
  Column right = Column::Zero(size);
  int extra = circuit.node_count;
  for (const Element& e : circuit.elements) {
    const int p = circuit.terminals[size_t(e.first_terminal)], n = circuit.terminals[size_t(e.first_terminal) + 1];
    const double* v = circuit.parameters.data() + e.first_parameter;
    const auto conduct = [&](Number g, Number source) {  // i = g (vp - vn) + source
      a(p, p) += g, a(n, n) += g, a(p, n) -= g, a(n, p) -= g;
      right(p) -= source, right(n) += source;
    };
    switch (e.kind) {
      case ElementKind::kResistor: conduct(1 / Number(v[0]), 0); break;
      case ElementKind::kCurrentSource: conduct(0, v[1]); break;
      case ElementKind::kVoltageSource:
        a(p, extra) += 1, a(n, extra) -= 1, a(extra, p) += 1, a(extra, n) -= 1;
        right(extra++) = v[1];
        break;
      case ElementKind::kDiode: {
        const Number i = at.terminal_current[size_t(e.first_terminal)], slope = Number(v[1]) * 0.025852L / (i + v[0]) + v[2];
        const Number volts = Number(v[1]) * 0.025852L * std::log1p(i / v[0]) + v[2] * i;
        conduct(1 / slope, i - volts / slope);
        break;
      }
      default: ADD_FAILURE() << "no equation for it here";
    }
  }
  const int zero = b.node("0");
  a.row(zero).setZero(), a(zero, zero) = 1, right(zero) = 0;
  const Column x = Eigen::FullPivLU<Matrix>(a).solve(right);
  std::vector<double> voltage(size_t(circuit.node_count));
  for (int k = 0; k < circuit.node_count; ++k) voltage[size_t(k)] = double(x(k));
  return voltage;
}

TEST(LawsReference, FullPivotingOfAnotherHandAgreesOnRandomLinearCircuits) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    CircuitBuilder b = random_circuit(seed, 3 + int(seed), {});
    const Solution s = solve_operating_point(b.circuit());
    ASSERT_TRUE(s.ok()) << seed;
    const std::vector<double> expected = by_full_pivoting(b, s);
    for (size_t k = 0; k < expected.size(); ++k)
      EXPECT_NEAR(s.node_voltage[k], expected[k], 1e-9 * (1e-3 + std::fabs(expected[k]))) << seed << " " << k;
  }
}

TEST(LawsReference, TangentsAtANonlinearSolutionLeadBackToItByFullPivoting) {
  int compared = 0;
  for (unsigned seed = 1; seed <= 200; ++seed) {
    CircuitBuilder b = random_circuit(seed, 3 + int(seed % 12), {.junctions = true});
    const Solution s = solve_operating_point(b.circuit());
    ASSERT_TRUE(s.ok()) << seed;
    bool blocking = false;  // the logarithm of a blocking junction's current says nothing of its voltage
    for (const Element& e : b.circuit().elements)
      blocking = blocking || (e.kind == ElementKind::kDiode && s.terminal_current[size_t(e.first_terminal)] < 1e-12);
    if (blocking) continue;
    ++compared;
    const std::vector<double> expected = by_full_pivoting(b, s);
    for (size_t k = 0; k < expected.size(); ++k)
      EXPECT_NEAR(s.node_voltage[k], expected[k], 1e-7 * (1e-3 + std::fabs(expected[k]))) << seed << " " << k;
  }
  EXPECT_GE(compared, 20);
}

TEST(LawsReference, DenseSparseAndFullPivotingAgreeOnRandomMatrices) {
  std::mt19937 random(11);
  const auto unit = [&] { return double(random()) / 2147483648.0 - 1; };
  for (const int size : {2, 5, 17, 40, 41, 120})
    for (int round = 0; round < 5; ++round) {
      std::vector<std::pair<int, int>> places;
      for (int k = 0; k < size; ++k) {
        places.emplace_back(k, (k + 1) % size), places.emplace_back((k + 1) % size, k);  // a third of the diagonal is empty
        if (k % 3) places.emplace_back(k, k);
        places.emplace_back(k, int(random() % unsigned(size)));
      }
      std::sort(places.begin(), places.end());
      places.erase(std::unique(places.begin(), places.end()), places.end());
      Eigen::MatrixXd a = Eigen::MatrixXd::Zero(size, size);
      for (const auto& [row, column] : places) a(row, column) = unit();
      Eigen::VectorXd right(size);
      for (int k = 0; k < size; ++k) right(k) = unit();
      const Eigen::FullPivLU<Eigen::MatrixXd> full(a);
      if (full.rcond() < 1e-6) continue;
      const Eigen::VectorXd expected = full.solve(right);
      for (const Storage storage : {Storage::kDense, Storage::kSparse}) {
        LinearSolver solver;
        solver.analyse(size, size, places, storage);
        std::vector<double> values(size_t(solver.slot_count()), 0.0), x(right.data(), right.data() + size);
        for (const auto& [row, column] : places) values[size_t(solver.slot(row, column))] = a(row, column);
        ASSERT_EQ(solver.factor(values.data()), -1);
        solver.solve(x.data());
        for (int k = 0; k < size; ++k)
          EXPECT_NEAR(x[size_t(k)], expected(k), 1e-9 * expected.cwiseAbs().maxCoeff()) << size << " " << round << " " << int(storage);
      }
    }
}

// ---- A chain of coils and capacitors without loss

constexpr double kCapacitance[] = {1e-6, 2.2e-6, 0.47e-6}, kInductance[] = {10e-3, 4.7e-3, 22e-3};

struct Charge {
  double volts[3], amperes[3];
};

CircuitBuilder chain(const Charge& start) {
  CircuitBuilder b;
  for (int k = 0; k < 3; ++k) {
    const std::string n = std::to_string(k);
    b.capacitor("C" + n, "c" + n, "0", kCapacitance[k], start.volts[k]);
    b.inductor("L" + n, "c" + n, k == 2 ? "0" : "c" + std::to_string(k + 1), kInductance[k], start.amperes[k]);
  }
  return b;
}

Charge charge(CircuitBuilder& b, const Solution& s) {
  Charge c;
  for (int k = 0; k < 3; ++k) {
    c.volts[k] = b.voltage(s, "c" + std::to_string(k));
    c.amperes[k] = b.current(s, "L" + std::to_string(k));
  }
  return c;
}

double energy(const Charge& c) {
  double sum = 0;
  for (int k = 0; k < 3; ++k)
    sum += 0.5 * kCapacitance[k] * c.volts[k] * c.volts[k] + 0.5 * kInductance[k] * c.amperes[k] * c.amperes[k];
  return sum;
}

TEST(LawsReference, LosslessChainRunBackwardsComesBack) {  // currents turned round, time runs backwards
  const Charge start = {{5, 0, -2}, {0, 0.01, 0}};
  CircuitBuilder b = chain(start);
  SolverOptions o;
  o.relative_tolerance = 1e-7;
  Simulation there(b.circuit(), o);
  there.start_from_initial_conditions();
  there.advance(3e-3);  // several periods of the fastest swing
  Charge turned = charge(b, there.solution());
  EXPECT_GT(std::fabs(turned.volts[0] - 5), 0.5);  // it has moved
  for (double& i : turned.amperes) i = -i;
  CircuitBuilder r = chain(turned);
  Simulation back(r.circuit(), o);
  back.start_from_initial_conditions();
  back.advance(3e-3);
  const Charge end = charge(r, back.solution());
  for (int k = 0; k < 3; ++k) {
    EXPECT_NEAR(end.volts[k], start.volts[k], 5e-4) << k;
    EXPECT_NEAR(end.amperes[k], -start.amperes[k], 5e-6) << k;
  }
}

TEST(LawsReference, LosslessChainNeverGainsEnergy) {  // the method may damp, and must not feed
  for (const double tolerance : {1e-2, 1e-3, 1e-4}) {
    CircuitBuilder b = chain({{5, 0, -2}, {0, 0.01, 0}});
    SolverOptions o;
    o.relative_tolerance = tolerance;
    Simulation simulation(b.circuit(), o);
    simulation.start_from_initial_conditions();
    const double start = energy(charge(b, simulation.solution()));
    double last = start;
    for (int k = 1; k <= 200; ++k) {
      simulation.advance(k * 1e-4);
      const double now = energy(charge(b, simulation.solution()));
      EXPECT_LE(now, last + 1e-6 * start) << tolerance << " " << k;
      last = now;
    }
    EXPECT_GT(last, start * (1 - 100 * tolerance)) << tolerance;
  }
}

TEST(LawsReference, ErrorGoesWithTheTolerance) {  // a low-pass under a sine, in closed form
  constexpr double kTau = 1e-3, kOmega = 2 * std::numbers::pi * 200;
  double error[2];
  int k = 0;
  for (const double tolerance : {1e-3, 1e-5}) {
    CircuitBuilder b;
    b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 5, 0, 200});
    b.resistor("R", "s", "c", 1e3).capacitor("C", "c", "0", 1e-6);
    SolverOptions o;
    o.relative_tolerance = tolerance;
    Simulation simulation(b.circuit(), o);
    simulation.start_from_initial_conditions();
    error[k] = 0;
    for (int i = 1; i <= 20; ++i) {
      const double t = i * 1e-3, w = kOmega * kTau;
      simulation.advance(t);
      const double exact = 5 / (1 + w * w) * (std::sin(kOmega * t) - w * std::cos(kOmega * t) + w * std::exp(-t / kTau));
      error[k] = std::max(error[k], std::fabs(b.voltage(simulation.solution(), "c") - exact));
    }
    ++k;
  }
  EXPECT_LT(error[0], 1e-3 * 5);
  EXPECT_LT(error[1], 1e-5 * 5);
  EXPECT_LT(error[1], 0.5 * error[0]);
}

// ---- Time: linear circuits are linear on their way too, and numbering is of no account

CircuitBuilder pulsed(double sign, const std::vector<std::string>& order = {}) {
  CircuitBuilder b;
  for (const std::string& n : order) b.node(n);
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kPulse), sign * 5, 0, 0, 0, 1e-4, 1e-6, 1e-6, 4e-4});
  b.amperes("I", "0", "d", sign * 2e-3).resistor("R1", "s", "a", 100).capacitor("C1", "a", "0", 1e-6).inductor("L", "a", "d", 5e-3);
  b.resistor("R2", "d", "0", 330).capacitor("C2", "d", "e", 0.47e-6).resistor("R3", "e", "0", 47);
  return b;
}

TEST(LawsReference, ReversingEverySourceNegatesALinearTransient) {
  CircuitBuilder b = pulsed(1), r = pulsed(-1);
  Simulation s(b.circuit()), t(r.circuit());
  s.settle(), t.settle();
  for (int k = 1; k <= 40; ++k) {
    s.advance(k * 2.5e-5), t.advance(k * 2.5e-5);
    for (const std::string n : {"a", "d", "e"})
      EXPECT_NEAR(b.voltage(s.solution(), n), -r.voltage(t.solution(), n), 1e-9) << k << " " << n;
  }
}

TEST(LawsReference, NumberingNodesOtherwiseChangesNoTransient) {
  CircuitBuilder b = pulsed(1), p = pulsed(1, {"e", "d", "s", "a"});
  Simulation s(b.circuit()), t(p.circuit());
  s.settle(), t.settle();
  for (int k = 1; k <= 40; ++k) {
    s.advance(k * 2.5e-5), t.advance(k * 2.5e-5);
    for (const std::string n : {"a", "d", "e"})
      EXPECT_NEAR(b.voltage(s.solution(), n), p.voltage(t.solution(), n), 1e-8) << k << " " << n;
  }
}

}  // namespace
}  // namespace tiepoint
