// Builds an island's structure: which unknown stands where, and where its numbers go in the matrix.
#include <algorithm>
#include <bit>
#include <iterator>
#include <vector>

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
  owner_of_row.assign(node_count, -1);
  int last = 0, local = 0;
  size_t most_places = 0, curved = 0;
  for (const int e : elements_here) {
    const Model& law = model(circuit.elements[e].kind);
    most_places += size_t(circuit.elements[e].terminal_count + law.extra);
    curved += !law.linear;
  }
  members.reserve(elements_here.size()), nonlinear_.resize(curved + 1);
  maps.resize(most_places);
  // Written without forks where the kinds of elements follow one another anyhow: a processor guesses those wrong.
  const bool few_held = plan.held.size() <= 64;
  uint64_t held_here = 0;  // of few
  int place = 0, count = 0;
  for (const int e : elements_here) {
    const Element& element = circuit.elements[e];
    Member& member = members.emplace_back();
    const Model& law = model(element.kind);
    member.element = e, member.model = &law, member.values = p.of(e);
    member.terminals = element.terminal_count, member.map = place;
    const NodeIndex* const nodes = circuit.terminals.data() + element.first_terminal;
    for (int k = 0; k < element.terminal_count; ++k) {
      const int at = plan.row_of_node[nodes[k]];
      maps[place++] = at;
      held_here |= uint64_t(at < 0) << (~at & 63);
      if (!few_held && at < 0) held.push_back(-1 - at);
    }
    const int extra = extra_of(law, member.values);
    member.m = member.terminals + extra;
    for (int k = 0; k < extra; ++k) {
      maps[place++] = size++;
      owner_of_row.push_back(e);
    }
    member.last = last, member.local = local;
    last += law.linear ? 0 : member.m;
    local += law.linear ? 0 : 2 * member.m * (1 + member.m);
    nonlinear_[count] = int(members.size()) - 1;
    count += !law.linear;
    if (law.next_corner || law.moving || law.longest_step || law.lasts) in_time_.push_back(int(members.size()) - 1);
    given_charges_ |= law.initial != nullptr;
    has_modes |= (law.events > 0) | (law.lasts != nullptr);
  }
  nonlinear_.resize(curved);
  linear = curved == 0;
  maps.resize(place);
  last_x_.assign(last, 0);
  local_.assign(local, 0);
  const auto sort_out = [](Row<int>& list) {
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end()), list.end());
  };
  for (; held_here != 0 && few_held; held_here &= held_here - 1) held.push_back(std::countr_zero(held_here));
  if (!few_held) sort_out(held);
  if (held.size() <= 2) {
    const int other = held.size() == 2 ? -1 - held[1] : 0;
    for (int& at : maps) at = at >= 0 ? at : size + (at == other);
  } else {
    for (int& at : maps)
      if (at < 0) at = size + int(std::lower_bound(held.begin(), held.end(), -1 - at) - held.begin());
  }
  total = size + int(held.size());
  for (int h : held)
    for (; h >= 0; h = plan.held[h].parent) held_needed.push_back(h);
  if (held_needed.size() > 1) sort_out(held_needed);
  for (const int h : held_needed)
    if (plan.held[h].source >= 0) held_sources.push_back(plan.held[h].source);
  if (plan.island_knots.empty()) return;
  for (const auto& nodes : plan.island_knots[island]) {
    Knot knot;
    for (const int node : nodes) knot.rows.push_back(plan.row_of_node[node]);
    std::sort(knot.rows.begin(), knot.rows.end());
    for (size_t i = 0; i < members.size(); ++i) {
      if (!members[i].model->stores) continue;
      const int* const map = &maps[members[i].map];
      const auto inside = [&](int row) { return std::binary_search(knot.rows.begin(), knot.rows.end(), row); };
      const int* const end = map + members[i].terminals;
      const int* const in = std::find_if(map, end, inside);
      if (in == end) continue;
      knot.members.push_back(int(i));
      // Where a capacitor leads out its charge takes the place of the currents. A node that next to no current comes to would leave
      // equations whose sum alone, rounding, tells its voltage.
      if (knot.tied < 0 && !std::all_of(map, end, inside)) knot.tied = *in;
    }
    if (knot.tied < 0) knot.tied = knot.rows[0];
    knots.push_back(std::move(knot));
  }
}

