// Why is it dark? Why does it light? The way of the current from a supply's plus through one part to its minus: in order, with
// volts and amperes at each step; where it breaks; and which presses would complete it.
#pragma once

#include <optional>
#include <vector>

#include "engine/explain/findings.h"

namespace tiepoint {

// One part on the way, entered at one lead and left at another.
struct WhyStep {
  PartId part;
  int lead_in = -1, lead_out = -1;
  Hole hole_in, hole_out;
  double voltage = 0;  // [V] where it is entered, NaN: no reading
  double current = 0;  // [A] through it, NaN: no reading
};

// The way itself, on the board as it stands: from the plus lead of one supply through a part to the minus lead, contacts that a hand
// would close included.
struct Path {
  PartId source;
  int plus = -1, minus = -1;   // leads of the source
  std::vector<WhyStep> steps;  // without numbers; empty when there is no way
};
Path path_through(const Board& board, const Wiring& wiring, PartId part);
// The same for a board that is read: a reed between its two distances is what its contact is.
Path path_through(const Board& board, const Wiring& wiring, const Readings& readings, PartId part);

// The way as a hill: the source first, a step up, then every part on it, each a step from one of its leads to another.
struct HillStep {
  PartId part;
  int lead_in = -1, lead_out = -1;
  double before = 0, after = 0;  // [V] at the leads, against the source's minus; NaN: no reading
  double current = 0;            // [A] through it along the way, NaN: no reading
};
// Numbers as they read now, whatever is pressed; empty when the path is.
std::vector<HillStep> hill_of(const Board& board, const Readings& readings, const Path& path);

struct WhyPress {  // a hand movement that the way needs
  PartId part;
  int value = 0;     // index into the part's values
  int position = 0;  // what to set it to
  bool hold = false; // a button: held down as long as it should work
};

enum class Why : unsigned char {
  kWorks,       // it works now: the steps say why
  kWorksFaint,  // current flows, too little to see
  kNeedsPress,  // the way is whole but for contacts that a hand closes: `presses`
  kStolen,      // the way is whole, yet the current takes another one
  kBroken,      // the way breaks behind steps[broken_after] (-1: before the first)
  kNoWay,       // nothing found that would make a way
  kNoLoad,      // the part is no load
};
std::string_view key(Why why);

struct Explanation {
  Why why = Why::kNoWay;
  PartId part;
  std::vector<WhyStep> steps;      // kBroken: as the way would run after the cause is repaired
  std::vector<WhyPress> presses;
  int broken_after = -1;
  std::optional<Finding> cause;    // what to repair; none for kWorks and kNeedsPress
};

// Numbers are those of the readings; when presses are needed, those one would read with them held.
Explanation why(const Observed& bench, PartId part, const std::vector<Finding>& known);

}  // namespace tiepoint
