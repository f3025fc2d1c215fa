// Desk: what the tools, the panels and the drawing share. The document lives in the Session and changes only through act(); all else
// here is state of the screen.
#pragma once

#include <algorithm>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/session/session.h"
#include "shell/bench/camera.h"
#include "shell/bench/hill.h"
#include "shell/bench/paint.h"
#include "shell/bench/pose.h"
#include "shell/bench/flicker.h"
#include "shell/bench/rotor.h"
#include "shell/bench/sheet.h"
#include "shell/bench/signs.h"

namespace tiepoint {

class Tool;

struct ViewOptions {
  bool under_board = false;     // the springs shine through the plastic
  bool levels = false;          // clips coloured by voltage
  bool flow = false;            // the way the current goes
  bool hill = false;            // the voltage along a path, drawn as a hill under the board
  bool reduced_motion = false;
  double time_scale = 1;        // simulated seconds per second
  double step = 1e-3;           // [s] of one step while time stands
};

// What is to be seen large from the next frame on: everything, some parts, or the surroundings of a hole.
struct Sight {
  std::vector<std::string> parts;
  Hole hole;
  bool operator==(const Sight&) const = default;
};

// The last thing worth telling: a key of the message catalogue with its arguments, never a glued sentence.
struct Message {
  std::string key;              // "bench.placed", or "error.hole-occupied" when refused
  Error error;                  // the arguments: part, lead, hole, found, expected
  bool refused = false;
  uint64_t number = 0;          // +1 with each message
  ImVec2 at = {};               // where it arose [CSS px], for showing it there
  double time = -1e9;           // [s] when
};
std::string text(const Message& message);

// One thing on the canvas that can be pointed at; recorded anew each frame. CSS px.
struct Widget {
  char id[56];
  float x, y, w, h;
};

// The pointer over the bench (not over the parts box or the inspector).
struct Pointer {
  ImVec2 at = {-1e9f, -1e9f}, down_at = {};
  bool touch = false;
  bool over = false;      // hovers over the bench itself
  bool pressed = false;   // went down there in this frame
  bool down = false;      // is held since it went down there
  bool released = false;  // came up in this frame
  bool lost = false;      // came up by cancellation: nothing may be completed
  bool moved = false;     // strayed more than a finger's tremble since it went down
  // Where a part in the hand should lie: above the finger, under the mouse.
  ImVec2 hand() const { return touch ? at - ImVec2{0, 58} : at; }
};

// What is held down, by which hand.
struct Hold {
  int source;        // 0 the pointer, else a key
  std::string part;
};

// What the parts box shows while somebody searches in it.
struct Search {
  bool open = false;
  std::string text;
  std::vector<Part> found;  // find_parts.h
  int at = -1;              // the one that Enter would take, -1 for none
};

class Desk {
 public:
  Desk();
  ~Desk();
  Desk(const Desk&) = delete;
  Desk& operator=(const Desk&) = delete;

  Session session;
  Camera camera;
  std::optional<Sight> sight_due;   // the camera is to go there
  Sight sight;                      // where it went last, by itself
  Paint paint;
  Sheets sheets;
  ViewOptions view;
  Pointer pointer;
  Message message;
  std::unique_ptr<Tool> tool;       // null: the plain hand
  std::vector<std::string> selection;  // names of parts, in the order they were selected
  bool card_shown = false;          // the inspector lies open beside them
  bool card_whole = false;          // on a small screen: all of it, not only its first rows
  std::string hovered;              // name of the part under the pointer
  std::vector<Hold> holds;
  bool read_only = false;           // buttons, switches and knobs work, nothing else on the board changes
  std::vector<Widget> widgets;
  Hole cursor;                      // of the keyboard
  bool cursor_shown = false;
  std::string typed;                // a hole's address being typed
  double typed_at = 0;              // [s]
  Box bench;                        // the canvas above the parts box
  double now = 0;                   // [s]
  double wake = -1;                 // [s] until the frame that a tool asked for, -1 for none
  // What a lesson asks of the bench.
  std::vector<const PartKind*> offered;  // the parts box holds these alone; none: the whole catalogue
  std::optional<Board> outline;          // drawn faintly where its parts do not stand yet
  std::vector<Hole> pointed;             // ringed
  Signs signs;                           // what the notebook points at
  std::vector<const PartKind*> recent;   // kinds that were placed, the latest first
  Search search;
  Hill hill;                        // the path that the view of that name shows
  bool supplies_locked = false;          // no supply may be switched on, see lock_supplies
  uint64_t supply_refusals = 0;          // +1 each time somebody tries to
  Rotors rotors;                    // what turns on the bench, for the eye
  Flicker flicker;
  uint64_t view_revision = 1;       // +1 with each change of selection, message or view

