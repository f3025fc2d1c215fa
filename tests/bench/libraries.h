// The general-purpose libraries the engine is measured against: IDA and KINSOL of SUNDIALS (Hindmarsh et al., ACM TOMS 31, 2005)
// with dense and KLU linear solvers, KLU of SuiteSparse (Davis & Natarajan, ACM TOMS 37(3), 2010).
#pragma once

#include <vector>

#include "tests/bench/cases.h"
#include "tests/bench/sheet.h"

namespace tiepoint::bench {

enum class Linear { kDense, kKlu };

// From the start to the end with restarts at every corner of the sources; voltages of the probes at the samples, row by row.
// Empty when IDA gave up.
std::vector<double> run_ida(const Case& c, Linear linear, double tolerance);

// Operating point by KINSOL (line search) and KLU; node voltages, empty when it gave up. `residual`: largest, [A].
std::vector<double> run_kinsol(const Circuit& circuit, double* residual);

// KLU on one pattern: analysed and factored once, then refactored and solved without scaling.
class Klu {
 public:
  explicit Klu(const Pattern& pattern);
  ~Klu();
  Klu(const Klu&) = delete;
  Klu& operator=(const Klu&) = delete;
  bool refactor(const double* value);
  void solve(double* b);

 private:
  struct State;
  State* state_;
};

}  // namespace tiepoint::bench
