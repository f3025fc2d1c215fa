// An oscilloscope for the page: its picture in squares, what is measured, what the cursors tell.
#pragma once

#include "engine/session/session.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

// Members of the answer:
//   state "triggered"; time [s] of a square across; timeText; chart; shift; across 10, up 8
//   channels: of each that is shown {number, text, volts, voltsText, zero, columns: [low, high, ...] or null, measured}
//     zero, columns [squares] above the middle, one pair for each of `columns` equal pieces of the screen; null where there is nothing
//     measured: {frequency, period, peakToPeak, mean, rms, duty} as texts, null where there is none; "" when nothing was recorded
//   trigger: {channel, level [squares] above the middle}
//   cursors: {times: [a, b], levels: [c, d]} [squares], null while off; timeText, rateText, levelText: their differences
void write_scope(PageJson& out, const Scope& scope, int columns);

}  // namespace tiepoint
