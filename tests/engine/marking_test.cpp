#include "engine/parts/marking.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <set>

namespace tiepoint {
namespace {

TEST(Marking, SeriesHaveTheirNumberOfMembers) {
  for (int n : {3, 6, 12, 24, 48, 96}) EXPECT_EQ(e_series(n).size(), size_t(n));
  EXPECT_TRUE(e_series(7).empty());
  EXPECT_TRUE(e_series(0).empty());
}

TEST(Marking, SeriesRiseAndCoarserOnesAreContainedInFinerOnes) {
  for (int n : {3, 6, 12, 24, 48, 96})
    for (size_t i = 1; i < e_series(n).size(); ++i) EXPECT_LT(e_series(n)[i - 1], e_series(n)[i]);
  for (auto [coarse, fine] : {std::pair{3, 6}, {6, 12}, {12, 24}, {48, 96}}) {
    const std::set<int> all(e_series(fine).begin(), e_series(fine).end());
    for (int member : e_series(coarse)) EXPECT_TRUE(all.count(member)) << member << " of E" << coarse;
  }
}

TEST(Marking, EveryMemberIsNearestToItself) {
  for (int n : {3, 6, 12, 24, 48, 96})
    for (int member : e_series(n))
      for (double decade : {1e-12, 1e-9, 1e-3, 1.0, 1e3, 1e6}) {
        const double value = member * decade;
        EXPECT_NEAR(nearest_e_value(value, n) / value, 1, 1e-12);
      }
}

TEST(Marking, StepsGoUpAndDownByOneMember) {
  EXPECT_EQ(step_e_value(330, 12, 1), 390);
  EXPECT_EQ(step_e_value(330, 12, -1), 270);
  EXPECT_EQ(step_e_value(820, 12, 1), 1000);
  EXPECT_EQ(step_e_value(1000, 12, -1), 820);
  EXPECT_EQ(step_e_value(1e-7, 6, 1), 1.5e-7);
  EXPECT_EQ(step_e_value(1e-7, 6, 6), 1e-6);
  EXPECT_EQ(step_e_value(1e-6, 6, -6), 1e-7);
}

TEST(Marking, StepFromBetweenTwoMembersGoesToTheNextOne) {
  EXPECT_EQ(step_e_value(340, 12, 1), 390);
  EXPECT_EQ(step_e_value(340, 12, -1), 330);
  EXPECT_EQ(step_e_value(340, 12, 0), 330);
}

TEST(Marking, StepAndNearestLeaveNonsenseAlone) {
  EXPECT_EQ(nearest_e_value(-3, 12), -3);
  EXPECT_EQ(nearest_e_value(0, 12), 0);
  EXPECT_EQ(nearest_e_value(5, 11), 5);
  EXPECT_EQ(step_e_value(5, 11, 2), 5);
  EXPECT_TRUE(std::isinf(nearest_e_value(std::numeric_limits<double>::infinity(), 12)));
  EXPECT_TRUE(std::isnan(step_e_value(std::numeric_limits<double>::quiet_NaN(), 12, 1)));
}

TEST(Marking, NearestSplitsAtTheGeometricMean) {
  const double mean = std::sqrt(10.0 * 22.0);  // E3 between 10 and 22
  EXPECT_EQ(nearest_e_value(mean * 0.9999, 3), 10);
  EXPECT_EQ(nearest_e_value(mean * 1.0001, 3), 22);
}

TEST(Marking, BandsOfEveryE24ValueReadBack) {
  for (int member : e_series(24))
    for (int power = -3; power <= 8; ++power) {
      const double value = member * std::pow(10.0, power);
      const std::vector<Band> bands = bands_for(value, 0.05);
      ASSERT_EQ(bands.size(), 4u) << value;
      const std::optional<Banded> read = read_bands(bands);
      ASSERT_TRUE(read);
      EXPECT_NEAR(read->resistance / value, 1, 1e-12);
      EXPECT_EQ(read->tolerance, 0.05);
    }
}

TEST(Marking, BandsOfEveryE96ValueReadBack) {
  for (int member : e_series(96))
    for (double decade : {0.01, 1.0, 100.0, 1e4}) {
      const std::optional<Banded> read = read_bands(bands_for(member * decade, 0.01));
      ASSERT_TRUE(read);
      EXPECT_NEAR(read->resistance / (member * decade), 1, 1e-12);
      EXPECT_EQ(read->tolerance, 0.01);
    }
}

TEST(Marking, FourBandsWhenTwoDigitsSufficeElseFive) {
  EXPECT_EQ(bands_for(330, 0.05), (std::vector{Band::kOrange, Band::kOrange, Band::kBrown, Band::kGold}));
  EXPECT_EQ(bands_for(332, 0.01), (std::vector{Band::kOrange, Band::kOrange, Band::kRed, Band::kBlack, Band::kBrown}));
  EXPECT_EQ(bands_for(1, 0.05), (std::vector{Band::kBrown, Band::kBlack, Band::kGold, Band::kGold}));
  EXPECT_EQ(bands_for(22e6, 0.10), (std::vector{Band::kRed, Band::kRed, Band::kBlue, Band::kSilver}));
  EXPECT_EQ(bands_for(97, 0.20), (std::vector{Band::kWhite, Band::kViolet, Band::kBlack}));
}

TEST(Marking, ValuesThatCannotBeMarkedHaveNoBands) {
  EXPECT_TRUE(bands_for(4712, 0.05).empty());  // four digits
  EXPECT_TRUE(bands_for(332, 0.20).empty());   // three bands have two digits
  EXPECT_TRUE(bands_for(330, 0.03).empty());   // no colour for 3 %
  EXPECT_TRUE(bands_for(0, 0.05).empty());
  EXPECT_TRUE(bands_for(-330, 0.05).empty());
  EXPECT_TRUE(bands_for(1e15, 0.05).empty());
  EXPECT_TRUE(bands_for(std::numeric_limits<double>::quiet_NaN(), 0.05).empty());
}

TEST(Marking, BandsThatMeanNothingAreRefused) {
  const auto refused = [](std::vector<Band> bands) { return !read_bands(bands).has_value(); };
  EXPECT_TRUE(refused({}));
  EXPECT_TRUE(refused({Band::kBrown, Band::kBlack}));
  EXPECT_TRUE(refused(std::vector(7, Band::kBrown)));
  EXPECT_TRUE(refused({Band::kBlack, Band::kBrown, Band::kRed, Band::kGold}));   // begins with black
  EXPECT_TRUE(refused({Band::kGold, Band::kBrown, Band::kRed, Band::kGold}));    // gold is no digit
  EXPECT_TRUE(refused({Band::kBrown, Band::kBlack, Band::kNone, Band::kGold}));  // no multiplier
  EXPECT_TRUE(refused({Band::kBrown, Band::kBlack, Band::kRed, Band::kWhite}));  // white is no tolerance
  EXPECT_TRUE(refused({Band::kBrown, Band::kBlack, Band::kBlack, Band::kRed, Band::kBrown, Band::kGold}));  // no coefficient
}

TEST(Marking, SixthBandIsTheTemperatureCoefficient) {
  const std::vector<Band> bands = {Band::kBrown, Band::kBlack, Band::kBlack, Band::kRed, Band::kBrown, Band::kRed};
  const std::optional<Banded> read = read_bands(bands);
  ASSERT_TRUE(read);
  EXPECT_EQ(read->resistance, 10e3);
  EXPECT_EQ(read->temperature_coefficient, 50e-6);
}

TEST(Marking, BandNamesFindTheirBands) {
  for (int i = 0; i <= int(Band::kNone); ++i) EXPECT_EQ(find_band(name(Band(i))), Band(i));
  EXPECT_FALSE(find_band("mauve"));
}

TEST(Marking, ParsesTheLetterCode) {
  EXPECT_EQ(parse_value("4k7"), 4700);
  EXPECT_EQ(parse_value("220R"), 220);
  EXPECT_EQ(parse_value("1M5"), 1.5e6);
  EXPECT_EQ(parse_value("1M"), 1e6);
  EXPECT_EQ(parse_value("R47"), 0.47);
  EXPECT_EQ(parse_value("4R7"), 4.7);
  EXPECT_EQ(parse_value("100n"), 100e-9);
  EXPECT_EQ(parse_value("2u2"), 2.2e-6);
  EXPECT_EQ(parse_value("4K7"), 4700);
}

TEST(Marking, ParsesPlainNumbersPrefixesAndUnits) {
  EXPECT_EQ(parse_value("330"), 330);
  EXPECT_EQ(parse_value("4.7k"), 4700);
  EXPECT_EQ(parse_value("4,7k"), 4700);
  EXPECT_EQ(parse_value("0,125"), 0.125);
  EXPECT_EQ(parse_value("1.000"), 1);
  EXPECT_EQ(parse_value("10 kohm"), 10e3);
  EXPECT_EQ(parse_value("10 kΩ"), 10e3);             // U+03A9
  EXPECT_EQ(parse_value("10 k\xE2\x84\xA6"), 10e3);  // U+2126
  EXPECT_EQ(parse_value("2.2 µF"), 2.2e-6);          // U+00B5
  EXPECT_EQ(parse_value("2.2 \xCE\xBC"
                        "F"),
            2.2e-6);  // U+03BC
  EXPECT_EQ(parse_value(" 5 V "), 5);
  EXPECT_EQ(parse_value("-4 V"), -4);
  EXPECT_EQ(parse_value("20 mA"), 0.02);
  EXPECT_EQ(parse_value("0.5s"), 0.5);
  EXPECT_EQ(parse_value("50 Hz"), 50);
  EXPECT_EQ(parse_value("1e-6"), 1e-6);
  EXPECT_EQ(parse_value("2.5E3"), 2500);
  EXPECT_EQ(parse_value("5 %"), 0.05);
  EXPECT_EQ(parse_value("0"), 0);
}

TEST(Marking, RefusesWhatIsNoValue) {
  for (const char* bad :
       {"",    " ",       "k",     "abc", "4k7k", "4k7.5", "1.2.3", "1,000", "12,345", "1,5.2", "5 apples", "10 k 5",
        "--5", "1e99999", "1e400", "nan", "inf",  "0x10",  "5 mm",  "4..7",  "4,",     "e5",    "Ω"})
    EXPECT_FALSE(parse_value(bad)) << bad;
}

TEST(Marking, LetterCodeReadsBack) {
  EXPECT_EQ(letter_code(4700), "4k7");
  EXPECT_EQ(letter_code(220), "220R");
  EXPECT_EQ(letter_code(4.7), "4R7");
  EXPECT_EQ(letter_code(1e6), "1M");
  EXPECT_EQ(letter_code(0.1), "0R1");
  EXPECT_EQ(letter_code(999.96), "1k");
  EXPECT_EQ(letter_code(0), "0R");
  for (int member : e_series(96))
    for (double decade : {1e-3, 1e-2, 1.0, 1e1, 1e2, 1e4, 1e7}) {
      const std::optional<double> value = parse_value(letter_code(member * decade));
      ASSERT_TRUE(value) << letter_code(member * decade);
      EXPECT_NEAR(*value / (member * decade), 1, 1e-12);
    }
}

TEST(Marking, PrintsQuantitiesForPeople) {
  EXPECT_EQ(engineering(9.2e-3, "A"), "9.2 mA");
  EXPECT_EQ(engineering(4700, "Ω"), "4.7 kΩ");
  EXPECT_EQ(engineering(5, "V"), "5 V");
  EXPECT_EQ(engineering(-0.0134, "A"), "-13.4 mA");
  EXPECT_EQ(engineering(0, "V"), "0 V");
  EXPECT_EQ(engineering(100e-9, "F"), "100 nF");
  EXPECT_EQ(engineering(2.2e-6, "F"), "2.2 µF");
  EXPECT_EQ(engineering(1e-20, "A"), "0 A");
  EXPECT_EQ(engineering(12345, "Hz", 4), "12.35 kHz");
  EXPECT_EQ(engineering(47, "", 3), "47");
  EXPECT_EQ(engineering(0.05, "%"), "0.05 %");
  EXPECT_EQ(engineering(std::numeric_limits<double>::quiet_NaN(), "V"), "no reading");
  EXPECT_EQ(engineering(-std::numeric_limits<double>::infinity(), "A"), "-∞ A");
}

TEST(Marking, RoundingCarriesIntoTheNextPrefix) {
  EXPECT_EQ(engineering(999.6e-3, "A"), "1 A");
  EXPECT_EQ(engineering(0.9996, "V", 4), "999.6 mV");
  EXPECT_EQ(engineering(999.999, "Ω"), "1 kΩ");
  EXPECT_EQ(engineering(0.0004999, "V", 1), "500 µV");
}

TEST(Marking, DecimalsArePlainNumbers) {
  EXPECT_EQ(decimal(4700), "4700");
  EXPECT_EQ(decimal(0.047), "0.047");
  EXPECT_EQ(decimal(-1.5e-12), "-1.5e-12");
  EXPECT_EQ(decimal(1.0 / 3), "0.333333");
  EXPECT_EQ(decimal(1e20), "1e20");
  EXPECT_EQ(decimal(0), "0");
}

TEST(Marking, PrintedQuantitiesReadBack) {
  double value = 1.234e-12;
  for (int i = 0; i < 60; ++i, value *= 2.7) {
    const std::optional<double> read = parse_value(engineering(value, "V", 6));
    ASSERT_TRUE(read) << engineering(value, "V", 6);
    EXPECT_NEAR(*read / value, 1, 1e-5);
  }
}

TEST(Marking, ThickerWireHasLessResistance) {
  for (int awg = 10; awg < 30; ++awg) {
    EXPECT_GT(awg_diameter(awg), awg_diameter(awg + 1));
    EXPECT_LT(awg_resistance(awg), awg_resistance(awg + 1));
  }
}

// Trade practice after IEC 60062; the pairs stand in any table of capacitor codes (common practice, no source).
TEST(Marking, FiguresOnSmallBodiesBothWays) {
  struct Row { const char* code; double value, unit; };
  for (const Row& row : {Row{"104", 100e-9, 1e-12}, {"473", 47e-9, 1e-12}, {"220", 22e-12, 1e-12}, {"106", 10e-6, 1e-12}, {"102", 1e-9, 1e-12},
                         {"103", 10e3, 1}, {"501", 500, 1}, {"105", 1e6, 1}, {"102", 1e-3, 1e-6}, {"470", 47e-6, 1e-6}}) {
    EXPECT_EQ(digit_code(row.value, row.unit), row.code);
    EXPECT_EQ(read_digit_code(row.code, row.unit), row.value) << row.code;
  }
  EXPECT_EQ(digit_code(4.7, 1), "4R7");
  EXPECT_EQ(digit_code(4.7e-12, 1e-12), "4p7");
  EXPECT_EQ(digit_code(2.2e-6, 1e-6), "2R2");
  EXPECT_EQ(digit_code(0.47, 1), "R47");
  EXPECT_EQ(read_digit_code("104K", 1e-12), 100e-9);
  EXPECT_EQ(read_digit_code("479", 1e-12), 4.7e-12);
  EXPECT_EQ(digit_code(0, 1e-12), "");
  EXPECT_EQ(digit_code(NAN, 1e-12), "");
  for (const char* wrong : {"", "1", "10", "1044", "047", "1a4", "104Q", "107"}) EXPECT_FALSE(read_digit_code(wrong, 1e-12)) << wrong;
}

TEST(Marking, EveryPreferredValueComesBackFromItsFigures) {
  for (int decade = -11; decade <= -6; ++decade)
    for (const int two : e_series(24)) {
      const double farad = std::stod(std::to_string(two) + "e" + std::to_string(decade - 1));
      const std::optional<double> back = read_digit_code(digit_code(farad, 1e-12), 1e-12);
      ASSERT_TRUE(back) << farad;
      EXPECT_NEAR(*back, farad, 1e-15 * farad + 1e-27);
    }
}

TEST(Marking, WhatIsReadOffABodyMayBeTypedIn) {
  EXPECT_EQ(read_marking("yellow violet red gold", "\xCE\xA9"), 4700);
  EXPECT_EQ(read_marking("Brown, Black, Orange", "\xCE\xA9"), 10e3);
  EXPECT_FALSE(read_marking("yellow pear red", "\xCE\xA9"));
  EXPECT_EQ(read_marking("4k7", "\xCE\xA9"), 4700);
  EXPECT_EQ(read_marking(" 4R7 ", "\xCE\xA9"), 4.7);
  EXPECT_EQ(read_marking("104", "\xCE\xA9"), 104) << "a plain number of ohms";
  EXPECT_EQ(read_marking("104", "F"), 100e-9);
  EXPECT_EQ(read_marking("100 nF", "F"), 100e-9);
  EXPECT_EQ(read_marking("4p7", "F"), 4.7e-12);
  EXPECT_EQ(read_marking("102", "H"), 1e-3);
  EXPECT_EQ(read_marking("104", "V"), 104);
}

}  // namespace
}  // namespace tiepoint
