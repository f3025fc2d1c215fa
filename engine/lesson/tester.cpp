#include "engine/lesson/tester.h"

#include <algorithm>

#include "engine/circuit/circuit.h"

namespace tiepoint {
namespace {

constexpr long kMostSteps = 400000;  // of the solver between two looks

bool is_supply_switch(const ValueSpec& spec) { return spec.key == "on" && spec.use == Use::kPosition; }

}  // namespace

Tester::Tester(const Board& board) : board_(board), wiring_(wire_up(board)) {
  for (Part& part : board_.parts) {
    for (size_t v = 0; v < part.values.size(); ++v) {
      const ValueSpec& spec = part.kind->values[v];
      if (spec.use == Use::kMomentary) part.values[v] = spec.minimum;
      if (is_supply_switch(spec)) part.values[v] = 1;
    }
  }
}

Board Tester::arranged(const std::vector<Put>& puts) const {
  Board board = board_;
  for (const Put& put : puts) board.parts[size_t(put.part)].values[size_t(put.value)] = put.to;
  return board;
}

Readings Tester::settle(const std::vector<Put>& puts) {
  const Board board = arranged(puts);
  if (!simulation_) simulation_.emplace(extract(board_, wiring_));
  Circuit circuit = simulation_->circuit();
  // Whatever the last situation had put elsewhere goes back too.
  bool same = true;
  for (size_t p = 0; p < board.parts.size(); ++p)
    if (!board.parts[p].kind->values.empty()) same = refresh_values(circuit, board, int(p)) && same;
  if (same)
    simulation_->set_parameters(circuit.parameters);
  else
    simulation_.emplace(extract(board, wiring_));
  simulation_->settle();
  return take_readings(board, wiring_, simulation_->circuit(), simulation_->solution());
}

const Readings& Tester::readings(const Arrangement& arrangement) {
  if (const auto found = known_.find(arrangement); found != known_.end()) return found->second;
  Readings readings;
  if (arrangement.look <= 0) {
    readings = settle(arrangement.puts);
  } else {
    Runner runner(*this, arrangement);
    runner.to(arrangement.look);
    readings = runner.session().readings();
  }
  return known_.emplace(arrangement, std::move(readings)).first->second;
}

Tester::Runner::Runner(const Tester& tester, const Arrangement& arrangement)
    : arrangement_(arrangement), session_(tester.arranged(arrangement.puts)) {
  session_.set_bounce(false);
}

void Tester::Runner::operate(const std::vector<Put>& puts) {
  for (const Put& put : puts) {
    const Part& part = session_.board().parts[size_t(put.part)];
    const ValueSpec& spec = part.kind->values[size_t(put.value)];
    const std::string name = part.name;
    // An edit that does not fit changes nothing, and the checks then see a board that was not operated.
    if (spec.use == Use::kMomentary)
      (void)session_.apply(Edit{PressPart{name, put.to != 0}});
    else if (is_supply_switch(spec))
      (void)session_.apply(Edit{SwitchSupply{name, put.to != 0}});
    else
      (void)session_.apply(Edit{SetValue{name, std::string(spec.key), put.to}});
  }
}

bool Tester::Runner::to(double time) {
  while (next_ < arrangement_.operations.size() && arrangement_.operations[next_].time <= time) {
    const TimedPut& operation = arrangement_.operations[next_++];
    if (!to(operation.time)) return false;
    operate(operation.puts);
  }
  if (time <= time_) return true;
  const double wanted = time - time_, gone = session_.advance(wanted, kMostSteps);
  time_ = gone < wanted ? time_ + gone : time;
  return gone >= wanted * (1 - 1e-9);
}

}  // namespace tiepoint
