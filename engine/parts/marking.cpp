#include "engine/parts/marking.h"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>

namespace tiepoint {
namespace {

// ---- Powers of ten. 10^0..10^22 are exact in a double, so member * 10^k and member / 10^k are correctly rounded: the same
// bits as the literal a person would write.

constexpr int kLargestExactPower = 22;
constexpr std::array<double, kLargestExactPower + 1> kPowerOfTen = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                                    1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                                    1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

double scale_by_ten(double value, int power) {
  while (power > kLargestExactPower) value *= kPowerOfTen[kLargestExactPower], power -= kLargestExactPower;
  while (power < -kLargestExactPower) value /= kPowerOfTen[kLargestExactPower], power += kLargestExactPower;
  return power >= 0 ? value * kPowerOfTen[size_t(power)] : value / kPowerOfTen[size_t(-power)];
}

// The d with 10^d <= value < 10^(d+1), value > 0 and finite. Comparisons only: the same on every machine.
int decade_of(double value) {
  int d = 0;
  while (d < 308 && value >= scale_by_ten(1, d + 1)) ++d;
  while (d > -324 && value < scale_by_ten(1, d)) --d;
  return d;
}

// value = mantissa * 10^power with a mantissa of exactly `digits` digits, rounded half up.
struct Decimal {
  int64_t mantissa = 0;
  int power = 0;
};

Decimal round_to_digits(double value, int digits) {
  Decimal out;
  out.power = decade_of(value) - digits + 1;
  out.mantissa = int64_t(std::floor(scale_by_ten(value, -out.power) + 0.5));
  if (double(out.mantissa) >= kPowerOfTen[size_t(digits)]) out.mantissa /= 10, ++out.power;
  return out;
}

// mantissa * 10^power written out, trailing zeros after the point dropped.
std::string written(Decimal d) {
  while (d.power < 0 && d.mantissa % 10 == 0) d.mantissa /= 10, ++d.power;
  std::string text = std::to_string(d.mantissa);
  if (d.power >= 0) return text.append(size_t(d.power), '0');
  const size_t places = size_t(-d.power);
  if (text.size() <= places) text.insert(0, places - text.size() + 1, '0');
  text.insert(text.size() - places, 1, '.');
  return text;
}

// ---- E series, IEC 60063 (members as in reference tables; E48 and E96 are 10^(i/n) rounded to three digits, from memory that
// no member is an exception).

constexpr std::array kE3 = {10, 22, 47};
constexpr std::array kE6 = {10, 15, 22, 33, 47, 68};
constexpr std::array kE12 = {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
constexpr std::array kE24 = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};
constexpr std::array kE96 = {100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158,
                             162, 165, 169, 174, 178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255,
                             261, 267, 274, 280, 287, 294, 301, 309, 316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412,
                             422, 432, 442, 453, 464, 475, 487, 499, 511, 523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665,
                             681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976};

constexpr std::array<int, 48> every_second_of_e96() {
  std::array<int, 48> out{};
  for (size_t i = 0; i < out.size(); ++i) out[i] = kE96[2 * i];
  return out;
}
constexpr std::array<int, 48> kE48 = every_second_of_e96();

// Members of all decades in one row: member number n is entry n mod N of decade n div N.
double member(std::span<const int> series, int n) {
  const int size = int(series.size());
  int decade = n / size, entry = n % size;
  if (entry < 0) entry += size, --decade;
  return scale_by_ten(series[size_t(entry)], decade - (series[0] == 10 ? 1 : 2));
}

constexpr double kSameValue = 1e-9;  // relative; below this two values are the same marking

// Number of the largest member not above `value`.
int floor_member(double value, std::span<const int> series) {
  int n = decade_of(value) * int(series.size());
  while (member(series, n + 1) <= value * (1 + kSameValue)) ++n;
  return n;
}

bool usable(double value) { return value >= 1e-300 && value <= 1e300; }

// ---- Bands, IEC 60062 (the columns a textbook prints; 0.05 %, 0.02 %, 0.01 % and the temperature column from memory).

struct BandMeaning {
  std::string_view name;
  int digit;           // -1: none
  int multiplier;      // power of ten; kNoPower: none
  double tolerance;    // fraction; 0: none
  double coefficient;  // [1/K]; 0: none
};

constexpr int kNoPower = 99;
constexpr std::array<BandMeaning, 14> kBands = {{
    {"black", 0, 0, 0, 250e-6},
    {"brown", 1, 1, 0.01, 100e-6},
    {"red", 2, 2, 0.02, 50e-6},
    {"orange", 3, 3, 0.0005, 15e-6},
    {"yellow", 4, 4, 0.0002, 25e-6},
    {"green", 5, 5, 0.005, 20e-6},
    {"blue", 6, 6, 0.0025, 10e-6},
    {"violet", 7, 7, 0.001, 5e-6},
    {"grey", 8, 8, 0.0001, 1e-6},
    {"white", 9, 9, 0, 0},
    {"gold", -1, -1, 0.05, 0},
    {"silver", -1, -2, 0.10, 0},
    {"pink", -1, -3, 0, 0},
    {"none", -1, kNoPower, 0.20, 0},
}};

const BandMeaning& meaning(Band band) { return kBands[size_t(band)]; }

std::optional<Band> band_of_power(int power) {
  for (size_t i = 0; i < kBands.size(); ++i)
    if (kBands[i].multiplier == power && power != kNoPower) return Band(i);
  return std::nullopt;
}

std::optional<Band> band_of_tolerance(double tolerance) {
  for (size_t i = 0; i < kBands.size(); ++i)
    if (kBands[i].tolerance > 0 && std::abs(kBands[i].tolerance - tolerance) <= 1e-6 * tolerance) return Band(i);
  return std::nullopt;
}

// ---- Reading values.

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Consumes text from the front of `rest`.
bool take(std::string_view& rest, std::string_view text) {
  if (rest.substr(0, text.size()) != text) return false;
  rest.remove_prefix(text.size());
  return true;
}

void skip_spaces(std::string_view& rest) {
  while (take(rest, " ") || take(rest, "\t") || take(rest, "\xC2\xA0")) {
  }
}

std::string take_digits(std::string_view& rest) {
  std::string out;
  while (!rest.empty() && is_digit(rest[0])) out += rest[0], rest.remove_prefix(1);
  return out;
}

struct Prefix {
  std::string_view text;
  int power;
};
// Micro has two code points, U+00B5 and U+03BC.
constexpr std::array<Prefix, 13> kReadPrefixes = {{{"p", -12},
                                                   {"n", -9},
                                                   {"u", -6},
                                                   {"\xC2\xB5", -6},
                                                   {"\xCE\xBC", -6},
                                                   {"m", -3},
                                                   {"k", 3},
                                                   {"K", 3},
                                                   {"M", 6},
                                                   {"G", 9},
                                                   {"T", 12},
                                                   {"R", 0},
                                                   {"f", -15}}};
// Ohm has two code points, U+03A9 and U+2126.
constexpr std::array<std::string_view, 12> kReadUnits = {"ohms", "ohm", "Ohm", "\xCE\xA9", "\xE2\x84\xA6", "Hz", "V", "A",
                                                         "F",    "H",   "W",   "s"};

bool take_unit(std::string_view& rest) {
  for (std::string_view unit : kReadUnits)
    if (take(rest, unit)) return true;
  return false;
}

// Takes an "e-6" exponent; leaves `rest` alone when there is none. False when it is out of all range.
bool take_exponent(std::string_view& rest, int& power) {
  if (rest.empty() || (rest[0] != 'e' && rest[0] != 'E')) return true;
  std::string_view after = rest.substr(1);
  const bool negative = take(after, "-");
  if (!negative) take(after, "+");
  const std::string digits = take_digits(after);
  if (digits.empty()) return true;
  if (digits.size() > 4) return false;
  int exponent = 0;
  for (char c : digits) exponent = exponent * 10 + (c - '0');
  power = negative ? -exponent : exponent;
  rest = after;
  return true;
}

// digits * 10^power, correctly rounded. The text handed over has no decimal point, so the locale does not matter.
std::optional<double> to_double(const std::string& digits, int power) {
  const std::string text = digits + "e" + std::to_string(power);
  const double value = std::strtod(text.c_str(), nullptr);
  if (!std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace

std::span<const int> e_series(int series) {
  switch (series) {
    case 3:
      return kE3;
    case 6:
      return kE6;
    case 12:
      return kE12;
    case 24:
      return kE24;
    case 48:
      return kE48;
    case 96:
      return kE96;
    default:
      return {};
  }
}

double nearest_e_value(double value, int series) {
  const std::span<const int> members = e_series(series);
  if (members.empty() || !usable(value)) return value;
  const int n = floor_member(value, members);
  const double below = member(members, n), above = member(members, n + 1);
  return value / below >= above / value ? above : below;
}

double step_e_value(double value, int series, int steps) {
  const std::span<const int> members = e_series(series);
  if (members.empty() || !usable(value) || std::abs(steps) > 100000) return value;
  if (steps == 0) return nearest_e_value(value, series);
  int n = floor_member(value, members);
  const bool between = member(members, n) < value * (1 - kSameValue);
  if (between && steps < 0) ++n;
  return member(members, n + steps);
}

std::string_view name(Band band) { return meaning(band).name; }

std::optional<Band> find_band(std::string_view name) {
  for (size_t i = 0; i < kBands.size(); ++i)
    if (kBands[i].name == name) return Band(i);
  return std::nullopt;
}

std::vector<Band> bands_for(double resistance, double tolerance) {
  if (!usable(resistance)) return {};
  const std::optional<Band> last = band_of_tolerance(tolerance);
  if (!last) return {};
  Decimal d = round_to_digits(resistance, 3);
  if (std::abs(scale_by_ten(double(d.mantissa), d.power) - resistance) > kSameValue * resistance) return {};
  const bool two_digits = d.mantissa % 10 == 0;
  if (two_digits) d.mantissa /= 10, ++d.power;
  if (!two_digits && *last == Band::kNone) return {};
  const std::optional<Band> multiplier = band_of_power(d.power);
  if (!multiplier) return {};
  std::vector<Band> bands;
  for (int64_t unit = two_digits ? 10 : 100; unit > 0; unit /= 10) bands.push_back(Band(d.mantissa / unit % 10));
  bands.push_back(*multiplier);
  if (*last != Band::kNone) bands.push_back(*last);
  return bands;
}

std::optional<Banded> read_bands(std::span<const Band> bands) {
  if (bands.size() == 4 && bands.back() == Band::kNone) bands = bands.first(3);
  if (bands.size() < 3 || bands.size() > 6) return std::nullopt;
  const size_t digits = bands.size() >= 5 ? 3 : 2;
  int mantissa = 0;
  for (size_t i = 0; i < digits; ++i) {
    const int digit = meaning(bands[i]).digit;
    if (digit < 0 || (i == 0 && digit == 0)) return std::nullopt;
    mantissa = mantissa * 10 + digit;
  }
  const int power = meaning(bands[digits]).multiplier;
  if (power == kNoPower) return std::nullopt;
  Banded out;
  out.resistance = scale_by_ten(mantissa, power);
  if (bands.size() >= 4) {
    out.tolerance = meaning(bands[digits + 1]).tolerance;
    if (out.tolerance == 0 || bands[digits + 1] == Band::kNone) return std::nullopt;
  }
  if (bands.size() == 6) {
    out.temperature_coefficient = meaning(bands[5]).coefficient;
    if (out.temperature_coefficient == 0) return std::nullopt;
  }
  return out;
}

std::optional<double> parse_value(std::string_view text) {
  std::string_view rest = text;
  skip_spaces(rest);
  const bool negative = take(rest, "-") || take(rest, "\xE2\x88\x92");
  if (!negative) take(rest, "+");
  std::string digits = take_digits(rest);
  const size_t whole = digits.size();
  bool point = false;
  const bool comma = !rest.empty() && rest[0] == ',';
  if (take(rest, ".") || take(rest, ",")) {
    point = true;
    digits += take_digits(rest);
    // "1,000" may be one or a thousand; only "0,125" is plain.
    if (comma && digits.size() - whole == 3 && whole > 0 && digits[0] != '0') return std::nullopt;
    if (comma && digits.size() == whole) return std::nullopt;
  }
  int exponent = 0;
  if (!digits.empty() && !take_exponent(rest, exponent)) return std::nullopt;
  const size_t before_spaces = rest.size();
  skip_spaces(rest);
  const bool spaced = rest.size() != before_spaces;
  int power = 0;
  size_t fraction = digits.size() - whole;
  if (take(rest, "%")) {
    power = -2;
  } else {
    bool prefixed = false;
    for (const Prefix& prefix : kReadPrefixes) {
      if (!take(rest, prefix.text)) continue;
      power = prefix.power;
      prefixed = true;
      break;
    }
    // The letter stands for the decimal point: 4k7, 2u2, R47.
    if (prefixed && !point && !spaced && exponent == 0) {
      const std::string after = take_digits(rest);
      digits += after;
      fraction = after.size();
    }
    skip_spaces(rest);
    take_unit(rest);
  }
  skip_spaces(rest);
  if (!rest.empty() || digits.empty() || digits.size() > 400) return std::nullopt;
  const std::optional<double> value = to_double(digits, exponent + power - int(fraction));
  if (!value) return std::nullopt;
  return negative ? -*value : *value;
}

std::string letter_code(double value) {
  if (!usable(value)) return value == 0 ? "0R" : "";
  Decimal d = round_to_digits(value, 4);
  const double rounded = scale_by_ten(double(d.mantissa), d.power);
  constexpr std::array<Prefix, 5> kLetters = {{{"R", 0}, {"k", 3}, {"M", 6}, {"G", 9}, {"T", 12}}};
  size_t letter = 0;
  while (letter + 1 < kLetters.size() && rounded >= scale_by_ten(1, kLetters[letter + 1].power) * (1 - kSameValue)) ++letter;
  d.power -= kLetters[letter].power;
  std::string out = written(d);
  const size_t point = out.find('.');
  if (point == std::string::npos) return out.append(kLetters[letter].text);
  return out.replace(point, 1, kLetters[letter].text);
}

double digit_code_unit(std::string_view unit) { return unit == "F" ? 1e-12 : unit == "H" ? 1e-6 : unit == "\xCE\xA9" ? 1 : 0; }

std::string digit_code(double value, double unit) {
  if (!usable(value) || !(unit > 0)) return {};
  const Decimal d = round_to_digits(value / unit, 2);
  if (d.mantissa <= 0) return {};
  int64_t two = d.mantissa;
  int power = d.power;
  while (two < 10) two *= 10, --power;
  while (two >= 100) two /= 10, ++power;
  const std::string figures = std::to_string(two);
  if (power >= 0) return power <= 7 ? figures + char('0' + power) : std::string();
  const std::string point = unit < 1e-9 ? "p" : "R";
  if (power == -1) return figures.substr(0, 1) + point + figures.substr(1);
  return power == -2 ? point + figures : std::string();
}

std::optional<double> read_digit_code(std::string_view text, double unit) {
  constexpr std::string_view kTolerances = "BCDFGJKMZ";
  if (text.size() == 4 && kTolerances.find(text[3]) != std::string_view::npos) text.remove_suffix(1);
  if (text.size() != 3) return std::nullopt;
  for (const char c : text)
    if (c < '0' || c > '9') return std::nullopt;
  const int last = text[2] - '0';
  if (text[0] == '0' || last == 7) return std::nullopt;
  const int two = 10 * (text[0] - '0') + text[1] - '0', power = last >= 8 ? last - 10 : last;
  // By whole powers of ten of the unit, so that "104" is 100 nF to the last bit.
  const int unit_power = int(std::floor(std::log10(unit) + 0.5));
  return scale_by_ten(two, power + unit_power);
}

namespace {

// "yellow violet red gold", with spaces, commas or hyphens between.
std::optional<double> read_band_names(std::string_view text) {
  std::vector<Band> bands;
  std::string word;
  const auto close = [&] {
    if (word.empty()) return true;
    const std::optional<Band> band = find_band(word);
    if (band) bands.push_back(*band);
    word.clear();
    return band.has_value();
  };
  for (const char c : text) {
    if (c == ' ' || c == ',' || c == '-') {
      if (!close()) return std::nullopt;
    } else {
      word += c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c;
    }
  }
  if (!close() || bands.empty()) return std::nullopt;
  const std::optional<Banded> read = read_bands(bands);
  return read ? std::optional<double>(read->resistance) : std::nullopt;
}

}  // namespace

std::optional<double> read_marking(std::string_view text, std::string_view unit) {
  skip_spaces(text);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (unit == "\xCE\xA9") {
    if (const std::optional<double> banded = read_band_names(text)) return banded;
  } else if (const double of = digit_code_unit(unit); of > 0) {
    if (const std::optional<double> code = read_digit_code(text, of)) return code;
  }
  if (!unit.empty() && text.size() > unit.size() && text.substr(text.size() - unit.size()) == unit) {
    text.remove_suffix(unit.size());
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  }
  return parse_value(text);
}

std::string engineering(double value, std::string_view unit, int digits) {
  if (std::isnan(value)) return "no reading";
  if (digits < 1) digits = 1;
  if (digits > 15) digits = 15;
  const std::string sign = value < 0 ? "-" : "";
  const double size = std::abs(value);
  const std::string gap = unit.empty() ? "" : " ";
  if (std::isinf(size)) return sign + "\xE2\x88\x9E" + gap + std::string(unit);
  constexpr int kSmallest = -15, kLargest = 12;
  constexpr std::array<std::string_view, 10> kPrefixes = {"f", "p", "n", "\xC2\xB5", "m", "", "k", "M", "G", "T"};
  if (size < 1e-15) return "0" + gap + std::string(unit);
  if (unit.empty() || unit == "%" ||
      unit ==
          "\xC2\xB0"
          "C")
    return decimal(value, digits) + gap + std::string(unit);
  Decimal d = round_to_digits(size, digits);
  const int decade = d.power + digits - 1;  // of the rounded number: 999.6 mA is 1 A
  int prefix = (decade >= 0 ? decade / 3 : -((2 - decade) / 3)) * 3;
  prefix = prefix < kSmallest ? kSmallest : prefix > kLargest ? kLargest : prefix;
  d.power -= prefix;
  return sign + written(d) + " " + std::string(kPrefixes[size_t((prefix - kSmallest) / 3)]) + std::string(unit);
}

std::string decimal(double value, int digits) {
  if (std::isnan(value)) return "no reading";
  if (value == 0) return "0";
  const std::string sign = value < 0 ? "-" : "";
  const double size = std::abs(value);
  if (std::isinf(size)) return sign + "\xE2\x88\x9E";
  if (!usable(size)) return "0";
  digits = digits < 1 ? 1 : digits > 15 ? 15 : digits;
  Decimal d = round_to_digits(size, digits);
  const int decade = d.power + digits - 1;
  if (decade >= -5 && decade < 15) return sign + written(d);
  d.power = 1 - digits;
  return sign + written(d) + "e" + std::to_string(decade);
}

// Each gauge step is the 39th root of 92 thinner; No. 36 is 0.005 inch. Multiplied out, not pow(): the same bits everywhere.
double awg_diameter(int awg) {
  constexpr double kStep = 1.12293219653228140;  // 92^(1/39)
  constexpr double kDiameter36 = 0.127e-3;       // [m]
  if (awg < -3) awg = -3;
  if (awg > 50) awg = 50;
  double factor = 1;
  for (int n = awg; n < 36; ++n) factor *= kStep;
  for (int n = awg; n > 36; --n) factor /= kStep;
  return kDiameter36 * factor;
}

double awg_resistance(int awg) {
  constexpr double kCopper = 1.7241e-8;  // [ohm m] at 20 °C
  constexpr double kPi = 3.14159265358979324;
  const double d = awg_diameter(awg);
  return kCopper / (kPi / 4 * d * d);
}

}  // namespace tiepoint
