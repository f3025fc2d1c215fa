#include "engine/solver/sparse_lu.h"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace tiepoint {
namespace {

constexpr double kDiagonalEnough = 1e-3;   // the diagonal stays pivot when it is this large beside the largest candidate
constexpr size_t kLongestProgram = 20000;  // operations
constexpr double kPivotTooSmall = 1e-7;    // refactor gives up below this fraction of the column's largest entry
// Less than that is nothing. What dies away along a chain would come among the numbers that processors are slow with.
constexpr double kNothing = 1e-150;

}  // namespace

void SparseLu::analyse(int size, const std::vector<int>& first, const std::vector<int>& row) {
  size_ = size;
  first_ = first;
  row_ = row;
  factored_ = false;
  std::vector<double> ones(row.size(), 1.0);
  const Eigen::Map<const Eigen::SparseMatrix<double>> pattern(size, size, Eigen::Index(row.size()), first_.data(), row_.data(),
                                                              ones.data());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order;
  Eigen::AMDOrdering<int>()(Eigen::SparseMatrix<double>(pattern), order);
  column_.assign(order.indices().data(), order.indices().data() + size);
  work_.assign(size, 0.0);
  stack_.resize(size), path_.resize(size), cursor_.resize(size), mark_.assign(size, 0);
  stamp_ = 0;
}

// Depth-first search from the column's rows through the columns of L already made: row i of A leads to the rows of column
// position_[i] of L. Written without recursion.
int SparseLu::reach(int column) {
  int top = size_;
  ++stamp_;
  for (int p = first_[column]; p < first_[column + 1]; ++p) {
    if (mark_[row_[p]] == stamp_) continue;
    int depth = 0;
    path_[0] = row_[p];
    while (depth >= 0) {
      const int i = path_[depth];
      const int step = position_[i];
      if (mark_[i] != stamp_) {
        mark_[i] = stamp_;
        cursor_[depth] = step < 0 ? 0 : l_first_[step];
      }
      bool deeper = false;
      const int end = step < 0 ? 0 : l_first_[step + 1];
      for (int q = cursor_[depth]; q < end; ++q) {
        if (mark_[l_row_[q]] == stamp_) continue;
        cursor_[depth] = q + 1;
        path_[++depth] = l_row_[q];
        deeper = true;
        break;
      }
      if (!deeper) stack_[--top] = i, --depth;
    }
  }
  return top;
}

bool SparseLu::choose_pivot(int step, int top, int* pivot_row) {
  int best = -1;
  double largest = 0;
  for (int s = top; s < size_; ++s) {
    const int i = stack_[s];
    if (position_[i] >= 0) continue;
    const double size = std::fabs(work_[i]);
    if (!std::isfinite(size)) return false;
    if (size > largest) largest = size, best = i;
  }
  if (best < 0) return false;
  const int diagonal = column_[step];
  if (position_[diagonal] < 0 && mark_[diagonal] == stamp_ && std::fabs(work_[diagonal]) >= kDiagonalEnough * largest)
    best = diagonal;
  *pivot_row = best;
  return true;
}

int SparseLu::factor(const double* values) {
  factored_ = false;
  position_.assign(size_, -1);
  l_first_.assign(1, 0), u_first_.assign(1, 0);
  l_row_.clear(), l_value_.clear(), u_row_.clear(), u_value_.clear();
  inverse_pivot_.assign(size_, 0);
  for (int k = 0; k < size_; ++k) {
    const int column = column_[k];
    const int top = reach(column);
    for (int s = top; s < size_; ++s) work_[stack_[s]] = 0;
    for (int p = first_[column]; p < first_[column + 1]; ++p) work_[row_[p]] = values[p];
    for (int s = top; s < size_; ++s) {
      const int step = position_[stack_[s]];
      if (step < 0) continue;
      const double u = work_[stack_[s]];
      for (int p = l_first_[step]; p < l_first_[step + 1]; ++p) work_[l_row_[p]] -= l_value_[p] * u;
      u_row_.push_back(step), u_value_.push_back(u);
    }
    int pivot_row = -1;
    if (!choose_pivot(k, top, &pivot_row)) return column;
    const double pivot = work_[pivot_row];
    inverse_pivot_[k] = 1 / pivot;
    position_[pivot_row] = k;
    for (int s = top; s < size_; ++s) {
      const int i = stack_[s];
      if (position_[i] >= 0) continue;
      l_row_.push_back(i), l_value_.push_back(work_[i] / pivot);  // rows of A for now
    }
    l_first_.push_back(int(l_row_.size())), u_first_.push_back(int(u_row_.size()));
  }
  finish();
  return -1;
}

