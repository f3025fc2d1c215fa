// Diodes, LEDs and transistors, against closed forms and integrations of the same device equations made with other tools.
// "Computed": evaluated with mpmath to 40 digits, or integrated with two SciPy methods that agree (Radau, DOP853).
// VT = 0.025852 V. LED-A: IS 1e-18 A, n 2; LED-B: IS 1e-26 A, n 2.2, RS 5 ohm; D-S: IS 5e-9 A, n 1.8.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

SolverOptions with(double tolerance) {
  SolverOptions o;
  o.relative_tolerance = tolerance;
  return o;
}

void expect_close(double value, double expected, double relative = 1e-6) {
  EXPECT_NEAR(value, expected, relative * std::fabs(expected));
}

TEST(JunctionReference, NamedDevicesAtTheirCurrents) {  // computed
  struct Row {
    double is, n, rs, current, voltage;
  };
  for (const Row& r : {Row{1e-18, 2, 0, 0.02, 1.940684}, Row{1e-26, 2.2, 5, 0.02, 3.282418}, Row{5e-9, 1.8, 0, 1e-3, 0.567993},
                       Row{5e-9, 1.8, 0, 1e-2, 0.675140}}) {
    CircuitBuilder b;
    b.amperes("I", "0", "a", r.current).diode("D", "a", "0", r.is, r.n, r.rs);
    const Solution s = solve_operating_point(b.circuit());
    ASSERT_TRUE(s.ok());
    EXPECT_NEAR(b.voltage(s, "a"), r.voltage, 0.5e-6);
  }
}

TEST(JunctionReference,
     DroppingResistorOfAConstantDropLed) {  // LEC Semi/src/diode.sml, LED section, fig. 03295(a): 6 V, 1.6 V, 220 ohm,
                                            // 20 mA, 88 mW; here an exponential that passes 1.6 V at 20 mA
  CircuitBuilder b;
  const double is = 0.02 / std::expm1(1.6 / (2 * 0.025852));
  b.volts("V", "s", "0", 6).resistor("R", "s", "a", 220).diode("D", "a", "0", is, 2);
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_NEAR(b.current(s, "R"), 0.02, 0.02 * 0.02);
  EXPECT_NEAR(b.power(s, "R"), 0.088, 0.04 * 0.088);
}

TEST(JunctionReference,
     PublishedDiodeAndResistor) {  // Boost.Math example lambert_w_diode.cpp, after Banwell & Jayakumar, Electron. Lett.
                                   // 36(4) 291, 2000: printed 0.00108485 A; grid computed. VT 0.0257025 V.
  struct Row {
    double outer, volts, current;
  };
  const Row rows[] = {{249, 0.9, 1.0848517386e-3}, {2.18, 0.6, 3.327966246e-4}, {2.18, 0.8, 3.325733740e-2},
                      {10, 0.7, 3.747051074e-3},   {51, 0.8, 2.840438479e-3},   {249, 0.6, 1.138759171e-4},
                      {249, 0.7, 3.884826460e-4}};
  for (const Row& r : rows) {
    CircuitBuilder b;
    b.volts("V", "s", "0", r.volts)
        .resistor("R", "s", "a", r.outer)
        .add("D", ElementKind::kDiode, {"a", "0"}, {25e-15, 1, 0.3, 0.0257025});
    expect_close(b.current(solve_operating_point(b.circuit()), "D"), r.current);
  }
  CircuitBuilder b;  // what the example prints: W = 10.5225, I = 0.00108485 A, ln I = -6.82631
  b.volts("V", "s", "0", 0.9).resistor("R", "s", "a", 249).add("D", ElementKind::kDiode, {"a", "0"}, {25e-15, 1, 0.3, 0.0257025});
  const double current = b.current(solve_operating_point(b.circuit()), "D");
  EXPECT_NEAR(current, 0.00108485, 0.5e-8);
  EXPECT_NEAR(std::log(current), -6.82631, 0.5e-5);
  EXPECT_NEAR((current + 25e-15) * 249.3 / 0.0257025, 10.5225, 0.5e-4);  // I = (n VT / R) W - IS
}

