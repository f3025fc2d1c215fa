// The law of a thermistor, for its model and for those who ask for a resistance: engine/devices/thermistor.cpp.
#pragma once

namespace tiepoint {

struct Curve;

struct ThermistorLaw {
  double r25, a, b, c, d;  // [ohm], 1, [K], [K^2], [K^3]
};
// R = R25 exp(A + B/T + C/T^2 + D/T^3) at T [K], and its slope [ohm/K].
Curve thermistor_at(const ThermistorLaw& law, double kelvin);

}  // namespace tiepoint
