#include "shell/bench/boards.h"

#include <algorithm>
#include <cmath>

#include "shell/bench/pose.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {
constexpr double kLongestRow = 72;  // hole steps: two half boards side by side; whole ones go below each other
}

Result<Edit> add_breadboard(const Board& board, LayoutKind kind, bool split_rails) {
  Breadboard next{kind, split_rails, {}};
  const MatArea bare = board_plate(next), first = board_plate(board.breadboards.front());
  double right = first.max.x, down = first.max.y;
  for (const Breadboard& one : board.breadboards) {
    const MatArea plate = board_plate(one);
    if (plate.min.y < first.max.y) right = std::max(right, plate.max.x);
    down = std::max(down, plate.max.y);
  }
  const bool beside = right + (bare.max.x - bare.min.x) - first.min.x <= kLongestRow;
  // On the grid, edge to edge as nearly as that allows.
  next.origin = beside ? GridPoint{int(std::ceil(right - bare.min.x)), board.breadboards.front().origin.y}
                       : GridPoint{board.breadboards.front().origin.x, int(std::ceil(down - bare.min.y))};
  Board after = board;
  after.breadboards.push_back(next);
  if (const Status fits = check_breadboards(after.breadboards); !fits) return fits.error();
  Batch batch{{Edit{SetBreadboards{after.breadboards}}}};
  for (const Part& part : board.parts) {
    if (part.kind->footprint.seat != Seat::kMat) continue;
    const MatPoint to = beside_boards(after, part, part.mat);
    if (!(to == part.mat)) batch.edits.push_back({MovePart{part.name, {}, part.turn, to}});
  }
  return batch.edits.size() == 1 ? batch.edits.front() : Edit{std::move(batch)};
}

Result<Edit> drop_breadboard(const Board& board) {
  if (board.breadboards.size() < 2)
    return Error{.code = Code::kBadValue, .found = "the only breadboard", .expected = "one more to stay"};
  std::vector<Breadboard> fewer = board.breadboards;
  fewer.pop_back();
  return Edit{SetBreadboards{std::move(fewer)}};
}

}  // namespace tiepoint