TEST(JunctionReference, LedOnFiveVoltsThroughAResistor) {  // computed with Lambert W
  struct Row {
    double ohms, current, volts;
  };
  const Row rows[] = {{47, 0.0638154368866, 2.00067446633},      {100, 0.0303770579891, 1.96229420109},
                      {150, 0.0203888018558, 1.94167972164},     {220, 0.0139899742048, 1.92220567493},
                      {330, 0.00938913111987, 1.90158673044},    {470, 0.00663063535303, 1.88360138408},
                      {1e3, 0.00315480303208, 1.84519696792},    {2.2e3, 0.00145223461936, 1.80508383741},
                      {4.7e3, 0.000687987993292, 1.76645643153}, {10e3, 0.000327197043712, 1.72802956288},
                      {47e3, 7.12926679511e-5, 1.64924460630},   {100e3, 3.38920318865e-5, 1.61079681135},
                      {1e6, 3.50649694016e-6, 1.49350305984}};
  for (const Row& r : rows) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 5).resistor("R", "s", "a", r.ohms).led_a("D", "a", "0");
    const Solution s = solve_operating_point(b.circuit());
    expect_close(b.current(s, "D"), r.current);
    expect_close(b.voltage(s, "a"), r.volts);
  }
}

TEST(JunctionReference, ReversedLedPassesNothing) {  // exactly -1e-18 A; 1e-11 A would pass
  CircuitBuilder b;
  b.volts("V", "s", "0", 5).resistor("R", "s", "a", 220).led_a("D", "0", "a");
  EXPECT_LT(std::fabs(b.current(solve_operating_point(b.circuit()), "D")), 1e-11);
}

TEST(JunctionReference, TenLedsInParallelOnOneResistor) {  // computed: n alike are one with n times IS
  for (const bool mismatch : {false, true}) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 5).resistor("R", "s", "a", 100);
    for (int k = 0; k < 10; ++k) b.diode("D" + std::to_string(k), "a", "0", mismatch && k == 9 ? 4e-18 : 1e-18, 2);
    const Solution s = solve_operating_point(b.circuit());
    expect_close(b.current(s, "R"), mismatch ? 0.0316815003174 : 0.0315480303208);
    expect_close(b.voltage(s, "a"), mismatch ? 1.83184996826 : 1.84519696792);
    expect_close(b.current(s, "D0"), mismatch ? 2.43703848595e-3 : 3.15480303208e-3);
    expect_close(b.current(s, "D9"), mismatch ? 9.74815394380e-3 : 3.15480303208e-3);
  }
}

TEST(JunctionReference,
     CapacitorEmptiedThroughAnLed) {  // computed, closed form of time against current; DOP853 agrees to 9 digits
  struct Row {
    double t, current, volts;
  };
  const Row rows[] = {{0.05, 0.0111927531279, 4.37307752335}, {0.1, 0.00896398160793, 3.87126681119},
                      {0.2, 0.00577282806322, 3.14646056147}, {0.5, 0.00163630692674, 2.17124163091},
                      {1, 0.000310953097827, 1.79380645192},  {2, 6.33439518897e-5, 1.65706813609},
                      {5, 1.47886137777e-5, 1.57117102133}};
  const double reached[][2] = {{10e-3, 0.0753408978914}, {5e-3, 0.233003677615},   {2e-3, 0.450098838627}, {1e-3, 0.628443218350},
                               {0.5e-3, 0.832639598073}, {0.1e-3, 1.60034793881}, {10e-6, 6.76027665927}};
  struct Accuracy {
    double tolerance, allowed;
  };
  for (const Accuracy& a : {Accuracy{1e-3, 1e-3}, Accuracy{1e-5, 1e-4}}) {
    CircuitBuilder b;
    b.capacitor("C", "c", "0", 1e-3, 5).resistor("R", "c", "a", 220).led_a("D", "a", "0");
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    expect_close(b.current(simulation.solution(), "D"), 0.0139899742048);
    for (const Row& r : rows) {
      simulation.advance(r.t);
      EXPECT_NEAR(b.current(simulation.solution(), "D"), r.current, a.allowed * 0.014);
      EXPECT_NEAR(b.voltage(simulation.solution(), "c"), r.volts, a.allowed * 5);
    }
    Simulation again(b.circuit(), with(a.tolerance));
    again.start_from_initial_conditions();
    for (const auto& [current, t] : reached) {
      again.advance(t);
      EXPECT_NEAR(b.current(again.solution(), "D"), current, a.allowed * 0.014) << t;
    }
  }
}

