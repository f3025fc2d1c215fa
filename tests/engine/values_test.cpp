// Sources stand beside each check. Exact values by hand from the formula named there.
#include "engine/logic/values.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

namespace tiepoint {
namespace {

// The standard values of a question, with some given.
std::vector<double> given(std::string_view question, std::initializer_list<std::pair<std::string_view, double>> values) {
  std::vector<double> all;
  for (const ValueField& field : find_value_question(question)->fields) {
    double value = field.standard;
    for (const auto& [key, one] : values)
      if (key == field.key) value = one;
    all.push_back(value);
  }
  return all;
}

ValueAnswer answer(std::string_view question, std::initializer_list<std::pair<std::string_view, double>> values,
                   int series = 12) {
  const Result<ValueAnswer> result = answer_value(*find_value_question(question), given(question, values), series);
  EXPECT_TRUE(result.ok()) << (result ? "" : text(result.error()));
  return result ? *result : ValueAnswer{};
}

// Voltage divider rule, any textbook: U = V R2 / (R1 + R2). 9 V, 1 kohm over 2 kohm gives 6 V (examples/lantern-divider).
TEST(Values, DividerOfNineVoltsToSixIsHalfTheLowerResistor) {
  const ValueAnswer a = answer("divider", {{"supply", 9}, {"wanted", 6}, {"lower", 2000}});
  EXPECT_DOUBLE_EQ(a.exact, 1000);
  EXPECT_DOUBLE_EQ(a.members[size_t(a.nearest)].value, 1000);
  EXPECT_DOUBLE_EQ(a.members[size_t(a.nearest)].result, 6);
  EXPECT_DOUBLE_EQ(a.members[size_t(a.nearest)].extra, 0.003);
  EXPECT_DOUBLE_EQ(a.members[0].value, 820);
  EXPECT_NEAR(a.members[0].result, 9.0 * 2000 / 2820, 1e-12);
}

// A load beside the lower resistor: 2 kohm with 2 kohm side by side are 1 kohm.
TEST(Values, ALoadedDividerNeedsTheSmallerUpperResistor) {
  EXPECT_DOUBLE_EQ(answer("divider", {{"supply", 9}, {"wanted", 6}, {"lower", 2000}, {"load", 2000}}).exact, 500);
}

// One time constant: t = R C. 10 kohm and 100 uF make 1 s, and 63.2 % of the way.
TEST(Values, TimeOfOneSecondWithHundredMicrofaradIsTenKiloohm) {
  const ValueAnswer a = answer("rc", {{"time", 1}, {"capacitor", 100e-6}});
  EXPECT_NEAR(a.exact, 10e3, 1e-8);
  EXPECT_NEAR(a.members[size_t(a.nearest)].result, 1, 1e-12);
}

// 1 - exp(-t / RC) = 0.5 at t = RC ln 2; universal time-constant charts give 69.3 % of RC (from memory), and 99.3 % after five.
TEST(Values, HalfTheWayTakesLn2AndFiveTimeConstantsMakeNinetyNine) {
  EXPECT_NEAR(answer("rc-capacitor", {{"time", std::log(2.0)}, {"resistor", 1e6}, {"share", 0.5}}).exact, 1e-6, 1e-18);
  EXPECT_NEAR(answer("rc", {{"time", 5}, {"capacitor", 1e-6}, {"share", 1 - std::exp(-5.0)}}).exact, 1e6, 1e-4);
}

// NE555 data sheet (Texas Instruments SLFS022), astable operation: f = 1.44 / ((RA + 2 RB) C), output high for (RA + RB) / (RA
// + 2 RB) of the period; its figure shows RA = 5 kohm, RB = 3 kohm, C = 0.15 uF (from memory): 873 Hz. 1.44 is 1 / ln 2 to 0.2
// %.
TEST(Values, TimerOfTheDataSheetsFigure) {
  const double f = 1.44 / ((5e3 + 2 * 3e3) * 0.15e-6);
  const ValueAnswer a = answer("timer", {{"frequency", f}, {"capacitor", 0.15e-6}, {"upper", 5e3}}, 24);
  EXPECT_NEAR(a.exact, 3e3, 0.004 * 3e3);
  const ValueOutcome& nearest = a.members[size_t(a.nearest)];
  EXPECT_DOUBLE_EQ(nearest.value, 3000);  // a member of E24
  EXPECT_NEAR(nearest.result, f, 0.002 * f);
  EXPECT_NEAR(nearest.extra, 8.0 / 11, 1e-12);
}

// A forced gain of 10 (common practice, no source): 100 mA want 10 mA of base current; (5 V - 0.7 V) / 10 mA = 430 ohm.
TEST(Values, BaseResistorForHundredMilliampere) {
  const ValueAnswer a = answer("base", {{"current", 0.1}}, 24);
  EXPECT_NEAR(a.exact, 430, 1e-9);
  EXPECT_DOUBLE_EQ(a.members[size_t(a.nearest)].value, 430);
  EXPECT_NEAR(a.members[size_t(a.nearest)].extra, 10, 1e-9);
  EXPECT_LT(a.members[0].extra, 10);  // a smaller resistor drives harder
}

// A law: with the exact value in its place, what was wanted comes out.
TEST(Values, TheExactValueGivesBackWhatWasWanted) {
  for (const ValueQuestion& question : value_questions()) {
    std::vector<double> values;
    size_t wanted = 0;
    for (size_t i = 0; i < question.fields.size(); ++i) {
      if (question.fields[i].key == question.wanted) wanted = i;
      values.push_back(std::isnan(question.fields[i].standard) ? 0.123 : question.fields[i].standard);
    }
    const double exact = question.exact(values.data());
    EXPECT_NEAR(question.with(values.data(), exact).result, values[wanted], 1e-12) << question.key;
  }
}

TEST(Values, WhatCannotBeIsRefusedAtItsField) {
  const auto error = [](std::string_view key, std::initializer_list<std::pair<std::string_view, double>> values,
                        int series = 12) {
    const Result<ValueAnswer> result = answer_value(*find_value_question(key), given(key, values), series);
    EXPECT_FALSE(result.ok()) << key;
    return result ? Error{} : result.error();
  };
  EXPECT_EQ(error("divider", {}).pointer, "/wanted");
  EXPECT_EQ(error("divider", {{"wanted", -1}}).pointer, "/wanted");
  EXPECT_EQ(error("divider", {{"wanted", 6}, {"supply", 5}}).pointer, "");  // more than the supply gives
  EXPECT_EQ(error("rc", {{"time", 1}, {"share", 1}}).pointer, "/share");
  EXPECT_EQ(error("timer", {{"frequency", 1e6}}).code, Code::kBadValue);  // RA alone is too slow
  EXPECT_EQ(error("base", {{"current", 0.1}}, 7).found, "E7");
}

}  // namespace
}  // namespace tiepoint
