#include "engine/board/journal.h"

#include <algorithm>

namespace tiepoint {
namespace {

// Calls visit(Part&) for every part that the edit would place.
template <class Visit>
void each_placed(Edit& edit, const Visit& visit) {
  if (auto* place = std::get_if<PlacePart>(&edit.act)) visit(place->part);
  if (auto* batch = std::get_if<Batch>(&edit.act))
    for (Edit& one : batch->edits) each_placed(one, visit);
}

// Whoever held a button has let go of it by the time it comes back.
void let_go(Edit& edit) {
  each_placed(edit, [](Part& part) {
    for (size_t i = 0; i < part.values.size() && i < part.kind->values.size(); ++i)
      if (part.kind->values[i].use == Use::kMomentary) part.values[i] = part.kind->values[i].standard;
  });
}

}  // namespace

Result<Applied> Journal::apply(const Edit& edit) {
  for (const Part& part : board_.parts) next_id_ = std::max(next_id_, part.id.value + 1);
  // Ids are given here so that one that is gone is never given again: whoever still holds it finds nothing.
  Edit with_ids = edit;
  uint32_t next_id = next_id_;
  each_placed(with_ids, [&](Part& part) {
    if (!part.id) part.id.value = next_id++;
  });
  Result<Applied> applied = tiepoint::apply(board_, with_ids);
  if (!applied) return applied;
  next_id_ = next_id;
  if (applied->momentary) return applied;
  done_.push_back({edit, applied->inverse});
  // So that the step can be told by the name the part got.
  if (auto* place = std::get_if<PlacePart>(&done_.back().forward.act); place && place->part.name.empty()) place->part.name = applied->part;
  let_go(done_.back().back);
  undone_.clear();
  return applied;
}

Result<Applied> Journal::undo() {
  if (done_.empty()) return Error{.code = Code::kNothingToUndo};
  Result<Applied> applied = tiepoint::apply(board_, done_.back().back);
  if (!applied) return applied;
  undone_.push_back({std::move(done_.back().forward), applied->inverse});
  let_go(undone_.back().back);
  done_.pop_back();
  return applied;
}

Result<Applied> Journal::redo() {
  if (undone_.empty()) return Error{.code = Code::kNothingToRedo};
  Result<Applied> applied = tiepoint::apply(board_, undone_.back().back);
  if (!applied) return applied;
  done_.push_back({std::move(undone_.back().forward), applied->inverse});
  let_go(done_.back().back);
  undone_.pop_back();
  return applied;
}

const Edit* Journal::next_undo() const { return done_.empty() ? nullptr : &done_.back().forward; }
const Edit* Journal::next_redo() const { return undone_.empty() ? nullptr : &undone_.back().forward; }

std::vector<Edit> Journal::history() const {
  std::vector<Edit> edits;
  for (const Step& step : done_) edits.push_back(step.forward);
  return edits;
}

}  // namespace tiepoint
