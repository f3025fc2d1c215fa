// The one seam between circuit equations and linear algebra: a pattern, fixed for one structure, and numbers over it. Small
// systems are solved dense, large ones sparse.
#pragma once

#include <utility>
#include <vector>

#include "engine/solver/dense_lu.h"
#include "engine/solver/sparse_lu.h"

namespace tiepoint {

enum class Storage { kAutomatic, kDense, kSparse };

class LinearSolver {
 public:
  static constexpr int kLargestDense = 12;

  // The structure: size and the places (row, column) that may hold a number; order and repeats do not matter.
  void analyse(int size, std::vector<std::pair<int, int>> places, Storage storage = Storage::kAutomatic);
  int size() const { return size_; }
  int slot_count() const { return slots_; }
  // Where the value of a place stands in the array given to factor(); -1 for a place that was not announced.
  int slot(int row, int column) const;

  // Factors. Returns -1 when done, else the unknown (column) for which no pivot was found.
  int factor(const double* values);
  void solve(double* b);  // in place

 private:
  int size_ = 0, slots_ = 0;
  bool dense_ = true;
  std::vector<int> first_, row_;  // sparse: pattern by columns
  DenseLu dense_lu_;
  SparseLu sparse_lu_;
};

}  // namespace tiepoint
