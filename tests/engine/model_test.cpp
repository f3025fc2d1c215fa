// The element models: their curves, and that their Jacobians are the derivatives of what they return.
#include "engine/devices/model.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "engine/devices/junction.h"
#include "engine/devices/source.h"

namespace tiepoint {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

struct Sample {
  ElementKind kind;
  std::vector<double> given;
  double spread;  // [V or A] of the random unknowns
};

const std::vector<Sample>& samples() {
  static const std::vector<Sample> list = {
      {ElementKind::kResistor, {470}, 5},
      {ElementKind::kCapacitor, {1e-6, NAN, 0}, 5},
      {ElementKind::kCapacitor, {1e-6, NAN, 0.5}, 5},
      {ElementKind::kInductor, {1e-2, NAN, 3}, 5},
      {ElementKind::kVoltageSource, {double(Waveform::kSine), 3, 1, 50}, 5},
      {ElementKind::kCurrentSource, {double(Waveform::kDc), 1e-3}, 5},
      {ElementKind::kDiode, {5e-9, 1.8}, 0.8},
      {ElementKind::kDiode, {5e-9, 1.8, 2.0, kThermalVoltage, 1e-11, 1e-8}, 2},
      {ElementKind::kDiode, {1e-12, 1, 3.0, kThermalVoltage, 0, 0, 5.1}, 6},
      {ElementKind::kLimitedSupply, {5, 0.1, 0.5}, 6},
      {ElementKind::kNpn, {1e-14, 100, 2, kThermalVoltage, 1e-11, 2e-12, 1e-9}, 0.7},
      {ElementKind::kPnp, {1e-14, 100, 2, kThermalVoltage, 1e-11, 2e-12, 1e-9}, 0.7},
      {ElementKind::kNmos, {0.25, 2.1, 1e-11, 2e-12}, 6},
      {ElementKind::kPmos, {0.25, 2.1, 1e-11, 2e-12}, 6},
      {ElementKind::kTimedSwitch, {1, 0.5, kInf, 0.01, 1e9}, 5},
      {ElementKind::kTriggeredSwitch, {80, 1, 1e-3, 1e9}, 5},
      {ElementKind::kReed, {0.005, 0.01, 0.012, 0.1, 1e9}, 5},
      {ElementKind::kHall, {0.05}, 5},
      {ElementKind::kThermistor, {40}, 5},
      {ElementKind::kContact, {1, 0.05, 1e9, 5e-3, 6, 0, 7}, 5},
  };
  return list;
}

std::vector<double> with_standards(const Model& m, const std::vector<double>& given) {
  std::vector<double> p = given;
  for (size_t k = given.size(); k < m.parameters.size(); ++k) p.push_back(m.parameters[k].standard);
  return p;
}

struct Values {
  std::vector<double> f, q, df, dq;
};

Values evaluate(const Model& m, const std::vector<double>& p, const std::vector<double>& x, const Instant& at = {}) {
  const size_t n = x.size();
  Values v{std::vector<double>(n), std::vector<double>(n), std::vector<double>(n * n), std::vector<double>(n * n)};
  m.evaluate(p, x.data(), at, {v.f.data(), v.q.data(), v.df.data(), v.dq.data()});
  return v;
}

size_t local_size(const Model& m, const std::vector<double>& p) { return m.terminals.size() + size_t(extra_of(m, p)); }

TEST(Model, TableIsInTheOrderOfElementKind) {
  for (int k = 0; k < int(ElementKind::kCount); ++k) {
    EXPECT_EQ(int(model(ElementKind(k)).kind), k);
    EXPECT_EQ(find_model(model(ElementKind(k)).name), &model(ElementKind(k)));
    EXPECT_EQ(model(ElementKind(k)).joins.size(), model(ElementKind(k)).terminals.size()) << model(ElementKind(k)).name;
    EXPECT_LE(int(model(ElementKind(k)).terminals.size()) + model(ElementKind(k)).extra, kMaxLocal);
  }
  EXPECT_EQ(find_model("warp-core"), nullptr);
}

TEST(Model, JacobiansAreTheDerivatives) {
  std::mt19937 random(7);
  for (const Sample& sample : samples()) {
    const Model& m = model(sample.kind);
    const std::vector<double> p = with_standards(m, sample.given);
    const size_t n = local_size(m, p);
    for (int trial = 0; trial < 200; ++trial) {
      std::uniform_real_distribution<double> volts(-sample.spread, sample.spread);
      std::vector<double> x(n);
      for (double& v : x) v = volts(random);
      const Values here = evaluate(m, p, x);
      for (size_t column = 0; column < n; ++column) {
        const double step = 1e-6;
        std::vector<double> up = x, down = x;
        up[column] += step, down[column] -= step;
        const Values above = evaluate(m, p, up), below = evaluate(m, p, down);
        for (size_t row = 0; row < n; ++row) {
          const double slope = (above.f[row] - below.f[row]) / (2 * step);
          const double charge_slope = (above.q[row] - below.q[row]) / (2 * step);
          const double size = std::fabs(here.f[row]) + std::fabs(above.f[row]) + std::fabs(slope);
          EXPECT_NEAR(here.df[row * n + column], slope, 2e-4 * size + 1e-9) << m.name << " " << row << " " << column;
          EXPECT_NEAR(here.dq[row * n + column], charge_slope,
                      2e-4 * std::fabs(charge_slope) + 1e-9 * (1e-3 + std::fabs(here.q[row])))
              << m.name << " " << row << " " << column;
        }
      }
    }
  }
}

TEST(Model, TerminalCurrentsAndChargesSumToZero) {
  std::mt19937 random(11);
  for (const Sample& sample : samples()) {
    const Model& m = model(sample.kind);
    const std::vector<double> p = with_standards(m, sample.given);
    std::vector<double> x(local_size(m, p));
    std::uniform_real_distribution<double> volts(-sample.spread, sample.spread);
    for (int trial = 0; trial < 50; ++trial) {
      for (double& v : x) v = volts(random);
      const Values v = evaluate(m, p, x);
      double f = 0, q = 0, size_f = 0, size_q = 0;
      for (size_t k = 0; k < m.terminals.size(); ++k)
        f += v.f[k], q += v.q[k], size_f = std::max(size_f, std::fabs(v.f[k])), size_q = std::max(size_q, std::fabs(v.q[k]));
      EXPECT_LE(std::fabs(f), 4e-16 * size_f) << m.name;
      EXPECT_LE(std::fabs(q), 4e-16 * size_q) << m.name;
    }
  }
}

TEST(Model, PChannelAndPnpAreTheMirrorImages) {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> volts(-0.7, 0.7);
  const std::pair<ElementKind, ElementKind> pairs[] = {{ElementKind::kNpn, ElementKind::kPnp},
                                                       {ElementKind::kNmos, ElementKind::kPmos}};
  for (const auto& [n_kind, p_kind] : pairs) {
    const std::vector<double> p = with_standards(
        model(n_kind), n_kind == ElementKind::kNpn ? std::vector<double>{1e-14, 80, 2} : std::vector<double>{0.1, 0.2});
    for (int trial = 0; trial < 100; ++trial) {
      const std::vector<double> x = {volts(random), volts(random), volts(random)};
      const Values n = evaluate(model(n_kind), p, x), mirrored = evaluate(model(p_kind), p, {-x[0], -x[1], -x[2]});
      for (int k = 0; k < 3; ++k) EXPECT_DOUBLE_EQ(n.f[k], -mirrored.f[k]);
    }
  }
}

TEST(Junction, WrightOmegaSolvesItsEquation) {
  for (double z = -30; z < 500; z += 0.37) {
    const double y = wright_omega(z);
    EXPECT_NEAR((y + std::log(y) - z) / std::max(1.0, std::fabs(z)), 0, 4e-16 * 4) << z;
  }
  EXPECT_DOUBLE_EQ(wright_omega(1), 1);
  EXPECT_DOUBLE_EQ(wright_omega(-60), std::exp(-60.0));
}

TEST(Junction, SeriesResistanceSatisfiesTheLoop) {
  const Junction j = {1e-14, 0.03, 4.7};
  for (double v = -1; v < 3; v += 0.05) {
    const double i = junction_at(j, v).current;
    EXPECT_NEAR(i, j.saturation * std::expm1((v - j.resistance * i) / j.scale), 1e-10 * std::fabs(i) + 1e-27);
  }
}

TEST(Junction, VanishingSeriesResistanceTendsToThePlainDiode) {
  const Junction plain = {5e-9, 0.0465, 0}, nearly = {5e-9, 0.0465, 1e-9};
  for (double v = -0.5; v < 0.7; v += 0.05)
    EXPECT_NEAR(junction_at(nearly, v).current, junction_at(plain, v).current,
                1e-9 * std::fabs(junction_at(plain, v).current) + 1e-22);
}

TEST(Junction, NothingOverflows) {
  for (const double r : {0.0, 1e-3, 10.0})
    for (const double v : {-1e9, -50.0, 50.0, 1e6}) {
      const JunctionPoint at = junction_at({1e-26, 0.05, r}, v);
      EXPECT_TRUE(std::isfinite(at.current) && std::isfinite(at.slope)) << r << " " << v;
    }
}

TEST(LimitedSupply, IsAVoltageBehindAResistanceAndThenAConstantCurrent) {
  const Model& m = model(ElementKind::kLimitedSupply);
  const std::vector<double> p = {5, 0.1, 0.5};
  const auto delivered = [&](double volts) { return -evaluate(m, p, {volts, 0}).f[0]; };
  EXPECT_NEAR(delivered(4.98), 0.2, 1e-12);
  EXPECT_NEAR(delivered(5.5), -5, 1e-12);  // pushed back
  EXPECT_NEAR(delivered(4.9), 0.5, 1e-3);
  EXPECT_NEAR(delivered(0), 0.5, 1e-4);
  double last = delivered(-1);
  for (double v = -0.999; v < 6; v += 0.001) {
    EXPECT_LT(delivered(v), last) << v;  // strictly monotone
    last = delivered(v);
  }
}

TEST(LimitedSupply, WithoutLimitIsLinear) {
  const Values v = evaluate(model(ElementKind::kLimitedSupply), {9, 2, kInf}, {3, 0});
  EXPECT_DOUBLE_EQ(v.f[0], -3);
  EXPECT_DOUBLE_EQ(v.df[0], 0.5);
}

TEST(Diode, BreaksDownAtItsVoltage) {
  const Model& m = model(ElementKind::kDiode);
  const std::vector<double> p = with_standards(m, {1e-12, 1, 0, kThermalVoltage, 0, 0, 5.1, 5e-3});
  EXPECT_NEAR(evaluate(m, p, {-5.1, 0}).f[0], -5e-3, 1e-11);
  EXPECT_NEAR(evaluate(m, p, {-4, 0}).f[0], -1e-12, 1e-15);
}

std::vector<double> waveform(Waveform shape, std::vector<double> rest) {
  rest.insert(rest.begin(), double(shape));
  return with_standards(model(ElementKind::kVoltageSource), rest);
}

TEST(Source, StepIsLeftContinuousWithinThePieceBeforeAndRightContinuousAfter) {
  const auto p = waveform(Waveform::kStep, {5, 0, 0, 0, 0.25});
  EXPECT_EQ(waveform_value(p, 0.25, 0), 0);     // a step of time that ends on the corner
  EXPECT_EQ(waveform_value(p, 0.25, 0.25), 5);  // one that begins there
  EXPECT_EQ(model(ElementKind::kVoltageSource).next_corner(p, 0), 0.25);
  EXPECT_EQ(model(ElementKind::kVoltageSource).next_corner(p, 0.25), kInf);
}

TEST(Source, SquareKeepsItsDutyAndFindsAllCorners) {
  const auto p = waveform(Waveform::kSquare, {2, 1, 1000, 0, 0, 0, 0, kInf, 0.25});
  const Model& m = model(ElementKind::kVoltageSource);
  double time = 0;
  int highs = 0, corners = 0;
  while (time < 1) {
    highs += waveform_value(p, time, time) == 3;
    const double next = m.next_corner(p, time);
    ASSERT_GT(next, time);
    const double middle = (time + next) / 2;
    EXPECT_EQ(waveform_value(p, middle, time), waveform_value(p, middle, middle));
    EXPECT_NEAR(next - time, corners % 2 == 0 ? 0.25e-3 : 0.75e-3, 1e-12);
    time = next;
    ++corners;
  }
  EXPECT_NEAR(corners, 2000, 1);
  EXPECT_NEAR(highs, 1000, 1);
}

TEST(Source, PulseEdgesAreStraight) {
  const auto p = waveform(Waveform::kPulse, {4, 1, 0, 0, 1, 0.5, 0.25, 2});
  const double since[] = {0, 1, 1.5, 3.5, 3.75};
  const double inside[] = {0.5, 1.25, 2, 3.625, 5};
  const double value[] = {1, 3, 5, 3, 1};
  for (int k = 0; k < 5; ++k) EXPECT_DOUBLE_EQ(waveform_value(p, inside[k], since[k]), value[k]) << k;
}

}  // namespace
}  // namespace tiepoint
