// Rows: a list of lists in two flat arrays. rows[r] is a span of row r's items.
#pragma once

#include <span>
#include <vector>

namespace tiepoint {

template <class T>
struct Rows {
  std::vector<int> first = {0};  // size rows + 1: row r is items[first[r]] .. items[first[r + 1]]
  std::vector<T> items;

  size_t size() const { return first.size() - 1; }
  std::span<const T> operator[](size_t row) const { return {items.data() + first[row], size_t(first[row + 1] - first[row])}; }
  std::span<T> operator[](size_t row) { return {items.data() + first[row], size_t(first[row + 1] - first[row])}; }
  void close_row() { first.push_back(int(items.size())); }  // the items added since the last call are one row
  bool operator==(const Rows&) const = default;
};

// Sorts `count` items into `rows` rows, keeping their order within a row: a counting sort, linear. row_of(i) < 0 leaves i out.
template <class T, class RowOf, class ItemOf>
Rows<T> sort_into_rows(int rows, int count, RowOf row_of, ItemOf item_of) {
  Rows<T> out;
  out.first.assign(size_t(rows) + 1, 0);
  for (int i = 0; i < count; ++i)
    if (const int row = row_of(i); row >= 0) ++out.first[size_t(row) + 1];
  for (int r = 0; r < rows; ++r) out.first[size_t(r) + 1] += out.first[size_t(r)];
  out.items.resize(size_t(out.first.back()));
  std::vector<int> next(out.first.begin(), out.first.end() - 1);
  for (int i = 0; i < count; ++i)
    if (const int row = row_of(i); row >= 0) out.items[size_t(next[size_t(row)]++)] = item_of(i);
  return out;
}

}  // namespace tiepoint
