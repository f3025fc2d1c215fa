// Nets as someone sees them who reads a board as a circuit: wires are metal, and meters are looked through (a voltmeter is not
// there, an ammeter is a wire). For "in series", "side by side" and patterns of nets.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/wiring.h"
#include "engine/lesson/lesson.h"

namespace tiepoint {

class Nets {
 public:
  Nets(const Board& board, const Wiring& wiring);

  int of(int part, int lead) const;               // net of a lead
  std::vector<int> of(int part) const;            // the different nets that a part's leads are in, ascending
  bool series(std::span<const int> parts) const;  // all on one chain of parts with nothing branching off between two neighbours
  bool parallel(std::span<const int> parts) const;  // all between the same two nets
  // Does the pattern fit? part_of_role: indices into board.parts.
  bool fits(const ShapeCheck& shape, std::span<const int> part_of_role) const;

 private:
  bool place(const ShapeCheck& shape, std::span<const int> part_of_role, size_t end, std::vector<int>& net) const;

  const Board& board_;
  const Wiring& wiring_;
  std::vector<int> root_;   // of each net of the wiring
  std::vector<int> chain_;  // chain_[part]: parts with the same number are in series
};

}  // namespace tiepoint
