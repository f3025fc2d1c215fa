#include "engine/board/layout.h"

#include <array>
#include <bit>

#include "engine/board/words.h"

namespace tiepoint {
namespace {

constexpr std::array kLayouts = {
    Layout{LayoutKind::k830, "830", 63, 50, 3},
    Layout{LayoutKind::k400, "400", 30, 25, 2},
    Layout{LayoutKind::k170, "170", 17, 0, 1},
};
static_assert(kLayouts[0].hole_count() == 830 && kLayouts[1].hole_count() == 400 && kLayouts[2].hole_count() == 170);

constexpr std::array kRailY = {-3, -2, 13, 14};
constexpr int kRows = kRowsPerColumn;
constexpr int kLowerRow = 5;  // row f, the first below the centre gap
constexpr int kGapSteps = 2;  // grid lines without holes between e and f
constexpr int kGroup = 5;     // rail holes in a group; one grid step is left out between groups

int row_y(int row) { return row < kLowerRow ? row : row + kGapSteps; }

int rail_x(const Layout& layout, int rail_hole) {
  const int before = rail_hole - 1;
  return layout.rail_first_column - 1 + before + before / kGroup;
}

// Digits without a sign or a leading zero, 0 when it is anything else. Five digits are past every layout.
int whole_number(std::string_view digits) {
  if (digits.empty() || digits.size() > 5 || digits[0] == '0') return 0;
  int value = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9') return 0;
    value = value * 10 + (c - '0');
  }
  return value;
}

// Lower case, and every dash a keyboard or a word processor makes of a minus: U+2212, U+2013.
std::string plain_spelling(std::string_view name) {
  std::string out;
  for (size_t i = 0; i < name.size(); ++i) {
    const std::string_view dash = name.substr(i, 3);
    if (dash == "\u2212" || dash == "\u2013") {
      out += '-';
      i += 2;
    } else {
      out += name[i] >= 'A' && name[i] <= 'Z' ? static_cast<char>(name[i] - 'A' + 'a') : name[i];
    }
  }
  return out;
}

HolePlace read_place(std::string_view name) {
  HolePlace place;
  for (size_t rail = 0; rail < kRailNames.size(); ++rail) {
    if (name.substr(0, kRailNames[rail].size()) != kRailNames[rail]) continue;
    place.on_rail = true;
    place.rail = static_cast<Rail>(rail);
    place.rail_hole = whole_number(name.substr(kRailNames[rail].size()));
    return place;
  }
  place.row = name.empty() ? -1 : name[0] - 'a';
  place.column = name.empty() ? 0 : whole_number(name.substr(1));
  return place;
}

}  // namespace

std::span<const Layout> layouts() { return kLayouts; }
const Layout& layout(LayoutKind kind) { return kLayouts[static_cast<size_t>(kind)]; }

const Layout* find_layout(std::string_view name) {
  for (const Layout& candidate : kLayouts)
    if (candidate.name == name) return &candidate;
  return nullptr;
}

HolePlace place_of(const Layout& layout, int index) {
  HolePlace place;
  const int terminals = layout.columns * kRows;
  place.on_rail = index >= terminals;
  if (place.on_rail && layout.rail_holes > 0) {
    place.rail = static_cast<Rail>((index - terminals) / layout.rail_holes);
    place.rail_hole = (index - terminals) % layout.rail_holes + 1;
  } else if (!place.on_rail) {
    place.column = index / kRows + 1;
    place.row = index % kRows;
  }
  return place;
}

int index_of(const Layout& layout, const HolePlace& place) {
  if (place.on_rail) {
    if (place.rail_hole < 1 || place.rail_hole > layout.rail_holes) return -1;
    return layout.columns * kRows + static_cast<int>(place.rail) * layout.rail_holes + place.rail_hole - 1;
  }
  if (place.column < 1 || place.column > layout.columns || place.row < 0 || place.row >= kRows) return -1;
  return (place.column - 1) * kRows + place.row;
}

