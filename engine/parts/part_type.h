// PartType: all that is known of a kind of part beyond its seat on the board: electrical model, ratings, how to draw it, what
// its numbers mean. One file per family in this folder defines its types; catalogue.cpp lists them.
#pragma once

#include <array>
#include <cmath>
#include <limits>
#include <span>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/kind.h"
#include "engine/parts/element.h"

namespace tiepoint {

inline constexpr double kNoReading = std::numeric_limits<double>::quiet_NaN();
inline bool has_reading(double value) { return !std::isnan(value); }

// A part's state in our own plain words; key(state) is what files, JSON and the message catalogue use.
#define TIEPOINT_STATES(X)                                                                          \
  X(kUnknown, "no-reading")      /* no solution, or no path to a supply */                          \
  X(kIdle, "idle")               /* nothing flows */                                                \
  X(kCarrying, "carrying")       /* current flows, within the rating */                             \
  X(kTooHot, "too-hot")          /* more power than the rating */                                   \
  X(kDark, "dark") X(kFaint, "faint") X(kLit, "lit") X(kTooBright, "too-bright") X(kReversed, "reversed") \
  X(kConducting, "conducting") X(kBlocking, "blocking")                                             \
  X(kOpen, "open") X(kClosed, "closed")                                                             \
  X(kEmpty, "empty") X(kCharging, "charging") X(kCharged, "charged") X(kDischarging, "discharging") \
  X(kOverVoltage, "over-voltage")                                                                   \
  X(kOff, "off") X(kOn, "on") X(kAtLimit, "at-limit") X(kOverloaded, "overloaded")                  \
  X(kBeingCharged, "being-charged")                                                                 \
  X(kTurning, "turning") X(kStalled, "stalled") X(kPulled, "pulled") X(kReleased, "released")       \
  X(kSounding, "sounding") X(kSilent, "silent") X(kMelted, "melted") X(kTripped, "tripped") \
  X(kMeasuring, "measuring") X(kOverRange, "over-range") X(kLiveCircuit, "live-circuit") \
  X(kBroken, "broken")           /* it died of too much */                                          \
  X(kHigh, "high") X(kLow, "low") X(kFloating, "floating") X(kChanging, "changing")

enum class State {
#define X(id, key) id,
  TIEPOINT_STATES(X)
#undef X
};
std::string_view key(State state);

// What goes on inside one element: its own unknowns (a motor's speed, a filament's heat) and its discrete state.
struct ElementInside {
  std::span<const double> own;         // in the order of the model's own unknowns
  int mode = 0;
  double mode_age = 0;                 // [s] since the mode began
  std::array<double, 2> lasted = {};   // [s] how long the last mode and the one before it lasted; 0: not known
};

// What a part's leads show, given to PartType::read. Everything NaN (kNoReading) where there is no reading.
struct LeadNumbers {
  std::span<const double> voltage;  // [V] voltage[lead], at the lead itself, against the island's reference
  std::span<const double> current;  // [A] current[lead], positive into the part
  std::span<const double> voltage_rate;  // [V/s] per lead; 0 when settled
  std::span<const ElementInside> inside = {};  // inside[k] of the part's k-th element; empty where there is no reading
};

// One part's reading. Terms: current positive from the first measured lead through the part to the second.
struct PartNumbers {
  double voltage = kNoReading;     // [V] across the part
  double current = kNoReading;     // [A] through it; of a supply: delivered
  double power = kNoReading;       // [W] taken from the circuit; negative: delivered
  double brightness = 0;           // luminous output relative to the rated current, 0..; LEDs and lamps
  std::array<double, 10> lights = {};  // the same of each light of a part that has several (colours, segments, bars)
  double frequency = kNoReading;   // [Hz] of what sounds or swings
  double speed = kNoReading;       // [rad/s] of what turns, forwards positive
  double angle = kNoReading;       // [rad] of what is turned to a place
  double temperature = kNoReading;  // [°C] of its hottest place
  double worn = 0;                  // how far it has been damaged by heat or voltage: 1 kills it
  double charge = kNoReading;      // of a battery: share of its charge that is left
  double run_time = kNoReading;    // [s] that a battery's charge would last at this current
  double shown = kNoReading;       // what an instrument's display says, in `shown_unit`
  std::string_view shown_unit = {};  // "V", "A", "Ω"
  State state = State::kUnknown;
};

// How the bench draws the body. Everything a picture needs that is not a value of the part.
enum class Body : unsigned char {
  kWire, kAxialResistor, kRoundLed, kAxialDiode, kDiscCapacitor, kCanCapacitor, kTactButton, kSlideSwitch,
  kOutlet, kBatteryPack,
  kPotentiometer, kTrimmer, kPhotoresistor, kThermistor, kForceSensor, kFlexSensor, kInductor,
  kToggleSwitch, kDipSwitch, kRotarySwitch, kTiltSwitch, kReedSwitch, kLimitSwitch,
  kSmallLed, kLed8mm, kLed10mm, kInfraredLed, kRgbLed, kDigit, kLedBar, kPhotodiode, kPhototransistor,
  kTo92, kTo18, kTo220,
  kNineVoltBattery, kCoinCell, kBenchSupply, kSignalSource, kSolarPanel,
  kDip, kFilamentLamp, kMotor, kVibrationMotor, kRelay, kSolenoid, kBuzzer, kPiezo, kLoudspeaker, kServo, kFuse, kResettableFuse,
  kSoundSensor, kSlottedSensor, kMeter, kOscilloscope, kLogicProbe, kNote
};

struct Ratings {  // NaN where none applies
  double power = kNoReading;            // [W]
  double current = kNoReading;          // [A] continuous, forward
  double voltage = kNoReading;          // [V] working
  double reverse_voltage = kNoReading;  // [V]
};

struct PartType : PartKind {
  std::string_view group;      // compartment of the parts box: "wires", "resistors", "light", "switches", "storage", "power"
  Body body = Body::kWire;
  // Electrical model of one part with its present values; appended to `out`. Kinds and terminals depend on the kind of part
  // alone, never on its values: a press or a knob is no change of structure. The board gives a wire its length.
  void (*elements)(const Board& board, const Part& part, ElementList& out) = nullptr;
  int inner_nodes = 0;
  Ratings (*ratings)(const Part& part) = nullptr;
  // Fills `out` (handed over all unknown). Switch positions are told even where there is no reading.
  void (*read)(const Part& part, const LeadNumbers& leads, PartNumbers& out) = nullptr;
  // Lead whose potential is the island's zero when this part supplies it, -1 when the part is no supply.
  int reference_lead = -1;
  std::string_view search = {};  // words the parts box finds it by
  int measuring_lead = -1;       // of an instrument: the lead that is zero in a group without any supply
  // [C] of a battery: the charge that its value "charge" is a share of, drawn from its first element. Null for all else.
  double (*capacity)(const Part& part) = nullptr;
};

// All kinds of part, in the order of the parts box.
const Catalogue& catalogue();
// The type behind a part placed from catalogue().
inline const PartType& type_of(const Part& part) { return static_cast<const PartType&>(*part.kind); }

// Resistance of one spring contact [ohm], common practice, no maker's source found: tens of milliohms when good.
inline constexpr double kContactResistance = 0.020;
inline constexpr double kOpenResistance = 1e10;  // [ohm] an open contact, a supply switched off
// [A] less than this is "nothing flows" to a person with a hand-held meter: the last digit of its finest range (from memory).
inline constexpr double kIdleCurrent = 1e-6;

}  // namespace tiepoint
