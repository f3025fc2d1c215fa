#include "engine/solver/dense_lu.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {

void DenseLu::resize(int size) {
  size_ = size;
  lu_.assign(size_t(size) * size, 0);
  inverse_pivot_.assign(size, 0);
  exchange_.assign(size, 0);
}

int DenseLu::factor(const double* matrix) {
  std::copy(matrix, matrix + lu_.size(), lu_.data());
  return factor();
}

int DenseLu::factor() {
  const int n = size_;
  double* a = lu_.data();
  for (int k = 0; k < n; ++k) {
    int best = k;
    double largest = std::fabs(a[k * n + k]);
    for (int i = k + 1; i < n; ++i) {
      const double size = std::fabs(a[i * n + k]);
      if (size > largest) largest = size, best = i;
    }
    if (!(largest > 0) || !std::isfinite(largest)) return k;
    exchange_[k] = best;
    if (best != k) std::swap_ranges(a + k * n, a + k * n + n, a + best * n);
    const double* top = a + k * n;
    const double inverse = 1 / top[k];
    inverse_pivot_[k] = inverse;
    for (int i = k + 1; i < n; ++i) {
      double* row = a + i * n;
      if (row[k] == 0) continue;  // most entries of a circuit's matrix are
      const double factor = row[k] * inverse;
      row[k] = factor;
      for (int j = k + 1; j < n; ++j) row[j] -= factor * top[j];
    }
  }
  return -1;
}

void DenseLu::solve(double* b) const {
  const int n = size_;
  const double* a = lu_.data();
  for (int k = 0; k < n; ++k)
    if (exchange_[k] != k) std::swap(b[k], b[exchange_[k]]);
  for (int i = 1; i < n; ++i) {
    double sum = b[i];
    for (int j = 0; j < i; ++j) sum -= a[i * n + j] * b[j];
    b[i] = sum;
  }
  for (int i = n - 1; i >= 0; --i) {
    double sum = b[i];
    for (int j = i + 1; j < n; ++j) sum -= a[i * n + j] * b[j];
    b[i] = sum * inverse_pivot_[i];
  }
}

}  // namespace tiepoint
