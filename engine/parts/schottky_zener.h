// The figures of the Schottky and Zener diodes, for schottky_zener.cpp and for the checks against their sheets.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct ZenerCase {  // one diode of a voltage: half a watt in small glass, or a whole one
  double test_current;        // [A] at which it has its voltage
  double dynamic_resistance;  // [ohm] there: the sheet's largest, or less where its leakage asks for that
  double knee_emission;       // 1, steepness of the breakdown junction; the rest of the dynamic resistance is ohmic
};
struct ZenerFigures {
  std::string_view voltage_name;
  double voltage;  // [V] at the test current
  ZenerCase cases[2];
};
std::span<const ZenerFigures> zener_figures();
inline constexpr double kZenerPower[2] = {0.5, 1};  // [W] of the two cases

}  // namespace tiepoint
