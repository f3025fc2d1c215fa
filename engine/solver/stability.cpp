// Near a settled state  C dx/dt = -G x  for small x. A motion exp(s t) grows when Re s > 0. The bilinear map
//
//   P = (C + h/2 G)^-1 (C - h/2 G)        has eigenvalues  (1 + h s/2) / (1 - h s/2)
//
// and takes Re s > 0 to the outside of the unit circle whatever h is. Algebraic unknowns (s infinite) come to lie at -1; they are
// taken out first by  M = (C + h G)^-1 C,  which has nothing in their direction. So the state is unstable when P^(2^k) M outgrows all
// bounds as k goes up, which repeated squaring finds in a few products: 2^30 steps of a microsecond see growth within minutes.
#include "engine/solver/stability.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tiepoint {
namespace {

constexpr double kStep = 1e-6;      // [s] h
constexpr int kSquarings = 30;
constexpr double kGrown = 1e4;      // times the disturbance itself

using Matrix = std::vector<double>;  // row-major n*n

double largest(const Matrix& a) {
  double size = 0;
  for (const double v : a) size = std::isfinite(v) ? std::max(size, std::fabs(v)) : std::numeric_limits<double>::infinity();
  return size;
}

Matrix product(const Matrix& a, const Matrix& b, int n) {
  Matrix c(a.size(), 0.0);
  for (int i = 0; i < n; ++i)
    for (int k = 0; k < n; ++k) {
      const double v = a[i * n + k];
      if (v == 0) continue;
      for (int j = 0; j < n; ++j) c[i * n + j] += v * b[k * n + j];
    }
  return c;
}

// Solves left * X = right; false when singular.
bool divide(const Matrix& left, const Matrix& right, int n, Matrix* x) {
  DenseLu lu;
  lu.resize(n);
  if (lu.factor(left.data()) >= 0) return false;
  x->assign(right.size(), 0.0);
  Matrix column(size_t(n), 0.0);
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) column[i] = right[i * n + j];
    lu.solve(column.data());
    for (int i = 0; i < n; ++i) (*x)[i * n + j] = column[i];
  }
  return true;
}

Matrix combine(const Matrix& a, double factor, const Matrix& b) {
  Matrix c = a;
  for (size_t k = 0; k < c.size(); ++k) c[k] += factor * b[k];
  return c;
}

}  // namespace

bool grows(Island& island) {
  const int n = island.size;
  if (island.linear || !island.stores || n > LinearSolver::kLargestDense) return false;
  const auto matrix_at = [&](double a) {
    island.evaluate(a, true);
    island.tie_knots(false, island.row_error.data(), true);
    return Matrix(island.matrix.begin(), island.matrix.begin() + n * n);
  };
  const Matrix g = matrix_at(0), at_step = matrix_at(1 / kStep);
  island.factored_a = std::numeric_limits<double>::quiet_NaN();
  const Matrix hg = combine(Matrix(g.size(), 0.0), kStep, g);
  const Matrix c = combine(combine(Matrix(g.size(), 0.0), kStep, at_step), -1, hg);
  Matrix power, rest;
  if (!divide(combine(c, 0.5, hg), combine(c, -0.5, hg), n, &power)) return false;
  if (!divide(combine(c, 1, hg), c, n, &rest)) return false;
  const double start = largest(rest);
  for (int k = 0; k < kSquarings; ++k) {
    rest = product(power, rest, n);
    if (largest(rest) > kGrown * start) return true;
    power = product(power, power, n);
  }
  return false;
}

}  // namespace tiepoint
