// Breadboard layouts as data: which holes there are, where they lie, which clip each belongs to.
//
// Geometry is in hole steps (1 step = the pitch, 2.54 mm), x to the right, y downwards, hole a1 at (0, 0).
// Rows a-e lie at y = 0..4, the centre gap of 7.62 mm puts f-j at y = 7..11. Top rails: minus at y = -3, plus at
// y = -2; bottom rails: minus at y = 13, plus at y = 14. (Common practice, no source; makers differ in the rail offset.)
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "engine/error.h"

namespace tiepoint {

inline constexpr double kPitch = 2.54e-3;  // [m]
inline constexpr int kRowsPerColumn = 10;

enum class LayoutKind : uint8_t { k830, k400, k170 };

struct Layout {
  LayoutKind kind;
  std::string_view name;   // "830", "400", "170": the number of tie points
  int columns;
  int rail_holes;          // holes of each of the four rails; 0: no rails
  int rail_first_column;   // 1-based column above which a rail's first hole lies
  constexpr int hole_count() const { return columns * kRowsPerColumn + 4 * rail_holes; }
};

std::span<const Layout> layouts();
const Layout& layout(LayoutKind kind);
const Layout* find_layout(std::string_view name);  // null when unknown

enum class Rail : uint8_t { kTopMinus, kTopPlus, kBottomMinus, kBottomPlus };
inline constexpr std::array<std::string_view, 4> kRailNames = {"top-", "top+", "bottom-", "bottom+"};  // by Rail

// A hole of one breadboard of a Board. Index: terminal holes first, (column-1)*10 + row with row a=0..j=9; then the
// rails in the order of Rail, columns*10 + rail*rail_holes + (k-1). Invalid by default: a lead in no hole.
struct Hole {
  uint8_t breadboard = 0;
  uint16_t index = 0xFFFF;
  bool valid() const { return index != 0xFFFF; }
  auto operator<=>(const Hole&) const = default;
};

struct GridPoint {  // a point of the hole grid, hole steps
  int x = 0, y = 0;
  auto operator<=>(const GridPoint&) const = default;
};

// What an index means.
struct HolePlace {
  bool on_rail = false;
  int column = 0;  // terminal holes: 1-based column
  int row = 0;     // terminal holes: 0 = a .. 9 = j
  Rail rail = Rail::kTopMinus;
  int rail_hole = 0;  // rails: 1-based, from the left
};

HolePlace place_of(const Layout& layout, int index);
int index_of(const Layout& layout, const HolePlace& place);      // -1 when off the layout
GridPoint grid_of(const Layout& layout, int index);
int index_at(const Layout& layout, GridPoint point);             // -1 when there is no hole at that grid point

// Holes of a split rail left of the cut: half of them, rounded up to whole groups of five (830: 25 of 50, 400: 15 of 25).
int rail_cut(const Layout& layout);

// Which rails end at the cut and begin anew behind it: bit 1 << Rail.
struct RailCuts {
  uint8_t rails = 0;
  bool has(Rail rail) const { return (rails >> int(rail) & 1) != 0; }
  bool operator==(const RailCuts&) const = default;
};
inline constexpr RailCuts kNoRailCut{0}, kAllRailsCut{0xF};

// Clips (terminal strips and rails) of one breadboard are numbered 0..strip_count-1: two per column (upper a-e, lower
// f-j): (column-1)*2 + (row >= 5); then one per rail, or two (left, right half) for a rail that is cut in the middle.
int strip_count(const Layout& layout, RailCuts cuts);
int strip_of(const Layout& layout, RailCuts cuts, int index);
// The strip of a rail, or of its left or right half (half > 0) where it is cut; -1 on a layout without rails.
int strip_of_rail(const Layout& layout, RailCuts cuts, Rail rail, int half);
// What a strip from 2 * layout.columns on is.
struct RailHalf {
  Rail rail = Rail::kTopMinus;
  int half = -1;  // 0 left, 1 right; -1 whole
};
RailHalf rail_of_strip(const Layout& layout, RailCuts cuts, int strip);

// "e12", "top+7", "bottom-3"; on the second breadboard of a board "2:e12".
std::string hole_name(const Layout& layout, Hole hole);
// The index behind "e12" or "top+7"; also "E12" and a typographic minus. Errors: kUnknownHole.
Result<int> parse_hole(const Layout& layout, std::string_view name);
// "a1 to j30, top+1 to top+25, …": every hole there is, for messages.
std::string hole_range(const Layout& layout);

}  // namespace tiepoint
