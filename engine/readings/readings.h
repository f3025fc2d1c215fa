// Readings: an immutable snapshot of what instruments and eyes would find. Views read it; nothing reads solver internals.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/wiring.h"
#include "engine/parts/part_type.h"
#include "engine/solver/solution.h"

namespace tiepoint {

struct PartReading : PartNumbers {
  std::vector<double> lead_current;  // [A] lead_current[lead], positive into the part
  std::vector<double> lead_voltage;  // [V] at the lead, NaN: no reading
};

struct Readings {
  double time = 0;                     // [s] simulated
  std::vector<double> strip_voltage;   // [V] strip_voltage[strip], NaN: no reading (floating, or no solution)
  std::vector<int> strip_island;       // reference group of each strip, -1: touches nothing; voltages compare within one
  std::vector<double> net_voltage;     // [V] mean over the net's strips that have a reading, else NaN
  std::vector<double> net_spread;      // [V] highest minus lowest strip of the net: the drop in its wires
  std::vector<PartReading> parts;      // parts[index into board.parts]
  SolverStatistics statistics;
  std::optional<Error> error;          // no solution: then every number is NaN
};

Readings take_readings(const Board& board, const Wiring& wiring, const Circuit& circuit, const Solution& solution);

// [V] at a hole, NaN when there is no reading.
double voltage_at(const Board& board, const Wiring& wiring, const Readings& readings, Hole hole);

}  // namespace tiepoint
