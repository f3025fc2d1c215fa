// Finding: a typed fact about a board that a learner can act on. It holds no sentence: the words are looked up in the message
// catalogue under "finding.<key>.nudge", ".pointer" and ".repair" (three depths: where to look, what is wrong, what to do) and
// filled from `arguments`.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/edit.h"
#include "engine/circuit/wiring.h"

namespace tiepoint {

enum class Severity : unsigned char { kNote, kWarning, kFault };
std::string_view key(Severity severity);  // "note", "warning", "fault"

// Every kind of finding: identifier, key, severity, misconception tag ("" where none fits). The tags name what a learner may
// believe; they come with a list of published misconceptions about circuits (M) and of breadboard practice (B):
//   M6 one wire is enough, M8 a bare wire in parallel is overlooked, B1 both legs in one strip, B2 the two sides of the centre
//   gap are joined, B3 the neighbouring strip, B4 rails, B5 the legs of a button, B6 polarity.
#define TIEPOINT_FINDINGS(X)                                                      \
  /* seats */                                                                     \
  X(kLeadInAir, "lead-in-air", kFault, "")                                        \
  X(kSameStrip, "same-strip", kFault, "B1")                                       \
  X(kNextStrip, "next-strip", kFault, "B3")                                       \
  X(kCentreGap, "centre-gap", kFault, "B2")                                       \
  X(kRailUnfed, "rail-unfed", kFault, "B4")                                       \
  X(kRailSplit, "rail-split", kFault, "B4")                                       \
  X(kRailCracked, "rail-cracked", kFault, "B4")                                   \
  X(kRailsMixed, "rails-mixed", kFault, "B4")                                     \
  X(kButtonTurned, "button-turned", kFault, "B5")                                 \
  X(kButtonOnePair, "button-one-pair", kFault, "B5")                              \
  X(kSwitchEnds, "switch-ends", kFault, "B5")                                     \
  X(kSwitchIdle, "switch-idle", kFault, "B5")                                     \
  /* joins */                                                                     \
  X(kWireMissing, "wire-missing", kFault, "")                                     \
  X(kReturnMissing, "return-missing", kFault, "M6")                               \
  X(kFeedMissing, "feed-missing", kFault, "M6")                                   \
  X(kSupplyShorted, "supply-shorted", kFault, "M8")                               \
  X(kPressShorts, "press-shorts", kFault, "M8")                                   \
  X(kLoadBypassed, "load-bypassed", kFault, "M8")                                 \
  X(kResistorBypassed, "resistor-bypassed", kFault, "M8")                         \
  X(kSwitchBypassed, "switch-bypassed", kFault, "M8")                             \
  X(kPartBypassed, "part-bypassed", kFault, "M8")                                 \
  X(kWireAstray, "wire-astray", kFault, "")                                       \
  X(kWireAmiss, "wire-amiss", kFault, "")                                         \
  /* supplies */                                                                  \
  X(kNoSupply, "no-supply", kNote, "")                                            \
  X(kSupplyOff, "supply-off", kFault, "")                                         \
  X(kSupplySwapped, "supply-swapped", kFault, "B4")                               \
  X(kSuppliesFight, "supplies-fight", kFault, "M2")                               \
  X(kSupplyTooLow, "supply-too-low", kFault, "")                                  \
  X(kSupplyTooHigh, "supply-too-high", kFault, "M2")                              \
  X(kSupplyOverloaded, "supply-overloaded", kFault, "M2")                         \
  X(kBatteryLow, "battery-low", kFault, "")                                       \
  X(kBatteryHot, "battery-hot", kFault, "")                                       \
  /* direction and value */                                                       \
  X(kLedReversed, "led-reversed", kFault, "B6")                                   \
  X(kDiodeReversed, "diode-reversed", kFault, "B6")                               \
  X(kCapacitorReversed, "capacitor-reversed", kFault, "B6")                       \
  X(kLedUnlimited, "led-unlimited", kFault, "M2")                                 \
  X(kResistorTooLarge, "resistor-too-large", kFault, "")                          \
  X(kResistorTooSmall, "resistor-too-small", kFault, "")                          \
  X(kTooManyInSeries, "too-many-in-series", kFault, "M7")                         \
  X(kPartOverPower, "part-over-power", kFault, "")                                \
  X(kPartOverVoltage, "part-over-voltage", kFault, "")                            \
  X(kPartOverCurrent, "part-over-current", kFault, "")                            \
  /* transistors and chips */                                                     \
  X(kBaseUnlimited, "base-unlimited", kFault, "")                                 \
  X(kTransistorTurned, "transistor-turned", kFault, "B6")                         \
  X(kInputFloating, "input-floating", kFault, "")                                 \
  X(kChipTurned, "chip-turned", kFault, "B6")                                     \
  X(kChipUnpowered, "chip-unpowered", kFault, "")                                 \
  X(kDecouplingMissing, "decoupling-missing", kNote, "")                          \
  /* a part is broken */                                                          \
  X(kPartDead, "part-dead", kFault, "")                                           \
  X(kNotAsExpected, "not-as-expected", kFault, "")                                \
  /* consequences, and when nothing is wrong */                                   \
  X(kStaysDark, "stays-dark", kNote, "")                                          \
  X(kNoPart, "no-part", kNote, "")                                                \
  X(kUnfinished, "unfinished", kNote, "")                                         \
  X(kWireIdle, "wire-idle", kNote, "")                                            \
  X(kWorks, "works", kNote, "")

enum class FindingKind : unsigned char {
#define X(id, key, severity, tag) id,
  TIEPOINT_FINDINGS(X)
#undef X
  kCount
};
std::string_view key(FindingKind kind);  // "led-reversed"
Severity severity(FindingKind kind);
std::string_view misconception(FindingKind kind);

// Where it is. Only what applies is set; the first places are the culprits, `with` ones are what they should or should not meet.
struct Place {
  PartId part = {};
  int lead = -1;            // of the part
  Hole hole = {};           // where the lead sits now, or a hole of the strip
  StripIndex strip = -1;    // valid for the wiring the finding was made from
  bool with = false;
};

// A word or number for the sentence: {name}. Exactly one of text or (value with unit).
struct FindingArgument {
  std::string_view name;
  std::string text = {};
  double value = 0;
  std::string_view unit = {};  // "V", "A", ... ; "" and empty text: a plain count
};

struct Finding {
  FindingKind kind = FindingKind::kWorks;
  Severity severity = Severity::kNote;
  std::vector<Place> places;
  std::vector<FindingArgument> arguments;
  std::vector<Edit> repair;        // applied in this order; empty when no single way can be named
  std::string_view misconception;  // "" where none fits
  double effort = 0;               // size of the hand movement the repair takes, for ranking; 0: no repair
  int instead_of = -1;             // another way to see the same trouble: index of the finding it stands beside
  std::vector<PartId> silenced;    // loads that cannot work while this stands
};

// A finding of this kind with its severity and tag, and nothing in it yet.
Finding make_finding(FindingKind kind);
// One more word or number for its sentence; a number without a reading is left out.
void tell(Finding& finding, std::string_view name, std::string text);
void tell(Finding& finding, std::string_view name, double value, std::string_view unit);

}  // namespace tiepoint