GridPoint grid_of(const Layout& layout, int index) {
  const HolePlace place = place_of(layout, index);
  if (place.on_rail) return {rail_x(layout, place.rail_hole), kRailY[static_cast<size_t>(place.rail)]};
  return {place.column - 1, row_y(place.row)};
}

int index_at(const Layout& layout, GridPoint point) {
  for (size_t rail = 0; rail < kRailY.size(); ++rail) {
    if (point.y != kRailY[rail]) continue;
    // The inverse of rail_x: in every group of six steps the sixth has no hole.
    const int along = point.x - (layout.rail_first_column - 1);
    if (along < 0 || along % (kGroup + 1) == kGroup) return -1;
    const int rail_hole = along / (kGroup + 1) * kGroup + along % (kGroup + 1) + 1;
    return index_of(layout, {.on_rail = true, .rail = static_cast<Rail>(rail), .rail_hole = rail_hole});
  }
  const int row = point.y < kLowerRow ? point.y : point.y - kGapSteps;
  if (row < 0 || row >= kRows || row_y(row) != point.y) return -1;
  return index_of(layout, {.column = point.x + 1, .row = row});
}

int rail_cut(const Layout& layout) { return (layout.rail_holes + 2 * kGroup - 1) / (2 * kGroup) * kGroup; }

int strip_count(const Layout& layout, RailCuts cuts) {
  if (layout.rail_holes == 0) return layout.columns * 2;
  return layout.columns * 2 + static_cast<int>(kRailNames.size()) + std::popcount(cuts.rails);
}

int strip_of(const Layout& layout, RailCuts cuts, int index) {
  const HolePlace place = place_of(layout, index);
  if (!place.on_rail) return (place.column - 1) * 2 + (place.row >= kLowerRow ? 1 : 0);
  return strip_of_rail(layout, cuts, place.rail, place.rail_hole > rail_cut(layout) ? 1 : 0);
}

int strip_of_rail(const Layout& layout, RailCuts cuts, Rail rail, int half) {
  if (layout.rail_holes == 0) return -1;
  const unsigned before = cuts.rails & ((1u << int(rail)) - 1);
  return layout.columns * 2 + static_cast<int>(rail) + std::popcount(before) + (half > 0 && cuts.has(rail) ? 1 : 0);
}

RailHalf rail_of_strip(const Layout& layout, RailCuts cuts, int strip) {
  int local = strip - layout.columns * 2;
  for (int r = 0;; ++r) {
    const Rail rail = static_cast<Rail>(r);
    const int pieces = cuts.has(rail) ? 2 : 1;
    if (local < pieces || r + 1 == static_cast<int>(kRailNames.size())) return {rail, cuts.has(rail) ? local : -1};
    local -= pieces;
  }
}

std::string hole_name(const Layout& layout, Hole hole) {
  if (!hole.valid() || hole.index >= layout.hole_count()) return {};
  const HolePlace place = place_of(layout, hole.index);
  std::string out = hole.breadboard > 0 ? std::to_string(hole.breadboard + 1) + ":" : std::string();
  if (place.on_rail) return out + std::string(kRailNames[static_cast<size_t>(place.rail)]) + std::to_string(place.rail_hole);
  return out + static_cast<char>('a' + place.row) + std::to_string(place.column);
}

Result<int> parse_hole(const Layout& layout, std::string_view name) {
  const int index = name.size() > 16 ? -1 : index_of(layout, read_place(plain_spelling(name)));
  if (index < 0) return Error{.code = Code::kUnknownHole, .found = in_quotes(name), .expected = hole_range(layout)};
  return index;
}

std::string hole_range(const Layout& layout) {
  std::string out = "a1 to j" + std::to_string(layout.columns);
  if (layout.rail_holes > 0)
    for (const std::string_view rail : kRailNames)
      out += ", " + std::string(rail) + "1 to " + std::string(rail) + std::to_string(layout.rail_holes);
  return out;
}

}  // namespace tiepoint
