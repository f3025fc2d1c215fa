#include "engine/logic/sizing.h"

#include <algorithm>
#include <cmath>

#include "engine/parts/part_type.h"
#include "tests/engine/build_board.h"

namespace tiepoint {
namespace {

// Lessons In Electric Circuits, Semiconductors, chapter on diodes, the section on LEDs: 6 V, an LED taken as 1.6 V, 20 mA: 220
// ohm, 88 mW.
TEST(Sizing, HandbookExampleWithAConstantDrop) {
  const Sizing s = size_resistor({.supply = 6, .current = 0.02, .drop = 1.6}).value();
  EXPECT_NEAR(s.exact.resistance, 220, 1e-9);
  EXPECT_NEAR(s.exact.power, 0.088, 1e-12);
  ASSERT_EQ(s.members.size(), 3u);
  EXPECT_EQ(s.members[0].resistance, 180);
  EXPECT_EQ(s.members[1].resistance, 220);
  EXPECT_EQ(s.members[2].resistance, 270);
  EXPECT_NEAR(s.members[0].current, 4.4 / 180, 1e-12);
}

TEST(Sizing, ForwardVoltageIsThatOfThePartsCurve) {
  const Part led = make_part(*catalogue().find("led"));
  const Sizing s = size_resistor({.supply = 5, .current = 0.02, .series = 24, .part = &led}).value();
  EXPECT_NEAR(s.exact.voltage, 2.0, 0.01);  // Vishay TLUR6400: 2.0 V at 20 mA
  EXPECT_NEAR(s.exact.resistance, 150, 1);
  // Law: with the exact resistance the wanted current flows.
  const Sizing again = size_resistor({.supply = 5, .current = 0.01, .part = &led}).value();
  EXPECT_GT(again.exact.resistance, s.exact.resistance);
  EXPECT_LT(again.exact.voltage, s.exact.voltage);
  for (const SizedResistor& member : again.members) {
    EXPECT_NEAR(member.current * member.resistance + member.voltage, 5, 1e-9);
    EXPECT_NEAR(member.power, member.resistance * member.current * member.current, 1e-15);
  }
  EXPECT_TRUE(std::is_sorted(again.members.begin(), again.members.end(),
                             [](const auto& a, const auto& b) { return a.current > b.current; }));
}

TEST(Sizing, WhatCannotBeIsRefused) {
  const Part led = make_part(*catalogue().find("led"));
  EXPECT_FALSE(size_resistor({.supply = 1.5, .current = 0.02, .part = &led}).ok());
  EXPECT_FALSE(size_resistor({.supply = 5, .current = 0}).ok());
  EXPECT_FALSE(size_resistor({.supply = 5, .current = std::nan("")}).ok());
  EXPECT_FALSE(size_resistor({.supply = 5, .current = 0.01, .series = 7}).ok());
}

}  // namespace
}  // namespace tiepoint
