#include "engine/solver/watch.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "engine/devices/source.h"

namespace tiepoint {
namespace {

// Place of a node in an island's x, held ones included; -1 when it is not there.
int place_in(const SolverPlan& plan, const Island& island, NodeIndex node) {
  const int held = plan.held_of_node[size_t(node)];
  if (held >= 0) {
    const auto at = std::find(island.held.begin(), island.held.end(), held);
    return at == island.held.end() ? -1 : island.size + int(at - island.held.begin());
  }
  const auto end = island.node_of_row.begin() + island.node_count;
  const auto at = std::find(island.node_of_row.begin(), end, node);
  return at == end ? -1 : int(at - island.node_of_row.begin());
}

double held_voltage(const SolverPlan& plan, const Parameters& parameters, int held, double time) {
  double sum = 0;
  for (int h = held; h >= 0 && plan.held[size_t(h)].parent >= 0; h = plan.held[size_t(h)].parent)
    sum += plan.held[size_t(h)].sign * waveform_value(parameters.of(plan.held[size_t(h)].source), time, time);
  return sum;
}

}  // namespace

void Watch::follow(std::vector<WatchedPair> pairs, WatchReport report) {
  pairs_ = std::move(pairs);
  report_ = std::move(report);
}

void Watch::place(const SolverPlan& plan, const std::vector<Island>& islands) {
  samples_.assign(islands.size(), {});
  places_.assign(pairs_.size(), {});
  for (size_t p = 0; p < pairs_.size(); ++p) {
    const WatchedPair& pair = pairs_[p];
    if (pair.plus < 0 || pair.minus < 0) continue;
    for (size_t i = 0; i < islands.size() && places_[p].island < 0; ++i) {
      const int plus = place_in(plan, islands[i], pair.plus), minus = place_in(plan, islands[i], pair.minus);
      const bool moves = plan.held_of_node[size_t(pair.plus)] < 0 || plan.held_of_node[size_t(pair.minus)] < 0;
      if (moves && plus >= 0 && minus >= 0) places_[p] = {int(i), plus, minus};
    }
    if (places_[p].island < 0) places_[p] = {-1, plan.held_of_node[size_t(pair.plus)], plan.held_of_node[size_t(pair.minus)]};
  }
}

bool Watch::lies_in(int island) const {
  return std::any_of(places_.begin(), places_.end(), [&](const Place& place) { return place.island == island; });
}

// Within a step by the curve through its points: three points of Gauss and Legendre are exact for the voltage and next to exact for its
// square (Abramowitz & Stegun 25.4.30; from memory). Between looks at a sine where nothing is stepped by their own values, not by lines
// between them: they are evenly spread over its phases, near as forty a period or far as they may be, and a mean over equal steps of phase
// is exact.
WatchedMeans WatchedSpan::means() const {
  constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();
  const double length = to - from;
  if (!motion || !(length > 0)) return {kUnknown, kUnknown};
  if (motion->looks_at_sine()) {
    const double a = voltage_from, b = voltage_to;
    return {(a + b) / 2, (a * a + b * b) / 2};
  }
  if (!(from >= motion->step_start() - 1e-9 * length)) return {kUnknown, kUnknown};
  constexpr double kOutside = 0.7745966692414834, kOutsideWeight = 5.0 / 18, kMiddleWeight = 8.0 / 18;
  WatchedMeans sum = {0, 0};
  for (const auto& [at, weight] : {std::pair(-kOutside, kOutsideWeight), std::pair(0.0, kMiddleWeight), std::pair(kOutside, kOutsideWeight)}) {
    const Motion::Weights weights = motion->weights_at(from + (1 + at) / 2 * length);
    const double v = motion->between(weights, plus) - motion->between(weights, minus);
    sum.mean += weight * v, sum.square += weight * v * v;
  }
  return sum;
}

void Watch::step(int island, const Motion& motion) {
  const auto tell = [&](double time, auto&& value) {
    int pair = 0;
    for (Place& place : places_) {
      if (place.island == island) {
        const double voltage = value(place.plus) - value(place.minus);
        report_(pair, time, voltage, {&motion, place.plus, place.minus, place.time, time, place.voltage, voltage});
        place.time = time, place.voltage = voltage;
      }
      ++pair;
    }
  };
  auto& [every, next] = samples_[size_t(island)];
  for (; every > 0 && (next + 0.5) * every < motion.time() * (1 - 1e-12); ++next) {
    const double time = (next + 0.5) * every;
    const Motion::Weights weights = motion.weights_at(time);
    tell(time, [&](int row) { return motion.between(weights, row); });
  }
  tell(motion.time(), [&](int row) { return motion.x()[size_t(row)]; });
  while (every > 0 && (next + 0.5) * every <= motion.time() * (1 + 1e-12)) ++next;  // that one was told, and of what stores nothing no other is known
}

void Watch::sample(int island, double every, double time) {
  samples_[size_t(island)] = {every, every > 0 ? std::floor(time / every - 0.5 + 1e-9) + 1 : 0};
}

void Watch::arrive(const SolverPlan& plan, const Parameters& parameters, double time) const {
  for (size_t p = 0; p < places_.size(); ++p) {
    const Place& place = places_[p];
    if (place.island < 0 && place.plus >= 0 && place.minus >= 0)
      report_(int(p), time, held_voltage(plan, parameters, place.plus, time) - held_voltage(plan, parameters, place.minus, time), {});
  }
}

}  // namespace tiepoint
