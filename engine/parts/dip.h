// Dual-in-line packages: legs counted from the notch along the lower row and back along the upper one, 7.62 mm apart, so that the body
// stands over the centre gap. And what all chips have in common: a junction from ground to the supply, that conducts when the supply
// is the wrong way round.
#pragma once

#include <array>

#include "engine/parts/families.h"

namespace tiepoint {

template <size_t count>
constexpr std::array<LeadSpec, count> dip_leads(const std::array<std::string_view, count>& names) {
  std::array<LeadSpec, count> leads = {};
  for (size_t k = 0; k < count; ++k) {
    const bool lower = k < count / 2;
    leads[k] = {.name = names[k], .dx = int(lower ? k : count - 1 - k), .dy = lower ? 0 : -3};
  }
  return leads;
}

constexpr Footprint dip_body(int legs) {
  return {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = legs / 2 - 0.1, .body_width = 2.6};
}

inline void add_substrate(int gnd, int vcc, ElementList& out) {
  out.add(ElementKind::kDiode, {gnd, vcc}, {1e-12, 1, 2, kJunctionThermalVoltage});
}

struct SupplyLimits {
  double least, largest;  // [V]
  double power;           // [W]
};

// Supply voltage and current of a chip, its power over all legs, and its state by them.
inline void read_chip(const SupplyLimits& limits, int vcc, int gnd, const LeadNumbers& leads, PartNumbers& out) {
  const size_t plus = size_t(vcc), minus = size_t(gnd);
  if (!has_reading(leads.voltage[plus]) || !has_reading(leads.voltage[minus])) return;
  out.voltage = leads.voltage[plus] - leads.voltage[minus];
  out.current = leads.current[plus];
  double power = 0;
  for (size_t k = 0; k < leads.voltage.size(); ++k)
    if (has_reading(leads.voltage[k]) && has_reading(leads.current[k])) power += (leads.voltage[k] - leads.voltage[minus]) * leads.current[k];
  out.power = power;
  if (out.voltage < -0.4)
    out.state = State::kReversed;
  else if (out.voltage > limits.largest)
    out.state = State::kOverVoltage;
  else if (out.power > limits.power)
    out.state = State::kTooHot;
  else
    out.state = out.voltage >= limits.least ? State::kOn : State::kOff;
}

}  // namespace tiepoint
