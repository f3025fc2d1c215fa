// Elements: the electrical model kinds a part (or a circuit file) is made of. Names only; the equations live in
// engine/devices, one file per model, which also fixes the order of terminals and parameters.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

namespace tiepoint {

enum class ElementKind : uint8_t {
  kResistor,       // p n             | resistance
  kCapacitor,      // p n             | capacitance, initial_voltage (NaN: free), series_resistance
  kInductor,       // p n             | inductance, initial_current (NaN: free), series_resistance
  kVoltageSource,  // p n             | see devices/source.cpp
  kCurrentSource,  // p n             | the same waveforms
  kDiode,          // anode cathode   | saturation_current, emission, series_resistance, ...
  kLimitedSupply,  // p n             | voltage, resistance, current_limit: constant voltage until the limit, then constant current
  kNpn,            // collector base emitter
  kPnp,
  kNmos,           // drain gate source
  kPmos,
  kCount
};

// One element of a part. Terminals: 0..lead_count-1 are the part's leads, lead_count + k is the part's own inner node k.
struct ElementSpec {
  ElementKind kind;
  std::vector<int> terminals;
  std::vector<double> parameters;  // in the order of the model's parameter list, SI units
};

}  // namespace tiepoint
