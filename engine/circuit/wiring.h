// Wiring: which holes, leads and rails are one piece of metal. Pure geometry, no electronics.
//
// A strip is one spring clip: a terminal strip of five holes, a rail or half rail, or the bare end of a lead that is in no
// hole. A net is all strips joined by jumper wires and by legs that are one piece inside a part (a button's pairs).
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"

namespace tiepoint {

using StripIndex = int;
using NetIndex = int;

struct LeadRef {
  int part = -1;  // index into board.parts
  int lead = -1;
  auto operator<=>(const LeadRef&) const = default;
};

struct Wiring {
  int strip_count = 0;   // clips of all breadboards first, then one per lead in the air
  int clip_count = 0;
  int net_count = 0;
  std::vector<int> first_strip;               // first_strip[breadboard]
  std::vector<NetIndex> net_of_strip;         // size strip_count
  std::vector<std::vector<StripIndex>> strip_of_lead;  // strip_of_lead[part][lead]
  std::vector<std::vector<LeadRef>> leads_on_strip;    // size strip_count
  std::vector<std::vector<StripIndex>> strips_of_net;  // size net_count
};

Wiring wire_up(const Board& board);

StripIndex strip_of(const Board& board, const Wiring& wiring, Hole hole);
NetIndex net_of(const Board& board, const Wiring& wiring, Hole hole);
bool joined(const Board& board, const Wiring& wiring, Hole a, Hole b);
// Holes of a strip in the order of their index; empty for a lead in the air.
std::vector<Hole> holes_of(const Board& board, const Wiring& wiring, StripIndex strip);
// A net in words of places: "e12", "top+" or "R1.1" for its first strip; for messages.
std::string place_name(const Board& board, const Wiring& wiring, StripIndex strip);

}  // namespace tiepoint
