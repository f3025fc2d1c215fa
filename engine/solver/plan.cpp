#include "engine/solver/plan.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace tiepoint {
namespace {

class Sets {  // disjoint sets
 public:
  explicit Sets(int count) : parent_(size_t(count)) { std::iota(parent_.begin(), parent_.end(), 0); }
  int find(int i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }
  bool join(int a, int b) {  // false when they were one already
    a = find(a), b = find(b);
    if (a == b) return false;
    parent_[a < b ? b : a] = a < b ? a : b;
    return true;
  }

 private:
  Row<int> parent_;
};

const Model& model_of(const Element& e) { return model(e.kind); }

void hold(SolverPlan& plan, int node) {
  if (plan.held_of_node[node] >= 0) return;
  plan.held_of_node[node] = int(plan.held.size());
  plan.held.push_back({.node = node});
}

// Gives each group without a reference one.
void find_groups(const Circuit& circuit, SolverPlan& plan) {
  Sets groups(circuit.node_count);
  for (const Element& e : circuit.elements) {
    const auto nodes = circuit.nodes(e);
    const std::string_view side = sides(e.kind);
    for (size_t k = 1; k < nodes.size(); ++k)
      if (side.empty() || side[k] == side[k - 1]) groups.join(nodes[k - 1], nodes[k]);
  }
  Row<char> referenced(circuit.node_count, 0);
  for (const int node : circuit.references) referenced[groups.find(node)] = 1;
  for (int node = 0; node < circuit.node_count; ++node) plan.has_reading[node] = referenced[groups.find(node)];
  for (int node = 0; node < circuit.node_count; ++node)
    if (groups.find(node) == node && !referenced[node]) hold(plan, node);
}

Error loop_error(const Circuit& circuit, int element) {
  return {.code = Code::kSourceLoop, .part = circuit.element_name[element]};
}

// Breadth first from the references along ideal voltage sources.
void hold_by_sources(const Circuit& circuit, SolverPlan& plan) {
  Row<int> sources;
  for (size_t e = 0; e < circuit.elements.size(); ++e)
    if (model_of(circuit.elements[e]).shorts) sources.push_back(int(e));
  if (sources.empty()) return;
  // Of each node the ends of sources there: an end is twice the place in `sources` and 1 for the second terminal.
  Row<int> first_at(circuit.node_count, -1), next_at(2 * sources.size());
  for (size_t k = sources.size(); k-- > 0;) {
    const auto nodes = circuit.nodes(circuit.elements[sources[k]]);
    for (size_t end = 2; end-- > 0;) next_at[2 * k + end] = std::exchange(first_at[nodes[end]], int(2 * k + end));
  }
  if (sources.size() == 1) {
    const auto nodes = circuit.nodes(circuit.elements[sources[0]]);
    if (nodes[0] == nodes[1] || (plan.held_of_node[nodes[0]] >= 0 && plan.held_of_node[nodes[1]] >= 0))
      plan.error = loop_error(circuit, sources[0]);
  } else {
    Sets loops(circuit.node_count);
    for (const HeldNode& h : plan.held) loops.join(plan.held[0].node, h.node);
    for (const int e : sources) {
      const auto nodes = circuit.nodes(circuit.elements[e]);
      if (!loops.join(nodes[0], nodes[1]) && !plan.error) plan.error = loop_error(circuit, e);
    }
  }
  for (size_t h = 0; h < plan.held.size(); ++h) {
    const int node = plan.held[h].node;
    for (int at = first_at[node]; at >= 0; at = next_at[at]) {
      const int e = sources[at / 2];
      const auto nodes = circuit.nodes(circuit.elements[e]);
      const bool at_plus = nodes[0] == node;
      const int other = nodes[at_plus ? 1 : 0];
      if (plan.held_of_node[other] >= 0) continue;
      plan.held_of_node[other] = int(plan.held.size());
      plan.held.push_back({.node = other, .parent = int(h), .source = e, .sign = at_plus ? -1.0 : 1.0});
      plan.island_of_element[e] = -2;
    }
  }
}

// Items 0.. into rows, keeping their order; row_of[i] < 0 leaves i out.
void sort_rows(int rows, const Row<int>& row_of, PlanRows* out) {
  out->first.assign(size_t(rows) + 2, 0);
  int* const next = out->first.data() + 1;  // first where a row's count is kept one place up, then where its next item goes
  for (const int row : row_of)
    if (row >= 0) ++next[row + 1];
  for (int r = 0; r < rows; ++r) next[r + 1] += next[r];
  out->items.resize(size_t(next[rows]));
  for (size_t i = 0; i < row_of.size(); ++i)
    if (row_of[i] >= 0) out->items[size_t(next[row_of[i]]++)] = int(i);
}

// Into islands; `paths`: of direct current, the held nodes all together as one after the others; null: not asked. False when
// some island or node has nothing to do with any held node.
bool split(const Circuit& circuit, SolverPlan& plan, Sets* paths) {
  Sets sets(circuit.node_count);
  const int ground = circuit.node_count;
  struct Ends {
    int free;    // the first node that is not held, -1: none
    bool bound;  // and another one is held
  };
  Row<Ends> ends(circuit.elements.size());
  const auto place = [&](int node) { return plan.held_of_node[node] >= 0 ? ground : node; };
  for (size_t k = 0; k < circuit.elements.size(); ++k) {
    const Element& e = circuit.elements[k];
    const auto nodes = circuit.nodes(e);
    int anchor = -1;
    bool bound = false;
    for (const int node : nodes) {
      if (plan.held_of_node[node] >= 0)
        bound = true;
      else if (anchor < 0)
        anchor = node;
      else
        sets.join(anchor, node);
    }
    ends[k] = {anchor, bound};
    const std::string_view joins = model_of(e).joins;
    for (size_t a = 0; paths && a < nodes.size(); ++a)
      for (size_t b = a + 1; b < nodes.size(); ++b)
        if (joins[a] == joins[b]) {
          paths->join(place(nodes[a]), place(nodes[b]));
          break;  // b joins the next one
        }
  }
  Row<int> island_of_node(circuit.node_count, -1);  // at first of the first one of each set
  Row<char> bound;                                  // of each island
  for (size_t e = 0; e < circuit.elements.size(); ++e) {
    if (plan.island_of_element[e] == -2) {
      plan.island_of_element[e] = -1;
      continue;
    }
    const int set = ends[e].free < 0 ? -1 : sets.find(ends[e].free);
    int island = set < 0 ? -1 : island_of_node[set];
    if (island < 0) {
      island = plan.island_count++;
      bound.push_back(0);
      if (set >= 0) island_of_node[set] = island;
    }
    bound[island] |= ends[e].bound;
    plan.island_of_element[e] = island;
  }
  bool all_bound = true;
  for (int node = 0; node < circuit.node_count; ++node) {
    if (plan.held_of_node[node] >= 0) continue;
    const int island = island_of_node[node] = island_of_node[sets.find(node)];  // that one is no later
    all_bound &= island >= 0 && bound[island];
  }
  sort_rows(plan.island_count, plan.island_of_element, &plan.island_elements);
  sort_rows(plan.island_count, island_of_node, &plan.island_nodes);
  plan.row_of_node.resize(circuit.node_count);
  for (size_t h = 0; h < plan.held.size(); ++h) plan.row_of_node[plan.held[h].node] = -1 - int(h);
  for (int island = 0; island < plan.island_count; ++island) {
    int row = 0;
    for (const int node : plan.island_nodes[island]) plan.row_of_node[node] = row++;
  }
  return all_bound;
}

void find_knots(const Circuit& circuit, SolverPlan& plan, Sets& paths) {
  const int ground = circuit.node_count;
  Row<int> knot_of_set(circuit.node_count + 1, -1);
  plan.island_knots.resize(plan.island_count);
  for (int island = 0; island < plan.island_count; ++island)
    for (const int node : plan.island_nodes[island]) {
      const int set = paths.find(node);
      if (set == paths.find(ground)) continue;
      auto& knots = plan.island_knots[island];
      if (knot_of_set[set] < 0) knot_of_set[set] = int(knots.size()), knots.emplace_back();
      knots[knot_of_set[set]].push_back(node);
    }
}

bool make(const Circuit& circuit, bool all_joined, bool with_groups, SolverPlan& plan) {
  plan.island_of_element.assign(circuit.elements.size(), 0);
  plan.held_of_node.assign(circuit.node_count, -1);
  plan.has_reading.assign(circuit.node_count, 1);
  for (const int node : circuit.references) hold(plan, node);
  if (with_groups) find_groups(circuit, plan);
  hold_by_sources(circuit, plan);
  if (all_joined) return split(circuit, plan, nullptr) || with_groups;
  Sets paths(circuit.node_count + 1);
  if (!split(circuit, plan, &paths) && !with_groups) return false;
  find_knots(circuit, plan, paths);
  return true;
}

}  // namespace

