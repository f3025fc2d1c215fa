// The figures of the silicon diodes, for diode.cpp and for the check against the data sheets.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct DiodeFigures {
  std::string_view type;
  double saturation_current;  // [A]
  double emission;            // 1
  double series_resistance;   // [ohm]
  double largest_current;     // [A] continuous
  double reverse_voltage;     // [V] working
  double breakdown_voltage;   // [V]
  double leakage;             // [ohm] across the junction
};

// In the order of the diode's option "type".
std::span<const DiodeFigures> diode_figures();

}  // namespace tiepoint
