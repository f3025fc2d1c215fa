#include "engine/logic/expression.h"

#include <algorithm>
#include <gtest/gtest.h>

#include <bit>

namespace tiepoint {
namespace {

std::vector<Bit> rows(std::initializer_list<int> ones, int inputs) {
  std::vector<Bit> out(size_t(1) << inputs, Bit::kZero);
  for (const int row : ones) out[size_t(row)] = Bit::kOne;
  return out;
}

const std::vector<std::string> kNames = {"S1", "S2", "S3", "S4"};

TEST(Expression, NeverAndAlwaysHaveNoInputs) {
  EXPECT_TRUE(minimise(rows({}, 2), 2).never());
  EXPECT_TRUE(minimise(rows({0, 1, 2, 3}, 2), 2).always());
  EXPECT_EQ(in_symbols(minimise(rows({}, 2), 2), kNames), "⊥");
  EXPECT_EQ(in_symbols(minimise(rows({0, 1, 2, 3}, 2), 2), kNames), "⊤");
}

// Function tables of two-input gates: T. Kuphaldt, Lessons in Electric Circuits, vol. IV Digital, figs 04101, 04108, 04106 (AND, OR,
// NAND); 74HC00 function table, Philips, 30 June 2003.
TEST(Expression, GateTablesGiveTheGates) {
  EXPECT_EQ(in_symbols(minimise(rows({3}, 2), 2), kNames), "S1 ∧ S2");
  EXPECT_EQ(in_symbols(minimise(rows({1, 2, 3}, 2), 2), kNames), "S1 ∨ S2");
  EXPECT_EQ(in_symbols(minimise(rows({0, 1, 2}, 2), 2), kNames), "¬S1 ∨ ¬S2");
  EXPECT_EQ(in_symbols(minimise(rows({0}, 1), 1), kNames), "¬S1");
  EXPECT_EQ(in_symbols(minimise(rows({1, 2}, 2), 2), kNames), "(S1 ∧ ¬S2) ∨ (¬S1 ∧ S2)");
}

TEST(Expression, WordsPutAndWithinOr) {
  const Expression e = minimise(rows({3, 4, 5, 6, 7}, 3), 3);
  EXPECT_EQ(in_words(e, kNames, {" and ", ", or ", "not "}), "S3, or S1 and S2");
}

TEST(Expression, MajorityOfThreeTakesThreePairs) {
  const Expression e = minimise(rows({3, 5, 6, 7}, 3), 3);
  ASSERT_EQ(e.products.size(), 3u);
  for (const Product& p : e.products) EXPECT_EQ(std::popcount(p.mask), 2);
}

TEST(Expression, RowsThatDoNotMatterMakeItShorter) {
  std::vector<Bit> table = rows({3}, 2);
  table[2] = Bit::kEither;
  EXPECT_EQ(in_symbols(minimise(table, 2), kNames), "S2");
}

// Against an evaluator by brute force: the expression equals its table everywhere, and no product or input can be left out.
TEST(Expression, RandomTablesAreMatchedAndIrredundant) {
  uint32_t seed = 7;
  const auto random = [&] { return seed = seed * 1664525u + 1013904223u, seed >> 16; };
  for (int trial = 0; trial < 300; ++trial) {
    const int inputs = 1 + int(random() % 5);
    std::vector<Bit> table(size_t(1) << inputs);
    for (Bit& bit : table) bit = Bit(random() % 3 == 0 ? 2 : random() % 2);
    const Expression e = minimise(table, inputs);
    const auto fits = [&](const Expression& x) {
      for (uint32_t row = 0; row < table.size(); ++row)
        if (table[row] != Bit::kEither && x.at(row) != (table[row] == Bit::kOne)) return false;
      return true;
    };
    ASSERT_TRUE(fits(e));
    for (size_t k = 0; k < e.products.size(); ++k) {
      Expression less = e;
      less.products.erase(less.products.begin() + long(k));
      EXPECT_FALSE(fits(less));
      for (int input = 0; input < inputs; ++input) {
        if (!(e.products[k].mask >> input & 1)) continue;
        Expression wider = e;
        wider.products[k].mask &= ~(1u << input);
        wider.products[k].bits &= ~(1u << input);
        EXPECT_FALSE(fits(wider));
      }
    }
  }
}

// The fewest products of any cover, found by trying all sets of products of up to three inputs.
TEST(Expression, NoSmallerCoverExistsForThreeInputs) {
  std::vector<Product> all;
  for (uint32_t mask = 0; mask < 8; ++mask)
    for (uint32_t bits = 0; bits < 8; ++bits)
      if ((bits & ~mask) == 0) all.push_back({mask, bits});
  for (uint32_t function = 1; function < 255; ++function) {
    std::vector<Bit> table(8);
    for (size_t row = 0; row < 8; ++row) table[row] = function >> row & 1 ? Bit::kOne : Bit::kZero;
    const auto inside = [&](const Product& p) {
      for (uint32_t row = 0; row < 8; ++row)
        if (p.covers(row) && table[row] == Bit::kZero) return false;
      return true;
    };
    std::vector<uint32_t> covers;  // rows of each product that lies inside the function, as a set
    for (const Product& p : all) {
      if (!inside(p)) continue;
      uint32_t rows_of = 0;
      for (uint32_t row = 0; row < 8; ++row) rows_of |= uint32_t(p.covers(row)) << row;
      covers.push_back(rows_of);
    }
    size_t fewest = 9;
    const auto search = [&](auto&& self, size_t from, uint32_t have, size_t used) -> void {
      if (have == function) fewest = std::min(fewest, used);
      if (used + 1 >= fewest || used >= 4) return;
      for (size_t i = from; i < covers.size(); ++i) self(self, i + 1, have | covers[i], used + 1);
    };
    search(search, 0, 0, 0);
    EXPECT_EQ(minimise(table, 3).products.size(), fewest) << "function " << function;
  }
}

TEST(Expression, TwelveInputsOfParityAreAllNeeded) {
  std::vector<Bit> table(1u << 12);
  for (uint32_t row = 0; row < table.size(); ++row) table[row] = std::popcount(row) % 2 ? Bit::kOne : Bit::kZero;
  EXPECT_EQ(minimise(table, 12).products.size(), 2048u);
}

}  // namespace
}  // namespace tiepoint
