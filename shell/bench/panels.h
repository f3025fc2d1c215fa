// The panels on the canvas that are not the bench itself. Each is drawn from the desk and acts through it.
#pragma once

#include "shell/bench/desk.h"

namespace tiepoint {

// The strip of compartments along the bottom, and what it remembers.
struct BoxState {
  std::string_view tray = "start";      // a group of the catalogue, or "start": what a beginner needs
  std::vector<std::string_view> trays;  // none when all kinds fit without
  std::vector<const Part*> shown;       // what lies in the open tray now
  bool show_at = false;                 // the marked one is brought into sight
  float scroll = 0;                     // when the tray is too narrow for all [CSS px]
  float tab_scroll = 0;                 // of the row of tabs [CSS px]
};
void parts_box(Desk& desk, const Box& area, BoxState& state);  // parts_box.cpp
float parts_box_height(float width, float height);
inline constexpr float kShortStage = 420;  // [CSS px] lower than that a stage has no room to spare
// Takes a part up, as a tap on its compartment does; tells what to do with it.
void take_from_box(Desk& desk, const PartType& type, std::span<const double> values, bool dragging);
// The path as a hill, in a strip under the board. hill_panel.cpp
void hill_panel(Desk& desk, const Box& area);
float hill_height(float room);  // [CSS px] of a bench so high
// The card beside the selected part.
void inspector(Desk& desk);  // inspector.cpp
// Boards, parts, hints: everything between mat and panels.
void draw_scene(Desk& desk);   // scene.cpp
void draw_levels(Desk& desk);  // views.cpp
void draw_level_pills(Desk& desk);
// True while it moves.
bool draw_flow(Desk& desk);
void read_keys(Desk& desk);  // keys.cpp

// A button of a panel: an ImGui item at `box` with our own face. True when clicked.
enum class Face { kPlain, kQuiet, kDanger, kChip };
bool panel_button(Desk& desk, std::string_view id, const Box& box, std::string_view label, Face face, uint32_t chip = 0,
                  bool chosen = false);

}  // namespace tiepoint
