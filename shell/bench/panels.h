// The panels on the canvas that are not the bench itself. Each is drawn from the desk and acts through it.
#pragma once

#include "shell/bench/desk.h"

namespace tiepoint {

// The strip of compartments along the bottom; `scroll` is its own state, used when it is too narrow for all [CSS px].
void parts_box(Desk& desk, const Box& area, float& scroll);      // parts_box.cpp
float parts_box_height(float width, float height);
// The card beside the selected part.
void inspector(Desk& desk);                                      // inspector.cpp
// Boards, parts, hints: everything between mat and panels.
void draw_scene(Desk& desk);                                     // scene.cpp
void draw_levels(Desk& desk);                                    // views.cpp
void draw_level_pills(Desk& desk);
// True while it moves.
bool draw_flow(Desk& desk);
void read_keys(Desk& desk);                                      // keys.cpp

// A button of a panel: an ImGui item at `box` with our own face. True when clicked.
enum class Face { kPlain, kQuiet, kDanger, kChip };
bool panel_button(Desk& desk, std::string_view id, const Box& box, std::string_view label, Face face, uint32_t chip = 0, bool chosen = false);

}  // namespace tiepoint
