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
  // p n | waveform (code of devices/source.h), amplitude [V], offset [V], frequency [Hz], phase [rad], delay [s], rise [s],
  // fall [s], width [s], duty. A battery without resistance is {0, volts}.
  kVoltageSource,
  kCurrentSource,  // p n             | the same waveforms in [A]; the current flows from p through the source to n
  // anode cathode | saturation_current [A], emission, series_resistance [ohm], thermal_voltage [V], junction_capacitance [F],
  // transit_time [s], breakdown_voltage [V] (infinite: none), breakdown_current [A] (that flows at the breakdown voltage)
  kDiode,
  // p n | voltage [V], resistance [ohm], current_limit [A] (infinite: none). Delivers voltage - resistance * I until I reaches
  // the limit, then the limit's current whatever the voltage below. Pushed back (I < 0) it stays voltage - resistance * I.
  // A supply that is switched off is the same element with voltage 0 and resistance 1e10: no change of structure.
  kLimitedSupply,
  // collector base emitter | saturation_current [A], forward_gain, reverse_gain, thermal_voltage [V], base_emitter_capacitance
  // [F], base_collector_capacitance [F], transit_time [s]
  kNpn,
  kPnp,            // the same, all polarities turned round
  kNmos,           // drain gate source | transconductance [A/V^2], threshold [V], gate_source_capacitance, gate_drain_capacitance [F]
  kPmos,           // the same, all polarities turned round; its threshold is given as a positive number
  kTimedSwitch,    // p n | starts_closed (0 or 1), first_toggle [s], second_toggle [s], closed_resistance, open_resistance [ohm]
  // p n | closing_voltage [V], opening_voltage [V], closed_resistance, open_resistance [ohm]: closes when v(p) - v(n) rises to
  // the one, opens when it falls to the other; a gas-filled lamp, struck and extinguished
  kTriggeredSwitch,
  // Parameters and terminals of the following stand at the top of their files in engine/devices.
  kOptocoupler,     // anode cathode base collector emitter
  kFilament,        // p n
  kMotor,           // p n
  kRelay,           // coil+ coil- common no nc
  kFuse,            // p n
  kResettableFuse,  // p n
  kServo,           // + - signal
  kListener,        // p n
  kRegulator,       // in out common
  kOpAmp,           // in+ in- out vcc gnd
  kComparator,      // in+ in- out vcc gnd
  kTimer,           // gnd trigger output reset control threshold discharge vcc
  kHalfBridge,      // in enable out vcc load gnd
  // Digital chips (logic.cpp): vcc gnd, inputs, outputs, in the order of logic_machine.h; a gate's first parameter is its function.
  kInverter, kGate, kFlipFlop, kCounter, kShiftIn, kShiftOut, kDecade, kSegments,
  kMeter,           // p n, meter.cpp
  kContact,         // p n, contact.cpp: a switch's contact, which bounces when it is operated
  kLogicProbe,      // tip vcc gnd, logic_probe.cpp
  kReed,            // p n, reed.cpp
  kHall,            // out vcc gnd, hall.cpp
  kThermistor,      // p n, thermistor.cpp
  kCount
};

// A letter per terminal of an element whose terminals lie on several sides that share no metal at all (a relay's coil and its
// contacts): voltages compare within one side only, each needs a reference of its own. Empty: one side.
constexpr std::string_view sides(ElementKind kind) {
  return kind == ElementKind::kRelay || kind == ElementKind::kOptocoupler ? "aabbb" : "";
}

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
  std::vector<double> parameters;  // in the order of the model's parameter list, SI units; those left out at the end are standard

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
