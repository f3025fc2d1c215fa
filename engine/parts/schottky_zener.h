// The figures of the Schottky and Zener diodes, for schottky_zener.cpp and for the checks against their sheets.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct ZenerFigures {
  std::string_view voltage_name;
  double voltage;             // [V] at the test current of 5 mA
  double dynamic_resistance;  // [ohm] there, the sheet's largest
  double knee_emission;       // 1, steepness of the breakdown junction; the rest of the dynamic resistance is ohmic
};
std::span<const ZenerFigures> zener_figures();
inline constexpr double kZenerTestCurrent = 5e-3;  // [A]

}  // namespace tiepoint
