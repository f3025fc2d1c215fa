#include "engine/session/session.h"

#include <utility>

namespace tiepoint {

Session::Session() : Session(Board{}) {}

Session::Session(Board board, SolverOptions options)
    : journal_(std::move(board)),
      options_(options),
      wiring_(wire_up(journal_.board())),
      simulation_(extract(journal_.board(), wiring_), options_) {
  simulation_.start_from_initial_conditions();
  scopes_->follow(this->board(), wiring_, simulation_, time());
  snapshot();
}

void Session::load(Board board) {
  journal_ = Journal(std::move(board));
  wiring_ = wire_up(journal_.board());
  simulation_ = Simulation(extract(journal_.board(), wiring_), options_);
  simulation_.start_from_initial_conditions();
  rested_ = 0;
  scopes_->clear();
  scopes_->follow(this->board(), wiring_, simulation_, time());
  ++board_revision_;
  ++structure_revision_;
  snapshot();
}

Result<Applied> Session::apply(const Edit& edit) {
  Result<Applied> applied = journal_.apply(edit);
  if (applied) after(*applied);
  return applied;
}

Result<Applied> Session::undo() {
  Result<Applied> applied = journal_.undo();
  if (applied) after(*applied);
  return applied;
}

Result<Applied> Session::redo() {
  Result<Applied> applied = journal_.redo();
  if (applied) after(*applied);
  return applied;
}

// A press or a knob only changes parameters; the circuit and its factorisation pattern stay. Whatever cannot be shown to be
// that small is extracted anew, with the charge of every capacitor carried over.
void Session::after(const Applied& applied) {
  ++board_revision_;
  if (applied.structural) {
    rebuild();
  } else if (!applied.part.empty()) {
    const Part* part = board().find(applied.part);
    Circuit circuit = simulation_.circuit();
    const int index = part ? board().index_of(part->id) : -1;
    if (index >= 0 && refresh_values(circuit, board(), index)) {
      simulation_.set_parameters(circuit.parameters);
    } else {
      rebuild();
    }
  }
  scopes_->follow(board(), wiring_, simulation_, time());
  snapshot();
}

void Session::rebuild() {
  wiring_ = wire_up(board());
  Simulation next(extract(board(), wiring_), options_);
  next.adopt_state(simulation_);
  simulation_ = std::move(next);
  ++structure_revision_;
}

double Session::advance(double seconds, long max_steps) {
  if (simulation_.at_rest()) {
    rested_ += seconds;
    if (scopes_->rest(time())) ++readings_revision_;
    return seconds;
  }
  const double start = simulation_.time();
  const double reached = scopes_->empty() ? simulation_.advance(start + seconds, StepBudget{max_steps})
                                          : scopes_->advance(simulation_, start + seconds, max_steps, rested_);
  snapshot();
  return reached - start;
}

void Session::settle() {
  simulation_.settle();
  snapshot();
}

void Session::start_empty() {
  simulation_.start_from_initial_conditions();
  scopes_->clear();
  scopes_->follow(board(), wiring_, simulation_, time());
  snapshot();
}

void Session::arm(PartId part) {
  if (Scope* scope = scopes_->find(part)) scope->arm(time()), scope->look(time()), ++readings_revision_;
}

void Session::snapshot() {
  readings_ = take_readings(board(), wiring_, simulation_.circuit(), simulation_.solution());
  ++readings_revision_;
}

}  // namespace tiepoint
