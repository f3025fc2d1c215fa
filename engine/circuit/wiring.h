// Wiring: which holes, leads and rails are one piece of metal. Pure geometry, no electronics.
//
// A strip is one spring clip: a terminal strip of five holes, a rail or half rail, or the bare end of a lead that is in no
// hole. A net is all strips joined by jumper wires and by legs that are one piece inside a part (a button's pairs).
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/rows.h"

namespace tiepoint {

using StripIndex = int;
using NetIndex = int;

struct LeadRef {
  int part = -1;  // index into board.parts
  int lead = -1;
  auto operator<=>(const LeadRef&) const = default;
};

struct Wiring {
  int strip_count = 0;  // clips of all breadboards first, then one per lead in the air
  int clip_count = 0;
  int net_count = 0;
  std::vector<int> first_strip;        // first_strip[breadboard]
  std::vector<NetIndex> net_of_strip;  // size strip_count
  Rows<StripIndex> strip_of_lead;      // strip_of_lead[part][lead]
  Rows<LeadRef> leads_on_strip;        // leads_on_strip[strip], in the order of parts and leads
  Rows<StripIndex> strips_of_net;      // strips_of_net[net], ascending
};

Wiring wire_up(const Board& board);

// A piece of metal as it really is: a strip, or the right half of a rail with a crack that nobody has found. Those halves are
// numbered from strip_count on, in the order of their strips. The wiring itself tells what is known, so it knows nothing of them.
using PieceIndex = int;
std::vector<StripIndex> cracked_strips(const Board& board, const Wiring& wiring);  // those in two pieces, ascending
PieceIndex piece_of(const Board& board, const Wiring& wiring, Hole hole);

StripIndex strip_of(const Board& board, const Wiring& wiring, Hole hole);
NetIndex net_of(const Board& board, const Wiring& wiring, Hole hole);
bool joined(const Board& board, const Wiring& wiring, Hole a, Hole b);
// Holes of a strip in the order of their index; empty for a lead in the air.
std::vector<Hole> holes_of(const Board& board, const Wiring& wiring, StripIndex strip);
// A strip in words: its first hole "a12" or "f12", the rail "top+" ("top+ left" when split), the lead in the air "R1.1"; with
// "2:" in front on the second breadboard. For messages.
std::string place_name(const Board& board, const Wiring& wiring, StripIndex strip);

}  // namespace tiepoint