void Island::build_pattern(Storage storage) {
  size_t count = 0;
  for (Member& member : members) member.slots = int(count), count += size_t(member.m * member.m);
  matrix_slots.resize(count);
  size_t tied = 0;
  for (const Knot& knot : knots)
    for (const int i : knot.members) tied += size_t(members[i].m);
  if (storage == Storage::kAutomatic && size <= SmallLu::kLargest && build_small_pattern()) return;
  // For a while only: an arena gives nothing back, and the next island wants the same.
  static thread_local std::vector<std::pair<int, int>> places;
  static thread_local std::vector<int> slots;
  places.resize(count + tied + size_t(size));
  auto* end = places.data();
  int* slot = matrix_slots.data();  // at first which of the places, -1: none
  for (const Member& member : members) {
    const int* const map = &maps[member.map];
    for (int row = 0; row < member.m; ++row)
      for (int column = 0; column < member.m; ++column) {
        const bool inside = map[row] < size && map[column] < size;
        *slot++ = inside ? int(end - places.data()) : -1;
        *end = {map[row], map[column]};
        end += inside;
      }
  }
  for (const Knot& knot : knots)
    for (const int i : knot.members)
      for (int k = 0; k < members[i].m; ++k)
        if (const int column = maps[members[i].map + k]; column < size) *end++ = {knot.tied, column};
  for (int k = 0; k < size; ++k) *end++ = {k, k};
  places.resize(size_t(end - places.data()));
  slots.resize(places.size());
  solver.analyse(size, node_count, places, storage, slots.data());
  for (Knot& knot : knots)
    for (size_t k = 0; k < places.size(); ++k)
      if (places[k].first == knot.tied) knot.slots.push_back(slots[k]);
  const int* const diagonal = slots.data() + slots.size() - size_t(size);
  diagonal_.assign(diagonal, diagonal + node_count);
  const int nowhere = solver.slot_count();
  for (int& at : matrix_slots) at = at < 0 ? nowhere : slots[at];
}

// With a set of bits for each row. False when another way is better.
bool Island::build_small_pattern() {
  constexpr int kOutside = SmallLu::kLargest;
  uint64_t neighbours[kOutside + 1] = {};
  const auto place = [&](int at) { return at < size ? at : kOutside; };
  const auto bit = [&](int at) { return at < size ? uint64_t(1) << at : 0; };
  for (const Member& member : members) {
    const int* const map = &maps[member.map];
    if (member.m == 2) {
      const uint64_t set = bit(map[0]) | bit(map[1]);
      neighbours[place(map[0])] |= set, neighbours[place(map[1])] |= set;
      continue;
    }
    uint64_t set = 0;
    for (int k = 0; k < member.m; ++k) set |= bit(map[k]);
    for (int k = 0; k < member.m; ++k) neighbours[place(map[k])] |= set;
  }
  for (const Knot& knot : knots)
    for (const int i : knot.members)
      for (int k = 0; k < members[i].m; ++k)
        if (const int column = maps[members[i].map + k]; column < size)
          neighbours[knot.tied] |= uint64_t(1) << column, neighbours[column] |= uint64_t(1) << knot.tied;
  SmallLu::Slots slots;
  if (!solver.analyse_small(size, node_count, neighbours, slots)) return false;
  const auto nowhere = uint16_t(solver.slot_count());
  for (int k = 0; k <= size; ++k) slots[place(k)][kOutside] = slots[kOutside][place(k)] = nowhere;
  int* slot = matrix_slots.data();
  for (const Member& member : members) {
    const int* const map = &maps[member.map];
    if (member.m == 2) {
      const int a = place(map[0]), b = place(map[1]);
      slot[0] = slots[a][a], slot[1] = slots[b][a], slot[2] = slots[a][b], slot[3] = slots[b][b];
      slot += 4;
      continue;
    }
    for (int row = 0; row < member.m; ++row)
      for (int column = 0; column < member.m; ++column) *slot++ = slots[place(map[column])][place(map[row])];
  }
  diagonal_.resize(size_t(node_count));
  for (int k = 0; k < node_count; ++k) diagonal_[k] = slots[k][k];
  for (Knot& knot : knots)
    for (int column = 0; column < size; ++column)
      if (const int at = solver.slot(knot.tied, column); at >= 0) knot.slots.push_back(at);
  return true;
}

}  // namespace tiepoint
