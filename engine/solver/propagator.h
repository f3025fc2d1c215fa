// Propagator: a linear island carried exactly over any length of time, as long as its sources stand still or change in
// proportion to time.
//
//   C x' + G x = s0 + s1 t      x(h) = xp(h) + R(h) (x(0) - xp(0)),   xp(t) = xa + xb t,  G xb = s1,  G xa = s0 - C xb
// R over h / 2^16 is the Pade approximant (2, 3) of the exponential, which is that of the three-stage Radau IIA method: L-stable,
// so algebraic unknowns (C singular) come out right by themselves; R(h) follows by squaring. What is squared is E = R - 1, by
// E(2h) = 2 E(h) + E(h)^2, which loses no digits. (Moler & Van Loan, SIAM Rev. 45, 2003; Hairer & Wanner, Solving Ordinary
// Differential Equations II, 1996; both from memory.)
#pragma once

#include <vector>

#include "engine/solver/dense_lu.h"
#include "engine/solver/island.h"

namespace tiepoint {

class Propagator {
 public:
  static constexpr int kLargest = 24;  // unknowns

  // Takes the island's matrices; false when it cannot be carried this way (nonlinear, too large, G singular).
  bool take(const Island& island);
  void forget() { ready_ = false; }
  bool ready() const { return ready_; }

  // Carries the island from `x` [total] at island.time = `time` over h, unknowns only, into `to` [size]. `prepare(t)` sets the
  // island's sources to t. False when they do not change in proportion to time; then nothing is written.
  template <class Prepare>
  bool carry(Island& island, const double* x, double time, double h, const Prepare& prepare, double* to) {
    prepare(time);
    forcing(island, &f_[0], &q_[0]);
    const bool moving = island.moving();
    for (int k = 1; k < 3; ++k) {
      if (moving) {
        prepare(time + k * h / 2);
        forcing(island, &f_[k], &q_[k]);
      } else {
        f_[k] = f_[0], q_[k] = q_[0];
      }
    }
    return apply(x, h, to);
  }

 private:
  struct Power {
    double h;
    std::vector<double> e;  // row-major size*size
  };
  void forcing(Island& island, std::vector<double>* f, std::vector<double>* q) const;
  bool apply(const double* x, double h, double* to);
  const std::vector<double>* power(double h);

  int size_ = 0;
  bool ready_ = false;
  bool known_ = false;  // g_ is factored, powers_ belong to g_ and c_
  std::vector<double> g_, c_;
  DenseLu g_lu_;
  std::vector<Power> powers_;
  size_t oldest_ = 0;
  std::vector<double> f_[3], q_[3], xa_, xb_, y_;
};

}  // namespace tiepoint
