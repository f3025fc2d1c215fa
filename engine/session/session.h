// Session: the whole flow in one object. Takes Edits, gives Readings: Edit -> Board -> Wiring -> Circuit -> Simulation -> Readings.
// The bench, the page, the terminal program and lessons all stand on this.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>

#include "engine/board/journal.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/wiring.h"
#include "engine/readings/readings.h"
#include "engine/readings/scopes.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

class Session {
 public:
  Session();
  explicit Session(Board board, SolverOptions options = {});

  const Board& board() const { return journal_.board(); }
  const Journal& journal() const { return journal_; }
  const Wiring& wiring() const { return wiring_; }
  const Circuit& circuit() const { return simulation_.circuit(); }
  const Readings& readings() const { return readings_; }

  // Every change of the board. An error leaves all as it was. Stored charge lives on across edits.
  Result<Applied> apply(const Edit& edit);
  Result<Applied> undo();
  Result<Applied> redo();
  // A new document; the journal starts afresh.
  void load(Board board);

  // [s] simulated since the document was opened, time at rest included.
  double time() const { return simulation_.time() + rested_; }
  // Advances simulated time by `seconds` within the step budget; returns the seconds actually gone by.
  double advance(double seconds, long max_steps = 20000);
  // Jumps to the settled state of the board as it stands.
  void settle();
  // Everything empty at time 0, as when the supplies are plugged in.
  void start_empty();
  // True when nothing will change until the next edit: the caller may sleep.
  bool at_rest() const { return simulation_.at_rest() && !scopes_->unsettled(time()); }
  // The oscilloscope behind a part; null when it is none.
  const Scope* scope(PartId part) const { return scopes_->find(part); }
  // Lets an oscilloscope that takes single pictures take the next one.
  void arm(PartId part);

  uint64_t board_revision() const { return board_revision_; }        // +1 with every change of the document
  uint64_t structure_revision() const { return structure_revision_; }  // +1 when the circuit was extracted anew
  uint64_t readings_revision() const { return readings_revision_; }  // +1 with every new snapshot

 private:
  void after(const Applied& applied);
  void rebuild();
  void snapshot();

  Journal journal_;
  SolverOptions options_;
  Wiring wiring_;
  Simulation simulation_;
  double rested_ = 0;  // [s] gone by while nothing moved and the simulation's own clock stood still
  Readings readings_;
  std::unique_ptr<Scopes> scopes_ = std::make_unique<Scopes>();  // the simulation holds on to its address
  uint64_t board_revision_ = 1, structure_revision_ = 1, readings_revision_ = 1;
};

}  // namespace tiepoint
