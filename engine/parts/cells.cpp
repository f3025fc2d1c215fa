// Batteries: AA and AAA cells in holders, the 9 V block, the coin cell CR2032.
//
//   V = E(s) - R(s) I          s: share of the charge that is left: the value "charge", from which a session draws as time passes
//   ds/dt = -I / Q             Q: capacity [C]. What is pushed back into a cell is not kept
//   run time = s Q / I
// E falls from the fresh voltage to 70 % of it while the charge goes, and to nothing over the last 5 %; R grows to three times its
// fresh value (typical discharge curves of alkaline cells, from memory, straightened). Left out: that Q shrinks at large currents
// and in the cold, recovery in pauses, self-discharge.
//
//   AA      1.5 V, 0.15 ohm, 2.5 A h (makers' sheets, at some 25 mA); holders for 1 to 6; overloaded above 1 A   (from memory)
//   AAA     1.5 V, 0.25 ohm, 1.1 A h; holders for 1 to 4                                                         (from memory)
//   9 V     9.0 V, 1.7 ohm, 0.55 A h alkaline (a carbon-zinc block has 0.400 A h at 8 mA: Kuphaldt, Lessons in Electric Circuits)
//   CR2032  3.0 V, 15 ohm, 0.225 A h at 0.2 mA (a maker's sheet); resistance from memory
// No maker's table of internal resistance was found. Leads: 0.2 m of 22 gauge each and a spring contact each. Switched off: the same
// element with 0 V behind an open contact.
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

constexpr std::array<CellFigures, 4> kFigures = {{
    {"AA", 1.5, 0.15, 2.5 * 3600, 1.0},
    {"AAA", 1.5, 0.25, 1.1 * 3600, 0.6},
    {"9 V", 9.0, 1.7, 0.55 * 3600, 0.3},
    {"CR2032", 3.0, 15, 0.225 * 3600, 0.02},
}};
enum Index { kAa, kAaa, kBlock, kCoin };

constexpr double kNoLimit = std::numeric_limits<double>::infinity();
constexpr double kLeadLength = 0.2;  // [m]
constexpr int kLeadGauge = 22;
constexpr double kFlat = 0.05;       // share of the charge below which a battery is called empty

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "+"}, {.name = "-"}}};
constexpr ValueSpec kOnValue = {.key = "on", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
constexpr ValueSpec kChargeValue = {.key = "charge", .unit = "", .standard = 1, .minimum = 0, .maximum = 1, .options = {}, .use = Use::kPosition};
constexpr ValueSpec cells_value(std::span<const std::string_view> counts, double standard) {
  return {.key = "cells", .unit = "", .standard = standard, .minimum = 0, .maximum = double(counts.size() - 1), .options = counts};
}

constexpr std::array<std::string_view, 6> kPackCounts = {"1", "2", "3", "4", "5", "6"};
constexpr std::array<std::string_view, 4> kCounts = {"1", "2", "3", "4"};
constexpr std::array<ValueSpec, 3> kPackValues = {{cells_value(kPackCounts, 2), kOnValue, kChargeValue}};
constexpr std::array<ValueSpec, 3> kHolderValues = {{kOnValue, kChargeValue, cells_value(kCounts, 1)}};
constexpr std::array<ValueSpec, 2> kSingleValues = {{kOnValue, kChargeValue}};

// Where the values of a kind stand; cells -1: one cell.
struct Places {
  size_t on, charge;
  int cells;
};
constexpr Places places(Index index) { return index == kAa ? Places{1, 2, 0} : Places{0, 1, index == kAaa ? 2 : -1}; }

template <Index index>
bool is_on(const Part& part) { return part.values[places(index).on] != 0; }
template <Index index>
double charge_of(const Part& part) { return part.values[places(index).charge]; }
template <Index index>
double count(const Part& part) {
  constexpr int at = places(index).cells;
  return at < 0 ? 1 : part.values[size_t(at)] + 1;
}
// Cells in series all give the same charge.
template <Index index>
double capacity(const Part&) { return kFigures[index].capacity; }

template <Index index>
void elements(const Board&, const Part& part, ElementList& out) {
  const CellFigures& f = kFigures[index];
  const bool on = is_on<index>(part);
  const double charge = charge_of<index>(part);
  const double leads = 2 * kLeadLength * awg_resistance(kLeadGauge) + kTwoContacts;
  out.add(ElementKind::kLimitedSupply, {0, 1},
          {on ? f.voltage * open_voltage_share(charge) * count<index>(part) : 0,
           on ? f.resistance * resistance_growth(charge) * count<index>(part) + leads : kOpenResistance, kNoLimit});
}

template <Index index>
Ratings ratings(const Part& part) {
  return {.current = kFigures[index].current, .voltage = kFigures[index].voltage * count<index>(part)};
}

template <Index index>
void read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  const CellFigures& f = kFigures[index];
  const bool on = is_on<index>(part);
  out.charge = charge_of<index>(part);
  out.state = on ? State::kOn : State::kOff;
  if (!read_two_leads(leads, out)) return;
  out.current = -out.current;
  if (!on) return;
  if (out.current < -kIdleCurrent)
    out.state = State::kBeingCharged;
  else if (out.current > f.current)
    out.state = State::kOverloaded;
  else if (out.charge < kFlat)
    out.state = State::kEmpty;
  if (out.current > kIdleCurrent) out.run_time = out.charge * f.capacity / out.current;
}

constexpr Footprint mat(double length, double width) {
  return {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

constexpr int kMinus = 1;  // the lead that is zero volt

}  // namespace

std::span<const CellFigures> cell_figures() { return kFigures; }

constexpr PartType kBatteryPack = {
    {.key = "battery-pack", .prefix = "BAT", .leads = kLeads, .footprint = mat(23, 12), .values = kPackValues},
    "power", Body::kBatteryPack, elements<kAa>, 0, ratings<kAa>, read<kAa>, kMinus, "battery cells pack power AA supply source", -1, capacity<kAa>};

constexpr PartType kAaaHolder = {
    {.key = "aaa-holder", .prefix = "BAT", .leads = kLeads, .footprint = mat(20, 10), .values = kHolderValues},
    "power", Body::kBatteryPack, elements<kAaa>, 0, ratings<kAaa>, read<kAaa>, kMinus, "battery cells holder AAA power supply", -1, capacity<kAaa>};

constexpr PartType kNineVoltBattery = {
    {.key = "nine-volt-battery", .prefix = "BAT", .leads = kLeads, .footprint = mat(19, 10.5), .values = kSingleValues},
    "power", Body::kNineVoltBattery, elements<kBlock>, 0, ratings<kBlock>, read<kBlock>, kMinus, "battery 9 V block nine volt power supply", -1, capacity<kBlock>};

constexpr PartType kCoinCell = {
    {.key = "coin-cell", .prefix = "BAT", .leads = kLeads, .footprint = mat(8, 8), .values = kSingleValues},
    "power", Body::kCoinCell, elements<kCoin>, 0, ratings<kCoin>, read<kCoin>, kMinus, "battery coin button cell CR2032 3 V power supply", -1, capacity<kCoin>};

}  // namespace tiepoint
