#include "engine/solver/proof.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/devices/source.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kNothing = std::numeric_limits<double>::quiet_NaN();

struct Culprit {
  int element = -1, node = -1;
};

// The member that drives most current into the row's node, or the owner of the row.
Culprit culprit(const Circuit& circuit, const Island& island, int row) {
  if (row < 0 || row >= island.size) return {island.members.empty() ? -1 : island.members[0].element, -1};
  if (island.owner_of_row[row] >= 0)
    return {island.owner_of_row[row], circuit.nodes(circuit.elements[island.owner_of_row[row]])[0]};
  Culprit found = {-1, island.node_of_row[row]};
  double largest = -1;
  double f[kMaxLocal], q[kMaxLocal];
  for (const Member& member : island.members)
    for (int k = 0; k < member.terminals; ++k) {
      if (island.maps[member.map + k] != row) continue;
      island.evaluate_member(member, island.x.data(), f, q);
      const double size = std::isfinite(f[k]) ? std::fabs(f[k]) : HUGE_VAL;
      if (size > largest) largest = size, found.element = member.element;
    }
  return found;
}

std::string name_of(const std::vector<std::string>& names, int index) {
  return index >= 0 && size_t(index) < names.size() ? names[size_t(index)] : std::string();
}

class Gathering {
 public:
  Gathering(const Circuit& circuit, const SolverPlan& plan, const Parameters& parameters, double time, Solution& out)
      : circuit_(circuit),
        plan_(plan),
        parameters_(parameters),
        time_(time),
        out_(out),
        voltage_(out.node_voltage),
        into_node_(scratch()) {
    into_node_.assign(circuit.node_count, 0);
  }

  void held_nodes() {
    const double soon = 1e-9 + 1e-12 * std::fabs(time_);
    for (size_t h = 0; h < plan_.held.size(); ++h) {
      const HeldNode& node = plan_.held[h];
      if (node.parent < 0) continue;
      const auto p = parameters_.of(node.source);
      const int parent = plan_.held[node.parent].node;
      voltage_[node.node] = voltage_[parent] + node.sign * waveform_value(p, time_, time_);
      const double change = waveform_value(p, time_ + soon, time_) - waveform_value(p, time_, time_);
      out_.voltage_rate[node.node] = out_.voltage_rate[parent] + node.sign * change / soon;
    }
  }

  void island(const Island& island, Motion& motion) {
    motion.show();
    for (int row = 0; row < island.node_count; ++row) {
      voltage_[island.node_of_row[row]] = motion.shown()[row];
      out_.voltage_rate[island.node_of_row[row]] = motion.rate(row);
    }
    double current[kMaxLocal];
    for (const Member& member : island.members) {
      const Element& e = circuit_.elements[member.element];
      motion.currents(member, current);
      for (int k = 0; k < member.terminals; ++k) add(e.first_terminal + k, current[k]);
      ElementState& state = out_.state[member.element];
      state = {int(out_.own.size()),
               member.m - member.terminals,
               member.mode,
               member.mode_since,
               {member.lasted[0], member.lasted[1]}};
      for (int k = member.terminals; k < member.m; ++k) out_.own.push_back(motion.shown()[island.maps[member.map + k]]);
    }
  }

  // A source that holds a node takes what the others leave, the outermost nodes first.
  void held_sources() {
    for (size_t h = plan_.held.size(); h-- > 0;) {
      const HeldNode& node = plan_.held[h];
      if (node.parent < 0) continue;
      const int near = circuit_.elements[node.source].first_terminal + (node.sign > 0 ? 0 : 1);
      const int far = circuit_.elements[node.source].first_terminal + (node.sign > 0 ? 1 : 0);
      const double current = -into_node_[node.node];
      add(near, current), add(far, -current);
    }
  }

  void prove() {
    for (const int node : circuit_.references) into_node_[node] = 0;  // what flows there is told by nothing else
    for (const double current : into_node_) out_.statistics.residual = std::max(out_.statistics.residual, std::fabs(current));
    double power = 0;
    for (size_t t = 0; t < circuit_.terminals.size(); ++t) power += voltage_[circuit_.terminals[t]] * out_.terminal_current[t];
    out_.statistics.power_imbalance = std::fabs(power);
  }

  void publish(const std::vector<Island>& islands) {
    const auto hide = [&](int node) { out_.node_voltage[node] = out_.voltage_rate[node] = kNothing; };
    for (int node = 0; node < circuit_.node_count; ++node)
      if (!plan_.has_reading[node]) hide(node);
    for (const Island& island : islands)
      for (const Knot& knot : island.knots)
        for (const int row : knot.rows)
          if (!knot.charged) hide(island.node_of_row[row]);
  }

 private:
  static std::vector<double>& scratch() {
    static thread_local std::vector<double> numbers;
    return numbers;
  }
  void add(int terminal, double current) {
    out_.terminal_current[terminal] = current;
    into_node_[circuit_.terminals[terminal]] += current;
  }

  const Circuit& circuit_;
  const SolverPlan& plan_;
  const Parameters& parameters_;
  double time_;
  Solution& out_;
  std::vector<double>& voltage_;
  std::vector<double>& into_node_;  // into the elements at each node
};

}  // namespace

Solution gather(const Circuit& circuit, const SolverPlan& plan, const Parameters& parameters,
                const std::vector<Island>& islands, std::vector<Motion>& motions, double time,
                const std::optional<Error>& error) {
  Solution out;
  out.time = time;
  out.error = error;
  out.statistics.islands = int(islands.size());
  for (size_t i = 0; i < islands.size(); ++i) {
    out.statistics.unknowns += islands[i].size;
    out.statistics.steps += motions[i].steps();
    out.statistics.rejected_steps += motions[i].rejected();
    out.statistics.last_step = std::max(out.statistics.last_step, motions[i].last_step());
  }
  const double fill = error ? kNothing : 0;
  out.node_voltage.assign(circuit.node_count, fill);
  out.terminal_current.assign(circuit.terminals.size(), fill);
  out.voltage_rate.assign(circuit.node_count, fill);
  if (error) return out;
  out.state.assign(circuit.elements.size(), {});
  Gathering gathering(circuit, plan, parameters, time, out);
  gathering.held_nodes();
  for (size_t i = 0; i < islands.size(); ++i) gathering.island(islands[i], motions[i]);
  gathering.held_sources();
  gathering.prove();
  gathering.publish(islands);
  return out;
}

Error no_solution(const Circuit& circuit, const Island& island, int row) {
  const Culprit c = culprit(circuit, island, row);
  return {
      .code = Code::kNoSolution, .part = name_of(circuit.element_name, c.element), .found = name_of(circuit.node_name, c.node)};
}

Error stuck(const Circuit& circuit, const Island& island, int row, double time) {
  const Culprit c = culprit(circuit, island, row);
  return {.code = Code::kStepTooSmall, .part = name_of(circuit.element_name, c.element), .found = decimal(time)};
}

}  // namespace tiepoint
