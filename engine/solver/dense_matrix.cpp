#include "engine/solver/dense_matrix.h"

#include <cstddef>

#include "engine/solver/dense_lu.h"

namespace tiepoint {

using std::size_t;

DenseMatrix product(const DenseMatrix& a, const DenseMatrix& b, int n) {
  DenseMatrix c(a.size(), 0.0);
  for (int i = 0; i < n; ++i)
    for (int k = 0; k < n; ++k) {
      const double v = a[i * n + k];
      if (v == 0) continue;
      for (int j = 0; j < n; ++j) c[i * n + j] += v * b[k * n + j];
    }
  return c;
}

bool divide(const DenseMatrix& left, const DenseMatrix& right, int n, DenseMatrix* x) {
  DenseLu lu;
  lu.resize(n);
  if (lu.factor(left.data()) >= 0) return false;
  x->assign(right.size(), 0.0);
  DenseMatrix column(size_t(n), 0.0);
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) column[i] = right[i * n + j];
    lu.solve(column.data());
    for (int i = 0; i < n; ++i) (*x)[i * n + j] = column[i];
  }
  return true;
}

DenseMatrix combine(const DenseMatrix& a, double factor, const DenseMatrix& b) {
  DenseMatrix c = a;
  for (size_t k = 0; k < c.size(); ++k) c[k] += factor * b[k];
  return c;
}

}  // namespace tiepoint
