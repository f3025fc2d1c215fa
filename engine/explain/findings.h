// What is wrong on this board, and what would put it right: the most likely cause first.
//
// Method. A learner's intention cannot be read from a board, but a board that was built on purpose is economical: every part has
// a function. So each finding comes from the smallest change of the board (one hand movement: a lead one hole over, a part turned,
// a wire added or taken away, a value changed) after which every part has one. See scene.h, judge.h, repairs.h.
#pragma once

#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/explain/finding.h"
#include "engine/readings/readings.h"

namespace tiepoint {

// What is known of a board at one moment; all of one revision.
struct Observed {
  const Board& board;
  const Wiring& wiring;
  const Circuit& circuit;
  const Readings& readings;
};

struct FindingOptions {
  int most = 12;             // findings given at most
  int alternatives = 3;      // other explanations of the first trouble given at most
  bool try_on_circuit = true;  // settle close between repairs by solving the changed board
};

// Pure and deterministic. Best first; when there is no fault the first one is kWorks (or kNoPart, kUnfinished).
std::vector<Finding> findings(const Observed& bench, const FindingOptions& options = {});

// Does any of them say that something is wrong?
bool any_fault(const std::vector<Finding>& findings);

}  // namespace tiepoint
