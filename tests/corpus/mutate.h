// One known fault put into a working board, at a random place.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/board/edit.h"
#include "engine/explain/finding.h"
#include "tests/corpus/random.h"

namespace tiepoint::corpus {

// What was done; names the class by what the board looks like afterwards (a lead moved one column over into the strip of its own
// other lead is "same-strip", not "next-strip").
struct Fault {
  FindingKind kind = FindingKind::kCount;
  std::string part;                       // the part touched; "" for a wire taken away
  int lead = -1;                          // its lead, -1: the whole part
  std::vector<Hole> between;              // a wire taken away: where its ends were
  std::string also;                       // another part that may be named just as well (two supplies)
  std::vector<Edit> edits;                // what was done, to do it again on a board that has another fault already
};

// Every class the generator knows.
const std::vector<FindingKind>& fault_classes();

// Puts a fault of this class into the board; nothing when the board offers no place for it.
std::optional<Fault> spoil(Board& board, FindingKind kind, Random& random);

}  // namespace tiepoint::corpus
