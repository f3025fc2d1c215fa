// Digital chips. What they do: engine/devices/logic_machine.cpp; how they meet the volts: engine/devices/logic.cpp.
//
// 74HC at 2 to 6 V (7 V at most): 74HC00 (Philips, 30 Jun 2003) and 74HC04 (Nexperia Rev 5) sheets. Output resistance from the typical
// values at 4.5 V and 4 mA: 45 ohm high (4.32 V), 37.5 ohm low (0.15 V). Inputs typically switch between 2.1 and 2.4 V at 4.5 V: 0.467
// and 0.533 of the supply. 74HC14: 2.36 V up, 1.53 V down at 4.5 V (NXP 74HC1G14, typical): 0.525 and 0.34. A short-circuited output
// gives some 70 mA (from memory; 25 mA is its rating). Quiescent current of 1 uA at 5 V (the sheets' largest: 20 uA). Delays at 5 V, typical:
// 7 to 19 ns (from memory). 500 mW.
// CD4000 at 3 to 15 V (18 V at most): outputs 1 mA at 0.4 V from the rail with 5 V, so 400 ohm, and 2.6 mA at 0.5 V with 10 V (TI, from
// memory). CD4017: 325 ns. CD4511 (Fairchild 1987/2002): npn outputs, 4.57 V without load at 5 V; about 4.1 V at 10 mA and 3.6 V at
// 25 mA, so 0.65 V and 30 ohm; 600 ns (some from memory).
// Decimal points and legs named as in the makers' sheets; a "-" at the end marks one that acts when low.

#include <array>

#include "engine/devices/logic_machine.h"
#include "engine/parts/dip.h"
#include "engine/parts/families.h"

