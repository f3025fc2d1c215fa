// Products and quotients of small square matrices, row-major.
#pragma once

#include <vector>

namespace tiepoint {

using DenseMatrix = std::vector<double>;  // [n * n]

DenseMatrix product(const DenseMatrix& a, const DenseMatrix& b, int n);
// Solves left * X = right; false when singular.
bool divide(const DenseMatrix& left, const DenseMatrix& right, int n, DenseMatrix* x);
// a + factor * b
DenseMatrix combine(const DenseMatrix& a, double factor, const DenseMatrix& b);

}  // namespace tiepoint
