// Near a settled state  C dx/dt = -G x  for small x. A motion exp(s t) grows when Re s > 0. The bilinear map
//
//   P = (C + h/2 G)^-1 (C - h/2 G)        has eigenvalues  (1 + h s/2) / (1 - h s/2)
//
// and takes Re s > 0 to the outside of the unit circle whatever h is. Algebraic unknowns (s infinite) come to lie at -1; they
// are taken out first by  M = (C + h/2 G)^-1 C,  which has nothing in their direction. So the state is unstable when P^(2^k) M
// outgrows all bounds as k goes up, which repeated squaring finds in a few products. The rate is told well when h is shorter
// than 1/s: h goes up from picoseconds, and the first one that sees growth has the fastest.
//
// P is 2 M - 1, and M has no columns but those of the unknowns that charge depends on. So the block of these unknowns goes by
// itself: of any polynomial in M it is the same polynomial in the block.
#include "engine/solver/stability.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "engine/solver/dense_lu.h"
#include "engine/solver/dense_matrix.h"

namespace tiepoint {
namespace {

constexpr double kSteps[] = {1e-12, 1e-9, 1e-6, 1e-3, 1};  // [s] h
constexpr int kLargest = 40;  // unknowns
constexpr int kSquarings = 13;
constexpr double kGrown = 1e4;  // times the disturbance itself
constexpr double kCalm = 30;    // no power of P has a larger entry: nothing outgrows its bounds by then
constexpr double kSplit = 1e9;  // [1/s] C is told from G by the matrices at a = 0 and at this a

using Matrix = DenseMatrix;

double largest(const Matrix& a) {
  double size = 0;
  for (const double v : a) size = std::isfinite(v) ? std::max(size, std::fabs(v)) : std::numeric_limits<double>::infinity();
  return size;
}

// The block of (C + h/2 G)^-1 C that belongs to the unknowns `stored`. False when there is no inverse.
bool motion_of_stored(const Matrix& g, const Matrix& c, int n, const std::vector<int>& stored, double h, Matrix* block) {
  DenseLu lu;
  lu.resize(n);
  if (lu.factor(combine(c, 0.5 * h, g).data()) >= 0) return false;
  const size_t m = stored.size();
  block->assign(m * m, 0.0);
  Matrix column(size_t(n), 0.0);
  for (size_t j = 0; j < m; ++j) {
    for (int i = 0; i < n; ++i) column[size_t(i)] = c[size_t(i * n + stored[j])];
    lu.solve(column.data());
    for (size_t i = 0; i < m; ++i) (*block)[i * m + j] = column[size_t(stored[i])];
  }
  return true;
}

// Does no power of P, up to the last one, grow at all?
bool is_calm(Matrix power, int n) {
  for (int k = 0; k < kSquarings; ++k) {
    power = product(power, power, n);
    if (!(largest(power) < kCalm)) return false;
  }
  return true;
}

// The rate seen with steps of h, 0 when nothing grows.
double rate_with(const Matrix& g, const Matrix& c, int unknowns, const std::vector<int>& stored, double h) {
  Matrix rest;
  if (!motion_of_stored(g, c, unknowns, stored, h, &rest)) return 0;
  const int n = int(stored.size());
  Matrix power = rest;
  for (double& v : power) v *= 2;
  for (int i = 0; i < n; ++i) power[size_t(i * n + i)] -= 1;
  if (is_calm(power, n)) return 0;
  const double start = largest(rest);
  for (int k = 0; k < kSquarings; ++k) {
    rest = product(power, rest, n);
    if (largest(rest) > kGrown * start) return std::log(kGrown) / (std::ldexp(1, k) * h);
    power = product(power, power, n);
  }
  return 0;
}

// Only what amplifies can be unstable; a diode does not, nor does a supply at its limit.
bool amplifies(const Island& island) {
  return std::any_of(island.members.begin(), island.members.end(), [](const Member& m) {
    return !m.model->linear && m.model->kind != ElementKind::kDiode && m.model->kind != ElementKind::kLimitedSupply;
  });
}

}  // namespace

double growth_rate(Island& island) {
  const int n = island.size;
  if (!island.stores || n > kLargest || !amplifies(island)) return 0;
  const auto matrix_at = [&](double a) {
    island.evaluate(a, true);
    island.tie_knots(false, island.row_error.data(), true);
    Matrix dense(size_t(n) * n, 0.0);
    for (int row = 0; row < n; ++row)
      for (int column = 0; column < n; ++column)
        if (const int slot = island.solver.slot(row, column); slot >= 0) dense[row * n + column] = island.matrix[slot];
    return dense;
  };
  const Matrix g = matrix_at(0);
  Matrix c = combine(matrix_at(kSplit), -1, g);
  for (double& v : c) v /= kSplit;
  island.factored_a = std::numeric_limits<double>::quiet_NaN();
  std::vector<int> stored;
  for (int column = 0; column < n; ++column) {
    bool any = false;
    for (int row = 0; row < n; ++row) any = any || c[size_t(row * n + column)] != 0;
    if (any) stored.push_back(column);
  }
  for (const double h : kSteps)
    if (const double rate = rate_with(g, c, n, stored, h); rate > 0) return rate;
  return 0;
}

}  // namespace tiepoint
