// Implicit one-step methods whose stages all have the same matrix (ESDIRK: the first stage is the end of the step before).
//
//   q_i = q_0 + h * sum_j a[i][j] k_j,   f(x_i, t + c[i] h) + k_i = 0,   a[i][i] = gamma for i > 0, the last stage is the end
//   error in q:  h * sum_j (b - bhat)[j] k_j  with the weights bhat of an embedded method
// All are L-stable: what is stiff is damped, and nothing rings after a jump.
#pragma once

#include <cmath>

namespace tiepoint {

inline constexpr int kMostStages = 6;

struct StageTable {
  int stages;
  double gamma;
  double order;  // the error estimate goes with this power of h
  double c[kMostStages];
  double a[kMostStages][kMostStages];
  double error[kMostStages];
  int early, late;  // stages at which the state between the ends is kept
};

// TR-BDF2: Bank et al., IEEE Trans. Electron Devices 32, 1985; error weights of the embedded third-order method from Hosea &
// Shampine, Appl. Numer. Math. 20, 1996 (both from memory). Second order.
inline const StageTable& tr_bdf2() {
  static const StageTable table = [] {
    const double g = 1 - std::sqrt(0.5), w = std::sqrt(2.0) / 4;
    StageTable t = {3, g, 3, {0, 2 * g, 1}, {{0}, {g, g}, {w, w, g}}, {}, 1, 1};
    const double bhat[3] = {(1 - w) / 3, (3 * w + 1) / 3, g / 3};
    for (int j = 0; j < 3; ++j) t.error[j] = bhat[j] - t.a[2][j];
    return t;
  }();
  return table;
}

// The implicit part of ARK4(3)6L[2]SA: Kennedy & Carpenter, Appl. Numer. Math. 44, 2003 (from memory; its order is tested).
inline const StageTable& esdirk4() {
  static const StageTable table = [] {
    StageTable t = {6,
                    0.25,
                    4,
                    {0, 0.5, 83.0 / 250, 31.0 / 50, 17.0 / 20, 1},
                    {{0},
                     {0.25, 0.25},
                     {8611.0 / 62500, -1743.0 / 31250, 0.25},
                     {5012029.0 / 34652500, -654441.0 / 2922500, 174375.0 / 388108, 0.25},
                     {15267082809.0 / 155376265600, -71443401.0 / 120774400, 730878875.0 / 902184768, 2285395.0 / 8070912, 0.25},
                     {82889.0 / 524892, 0, 15625.0 / 83664, 69875.0 / 102672, -2260.0 / 8211, 0.25}},
                    {},
                    2,
                    3};
    const double bhat[6] = {4586570599.0 / 29645900160, 0, 178811875.0 / 945068544, 814220225.0 / 1159782912,
                            -3700637.0 / 11593932, 61727.0 / 225920};
    for (int j = 0; j < 6; ++j) t.error[j] = bhat[j] - t.a[5][j];
    return t;
  }();
  return table;
}

}  // namespace tiepoint
