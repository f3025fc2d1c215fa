// Scopes: all oscilloscopes of a board, fed while a simulation advances.
#pragma once

#include <memory>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/wiring.h"
#include "engine/readings/scope.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

class Scopes {
 public:
  // After each change of the board, its circuit or its simulation. `now` [s] is the session's time.
  void follow(const Board& board, Simulation& simulation, double now);
  void clear() { scopes_.clear(); }
  bool empty() const { return scopes_.empty(); }

  // Advances the simulation to `target`, its own time [s], within `steps`, which it takes from; `offset` [s] is what the session's time is
  // ahead of it. Returns the time reached. The last two and a half screens of the fastest scope are stepped as finely as it wants,
  // what lies before them as finely as its share of the steps and the size of the circuit allow.
  double advance(Simulation& simulation, double target, long* steps, double offset);
  // Nothing moved until `now` [s]. True when a screen changed.
  bool rest(double now);
  // Some screen still changes though no voltage does.
  bool unsettled(double now) const;

  Scope* find(PartId part);
  const Scope* find(PartId part) const;

 private:
  struct Entry {
    PartId part;
    std::unique_ptr<Scope> scope;
  };
  struct Wire {  // of a watched pair
    size_t scope = 0;
    int channel = 0;
  };
  std::vector<Entry> scopes_;
  std::vector<Wire> wires_;
  double offset_ = 0;  // [s]
};

}  // namespace tiepoint
