// A tool is one gesture in progress: it follows the pointer from frame to frame, shows what would happen, and ends in an Edit
// or in nothing. Each lives in a file of its own; hand.cpp decides which one a press begins.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "shell/bench/desk.h"

namespace tiepoint {

class Tool {
 public:
  virtual ~Tool() = default;
  // One frame of the pointer. False when the gesture is over.
  virtual bool step(Desk& desk) = 0;
  // What lies under the parts (clips that would be joined), and over them (the part in the hand, the reason for a refusal).
  virtual void draw_under(Desk&) {}
  virtual void draw_over(Desk&) {}
  virtual void turn(Desk&, int /*quarters*/) {}
  // A hole was chosen with the keyboard. False when the gesture is over.
  virtual bool choose(Desk&, Hole) { return true; }
  virtual void cancel(Desk&) {}
  // The pointer was taken away in the middle (a second finger, a lost window): nothing may be completed. True when the gesture
  // goes on with the next press.
  virtual bool interrupt(Desk& desk) {
    cancel(desk);
    return false;
  }
  // Is this part in the hand, and must not be drawn at its place?
  virtual bool lifts(std::string_view /*part*/) const { return false; }
  // The kind of part it would place, for the parts box.
  virtual const PartType* kind() const { return nullptr; }
};

// `values`: other than the standard ones, of each value of the kind; none for those.
std::unique_ptr<Tool> place_tool(const PartType& type, bool dragging, std::span<const double> values = {});  // tool_place.cpp
std::unique_ptr<Tool> move_tool(Desk& desk, const Part& part, bool works);  // tool_move.cpp
std::unique_ptr<Tool> lead_tool(Desk& desk, const Part& part, int lead);    // tool_lead.cpp
std::unique_ptr<Tool> wire_tool(Desk& desk, Hole from);                                // tool_wire.cpp
std::unique_ptr<Tool> press_tool(Desk& desk, const Part& part);             // tool_press.cpp
std::unique_ptr<Tool> pan_tool(double now);                                 // tool_pan.cpp
std::unique_ptr<Tool> select_tool(std::string_view part);                   // tool_select.cpp
std::unique_ptr<Tool> group_tool(Desk& desk, const Part& part, bool works); // tool_group.cpp
// At a mark on an oscilloscope's screen; null when there is none under the pointer.
std::unique_ptr<Tool> scope_tool(Desk& desk, const Part& part, ImVec2 at, bool touch);  // tool_scope.cpp
// At a grip of the selected wire; null when there is none under the pointer.
std::unique_ptr<Tool> bend_tool(Desk& desk, const Part& wire, ImVec2 at, bool touch);  // tool_bend.cpp
void draw_grips(Desk& desk, const Part& wire);
// A finger that rests since `from` [s] has rested long enough to mean "select". Asks for the frame in which it will have.
bool long_pressed(Desk& desk, double from);                                 // tool_select.cpp

// What the plain hand does with the pointer when no tool is in use (hand.cpp).
void plain_hand(Desk& desk);

// ---- What lies under a point (hit.cpp).

enum class Spot { kNothing, kPlastic, kHole, kLead, kHandle, kBody };
struct Hit {
  Spot spot = Spot::kNothing;
  int part = -1;  // index into board.parts
  int lead = -1;
  Hole hole;
};
Hit hit_test(Desk& desk, ImVec2 at, bool touch);
// The nearest hole within `reach` hole steps of a mat point; invalid when there is none.
Hole nearest_hole(const Board& board, MatPoint at, double reach);
Hole hole_under(const Desk& desk, ImVec2 at, bool touch);

// ---- A part as it would stand, if the hand let go now (plan.cpp).

struct Plan {
  Part part;
  bool on_board = false;       // every lead (or, on the mat, the body) has a place
  std::optional<Error> error;  // why it does not fit there
  Pose pose;                   // as it would stand; loose in the hand while it has no place
};
// Fits a part to the holes its leads are nearest to; `leads` are where they are held, as mat points, lead 0 first. The part's
// turn counts for rigid parts, which hold to the hole of lead 0 alone.
void plan_seats(const Desk& desk, std::span<const MatPoint> leads, Plan& plan);
void plan_on_mat(const Desk& desk, MatPoint centre, Plan& plan);
// Asks the board: fills `error`.
void check_plan(const Desk& desk, const Edit& edit, Plan& plan);
void draw_plan_under(Desk& desk, const Plan& plan);
void draw_plan_over(Desk& desk, const Plan& plan);
// Where the leads of a part are held, from the middle of them [hole steps]: a flexible part spans `span` along its turn.
void lead_offsets(const PartKind& kind, int turn, double span, std::vector<MatPoint>& out);
double usual_span(const PartType& type);
// Keeps a supply on the mat: out from under the boards.
MatPoint beside_boards(const Board& board, const Part& part, MatPoint wanted);

// ---- Words on the canvas (overlay.cpp).

// A small dark card with a sentence near a point, kept within `room`.
void draw_note(Paint& paint, ImVec2 near, std::string_view words, uint32_t accent, const Box& room);
void draw_pill(Paint& paint, ImVec2 centre, std::string_view words);
std::string sentence(std::string words);  // with a capital and a full stop

}  // namespace tiepoint