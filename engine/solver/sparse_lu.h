// Sparse LU factorisation for large circuits: analyse once per structure, factor with pivoting once, then refactor: the same
// pivots and the same pattern with new numbers, an order of magnitude cheaper. When the old pivots no longer suit the numbers,
// refactor says so and the caller factors again.
//
// Left-looking, one column at a time (Gilbert & Peierls, SIAM J. Sci. Stat. Comput. 9, 1988), columns in approximate minimum
// degree order (Amestoy, Davis & Duff, 1996), the diagonal kept as pivot when it is not much smaller than the largest
// candidate; the division into analyse, factor and refactor follows Davis & Natarajan, ACM TOMS 37(3), 2010. (Bibliography from
// memory.)
//
// Columns of L with the same rows below them are taken off together: each row is then read and written once for several
// products.
//
// For small systems the refactorisation is written out once as a run of multiply-subtracts over one array: no search, no inner
// loops of one or two turns.
//
// Notation: P A Q = L U. column_[k]: column of A eliminated at step k (Q). position_[i]: step at which row i of A was pivot
// (P). L has a unit diagonal, not stored; the reciprocals of U's diagonal are in inverse_pivot_. Both by columns, row indices
// are steps.
#pragma once

#include <vector>

namespace tiepoint {

class SparseLu {
 public:
  // Pattern by columns: rows of column j are row[first[j]] .. row[first[j + 1]], ascending, without repeats.
  void analyse(int size, const std::vector<int>& first, const std::vector<int>& row);
  // values[p] belongs to row[p]. Returns -1 when done, else the column of A in which no pivot was found.
  int factor(const double* values);
  // False when there is nothing to reuse or a pivot has become too small beside its column.
  bool refactor(const double* values);
  // Solves in place.
  void solve(double* b);

 private:
  int reach(int column);  // fills stack_[top..]: rows touched by the column, in topological order
  bool choose_pivot(int step, int top, int* pivot_row);
  void finish();
  bool write_program();
  bool run_program(const double* values);
  void sort_columns();
  void join_columns();
  template <int W>
  void take_off(double* x, int step, double* u);

  int size_ = 0;
  bool factored_ = false;
  std::vector<int> first_, row_;  // the pattern of A
  std::vector<int> column_, position_;
  std::vector<int> step_of_entry_;  // position_[row_[p]], for refactor
  std::vector<int> l_first_, l_row_, u_first_, u_row_;
  std::vector<double> l_value_, u_value_, inverse_pivot_;
  std::vector<char> joined_;  // [step] the rows of column step of L are step + 1 and those of column step + 1
  // The program: entries_ holds L, then U, then the pivots. start_[p] is where
  // A's entry p goes. Column by column: target -= left * right, then the pivot's own turn, in which the column of L is divided.
  struct Operation {
    int target, left, right;
  };
  bool has_program_ = false;
  std::vector<Operation> operations_;
  std::vector<int> column_end_;  // into operations_
  std::vector<int> start_;
  std::vector<double> entries_;
  std::vector<int> l_column_;  // of each entry of L, for a solution without loops of one or two turns
  std::vector<double> work_;   // one value per row, zero between columns
  std::vector<int> stack_, path_, cursor_, mark_;
  int stamp_ = 0;
};

}  // namespace tiepoint
