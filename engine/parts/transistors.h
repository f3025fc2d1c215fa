// The figures of the transistors, for transistors.cpp and mosfets.cpp and for the checks against their sheets.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

struct BipolarFigures {
  std::string_view type;
  bool pnp;
  double saturation_current;  // [A]
  double forward_gain;        // 1
  double reverse_gain;        // 1
  double collector_resistance;  // [ohm] in series with the collector
  double base_emitter_capacitance, base_collector_capacitance;  // [F]
  double transit_time;        // [s]
  double largest_current;     // [A] collector
  double collector_voltage;   // [V] VCEO
  double base_voltage;        // [V] VEBO, where the base-emitter junction breaks down
  double power;               // [W] in free air at 25 °C
};
std::span<const BipolarFigures> bipolar_figures();

struct FieldEffectFigures {
  std::string_view type;
  bool p_channel;
  double transconductance;    // [A/V^2] K
  double threshold;           // [V]
  double gate_source_capacitance, gate_drain_capacitance;  // [F]
  double diode_saturation;    // [A] body diode
  double largest_current;     // [A] continuous, in free air
  double drain_voltage;       // [V]
  double gate_voltage;        // [V] either way
  double power;               // [W] in free air
};
std::span<const FieldEffectFigures> field_effect_figures();

}  // namespace tiepoint
