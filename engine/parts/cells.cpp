// Batteries beside the AA pack of supplies.cpp: AAA cells in a holder, the 9 V block, the coin cell CR2032.
//
//   V = E(s) - R(s) I          s: share of the charge that is left, a knob: how used is the battery?
//   run time = s Q / I         Q: capacity
// E falls from the fresh voltage to 70 % of it while the charge goes, and to nothing over the last 5 %; R grows to three times its
// fresh value (typical discharge curves of alkaline cells, from memory, straightened). The charge does not fall by itself here: at
// the speed of a bench that takes days; the reading tells how long the charge left would last.
//
//   AAA     1.5 V, 0.25 ohm, 1.1 A h; holders for 2, 3, 4         (from memory)
//   9 V     9.0 V, 1.7 ohm, 0.55 A h alkaline (a carbon-zinc block has 0.400 A h at 8 mA: Kuphaldt, Lessons in Electric Circuits)
//   CR2032  3.0 V, 15 ohm, 0.225 A h at 0.2 mA (a maker's sheet); resistance from memory
// No maker's table of internal resistance was found. Leads: 0.2 m of 22 gauge each and a spring contact each.
//
// Caution for anyone at a real bench: a shorted battery gets hot and may leak or burst; keep coin cells away from small children: a
// swallowed one burns. Follow the maker's advice and your local rules when throwing batteries away.

#include "engine/parts/cells.h"

#include <array>
#include <cmath>

#include "engine/parts/families.h"
#include "engine/parts/marking.h"

namespace tiepoint {

double open_voltage_share(double charge) {
  constexpr double kNearlyEmpty = 0.05, kUsedUp = 0.7;
  const double share = kUsedUp + (1 - kUsedUp) * charge;
  return charge >= kNearlyEmpty ? share : share * charge / kNearlyEmpty;
}

double resistance_growth(double charge) { return 3 - 2 * charge; }

namespace {

constexpr std::array<CellFigures, 3> kFigures = {{
    {"AAA", 1.5, 0.25, 1.1 * 3600, 0.6},
    {"9 V", 9.0, 1.7, 0.55 * 3600, 0.3},
    {"CR2032", 3.0, 15, 0.225 * 3600, 0.02},
}};
enum Index { kAaa, kBlock, kCoin };

constexpr double kNoLimit = std::numeric_limits<double>::infinity();
constexpr double kLeadLength = 0.2;  // [m]
constexpr int kLeadGauge = 22;
constexpr double kFlat = 0.05;       // share of the charge below which a battery is called empty

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "+"}, {.name = "-"}}};
constexpr ValueSpec kOnValue = {.key = "on", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
constexpr ValueSpec kChargeValue = {.key = "charge", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
enum { kOn, kCharge, kCount };

constexpr std::array<std::string_view, 4> kCounts = {"1", "2", "3", "4"};
constexpr std::array<ValueSpec, 3> kHolderValues = {{
    kOnValue,
    kChargeValue,
    {.key = "cells", .unit = "", .standard = 1, .minimum = 0, .maximum = double(kCounts.size() - 1), .options = kCounts},
}};
constexpr std::array<ValueSpec, 2> kSingleValues = {{kOnValue, kChargeValue}};

double count(const Part& part) { return part.values.size() > kCount ? part.values[kCount] + 1 : 1; }

template <Index index>
void elements(const Board&, const Part& part, ElementList& out) {
  const CellFigures& f = kFigures[index];
  const bool on = part.values[kOn] != 0;
  const double charge = part.values[kCharge];
  const double leads = 2 * kLeadLength * awg_resistance(kLeadGauge) + kTwoContacts;
  out.add(ElementKind::kLimitedSupply, {0, 1},
          {on ? f.voltage * open_voltage_share(charge) * count(part) : 0,
           on ? f.resistance * resistance_growth(charge) * count(part) + leads : kOpenResistance, kNoLimit});
}

template <Index index>
Ratings ratings(const Part& part) {
  return {.current = kFigures[index].current, .voltage = kFigures[index].voltage * count(part)};
}

template <Index index>
void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const CellFigures& f = kFigures[index];
  const bool on = part.values[kOn] != 0;
  out.state = on ? State::kOn : State::kOff;
  if (!read_two_leads(leads, out)) return;
  out.current = -out.current;
  if (!on) return;
  if (out.current < -kIdleCurrent)
    out.state = State::kBeingCharged;
  else if (out.current > f.current)
    out.state = State::kOverloaded;
  else if (part.values[kCharge] < kFlat)
    out.state = State::kEmpty;
  if (out.current > kIdleCurrent) out.run_time = part.values[kCharge] * f.capacity / out.current;
}

constexpr Footprint mat(double length, double width) {
  return {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

constexpr int kMinus = 1;  // the lead that is zero volt

}  // namespace

std::span<const CellFigures> cell_figures() { return kFigures; }

constexpr PartType kAaaHolder = {
    {.key = "aaa-holder", .prefix = "BAT", .leads = kLeads, .footprint = mat(20, 10), .values = kHolderValues},
    "power", Body::kBatteryPack, elements<kAaa>, 0, ratings<kAaa>, read<kAaa>, kMinus, "battery cells holder AAA power supply"};

constexpr PartType kNineVoltBattery = {
    {.key = "nine-volt-battery", .prefix = "BAT", .leads = kLeads, .footprint = mat(19, 10.5), .values = kSingleValues},
    "power", Body::kNineVoltBattery, elements<kBlock>, 0, ratings<kBlock>, read<kBlock>, kMinus, "battery 9 V block nine volt power supply"};

constexpr PartType kCoinCell = {
    {.key = "coin-cell", .prefix = "BAT", .leads = kLeads, .footprint = mat(8, 8), .values = kSingleValues},
    "power", Body::kCoinCell, elements<kCoin>, 0, ratings<kCoin>, read<kCoin>, kMinus, "battery coin button cell CR2032 3 V power supply"};

}  // namespace tiepoint
