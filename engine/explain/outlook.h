// Outlook: how well would a board do after a change, judged with the real solver against what it does now. No unit: strains are
// weighted, and only the order of the sums matters.
#pragma once

#include <string>
#include <vector>

#include "engine/board/edit.h"
#include "engine/explain/trial.h"

namespace tiepoint {

class Outlook {
 public:
  // `now`: the trial of the board as it stands, of this many positions. `values`: a wrong value that is left counts as a second fault of
  // its own, which is looked for. All must outlive the outlook.
  Outlook(const Board& board, const Trial& now, int positions, bool values) : board_(board), now_(now), positions_(positions), values_(values) {}

  // What strains the board after these edits and those of a second movement; a large sum when they do not fit.
  double strain_after(const std::vector<Edit>& edits, const std::vector<Edit>& second = {}) const;

 private:
  bool disturbed(const std::string& name, const Board& changed, const Trial& after) const;
  bool darkened(const std::string& name, const Board& changed, const Trial& after) const;

  const Board& board_;
  const Trial& now_;
  const int positions_;
  const bool values_;
};

// On a board with switches mostly all lamps are ruled by them, or none: what some lamps beside them weigh.
double unruled(const Board& board, const Trial& trial);

}  // namespace tiepoint
