// The laws of the resistors that sense something, for sensing_resistors.cpp and for the checks against their sheets.
#pragma once

namespace tiepoint {

double photoresistor_resistance(double light);        // [ohm], light [lx]
double thermistor_resistance(double temperature);     // [ohm], temperature [°C]
inline constexpr double kThermistorDissipation = 7e-3, kThermistorTime = 15;  // [W/K] in still air, [s]
double force_resistance(double force);                // [ohm], force [N]
double flex_resistance(double bend);                  // [ohm], bend [°], 0 straight

}  // namespace tiepoint