void SparseLu::finish() {
  for (int& i : l_row_) i = position_[i];
  step_of_entry_.resize(row_.size());
  for (size_t p = 0; p < row_.size(); ++p) step_of_entry_[p] = position_[row_[p]];
  work_.assign(size_, 0.0);
  factored_ = true;
  has_program_ = write_program();
  if (has_program_) return;
  sort_columns();
  join_columns();
}

void SparseLu::sort_columns() {
  std::vector<std::pair<int, double>> column;
  const auto sort = [&](int begin, int end, std::vector<int>& rows, std::vector<double>& values) {
    column.clear();
    for (int p = begin; p < end; ++p) column.emplace_back(rows[p], values[p]);
    std::sort(column.begin(), column.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (int p = begin; p < end; ++p) rows[p] = column[p - begin].first, values[p] = column[p - begin].second;
  };
  for (int k = 0; k < size_; ++k) {
    sort(l_first_[k], l_first_[k + 1], l_row_, l_value_);
    sort(u_first_[k], u_first_[k + 1], u_row_, u_value_);
  }
}

void SparseLu::join_columns() {
  joined_.assign(size_, 0);
  for (int k = 0; k + 1 < size_; ++k) {
    const auto begin = l_row_.begin() + l_first_[k], end = l_row_.begin() + l_first_[k + 1];
    const auto next = l_row_.begin() + l_first_[k + 1];
    joined_[k] = begin != end && *begin == k + 1 && end - begin - 1 == l_first_[k + 2] - l_first_[k + 1] &&
                 std::equal(begin + 1, end, next);
  }
}

// From x, a column of A, the products of W joined columns of L from `step` on; u: the entries of U, which x has there.
template <int W>
void SparseLu::take_off(double* x, int step, double* u) {
  const double* l[W];
  double share[W];
  for (int w = 0; w < W; ++w) {
    l[w] = &l_value_[l_first_[step + w]];
    share[w] = x[step + w];
    for (int v = 0; v < w; ++v) share[w] -= *l[v]++ * share[v];
    x[step + w] = 0;
    u[w] = share[w];
  }
  const int* const row = l_row_.data() + l_first_[step + W - 1];
  const int count = l_first_[step + W] - l_first_[step + W - 1];
  for (int q = 0; q < count; ++q) {
    double sum = l[0][q] * share[0];
    for (int w = 1; w < W; ++w) sum += l[w][q] * share[w];
    x[row[q]] -= sum;
  }
}

bool SparseLu::write_program() {
  const int l_count = int(l_row_.size()), u_count = int(u_row_.size());
  operations_.clear();
  column_end_.clear();
  start_.resize(row_.size());
  std::vector<int> place(size_t(size_), -1);  // of each row in the present column
  for (int k = 0; k < size_; ++k) {
    for (int p = u_first_[k]; p < u_first_[k + 1]; ++p) place[u_row_[p]] = l_count + p;
    place[k] = l_count + u_count + k;
    for (int p = l_first_[k]; p < l_first_[k + 1]; ++p) place[l_row_[p]] = p;
    for (int p = first_[column_[k]]; p < first_[column_[k] + 1]; ++p) start_[p] = place[step_of_entry_[p]];
    for (int p = u_first_[k]; p < u_first_[k + 1]; ++p)
      for (int q = l_first_[u_row_[p]]; q < l_first_[u_row_[p] + 1]; ++q)
        operations_.push_back({place[l_row_[q]], q, l_count + p});
    if (operations_.size() > kLongestProgram) return false;
    column_end_.push_back(int(operations_.size()));
  }
  entries_.resize(size_t(l_count + u_count + size_));
  l_column_.resize(size_t(l_count));
  for (int k = 0; k < size_; ++k) std::fill(l_column_.begin() + l_first_[k], l_column_.begin() + l_first_[k + 1], k);
  std::copy(u_value_.begin(), u_value_.end(), entries_.begin() + l_count);
  std::copy(l_value_.begin(), l_value_.end(), entries_.begin());
  return true;
}

bool SparseLu::run_program(const double* values) {
  double* const v = entries_.data();
  std::fill(entries_.begin(), entries_.end(), 0.0);
  for (size_t p = 0; p < start_.size(); ++p) v[start_[p]] = values[p];
  const int l_count = int(l_row_.size());
  const double* pivots = v + l_count + u_row_.size();
  const Operation* op = operations_.data();
  bool good = true;  // also false when something is not a number
  for (int k = 0; k < size_; ++k) {
    for (const Operation* end = operations_.data() + column_end_[k]; op < end; ++op)
      v[op->target] -= v[op->left] * v[op->right];
    const double inverse = 1 / pivots[k];
    good &= std::fabs(inverse) < std::numeric_limits<double>::infinity();
    for (int q = l_first_[k]; q < l_first_[k + 1]; ++q) {
      v[q] *= inverse;
      good &= std::fabs(v[q]) < 1 / kPivotTooSmall;
    }
    inverse_pivot_[k] = inverse;
  }
  return factored_ = good;
}

bool SparseLu::refactor(const double* values) {
  if (!factored_) return false;
  if (has_program_) return run_program(values);
  double* x = work_.data();
  for (int k = 0; k < size_; ++k) {
    const int column = column_[k];
    for (int p = first_[column]; p < first_[column + 1]; ++p) x[step_of_entry_[p]] = values[p];
    for (int p = u_first_[k], end = u_first_[k + 1]; p < end;) {
      const int step = u_row_[p];
      int width = 1;
      while (width < 4 && p + width < end && joined_[step + width - 1]) ++width;
      double* const u = &u_value_[p];
      if (width == 4)
        take_off<4>(x, step, u);
      else if (width >= 2)
        take_off<2>(x, step, u), width = 2;
      else
        take_off<1>(x, step, u);
      p += width;
    }
    const double pivot = x[k];
    x[k] = 0;
    double largest = 0;
    const double inverse = 1 / pivot;
    for (int q = l_first_[k]; q < l_first_[k + 1]; ++q) {
      const double value = x[l_row_[q]];
      x[l_row_[q]] = 0;
      largest = std::fabs(value) > largest ? std::fabs(value) : largest;
      l_value_[q] = value * inverse;
    }
    inverse_pivot_[k] = inverse;
    if (!(std::fabs(pivot) > kPivotTooSmall * largest)) {  // also when not a number
      factored_ = false;
      work_.assign(size_, 0.0);
      return false;
    }
  }
  return true;
}

void SparseLu::solve(double* b) {
  double* y = work_.data();
  for (int i = 0; i < size_; ++i) y[position_[i]] = b[i];
  if (has_program_) {
    const int l_count = int(l_row_.size());
    const double* const l = entries_.data();
    const double* const u = l + l_count;
    // Along a chain each value is needed as soon as it is there: it is not read back then.
    int last = -1;
    double latest = 0;  // y[last]
    for (int p = 0; p < l_count; ++p) {
      double from = latest;
      if (l_column_[p] != last) from = y[l_column_[p]];
      last = l_row_[p];
      y[last] = latest = y[last] - l[p] * from;
    }
    int p = int(u_row_.size()) - 1;
    for (int k = size_ - 1; k >= 0; --k) {
      double value = latest;
      if (k != last) value = y[k];
      value *= inverse_pivot_[k];
      const int end = u_first_[k];
      if (std::fabs(value) < kNothing) [[unlikely]] {  // a branch, so that nothing waits for the comparison
        b[column_[k]] = 0;
        p = end - 1;
        continue;
      }
      b[column_[k]] = value;
      for (; p >= end; --p) {
        last = u_row_[p];
        y[last] = latest = y[last] - u[p] * value;
      }
    }
    return;
  }
  for (int k = 0; k < size_; ++k) {
    const double v = y[k];
    if (std::fabs(v) < kNothing) continue;
    for (int p = l_first_[k]; p < l_first_[k + 1]; ++p) y[l_row_[p]] -= l_value_[p] * v;
  }
  for (int k = size_ - 1; k >= 0; --k) {
    const double v = y[k] * inverse_pivot_[k];
    if (std::fabs(v) < kNothing) {
      b[column_[k]] = 0;
      continue;
    }
    for (int p = u_first_[k]; p < u_first_[k + 1]; ++p) y[u_row_[p]] -= u_value_[p] * v;
    b[column_[k]] = v;
  }
  for (int i = 0; i < size_; ++i) y[i] = 0;
}

}  // namespace tiepoint
