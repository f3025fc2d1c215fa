// Board: the document. Breadboards, the parts and where their leads sit, their values and switch positions.
// A plain value: copyable, comparable, saved as JSON without loss. It knows nothing of volts.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "engine/board/defect.h"
#include "engine/board/kind.h"
#include "engine/board/layout.h"
#include "engine/error.h"

namespace tiepoint {

inline constexpr int kMaxParts = 2000;
inline constexpr int kMaxBreadboards = 4;
inline constexpr int kMostSpecimens = 1000000;
inline constexpr int kMaxBends = 64;           // of one wire
inline constexpr size_t kLongestName = 24;     // [byte] letters, digits, - and _; a letter first
inline constexpr size_t kLongestText = 400;    // [byte] a title or a label, UTF-8
inline constexpr double kMatReach = 1000;      // the mat extends this far from its origin, hole steps

struct PartId {  // survives edits; 0 is no part
  uint32_t value = 0;
  explicit operator bool() const { return value != 0; }
  auto operator<=>(const PartId&) const = default;
};

// The metal of a rail broken in the middle, under the plastic.
enum class Crack : uint8_t {
  kNone,
  kHidden,  // the rail looks whole; only measuring tells
  kFound,
};

struct Breadboard {
  LayoutKind layout = LayoutKind::k400;
  bool split_rails = false;  // all four rails are cut in the middle
  GridPoint origin = {};     // where its hole a1 lies on the mat, hole steps
  std::array<Crack, kRailNames.size()> cracks{};  // by Rail; of no account where there are no rails, or split ones
  // Where its rails end: as far as is known, and as its metal is.
  RailCuts cuts() const { return cuts_from(Crack::kFound); }
  RailCuts true_cuts() const { return cuts_from(Crack::kHidden); }
  bool hides_crack(Rail rail) const { return true_cuts().has(rail) && !cuts().has(rail); }
  bool operator==(const Breadboard&) const = default;

 private:
  RailCuts cuts_from(Crack least) const;
};

struct MatPoint {  // hole steps on the mat, hole a1 of the first breadboard at (0, 0)
  double x = 0, y = 0;
  bool operator==(const MatPoint&) const = default;
};

struct Part {
  PartId id;
  const PartKind* kind = nullptr;
  std::string name;             // unique on the board, "R1"
  std::vector<Hole> leads;      // leads[lead], size kind->leads.size(); an invalid hole is a lead in the air
  int turn = 0;                 // quarter turns clockwise, rigid parts only
  MatPoint mat = {};            // centre of the body, parts on the mat only
  std::vector<double> values;   // values[i] belongs to kind->values[i], SI units
  std::vector<MatPoint> bends;  // points a wire is bent through, on the mat; drawing only
  std::string label;            // a note written by the learner
  int specimen = 0;             // how many have been taken out of this place: every new one is another
  Defect defect;
  // Equal in everything that a file keeps; ids are handles and do not count.
  bool operator==(const Part& other) const;
};

class Board {
 public:
  Board() : breadboards(1) {}
  std::string title;
  std::vector<Breadboard> breadboards;  // 1..kMaxBreadboards
  std::vector<Part> parts;              // in the order they were placed
  Realism realism;
  std::vector<HuntEntry> hunt;

  bool operator==(const Board&) const = default;

  const Part* find(std::string_view name) const;
  const Part* find(PartId id) const;
  int index_of(PartId id) const;                           // -1 when gone
  const Layout& layout_of(Hole hole) const { return layout(breadboards[hole.breadboard].layout); }
  bool has(Hole hole) const;
  // Parses "e12", "top+7", "2:e12". Errors: kUnknownHole.
  Result<Hole> hole(std::string_view name) const;
  std::string name_of(Hole hole) const;                    // "" for an invalid hole
  MatPoint mat_of(Hole hole) const;                        // where the hole lies on the mat
  // The hole at a mat grid point, on whichever breadboard; invalid when there is none.
  Hole hole_at(GridPoint mat_point) const;
  // Every hole of the clip (terminal strip or rail) that holds this hole, this hole included.
  std::vector<Hole> clip_of(Hole hole) const;
  // Next free reference, "R3" for prefix "R". Numbers of removed parts are used again.
  std::string free_name(std::string_view prefix) const;

  struct Seated { PartId part; int lead = -1; };
  // The lead that sits in a hole, or else the probe that touches it; part 0 when there is neither.
  Seated lead_in(Hole hole) const;
  PartId body_over(Hole hole) const;                       // part whose body covers it, 0 when none
};

bool hides_crack(const Board& board);  // in any rail
bool has_hidden(const Board& board);   // a crack, or what is wrong with a part

// A value of a part by key; `otherwise` when its kind has none of that key.
double value_of(const Part& part, std::string_view key, double otherwise = 0);
int value_index(const PartKind& kind, std::string_view key);  // -1 when there is none
int lead_index(const PartKind& kind, std::string_view name);  // -1 when there is none
// A part of this kind with its default values and all leads in the air.
Part make_part(const PartKind& kind);

// May value number `index` of this kind be `value`? Finite, in range, one of the options. Errors: kBadValue.
Status check_value(const PartKind& kind, int index, double value);

// A step on the grid turned clockwise by quarter turns.
GridPoint turned(GridPoint step, int quarters);
// The holes all leads take when lead 0 sits in `anchor`; rigid parts only. Errors: kOffBoard with the lead.
Result<std::vector<Hole>> rigid_holes(const Board& board, const PartKind& kind, Hole anchor, int turn);
// Holes whose centre lies under the part's body (none for parts that stand clear or lie on the mat).
std::vector<Hole> covered_holes(const Board& board, const Part& part);
// May this part stand like this on the board (parts with the same id are ignored)? Errors: kHoleOccupied, kHoleCovered,
// kBodyOnLead, kSameHoleTwice, kOutOfReach, kOffBoard, kUnknownHole.
Status check_seat(const Board& board, const Part& part);
// Do the breadboards lie on the mat without overlapping? Errors: kTooMany, kBadValue.
Status check_breadboards(const std::vector<Breadboard>& breadboards);

}  // namespace tiepoint
