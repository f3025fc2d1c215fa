// Smooth corners for behavioural models, and a stamp for currents that depend on several unknowns.
#pragma once

#include <cmath>
#include <initializer_list>

#include "engine/devices/model.h"

namespace tiepoint {

struct Curve {
  double value;
  double slope;
};

// max(x, 0) with a corner of width w:  w ln(1 + exp(x / w)).
inline Curve soft_ramp(double x, double w) {
  const double e = std::exp(-std::fabs(x) / w);
  return {w * std::log1p(e) + (x > 0 ? x : 0), (x > 0 ? 1 : e) / (1 + e)};
}

// max(x, 0) with a parabola for a corner, no exponential: 0 below -w, x above w, (x + w)^2 / (4 w) between.
inline Curve ramp(double x, double w) {
  if (x <= -w) return {0, 0};
  if (x >= w) return {x, 1};
  return {(x + w) * (x + w) / (4 * w), (x + w) / (2 * w)};
}

// 0 below 0, 1 above `width`, and a cubic without corners between.
inline Curve smooth_step(double x, double width) {
  const double u = x / width;
  if (u <= 0) return {0, 0};
  if (u >= 1) return {1, 0};
  return {u * u * (3 - 2 * u), 6 * u * (1 - u) / width};
}

// A straight line of slope 1 held between -low and +high (both > 0), the corners of relative width `corner`; `leak` of the slope
// remains outside.
inline Curve held_between(double x, double low, double high, double corner, double leak) {
  const Curve above = soft_ramp(x - high, corner * high), below = soft_ramp(-low - x, corner * low);
  return {x - (1 - leak) * (above.value - below.value), 1 - (1 - leak) * (above.slope + below.slope)};
}

// For what fades in between two supply voltages (smooth_step): outside them Newton's method sees no slope and would leap over the
// range. A leap into or over it from outside stops in its middle, where the slope is. True when x was changed.
inline bool limit_supply(const double* last, double* x, int vcc, int gnd, double from, double to) {
  const double was = last[vcc] - last[gnd], now = x[vcc] - x[gnd], middle = (from + to) / 2;
  if (!((was >= to && now < middle) || (was <= from && now > middle))) return false;
  x[gnd] = x[vcc] - middle;
  return true;
}

struct Slope {
  int unknown;
  double by;  // d(current) / d(unknown)
};

// A current from terminal a to terminal b inside the element.
inline void stamp_flow(const Local& out, int m, int a, int b, double current, std::initializer_list<Slope> slopes) {
  out.f[a] += current;
  out.f[b] -= current;
  for (const Slope& s : slopes) {
    out.df[a * m + s.unknown] += s.by;
    out.df[b * m + s.unknown] -= s.by;
  }
}

// A conductance from terminal a to terminal b.
inline void stamp_conductance(const Local& out, int m, const double* x, int a, int b, double g) {
  stamp_flow(out, m, a, b, g * (x[a] - x[b]), {{a, g}, {b, -g}});
}

// An open collector that sinks  i = limit tanh(V / (limit R)) from `from` to gnd: R at small voltages, never more than the limit; fading in
// with the supply between vcc and gnd.
inline void stamp_open_collector(const Local& out, int m, const double* x, int from, int gnd, int vcc, double resistance, double limit,
                                 Curve awake) {
  const double t = std::tanh((x[from] - x[gnd]) / (limit * resistance));
  const double g = (1 - t * t) / resistance * awake.value;
  const double by_supply = limit * t * awake.slope;
  stamp_flow(out, m, from, gnd, limit * t * awake.value, {{from, g}, {gnd, -g - by_supply}, {vcc, by_supply}});
}

// Bias current out of a pnp input, fed from vcc: it fades as the input comes within kBiasRoom of vcc, where the feeding transistor has no
// voltage left. An open input rises to there.
inline constexpr double kBiasRoom = 1;  // [V] own choice, no source
inline void stamp_bias(const Local& out, int m, const double* x, int in, int vcc, int gnd, double current, Curve awake) {
  const Curve room = smooth_step(x[vcc] - x[in], kBiasRoom);
  const double by_supply = current * awake.slope * room.value, by_room = current * awake.value * room.slope;
  stamp_flow(out, m, vcc, in, current * awake.value * room.value, {{vcc, by_supply + by_room}, {gnd, -by_supply}, {in, -by_room}});
}

// Protection junction that conducts from a to b when v(a) - v(b) exceeds `knee` [V], with conductance g beyond it.
inline void stamp_clamp(const Local& out, int m, const double* x, int a, int b, double knee, double g) {
  const Curve c = ramp(x[a] - x[b] - knee, 0.1);
  if (c.slope != 0) stamp_flow(out, m, a, b, g * c.value, {{a, g * c.slope}, {b, -g * c.slope}});
}

}  // namespace tiepoint
