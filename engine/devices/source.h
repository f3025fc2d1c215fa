// Waveforms of the independent sources. The code is the value of the parameter "waveform".
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

// Terms: u = t - delay, T = 1 / frequency.
enum class Waveform {
  kDc,      // offset + amplitude
  kSine,    // offset + amplitude * sin(2 pi frequency u + phase); before the delay as at u = 0
  kSquare,  // between offset + amplitude (first, for the fraction `duty` of T) and offset - amplitude; shifted left by phase /
            // 2 pi
  kPulse,   // offset; from the delay on offset + amplitude for `width`; again every T when there is a frequency
  kStep,    // offset before the delay, offset + amplitude from then on
  kCount
};
inline constexpr std::string_view kWaveformNames[] = {"dc", "sine", "square", "pulse", "step"};

// Edges of square, pulse and step take `rise` and `fall` and are straight; the width counts from the end of the rise to the
// start of the fall, a square's half T from the start of one edge to the start of the next.
enum SourceParameter { kWaveform, kAmplitude, kOffset, kFrequency, kPhase, kDelay, kRise, kFall, kWidth, kDuty };

// The value at `time`, on the piece of the waveform that begins at `since` or holds it.
double waveform_value(std::span<const double> p, double time, double since);

}  // namespace tiepoint
