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
  node_of_row = plan.island_nodes[island];
  node_count = int(node_of_row.size());
  size = node_count;
  const auto row_of = [&](int node) {
    return int(std::lower_bound(node_of_row.begin(), node_of_row.begin() + node_count, node) - node_of_row.begin());
  };
  owner_of_row.assign(node_count, -1);
  int last = 0, local = 0;
  std::vector<std::pair<int, int>> held_at;  // place in maps, index into plan.held
  for (const int e : plan.island_elements[island]) {
    const Element& element = circuit.elements[e];
    Member member = {.element = e, .model = &model(element.kind), .terminals = element.terminal_count, .map = int(maps.size())};
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
  std::vector<std::pair<int, int>> places;
  const auto each_place = [&](const Member& member, auto&& use) {
    for (int row = 0; row < member.m; ++row)
      for (int column = 0; column < member.m; ++column) use(maps[member.map + row], maps[member.map + column]);
  };
  for (const Member& member : members)
    each_place(member, [&](int row, int column) {
      if (row < size && column < size) places.emplace_back(row, column);
    });
  for (const Knot& knot : knots)
    for (const int i : knot.members)
      for (int k = 0; k < members[i].m; ++k)
        if (const int column = maps[members[i].map + k]; column < size) places.emplace_back(knot.rows[0], column);
  for (int k = 0; k < size; ++k) places.emplace_back(k, k);
  std::vector<int> knot_of_row(size, -1);
  for (size_t k = 0; k < knots.size(); ++k) knot_of_row[knots[k].rows[0]] = int(k);
  std::vector<std::pair<int, int>> tied;  // places in the rows that give way
  if (!knots.empty())
    std::copy_if(places.begin(), places.end(), std::back_inserter(tied),
                 [&](const auto& at) { return knot_of_row[at.first] >= 0; });
  solver.analyse(size, std::move(places), storage);
  for (const auto& [row, column] : tied) knots[knot_of_row[row]].slots.push_back(solver.slot(row, column));
  for (int k = 0; k < node_count; ++k) diagonal_.push_back(solver.slot(k, k));
  const int nowhere = solver.slot_count();
  for (Member& member : members) {
    member.slots = int(matrix_slots.size());
    each_place(member, [&](int row, int column) {
      matrix_slots.push_back(row < size && column < size ? solver.slot(row, column) : nowhere);
    });
  }
}

}  // namespace tiepoint
