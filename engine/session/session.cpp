#include "engine/session/session.h"

#include <algorithm>
#include <utility>

#include "engine/parts/contacts.h"

namespace tiepoint {
namespace {

// [s] A board in motion is looked at so often, as currents change.
constexpr double kLongestUnwatched = 1;
constexpr long kStepsOfAChange = 10;  // of the budget: what a new voltage costs at least

bool is_contact(const Element& element) { return element.kind == ElementKind::kContact; }

uint32_t seed_of(std::string_view name, uint32_t operation, uint32_t contact) {
  uint32_t hash = tiepoint::seed_of(name);
  for (int shift = 0; shift < 32; shift += 8) hash = stir(hash, operation >> shift & 0xFF);
  return stir(hash, contact & 0xFF);
}

// Contacts that a coil or a magnet moves arrive without a bounce from now on.
void calm(Circuit& circuit) {
  const auto still = [&](const Element& element, int parameter) {
    circuit.parameters[size_t(element.first_parameter + parameter)] = 0;
  };
  for (const Element& element : circuit.elements) {
    if (element.kind == ElementKind::kReed) still(element, kReedBounces);
    if (element.kind == ElementKind::kRelay) still(element, kRelayBounces), still(element, kRelayReturnBounces);
  }
}

}  // namespace

Session::Session() : Session(Board{}) {}

Session::Session(Board board, SolverOptions options)
    : journal_(std::move(board)),
      options_(options),
      used_(journal_.board()),
      wiring_(wire_up(journal_.board())),
      simulation_(extract(journal_.board(), wiring_), options_) {
  simulation_.start_from_initial_conditions();
  find_batteries();
  thermal_.follow(journal_.board());
  attend();
  snapshot();
}

void Session::load(Board board) {
  journal_ = Journal(std::move(board));
  used_ = journal_.board();
  wiring_ = wire_up(journal_.board());
  simulation_ = Simulation(circuit_of(journal_.board()), options_);
  simulation_.start_from_initial_conditions();
  batteries_.clear();
  find_batteries();
  thermal_.clear();
  thermal_.follow(journal_.board());
  rested_ = 0;
  operations_.clear();
  scopes_->clear();
  attend();
  ++board_revision_;
  ++structure_revision_;
  snapshot();
}

Result<Applied> Session::apply(const Edit& edit) {
  Result<Applied> applied = journal_.apply(edit);
  if (applied) use_again(edit), after(*applied);
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
  } else if (const std::vector<int> changed = changed_parts(applied); !changed.empty()) {
    Circuit circuit = simulation_.circuit();
    for (const int index : changed) used_.parts[size_t(index)] = board().parts[size_t(index)];
    find_batteries();
    thermal_.follow(journal_.board());
    apply_cut_outs();
    bool same = true;
    for (const int index : changed) same = same && refresh_values(circuit, used_, index);
    if (same) {
      for (const Battery& battery : batteries_)
        if (battery.index >= 0) (void)refresh_values(circuit, used_, battery.index);
      for (const int index : changed) operate_contacts(circuit, index);
      if (!bounce_) calm(circuit);
      simulation_.set_parameters(circuit.parameters);
      attend();
    } else {
      rebuild();
    }
  }
  snapshot();
}

// The parts an edit that joins nothing anew was about: one, or those of several edits at once whose values are others now.
std::vector<int> Session::changed_parts(const Applied& applied) const {
  std::vector<int> out;
  const std::vector<Part>& parts = board().parts;
  for (size_t p = 0; p < parts.size() && p < used_.parts.size(); ++p)
    if (applied.part.empty() ? parts[p].values != used_.parts[p].values : parts[p].name == applied.part) out.push_back(int(p));
  return out;
}

// Contacts that go over to another position do so now, with a burst of their own; those of the same part that stay where they are
// go on as they were.
void Session::operate_contacts(Circuit& next, int part) {
  const Circuit& now = simulation_.circuit();
  if (!bounce_) return;
  uint32_t* operation = nullptr;
  const int first = next.first_element_of_part[size_t(part)], end = next.first_element_of_part[size_t(part) + 1];
  for (int e = first; e < end; ++e) {
    if (!is_contact(next.elements[size_t(e)])) continue;
    double* to = &next.parameters[size_t(next.elements[size_t(e)].first_parameter)];
    const double* from = &now.parameters[size_t(next.elements[size_t(e)].first_parameter)];
    if (to[kContactClosed] == from[kContactClosed]) {
      std::copy(from + kContactBounceTime, from + kContactSeed + 1, to + kContactBounceTime);
    } else if (to[kContactBounces] > 0) {
      const std::string& name = board().parts[size_t(part)].name;
      if (!operation) ++*(operation = &operations_[name]);
      to[kContactOperated] = simulation_.time();
      to[kContactSeed] = seed_of(name, *operation, uint32_t(e - first));
    }
  }
}

