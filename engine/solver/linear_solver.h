// The one seam between circuit equations and linear algebra: a pattern, fixed for one structure, and numbers over it. Small
// systems are factored in a fixed order, large ones and those that the fixed order does not suit with a choice of pivots.
#pragma once

#include <span>
#include <utility>
#include <vector>

#include "engine/solver/dense_lu.h"
#include "engine/solver/small_lu.h"
#include "engine/solver/sparse_lu.h"

namespace tiepoint {

enum class Storage { kAutomatic, kDense, kSparse };

class LinearSolver {
 public:
  // The structure: size and the places (row, column) that may hold a number; order and repeats do not matter. The first `nodes`
  // unknowns are voltages of nodes. slots[k]: slot() of places[k]; null: not asked.
  void analyse(int size, int nodes, std::span<const std::pair<int, int>> places, Storage storage = Storage::kAutomatic,
               int* slots = nullptr);
  // The same for a small system from sets of neighbours (SmallLu::analyse). False: only the other way will do.
  bool analyse_small(int size, int nodes, const uint64_t* neighbours, SmallLu::Slots& slots);
  int size() const { return size_; }
  int slot_count() const { return slots_; }
  // Where the value of a place stands in the array given to factor(); -1 for a place that was not announced.
  int slot(int row, int column) const;

  // Factors. Returns -1 when done, else the unknown (column) for which no pivot was found.
  // `carefully`: a small system with pivots chosen anew among all rows, where the last digits count.
  int factor(const double* values, bool carefully = false);
  void solve(double* b);  // in place
  int factor_and_solve(const double* values, double* b);  // both at once; b is the solution where it returns -1

 private:
  enum class Way { kDense, kSmall, kSparse };
  int factor_chosen(const double* values);
  int factor_densely(const double* values);
  void sort_pattern(std::span<const std::pair<int, int>> places);

  int size_ = 0, slots_ = 0;
  Way way_ = Way::kDense;
  enum class By { kSmall, kSparse, kDense };
  By by_ = By::kSmall;            // the present factors of a small system
  int chosen_pivots_ = 0;         // of a small system: factorisations to come before the fixed order is tried again
  bool analysed_ = false;         // sparse_lu_ knows the pattern
  std::vector<int> first_, row_;  // sparse: pattern by columns
  DenseLu dense_lu_;
  SmallLu small_lu_;
  SparseLu sparse_lu_;
};

}  // namespace tiepoint
