// A fault hunt: a teacher hides one to three defects in a working board, and somebody finds them by measuring.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/board/edit.h"

namespace tiepoint {

inline constexpr int kMostHidden = 3;

// A fault that a board can hide.
struct Fault {
  PartId part;             // 0: a rail
  int breadboard = 0;      // of the rail
  Rail rail = Rail::kTopMinus;
  Defect defect;           // of the part
  Edit edit;               // hides it
};
// All that hide_defects chooses from, whether or not they change anything: those of the parts in their order, then of the rails.
std::vector<Fault> possible_faults(const Board& board);
// The edits that hide `count` (1..kMostHidden) defects in different parts: a wire broken inside, a resistor of another value
// than its bands say, a dead LED, a clip that does not grip, a battery nearly empty, a button stuck, a rail cracked in the middle.
// The same seed hides the same. Each by itself changes what some load does at some setting of the switches. Fewer when the board has no more to offer.
// The log begins anew.
std::vector<Edit> hide_defects(const Board& board, int count, uint32_t seed);
// The edits that show everything hidden: the parts stay as broken as they are.
std::vector<Edit> reveal_defects(const Board& board);

}  // namespace tiepoint
