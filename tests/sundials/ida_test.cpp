// Nonlinear transients against IDA (Hindmarsh et al., SUNDIALS, ACM TOMS 31, 2005). The equations are written down here a
// second time, by hand, from Kirchhoff's laws and the device formulas; nothing of the engine's equations is used.
#include <gtest/gtest.h>
#include <ida/ida.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

using Residual = std::function<void(double t, const double* y, const double* yp, double* r)>;

int call(realtype t, N_Vector y, N_Vector yp, N_Vector r, void* user) {
  (*static_cast<Residual*>(user))(t, N_VGetArrayPointer(y), N_VGetArrayPointer(yp), N_VGetArrayPointer(r));
  return 0;
}

class Ida {
 public:
  Ida(Residual residual, std::vector<double> y, std::vector<double> yp, const std::vector<double>& differential,
      double first_stop, double longest)
      : residual_(std::move(residual)) {
    SUNContext_Create(nullptr, &context_);
    const auto vector_of = [&](const std::vector<double>& from) {
      N_Vector v = N_VNew_Serial(sunindextype(from.size()), context_);
      std::copy(from.begin(), from.end(), N_VGetArrayPointer(v));
      return v;
    };
    y_ = vector_of(y), yp_ = vector_of(yp), id_ = vector_of(differential);
    ida_ = IDACreate(context_);
    EXPECT_EQ(IDAInit(ida_, call, 0, y_, yp_), IDA_SUCCESS);
    IDASStolerances(ida_, 1e-8, 1e-10);
    IDASetUserData(ida_, &residual_);
    IDASetMaxNumSteps(ida_, 1000000);
    IDASetMaxStep(ida_, longest);  // or it passes over half a mains period in one step
    matrix_ = SUNDenseMatrix(sunindextype(y.size()), sunindextype(y.size()), context_);
    solver_ = SUNLinSol_Dense(y_, matrix_, context_);
    IDASetLinearSolver(ida_, solver_, matrix_);
    IDASetId(ida_, id_);
    IDASetSuppressAlg(ida_, 1);
    EXPECT_EQ(IDACalcIC(ida_, IDA_YA_YDP_INIT, first_stop), IDA_SUCCESS);
  }
  ~Ida() {
    IDAFree(&ida_);
    SUNLinSolFree(solver_);
    SUNMatDestroy(matrix_);
    for (N_Vector v : {y_, yp_, id_}) N_VDestroy(v);
    SUNContext_Free(&context_);
  }
  const double* advance(double t) {
    realtype reached = 0;
    EXPECT_GE(IDASolve(ida_, t, &reached, y_, yp_, IDA_NORMAL), 0);
    EXPECT_DOUBLE_EQ(reached, t);
    return N_VGetArrayPointer(y_);
  }

 private:
  Residual residual_;
  SUNContext context_ = nullptr;
  void* ida_ = nullptr;
  N_Vector y_ = nullptr, yp_ = nullptr, id_ = nullptr;
  SUNMatrix matrix_ = nullptr;
  SUNLinearSolver solver_ = nullptr;
};

constexpr double kVt = 0.025852;

TEST(AgainstIda, RectifierWithSmoothing) {
  const auto diode = [](double v) { return 5e-9 * std::expm1(v / (1.8 * kVt)); };
  const Residual equations = [&](double t, const double* y, const double* yp, double* r) {  // y: anode, output
    r[0] = (y[0] - 10 * std::sin(2 * std::numbers::pi * 50 * t)) / 1 + diode(y[0] - y[1]);
    r[1] = 1e-4 * yp[1] + y[1] / 1e3 - diode(y[0] - y[1]);
  };
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50})
      .resistor("RS", "s", "a", 1)
      .silicon("D", "a", "c");
  b.capacitor("C", "c", "0", 1e-4, 1).resistor("R", "c", "0", 1e3);
  for (const double tolerance : {1e-3, 1e-5}) {
    Simulation simulation(b.circuit(), {.relative_tolerance = tolerance});
    simulation.start_from_initial_conditions();
    Ida ida(equations, {0, 1}, {0, -10}, {0, 1}, 1e-4, 2e-5);
    for (int k = 1; k <= 50; ++k) {
      simulation.advance(k * 1e-3);
      const double* y = ida.advance(k * 1e-3);
      EXPECT_NEAR(b.voltage(simulation.solution(), "c"), y[1], tolerance * 10) << k;
      EXPECT_NEAR(b.voltage(simulation.solution(), "a"), y[0], tolerance * 10) << k;
    }
  }
}

