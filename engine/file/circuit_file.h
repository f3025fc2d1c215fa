// Circuit file: a netlist without a board, for textbook problems and reference checks. Ideal: no contact or wire resistance.
// Format: web/schema/circuit.schema.json.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/error.h"
#include "engine/solver/solution.h"

namespace tiepoint {

inline constexpr size_t kMostElements = 100000;

struct Probe {
  std::string name;
  enum class Of { kNodeVoltage, kElementCurrent, kElementPower } of = Of::kNodeVoltage;
  int node = -1, against = -1;  // voltage of node against `against` (-1: the reference)
  int element = -1;
};

struct CircuitFile {
  std::string title;
  Circuit circuit;
  std::vector<Probe> probes;             // when the file lists none: every node's voltage, every element's current
  double duration = 0;                   // [s] 0: operating point only
  double sample = 0;                     // [s] spacing of the samples; 0: duration / 200
  bool from_initial_conditions = false;  // start from the given charges instead of the operating point
  SolverOptions options;
};

// Errors carry a JSON pointer, or line and column when it is no JSON at all.
Result<CircuitFile> read_circuit(std::string_view text);
double value_of(const Probe& probe, const Circuit& circuit, const Solution& solution);

}  // namespace tiepoint