void Session::set_bounce(bool bounce) {
  if (bounce == bounce_) return;
  bounce_ = bounce;
  Circuit circuit = simulation_.circuit();
  for (size_t p = 0; p < used_.parts.size(); ++p) (void)refresh_values(circuit, used_, int(p));
  for (size_t e = 0; e < circuit.elements.size(); ++e)  // what a hand moved goes on as it was
    if (is_contact(circuit.elements[e])) {
      const int first = circuit.elements[e].first_parameter;
      std::copy_n(&simulation_.circuit().parameters[size_t(first)], int(kContactSeed) + 1, &circuit.parameters[size_t(first)]);
    }
  if (!bounce_) calm(circuit);
  simulation_.set_parameters(circuit.parameters);
  attend();
}

Circuit Session::circuit_of(const Board& board) const {
  Circuit circuit = extract(board, wiring_);
  if (!bounce_) calm(circuit);
  return circuit;
}

// No contact is on its way any more.
void Session::still_contacts() {
  std::vector<double> parameters = simulation_.circuit().parameters;
  bool any = false;
  for (const Element& element : simulation_.circuit().elements) {
    if (!is_contact(element)) continue;
    double& operated = parameters[size_t(element.first_parameter) + kContactOperated];
    any = any || operated != kLongAgo;
    operated = kLongAgo;
  }
  if (any) simulation_.set_parameters(parameters), attend();
}

// What follows the simulation is told of it anew after each change of its circuit.
void Session::attend() {
  count_batteries();
  scopes_->follow(board(), simulation_, time());
}

void Session::rebuild() {
  used_ = board();
  find_batteries();
  thermal_.follow(journal_.board());
  apply_cut_outs();
  wiring_ = wire_up(board());
  Simulation next(circuit_of(used_), options_);
  next.adopt_state(simulation_);
  simulation_ = std::move(next);
  attend();
  ++structure_revision_;
}

double Session::advance(double seconds, long max_steps) {
  double gone = 0;
  for (long left = max_steps; gone < seconds && left > 0;) {
    const bool rests = simulation_.at_rest();
    double piece = std::min(seconds - gone, wear_due());
    if (!rests && (!batteries_.empty() || !thermal_.bodies().empty())) piece = std::min(piece, kLongestUnwatched);
    // The last of a long time is looked at by itself.
    if (const double left_over = seconds - gone; !rests && !lights_.empty() && left_over > 1.5 * eye_ && eye_ > 0) piece = std::min(piece, left_over - eye_);
    if (gone + piece <= gone) piece = seconds - gone;
    const double reached = rests ? piece : run(piece, &left);
    if (rests) {
      rested_ += piece;
      if (scopes_->rest(time())) ++readings_revision_;
      draw_steadily(piece);
    } else {
      if (reached > 0) heat_counted(reached), look_at_lights();
    }
    thermal_.pass(reached);
    gone = reached == seconds - gone ? seconds : gone + reached;
    const bool died = suffer();
    const bool worn = wear() || died;
    if (!rests || worn || thermal_.differs()) snapshot();
    if (!rests) count_warm();
    if (worn) left -= kStepsOfAChange;
    if (reached < piece) break;
  }
  return gone;
}

// Lets the simulation step; returns the seconds gone by and takes the steps from `left`.
double Session::run(double seconds, long* left) {
  const double start = simulation_.time();
  const double reached = scopes_->empty() ? simulation_.advance(start + seconds, left)
                                          : scopes_->advance(simulation_, start + seconds, left, rested_);
  draw_counted();
  // All of it, when the clock has met its end: start + seconds - start may fall short by a rounding.
  return reached >= start + seconds ? seconds : reached - start;
}

void Session::settle() {
  still_contacts();
  simulation_.settle();
  snapshot();
}

void Session::start_empty() {
  operations_.clear();
  batteries_.clear();
  used_ = board();
  find_batteries();
  thermal_.clear();
  thermal_.follow(journal_.board());
  simulation_ = Simulation(circuit_of(used_), options_);
  simulation_.start_from_initial_conditions();
  scopes_->clear();
  attend();
  snapshot();
}

void Session::arm(PartId part) {
  if (Scope* scope = scopes_->find(part)) scope->arm(time()), scope->look(time()), ++readings_revision_;
}

void Session::snapshot() {
  readings_ = take_readings(used_, wiring_, simulation_.circuit(), simulation_.solution());
  used_.realism = board().realism;
  thermal_.look(used_, circuit(), readings_);
  show_lights();
  show_heat();
  ++readings_revision_;
}

}  // namespace tiepoint
