// Circuit: the netlist. Nodes, element instances with their parameters, each with a way back to part, lead and hole.
// Structure (kinds, terminals) is fixed for one revision; parameter values may change in place without a rebuild.
//
// Sign convention: a terminal current is positive INTO the element; an element's current is that of terminal 0.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/wiring.h"
#include "engine/parts/element.h"

namespace tiepoint {

using NodeIndex = int;  // dense, valid for one circuit revision

struct Element {
  ElementKind kind;
  int first_terminal = 0;  // into Circuit::terminals and Solution::terminal_current
  int terminal_count = 0;
  int first_parameter = 0;  // into Circuit::parameters
  int parameter_count = 0;
  int part = -1;  // index into board.parts, -1 in circuits read from a file
};

// Where a node lies on the bench. Exactly one of strip >= 0, or (part >= 0: that part's inner node).
struct NodeOrigin {
  StripIndex strip = -1;
  int part = -1;
  int inner = -1;
};

struct Circuit {
  int node_count = 0;
  std::vector<Element> elements;
  std::vector<NodeIndex> terminals;     // terminals[element.first_terminal + k]
  std::vector<double> parameters;       // SI units
  std::vector<NodeIndex> references;    // nodes that are 0 V by definition: one per galvanically joined group that has a supply or an instrument
  std::vector<NodeOrigin> node_origin;  // size node_count for boards, empty for files
  std::vector<std::string> node_name;   // for messages: "0", "out" in files; "e12", "top+" on boards
  std::vector<std::string> element_name;
  std::vector<NodeIndex> node_of_piece;    // boards: per strip, then per unseen half (wiring.h); -1 where no element touches
  std::vector<NodeIndex> node_of_lead;     // boards: per lead in one row, -1 for one that no element uses
  std::vector<int> first_lead_of_part;     // size parts + 1: leads of all parts in one row
  Rows<int> terminals_of_lead;             // terminals_of_lead[first_lead_of_part[part] + lead]
  std::vector<int> first_element_of_part;  // size parts + 1: elements of part p are [p], [p+1)

  // Terminals (indices into `terminals`) whose currents sum to that of the lead.
  std::span<const int> lead_terminals(int part, int lead) const {
    return terminals_of_lead[size_t(first_lead_of_part[size_t(part)] + lead)];
  }
  std::span<const NodeIndex> nodes(const Element& e) const {
    return {terminals.data() + e.first_terminal, size_t(e.terminal_count)};
  }
  std::span<const double> values(const Element& e) const {
    return {parameters.data() + e.first_parameter, size_t(e.parameter_count)};
  }
};

// Extracts the netlist of a board. Never fails: parts that touch nothing, islands without a supply, both leads in one strip and
// an empty board are ordinary inputs. Nodes: every strip that an element's lead touches, in strip order, then the parts' inner
// nodes in part order. Wires and legs that are one piece inside a part are elements too (metal has resistance): they join
// strips to one net, not to one node. Linear in the size of the board.
Circuit extract(const Board& board, const Wiring& wiring);

// Copies the present values of one part into the circuit. False when its elements no longer have the same structure (then
// extract again); true and the elements' parameters updated otherwise.
bool refresh_values(Circuit& circuit, const Board& board, int part);

// Groups of nodes joined by elements of any kind (a capacitor ties its ends together by charge), numbered by their first node:
// group_of_node[node]; used for references and for "no reading".
std::vector<int> galvanic_groups(const Circuit& circuit, int* group_count = nullptr);

}  // namespace tiepoint
