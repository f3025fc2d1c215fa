// A p-n junction with a resistance in series, solved in closed form.
//
// Notation: i = current [A], v = voltage across junction and resistance [V], IS = saturation current [A], V1 = emission
// coefficient times thermal voltage [V], R = series resistance [ohm].
//
//   i = IS * (exp((v - R*i) / V1) - 1)
//
// With y = R * (i + IS) / V1 this is  y + ln y = z,  z = ln(IS*R/V1) + (v + IS*R) / V1:  y is the Wright omega function of z,
// the Lambert W of exp(z) without its overflow (Banwell & Jayakumar, Electron. Lett. 36, 2000; Corless et al., Adv. Comput.
// Math. 5, 1996; both from memory). So a resistance inside the junction costs no unknown of its own and no digits, and makes
// the curve straight far out. R = 0 is the plain exponential.
#pragma once

#include <algorithm>
#include <cmath>

namespace tiepoint {

struct Junction {
  double saturation;  // [A] IS
  double scale;       // [V] V1
  double resistance;  // [ohm] R
};

struct JunctionPoint {
  double current;  // [A]
  double slope;    // [S] di/dv
};

inline constexpr double kNothingFrom = -40;  // exp() is less than half of the last digit of 1 from here on down: nothing, and saved
inline constexpr double kStraightFrom = 200;  // exp() is continued by its tangent from here on, so that nothing overflows

// exp(x) - 1 and its derivative, straight beyond kStraightFrom.
inline void tame_exp(double x, double* value, double* slope) {
  if (x > kStraightFrom) {
    *slope = std::exp(kStraightFrom);
    *value = *slope * (1 + (x - kStraightFrom));
  } else if (x < kNothingFrom) {
    *slope = 0, *value = -1;
  } else if (std::fabs(x) < 0.5) {
    *value = std::expm1(x);
    *slope = *value + 1;
  } else {
    *slope = std::exp(x);
    *value = *slope - 1;
  }
}

// The Wright omega function for real z: y + ln y = z. Start values and the fourth-order step are Fritsch, Shafer & Crowley
// (Comm. ACM 16, 1973; from memory); two steps reach double precision for all z.
inline double wright_omega(double z) {
  if (z < -40) return std::exp(z);
  double y = z <= -2 ? std::exp(z) : z <= 1 ? std::exp(2 * (z - 1) / 3) : z - std::log(z) + std::log(z) / z;
  for (int k = 0; k < 2; ++k) {
    const double r = z - y - std::log(y);
    const double t = (1 + y) * (1 + y + 2.0 / 3.0 * r);
    y *= 1 + r / (1 + y) * (t - r / 2) / (t - r);
  }
  return y;
}

inline JunctionPoint junction_at(const Junction& j, double v) {
  if (j.resistance > 0) {
    const double knee = j.saturation * j.resistance / j.scale;
    const double y = wright_omega(std::log(knee) + knee + v / j.scale);
    return {y * j.scale / j.resistance - j.saturation, y / (1 + y) / j.resistance};
  }
  double value, slope;
  tame_exp(v / j.scale, &value, &slope);
  return {j.saturation * value, j.saturation * slope / j.scale};
}

// Where the curve bends most: where the junction's own resistance is that of its load [ohm]. With its series resistance. [V]
inline double critical_voltage(const Junction& j, double load) {
  const double current = j.scale / (load * std::sqrt(2.0));
  return j.scale * std::log(current / j.saturation + 1) + j.resistance * current;
}

// [V] at which a junction carries a current: v = V1 ln(i/IS + 1) + R*i
inline double voltage_of(const Junction& j, double current) {
  return j.scale * std::log(current / j.saturation + 1) + j.resistance * current;
}

// [ohm] One ohm is the usual choice. 20 would save an operating point a fifth of its iterations, but takes other steps in time,
// of which some were too coarse.
inline constexpr double kCriticalLoad = 1;

// Newton's method must not follow the tangent of an exponential far upwards. Below the critical voltage a proposal is stopped
// there; above it the tangent is read as a current instead: the next point is the one of the curve that carries the tangent's
// current. `last` is where the tangent touches, `v` is the proposal. True when v was changed.
inline bool limit_junction(const Junction& j, double last, double* v) {
  if (*v - last <= 2 * j.scale) return false;
  const double critical = critical_voltage(j, kCriticalLoad);
  if (*v <= critical) return false;
  if (last < critical) {
    *v = critical;
    return true;
  }
  const JunctionPoint at = junction_at(j, last);
  const double next = voltage_of(j, at.current + at.slope * (*v - last));
  if (!(next < *v)) return false;
  *v = next;
  return true;
}

// The same with longer strides, for a settled state. Downwards the tangent leads by V1 at most, whatever the way: there it is
// read as a current too. These figures were found by trying them on the benchmark's random boards; none is critical.
inline constexpr double kStrideLoad = 4;       // [ohm]
inline constexpr double kAtTheBend = 1e-6;     // in V1: who was stopped there stands there, though the nodes' voltages round
inline constexpr double kDown = 0.25;          // in V1: a proposal that goes down by less is one of the last corrections
inline constexpr double kLetDown = 5;          // in V1: how far one is let down that the others would drive backwards
inline constexpr double kInNobodysWay = 1e-6;  // [A] unless it carries less than that
inline bool stride_junction(const Junction& j, double last, double* v) {
  const double up = *v - last;
  if (up > -kDown * j.scale) {
    if (up <= 2 * j.scale) return false;
    const double critical = critical_voltage(j, kStrideLoad);
    if (*v <= critical) return false;
    if (last < critical - kAtTheBend * j.scale) {
      *v = critical;
      return true;
    }
  }
  const JunctionPoint at = junction_at(j, last);
  const double current = at.current + at.slope * up;
  if (current <= 0) {
    if (at.current < kInNobodysWay) return false;
    *v = std::max(0.0, last - kLetDown * j.scale);
    return true;
  }
  const double next = voltage_of(j, current);
  if (!(next < *v)) return false;
  *v = next;
  return true;
}

}  // namespace tiepoint
