#include "shell/bench/hill.h"

#include <algorithm>
#include <cmath>

#include "engine/explain/condition.h"
#include "engine/explain/trial.h"

namespace tiepoint {

bool takes_a_step(const Part& part) {
  return !part.kind->conductor && !part.kind->touches && type_of(part).reference_lead < 0 && part.kind->leads.size() > 1;
}

bool is_flat(const Board& board, const HillStep& step) {
  constexpr double kSmallest = 0.01;  // [V] the last digit that is shown
  const Part* part = board.find(step.part);
  return part && part->kind->conductor && !(std::abs(step.before - step.after) >= kSmallest);
}

void Hill::choose(const Board& board, std::string_view name) {
  const Part* part = board.find(name);
  if (part == nullptr || !takes_a_step(*part) || part_ == name) return;
  part_ = name;
  board_revision_ = 0;
}

const std::vector<HillStep>& Hill::steps(const Session& session) {
  const Board& board = session.board();
  const bool read_anew = readings_revision_ != session.readings_revision();
  std::vector<PartId> closed = read_anew ? closed_reeds(board, session.readings()) : closed_reeds_;
  if (board_revision_ != session.board_revision() || closed != closed_reeds_) {
    if (!board.find(part_)) {
      // What does something, else whatever can stand on a path.
      auto at = std::find_if(board.parts.begin(), board.parts.end(), is_load);
      if (at == board.parts.end()) at = std::find_if(board.parts.begin(), board.parts.end(), takes_a_step);
      part_ = at == board.parts.end() ? std::string() : at->name;
    }
    const Part* part = board.find(part_);
    path_ = part ? path_through(board, session.wiring(), session.readings(), part->id) : Path{};
    closed_reeds_ = std::move(closed);
    board_revision_ = session.board_revision();
    readings_revision_ = 0;
  }
  if (readings_revision_ != session.readings_revision()) {
    steps_ = hill_of(board, session.readings(), path_);
    readings_revision_ = session.readings_revision();
  }
  return steps_;
}

}  // namespace tiepoint
