#include "engine/solver/small_lu.h"

#include <algorithm>
#include <bit>
#include <cmath>

namespace tiepoint {
namespace {

constexpr double kSteepest = 1e4;          // most a column may have below its pivot, times the pivot
constexpr size_t kLongestProgram = 20000;  // beyond that rows are so full that the list is longer than what it saves

constexpr uint64_t bit(int k) { return uint64_t(1) << k; }

// std::popcount is a call where the processor's instruction may not be taken for granted.
inline int count(uint64_t set) {
#ifdef __EMSCRIPTEN__
  return std::popcount(set);
#else
  set -= set >> 1 & 0x5555555555555555u;
  set = (set & 0x3333333333333333u) + (set >> 2 & 0x3333333333333333u);
  return int(((set + (set >> 4)) & 0x0F0F0F0F0F0F0F0Fu) * 0x0101010101010101u >> 56);
#endif
}

template <class Use>
inline void each_bit(uint64_t set, Use&& use) {
  for (; set != 0; set &= set - 1) use(std::countr_zero(set));
}

}  // namespace

[[gnu::cold]] bool SmallLu::analyse(int size, int nodes, std::span<const std::pair<int, int>> places, int* slots) {
  uint64_t neighbours[kLargest] = {};
  for (const auto& [row, column] : places) neighbours[row] |= bit(column), neighbours[column] |= bit(row);
  Slots slot_of;
  if (!analyse(size, nodes, neighbours, slot_of)) return false;
  if (slots)
    for (const auto& [row, column] : places) *slots++ = slot_of[column][row];
  return true;
}

bool SmallLu::analyse(int size, int nodes, const uint64_t* neighbours, Slots& slot_of) {
  size_ = size;
  uint64_t left[kLargest], filled[kLargest];  // of each row its neighbours: those not eliminated yet, and all
  int order[kLargest];
  uint8_t degree[kLargest];
  uint64_t of_degree[kLargest] = {};  // the rows that wait, by their number of neighbours: none or one, two, ...
  const auto sort_in = [&](int k) {
    degree[k] = uint8_t(std::max(1, count(left[k])));
    of_degree[degree[k]] |= bit(k);
  };
  for (int k = 0; k < size; ++k) {
    filled[k] = neighbours[k] | bit(k);
    left[k] = neighbours[k] & ~bit(k);
    sort_in(k);
  }
  uint64_t below[kLargest];
  uint64_t waiting = size < 64 ? bit(size) - 1 : ~uint64_t(0);
  uint64_t ready = nodes < 64 ? bit(nodes) - 1 : ~uint64_t(0);
  size_t length = 0;
  for (int k = 0; k < size; ++k) {
    const uint64_t open = (waiting & ready) != 0 ? waiting & ready : waiting;
    int least = 1;
    while ((of_degree[least] & open) == 0) ++least;
    const int best = std::countr_zero(of_degree[least] & open);
    const uint64_t set = left[best];
    order[k] = best, below[k] = set;
    const int m = count(set);
    length += size_t(3 + m * (3 + m));
    waiting &= ~bit(best);
    of_degree[least] &= ~bit(best);
    ready |= set;
    each_bit(set, [&](int i) {
      filled[i] |= set;
      left[i] = (left[i] | set) & ~(bit(i) | bit(best));
      of_degree[degree[i]] &= ~bit(i);
      sort_in(i);
    });
  }
  if (length > kLongestProgram) return false;
  columns_.resize(size_t(size));
  program_.resize(length);
  int next = 0;
  for (int k = 0; k < size; ++k) {
    columns_[k] = {filled[k], next, 0};
    each_bit(filled[k], [&](int i) { slot_of[k][i] = uint16_t(next++); });
  }
  slots_ = next;
  entries_.resize(size_t(slots_));
  uint16_t* to = program_.data();
  for (int k = 0; k < size; ++k) {
    const int p = order[k];
    columns_[k].step = int(to - program_.data());
    int rows[kLargest], m = 0;
    each_bit(below[k], [&](int i) { rows[m++] = i; });
    *to++ = uint16_t(p), *to++ = slot_of[p][p], *to++ = uint16_t(m);
    for (int a = 0; a < m; ++a) *to++ = uint16_t(rows[a]);
    for (int a = 0; a < m; ++a) *to++ = slot_of[p][rows[a]];
    for (int a = 0; a < m; ++a) *to++ = slot_of[rows[a]][p];
    for (int a = 0; a < m; ++a)
      for (int b = 0; b < m; ++b) *to++ = slot_of[rows[b]][rows[a]];
  }
  return true;
}

int SmallLu::slot(int row, int column) const {
  const Column& at = columns_[column];
  return (at.rows & bit(row)) == 0 ? -1 : at.first + count(at.rows & (bit(row) - 1));
}

void SmallLu::pattern(std::vector<int>* first, std::vector<int>* row) const {
  first->clear(), row->clear();
  for (const Column& column : columns_) {
    first->push_back(column.first);
    each_bit(column.rows, [&](int i) { row->push_back(i); });
  }
  first->push_back(slots_);
}

// b, if any, is taken along: where its last unknowns have been found it is ready for go_back().
template <bool kWith>
bool SmallLu::factor_with(const double* values, double* b) {
  double* const v = entries_.data();
  copy_row(values, size_t(slots_), v);
  const uint16_t* at = program_.data();
  double steepest = 0;
  bool good = true;
  for (int k = 0; k < size_; ++k) {
    const int pivot = at[1], m = at[2];
    const double inverse = 1 / v[pivot];
    good &= std::fabs(inverse) <= 1e300;
    v[pivot] = inverse;
    const double value = kWith ? b[at[0]] : 0;
    const uint16_t* const rows = at + 3;
    const uint16_t* const lower = rows + m;
    const uint16_t* const upper = lower + m;
    at = upper + m;
    if (m == 1) {
      const double share = v[lower[0]] * inverse;
      v[lower[0]] = share;
      steepest = std::fabs(share) > steepest ? std::fabs(share) : steepest;
      if (kWith) b[rows[0]] -= share * value;
      v[*at++] -= share * v[upper[0]];
      continue;
    }
    if (m == 2) {
      const double share = v[lower[0]] * inverse, other = v[lower[1]] * inverse, u0 = v[upper[0]], u1 = v[upper[1]];
      v[lower[0]] = share, v[lower[1]] = other;
      steepest = std::fabs(share) > steepest ? std::fabs(share) : steepest;
      steepest = std::fabs(other) > steepest ? std::fabs(other) : steepest;
      if (kWith) b[rows[0]] -= share * value, b[rows[1]] -= other * value;
      v[at[0]] -= share * u0, v[at[1]] -= share * u1;
      v[at[2]] -= other * u0, v[at[3]] -= other * u1;
      at += 4;
      continue;
    }
    for (int a = 0; a < m; ++a, at += m) {
      const double share = v[lower[a]] * inverse;
      v[lower[a]] = share;
      steepest = std::fabs(share) > steepest ? std::fabs(share) : steepest;
      if (kWith) b[rows[a]] -= share * value;
      for (int c = 0; c < m; ++c) v[at[c]] -= share * v[upper[c]];
    }
  }
  return good && steepest <= kSteepest;
}

bool SmallLu::factor(const double* values) { return factor_with<false>(values, nullptr); }

bool SmallLu::factor_and_solve(const double* values, double* b) {
  double on_the_way[kLargest];
  copy_row(b, size_t(size_), on_the_way);
  if (!factor_with<true>(values, on_the_way)) return false;
  go_back(on_the_way);
  copy_row(on_the_way, size_t(size_), b);
  return true;
}

void SmallLu::solve(double* b) const {
  const double* const v = entries_.data();
  const uint16_t* at = program_.data();
  for (int k = 0; k < size_; ++k) {
    const int m = at[2];
    const double value = b[at[0]];
    const uint16_t *const rows = at + 3, *const lower = rows + m;
    if (m == 1) {
      b[rows[0]] -= v[lower[0]] * value;
      at += 7;
      continue;
    }
    for (int a = 0; a < m; ++a) b[rows[a]] -= v[lower[a]] * value;
    at = lower + m * (2 + m);
  }
  go_back(b);
}

void SmallLu::go_back(double* b) const {
  const double* const v = entries_.data();
  for (int k = size_ - 1; k >= 0; --k) {
    const uint16_t* const at = program_.data() + columns_[k].step;
    const int m = at[2];
    const uint16_t *const rows = at + 3, *const upper = rows + 2 * m;
    double sum = b[at[0]];
    for (int a = 0; a < m; ++a) sum -= v[upper[a]] * b[rows[a]];
    b[at[0]] = sum * v[at[1]];
  }
}

}  // namespace tiepoint
