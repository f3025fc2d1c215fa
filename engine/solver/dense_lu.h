// Dense LU factorisation with partial pivoting, for the small systems most boards are.
#pragma once

#include <vector>

namespace tiepoint {

class DenseLu {
 public:
  void resize(int size);
  // Factors the row-major size*size matrix. Returns -1 when done, else the column in which no pivot was found.
  int factor(const double* matrix);
  // The same with a matrix that was put in place: zeros of resize() where nothing was written.
  double* place() { return lu_.data(); }
  int factor();
  // Solves in place.
  void solve(double* b) const;

 private:
  int size_ = 0;
  std::vector<double> lu_;             // lu_[row * size + column], rows exchanged; L below the diagonal (its diagonal is 1)
  std::vector<double> inverse_pivot_;  // 1 / U's diagonal
  std::vector<int> exchange_;          // row exchanged with row k at step k
};

}  // namespace tiepoint
