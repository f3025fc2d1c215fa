#include "engine/board/words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace tiepoint {
namespace {

// Bytes of the UTF-8 character at `text[0]`, 0 when it is none (RFC 3629: no overlong forms, no surrogates, up to U+10FFFF).
size_t utf8_length(std::string_view text) {
  const auto byte = [&](size_t i) { return static_cast<uint8_t>(text[i]); };
  const uint8_t lead = byte(0);
  if (lead < 0x80) return 1;
  const size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return 0;
  for (size_t i = 1; i < length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  if (lead == 0xE0 && byte(1) < 0xA0) return 0;
  if (lead == 0xED && byte(1) > 0x9F) return 0;
  if (lead == 0xF0 && byte(1) < 0x90) return 0;
  if (lead == 0xF4 && byte(1) > 0x8F) return 0;
  return length;
}

struct Prefix {
  double factor;
  std::string_view symbol;
};
constexpr std::array kPrefixes = {Prefix{1e9, "G"},  Prefix{1e6, "M"},  Prefix{1e3, "k"},  Prefix{1, ""},
                                  Prefix{1e-3, "m"}, Prefix{1e-6, "µ"}, Prefix{1e-9, "n"}, Prefix{1e-12, "p"}};

}  // namespace

std::string number_text(double value) {
  if (std::isnan(value)) return "not a number";
  if (std::isinf(value)) return value > 0 ? "infinity" : "minus infinity";
  if (value == 0) return "0";
  constexpr int kDigits = 9;
  int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
  // Two factors, because 10^(8 - exponent) alone may overflow for the smallest numbers.
  const double half = std::pow(10.0, (kDigits - 1 - exponent) / 2);
  int64_t digits = std::llround(std::abs(value) * half * std::pow(10.0, kDigits - 1 - exponent - (kDigits - 1 - exponent) / 2));
  if (digits >= 1'000'000'000) {  // rounded up to the next power of ten
    digits /= 10;
    ++exponent;
  }
  std::string mantissa = std::to_string(digits);
  mantissa.erase(mantissa.find_last_not_of('0') + 1);
  std::string out = value < 0 ? "-" : "";
  const int size = static_cast<int>(mantissa.size());
  if (exponent < -5 || exponent > 11) {
    out += mantissa.substr(0, 1) + (size > 1 ? "." + mantissa.substr(1) : "") + "e" + std::to_string(exponent);
  } else if (exponent < 0) {
    out += "0." + std::string(static_cast<size_t>(-exponent - 1), '0') + mantissa;
  } else if (size <= exponent + 1) {
    out += mantissa + std::string(static_cast<size_t>(exponent + 1 - size), '0');
  } else {
    out += mantissa.substr(0, static_cast<size_t>(exponent) + 1) + "." + mantissa.substr(static_cast<size_t>(exponent) + 1);
  }
  return out;
}

std::string quantity_text(double value, std::string_view unit) {
  if (unit.empty() || !std::isfinite(value)) return number_text(value);
  Prefix prefix = {1, ""};
  if (value != 0) {
    prefix = kPrefixes.back();
    for (const Prefix& candidate : kPrefixes)
      if (std::abs(value) >= candidate.factor * (1 - 1e-12)) {
        prefix = candidate;
        break;
      }
  }
  return number_text(value / prefix.factor) + " " + std::string(prefix.symbol) + std::string(unit);
}

std::string in_quotes(std::string_view text) {
  constexpr size_t kLongest = 40;
  std::string out = "\"";
  size_t i = 0;
  while (i < text.size() && i < kLongest) {
    const size_t length = utf8_length(text.substr(i));
    const bool plain = length > 1 || (length == 1 && text[i] >= ' ' && text[i] != 0x7F);
    out += plain ? text.substr(i, length) : std::string_view("?");
    i += length == 0 ? 1 : length;
  }
  if (i < text.size()) out += "…";
  return out + "\"";
}

std::string shown_name(std::string_view name) {
  const auto plain = [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '_';
  };
  constexpr size_t kLongest = 24;
  return !name.empty() && name.size() <= kLongest && std::all_of(name.begin(), name.end(), plain) ? std::string(name)
                                                                                                  : in_quotes(name);
}

bool is_utf8(std::string_view text) {
  for (size_t i = 0; i < text.size();) {
    const size_t length = utf8_length(text.substr(i));
    if (length == 0) return false;
    i += length;
  }
  return true;
}

}  // namespace tiepoint