TEST(AgainstIda, CoilDiodeAndCapacitor) {  // a boost of charge: the coil's current goes through the diode into the capacitor
  const auto diode = [](double v) { return 1e-12 * std::expm1(v / kVt); };
  const Residual equations = [&](double, const double* y, const double* yp, double* r) {  // y: coil current, anode, output
    r[0] = 1e-2 * yp[0] + 20 * y[0] - (5 - y[1]);
    r[1] = y[0] - diode(y[1] - y[2]);
    r[2] = 1e-5 * yp[2] + y[2] / 500 - y[0];
  };
  Ida ida(equations, {0.1, 0.7, 0}, {0, 0, 0}, {1, 0, 1}, 1e-6, 1e-5);
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).add("L", ElementKind::kInductor, {"s", "a"}, {1e-2, 0.1, 20}).diode("D", "a", "c", 1e-12, 1);
  b.capacitor("C", "c", "0", 1e-5).resistor("R", "c", "0", 500);
  Simulation simulation(b.circuit(), {.relative_tolerance = 1e-5});
  simulation.start_from_initial_conditions();
  for (int k = 1; k <= 16; ++k) {  // while it conducts
    simulation.advance(k * 5e-5);
    const double* y = ida.advance(k * 5e-5);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), y[0], 1e-5) << k;
    EXPECT_NEAR(b.voltage(simulation.solution(), "c"), y[2], 1e-3) << k;
  }
}

// Two-transistor flasher: the instants at which the first collector rises through half the supply.
struct Flasher {
  static constexpr double kSupply = 9, kRc = 1e3, kC = 1e-6, kIs = 1e-14, kBf = 200, kBr = 2, kCbe = 1e-9, kCbc = 2e-10;
  static constexpr double kRb[2] = {47e3, 39e3};
};

// When the signal rises through `middle`, interpolated between samples.
std::vector<double> crossings(const std::function<double(double)>& signal, double middle, double run, double sample) {
  std::vector<double> found;
  double last = signal(sample);
  for (int k = 2; k * sample < run; ++k) {
    const double now = signal(k * sample);
    if (last < middle && now >= middle) found.push_back((k - 1 + (middle - last) / (now - last)) * sample);
    last = now;
  }
  return found;
}

void expect_same_intervals(const std::vector<double>& ours, const std::vector<double>& theirs, double allowed) {
  ASSERT_GE(theirs.size(), 4u);
  ASSERT_EQ(ours.size(), theirs.size());
  for (size_t k = 1; k < ours.size(); ++k)
    EXPECT_NEAR(ours[k] - ours[k - 1], theirs[k] - theirs[k - 1], allowed * (theirs[k] - theirs[k - 1])) << k;
}

TEST(AgainstIda, TwoTransistorFlasherKeepsTime) {
  using F = Flasher;
  const auto transistor = [](double vbe, double vbc, double* ic, double* ib) {
    const double f = F::kIs * std::expm1(vbe / kVt), r = F::kIs * std::expm1(vbc / kVt);
    *ic = f - r - r / F::kBr, *ib = f / F::kBf + r / F::kBr;
  };
  const Residual equations = [&](double, const double* y, const double* yp, double* r) {  // y: c1, b1, c2, b2
    for (int k = 0; k < 2; ++k) {
      const int c = 2 * k, base = c + 1, other_c = 2 - c, other_base = other_c + 1;
      double ic, ib;
      transistor(y[base], y[base] - y[c], &ic, &ib);
      const double feedback = F::kCbc * (yp[base] - yp[c]);
      r[c] = (y[c] - F::kSupply) / F::kRc + ic - feedback + F::kC * (yp[c] - yp[other_base]);
      r[base] = (y[base] - F::kSupply) / F::kRb[k] + ib + feedback + F::kCbe * yp[base] + F::kC * (yp[base] - yp[other_c]);
    }
  };
  Ida ida(equations, {0, 0, 0, 0}, {0, 0, 0, 0}, {1, 1, 1, 1}, 1e-9, 1e-3);
  const std::vector<double> theirs = crossings([&](double t) { return ida.advance(t)[0]; }, F::kSupply / 2, 0.25, 1e-5);
  CircuitBuilder b;
  b.volts("V", "cc", "0", F::kSupply);
  for (int k = 0; k < 2; ++k) {
    const std::string n = std::to_string(k), other = std::to_string(1 - k);
    b.resistor("RC" + n, "cc", "c" + n, F::kRc)
        .resistor("RB" + n, "cc", "b" + n, F::kRb[k])
        .capacitor("C" + n, "c" + n, "b" + other, F::kC);
    b.add("Q" + n, ElementKind::kNpn, {"c" + n, "b" + n, "0"}, {F::kIs, F::kBf, F::kBr, kVt, F::kCbe, F::kCbc});
  }
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  const auto collector = [&](double t) {
    simulation.advance(t);
    return b.voltage(simulation.solution(), "c0");
  };
  expect_same_intervals(crossings(collector, F::kSupply / 2, 0.25, 1e-5), theirs, 2e-3);
}