  const Board& board() const { return session.board(); }
  // The one part that is selected, "" when there are none or several.
  const std::string& selected() const;
  const Part* selected_part() const { return board().find(selected()); }
  const Part* selected_wire() const;  // that has both ends in holes: its bends have grips
  bool selects(std::string_view part) const;
  const PartReading* reading_of(const Part& part) const;
  PartNumbers shown(const Part& part, const PartNumbers& reading) const;  // as it is drawn: in steps, and never flashing
  Pose pose(const Part& part) const { return pose_of(camera, board(), part); }

  // The one way to change the document. Tells about it, and about a refusal.
  Result<Applied> act(const Edit& edit);
  bool carry_out(const Edit& edit) { return act(edit).ok(); }
  bool undo();
  bool redo();
  // While locked every supply is off: those on the board are switched off now, new ones are placed switched off, and whatever would
  // switch one on is refused.
  void lock_supplies(bool locked);
  void select(std::string_view part, bool with_card = true);
  void select_these(std::vector<std::string> parts, bool with_card = true);
  void select_all();
  void add(std::string_view part);
  void toggle(std::string_view part);
  void tell(std::string_view key, std::string_view part = {}, std::string_view found = {}, std::string_view hole = {});
  void refuse(const Error& error);
  void remember_kinds();  // of the parts on the board: as recently used

  // A hand goes down on, or comes off, a momentary contact. It is let go when the last hand has left.
  void hold(int source, std::string_view part);
  void release(int source);
  void release_all();
  bool held(std::string_view part) const;
  // Moves a slide on, or switches a supply.
  void work(const Part& part);
  void turn_selected(int quarters = 1);
  void remove_selected();
  void nudge_selected(int dx, int dy);  // by one hole
  // Puts down the parts of a board file where there is room and selects them; no names when there is no room. The caller tells of that
  // and of an error, duplicate_selected does it itself.
  Result<std::vector<std::string>> paste(std::string_view text);
  Result<std::vector<std::string>> duplicate_selected();
  // Lets one step of time go by while time stands. False, and says so, while it runs.
  bool step_time();
  // Frames go on for a hand that waits: the next one after this [s].
  void wake_in(double seconds) { wake = wake < 0 ? seconds : std::min(wake, seconds); }

  void drop_gone();
  Error stays_off(std::string_view part);
  bool go(Result<Applied> (Session::*step)(), Result<Applied> (Session::*back)(), std::string_view words);

  void mark(std::string_view kind, std::string_view name, std::string_view lead, const Box& box);
  void use(std::unique_ptr<Tool> next);  // null for the plain hand
};

// Every supply of the board put off.
void switch_off_supplies(Board& board);
// "R1, LED1 and 2 more"
std::string names_in_words(std::span<const std::string> names);
// Message of the catalogue with the fields of an error filled in.
std::string phrase(std::string_view key, const Error& error);
// The colour a new wire takes: by convention red from a plus rail, black from a minus rail, else one after another.
double next_wire_colour(const Board& board, Hole from, Hole to);

}  // namespace tiepoint
