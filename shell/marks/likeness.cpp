#include "shell/marks/likeness.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>
#include <unordered_map>

#include "engine/logic/compare.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

constexpr size_t kFewestForAllButOne = 5;  // parts; of fewer, all but one stand alike by chance

double leftmost(const Board& board) {
  double left = 1e9;
  for (const Part& part : board.parts)
    for (const Hole hole : part.leads)
      if (hole.valid()) left = std::min(left, board.mat_of(hole).x);
  return left;
}

class Hash {
 public:
  void add(uint64_t value) {
    for (int byte = 0; byte < 8; ++byte) sum_ = (sum_ ^ ((value >> (8 * byte)) & 0xFF)) * 1099511628211ull;
  }
  void add(std::string_view text) {
    for (const char c : text) sum_ = (sum_ ^ uint8_t(c)) * 1099511628211ull;
  }
  uint64_t sum() const { return sum_; }

 private:
  uint64_t sum_ = 14695981039346656037ull;  // FNV-1a, 64 bit
};

// A wire's colour is no part of how it stands.
uint64_t print_of(const Board& board, const Part& part, double left) {
  Hash hash;
  hash.add(part.kind->key);
  for (const Hole hole : part.leads) {
    const MatPoint at = hole.valid() ? board.mat_of(hole) : MatPoint{-1e6 + left, 0};
    hash.add(uint64_t(int64_t(std::lround(at.x - left))));
    hash.add(uint64_t(int64_t(std::lround(at.y))));
  }
  for (size_t v = 0; v < part.values.size(); ++v)
    if (part.kind->values[v].use == Use::kValue && !part.kind->conductor)
      hash.add(uint64_t(std::llround(part.values[v] * 1e12)));
  return hash.sum();
}

struct Twin {
  size_t row = 0;
  int other_part = -1;  // index of the part that stands elsewhere; -1: none
};

// Rows seen so far, to be found by all parts or all but one.
class Seen {
 public:
  std::optional<Twin> find(const Print& print) const {
    if (const auto all = all_.find(key(print.sum, print.parts.size())); all != all_.end()) return Twin{all->second, -1};
    if (print.parts.size() < kFewestForAllButOne) return std::nullopt;
    for (size_t p = 0; p < print.parts.size(); ++p)
      if (const auto but_one = but_one_.find(key(print.sum - print.parts[p], print.parts.size())); but_one != but_one_.end())
        return Twin{but_one->second, int(p)};
    return std::nullopt;
  }
  void add(const Print& print, size_t row) {
    all_.emplace(key(print.sum, print.parts.size()), row);
    if (print.parts.size() < kFewestForAllButOne) return;
    for (const uint64_t part : print.parts) but_one_.emplace(key(print.sum - part, print.parts.size()), row);
  }

 private:
  static uint64_t key(uint64_t sum, size_t count) { return sum ^ (uint64_t(count) * 0x9E3779B97F4A7C15ull); }
  std::unordered_map<uint64_t, size_t> all_, but_one_;
};

std::string colour_words(const Board& a, const Board& b) {
  const double left_a = leftmost(a), left_b = leftmost(b);
  std::unordered_map<uint64_t, const Part*> wires;
  for (const Part& part : a.parts)
    if (part.kind->conductor) wires.emplace(print_of(a, part, left_a), &part);
  int same = 0, count = 0;
  for (const Part& part : b.parts) {
    if (!part.kind->conductor) continue;
    ++count;
    const auto twin = wires.find(print_of(b, part, left_b));
    same += twin != wires.end() && twin->second->values == part.values;
  }
  if (count == 0) return {};
  const std::string all = std::to_string(count), alike = std::to_string(same);
  return say("lesson.grade.like.colours", {{"same", alike}, {"count", all}});
}

// What is on a board that a circuit is made of: kinds with their values, wherever they sit.
std::vector<std::string> ingredients(const Board& board) {
  std::vector<std::string> all;
  for (const Part& part : board.parts) {
    if (part.kind->conductor) continue;
    std::string one(part.kind->key);
    for (size_t v = 0; v < part.values.size(); ++v)
      if (part.kind->values[v].use == Use::kValue) one += " " + std::to_string(part.values[v] * 1e12);
    all.push_back(std::move(one));
  }
  std::sort(all.begin(), all.end());
  return all;
}

// Boards of other parts are told apart before their circuits and all that they do are compared.
bool same_circuit_on(const Board& a, const Board& b) {
  return ingredients(a) == ingredients(b) && compare(a, b).likeness == Likeness::kSameCircuit;
}

// A message with arguments that may be empty leaves no gaps.
std::string without_gaps(const std::string& words) {
  std::string out;
  for (const char c : words)
    if (c != ' ' || (!out.empty() && out.back() != ' ')) out += c;
  if (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

// "" when they are not the same circuit and a part stands elsewhere: that is another board.
std::string evidence_of(const Board& a, const Board& b, const Twin& twin) {
  const bool same_circuit = same_circuit_on(a, b);
  if (twin.other_part >= 0 && !same_circuit) return {};
  const std::string count = std::to_string(b.parts.size());
  const std::string part = twin.other_part >= 0 ? b.parts[size_t(twin.other_part)].name : "";
  const auto moved = long(std::lround(leftmost(b) - leftmost(a)));
  const std::string places =
      say(twin.other_part >= 0 ? "lesson.grade.like.but-one" : "lesson.grade.like.all", {{"count", count}, {"part", part}});
  return without_gaps(
      say("lesson.grade.like.evidence",
          {{"circuit", same_circuit ? say("lesson.grade.like.circuit") : std::string_view()},
           {"places", places},
           {"moved", moved == 0 ? "" : say("lesson.grade.like.moved", {{"columns", std::to_string(std::abs(moved))}})},
           {"colours", colour_words(a, b)}}));
}

}  // namespace

Print print_of(const Board& board) {
  Print print;
  const double left = leftmost(board);
  for (const Part& part : board.parts) {
    print.parts.push_back(print_of(board, part, left));
    print.sum += print.parts.back();
  }
  return print;
}

void mark_alike(const Rubric& rubric, std::vector<Mark>& marks, const std::function<std::optional<Board>(size_t)>& board_of) {
  std::vector<uint64_t> own;
  for (const Lesson& lesson : rubric.cases)
    if (lesson.outline) own.push_back(print_of(*lesson.outline).sum);
  Seen seen;
  std::optional<Board> first;
  size_t first_row = marks.size();
  for (size_t row = 0; row < marks.size(); ++row) {
    const Print& print = marks[row].print;
    if (print.parts.empty() || std::find(own.begin(), own.end(), print.sum) != own.end()) continue;
    const std::optional<Twin> twin = seen.find(print);
    if (!twin) {
      seen.add(print, row);
      continue;
    }
    if (first_row != twin->row) first = board_of(first_row = twin->row);
    const std::optional<Board> board = board_of(row);
    if (!first || !board) continue;
    marks[row].evidence = evidence_of(*first, *board, *twin);
    if (!marks[row].evidence.empty()) marks[row].like = int(twin->row);
  }
}

}  // namespace tiepoint