namespace tiepoint {
namespace {

struct Family {
  double rise, fall;             // shares of the supply
  double high_drive, low_drive;  // [S/V]
  double turn_on, high_drop;     // [V]
  double limit;                  // [A]
  SupplyLimits supply;
};
constexpr SupplyLimits kHcSupply = {2, 7, 0.5}, kCdSupply = {3, 18, 0.5};
constexpr Family kHc = {0.533, 0.467, 5.85e-3, 7.02e-3, 0.7, 0, 0.07, kHcSupply};
constexpr Family kHcSchmitt = {0.525, 0.34, 5.85e-3, 7.02e-3, 0.7, 0, 0.07, kHcSupply};
constexpr Family kCd = {0.52, 0.48, 6.25e-4, 6.25e-4, 1, 0, 0.01, kCdSupply};
constexpr Family kCdDriver = {0.52, 0.48, 8.3e-3, 6.25e-4, 1, 0.65, 0.06, kCdSupply};

// A chip: the legs of each of its elements in the order of the model's terminals after vcc and gnd.
struct Chip {
  const Family* family;
  ElementKind kind;
  int function;
  double delay;  // [s]
  int vcc, gnd;
  int legs_each;
  std::span<const int> legs;
};

template <const Chip& chip>
void elements(const Board&, const Part&, ElementList& out) {
  const Family& f = *chip.family;
  const size_t each = size_t(chip.legs_each), count = chip.legs.size() / each;
  for (size_t k = 0; k < count; ++k) {
    out.add(chip.kind, {chip.vcc, chip.gnd},
            {double(chip.function), f.rise, f.fall, f.high_drive, f.low_drive, f.turn_on, f.high_drop, f.limit, chip.delay, 2e-7 / double(count)});
    for (size_t leg = 0; leg < each; ++leg) out.terminals.push_back(chip.legs[k * each + leg]);
    out.entries.back().terminal_count += chip.legs_each;
  }
  add_substrate(chip.gnd, chip.vcc, out);
}

template <const Chip& chip>
Ratings ratings(const Part&) {
  return {.power = chip.family->supply.power, .current = 0.025, .voltage = chip.family->supply.largest};
}

template <const Chip& chip>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  read_chip(chip.family->supply, chip.vcc, chip.gnd, leads, out);
}

template <const Chip& chip>
constexpr PartType make(std::string_view key, std::span<const LeadSpec> leads, std::string_view search) {
  return {{.key = key, .prefix = "U", .leads = leads, .footprint = dip_body(int(leads.size())), .values = {}},
          "chips",
          Body::kDip,
          elements<chip>,
          0,
          ratings<chip>,
          read<chip>,
          -1,
          search};
}

// ---- Gates

constexpr auto kQuadLeads = dip_leads<14>({"1a", "1b", "1y", "2a", "2b", "2y", "gnd", "3y", "3a", "3b", "4y", "4a", "4b", "vcc"});
constexpr std::array<int, 12> kQuad = {0, 1, 2, 3, 4, 5, 8, 9, 7, 11, 12, 10};
constexpr auto kQuadNorLeads = dip_leads<14>({"1y", "1a", "1b", "2y", "2a", "2b", "gnd", "3a", "3b", "3y", "4a", "4b", "4y", "vcc"});
constexpr std::array<int, 12> kQuadNor = {1, 2, 0, 4, 5, 3, 7, 8, 9, 10, 11, 12};
constexpr auto kHexLeads = dip_leads<14>({"1a", "1y", "2a", "2y", "3a", "3y", "gnd", "4y", "4a", "5y", "5a", "6y", "6a", "vcc"});
constexpr std::array<int, 12> kHex = {0, 1, 2, 3, 4, 5, 8, 7, 10, 9, 12, 11};

constexpr Chip kChip00 = {&kHc, ElementKind::kGate, kNand, 7e-9, 13, 6, 3, kQuad};
constexpr Chip kChip02 = {&kHc, ElementKind::kGate, kNor, 7e-9, 13, 6, 3, kQuadNor};
constexpr Chip kChip04 = {&kHc, ElementKind::kInverter, 0, 7e-9, 13, 6, 2, kHex};
constexpr Chip kChip08 = {&kHc, ElementKind::kGate, kAnd, 7e-9, 13, 6, 3, kQuad};
constexpr Chip kChip14 = {&kHcSchmitt, ElementKind::kInverter, 0, 12e-9, 13, 6, 2, kHex};
constexpr Chip kChip32 = {&kHc, ElementKind::kGate, kOr, 7e-9, 13, 6, 3, kQuad};
constexpr Chip kChip86 = {&kHc, ElementKind::kGate, kXor, 11e-9, 13, 6, 3, kQuad};

// ---- Memory and counting

constexpr auto kFlipFlopLeads = dip_leads<14>(
    {"1clear-", "1data", "1clock", "1preset-", "1q", "1q-", "gnd", "2q-", "2q", "2preset-", "2clock", "2data", "2clear-", "vcc"});
constexpr std::array<int, 12> kFlipFlops = {0, 1, 2, 3, 4, 5, 12, 11, 10, 9, 8, 7};
constexpr Chip kChip74 = {&kHc, ElementKind::kFlipFlop, 0, 14e-9, 13, 6, 6, kFlipFlops};

constexpr auto kCounterLeads = dip_leads<16>({"clear-", "clock", "a", "b", "c", "d", "enable-p", "gnd", "load-", "enable-t", "qd", "qc", "qb",
                                              "qa", "carry", "vcc"});
constexpr std::array<int, 14> kCounterLegs = {0, 1, 2, 3, 4, 5, 6, 8, 9, 13, 12, 11, 10, 14};
constexpr Chip kChip161 = {&kHc, ElementKind::kCounter, 0, 19e-9, 15, 7, 14, kCounterLegs};

constexpr auto kShiftInLeads = dip_leads<16>(
    {"load-", "clock", "e", "f", "g", "h", "qh-", "gnd", "qh", "serial", "a", "b", "c", "d", "inhibit", "vcc"});
constexpr std::array<int, 14> kShiftInLegs = {0, 1, 10, 11, 12, 13, 2, 3, 4, 5, 9, 14, 8, 6};
constexpr Chip kChip165 = {&kHc, ElementKind::kShiftIn, 0, 16e-9, 15, 7, 14, kShiftInLegs};

constexpr auto kShiftOutLeads = dip_leads<16>(
    {"qb", "qc", "qd", "qe", "qf", "qg", "qh", "gnd", "qh'", "clear-", "shift", "latch", "enable-", "serial", "qa", "vcc"});
constexpr std::array<int, 14> kShiftOutLegs = {13, 12, 11, 10, 9, 14, 0, 1, 2, 3, 4, 5, 6, 8};
constexpr Chip kChip595 = {&kHc, ElementKind::kShiftOut, 0, 16e-9, 15, 7, 14, kShiftOutLegs};

constexpr auto kDecadeLeads = dip_leads<16>(
    {"q5", "q1", "q0", "q2", "q6", "q7", "q3", "gnd", "q8", "q4", "q9", "carry", "inhibit", "clock", "reset", "vcc"});
constexpr std::array<int, 14> kDecadeLegs = {13, 12, 14, 2, 1, 3, 6, 9, 0, 4, 5, 8, 10, 11};
constexpr Chip kChip4017 = {&kCd, ElementKind::kDecade, 0, 325e-9, 15, 7, 14, kDecadeLegs};

constexpr auto kSegmentsLeads = dip_leads<16>(
    {"in-b", "in-c", "test-", "blank-", "latch", "in-d", "in-a", "gnd", "e", "d", "c", "b", "a", "g", "f", "vcc"});
constexpr std::array<int, 14> kSegmentsLegs = {6, 0, 1, 5, 2, 3, 4, 12, 11, 10, 9, 8, 14, 13};
constexpr Chip kChip4511 = {&kCdDriver, ElementKind::kSegments, 0, 600e-9, 15, 7, 14, kSegmentsLegs};

}  // namespace