SolverPlan make_plan(const Circuit& circuit) {
  // Where every element joins all its terminals by paths for direct current there are no knots: elements lead from any node to
  // the reference of its group.
  bool all_joined = true, sided = false;
  for (const Element& e : circuit.elements) {
    const std::string_view joins = model_of(e).joins;
    for (int k = 1; k < e.terminal_count; ++k) all_joined &= joins[k] == joins[k - 1];
    sided = sided || !sides(e.kind).empty();
  }
  // Without sides an island that meets a held node belongs to a group with a reference: groups are looked for where one does not.
  SolverPlan plan;
  if (!sided && make(circuit, all_joined, false, plan)) return plan;
  SolverPlan with_groups;
  make(circuit, all_joined, true, with_groups);
  return with_groups;
}

std::optional<Error> find_settled_loop(const Circuit& circuit, const Parameters& parameters) {
  const auto is_coil = [](const Element& e) { return e.kind == ElementKind::kInductor; };
  if (std::none_of(circuit.elements.begin(), circuit.elements.end(), is_coil)) return std::nullopt;
  Sets loops(circuit.node_count);
  for (size_t i = 1; i < circuit.references.size(); ++i) loops.join(circuit.references[0], circuit.references[i]);
  for (const bool coils : {false, true})
    for (size_t e = 0; e < circuit.elements.size(); ++e) {
      const Element& element = circuit.elements[e];
      const bool coil = element.kind == ElementKind::kInductor && parameters.of(int(e))[2] == 0;
      if (coils ? !coil : !model_of(element).shorts) continue;
      const auto nodes = circuit.nodes(element);
      if (!loops.join(nodes[0], nodes[1])) return loop_error(circuit, int(e));
    }
  return std::nullopt;
}

}  // namespace tiepoint
