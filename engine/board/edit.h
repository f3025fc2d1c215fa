// Edit: the only way a Board changes. Every gesture, key, page button, script message, undo step and class message is one.
// An edit is checked first; when it does not fit the board stays as it was. Applying one gives its inverse.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "engine/board/board.h"
#include "engine/error.h"

namespace tiepoint {

// Places a part. An empty name asks for the next free one; a zero id for a new one; no values for the standard ones. Rigid
// parts need only leads[0] and turn. `index`: where in the list of parts, -1 for the end.
struct PlacePart { Part part; int index = -1; };
// Moves a whole part: new holes (rigid: leads[0]; none given: they stay), turn (rigid) and mat position (on the mat). The bends
// of a wire come along when both of its leads move by the same step.
// Given bends replace them.
struct MovePart {
  std::string part;
  std::vector<Hole> leads;
  int turn = 0;
  MatPoint mat = {};
  std::optional<std::vector<MatPoint>> bends = {};
};
// Turns by quarter turns clockwise. Rigid parts turn about their middle; two-lead parts swap their leads at 2, and swing about
// lead 0 at 1 and 3.
struct TurnPart { std::string part; int quarters = 1; };
// Re-seats one lead; an invalid hole lifts it out. A rigid part follows as a whole.
struct SeatLead { std::string part; int lead = 0; Hole hole; };
struct RemovePart { std::string part; };
struct SetValue { std::string part; std::string key; double value = 0; };
struct RenamePart { std::string part; std::string name; };
struct LabelPart { std::string part; std::string label; };
struct RouteWire { std::string part; std::vector<MatPoint> bends; };
struct PressPart { std::string part; bool down = true; };            // momentary contact held or let go
struct SlidePart { std::string part; int position = 0; };            // a switch that stays
struct SwitchSupply { std::string part; bool on = true; };
struct SetBreadboards { std::vector<Breadboard> breadboards; };      // errors when a seated lead would lose its hole
struct SetTitle { std::string title; };
// A new one of the same kind and values in the place of the part: whole, cold, its battery full.
struct ReplacePart { std::string part; };
// Makes a part defective, or takes a defect away. `specimen` < 0: it is the same specimen as before. `by_use`: it died, which is no
// undo step of anybody's.
struct SetDefect { std::string part; Defect defect; int specimen = -1; bool by_use = false; };
struct SetRealism { Realism realism; };
struct SetHunt { std::vector<HuntEntry> entries; };                  // the whole log
struct Edit;
// All or nothing, one undo step. One after another; but moves of different parts and nothing else happen at once, so that each may take
// the holes another leaves.
struct Batch { std::vector<Edit> edits; };

struct Edit {
  using Act = std::variant<PlacePart, MovePart, TurnPart, SeatLead, RemovePart, SetValue, RenamePart, LabelPart, RouteWire,
                           PressPart, SlidePart, SwitchSupply, SetBreadboards, SetTitle, ReplacePart, SetDefect, SetRealism, SetHunt, Batch>;
  Act act;
};

// What an edit did.
struct Applied {
  Edit inverse;               // brings the board back exactly, applied to the changed board
  std::string part;           // the part it was about (the name given to a placed one), "" for none
  bool structural = true;     // connectivity may have changed; false for a press, a knob, a label
  bool momentary = false;     // a press or release: not an undo step
};

bool moves_at_once(const Batch& batch);
// Errors leave the board untouched and carry part, lead and hole.
Result<Applied> apply(Board& board, const Edit& edit);
// Would it fit? Same checks, no change.
Status check(const Board& board, const Edit& edit);

}  // namespace tiepoint
