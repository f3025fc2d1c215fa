// The drawings of the bench: mat, boards, parts. Pure functions of data and pose onto a Paint.
#pragma once

#include "engine/readings/readings.h"
#include "engine/readings/scope.h"
#include "shell/bench/camera.h"
#include "shell/bench/paint.h"
#include "shell/bench/pose.h"

namespace tiepoint {

void draw_mat(Paint& paint, const Camera& camera, const Box& area);                              // draw_board.cpp
// `number`: that of several, as it stands before the colon of its holes' names; 0 for the only one.
void draw_breadboard(Paint& paint, const Camera& camera, const Breadboard& breadboard, const Box& visible, bool under, int number = 0);
// The clip a hole belongs to, as a rounded frame around its holes; `as_it_is`: only the piece of it that is whole, cracks that nobody has found
// counted.
void draw_clip(Paint& paint, const Camera& camera, const Board& board, Hole hole, ImU32 fill, ImU32 line, bool as_it_is = false);
// Dark for low, bright for high: readable without colour. `t` 0..1. views.cpp
ImU32 level_colour(float t, float alpha);
void draw_hole_ring(Paint& paint, ImVec2 centre, float scale, ImU32 colour);

struct PartLook {
  const PartNumbers* reading = nullptr;  // as shown_of gives it (shown.h); null: in the box or in the hand
  bool in_box = false;                   // a drawing on its compartment: no shadow on a board
  float turned = 0;                      // [rad] how far a motor's rotor has turned, for the eye
  const Scope* scope = nullptr;          // of an oscilloscope: what it has on its screen
};

// Order of drawing, from the mat upwards.
enum class Layer { kMat, kFlat, kStanding, kWire };
Layer layer_of(const Part& part);
// Body with its legs. Wires draw themselves whole; flying leads of mat parts come last of all, by draw_flying_leads.
void draw_part(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, const PartLook& look);
void draw_glow(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading);
ImVec2 note_half(const Part& part);  // half the size of a note with its words [hole steps]. draw_note_part.cpp
void draw_pointer(Paint& paint, const Pose& pose);
void draw_flying_leads(Paint& paint, const Pose& pose);
// Over the part: that it is hot, or has died of heat (draw_condition.cpp).
bool shows_heat(const Part& part, double temperature);
void draw_condition(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading);
// Soft outline around a selected or hovered part.
void draw_outline(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, ImU32 colour, float width);

// One file per family.
void draw_resistor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);       // draw_axial.cpp
void draw_diode(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_led(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);            // draw_standing.cpp
void draw_disc(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_can(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_button(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);         // draw_switches.cpp
void draw_slide(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_wire(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, const PartLook& look);  // draw_wire.cpp
void draw_outlet(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);         // draw_supply.cpp
void draw_battery(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_meter(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);          // draw_meter.cpp
void draw_probe(Paint& paint, ImVec2 tip, ImVec2 direction, float s, ImU32 colour);
// The other kinds; draw_kinds.cpp knows which file draws which. False when a body has no drawing of its own.
bool draw_kind(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);
void draw_kind_glow(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading);
void draw_plain(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);          // draw_plain.cpp: kinds without a drawing of their own

// Shared by the families: a bare tinned leg, and the bright dot where a lead enters its hole.
void draw_leg(Paint& paint, ImVec2 from, ImVec2 to, float width);
void draw_entry(Paint& paint, ImVec2 at, float scale);
// A number with fixed places, so that a read-out does not jump about: "5.00", "120".
std::string fixed_text(double value, int places);
// The word of an option value, "" when the part has no such value.
std::string_view option_of(const Part& part, std::string_view key);

}  // namespace tiepoint
