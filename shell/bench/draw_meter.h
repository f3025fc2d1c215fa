// The meter's front: where its buttons are, for drawing and for the finger.
#pragma once

#include <optional>

#include "engine/board/edit.h"
#include "engine/readings/readings.h"
#include "shell/bench/paint.h"
#include "shell/bench/pose.h"

namespace tiepoint {

inline constexpr int kMeterButtons = 6;  // the functions after "off", in the order of the meter's value
Box meter_button(const Pose& pose, int button);
Box meter_buttons(const Pose& pose);     // all of them
// The edit that a finger on the meter's front means: a function, off (the button that is on), or a new fuse (amperes, when it has
// blown). Nothing between the buttons.
std::optional<Edit> meter_edit(const Part& part, const Pose& pose, const PartNumbers* reading, ImVec2 at);

}  // namespace tiepoint
