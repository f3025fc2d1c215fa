// Dials: what is turned by finger and thumb, where it sits on the body, and how its angle and its value belong together. The drawing
// points by it; a hand that turns it reads the same numbers.
#pragma once

#include "shell/bench/pose.h"

namespace tiepoint {

struct Dial {
  int value = -1;        // index into part.values
  ImVec2 centre = {};    // [CSS px]
  float radius = 0;      // [CSS px]
  float from = 0, to = 0;  // [rad] clockwise from the body's own "up", at the smallest and the largest value
  float angle = 0;       // [rad] where it points now
};
inline constexpr int kMostDials = 4;

// All dials of a part; how many were written to `out`.
int dials_of(const Part& part, const Pose& pose, Dial (&out)[kMostDials]);
// Share of the dial's travel, 0..1, of a value. Frequencies lie on it by decades.
double dial_share(const ValueSpec& spec, double value);
double dial_value(const ValueSpec& spec, double share);

// The arm of a servo: from its shaft, `angle` [rad] from the middle of its travel, clockwise on the canvas.
struct Horn {
  ImVec2 shaft = {}, tip = {};
};
Horn servo_horn(const Pose& pose, double angle);

// One cap of a row of small switches, `index` counted from the left at turn 0.
Box dip_slider(const Part& part, const Pose& pose, int index);

}  // namespace tiepoint
