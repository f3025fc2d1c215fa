// Builds circuits by hand for tests: nodes by name ("0" is the reference), elements with their parameters in model order.
#pragma once

#include <initializer_list>
#include <string>
#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/devices/source.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

class CircuitBuilder {
 public:
  CircuitBuilder() { circuit_.references.push_back(node("0")); }

  NodeIndex node(const std::string& name) {
    for (size_t i = 0; i < circuit_.node_name.size(); ++i)
      if (circuit_.node_name[i] == name) return int(i);
    circuit_.node_name.push_back(name);
    return circuit_.node_count++;
  }
  CircuitBuilder& add(const std::string& name, ElementKind kind, const std::vector<std::string>& nodes,
                      const std::vector<double>& values) {
    circuit_.elements.push_back({.kind = kind,
                                 .first_terminal = int(circuit_.terminals.size()),
                                 .terminal_count = int(nodes.size()),
                                 .first_parameter = int(circuit_.parameters.size()),
                                 .parameter_count = int(values.size())});
    circuit_.element_name.push_back(name);
    for (const std::string& n : nodes) circuit_.terminals.push_back(node(n));
    circuit_.parameters.insert(circuit_.parameters.end(), values.begin(), values.end());
    return *this;
  }
  CircuitBuilder& resistor(const std::string& name, const std::string& p, const std::string& n, double ohms) {
    return add(name, ElementKind::kResistor, {p, n}, {ohms});
  }
  CircuitBuilder& capacitor(const std::string& name, const std::string& p, const std::string& n, double farads,
                            double volts = 0) {
    return add(name, ElementKind::kCapacitor, {p, n}, {farads, volts, 0});
  }
  CircuitBuilder& inductor(const std::string& name, const std::string& p, const std::string& n, double henries,
                           double amperes = 0) {
    return add(name, ElementKind::kInductor, {p, n}, {henries, amperes, 0});
  }
  CircuitBuilder& volts(const std::string& name, const std::string& p, const std::string& n, double value) {
    return add(name, ElementKind::kVoltageSource, {p, n}, {double(Waveform::kDc), value});
  }
  CircuitBuilder& amperes(const std::string& name, const std::string& p, const std::string& n, double value) {
    return add(name, ElementKind::kCurrentSource, {p, n}, {double(Waveform::kDc), value});
  }
  CircuitBuilder& diode(const std::string& name, const std::string& anode, const std::string& cathode, double is, double n,
                        double rs = 0) {
    return add(name, ElementKind::kDiode, {anode, cathode}, {is, n, rs});
  }
  CircuitBuilder& led_a(const std::string& name, const std::string& anode, const std::string& cathode) {
    return diode(name, anode, cathode, 1e-18, 2);  // 1.940684 V at 20 mA
  }
  CircuitBuilder& silicon(const std::string& name, const std::string& anode, const std::string& cathode) {
    return diode(name, anode, cathode, 5e-9, 1.8);  // 0.567993 V at 1 mA
  }

  const Circuit& circuit() const { return circuit_; }
  Circuit& circuit() { return circuit_; }

  int element(const std::string& name) const {
    for (size_t i = 0; i < circuit_.element_name.size(); ++i)
      if (circuit_.element_name[i] == name) return int(i);
    return -1;
  }
  double voltage(const Solution& s, const std::string& at, const std::string& against = "0") {
    return s.node_voltage[node(at)] - s.node_voltage[node(against)];
  }
  double current(const Solution& s, const std::string& name, int terminal = 0) const {
    return s.terminal_current[circuit_.elements[element(name)].first_terminal + terminal];
  }
  double power(const Solution& s, const std::string& name) const {
    const Element& e = circuit_.elements[element(name)];
    double sum = 0;
    for (int k = 0; k < e.terminal_count; ++k)
      sum += s.node_voltage[circuit_.terminals[e.first_terminal + k]] * s.terminal_current[e.first_terminal + k];
    return sum;
  }

 private:
  Circuit circuit_;
};

}  // namespace tiepoint
