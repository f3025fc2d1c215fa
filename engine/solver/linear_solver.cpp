#include "engine/solver/linear_solver.h"

#include <algorithm>

namespace tiepoint {

void LinearSolver::analyse(int size, std::vector<std::pair<int, int>> places, Storage storage) {
  size_ = size;
  dense_ = storage == Storage::kDense || (storage == Storage::kAutomatic && size <= kLargestDense);
  if (dense_) {
    slots_ = size * size;
    dense_lu_.resize(size);
    return;
  }
  for (int k = 0; k < size; ++k) places.emplace_back(k, k);  // a full diagonal suits the ordering
  std::sort(places.begin(), places.end(),
            [](const auto& a, const auto& b) { return a.second != b.second ? a.second < b.second : a.first < b.first; });
  places.erase(std::unique(places.begin(), places.end()), places.end());
  first_.assign(size + 1, 0);
  row_.clear();
  for (const auto& [row, column] : places) {
    row_.push_back(row);
    ++first_[column + 1];
  }
  for (int j = 0; j < size; ++j) first_[j + 1] += first_[j];
  slots_ = int(row_.size());
  sparse_lu_.analyse(size, first_, row_);
}

int LinearSolver::slot(int row, int column) const {
  if (dense_) return row * size_ + column;
  const auto begin = row_.begin() + first_[column], end = row_.begin() + first_[column + 1];
  const auto at = std::lower_bound(begin, end, row);
  return at != end && *at == row ? int(at - row_.begin()) : -1;
}

int LinearSolver::factor(const double* values) {
  if (dense_) return dense_lu_.factor(values);
  return sparse_lu_.refactor(values) ? -1 : sparse_lu_.factor(values);
}

void LinearSolver::solve(double* b) {
  if (dense_) {
    dense_lu_.solve(b);
  } else {
    sparse_lu_.solve(b);
  }
}

}  // namespace tiepoint
