// How far a junction may go in one iteration: what the two rules promise of every step, whatever the junction.
#include "engine/devices/junction.h"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace tiepoint {
namespace {

const std::vector<Junction> kJunctions = {{1e-14, 0.025852, 0},     {5e-9, 0.0465336, 0},     {1e-18, 0.051704, 5},
                                          {1e-26, 0.0568744, 10},   {2.93e-12, 0.051704, 1.5}, {1e-3, 0.025852, 2}};

// Every step from somewhere to somewhere, backwards and far forwards too.
template <class Look>
void each_step(const Look& look) {
  for (const Junction& j : kJunctions) {
    const double most = voltage_of(j, 1);
    for (double last = -2 * most; last <= 1.5 * most; last += most / 61)
      for (const double by : {1e-9, 0.01, 0.2, 0.3, 0.9, 1.1, 1.9, 2.1, 5.0, 30.0, 1000.0})
        for (const double sign : {1.0, -1.0}) look(j, last, last + sign * by * j.scale);
  }
}

TEST(Junction, AVoltageThatCarriesACurrentCarriesIt) {
  for (const Junction& j : kJunctions)
    for (const double current : {-0.5 * j.saturation, 1e-12, 1e-6, 1e-3, 0.1})
      EXPECT_NEAR(junction_at(j, voltage_of(j, current)).current, current, 1e-12 * (std::fabs(current) + j.saturation));
}

TEST(Junction, WhatIsNotHeldBackIsNotTouched) {
  each_step([](const Junction& j, double last, double v) {
    for (const auto hold : {limit_junction, stride_junction}) {
      double at = v;
      if (!hold(j, last, &at)) {
        EXPECT_EQ(at, v);
      }
    }
  });
}

TEST(Junction, TheLastCorrectionsAreNewtonsOwn) {  // so both rules end where the curve does
  each_step([](const Junction& j, double last, double v) {
    if (v - last > 2 * j.scale || v - last <= -kDown * j.scale) return;
    for (const auto hold : {limit_junction, stride_junction}) {
      double at = v;
      EXPECT_FALSE(hold(j, last, &at));
    }
  });
}

// Forwards no further than to where the curve bends, or to where it carries what its tangent asks for: no exponential is followed
// upwards, and none is left behind where it was.
TEST(Junction, AStrideForwardsEndsBetweenWhereItWasAndWhatWasAskedFor) {
  each_step([](const Junction& j, double last, double v) {
    if (v <= last) return;
    const JunctionPoint was = junction_at(j, last);
    const double bend = critical_voltage(j, kStrideLoad), asked = was.current + was.slope * (v - last);
    double at = v;
    stride_junction(j, last, &at);
    EXPECT_GT(at, last);
    EXPECT_LE(at, v);
    EXPECT_LE(at, std::max({bend, last + 2 * j.scale, voltage_of(j, asked) + 1e-12}));
  });
}

// Backwards it carries what its tangent asks for; where that is nothing or less, and it did conduct, it goes down by five V1 and not beyond
// 0 V.
TEST(Junction, AStrideBackwardsCarriesTheTangentsCurrentOrIsLetDownSoFar) {
  each_step([](const Junction& j, double last, double v) {
    if (v - last > -kDown * j.scale) return;
    const JunctionPoint was = junction_at(j, last);
    const double asked = was.current + was.slope * (v - last);
    double at = v;
    const bool held = stride_junction(j, last, &at);
    if (asked > 0) {
      EXPECT_LE(at, v);
      if (held) {
        EXPECT_NEAR(at, voltage_of(j, asked), 1e-12);
      }
    } else if (was.current >= kInNobodysWay) {
      EXPECT_TRUE(held);
      EXPECT_EQ(at, std::max(0.0, last - kLetDown * j.scale));
    } else {
      EXPECT_FALSE(held);
    }
  });
}

TEST(Junction, WhoseStrideWasStoppedAtTheBendIsNotStoppedThereAgainForAnUlp) {
  for (const Junction& j : kJunctions) {
    const double bend = critical_voltage(j, kStrideLoad);
    double at = bend + 10 * j.scale;
    EXPECT_TRUE(stride_junction(j, std::nextafter(bend, 0.0), &at));
    EXPECT_GT(at, bend + 0.5 * j.scale);
  }
}

TEST(Junction, AStrideIsNoShorterThanTheUsualStepForwards) {
  each_step([](const Junction& j, double last, double v) {
    const double usual_bend = critical_voltage(j, kCriticalLoad), bend = critical_voltage(j, kStrideLoad);
    EXPECT_LT(bend, usual_bend);
    if (v <= last || (last < usual_bend && v > bend)) return;  // there the stride stops at its own, nearer bend
    double stride = v, usual = v;
    stride_junction(j, last, &stride), limit_junction(j, last, &usual);
    EXPECT_GE(stride, usual);
  });
}

}  // namespace
}  // namespace tiepoint