CircuitBuilder rectifier() {
  CircuitBuilder b;
  b.add("V", ElementKind::kVoltageSource, {"s", "0"}, {double(Waveform::kSine), 10, 0, 50})
      .resistor("RS", "s", "a", 1)
      .silicon("D", "a", "c");
  b.capacitor("C", "c", "0", 1e-4).resistor("R", "c", "0", 1e3);
  return b;
}

struct Sample {
  double t, v;
};
constexpr Sample kRectified[] = {{2.5e-3, 6.0129810336}, {5e-3, 9.2447472563},  {7.5e-3, 9.0845828982}, {10e-3, 8.8602836238},
                                 {15e-3, 8.4281622486},  {20e-3, 8.0171156815}, {25e-3, 9.2447497187},  {30e-3, 8.8602844019},
                                 {40e-3, 8.0171163855},  {45e-3, 9.2447497187}, {60e-3, 8.0171163855},  {65e-3, 9.2447497187},
                                 {100e-3, 8.0171163855}};

TEST(JunctionReference, HalfWaveRectifierWithSmoothing) {  // computed; Radau and DOP853 agree to 2e-12 V
  struct Accuracy {
    double tolerance, allowed;
  };
  for (const Accuracy& a : {Accuracy{1e-3, 9.2e-3}, Accuracy{1e-5, 0.92e-3}}) {
    CircuitBuilder b = rectifier();
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.start_from_initial_conditions();
    for (const Sample& s : kRectified) {
      simulation.advance(s.t);
      EXPECT_NEAR(b.voltage(simulation.solution(), "c"), s.v, a.allowed) << s.t;
    }
  }
}

TEST(JunctionReference, RectifierWithFixedSteps) {  // the trapezoidal rule errs by 1 mV at 100 us and 0.1 mV at 20 us
  struct Step {
    double h, allowed;
  };
  double worst[2] = {0, 0};
  int k = 0;
  for (const Step& step : {Step{100e-6, 2e-3}, Step{20e-6, 0.1e-3}}) {
    CircuitBuilder b = rectifier();
    SolverOptions o = with(1e9);
    o.longest_step = step.h;
    Simulation simulation(b.circuit(), o);
    simulation.start_from_initial_conditions();
    for (const Sample& s : kRectified) {
      simulation.advance(s.t);
      worst[k] = std::max(worst[k], std::fabs(b.voltage(simulation.solution(), "c") - s.v));
    }
    EXPECT_LT(worst[k], step.allowed);
    ++k;
  }
  EXPECT_GT(worst[0] / worst[1], 10);  // 25 for second order
}

TEST(JunctionReference, TwoDiodeOr) {  // computed
  const auto output = [](double a, double c) {
    CircuitBuilder b;
    b.volts("A", "a", "0", a)
        .volts("B", "b", "0", c)
        .silicon("D1", "a", "y")
        .silicon("D2", "b", "y")
        .resistor("R", "y", "0", 10e3);
    const Solution s = solve_operating_point(b.circuit());
    EXPECT_TRUE(s.ok());
    return b.voltage(s, "y");
  };
  EXPECT_NEAR(output(0, 0), 0, 1e-9);
  expect_close(output(5, 0), 4.46948056498);
  expect_close(output(0, 5), 4.46948056498);
  expect_close(output(5, 5), 4.50140401915);
}

