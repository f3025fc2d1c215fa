// SolverPlan: how a circuit is taken apart before anything is solved. Pure structure, found once per circuit.
//
// - A held node's voltage is known beforehand: a reference (0 V), or joined to a held node by an ideal voltage source. Such a
//   source needs no unknown: its current follows from the currents of the others at its node.
// - An island is a set of nodes, not held, that elements join without passing through a held node. Islands do not feel each
// other
//   and are solved and stepped alone.
// - A group is a galvanically joined part of the circuit. One without a reference gets its first node as one, so that its
// currents
//   can be found; its voltages have no meaning to a reader.
// - A knot is a set of island nodes that no path for direct current joins to a held node: only charge ties it down, or nothing.
#pragma once

#include <optional>
#include <span>

#include "engine/circuit/circuit.h"
#include "engine/devices/model.h"
#include "engine/solver/arena.h"
#include "engine/solver/parameters.h"

namespace tiepoint {

struct HeldNode {
  int node = -1;
  int parent = -1;  // index into SolverPlan::held, earlier in the list; -1: this node is a reference
  int source = -1;  // the element between parent and node
  double sign = 1;  // voltage = parent's voltage + sign * source's voltage
};

struct PlanRows {  // [r]: row r's items
  Row<int> first, items;
  std::span<const int> operator[](size_t row) const { return {items.data() + first[row], size_t(first[row + 1] - first[row])}; }
};

struct SolverPlan {
  Row<HeldNode> held;
  Row<int> held_of_node;       // -1: not held
  Row<char> has_reading;       // per node: its group has a reference of the circuit's own
  Row<int> island_of_element;  // -1: a source that holds a node
  int island_count = 0;
  PlanRows island_elements;
  PlanRows island_nodes;
  Row<int> row_of_node;             // its place among the nodes of its island; of a held one -1 - its place in `held`
  Row<Row<Row<int>>> island_knots;  // nodes of each knot of each island; empty: none has any
  std::optional<Error> error;       // ideal sources form a loop
};

SolverPlan make_plan(const Circuit& circuit);

// Error when resistance-free coils form a loop, with ideal sources or without: no settled state. Loops of sources alone: SolverPlan::error.
std::optional<Error> find_settled_loop(const Circuit& circuit, const Parameters& parameters);

}  // namespace tiepoint
