// Small helpers for writing local matrices (row-major, m*m).
#pragma once

#include <limits>

#include "engine/devices/model.h"

namespace tiepoint {

inline constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
inline constexpr double kInfinite = std::numeric_limits<double>::infinity();

// A current (or charge) `value` from terminal a to terminal b with slope `slope` against v(a) - v(b).
inline void stamp_branch(double* f, double* df, int m, int a, int b, double value, double slope) {
  f[a] += value;
  f[b] -= value;
  df[a * m + a] += slope;
  df[a * m + b] -= slope;
  df[b * m + a] -= slope;
  df[b * m + b] += slope;
}

}  // namespace tiepoint
