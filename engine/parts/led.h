// The electrical and optical figures of the LEDs, for led.cpp and for the check against the data sheets.
#pragma once

#include <span>
#include <string_view>

#include "engine/parts/part_type.h"

namespace tiepoint {

struct LedFigures {
  std::string_view colour;
  double saturation_current;  // [A]
  double emission;            // 1
  double series_resistance;   // [ohm]
  double largest_current;     // [A] continuous
  double reverse_voltage;     // [V] the most it is made to bear
};

// A dome of coloured epoxy on two legs, whatever its size: its colour is an option.
constexpr bool is_coloured_dome(Body body) {
  return body == Body::kRoundLed || body == Body::kSmallLed || body == Body::kLed8mm || body == Body::kLed10mm;
}
// Does it glow with the current that flows through it now, one element of a diode for each light? led_assemblies.cpp
bool glows_with_current(const PartType& type);

// In the order of the LED's option "colour".
std::span<const LedFigures> led_figures();

inline constexpr double kLedFullCurrent = 0.020;  // [A] the sheets' test current; brightness 1
inline constexpr double kLedLeakage = 10e6;       // [ohm] across the junction

}  // namespace tiepoint
