// Bench: the screen of Tiepoint. One canvas with the mat, the breadboards, the parts, the parts box and the inspector, drawn
// with ImGui draw lists. Owns the Session, the camera, the tool in the hand and nothing else of the document.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shell/bench/desk.h"
#include "shell/bench/host.h"
#include "shell/bench/panels.h"

namespace tiepoint {

class Learner;

class Bench : public Screen {
 public:
  Bench();
  ~Bench() override;

  // Screen
  double frame(const FrameIn& in) override;
  std::optional<double> rest(double now) override;
  void gesture(const Gesture& gesture) override;
  void preferences(const Preferences& preferences) override;
  void let_go() override;
  uint64_t revision(Revision which) const override;

  Session& session() { return desk_.session; }
  const Session& session() const { return desk_.session; }

  // Every change from outside (page, scripts) comes through here, so that message and selection stay right.
  Result<Applied> act(const Edit& edit) { return desk_.act(edit); }
  bool undo() { return desk_.undo(); }
  bool redo() { return desk_.redo(); }
  // A new document; fits the view.
  void load(Board board);

  // Somebody takes a lesson here (learner.h); null when nobody does.
  Learner* learner() { return learner_.get(); }
  void set_learner(std::unique_ptr<Learner> learner);
  Desk& desk() { return desk_; }
  // Instead of what it pointed at before.
  void point_at(Signs signs);

  const std::string& selected() const { return desk_.selected(); }
  const std::vector<std::string>& selection() const { return desk_.selection; }
  void select(std::string_view part) { desk_.select(part); }
  void select_these(std::vector<std::string> parts) { desk_.select_these(std::move(parts)); }
  void toggle(std::string_view part) { desk_.toggle(part); }
  void remove_selected() { desk_.remove_selected(); }
  // A board file of the selected parts; "" when there are none.
  std::string copy() const;
  Result<std::vector<std::string>> paste(std::string_view text) { return desk_.paste(text); }
  Result<std::vector<std::string>> duplicate() { return desk_.duplicate_selected(); }
  // Buttons, switches and knobs work; everything else that would change the board is refused (Code::kReadOnly).
  bool read_only() const { return desk_.read_only; }
  void set_read_only(bool on) { desk_.read_only = on; }
  // Whether Escape has something to do: a tool in the hand, a selection, the hole cursor.
  bool in_hand() const { return desk_.tool != nullptr || !desk_.selection.empty() || desk_.cursor_shown; }
  const Message& message() const { return desk_.message; }
  const ViewOptions& view() const { return desk_.view; }
  void set_view(const ViewOptions& view);

  // Things on the canvas as recorded in the last frame: "box.resistor", "part.R1", "lead.LED1.anode", "control.S1",
  // "inspector.value.up", ... CSS px.
  const std::vector<Widget>& widgets() const { return desk_.widgets; }
  std::string vector_picture();  // the bench as it is seen, without the parts box, as SVG
  // Where a hole lies on the canvas [CSS px]; none when there is no such hole.
  std::optional<ImVec2> screen_of(std::string_view hole) const;
  // The hole nearest a point of the canvas, "" when it is far from any.
  std::string hole_at(float x, float y) const;

  Hole hole_cursor() const { return desk_.cursor; }
  void set_hole_cursor(Hole hole);

  void zoom_fit();
  void zoom(float factor);  // about the middle
  // The camera goes to a part or a hole by its name, with "" to the selected parts, or to all. False when there is no such thing.
  bool look_at(std::string_view name);
  // Takes a part from the box into the hand, as a tap on its compartment does. False when there is no such kind.
  bool take_up(std::string_view kind);
  void take_up(const Part& sample);  // with its values
  // Opens the search of the parts box, or follows what is typed there; `at`: which of those found is marked. What was found is
  // desk().search.found.
  void search(std::string_view text, int at = 0);
  void end_search();
  void cancel();  // as Escape
  uint64_t sheets_drawn() const { return desk_.sheets.drawn(); }  // since the start, for the tests
  bool step_time() { return desk_.step_time(); }

  // For measuring: with a clock [s], how much time the simulation has taken since [s].
  void set_clock(double (*clock)()) { clock_ = clock; }
  double simulation_cost() const { return simulation_cost_; }

 private:
  enum class From { kNowhere, kBench, kBox };  // where the press that is held began
  void read_pointer();
  void run_tool();
  void aim_camera(double now);
  void interrupt();
  double run_simulation(double now);
  double next_look(double now);
  uint64_t moving() const;
  uint64_t picture_key() const;
  double running_frame(double now);
  bool draw_flow_clipped();

  Desk desk_;
  std::unique_ptr<Learner> learner_;
  From press_from_ = From::kNowhere;
  bool fit_due_ = true;
  Glide glide_;
  Camera seen_from_;              // in the last frame
  uint64_t camera_revision_ = 0;  // +1 with each frame that shows it from elsewhere
  float width_ = 0, height_ = 0;  // [CSS px]
  double last_now_ = -1;          // [s]
  double pause_ = 0;              // [s] between frames while a circuit changes
  double slept_ = 0;  // [s] of real time that a frame may make up for, after a sleep with a battery in use
  uint64_t seen_ = 0;             // what moved of it
  double again_ = kSleep;         // [s] when run_simulation wants to be called again
  double slow_until_ = -1;        // [s] this machine does not keep up with its display
  double gaps_ = 0;               // [s] between frames lately, on average
  uint64_t built_key_ = 0;        // what the picture of the last frame was made of
  bool restless_ = true;          // and that it moves by itself
  BoxState box_;
  double (*clock_)() = nullptr;
  double simulation_cost_ = 0;
};

}  // namespace tiepoint
