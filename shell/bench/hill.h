// The path as a hill: the voltage along one loop of the board as height. Which loop, and its numbers; hill_panel.cpp draws it,
// page_box.cpp tells it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "engine/explain/why.h"
#include "engine/session/session.h"

namespace tiepoint {

class Hill {
 public:
  // The part the path goes through; "" while nobody has chosen one.
  const std::string& part() const { return part_; }
  // Chooses a part; what no path leads through by its nature (a wire, a supply, an instrument) leaves the choice as it was.
  void choose(const Board& board, std::string_view part);
  // The steps as they stand now. The path is looked for again only after a change of the board or of a contact that keeps its state
  // (closed_reeds), the numbers are those of the last readings.
  const std::vector<HillStep>& steps(const Session& session);

 private:
  std::string part_;
  uint64_t board_revision_ = 0, readings_revision_ = 0;
  std::vector<PartId> closed_reeds_;  // that the path was found with
  Path path_;
  std::vector<HillStep> steps_;
};

// May a path be asked for through this part?
bool takes_a_step(const Part& part);
// Does a step show as one? A wire's few microvolts do not.
bool is_flat(const Board& board, const HillStep& step);

}  // namespace tiepoint
