// The oscilloscope's front: where its buttons are and what a finger on them means; its screen as a drawing that fits any box.
#pragma once

#include <optional>

#include "engine/board/edit.h"
#include "engine/readings/scope.h"
#include "shell/bench/paint.h"
#include "shell/bench/pose.h"

namespace tiepoint {

enum class ScopeKnob { kTime, kLevel, kVolts };           // turned by a less and a more button
enum class ScopeSwitch { kRun, kSingle, kFit, kChart, kShown };
struct ScopeButton {
  bool knob = false;
  ScopeKnob which = ScopeKnob::kTime;
  ScopeSwitch action = ScopeSwitch::kRun;
  int channel = 0;  // of kVolts and kShown
  int step = 0;     // of a knob: -1 less, +1 more
  Box box;
};
inline constexpr int kMostScopeButtons = 32;
// All buttons of its front; how many were written.
int scope_buttons(const Part& part, const Pose& pose, ScopeButton (&out)[kMostScopeButtons]);
Box scope_glass(const Pose& pose);
Box scope_panel(const Pose& pose);
// The ruled part of its screen.
struct ScopeGrid {
  Box box;  // [CSS px]
  const ScopeSettings& settings;
  float x(double squares) const { return box.centre().x + float(squares / kSquaresAcross) * box.size().x; }  // right of the middle
  float y(double squares) const { return box.centre().y - float(squares / kSquaresUp) * box.size().y; }      // above it
};
ScopeGrid scope_grid(const Box& glass, float em, const ScopeSettings& settings);
inline constexpr float kScopeType = 0.44f;  // size of its letters [hole steps]
inline ScopeGrid scope_grid(const Pose& pose, const ScopeSettings& settings) { return scope_grid(scope_glass(pose), kScopeType * pose.scale, settings); }

// The edit that a button means; nothing where it changes nothing (a scale at its end).
std::optional<Edit> scope_edit(const Part& part, const Scope& scope, const ScopeButton& button);
// "Show me": scales, positions and trigger that fit what is measured now.
std::optional<Edit> fit_scope(const Part& part, const Scope& scope);

void draw_scope_screen(Paint& paint, const Box& glass, const Scope& scope, float em);
// What the picture looks like in steps that an eye tells apart: equal numbers, equal pictures.
uint64_t seen_on(const Scope& scope);
// "200 Hz, 5.02 V from peak to peak"
std::string scope_words(const Scope& scope, int channel);
uint32_t trace_colour(int channel);
// Three figures, as much as a screen of eight squares tells: "4.23 V".
std::string measured_value(double value, std::string_view unit);

}  // namespace tiepoint
