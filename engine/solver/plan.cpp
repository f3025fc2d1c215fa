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

// True when every element joins all its terminals by paths for direct current. Then there are no knots: elements lead from any
// node to the reference of its group.
bool find_references(const Circuit& circuit, SolverPlan& plan) {
  Sets groups(circuit.node_count);
  bool all_joined = true;
  for (const Element& e : circuit.elements) {
    const auto nodes = circuit.nodes(e);
    const std::string_view side = sides(e.kind), joins = model_of(e).joins;
    for (size_t k = 1; k < nodes.size(); ++k) {
      if (side.empty() || side[k] == side[k - 1]) groups.join(nodes[k - 1], nodes[k]);
      all_joined &= joins[k] == joins[k - 1];
    }
  }
  Row<char> referenced(circuit.node_count, 0);
  plan.held_of_node.assign(circuit.node_count, -1);
  const auto hold = [&](int node) {
    if (plan.held_of_node[node] >= 0) return;
    plan.held_of_node[node] = int(plan.held.size());
    plan.held.push_back({.node = node});
  };
  for (const int node : circuit.references) referenced[groups.find(node)] = 1, hold(node);
  plan.has_reading.resize(circuit.node_count);
  for (int node = 0; node < circuit.node_count; ++node) plan.has_reading[node] = referenced[groups.find(node)];
  for (int node = 0; node < circuit.node_count; ++node)
    if (groups.find(node) == node && !referenced[node]) hold(node);
  return all_joined;
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
  Sets loops(circuit.node_count);
  for (const HeldNode& h : plan.held) loops.join(plan.held[0].node, h.node);
  // Of each node the ends of sources there: an end is twice the place in `sources` and 1 for the second terminal.
  Row<int> first_at(circuit.node_count, -1), next_at(2 * sources.size());
  for (size_t k = sources.size(); k-- > 0;) {
    const auto nodes = circuit.nodes(circuit.elements[sources[k]]);
    for (size_t end = 2; end-- > 0;) next_at[2 * k + end] = std::exchange(first_at[nodes[end]], int(2 * k + end));
  }
  for (const int e : sources) {
    const auto nodes = circuit.nodes(circuit.elements[e]);
    if (!loops.join(nodes[0], nodes[1]) && !plan.error) plan.error = loop_error(circuit, e);
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

// Into islands; `paths`: of direct current, the held nodes all together as one after the others; null: not asked.
void split(const Circuit& circuit, SolverPlan& plan, Sets* paths) {
  Sets sets(circuit.node_count);
  const int ground = circuit.node_count;
  const auto first_free = [&](const Element& e) {
    for (const int node : circuit.nodes(e))
      if (plan.held_of_node[node] < 0) return node;
    return -1;
  };
  Row<int> free_node(circuit.elements.size());  // of each element the first node that is not held
  const auto place = [&](int node) { return plan.held_of_node[node] >= 0 ? ground : node; };
  for (size_t k = 0; k < circuit.elements.size(); ++k) {
    const Element& e = circuit.elements[k];
    const auto nodes = circuit.nodes(e);
    const std::string_view joins = model_of(e).joins;
    if (nodes.size() == 2) {
      const int a = place(nodes[0]), b = place(nodes[1]);
      free_node[k] = a != ground ? a : b != ground ? b : -1;
      if (a != ground && b != ground) sets.join(a, b);
      if (paths && joins[0] == joins[1]) paths->join(a, b);
      continue;
    }
    const int anchor = free_node[k] = first_free(e);
    for (const int node : nodes)
      if (plan.held_of_node[node] < 0) sets.join(anchor, node);
    for (size_t a = 0; paths && a < nodes.size(); ++a)
      for (size_t b = a + 1; b < nodes.size(); ++b)
        if (joins[a] == joins[b]) {
          paths->join(place(nodes[a]), place(nodes[b]));
          break;  // b joins the next one
        }
  }
  Row<int> island_of_set(circuit.node_count, -1);
  for (size_t e = 0; e < circuit.elements.size(); ++e) {
    if (plan.island_of_element[e] == -2) {
      plan.island_of_element[e] = -1;
      continue;
    }
    const int node = free_node[e];
    int island = node < 0 ? -1 : island_of_set[sets.find(node)];
    if (island < 0) {
      island = plan.island_count++;
      if (node >= 0) island_of_set[sets.find(node)] = island;
    }
    plan.island_of_element[e] = island;
  }
  const auto itself = [](int k) { return k; };
  plan.island_elements = sort_into_rows<int>(
      plan.island_count, int(circuit.elements.size()), [&](int e) { return plan.island_of_element[e]; }, itself);
  plan.island_nodes = sort_into_rows<int>(
      plan.island_count, circuit.node_count,
      [&](int node) { return plan.held_of_node[node] >= 0 ? -1 : island_of_set[sets.find(node)]; }, itself);
  plan.island_knots.resize(plan.island_count);
  plan.row_of_node.assign(circuit.node_count, -1);
  for (int island = 0; island < plan.island_count; ++island) {
    int row = 0;
    for (const int node : plan.island_nodes[island]) plan.row_of_node[node] = row++;
  }
}

void find_knots(const Circuit& circuit, SolverPlan& plan, Sets& paths) {
  const int ground = circuit.node_count;
  Row<int> knot_of_set(circuit.node_count + 1, -1);
  for (int island = 0; island < plan.island_count; ++island)
    for (const int node : plan.island_nodes[island]) {
      const int set = paths.find(node);
      if (set == paths.find(ground)) continue;
      auto& knots = plan.island_knots[island];
      if (knot_of_set[set] < 0) knot_of_set[set] = int(knots.size()), knots.emplace_back();
      knots[knot_of_set[set]].push_back(node);
    }
}

}  // namespace

SolverPlan make_plan(const Circuit& circuit) {
  SolverPlan plan;
  plan.island_of_element.assign(circuit.elements.size(), 0);
  const bool all_joined = find_references(circuit, plan);
  hold_by_sources(circuit, plan);
  if (all_joined) {
    split(circuit, plan, nullptr);
  } else {
    Sets paths(circuit.node_count + 1);
    split(circuit, plan, &paths);
    find_knots(circuit, plan, paths);
  }
  return plan;
}

std::optional<Error> find_settled_loop(const Circuit& circuit, const Parameters& parameters) {
  const auto joins = [&](const Element& e) { return model_of(e).shorts || e.kind == ElementKind::kInductor; };
  if (std::none_of(circuit.elements.begin(), circuit.elements.end(), joins)) return std::nullopt;
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
