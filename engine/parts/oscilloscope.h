// Oscilloscope: its leads and the settings on its front, as values of the part. What its screen shows: engine/readings/scope.h.
#pragma once

#include <array>
#include <string_view>

#include "engine/board/kind.h"

namespace tiepoint {

inline constexpr int kMostChannels = 4;
inline constexpr double kSquaresAcross = 10, kSquaresUp = 8;  // of the screen

// The steps of the two scale knobs, 1-2-5 as is the trade's custom.
struct ScaleStep {
  std::string_view word;  // as written in files
  double value;           // [s] or [V] for one square
};
inline constexpr std::array<ScaleStep, 21> kTimeScale = {{
    {"1 µs", 1e-6},   {"2 µs", 2e-6},   {"5 µs", 5e-6},   {"10 µs", 10e-6}, {"20 µs", 20e-6}, {"50 µs", 50e-6}, {"100 µs", 100e-6},
    {"200 µs", 200e-6}, {"500 µs", 500e-6}, {"1 ms", 1e-3},   {"2 ms", 2e-3},   {"5 ms", 5e-3},   {"10 ms", 10e-3}, {"20 ms", 20e-3},
    {"50 ms", 50e-3}, {"100 ms", 0.1},  {"200 ms", 0.2},  {"500 ms", 0.5},  {"1 s", 1},       {"2 s", 2},       {"5 s", 5},
}};
inline constexpr std::array<ScaleStep, 11> kVoltScale = {{
    {"10 mV", 0.01}, {"20 mV", 0.02}, {"50 mV", 0.05}, {"100 mV", 0.1}, {"200 mV", 0.2}, {"500 mV", 0.5},
    {"1 V", 1},      {"2 V", 2},      {"5 V", 5},      {"10 V", 10},    {"20 V", 20},
}};

// Values of the part, in this order: these, then for each channel the three of ChannelValue.
namespace scope_value {
enum {
  kRunning, kTime, kDisplay, kSource, kEdge, kLevel, kMode, kShift,
  kCursors, kCursorChannel, kTime1, kTime2, kLevel1, kLevel2, kChannels
};
enum { kShown, kVolts, kPosition, kPerChannel };
constexpr int of_channel(int channel, int value) { return kChannels + channel * kPerChannel + value; }
}  // namespace scope_value

bool is_oscilloscope(const PartKind& kind);
// Its leads are a probe for each channel, then the ground clip.
inline int channels_of(const PartKind& kind) { return int(kind.leads.size()) - 1; }
inline int ground_clip(const PartKind& kind) { return channels_of(kind); }

}  // namespace tiepoint
