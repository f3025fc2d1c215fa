// Scene: the board as someone sees it who looks for a fault: which leads sit in which strip, what joins what, which contacts a
// hand can close. No volts. Built once per board; judge() then asks "and what if?" many times over it.
//
// Terminals: 0..lead_count-1 are the leads of all parts in one row, then the parts' inner nodes.
#pragma once

#include <cstdint>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/wiring.h"

namespace tiepoint {

enum class Link : unsigned char {
  kOhmic,     // resistance [ohm] in `value`; passes both ways
  kContact,   // closed by a hand in some positions: no resistance
  kJunction,  // passes from a to b only; `value` is the voltage it takes when well on [V]
  kStore,     // capacitor: ties, passes nothing that lasts
  kSource,    // a is plus, b is minus; `value` is its voltage [V]
  kActive,    // passes something when the part decides so (a transistor's channel, a chip's inside)
};

struct SceneLink {
  Link link = Link::kOhmic;
  int a = 0, b = 0;         // terminals
  double value = 0;
  int part = 0;
  int control = -1;         // kContact: which control closes it
  uint32_t closed_at = 0;   // bit k: closed when the control is at position k
  bool sensitive = false;   // kJunction without resistance of its own (LED, base): needs a resistor in its loop
  bool one_way = false;     // kJunction or kStore: standing backwards is a mistake
  bool required = false;    // kActive: an input; must be told what it is
  bool both_ways = false;   // kActive: passes from b to a as well
};

struct SceneControl {
  int part = 0;
  int value = 0;       // index into part.values
  int positions = 2;
  int now = 0;
  bool momentary = false;
};

enum class Role : unsigned char { kWire, kSupply, kSwitch, kLoad, kResistor, kDiode, kCapacitor, kActive, kInstrument, kOther };

struct ScenePart {
  Role role = Role::kOther;
  int first_lead = 0, lead_count = 0;
  int first_link = 0, link_count = 0;
  bool on = true;           // supplies: switched on
  bool polar = false;       // two leads that differ
  bool tested = false;      // no supply is in its piece of the circuit, but a meter's own test current: it is meant to lie apart
};

struct Scene {
  const Board* board = nullptr;
  const Wiring* wiring = nullptr;
  std::vector<ScenePart> parts;        // size board.parts
  std::vector<int> part_of_lead;       // size lead_count
  std::vector<StripIndex> strip_of_lead;
  int lead_count = 0, inner_count = 0;
  struct Metal { int a, b, part; };    // terminals that are one piece inside a part (a wire: its ends)
  std::vector<Metal> metal;
  std::vector<SceneLink> links;
  std::vector<SceneControl> controls;
  int supplies = 0, loads = 0;
  bool chips = false;                  // there are chips, which take the solver longer
  bool may_beat = false;               // it may go on changing by itself: its settled state tells little of what it does

  int lead_index(int part, int lead) const { return parts[size_t(part)].first_lead + lead; }
};

Scene make_scene(const Board& board, const Wiring& wiring);

// What a strip is on the bench, found from its number.
struct StripPlace {
  int breadboard = -1;   // -1: a lead in the air
  bool rail = false;
  int column = 0;        // terminal strips: 1-based
  bool lower = false;    // terminal strips: rows f-j
  Rail which = Rail::kTopMinus;
  int half = -1;         // split rails: 0 left, 1 right; -1 whole
};
StripPlace place_of_strip(const Board& board, const Wiring& wiring, StripIndex strip);
// The terminal strip of a column, or a rail (half < 0: whole, or left when split); -1 when there is none.
StripIndex strip_at_column(const Board& board, const Wiring& wiring, int breadboard, int column, bool lower);
StripIndex strip_of_rail(const Board& board, const Wiring& wiring, int breadboard, Rail rail, int half);
inline bool is_plus(Rail rail) { return rail == Rail::kTopPlus || rail == Rail::kBottomPlus; }
inline bool is_top(Rail rail) { return rail == Rail::kTopPlus || rail == Rail::kTopMinus; }

}  // namespace tiepoint
