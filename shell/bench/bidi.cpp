#include "shell/bench/bidi.h"

#include <algorithm>
#include <vector>

namespace tiepoint {
namespace {

enum class Way : unsigned char { kLeft, kRight, kNeither };  // to be written from the left, from the right, as its neighbours

struct Sign {
  std::string_view bytes;
  Way way;
};

// U+0590..U+05FF are written with the lead bytes D6 90.. and D7.
bool is_hebrew(std::string_view sign) {
  const auto byte = [&](size_t i) { return static_cast<unsigned char>(sign[i]); };
  return sign.size() == 2 && (byte(0) == 0xD7 || (byte(0) == 0xD6 && byte(1) >= 0x90));
}

bool is_letter_or_digit(char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }

Way way_of(std::string_view sign) {
  if (is_hebrew(sign)) return Way::kRight;
  if (sign.size() == 1) return is_letter_or_digit(sign[0]) || sign[0] == '%' ? Way::kLeft : Way::kNeither;
  // Two bytes: Latin, Greek and the signs of units. Longer ones are dashes, quotation marks and arrows.
  return sign.size() == 2 ? Way::kLeft : Way::kNeither;
}

std::vector<Sign> signs_of(std::string_view words) {
  std::vector<Sign> signs;
  for (size_t i = 0; i < words.size();) {
    size_t end = i + 1;
    while (end < words.size() && (static_cast<unsigned char>(words[end]) & 0xC0) == 0x80) ++end;
    const std::string_view sign = words.substr(i, end - i);
    signs.push_back({sign, way_of(sign)});
    i = end;
  }
  return signs;
}

// What stands between two of one way goes their way (UAX 9, N1), all else the line's (N2); a bracket goes the way of its pair (N0).
void settle(std::vector<Sign>& signs) {
  for (size_t i = 0; i < signs.size();) {
    size_t end = i;
    while (end < signs.size() && signs[end].way == Way::kNeither) ++end;
    const bool from_left = i > 0 && end < signs.size() && signs[i - 1].way == Way::kLeft && signs[end].way == Way::kLeft;
    for (size_t k = i; k < end; ++k) signs[k].way = from_left ? Way::kLeft : Way::kRight;
    i = end + 1;
  }
  std::vector<size_t> open;
  for (size_t i = 0; i < signs.size(); ++i) {
    if (signs[i].bytes == "(") open.push_back(i);
    if (signs[i].bytes != ")" || open.empty()) continue;
    const size_t first = open.back();
    open.pop_back();
    const bool all_left = std::all_of(signs.begin() + std::ptrdiff_t(first), signs.begin() + std::ptrdiff_t(i),
                                      [](const Sign& sign) { return sign.way == Way::kLeft; });
    signs[i].way = all_left ? Way::kLeft : Way::kRight;
  }
}

std::string_view mirrored(std::string_view sign) {
  constexpr std::string_view kPairs = "()[]{}<>";
  const size_t at = sign.size() == 1 ? kPairs.find(sign[0]) : std::string_view::npos;
  return at == std::string_view::npos ? sign : kPairs.substr(at ^ 1, 1);
}

}  // namespace

bool has_hebrew(std::string_view words) {
  for (size_t i = 0; i + 1 < words.size(); ++i)
    if (is_hebrew(words.substr(i, 2))) return true;
  return false;
}

std::string visual_order(std::string_view words) {
  if (!has_hebrew(words)) return std::string(words);
  std::vector<Sign> signs = signs_of(words);
  settle(signs);
  std::string drawn;
  for (size_t end = signs.size(); end > 0;) {  // from the line's end, its left
    size_t begin = end - 1;
    while (begin > 0 && signs[begin - 1].way == signs[begin].way) --begin;
    const bool backwards = signs[begin].way == Way::kRight;
    for (size_t k = begin; k < end; ++k)
      drawn += backwards ? mirrored(signs[end - 1 - (k - begin)].bytes) : signs[k].bytes;
    end = begin;
  }
  return drawn;
}

}  // namespace tiepoint
