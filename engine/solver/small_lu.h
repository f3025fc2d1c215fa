// LU factorisation of a small sparse system in an order fixed by its structure alone: no search, no exchange of rows. All that
// is done to the numbers is written out once as a list of places, and done again for each new set of numbers.
//
// The diagonal is the pivot, as suits equations of currents at nodes; rows of minimum degree go first (Markowitz, Management
// Science 3, 1957; from memory), an unknown that is no node's voltage after a neighbour, which gives it a diagonal. Where a
// pivot is too small beside its column factor() says so, and the caller takes a factorisation that exchanges rows.
#pragma once

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

#include "engine/solver/arena.h"

namespace tiepoint {

class SmallLu {
 public:
  static constexpr int kLargest = 64;

  // Size at most kLargest; places (row, column) in any order, repeated or not; the first `nodes` unknowns are voltages of
  // nodes. False, and good for nothing, when so much fills up that another way is better. slots[k]: where the value of
  // places[k] stands in the array given to factor(); null: not asked.
  bool analyse(int size, int nodes, std::span<const std::pair<int, int>> places, int* slots = nullptr);
  // The same of neighbours[size]: bit k of a row's set stands for a place in column k, and its mirror is one too. slots[column][row]
  // of every place of the filled pattern.
  using Slots = uint16_t[kLargest + 1][kLargest + 1];
  bool analyse(int size, int nodes, const uint64_t* neighbours, Slots& slots);
  // The filled pattern by columns; a value's place in the array given to factor(), -1 for what can only be zero.
  int slot_count() const { return slots_; }
  int slot(int row, int column) const;
  void pattern(std::vector<int>* first, std::vector<int>* row) const;

  // False when a pivot is too small or something is not a number.
  bool factor(const double* values);
  void solve(double* b) const;  // in place
  // Both, in one pass over the list; where factor() would fail b stays as it is.
  bool factor_and_solve(const double* values, double* b);

 private:
  template <bool kWith>
  bool factor_with(const double* values, double* b);
  void go_back(double* b) const;
  struct Column {
    uint64_t rows;  // that are not zero once all is filled; the pattern is symmetric
    int first;      // slot of the first of them
    int step;       // where the step of this number begins in the program
  };
  int size_ = 0, slots_ = 0;
  Row<Column> columns_;
  // One step after the other: the pivot's row, its slot, the number m of rows below it; those m rows, the slots of the pivot's
  // column there and of its row there; and row by row the m*m slots from which the product of both is taken.
  Row<uint16_t> program_;
  Row<double> entries_;  // L below the diagonal, U above it, and 1 / pivot
};

}  // namespace tiepoint
