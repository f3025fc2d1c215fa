// Values and their markings: E series (IEC 60063), colour bands and letter code (IEC 60062), both ways; copper wire by AWG.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tiepoint {

// Members of E3..E96 as integers of two (E3-E24) or three (E96) digits; empty for a series that does not exist.
std::span<const int> e_series(int series);
// The member nearest by ratio to `value` > 0, SI. Ties go up.
double nearest_e_value(double value, int series);
double step_e_value(double value, int series, int steps);  // next members up (+) or down (-)

enum class Band : unsigned char {
  kBlack,
  kBrown,
  kRed,
  kOrange,
  kYellow,
  kGreen,
  kBlue,
  kViolet,
  kGrey,
  kWhite,
  kGold,
  kSilver,
  kPink,
  kNone
};
std::string_view name(Band band);
std::optional<Band> find_band(std::string_view name);

struct Banded {
  double resistance = 0;               // [ohm]
  double tolerance = 0.20;             // fraction
  double temperature_coefficient = 0;  // [1/K], of a sixth band; 0: not marked
};
// Bands for a resistance: four when two digits suffice (three at 20 %), else five. Empty when it cannot be marked.
std::vector<Band> bands_for(double resistance, double tolerance);
// Three to six bands read as IEC 60062; nothing when they mean no value (a black first band, a gold digit, ...).
std::optional<Banded> read_bands(std::span<const Band> bands);

// "4k7", "220R", "1M", "100n", "2u2" and back; also plain numbers, SI prefixes ("4.7k", "10 kohm") and a decimal comma.
// NaN-free. "1,000" means nothing: it may be one or a thousand.
std::optional<double> parse_value(std::string_view text);
std::string letter_code(double value);  // "4k7", resistances; up to four digits
// The figures printed on small bodies: two digits and a power of ten of `unit` (1e-12 F, 1e-6 H, 1 ohm), "104" is 100 nF; below ten
// units the letter R is the point, "4R7" ("4p7" on capacitors). Empty when it cannot be written so. Trade practice after IEC 60062.
std::string digit_code(double value, double unit);
// Three digits and perhaps a letter of tolerance ("104", "473K"); 8 and 9 as the last digit are powers -2 and -1.
std::optional<double> read_digit_code(std::string_view text, double unit);
double digit_code_unit(std::string_view unit);  // of what "F", "H" and "Ω" are printed in; 0 for all else
// What is typed or read off a body for a quantity in this unit: bands by their names for "Ω" ("yellow violet red gold"), three figures
// for "F" and "H" (a bare 104 would be no value of either; for "Ω" it is 104 ohm), else as parse_value, the unit's sign allowed.
std::optional<double> read_marking(std::string_view text, std::string_view unit);
// "4.7 kΩ", "9.2 mA"; NaN reads "no reading". Rounded half away from zero to `digits` significant digits, no trailing zeros;
// less than 1e-15 of the unit prints as 0. No prefix for "", "%" and "°C".
std::string engineering(double value, std::string_view unit, int digits = 3);
// A plain number: "4700", "0.047", "1.5e-12".
std::string decimal(double value, int digits = 6);

double awg_diameter(int awg);    // [m], ASTM B258 formula (from memory)
double awg_resistance(int awg);  // [ohm/m] at 20 °C, annealed copper 1.7241e-8 ohm m (IACS, from memory)

}  // namespace tiepoint
