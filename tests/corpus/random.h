// A small seeded generator: the same boards on every machine (the standard library's distributions may differ).
#pragma once

#include <cstdint>
#include <vector>

namespace tiepoint::corpus {

class Random {
 public:
  // The seed is stirred first: neighbouring seeds must not give shifted copies of one stream.
  explicit Random(uint64_t seed) : state_(seed) { state_ = next() ^ 0x2545F4914F6CDD1Du; }
  // splitmix64 (public domain algorithm by S. Vigna, from memory)
  uint64_t next() {
    uint64_t z = state_ += 0x9E3779B97F4A7C15u;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
    return z ^ (z >> 31);
  }
  int below(int n) { return n <= 1 ? 0 : int(next() % uint64_t(n)); }
  int between(int low, int high) { return low + below(high - low + 1); }
  bool chance(double p) { return double(next() >> 11) * 0x1.0p-53 < p; }
  template <class T>
  const T& pick(const std::vector<T>& list) { return list[size_t(below(int(list.size())))]; }
  template <class T>
  void shuffle(std::vector<T>& list) {
    for (size_t k = list.size(); k > 1; --k) std::swap(list[k - 1], list[size_t(below(int(k)))]);
  }

 private:
  uint64_t state_;
};

}  // namespace tiepoint::corpus
