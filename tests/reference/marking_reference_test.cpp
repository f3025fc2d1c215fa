// Markings and wire against published tables. The standards' own texts (IEC 60062, IEC 60063, ASTM B258) were not seen.
#include <gtest/gtest.h>

#include <set>

#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

// T. Kuphaldt, Lessons in Electric Circuits, Reference volume, "Color codes", examples 1 to 6 (exact).
struct ColourExample {
  std::vector<std::string_view> bands;
  double resistance;  // [ohm]
  double tolerance;
};

const ColourExample kColourExamples[] = {
    {{"yellow", "violet", "orange", "gold"}, 47e3, 0.05},
    {{"green", "red", "gold", "silver"}, 5.2, 0.10},
    {{"white", "violet", "black"}, 97, 0.20},
    {{"orange", "orange", "black", "brown", "violet"}, 3.3e3, 0.001},
    {{"brown", "green", "grey", "silver", "red"}, 1.58, 0.02},
    {{"blue", "brown", "green", "silver", "blue"}, 6.15, 0.0025},
};

TEST(MarkingReference, TextbookColourCodesRead) {
  for (const ColourExample& example : kColourExamples) {
    std::vector<Band> bands;
    for (std::string_view colour : example.bands) bands.push_back(*find_band(colour));
    const std::optional<Banded> read = read_bands(bands);
    ASSERT_TRUE(read) << example.resistance;
    EXPECT_DOUBLE_EQ(read->resistance, example.resistance);
    EXPECT_EQ(read->tolerance, example.tolerance);
  }
}

TEST(MarkingReference, TextbookColourCodesAreWrittenBack) {
  for (const ColourExample& example : kColourExamples) {
    if (example.resistance == 3.3e3) continue;  // marked with five bands where four would do
    std::vector<std::string_view> names;
    for (Band band : bands_for(example.resistance, example.tolerance)) names.push_back(name(band));
    EXPECT_EQ(names, example.bands);
  }
}

// Body code of a 10 kilohm part: Vishay NTCLE100E3 data sheet.
TEST(MarkingReference, TenKilohmIsBrownBlackOrange) {
  const std::vector<Band> bands = bands_for(10e3, 0.20);
  EXPECT_EQ(bands, (std::vector{Band::kBrown, Band::kBlack, Band::kOrange}));
}

// E6, E12, E24 and most of E96: "Component preferred values" (qsl.net/g4usp); start of E96: "Preferred values"
// (statemaster.com). That page misprints 4.2 in E24: the member is 4.3. The last of E96, 976, from memory.
TEST(MarkingReference, PreferredValues) {
  const auto is = [](int series, std::vector<int> expected) {
    const std::span<const int> members = e_series(series);
    return std::vector<int>(members.begin(), members.end()) == expected;
  };
  EXPECT_TRUE(is(6, {10, 15, 22, 33, 47, 68}));
  EXPECT_TRUE(is(12, {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}));
  EXPECT_TRUE(is(24, {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}));
  const std::span<const int> e96 = e_series(96);
  const std::set<int> distinct(e96.begin(), e96.end());
  EXPECT_EQ(distinct.size(), 96u);
  for (int member : {100, 102, 105, 107, 110, 113, 115, 118, 332, 340, 348, 357, 976})
    EXPECT_TRUE(distinct.count(member)) << member;
}

// Smallest ratio error, computed.
TEST(MarkingReference, NearestPreferredValue) {
  EXPECT_EQ(nearest_e_value(930e3, 24), 910e3);
  EXPECT_EQ(nearest_e_value(460e3, 24), 470e3);
  EXPECT_EQ(nearest_e_value(1.12e3, 12), 1.2e3);
  EXPECT_EQ(nearest_e_value(1.12e3, 24), 1.1e3);
  EXPECT_EQ(nearest_e_value(38.8e3, 24), 39e3);
}

// Diameter [in] and resistance [ohm per 1000 ft]: HyperPhysics, "American Wire Gauge" table (hyperphysics.gsu.edu,
// wirega.html); diameters also in Lessons in Electric Circuits, Reference volume, wire table. Computed column: d = 0.127 mm *
// 92^((36-n)/39), R = 1.7241e-8 ohm m / A, evaluated with 40 digits.
TEST(MarkingReference, CopperWireTable) {
  const struct {
    int awg;
    double inch, per_1000_ft, diameter_mm, ohm_per_km;
  } table[] = {{10, 0.1019, 0.9989, 2.588187, 3.27704}, {18, 0.0403, 6.385, 1.023687, 20.9478},
               {20, 0.03196, 10.15, 0.811821, 33.3083}, {22, 0.02535, 16.14, 0.643803, 52.9622},
               {24, 0.0201, 25.67, 0.510559, 84.2132},  {26, 0.01594, 40.81, 0.404892, 133.904},
               {30, 0.01002, 103.2, 0.254639, 338.550}};
  for (const auto& row : table) {
    EXPECT_NEAR(awg_diameter(row.awg) / (row.inch * 25.4e-3), 1, 0.002) << row.awg;
    EXPECT_NEAR(awg_resistance(row.awg) / (row.per_1000_ft / 304.8), 1, 0.003) << row.awg;
    EXPECT_NEAR(awg_diameter(row.awg) / (row.diameter_mm * 1e-3), 1, 1e-6) << row.awg;
    EXPECT_NEAR(awg_resistance(row.awg) / (row.ohm_per_km * 1e-3), 1, 3e-6) << row.awg;
  }
}

}  // namespace
}  // namespace tiepoint