TEST(TransistorReference,
     BaseBiasAndItsDependenceOnGain) {  // LEC Semi/src/bjt.sml biasing calculations, figs 13060, 13065, 03487, with
                                        // VBE 0.7 V: printed 1.02 and 3.07 mA; (beta + 1) IB: 1.03220, 3.07615 mA
  struct Row {
    double gain, emitter_current;
  };
  for (const Row& r : {Row{100, 1.03220e-3}, Row{300, 3.07615e-3}}) {
    CircuitBuilder b;
    b.volts("V", "cc", "0", 10).resistor("RB", "cc", "b", 910e3).resistor("RC", "cc", "c", 1e3);
    b.add("Q", ElementKind::kNpn, {"c", "b", "0"}, {1e-14, r.gain, 2});
    const Solution s = solve_operating_point(b.circuit());
    EXPECT_NEAR(-b.current(s, "Q", 2), r.emitter_current, 0.03 * r.emitter_current);
    // Half a per cent when the junction drops the book's 0.7 V at this very current.
    const double is = r.emitter_current * r.gain / (r.gain + 1) / std::expm1(0.7 / 0.025852);
    CircuitBuilder same;
    same.volts("V", "cc", "0", 10).resistor("RB", "cc", "b", 910e3).resistor("RC", "cc", "c", 1e3);
    same.add("Q", ElementKind::kNpn, {"c", "b", "0"}, {is, r.gain, 2});
    const Solution t = solve_operating_point(same.circuit());
    EXPECT_NEAR(-same.current(t, "Q", 2), r.emitter_current, 0.005 * r.emitter_current);
    EXPECT_NEAR(r.gain * same.current(t, "Q", 1), r.gain == 100 ? 1.02e-3 : 3.07e-3, 0.005e-3);  // as printed: beta IB
    EXPECT_GT(same.voltage(t, "c"), 1);  // active
  }
  CircuitBuilder ideal;  // for 1 mA at a gain of 100 the book finds 930 kohm: beta IB = 1 mA
  ideal.volts("V", "cc", "0", 10).resistor("RB", "cc", "b", 930e3).resistor("RC", "cc", "c", 1e3);
  ideal.add("Q", ElementKind::kNpn, {"c", "b", "0"}, {1e-3 / std::expm1(0.7 / 0.025852), 100, 2});
  EXPECT_NEAR(ideal.current(solve_operating_point(ideal.circuit()), "Q"), 1e-3, 1e-8);
}

TEST(TransistorReference, NpnSwitch) {  // computed, Ebers-Moll: VCC 5 V, RC 1 kohm, RB 10 kohm, IS 1e-14 A, BF 100, BR 2
  struct Row {
    double vin, vbe, vce, ic, ib;
  };
  const Row rows[] = {{0.5, 0.49975142680, 4.9975142675, 2.4857325e-6, 2.4857320e-8},
                      {0.6, 0.59139131610, 4.9139131604, 8.6086839552e-5, 8.6086839e-7},
                      {0.7, 0.64110452580, 4.4110452575, 5.8895474249e-4, 5.8895474e-6},
                      {0.8, 0.66294045001, 3.6294044996, 1.3705955004e-3, 1.3705955e-5},
                      {1.0, 0.68449480439, 1.8449480434, 3.1550519566e-3, 3.1550520e-5},
                      {1.2, 0.69547998049, 0.18101054835, 4.8189894517e-3, 5.0452001951e-5},
                      {2, 0.69714376170, 0.090112402867, 4.9098875971e-3, 1.3028562383e-4},
                      {5, 0.70134124640, 0.054381556922, 4.9456184431e-3, 4.2986587536e-4}};
  for (const bool pnp : {false, true}) {
    const double sign = pnp ? -1 : 1;
    const auto solve = [&](double vin, CircuitBuilder& b) {
      b.volts("V", "cc", "0", sign * 5)
          .volts("VI", "in", "0", sign * vin)
          .resistor("RC", "cc", "c", 1e3)
          .resistor("RB", "in", "b", 10e3);
      b.add("Q", pnp ? ElementKind::kPnp : ElementKind::kNpn, {"c", "b", "0"}, {1e-14, 100, 2});
      return solve_operating_point(b.circuit());
    };
    for (const Row& r : rows) {
      CircuitBuilder b;
      const Solution s = solve(r.vin, b);
      ASSERT_TRUE(s.ok());
      expect_close(sign * b.voltage(s, "b"), r.vbe);
      expect_close(sign * b.voltage(s, "c"), r.vce);
      EXPECT_NEAR(sign * b.current(s, "Q", 0), r.ic, 1e-6 * r.ic + 1e-9);
      EXPECT_NEAR(sign * b.current(s, "Q", 1), r.ib, 1e-6 * r.ib + 1e-9);
    }
    CircuitBuilder off;
    const Solution s = solve(0, off);
    EXPECT_NEAR(sign * off.voltage(s, "c"), 5, 1e-9);
    EXPECT_LT(std::fabs(off.voltage(s, "b")), 1e-9);
  }
}

