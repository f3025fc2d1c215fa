#include "engine/logic/expression.h"

#include <algorithm>
#include <bit>

namespace tiepoint {
namespace {

constexpr long kMostCoverSteps = 200000;

// Joins products that differ in one plain/negated input until nothing joins any more; what never joined is prime.
std::vector<Product> primes_of(std::span<const Bit> rows, int inputs) {
  const uint32_t all = inputs == 0 ? 0 : (1u << inputs) - 1;
  std::vector<Product> level, primes;
  for (uint32_t row = 0; row < rows.size(); ++row)
    if (rows[row] != Bit::kZero) level.push_back({all, row});
  while (!level.empty()) {
    std::vector<char> joined(level.size(), 0);
    std::vector<Product> next;
    for (size_t i = 0; i < level.size(); ++i) {
      for (int input = 0; input < inputs; ++input) {
        const uint32_t bit = 1u << input;
        if (!(level[i].mask & bit) || (level[i].bits & bit)) continue;
        const auto partner = std::lower_bound(level.begin(), level.end(), Product{level[i].mask, level[i].bits | bit});
        if (partner == level.end() || *partner != Product{level[i].mask, level[i].bits | bit}) continue;
        joined[i] = joined[size_t(partner - level.begin())] = 1;
        next.push_back({level[i].mask & ~bit, level[i].bits});
      }
    }
    for (size_t i = 0; i < level.size(); ++i)
      if (!joined[i]) primes.push_back(level[i]);
    std::sort(next.begin(), next.end());
    next.erase(std::unique(next.begin(), next.end()), next.end());
    level = std::move(next);
  }
  return primes;
}

struct Cover {
  std::span<const Product> primes;
  std::vector<uint32_t> open;  // rows still to be covered by the search
  std::vector<int> chosen, best;
  int best_cost = 1 << 30;
  long steps = 0;

  // One product more costs more than any saving of inputs within products.
  static int cost(const Product& p) { return 1000 + std::popcount(p.mask); }
  int total(const std::vector<int>& picks) const {
    int sum = 0;
    for (const int pick : picks) sum += cost(primes[size_t(pick)]);
    return sum;
  }
  bool covered(uint32_t row) const {
    return std::any_of(chosen.begin(), chosen.end(), [&](int pick) { return primes[size_t(pick)].covers(row); });
  }
  // Rows that the chosen products leave open, fewest ways to cover first.
  void search(int spent) {
    if (spent >= best_cost || ++steps > kMostCoverSteps) return;
    int fewest = 1 << 30;
    uint32_t hardest = 0;
    for (const uint32_t row : open) {
      if (covered(row)) continue;
      const int ways = int(std::count_if(primes.begin(), primes.end(), [&](const Product& p) { return p.covers(row); }));
      if (ways < fewest) fewest = ways, hardest = row;
    }
    if (fewest == 1 << 30) {
      best = chosen;
      best_cost = spent;
      return;
    }
    std::vector<int> ways;
    for (size_t i = 0; i < primes.size(); ++i)
      if (primes[i].covers(hardest)) ways.push_back(int(i));
    std::stable_sort(ways.begin(), ways.end(), [&](int a, int b) { return gain(a) > gain(b); });
    for (const int way : ways) {
      chosen.push_back(way);
      search(spent + cost(primes[size_t(way)]));
      chosen.pop_back();
    }
  }
  long gain(int pick) const {
    return std::count_if(open.begin(), open.end(), [&](uint32_t row) { return primes[size_t(pick)].covers(row) && !covered(row); });
  }
};

}  // namespace

bool Expression::at(uint32_t row) const {
  return std::any_of(products.begin(), products.end(), [&](const Product& p) { return p.covers(row); });
}

Expression minimise(std::span<const Bit> rows, int inputs) {
  const std::vector<Product> primes = primes_of(rows, inputs);
  Cover cover{.primes = primes};
  for (uint32_t row = 0; row < rows.size(); ++row) {
    if (rows[row] != Bit::kOne) continue;
    int ways = 0, last = -1;
    for (size_t i = 0; i < primes.size() && ways < 2; ++i)
      if (primes[i].covers(row)) ++ways, last = int(i);
    if (ways == 1 && std::find(cover.chosen.begin(), cover.chosen.end(), last) == cover.chosen.end()) cover.chosen.push_back(last);
  }
  for (uint32_t row = 0; row < rows.size(); ++row)
    if (rows[row] == Bit::kOne && !cover.covered(row)) cover.open.push_back(row);
  cover.search(cover.total(cover.chosen));
  Expression expression;
  for (const int pick : cover.best) expression.products.push_back(primes[size_t(pick)]);
  // Fewest inputs first, then in the order of the inputs, so that the same table always reads the same.
  std::sort(expression.products.begin(), expression.products.end(), [](const Product& a, const Product& b) {
    const int x = std::popcount(a.mask), y = std::popcount(b.mask);
    if (x != y) return x < y;
    for (uint32_t bit = 1; bit != 0; bit <<= 1) {
      if ((a.mask & bit) != (b.mask & bit)) return (a.mask & bit) != 0;
      if ((a.bits & bit) != (b.bits & bit)) return (a.bits & bit) != 0;
    }
    return false;
  });
  return expression;
}

namespace {

std::string join(const Expression& expression, std::span<const std::string> names, const LogicWords& words, bool brackets) {
  std::string out;
  for (const Product& product : expression.products) {
    if (!out.empty()) out += words.disjunction;
    const bool wrap = brackets && expression.products.size() > 1 && std::popcount(product.mask) > 1;
    if (wrap) out += '(';
    bool first = true;
    for (size_t i = 0; i < names.size(); ++i) {
      if (!(product.mask >> i & 1)) continue;
      if (!first) out += words.conjunction;
      first = false;
      if (!(product.bits >> i & 1)) out += words.negation;
      out += names[i];
    }
    if (wrap) out += ')';
  }
  return out;
}

}  // namespace

std::string in_symbols(const Expression& expression, std::span<const std::string> names) {
  if (expression.never()) return "⊥";
  if (expression.always()) return "⊤";
  return join(expression, names, {" ∧ ", " ∨ ", "¬"}, true);
}

std::string in_words(const Expression& expression, std::span<const std::string> names, const LogicWords& words) {
  if (expression.never() || expression.always()) return {};
  return join(expression, names, words, false);
}

}  // namespace tiepoint
