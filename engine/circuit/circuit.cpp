#include "engine/circuit/circuit.h"

#include <algorithm>
#include <numeric>

#include "engine/parts/specimen.h"

namespace tiepoint {
namespace {

// Elements of all parts, one after another, and where each part's begin.
void list_elements(const Board& board, ElementList& list, Circuit& circuit) {
  const size_t parts = board.parts.size();
  circuit.first_element_of_part.reserve(parts + 1);
  circuit.first_lead_of_part.reserve(parts + 1);
  list.entries.reserve(2 * parts);
  list.terminals.reserve(4 * parts);
  list.parameters.reserve(8 * parts);
  int leads = 0;
  for (const Part& part : board.parts) {
    circuit.first_element_of_part.push_back(int(list.entries.size()));
    circuit.first_lead_of_part.push_back(leads);
    real_elements(board, part, list);
    leads += int(part.leads.size());
  }
  circuit.first_element_of_part.push_back(int(list.entries.size()));
  circuit.first_lead_of_part.push_back(leads);
}

NodeIndex add_node(Circuit& circuit, NodeOrigin origin, std::string name) {
  circuit.node_origin.push_back(origin);
  circuit.node_name.push_back(std::move(name));
  return circuit.node_count++;
}

// A node for every piece of metal that an element's lead touches, in the order of the pieces.
void number_pieces(const Board& board, const Wiring& wiring, const ElementList& list, Circuit& circuit) {
  constexpr NodeIndex kTouched = 0, kNone = -1;
  const std::vector<StripIndex> cracked = cracked_strips(board, wiring);
  circuit.node_of_piece.assign(size_t(wiring.strip_count) + cracked.size(), kNone);
  std::vector<PieceIndex> piece_of_lead = wiring.strip_of_lead.items;
  if (!cracked.empty())
    for (size_t p = 0; p < board.parts.size(); ++p)
      for (size_t lead = 0; lead < board.parts[p].leads.size(); ++lead)
        if (const PieceIndex piece = piece_of(board, wiring, board.parts[p].leads[lead]); piece >= 0)
          piece_of_lead[size_t(circuit.first_lead_of_part[p]) + lead] = piece;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const int leads = int(board.parts[p].leads.size());
    for (int e = circuit.first_element_of_part[p]; e < circuit.first_element_of_part[p + 1]; ++e)
      for (int terminal : list.ends(list.entries[size_t(e)]))
        if (terminal < leads) circuit.node_of_piece[size_t(piece_of_lead[size_t(circuit.first_lead_of_part[p] + terminal)])] = kTouched;
  }
  for (size_t piece = 0; piece < circuit.node_of_piece.size(); ++piece) {
    if (circuit.node_of_piece[piece] != kTouched) continue;
    const StripIndex strip = int(piece) < wiring.strip_count ? int(piece) : cracked[piece - size_t(wiring.strip_count)];
    circuit.node_of_piece[piece] = add_node(circuit, {.strip = strip}, place_name(board, wiring, strip));
  }
  circuit.node_of_lead.reserve(piece_of_lead.size());
  for (const PieceIndex piece : piece_of_lead) circuit.node_of_lead.push_back(circuit.node_of_piece[size_t(piece)]);
}

std::string element_name(const Part& part, int number) {
  return number == 0 ? part.name : part.name + "#" + std::to_string(number + 1);
}

// The part's inner nodes and elements. `lead_of_terminal` gets, per terminal, the lead it belongs to in the row of all leads or
// -1.
void add_part(const Board& board, const ElementList& list, int p, Circuit& circuit, std::vector<int>& lead_of_terminal) {
  const Part& part = board.parts[size_t(p)];
  const int first_lead = circuit.first_lead_of_part[size_t(p)], leads = int(part.leads.size());
  const NodeIndex first_inner = circuit.node_count;
  for (int inner = 0; inner < real_inner_nodes(part); ++inner)
    add_node(circuit, {.part = p, .inner = inner}, "inside " + part.name);
  const int first_element = circuit.first_element_of_part[size_t(p)];
  for (int e = first_element; e < circuit.first_element_of_part[size_t(p) + 1]; ++e) {
    const ElementList::Entry& entry = list.entries[size_t(e)];
    circuit.elements.push_back({.kind = entry.kind,
                                .first_terminal = entry.first_terminal,
                                .terminal_count = entry.terminal_count,
                                .first_parameter = entry.first_parameter,
                                .parameter_count = entry.parameter_count,
                                .part = p});
    circuit.element_name.push_back(element_name(part, e - first_element));
    for (int terminal : list.ends(entry)) {
      const bool is_lead = terminal < leads;
      circuit.terminals.push_back(is_lead ? circuit.node_of_lead[size_t(first_lead + terminal)] : first_inner + terminal - leads);
      lead_of_terminal.push_back(is_lead ? first_lead + terminal : -1);
    }
  }
}

// The zero of each group: the reference lead of its first supply in board order; in a group without any supply that of its first
// instrument, which brings a source of its own.
void choose_references(const Board& board, Circuit& circuit) {
  int groups = 0;
  const std::vector<int> group = galvanic_groups(circuit, &groups);
  std::vector<char> has_zero(size_t(groups), 0);
  const auto offer = [&](size_t p, int lead) {
    if (lead < 0) return;
    const NodeIndex node = circuit.node_of_lead[size_t(circuit.first_lead_of_part[p] + lead)];
    if (node < 0 || has_zero[size_t(group[size_t(node)])]) return;
    has_zero[size_t(group[size_t(node)])] = 1;
    circuit.references.push_back(node);
  };
  for (size_t p = 0; p < board.parts.size(); ++p) offer(p, type_of(board.parts[p]).reference_lead);
  for (size_t p = 0; p < board.parts.size(); ++p) offer(p, type_of(board.parts[p]).measuring_lead);
}

}  // namespace

