// Pose: where a part's body and the ends of its leads lie on the canvas. Drawing, pointing at things and the widget list all read it,
// so that what is drawn is what can be grabbed.
#pragma once

#include "engine/parts/part_type.h"
#include "shell/bench/camera.h"
#include "shell/bench/paint.h"

namespace tiepoint {

inline constexpr double kSupplyRoom = 5.4;  // kept free above the boards for a supply [hole steps]
inline constexpr float kProbesBeside = 2.4f;  // where the probes of an oscilloscope rest beside its case [hole steps]

struct Pose {
  static constexpr int kMostLeads = 64;
  int count = 0;
  ImVec2 lead[kMostLeads];          // where each lead ends: its hole, or the plug lying on the mat
  bool seated[kMostLeads] = {};
  ImVec2 root[kMostLeads];          // where each lead leaves the body
  ImVec2 centre = {};               // of the body
  ImVec2 axis = {1, 0};             // its long direction
  ImVec2 half = {};                 // half-size of the body along and across the axis [CSS px]
  float scale = 26;                 // [CSS px per hole step]
  bool probes = false;              // its leads end in probes that touch, not in plugs
  const PartKind* kind = nullptr;   // of a part on the mat: the names of its leads give them their colours
  Box bounds() const;               // of the body alone, upright
  bool in_body(ImVec2 p, float slack) const;
};

// From the holes the leads sit in. Leads in the air hang beside the seated one.
Pose pose_of(const Camera& camera, const Board& board, const Part& part);
// From given lead points, for parts in the hand. `turn` orients rigid parts.
Pose pose_at(const Part& part, std::span<const ImVec2> leads, float scale);
// A part of the mat with its centre at `centre`.
Pose pose_on_mat(const Camera& camera, const Board* board, const Part& part);

// How the cells of a battery pack lie.
struct CellGrid {
  int cells, rows, columns;
};
CellGrid cell_grid(const Part& part);
// Half-size of a mat part [hole steps].
ImVec2 mat_half(const Part& part);
// The switch on a supply's case, the knob slot of a slide switch, the cap of a button: what a finger works. Empty when there is none.
Box control_of(const Part& part, const Pose& pose);
bool has_momentary(const Part& part);
bool has_position(const Part& part);   // slide switch; not a supply
bool is_supply(const Part& part);
bool is_on(const Part& part);          // supply switched on, button held, slide at its second position

// The course of a wire or of a supply's flying lead on the canvas; valid until the next curve of `paint`.
std::span<const ImVec2> wire_course(Paint& paint, const Camera& camera, const Part& part, const Pose& pose);
std::span<const ImVec2> flying_course(Paint& paint, const Pose& pose, int lead);

}  // namespace tiepoint
