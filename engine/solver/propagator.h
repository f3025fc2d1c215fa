// Propagator: a linear island carried exactly over any length of time, as long as its sources stand still or change in
// proportion to time.
//
//   C x' + G x = s0 + s1 t      x(h) = xp(h) + R(h) (x(0) - xp(0)),   xp(t) = xa + xb t,  G xb = s1,  G xa = s0 - C xb
// R over h / 2^16 is the Pade approximant (2, 3) of the exponential, which is that of the three-stage Radau IIA method: L-stable,
// so algebraic unknowns (C singular) come out right by themselves; R(h) follows by squaring. What is squared is E = R - 1, by
// E(2h) = 2 E(h) + E(h)^2, which loses no digits. (Moler & Van Loan, SIAM Rev. 45, 2003; Hairer & Wanner, Solving Ordinary
// Differential Equations II, 1996; both from memory.)
#pragma once

#include <cmath>
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

  // Takes the sources over the time from `time` to `end`, on one piece of their waveforms; `prepare(t)` sets the island's sources to
  // t. False when they do not change in proportion to time, or nothing can be told.
  template <class Prepare>
  bool begin(Island& island, double time, double end, const Prepare& prepare) {
    const bool moving = island.moving();
    if (moving && std::isfinite(island.longest_step())) return false;  // a curve
    for (int k = 0; k < (moving ? 3 : 1); ++k) {
      prepare(time + k * (end - time) / 2);
      forcing(island, &f_[k], &q_[k]);
    }
    return begin(time, end - time, moving);
  }
  // Carries x [size] from `time` over h, both within what begin() was told. False when the exponential cannot be had.
  bool carry(double* x, double time, double h);

 private:
  struct Power {
    double h;
    std::vector<double> e;  // row-major size*size
  };
  template <int N>
  void carry_few(const double* e, double since, double h, double* x) const;
  void forcing(Island& island, std::vector<double>* f, std::vector<double>* q) const;
  bool begin(double time, double length, bool moving);
  const std::vector<double>* power(double h);

  int size_ = 0;
  bool ready_ = false;
  bool known_ = false;  // g_ is factored, powers_ belong to g_ and c_
  std::vector<double> g_, c_;
  DenseLu g_lu_;
  std::vector<Power> powers_;
  size_t oldest_ = 0;
  double began_ = 0;  // [s]
  std::vector<double> f_[3], q_[3], xa_, xb_, y_;
};

}  // namespace tiepoint
