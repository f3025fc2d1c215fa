// How a contact bounces: it arrives, then leaves its new position n times for a moment, all within the burst  D <= time:
//
//   t_k = D (1 - (1 - s_k)^2),  s_k = (k + 0.1 + 0.8 r) / 2n,  k = 0 .. 2n-1
// so that the swings come closer together, as those of a dropped ball do (own formula; makers publish times, no pattern).
// n is one of 0 .. most, D between 0.3 and 1 of the longest time; n, D and every r follow from `seed` by whole-number sums alone, so
// that every run and every build bounces alike.
#pragma once

#include <cmath>
#include <cstdint>

#include "engine/devices/model.h"

namespace tiepoint {

class Burst {
 public:
  Burst(uint32_t seed, double longest, double most)
      : seed_(seed), toggles_(2 * int(share(0) * (most + 1))), length_(longest * (0.3 + 0.7 * share(1))) {}
  int toggles() const { return toggles_; }
  // [s] after the arrival
  double at(int k) const {
    const double left = 1 - (k + 0.1 + 0.8 * share(uint32_t(k) + 2)) / toggles_;
    return length_ * (1 - left * left);
  }

 private:
  // The k-th number in [0, 1) that belongs to the seed. The mixing is an xorshift-and-multiply with odd constants (own choice).
  double share(uint32_t k) const {
    uint32_t h = seed_ + 0x9E3779B9u * (k + 1);
    h = (h ^ h >> 16) * 0x85EBCA6Bu;
    h = (h ^ h >> 13) * 0xC2B2AE35u;
    return ((h ^ h >> 16) >> 8) * 0x1p-24;
  }

  uint32_t seed_;
  int toggles_;
  double length_;  // [s]
};

// Of a contact that is moved by something with up to four states of its own (an armature, a spring in a field) the model's mode is
//   state + 4 step + 512 count
// step: 0 at rest, k while it stands between the (k-1)th and the k-th swing of its burst; count: how many bursts there have been, so
// that no two are alike.
inline int state_in(int mode) { return mode & 3; }
inline int step_in(int mode) { return mode >> 2 & 127; }
inline bool touches(int mode) { return step_in(mode) == 0 || step_in(mode) % 2 == 1; }
inline int at_rest_in(int mode, int state) { return (mode & ~511) | state; }

struct BounceFigures {
  double longest;  // [s]
  double most;     // openings
  double seed;
};
inline Burst burst_of(const BounceFigures& f, int mode) {
  return {uint32_t(f.seed) + uint32_t(mode >> 9) * 0x9E3779B9u, f.longest, f.most};
}
// The mode in which it arrives at `state`, coming from `mode`.
inline int arrive(int mode, int state, const BounceFigures& f) {
  constexpr int kCounts = 1 << 20;
  const int arrived = ((mode >> 9) + 1) % kCounts * 512 + state;
  return burst_of(f, arrived).toggles() > 0 ? arrived + 4 : arrived;
}
// [s] how long a step lasts, and the mode after it.
inline double step_lasts(int mode, const BounceFigures& f) {
  const Burst burst = burst_of(f, mode);
  const int k = step_in(mode) - 1;
  return burst.at(k) - (k > 0 ? burst.at(k - 1) : 0);
}
inline int after_step(int mode, const BounceFigures& f) {
  return step_in(mode) < burst_of(f, mode).toggles() ? mode + 4 : at_rest_in(mode, state_in(mode));
}
// A settled state does not wait: a mode that was waited for begins in what would be its future. Then the burst is over as well. At
// the very start nothing has just arrived either.
inline bool skips_burst(const Instant& at) {
  return step_in(at.mode) > 0 && at.mode_since > at.time + 1e-6 + 1e-11 * std::fabs(at.time);
}

}  // namespace tiepoint
