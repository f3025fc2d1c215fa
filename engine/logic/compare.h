// Are two boards the same circuit, or do they at least do the same?
//
// Same circuit: the netlists are isomorphic as graphs of parts and nets, kinds and values included. What does not count: names,
// places, wires, colours of wires, meters and oscilloscopes, positions of switches, and which of two equal ends a part is
// joined by. (Not seen as equal: two gates of one chip that have changed places.) Same behaviour: at every position of the
// switches the outputs are in the same state, and the currents through them agree.
//
// Method: colours of parts and nets are refined by those of their neighbours until nothing changes (Weisfeiler and Leman 1968,
// from memory); where several are left alike, one after another is tried, within a bound on the work.
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"

namespace tiepoint {

enum class Likeness : unsigned char {
  kSameCircuit,
  kSameBehaviour,  // other circuits, but nothing that lights, sounds or moves tells them apart
  kDifferent,
  kUndecided,  // too many parts alike to decide within the bound
};
std::string_view key(Likeness likeness);  // "same-circuit"

// The first difference between the circuits, and the first in what they do.
enum class Difference : unsigned char {
  kNone,
  kPartMissing,  // `first` has a part of this kind and value, `second` has none left for it
  kPartExtra,    // the other way round
  kOtherValue,   // a part of the kind is there, with another value
  kOtherJoints,  // the same parts, but this one is joined to others
  kOtherInputs,  // not as many switches, or other kinds of output
  kOtherState,   // at this setting of the switches an output does something else
  kOtherCurrent,
};
std::string_view key(Difference difference);

struct CompareResult {
  Likeness likeness = Likeness::kDifferent;
  Difference circuit = Difference::kNone;
  std::string first_part, second_part;  // names on either board, "" for none
  Difference behaviour = Difference::kNone;
  std::vector<std::string> setting;  // "S1 0", "S2 1": the setting where they differ, by the first board's names
  std::string first_output, second_output;
  double first_current = 0, second_current = 0;  // [A]
};

struct CompareOptions {
  double current_tolerance = 0.1;  // share by which currents may differ
};

// Same circuit as in `second`: matching[part of first] = part of second, -1 for what does not count.
CompareResult compare(const Board& first, const Board& second, const CompareOptions& options = {},
                      std::vector<int>* matching = nullptr);

}  // namespace tiepoint
