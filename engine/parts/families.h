// The families of parts, one file each; catalogue.cpp puts them into the order of the parts box. Also the few sums every
// family's `read` needs.
#pragma once

#include "engine/parts/part_type.h"

namespace tiepoint {

extern const PartType kJumperWire;           // wire.cpp
extern const PartType kNote;                 // note.cpp
extern const PartType kResistor;             // resistor.cpp
extern const PartType kLed;                  // led.cpp
extern const PartType kDiode;                // diode.cpp
extern const PartType kPushButton;           // switches.cpp
extern const PartType kSlideSwitch;          // switches.cpp
extern const PartType kCeramicCapacitor;     // capacitors.cpp
extern const PartType kElectrolyticCapacitor;  // capacitors.cpp
extern const PartType kUsbSupply;            // supplies.cpp
extern const PartType kPotentiometer, kTrimmer;                                  // potentiometers.cpp
extern const PartType kPhotoresistor, kThermistor, kForceSensor, kFlexSensor;    // sensing_resistors.cpp
extern const PartType kInductor;                                                 // inductors.cpp
extern const PartType kToggleSwitch, kDipSwitch4, kDipSwitch8, kRotarySwitch;    // more_switches.cpp
extern const PartType kTiltSwitch, kReedSwitch, kLimitSwitch;                    // sensing_switches.cpp
extern const PartType kSchottkyDiode, kZenerDiode;                               // schottky_zener.cpp
extern const PartType kSmallLed, kLed8mm, kLed10mm, kInfraredLed, kRgbLedCathode, kRgbLedAnode;  // led_assemblies.cpp
extern const PartType kDigitCathode, kDigitAnode, kLedBar;                       // led_assemblies.cpp
extern const PartType kPhotodiode, kPhototransistor;                             // photodiodes.cpp
extern const PartType k2N3904, k2N3906, kBC547, kBC557, k2N2222, kTIP120;        // transistors.cpp
extern const PartType k2N7000, kBS170, kIRLZ44N, kBS250, kIRF9540N;              // mosfets.cpp
extern const PartType kBatteryPack, kAaaHolder, kNineVoltBattery, kCoinCell;     // cells.cpp
extern const PartType kBenchSupply, kSignalSource, kSolarPanel;                  // bench_supplies.cpp
extern const PartType kFilamentLamp;                                             // lamps.cpp
extern const PartType kDcMotor, kVibrationMotor, kServo;                         // motors.cpp
extern const PartType kRelay, kSolenoid;                                         // relays.cpp
extern const PartType kBuzzer, kPiezoDisc, kLoudspeaker;                         // sounders.cpp
extern const PartType kFuse, kResettableFuse;                                    // fuses.cpp
extern const PartType kLM35, kHallSensor, kSoundSensor;                          // sensor_chips.cpp
extern const PartType kOptocoupler, kSlottedSensor;                              // optocouplers.cpp
extern const PartType kNE555, kTLC555, kLM358, kLM393, kLM7805, kLM317, kL293D;  // analog_chips.cpp
extern const PartType kMeter;                                                    // meters.cpp
extern const PartType kLogicProbe;                                               // logic_probe.cpp
extern const PartType kOscilloscope, kOscilloscope4;                             // oscilloscope.cpp
extern const PartType k74HC00, k74HC02, k74HC04, k74HC08, k74HC14, k74HC32, k74HC86;         // logic_chips.cpp
extern const PartType k74HC74, k74HC161, k74HC165, k74HC595, kCD4017, kCD4511;               // logic_chips.cpp

inline constexpr double kTwoContacts = 2 * kContactResistance;  // [ohm] of a two-lead part, folded into its own resistance

inline constexpr double kJunctionThermalVoltage = 0.025852;  // [V] kT/q at 300 K, the temperature the figures are given for

// Have all leads a reading?
inline bool known(const LeadNumbers& leads) {
  for (double v : leads.voltage)
    if (!has_reading(v)) return false;
  for (double i : leads.current)
    if (!has_reading(i)) return false;
  return true;
}

// [W] taken from the circuit by a part of any number of leads: the sum of v*i over its leads (currents into the part).
inline double power_taken(const LeadNumbers& leads) {
  double sum = 0;
  for (size_t k = 0; k < leads.voltage.size(); ++k) sum += leads.voltage[k] * leads.current[k];
  return sum;
}

// Voltage, current and power of a part with two leads; false when there is no reading.
inline bool read_two_leads(const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return false;
  out.voltage = leads.voltage[0] - leads.voltage[1];
  out.current = leads.current[0];
  out.power = power_taken(leads);
  return true;
}

}  // namespace tiepoint