TEST(TransistorReference, MosfetSwitch) {  // computed, square law in closed form: VDD 5 V, K 0.25 A/V^2, Vth 2.1 V
  struct Row {
    double vgs, ohms, vds, id;
  };
  const Row rows[] = {{2.0, 47, 5, 0},
                      {2.0, 1e3, 5, 0},
                      {2.3, 47, 4.7650000, 5e-3},
                      {2.3, 1e3, 0.16380049752, 4.8361995025e-3},
                      {2.5, 47, 4.0600000, 20e-3},
                      {2.5, 1e3, 0.052978633129, 4.9470213669e-3},
                      {3.3, 47, 0.39043628412, 98.075823742e-3},
                      {3.3, 1e3, 0.016727495475, 4.9832725045e-3},
                      {5, 47, 0.14612834715, 103.27386495e-3},
                      {5, 1e3, 0.0068952383457, 4.9931047617e-3}};
  for (const bool p_channel : {false, true})
    for (const Row& r : rows) {
      const double sign = p_channel ? -1 : 1;
      CircuitBuilder b;
      b.volts("V", "dd", "0", sign * 5).volts("VG", "g", "0", sign * r.vgs).resistor("RD", "dd", "d", r.ohms);
      b.add("Q", p_channel ? ElementKind::kPmos : ElementKind::kNmos, {"d", "g", "0"}, {0.25, 2.1});
      const Solution s = solve_operating_point(b.circuit());
      ASSERT_TRUE(s.ok());
      expect_close(sign * b.voltage(s, "d"), r.vds);
      EXPECT_NEAR(sign * b.current(s, "Q"), r.id, 1e-6 * r.id + 1e-15);
    }
}

TEST(TransistorReference,
     CoilWithFreewheelDiode) {  // computed: L di/dt = -R i - n VT ln(1 + i/IS); two integrators agree to 1e-11 A
  struct Row {
    double t, current, volts;
  };
  const Row rows[] = {{0.1e-3, 0.10783037587, 12.78579578},
                      {0.5e-3, 0.069725729859, 12.76550760},
                      {1e-3, 0.039334919821, 12.73886913},
                      {2e-3, 0.010022657116, 12.67524541}};
  struct Accuracy {
    double tolerance, allowed;
  };
  for (const Accuracy& a : {Accuracy{1e-3, 1e-3}, Accuracy{1e-5, 1e-4}}) {
    CircuitBuilder b;
    b.volts("V", "s", "0", 12).add("L", ElementKind::kInductor, {"s", "d"}, {0.1, NAN, 100}).silicon("D", "d", "s");
    b.add("S", ElementKind::kTimedSwitch, {"d", "0"}, {1, 1e-3, INFINITY, 1e-9, 1e12});
    Simulation simulation(b.circuit(), with(a.tolerance));
    simulation.settle();
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.12, 1e-8);
    simulation.advance(1e-3);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 0.12, 1e-7);
    EXPECT_NEAR(b.voltage(simulation.solution(), "d"), 12.79077173, 1e-6);
    for (const Row& r : rows) {
      simulation.advance(1e-3 + r.t);
      EXPECT_NEAR(b.current(simulation.solution(), "L"), r.current, a.allowed * 0.12);
      EXPECT_NEAR(b.voltage(simulation.solution(), "d"), r.volts, a.allowed * 12);
    }
    simulation.advance(1e-3 + 2.807263014e-3);
    EXPECT_NEAR(b.current(simulation.solution(), "L"), 1e-3, a.allowed * 0.12);
  }
}

}  // namespace
}  // namespace tiepoint
