#include "engine/solver/linear_solver.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <utility>
#include <vector>

namespace tiepoint {
namespace {

struct System {
  int size;
  std::vector<std::pair<int, int>> places;
  std::vector<double> value;  // of places
};

// Sparse, unsymmetric, and with zeros on a third of the diagonal, as voltage sources leave them.
System random_system(int size, std::mt19937& random) {
  std::uniform_real_distribution<double> number(-1, 1);
  std::uniform_int_distribution<int> index(0, size - 1);
  System s{size, {}, {}};
  const auto put = [&](int row, int column, double v) { s.places.emplace_back(row, column), s.value.push_back(v); };
  for (int k = 0; k < size; ++k) {
    if (k % 3 == 2) {
      put(k, k - 1, 1), put(k - 1, k, 1);
    } else {
      put(k, k, 4 + number(random));
    }
    put(k, index(random), number(random)), put(index(random), k, number(random));
  }
  return s;
}

std::vector<double> solve(const System& s, Storage storage, LinearSolver& solver, const std::vector<double>& b,
                          bool analyse = true) {
  if (analyse) solver.analyse(s.size, s.size, s.places, storage);
  std::vector<double> values(size_t(solver.slot_count()), 0.0);
  for (size_t k = 0; k < s.places.size(); ++k) values[size_t(solver.slot(s.places[k].first, s.places[k].second))] += s.value[k];
  EXPECT_EQ(solver.factor(values.data()), -1);
  std::vector<double> x = b;
  solver.solve(x.data());
  return x;
}

double residual(const System& s, const std::vector<double>& x, std::vector<double> b) {
  for (size_t k = 0; k < s.places.size(); ++k) b[size_t(s.places[k].first)] -= s.value[k] * x[size_t(s.places[k].second)];
  double largest = 0;
  for (const double v : b) largest = std::max(largest, std::fabs(v));
  return largest;
}

TEST(LinearSolver, DenseAndSparseAgreeOnRandomSystems) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> number(-1, 1);
  for (const int size : {1, 2, 3, 6, 9, 30, 63, 64, 65, 90, 300}) {
    const System s = random_system(size, random);
    std::vector<double> b(static_cast<size_t>(size));
    for (double& v : b) v = number(random);
    LinearSolver dense, sparse, automatic;
    EXPECT_LT(residual(s, solve(s, Storage::kAutomatic, automatic, b), b), 1e-10) << size;
    const std::vector<double> x = solve(s, Storage::kDense, dense, b), y = solve(s, Storage::kSparse, sparse, b);
    EXPECT_LT(residual(s, x, b), 1e-10) << size;
    EXPECT_LT(residual(s, y, b), 1e-10) << size;
    for (int k = 0; k < size; ++k) EXPECT_NEAR(x[size_t(k)], y[size_t(k)], 1e-8 * (1 + std::fabs(x[size_t(k)]))) << size;
  }
}

TEST(LinearSolver, NewNumbersOnTheSamePatternAreRefactored) {
  std::mt19937 random(4);
  std::uniform_real_distribution<double> number(-1, 1);
  System s = random_system(120, random);
  const std::vector<double> b(120, 1.0);
  LinearSolver sparse;
  solve(s, Storage::kSparse, sparse, b);
  for (int round = 0; round < 20; ++round) {
    for (double& v : s.value) v *= 1 + 0.5 * number(random);
    EXPECT_LT(residual(s, solve(s, Storage::kSparse, sparse, b, false), b), 1e-9);
  }
}

TEST(LinearSolver, OldPivotsThatBecameZeroAreReplaced) {
  for (const Storage storage : {Storage::kSparse, Storage::kAutomatic}) {
    System s{3, {{0, 0}, {0, 1}, {1, 0}, {1, 1}, {2, 2}}, {5, 1, 1, 3, 1}};
    LinearSolver solver;
    const std::vector<double> b = {1, 2, 3};
    solve(s, storage, solver, b);
    for (int round = 0; round < 40; ++round) {  // needs an exchange of rows in two of three rounds
      s.value = round % 3 == 2 ? std::vector<double>{5, 1, 1, 3, 1} : std::vector<double>{0, 1, 1, 0, 1};
      const std::vector<double> x = solve(s, storage, solver, b, false);
      EXPECT_NEAR(x[0], round % 3 == 2 ? 1.0 / 14 : 2, 1e-14) << round;
      EXPECT_NEAR(x[1], round % 3 == 2 ? 9.0 / 14 : 1, 1e-14) << round;
    }
  }
}

// A ladder of conductances to the reference: its inverse is known from the recurrence of the continued fraction, and an order
// without search must not fill it: two entries of U at most for each row.
TEST(SmallLu, ALadderDoesNotFillUp) {
  const int n = 64;
  std::vector<std::pair<int, int>> places;
  for (int k = 0; k < n; ++k) {
    places.emplace_back(k, k);
    if (k > 0) places.emplace_back(k, k - 1), places.emplace_back(k - 1, k);
  }
  SmallLu lu;
  ASSERT_TRUE(lu.analyse(n, n, places));
  EXPECT_EQ(lu.slot_count(), n + 2 * (n - 1));
  std::vector<double> values(size_t(lu.slot_count()), 0.0), b(size_t(n), 0.0);
  for (const auto& [row, column] : places) values[size_t(lu.slot(row, column))] = row == column ? 3 : -1;
  EXPECT_EQ(lu.slot(0, 2), -1);
  ASSERT_TRUE(lu.factor(values.data()));
  b[0] = 1;
  lu.solve(b.data());
  double fraction = 3;  // 3 - 1/(3 - 1/(3 - ...))
  for (int k = 1; k < n; ++k) fraction = 3 - 1 / fraction;
  EXPECT_NEAR(b[0], 1 / fraction, 1e-15);
}

// The own unknown of an ideal source has no diagonal of its own: it must wait for a node's.
TEST(SmallLu, AnOwnUnknownWithoutDiagonalWaitsForANode) {
  const std::vector<std::pair<int, int>> places = {{0, 0}, {0, 2}, {2, 0}, {1, 1}, {0, 1}, {1, 0}, {2, 2}};
  SmallLu lu;
  ASSERT_TRUE(lu.analyse(3, 2, places));
  std::vector<double> values(size_t(lu.slot_count()), 0.0);
  const auto at = [&](int row, int column) -> double& { return values[size_t(lu.slot(row, column))]; };
  at(0, 0) = 1, at(1, 1) = 2, at(0, 1) = at(1, 0) = -1, at(0, 2) = at(2, 0) = 1;  // 5 V onto a divider of 1 ohm and 1 ohm
  ASSERT_TRUE(lu.factor(values.data()));
  double b[] = {0, 0, 5};
  lu.solve(b);
  EXPECT_DOUBLE_EQ(b[0], 5);
  EXPECT_DOUBLE_EQ(b[1], 2.5);
  EXPECT_DOUBLE_EQ(b[2], -2.5);
}

TEST(LinearSolver, NamesTheUnknownWithoutPivot) {
  for (const Storage storage : {Storage::kDense, Storage::kSparse, Storage::kAutomatic}) {
    LinearSolver solver;
    solver.analyse(3, 3, std::vector<std::pair<int, int>>{{0, 0}, {1, 1}, {2, 1}}, storage);
    std::vector<double> values(size_t(solver.slot_count()), 0.0);
    values[size_t(solver.slot(0, 0))] = values[size_t(solver.slot(1, 1))] = values[size_t(solver.slot(2, 1))] = 1;
    EXPECT_EQ(solver.factor(values.data()), 2);
  }
}

TEST(LinearSolver, NotANumberIsRefused) {
  for (const Storage storage : {Storage::kDense, Storage::kSparse, Storage::kAutomatic}) {
    LinearSolver solver;
    solver.analyse(1, 1, std::vector<std::pair<int, int>>{{0, 0}}, storage);
    const double nan = NAN;
    EXPECT_EQ(solver.factor(&nan), 0);
  }
}

}  // namespace
}  // namespace tiepoint
