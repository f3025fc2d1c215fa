// Builds an island's structure: which unknown stands where, and where its numbers go in the matrix.
#include <algorithm>
#include <iterator>

#include "engine/solver/island.h"

namespace tiepoint {

void Island::build(const Circuit& circuit, const SolverPlan& plan, int island, const Parameters& p, Storage storage) {
  parameters = &p;
  map_unknowns(circuit, plan, island, p);
  build_pattern(storage);
  x.assign(total, 0), f.assign(total, 0), q.assign(total, 0), mag.assign(total, 0), source_f_.assign(total, 0),
      row_error.assign(size, 0);
  matrix.assign(size_t(solver.slot_count()) + 1, 0);
}

void Island::map_unknowns(const Circuit& circuit, const SolverPlan& plan, int island, const Parameters& p) {
  const auto nodes_here = plan.island_nodes[island];
  const auto elements_here = plan.island_elements[island];
  node_of_row.assign(nodes_here.begin(), nodes_here.end());
  node_count = int(node_of_row.size());
  size = node_count;
  const auto row_of = [&](int node) { return plan.row_of_node[node]; };
  owner_of_row.assign(node_count, -1);
  int last = 0, local = 0;
  size_t most_places = 0, curved = 0;
  for (const int e : elements_here) {
    const Model& law = model(circuit.elements[e].kind);
    most_places += size_t(circuit.elements[e].terminal_count + law.extra);
    curved += !law.linear;
  }
  maps.reserve(most_places), members.reserve(elements_here.size()), nonlinear_.reserve(curved);
  Row<std::pair<int, int>> held_at;  // place in maps, index into plan.held
  for (const int e : elements_here) {
    const Element& element = circuit.elements[e];
    Member member = {.element = e,
                     .model = &model(element.kind),
                     .values = p.of(e),
                     .terminals = element.terminal_count,
                     .map = int(maps.size())};
    for (const int node : circuit.nodes(element)) {
      if (plan.held_of_node[node] >= 0) held_at.emplace_back(int(maps.size()), plan.held_of_node[node]);
      maps.push_back(plan.held_of_node[node] >= 0 ? -1 : row_of(node));
    }
    const int extra = extra_of(*member.model, p.of(e));
    member.m = member.terminals + extra;
    for (int k = 0; k < extra; ++k) {
      maps.push_back(size++);
      owner_of_row.push_back(e);
    }
    if (!member.model->linear) {
      member.last = last;
      last += member.m;
      member.local = local;
      local += 2 * member.m * (1 + member.m);
      nonlinear_.push_back(int(members.size()));
      linear = false;
    }
    has_modes = has_modes || member.model->events > 0 || member.model->lasts;
    members.push_back(member);
  }
  last_x_.assign(last, 0);
  local_.assign(local, 0);
  held.reserve(held_at.size());
  for (const auto& [place, h] : held_at) held.push_back(h);
  std::sort(held.begin(), held.end());
  held.erase(std::unique(held.begin(), held.end()), held.end());
  for (const auto& [place, h] : held_at) maps[place] = size + int(std::lower_bound(held.begin(), held.end(), h) - held.begin());
  total = size + int(held.size());
  for (int h : held)
    for (; h >= 0; h = plan.held[h].parent) held_needed.push_back(h);
  std::sort(held_needed.begin(), held_needed.end());
  held_needed.erase(std::unique(held_needed.begin(), held_needed.end()), held_needed.end());
  for (const int h : held_needed)
    if (plan.held[h].source >= 0) held_sources.push_back(plan.held[h].source);
  for (const auto& nodes : plan.island_knots[island]) {
    Knot knot;
    for (const int node : nodes) knot.rows.push_back(row_of(node));
    std::sort(knot.rows.begin(), knot.rows.end());
    for (size_t i = 0; i < members.size(); ++i) {
      if (!members[i].model->stores) continue;
      const int* map = &maps[members[i].map];
      if (std::any_of(map, map + members[i].terminals,
                      [&](int row) { return std::binary_search(knot.rows.begin(), knot.rows.end(), row); }))
        knot.members.push_back(int(i));
    }
    knots.push_back(std::move(knot));
  }
}

void Island::build_pattern(Storage storage) {
  const auto each_place = [&](const Member& member, auto&& use) {
    const int* const map = &maps[member.map];
    for (int row = 0; row < member.m; ++row)
      for (int column = 0; column < member.m; ++column) use(map[row], map[column]);
  };
  size_t count = size_t(size);
  for (const Member& member : members) count += size_t(member.m * member.m);
  matrix_slots.resize(count - size_t(size));
  Row<std::pair<int, int>> places;
  places.reserve(count);
  for (const Member& member : members)
    each_place(member, [&](int row, int column) {
      if (row < size && column < size) places.emplace_back(row, column);
    });
  for (const Knot& knot : knots)
    for (const int i : knot.members)
      for (int k = 0; k < members[i].m; ++k)
        if (const int column = maps[members[i].map + k]; column < size) places.emplace_back(knot.rows[0], column);
  for (int k = 0; k < size; ++k) places.emplace_back(k, k);
  solver.analyse(size, node_count, places, storage);
  for (Knot& knot : knots)
    for (const auto& [row, column] : places)
      if (row == knot.rows[0]) knot.slots.push_back(solver.slot(row, column));
  diagonal_.resize(node_count);
  for (int k = 0; k < node_count; ++k) diagonal_[k] = solver.slot(k, k);
  const int nowhere = solver.slot_count();
  int* slot = matrix_slots.data();
  for (Member& member : members) {
    member.slots = int(slot - matrix_slots.data());
    each_place(member,
               [&](int row, int column) { *slot++ = row < size && column < size ? solver.slot(row, column) : nowhere; });
  }
}

}  // namespace tiepoint
