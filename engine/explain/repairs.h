// Repairs: single hand movements that would leave fewer flaws, found by asking Judge about each. No volts here either.
#pragma once

#include <vector>

#include "engine/explain/finding.h"
#include "engine/explain/judge.h"

namespace tiepoint {

enum class Movement : unsigned char { kSeat, kShift, kTurn, kSwapSupply, kSwitchOn, kRemove, kAddWire, kToResistor };

struct Candidate {
  Movement movement = Movement::kSeat;
  Change change;
  int part = -1, lead = -1;      // what moves; kAddWire: none
  StripIndex from = -1, to = -1; // kSeat: strips; kAddWire: the two strips
  int steps = 0;                 // kShift: columns to the right; kTurn: quarter turns
  double effort = 0;             // smaller: a likelier slip and a smaller movement of the hand
  double cost = 0;               // flaws left
  double score() const { return cost + effort; }
};

// All movements worth a thought near the flaws of the board as it stands, best first. Not yet checked for free holes.
// `sideways`: also those that leave no fewer flaws (for boards whose structure is in order).
std::vector<Candidate> find_repairs(const Scene& scene, Judge& judge, const std::vector<FlawAt>& flaws, bool sideways = false);

// Which holes a lead or a body has taken, looked up once per board.
struct Taken {
  std::vector<std::vector<char>> holes;  // holes[breadboard][index]
  bool operator()(Hole hole) const { return holes[hole.breadboard][hole.index] != 0; }
};
Taken taken_holes(const Board& board);

// The edits of a candidate, with holes chosen; empty when it does not fit on the board.
std::vector<Edit> edits_for(const Scene& scene, const Candidate& candidate, const Taken& taken);

// What the trouble is called when this candidate is its repair.
FindingKind name_trouble(const Scene& scene, Judge& judge, const Candidate& candidate, const std::vector<FlawAt>& flaws);

// The switch that has one of its ends in each of these strips; -1: none.
int switch_between(const Scene& scene, StripIndex from, StripIndex to);

// The free hole of a strip nearest to `near` in which this lead may sit; invalid when there is none.
Hole free_hole(const Scene& scene, int part, int lead, StripIndex strip);

}  // namespace tiepoint
