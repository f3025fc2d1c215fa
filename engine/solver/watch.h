// Watch: voltages followed at every step while time advances, for instruments that must not miss a peak between two looks.
#pragma once

#include <functional>
#include <limits>
#include <span>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/solver/island.h"
#include "engine/solver/motion.h"
#include "engine/solver/parameters.h"
#include "engine/solver/plan.h"

namespace tiepoint {

// The voltage of `plus` against `minus`. Both nodes lie in one island or are held; of two that do not, only the ends of an advance
// are told.
struct WatchedPair {
  NodeIndex plus = -1, minus = -1;
};
struct WatchedMeans {
  double mean, square;  // [V] [V^2]
};
// From the instant that was told before to this one. Holds only while this one is told.
struct WatchedSpan {
  const Motion* motion = nullptr;  // null: nothing stepped
  int plus = -1, minus = -1;       // places in its x
  double from = 0, to = 0;         // [s]
  double voltage_from = 0, voltage_to = 0;
  // Of the voltage, as the solver knows it; NaN: it is taken as straight. Worked out when asked.
  WatchedMeans means() const;
};
// Told with the index of the pair, the time [s] and the voltage [V]. Times of one pair never fall.
using WatchReport = std::function<void(int pair, double time, double voltage, const WatchedSpan& since)>;

class Watch {
 public:
  void follow(std::vector<WatchedPair> pairs, WatchReport report);
  // Where the pairs lie in these islands.
  void place(const SolverPlan& plan, const std::vector<Island>& islands);
  // From `time` on an island is told of at (k + 1/2) * every [s] too, where a step is longer; 0: at the steps only.
  void sample(int island, double every, double time);
  int island_of(int pair) const { return places_[size_t(pair)].island; }  // -1: both nodes are held
  bool empty() const { return pairs_.empty(); }
  bool lies_in(int island) const;
  // An island has come to the end of a step.
  void step(int island, const Motion& motion);
  // All have come to `time`: tells those that no island steps for.
  void arrive(const SolverPlan& plan, const Parameters& parameters, double time) const;

 private:
  struct Place {
    int island = -1;  // -1: both nodes are held
    int plus = -1, minus = -1;  // places in x; of held ones indices into SolverPlan::held
    double time = std::numeric_limits<double>::infinity(), voltage = 0;  // [s] [V] told last
  };
  std::vector<WatchedPair> pairs_;
  std::vector<Place> places_;
  WatchReport report_;
  struct Samples {
    double every = 0;  // [s]
    double next = 0;   // which is told next
  };
  std::vector<Samples> samples_;  // of each island
};

}  // namespace tiepoint
