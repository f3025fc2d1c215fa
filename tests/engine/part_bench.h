// One part on a test bench: its leads in the air, ideal sources and resistors clipped to them. Nodes are the part's leads by name, and
// any other name for a node of its own; "0" is the reference.
#pragma once

#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/devices/source.h"
#include "engine/parts/part_type.h"
#include "engine/readings/readings.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

class PartBench {
 public:
  explicit PartBench(std::string_view kind, const std::map<std::string, double>& values = {}) {
    const PartKind* found = catalogue().find(kind);
    if (!found) {
      ADD_FAILURE() << "no kind " << kind;
      return;
    }
    Part part = make_part(*found);
    part.name = "X";
    part.id = PartId{1};
    for (const auto& [key, value] : values) {
      const int index = value_index(*found, key);
      EXPECT_GE(index, 0) << kind << " has no value " << key;
      if (index >= 0) part.values[size_t(index)] = value;
    }
    board_.parts.push_back(part);
    wiring_ = wire_up(board_);
    circuit_ = extract(board_, wiring_);
    circuit_.references.clear();
    for (size_t lead = 0; lead < found->leads.size(); ++lead) {
      const NodeIndex node = circuit_.node_of_piece[size_t(wiring_.strip_of_lead[0][lead])];
      if (node >= 0) nodes_[std::string(found->leads[lead].name)] = node;
    }
    circuit_.references.push_back(node("0"));
  }

  NodeIndex node(const std::string& name) {
    const auto at = nodes_.find(name);
    if (at != nodes_.end()) return at->second;
    circuit_.node_name.push_back(name);
    circuit_.node_origin.push_back({});
    return nodes_[name] = circuit_.node_count++;
  }

  PartBench& add(const std::string& name, ElementKind kind, const std::vector<std::string>& ends, const std::vector<double>& values) {
    Element e{.kind = kind,
              .first_terminal = int(circuit_.terminals.size()),
              .terminal_count = int(ends.size()),
              .first_parameter = int(circuit_.parameters.size()),
              .parameter_count = int(values.size())};
    for (const std::string& end : ends) circuit_.terminals.push_back(node(end));
    circuit_.parameters.insert(circuit_.parameters.end(), values.begin(), values.end());
    circuit_.elements.push_back(e);
    circuit_.element_name.push_back(name);
    return *this;
  }
  PartBench& volts(const std::string& p, double value, const std::string& n = "0") {
    return add("V(" + p + ")", ElementKind::kVoltageSource, {p, n}, {double(Waveform::kDc), value});
  }
  // A current that flows into the lead.
  PartBench& amperes(const std::string& into, double value, const std::string& from = "0") {
    return add("I(" + into + ")", ElementKind::kCurrentSource, {from, into}, {double(Waveform::kDc), value});
  }
  PartBench& ground(const std::string& lead) { return volts(lead, 0); }
  PartBench& resistor(const std::string& p, const std::string& n, double ohms) {
    return add("R(" + p + "," + n + ")", ElementKind::kResistor, {p, n}, {ohms});
  }
  PartBench& capacitor(const std::string& p, const std::string& n, double farads, double initial_voltage = 0) {
    return add("C(" + p + "," + n + ")", ElementKind::kCapacitor, {p, n}, {farads, initial_voltage});
  }
  // Steps from `low` to `high` at `delay`, back after `width` (never when 0).
  PartBench& step(const std::string& p, double low, double high, double delay, double width = 0) {
    return add("V(" + p + ")", ElementKind::kVoltageSource, {p, "0"},
               {double(width > 0 ? Waveform::kPulse : Waveform::kStep), high - low, low, 0, 0, delay, 0, 0, width});
  }

  Simulation& simulation() {
    if (!simulation_) simulation_ = std::make_unique<Simulation>(circuit_);
    return *simulation_;
  }
  PartBench& settle() {
    simulation().settle();
    return *this;
  }
  // Everything empty at time 0.
  PartBench& start() {
    simulation().start_from_initial_conditions();
    return *this;
  }
  PartBench& run_to(double time, long steps = 1000000) {
    EXPECT_NEAR(simulation().advance(time, {steps}), time, 1e-12 + 1e-9 * time);
    return *this;
  }
  const Solution& solution() {
    const Solution& s = simulation().solution();
    if (s.error) ADD_FAILURE() << text(*s.error);
    return s;
  }
  double voltage(const std::string& at, const std::string& against = "0") {
    const Solution& s = solution();
    const double zero = against == "0" ? 0 : s.node_voltage[size_t(node(against))];
    return s.node_voltage[size_t(node(at))] - zero;
  }
  // Current into the part at a lead.
  double current(const std::string& lead) {
    const int index = lead_index(*board_.parts[0].kind, lead);
    double sum = 0;
    for (const int terminal : circuit_.lead_terminals(0, index)) sum += solution().terminal_current[size_t(terminal)];
    return sum;
  }
  // State and numbers as the part tells them.
  PartReading reading() { return take_readings(board_, wiring_, readable(), solution()).parts[0]; }
  const Circuit& circuit() const { return circuit_; }

 private:
  const Circuit& readable() const { return circuit_; }

  Board board_;
  Wiring wiring_;
  Circuit circuit_;
  std::map<std::string, NodeIndex> nodes_;
  std::unique_ptr<Simulation> simulation_;
};

}  // namespace tiepoint
