#include "engine/lesson/shift.h"

#include <algorithm>

namespace tiepoint {
namespace {

// Invalid when there is no such column.
Hole moved(const Board& board, Hole hole, int columns) {
  const Layout& layout = board.layout_of(hole);
  HolePlace place = place_of(layout, hole.index);
  if (place.on_rail) return hole;
  place.column += columns;
  const int index = place.column < 1 || place.column > layout.columns ? -1 : index_of(layout, place);
  return index < 0 ? Hole{} : Hole{hole.breadboard, uint16_t(index)};
}

}  // namespace

Result<Board> shifted(const Board& board, int columns) {
  Board out = board;
  if (columns == 0) return out;
  for (Part& part : out.parts) {
    bool all = true;
    for (size_t lead = 0; lead < part.leads.size(); ++lead) {
      if (!part.leads[lead].valid()) continue;
      const Hole to = moved(board, part.leads[lead], columns);
      if (!to.valid())
        return Error{.code = Code::kOffBoard,
                     .part = part.name,
                     .lead = std::string(part.kind->leads[lead].name),
                     .hole = board.name_of(part.leads[lead])};
      all = all && !(to == part.leads[lead]);
      part.leads[lead] = to;
    }
    if (all)
      for (MatPoint& bend : part.bends) bend.x += columns;
    else
      part.bends.clear();
  }
  for (const Part& part : out.parts)
    if (const Status status = check_seat(out, part); !status) return status.error();
  return out;
}

}  // namespace tiepoint