Circuit extract(const Board& board, const Wiring& wiring) {
  Circuit circuit;
  ElementList list;
  list_elements(board, list, circuit);
  number_pieces(board, wiring, list, circuit);
  circuit.elements.reserve(list.entries.size());
  circuit.element_name.reserve(list.entries.size());
  circuit.terminals.reserve(list.terminals.size());
  std::vector<int> lead_of_terminal;
  lead_of_terminal.reserve(list.terminals.size());
  for (int p = 0; p < int(board.parts.size()); ++p) add_part(board, list, p, circuit, lead_of_terminal);
  circuit.parameters = std::move(list.parameters);
  circuit.terminals_of_lead = sort_into_rows<int>(
      circuit.first_lead_of_part.back(), int(lead_of_terminal.size()), [&](int t) { return lead_of_terminal[size_t(t)]; },
      [](int t) { return t; });
  choose_references(board, circuit);
  return circuit;
}

bool refresh_values(Circuit& circuit, const Board& board, int part) {
  if (part < 0 || part >= int(board.parts.size()) || circuit.first_element_of_part.size() != board.parts.size() + 1)
    return false;
  const int first = circuit.first_element_of_part[size_t(part)];
  const int count = circuit.first_element_of_part[size_t(part) + 1] - first;
  ElementList list;
  real_elements(board, board.parts[size_t(part)], list);
  if (int(list.entries.size()) != count) return false;
  for (int k = 0; k < count; ++k) {
    const ElementList::Entry& entry = list.entries[size_t(k)];
    const Element& element = circuit.elements[size_t(first + k)];
    if (entry.kind != element.kind || entry.terminal_count != element.terminal_count ||
        entry.parameter_count != element.parameter_count)
      return false;
  }
  // One part's parameters lie in one piece, in the order of its elements.
  if (count > 0)
    std::copy(list.parameters.begin(), list.parameters.end(),
              circuit.parameters.begin() + circuit.elements[size_t(first)].first_parameter);
  return true;
}

std::vector<int> galvanic_groups(const Circuit& circuit, int* group_count) {
  std::vector<int> group(size_t(circuit.node_count));
  std::iota(group.begin(), group.end(), 0);
  const auto root = [&](int i) {
    while (group[size_t(i)] != i) i = group[size_t(i)] = group[size_t(group[size_t(i)])];
    return i;
  };
  for (const Element& element : circuit.elements) {
    const std::span<const NodeIndex> nodes = circuit.nodes(element);
    const std::string_view side = sides(element.kind);
    for (size_t k = 1; k < nodes.size(); ++k) {
      // Joined to the terminal before, unless a new side begins here.
      if (!side.empty() && side[k] != side[k - 1]) continue;
      const int a = root(nodes[k - 1]), b = root(nodes[k]);
      group[size_t(std::max(a, b))] = std::min(a, b);
    }
  }
  // Roots come first in their group, so one pass numbers them: a root takes the next number, the others their root's. A node's
  // entry is read as a parent until it is overwritten, and parents lie before it.
  int count = 0;
  for (int i = 0; i < circuit.node_count; ++i)
    group[size_t(i)] = group[size_t(i)] == i ? count++ : group[size_t(group[size_t(i)])];
  if (group_count) *group_count = count;
  return group;
}

}  // namespace tiepoint