constexpr PartType k74HC00 = make<kChip00>("74hc00", kQuadLeads, "chip logic gate nand 74HC00 four");
constexpr PartType k74HC02 = make<kChip02>("74hc02", kQuadNorLeads, "chip logic gate nor 74HC02 four");
constexpr PartType k74HC04 = make<kChip04>("74hc04", kHexLeads, "chip logic gate not inverter 74HC04 six");
constexpr PartType k74HC08 = make<kChip08>("74hc08", kQuadLeads, "chip logic gate and 74HC08 four");
constexpr PartType k74HC14 = make<kChip14>("74hc14", kHexLeads, "chip logic gate not inverter schmitt trigger 74HC14 six");
constexpr PartType k74HC32 = make<kChip32>("74hc32", kQuadLeads, "chip logic gate or 74HC32 four");
constexpr PartType k74HC86 = make<kChip86>("74hc86", kQuadLeads, "chip logic gate exclusive or xor 74HC86 four");
constexpr PartType k74HC74 = make<kChip74>("74hc74", kFlipFlopLeads, "chip logic flip-flop memory 74HC74 two");
constexpr PartType k74HC161 = make<kChip161>("74hc161", kCounterLeads, "chip logic counter binary four bit 74HC161");
constexpr PartType k74HC165 = make<kChip165>("74hc165", kShiftInLeads, "chip logic shift register parallel in 74HC165");
constexpr PartType k74HC595 = make<kChip595>("74hc595", kShiftOutLeads, "chip logic shift register parallel out 74HC595");
constexpr PartType kCD4017 = make<kChip4017>("cd4017", kDecadeLeads, "chip logic decade counter chaser CD4017");
constexpr PartType kCD4511 = make<kChip4511>("cd4511", kSegmentsLeads, "chip logic seven segment decoder driver latch CD4511");

}  // namespace tiepoint
