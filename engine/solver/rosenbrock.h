// A linearly implicit one-step method: one matrix and one factorisation a step, no iteration. Its stages are evaluations and
// solves; what Newton's method would find is told by the error estimate instead.
//
// For  Q' = -f(x),  Q = q(x)  (the charges are unknowns of their own, so that none are lost: Guenther, Numer. Math. 79, 1998),
// with C = dq/dx and G = df/dx at the start of the step and a = 1 / (h gamma):
//
//   X_i = x + sum_j A[i][j] v_j,  Q_i = Q + sum_j A[i][j] U_j
//   (a C + G) v_i = -f(X_i) + a (Q_i - q(X_i)) + sum_j B[i][j] / h U_j
//   U_i = C v_i - (Q_i - q(X_i))
//   the end is  X_6 + v_6, Q_6 + U_6,  the error estimate is v_6
//
// RODASP: order 4(3), stiffly accurate, L-stable, made so that stiff components do not lower the order; with its dense output
// (Steinebach 1995; Hairer & Wanner, Solving Ordinary Differential Equations II, 1996, section VI.4; coefficients from memory,
// the order is tested). Where sources move the implicit stages of stages.h serve: they follow what has no charge on the way
// too.
#pragma once

namespace tiepoint {

struct RosenbrockTable {
  static constexpr int kStages = 6;
  double gamma = 0.25;
  double a[kStages][kStages] = {{},
                                {3},
                                {1.831036793486759, 0.4955183967433795},
                                {2.304376582692669, -0.05249275245743001, -1.176798761832782},
                                {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401},
                                {-7.170454962423024, -4.741636671481785, -16.31002631330971, -1.062004044111401, 1}};
  double b[kStages][kStages] = {
      {},
      {-12},
      {-8.791795173947035, -2.207865586973518},
      {10.81793056857153, 6.780270611428266, 19.53485944642410},
      {34.19095006749676, 15.49671153725963, 54.74760875964130, 14.16005392148534},
      {34.62605830930532, 15.30084976114473, 56.99955578662667, 18.40807009793095, -5.714285714285717}};
  // Between the ends, at the share s of the step:  (1 - s) x + s (x_end + (1 - s) sum_j (d[0][j] + s d[1][j]) v_j).
  double d[2][kStages - 1] = {
      {25.09876703708589, 11.62013104361867, 28.49148307714626, -5.664021568594133, 0},
      {1.638054557396973, -0.7373619806678748, 8.477918219238990, 15.99253148779520, -1.882352941176471}};
};

inline constexpr RosenbrockTable kRodasp;

}  // namespace tiepoint
