#include "engine/readings/scopes.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tiepoint {
namespace {
constexpr int kFineSamples = 640;   // of one advance: two and a half screens of the fastest scope
// What lies before is looked at this often at most, less often in a large circuit, where each look takes longer.
constexpr int kMostPieces = 1200, kLeastPieces = 16, kPiecesTimesNodes = 24000;
constexpr int kMostBetween = 20000;  // samples between the steps of one advance: they cost next to nothing
constexpr double kStillFine = 4;    // of the fine samples' distance: nearer than this nothing is missed
}  // namespace

Scope* Scopes::find(PartId part) {
  for (Entry& e : scopes_)
    if (e.part == part) return e.scope.get();
  return nullptr;
}
const Scope* Scopes::find(PartId part) const { return const_cast<Scopes*>(this)->find(part); }

void Scopes::follow(const Board& board, Simulation& simulation, double now) {
  std::erase_if(scopes_, [&](const Entry& e) { return board.find(e.part) == nullptr; });
  wires_.clear();
  std::vector<WatchedPair> pairs;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const Part& part = board.parts[p];
    if (!is_oscilloscope(*part.kind)) continue;
    if (!find(part.id)) scopes_.push_back({part.id, std::make_unique<Scope>(scope_settings(part))});
    find(part.id)->set(scope_settings(part), now);
    const size_t index = size_t(std::find_if(scopes_.begin(), scopes_.end(), [&](const Entry& e) { return e.part == part.id; }) - scopes_.begin());
    const Circuit& circuit = simulation.circuit();
    const auto node = [&](int lead) { return circuit.node_of_lead[size_t(circuit.first_lead_of_part[p] + lead)]; };
    const int ground = ground_clip(*part.kind);
    for (int c = 0; c < ground; ++c) {
      wires_.push_back({index, c});
      pairs.push_back({node(c), node(ground)});
    }
  }
  if (pairs.empty()) return simulation.watch({}, {});
  simulation.watch(std::move(pairs), [this](int pair, double time, double voltage, const WatchedSpan& since) {
    const Wire& wire = wires_[size_t(pair)];
    const WatchedMeans means = since.means();
    scopes_[wire.scope].scope->add(wire.channel, time + offset_, voltage, means.mean, means.square);
  });
}

double Scopes::advance(Simulation& simulation, double target, long* steps, double offset) {
  offset_ = offset;
  for (Entry& e : scopes_) e.scope->stay(simulation.time() + offset);  // a rest lies before
  double fine = target - simulation.time();
  for (const Entry& e : scopes_)
    if (e.scope->records()) fine = std::min(fine, e.scope->sampling());
  // Ahead of the fine samples: coarsely, with half of the steps at most.
  double reached = simulation.time();
  const double begin = target - kFineSamples * fine;
  if (reached < begin) {
    long left = *steps / 2;
    const long given = left;
    const int most = std::clamp(kPiecesTimesNodes / std::max(simulation.circuit().node_count, 1), kLeastPieces, kMostPieces);
    const double first = reached, piece = std::max(fine, (begin - first) / most);
    const int pieces = int(std::ceil((begin - first) / piece * (1 - 1e-9)));
    simulation.sample(std::max(fine, (begin - first) / kMostBetween), piece);
    for (int k = 1; k <= pieces && left > 0; ++k) {
      const double came = simulation.advance(k == pieces ? begin : first + k * piece, &left);
      if (came <= reached) break;
      reached = came;
    }
    // A circuit that stores nothing is not stepped: between so few looks nothing is known of it.
    for (size_t pair = 0; pair < wires_.size(); ++pair)
      if (const Wire& wire = wires_[pair]; !simulation.is_stepped(int(pair)) && piece > kStillFine * fine) scopes_[wire.scope].scope->gap(wire.channel, std::nextafter(reached + offset, 1e300));
    *steps -= given - left;
  }
  if (reached < target && *steps > 0) {
    simulation.sample(fine, fine);
    reached = simulation.advance(target, steps);
  }
  for (Entry& e : scopes_) e.scope->look(reached + offset);
  return reached;
}

bool Scopes::rest(double now) {
  bool changed = false;
  for (Entry& e : scopes_) {
    if (!e.scope->unsettled(now)) continue;
    e.scope->stay(now), e.scope->look(now);
    changed = true;
  }
  return changed;
}

bool Scopes::unsettled(double now) const {
  return std::any_of(scopes_.begin(), scopes_.end(), [&](const Entry& e) { return e.scope->unsettled(now); });
}

}  // namespace tiepoint
