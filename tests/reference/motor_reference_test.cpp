// The direct-current motor as resistance plus back-EMF.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/engine/build_circuit.h"

namespace tiepoint {
namespace {

// OpenStax University Physics vol. 2, section 13.6 (m58481), text and example fs-id1171240980740 (read).
struct Running {
  double current, back_emf;
};
Running motor(double volts, double resistance, double torque) {
  constexpr double k = 0.1;  // [V s] cancels out: it only sets the speed
  CircuitBuilder b;
  b.volts("V", "p", "0", volts).add("M", ElementKind::kMotor, {"p", "0"}, {resistance, 1e-3, k, 1e-4, 0, torque});
  const Solution s = solve_operating_point(b.circuit());
  EXPECT_TRUE(s.ok());
  const ElementState& state = s.state[size_t(b.element("M"))];
  return {b.current(s, "M"), k * s.own[size_t(state.first_own) + 1]};
}

TEST(MotorReference, FortyEightVolts) {
  const Running stalled = motor(48, 0.4, 1e4 * 0.1 * 120);  // far more load than it can move
  EXPECT_NEAR(stalled.current, 120, 1e-3);                  // it creeps, by the model
  EXPECT_NEAR(48 * stalled.current, 5760, 0.1);
  const Running running = motor(48, 0.4, 0.1 * 20);
  EXPECT_NEAR(running.back_emf, 40, 1e-6);
  EXPECT_NEAR(running.current * running.current * 0.4, 160, 1e-6);
}

TEST(MotorReference, HundredAndTwentyVolts) {
  const Running light = motor(120, 2, 0.1 * 10);
  EXPECT_NEAR(light.back_emf, 100, 1e-6);
  EXPECT_NEAR(light.back_emf * light.current, 1000, 1e-5);
  EXPECT_NEAR(120 * light.current, 1200, 1e-5);
  const Running heavy = motor(120, 2, 0.1 * 20);
  EXPECT_NEAR(heavy.back_emf, 80, 1e-6);
  EXPECT_NEAR(heavy.back_emf * heavy.current, 1600, 1e-5);
  EXPECT_NEAR(heavy.current * heavy.current * 2, 800, 1e-5);
}

// Without inductance and friction the speed rises as (V/k)(1 - exp(-t k^2 / (R J))): closed form.
TEST(MotorReference, RunsUpWithItsMechanicalTimeConstant) {
  constexpr double k = 0.01, r = 2, j = 1e-6, tau = r * j / (k * k);
  CircuitBuilder b;
  b.volts("V", "p", "0", 6).add("M", ElementKind::kMotor, {"p", "0"}, {r, 0, k, j, 0, 0});
  Simulation simulation(b.circuit());
  simulation.start_from_initial_conditions();
  for (const double t : {0.5 * tau, tau, 3 * tau}) {
    simulation.advance(t);
    const Solution& s = simulation.solution();
    const double speed = s.own[size_t(s.state[1].first_own) + 1];
    EXPECT_NEAR(speed, 6 / k * (1 - std::exp(-t / tau)), 1e-3 * 6 / k) << t;
  }
}

}  // namespace
}  // namespace tiepoint
