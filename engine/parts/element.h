// Elements: the electrical model kinds a part (or a circuit file) is made of. Names only; the equations live in
// engine/devices, one file per model, which also fixes the order of terminals and parameters.
#pragma once

#include <cstdint>
#include <initializer_list>
#include <span>
#include <string_view>
#include <vector>

namespace tiepoint {

enum class ElementKind : uint8_t {
  kResistor,       // p n             | resistance
  kCapacitor,      // p n             | capacitance, initial_voltage (NaN: free), series_resistance
  kInductor,       // p n             | inductance, initial_current (NaN: free), series_resistance
  kVoltageSource,  // p n             | see devices/source.cpp
  kCurrentSource,  // p n             | the same waveforms
  // anode cathode | saturation_current [A], emission, series_resistance [ohm], thermal_voltage [V], junction_capacitance [F],
  // transit_time [s], breakdown_voltage [V] (infinite: none)
  kDiode,
  // p n | voltage [V], resistance [ohm], current_limit [A] (infinite: none). Delivers voltage - resistance * I until I reaches
  // the limit, then the limit's current whatever the voltage below. Pushed back (I < 0) it stays voltage - resistance * I.
  // A supply that is switched off is the same element with voltage 0 and resistance 1e10: no change of structure.
  kLimitedSupply,
  kNpn,            // collector base emitter
  kPnp,
  kNmos,           // drain gate source
  kPmos,
  kCount
};

// The elements a board's parts are made of, in flat arrays: one list serves a whole board without an allocation per element.
// Terminals: 0..lead_count-1 are the part's leads, lead_count + k is the part's own inner node k.
struct ElementList {
  struct Entry {
    ElementKind kind;
    int first_terminal = 0, terminal_count = 0;    // into terminals
    int first_parameter = 0, parameter_count = 0;  // into parameters
  };
  std::vector<Entry> entries;
  std::vector<int> terminals;
  std::vector<double> parameters;  // in the order of the model's parameter list, SI units

  void add(ElementKind kind, std::initializer_list<int> ends, std::initializer_list<double> values) {
    entries.push_back({kind, int(terminals.size()), int(ends.size()), int(parameters.size()), int(values.size())});
    terminals.insert(terminals.end(), ends);
    parameters.insert(parameters.end(), values);
  }
  void clear() { entries.clear(), terminals.clear(), parameters.clear(); }
  std::span<const int> ends(const Entry& e) const { return {terminals.data() + e.first_terminal, size_t(e.terminal_count)}; }
  std::span<const double> values(const Entry& e) const { return {parameters.data() + e.first_parameter, size_t(e.parameter_count)}; }
};

}  // namespace tiepoint
