#include "engine/solver/linear_solver.h"

#include <algorithm>

#include "engine/circuit/rows.h"

namespace tiepoint {
namespace {

constexpr int kChosenPivots = 16;  // factorisations

}  // namespace

[[gnu::cold]] void LinearSolver::analyse(int size, int nodes, std::span<const std::pair<int, int>> places, Storage storage,
                                         int* slots) {
  size_ = size;
  chosen_pivots_ = 0, analysed_ = false;
  if (storage == Storage::kDense) {
    way_ = Way::kDense;
    slots_ = size * size;
    dense_lu_.resize(size);
  } else if (storage == Storage::kAutomatic && size <= SmallLu::kLargest && small_lu_.analyse(size, nodes, places, slots)) {
    way_ = Way::kSmall;
    slots_ = small_lu_.slot_count();
    return;
  } else {
    way_ = Way::kSparse;
    sort_pattern(places);
    slots_ = int(row_.size());
    sparse_lu_.analyse(size, first_, row_);
  }
  if (slots)
    for (const auto& [row, column] : places) *slots++ = slot(row, column);
}

bool LinearSolver::analyse_small(int size, int nodes, const uint64_t* neighbours, SmallLu::Slots& slots) {
  if (!small_lu_.analyse(size, nodes, neighbours, slots)) return false;
  size_ = size, slots_ = small_lu_.slot_count();
  chosen_pivots_ = 0, analysed_ = false;
  way_ = Way::kSmall;
  return true;
}

// By rows first, then by columns, which keeps the order of the rows.
[[gnu::cold]] void LinearSolver::sort_pattern(std::span<const std::pair<int, int>> given) {
  std::vector<std::pair<int, int>> places(given.begin(), given.end());
  for (int k = 0; k < size_; ++k) places.emplace_back(k, k);  // a full diagonal suits the ordering
  const int count = int(places.size());
  const Rows<int> by_row = sort_into_rows<int>(
      size_, count, [&](int p) { return places[p].first; }, [](int p) { return p; });
  const Rows<int> rows = sort_into_rows<int>(
      size_, count, [&](int k) { return places[by_row.items[k]].second; },
      [&](int k) { return places[by_row.items[k]].first; });
  first_.assign(1, 0);
  row_.clear();
  for (int column = 0; column < size_; ++column) {
    for (const int row : rows[column])
      if (int(row_.size()) == first_[column] || row_.back() != row) row_.push_back(row);
    first_.push_back(int(row_.size()));
  }
}

int LinearSolver::slot(int row, int column) const {
  if (way_ == Way::kDense) return row * size_ + column;
  if (way_ == Way::kSmall) return small_lu_.slot(row, column);
  const auto begin = row_.begin() + first_[column], end = row_.begin() + first_[column + 1];
  const auto at = std::lower_bound(begin, end, row);
  return at != end && *at == row ? int(at - row_.begin()) : -1;
}

int LinearSolver::factor(const double* values, bool carefully) {
  if (way_ == Way::kDense) return dense_lu_.factor(values);
  if (way_ == Way::kSparse) return sparse_lu_.refactor(values) ? -1 : sparse_lu_.factor(values);
  if (carefully) return factor_densely(values);
  if (chosen_pivots_ == 0 && small_lu_.factor(values)) return by_ = By::kSmall, -1;
  return factor_chosen(values);
}

int LinearSolver::factor_and_solve(const double* values, double* b) {
  if (way_ == Way::kSmall && chosen_pivots_ == 0 && small_lu_.factor_and_solve(values, b)) return by_ = By::kSmall, -1;
  const int column = way_ == Way::kSmall ? factor_chosen(values) : factor(values);
  if (column < 0) solve(b);
  return column;
}

// What the fixed order does not suit: for some time it is not even tried.
int LinearSolver::factor_chosen(const double* values) {
  if (chosen_pivots_-- == 0) chosen_pivots_ = kChosenPivots;
  if (!analysed_) {
    small_lu_.pattern(&first_, &row_);
    sparse_lu_.analyse(size_, first_, row_);
    analysed_ = true;
  }
  by_ = By::kSparse;
  return sparse_lu_.refactor(values) ? -1 : sparse_lu_.factor(values);
}

[[gnu::cold]] int LinearSolver::factor_densely(const double* values) {
  if (!analysed_) small_lu_.pattern(&first_, &row_);
  dense_lu_.resize(size_);
  double* const full = dense_lu_.place();
  for (int column = 0; column < size_; ++column)
    for (int p = first_[column]; p < first_[column + 1]; ++p) full[size_t(row_[p]) * size_ + column] = values[p];
  by_ = By::kDense;
  return dense_lu_.factor();
}

void LinearSolver::solve(double* b) {
  if (way_ == Way::kDense || (way_ == Way::kSmall && by_ == By::kDense)) {
    dense_lu_.solve(b);
  } else if (way_ == Way::kSmall && by_ == By::kSmall) {
    small_lu_.solve(b);
  } else {
    sparse_lu_.solve(b);
  }
}

}  // namespace tiepoint