TEST(AgainstIda, RingOfFiveInverters) {  // MOSFETs with a drain resistor and a capacitor each
  constexpr double kSupply = 5, kR = 1e3, kC = 1e-9, kK = 0.02, kVth = 1.5;
  const auto drain_current = [](double vgs, double vds) {
    const double over = vgs - kVth;
    return over <= 0 ? 0 : vds < over ? kK * (over * vds - vds * vds / 2) : kK / 2 * over * over;
  };
  const Residual equations = [&](double, const double* y, const double* yp, double* r) {
    for (int k = 0; k < 5; ++k) r[k] = kC * yp[k] + (y[k] - kSupply) / kR + drain_current(y[(k + 4) % 5], y[k]);
  };
  CircuitBuilder b;
  b.volts("V", "dd", "0", kSupply);
  std::vector<double> start = {5, 0, 5, 0, 2}, slope(5);
  for (int k = 0; k < 5; ++k) {
    const std::string n = std::to_string(k), before = std::to_string((k + 4) % 5);
    b.resistor("R" + n, "dd", "o" + n, kR).capacitor("C" + n, "o" + n, "0", kC, start[size_t(k)]);
    b.add("Q" + n, ElementKind::kNmos, {"o" + n, "o" + before, "0"}, {kK, kVth, 0, 0});
    slope[size_t(k)] = ((kSupply - start[size_t(k)]) / kR - drain_current(start[size_t((k + 4) % 5)], start[size_t(k)])) / kC;
  }
  Ida ida(equations, start, slope, {1, 1, 1, 1, 1}, 1e-9, 1e-7);
  const std::vector<double> theirs = crossings([&](double t) { return ida.advance(t)[0]; }, kSupply / 2, 40e-6, 2e-8);
  for (const double tolerance : {1e-3, 1e-5}) {
    Simulation simulation(b.circuit(), {.relative_tolerance = tolerance});
    simulation.start_from_initial_conditions();
    const auto output = [&](double t) {
      simulation.advance(t);
      return b.voltage(simulation.solution(), "o0");
    };
    expect_same_intervals(crossings(output, kSupply / 2, 40e-6, 2e-8), theirs, tolerance > 1e-4 ? 1e-2 : 1e-3);
  }
}

TEST(AgainstIda, CapacitorEmptiedThroughAnLed) {
  const Residual equations = [](double, const double* y, const double* yp, double* r) {  // y: capacitor, anode
    r[0] = 1e-3 * yp[0] + (y[0] - y[1]) / 220;
    r[1] = (y[0] - y[1]) / 220 - 1e-18 * std::expm1(y[1] / (2 * kVt));
  };
  Ida ida(equations, {5, 1.92}, {-14, 0}, {1, 0}, 1e-4, 1e-2);
  CircuitBuilder b;
  b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).led_a("D", "a", "0");
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  for (int k = 1; k <= 50; ++k) {
    simulation.advance(k * 0.04);
    const double* y = ida.advance(k * 0.04);
    EXPECT_NEAR(b.voltage(simulation.solution(), "c"), y[0], 1e-3 * 5) << k;
    EXPECT_NEAR(b.voltage(simulation.solution(), "a"), y[1], 1e-3 * 2) << k;
  }
}

}  // namespace
}  // namespace tiepoint
