// Boolean expressions over a handful of inputs: the smallest sum of products of a truth table.
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tiepoint {

inline constexpr int kMostLogicInputs = 12;

// A product: input i appears when bit i of `mask` is set, plain when bit i of `bits` is set, negated otherwise.
// mask 0 is the product of nothing: always true.
struct Product {
  uint32_t mask = 0;
  uint32_t bits = 0;
  bool covers(uint32_t row) const { return (row & mask) == bits; }
  auto operator<=>(const Product&) const = default;
};

// A sum of products; no product at all: never true.
struct Expression {
  std::vector<Product> products;
  bool never() const { return products.empty(); }
  bool always() const { return products.size() == 1 && products[0].mask == 0; }
  bool at(uint32_t row) const;  // bit i of row: input i
};

// The values a table gives: rows.size() = 2^inputs, rows[row] with bit i of row = input i.
enum class Bit : unsigned char { kZero, kOne, kEither };

// Quine-McCluskey: all prime products, then a smallest cover (fewest products, then fewest inputs in them): essential ones first,
// the rest by branch and bound; past a bound on the work the best cover found so far, which still is a cover by primes.
// E. J. McCluskey, Minimization of Boolean Functions, Bell System Technical Journal 35 (1956), from memory.
Expression minimise(std::span<const Bit> rows, int inputs);

// In signs of ISO 80000-2 (from memory): "(S1 ∧ ¬S2) ∨ S3"; "⊤" always, "⊥" never.
std::string in_symbols(const Expression& expression, std::span<const std::string> names);

// The words to build a sentence with, from the message catalogue.
struct LogicWords {
  std::string_view conjunction;  // " and "
  std::string_view disjunction;  // ", or "
  std::string_view negation;     // "not "
};
// "S1 and not S2, or S3"; empty for always and never, which have sentences of their own.
std::string in_words(const Expression& expression, std::span<const std::string> names, const LogicWords& words);

}  // namespace tiepoint
