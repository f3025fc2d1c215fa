#include <array>

#include "engine/parts/families.h"

namespace tiepoint {

const Catalogue& catalogue() {
  static constexpr std::array kKinds = std::to_array<const PartKind*>({
      &kJumperWire,
      &kResistor, &kPotentiometer, &kTrimmer,
      &kLed, &kSmallLed, &kLed8mm, &kLed10mm, &kRgbLedCathode, &kRgbLedAnode, &kDigitCathode, &kDigitAnode, &kLedBar, &kInfraredLed, &kFilamentLamp,
      &kDiode, &kSchottkyDiode, &kZenerDiode,
      &kPushButton, &kSlideSwitch, &kToggleSwitch, &kDipSwitch4, &kDipSwitch8, &kRotarySwitch, &kLimitSwitch,
      &kUsbSupply, &kBatteryPack, &kAaaHolder, &kNineVoltBattery, &kCoinCell, &kBenchSupply, &kSignalSource, &kSolarPanel,
      &kLM7805, &kLM317, &kFuse, &kResettableFuse,
      &kCeramicCapacitor, &kElectrolyticCapacitor, &kInductor,
      &k2N3904, &k2N3906, &kBC547, &kBC557, &k2N2222, &kTIP120, &k2N7000, &kBS170, &kIRLZ44N, &kBS250, &kIRF9540N,
      &kPhotoresistor, &kThermistor, &kForceSensor, &kFlexSensor, &kPhotodiode, &kPhototransistor, &kSlottedSensor,
      &kTiltSwitch, &kReedSwitch, &kHallSensor, &kLM35, &kSoundSensor,
      &kDcMotor, &kVibrationMotor, &kServo, &kRelay, &kSolenoid, &kBuzzer, &kPiezoDisc, &kLoudspeaker,
      &kNE555, &kTLC555, &kLM358, &kLM393, &kOptocoupler, &kL293D,
      &k74HC00, &k74HC02, &k74HC04, &k74HC08, &k74HC14, &k74HC32, &k74HC86, &k74HC74, &k74HC161, &k74HC165, &k74HC595, &kCD4017, &kCD4511,
      &kMeter, &kLogicProbe, &kOscilloscope, &kOscilloscope4,
      &kNote,
  });
  static constexpr Catalogue kCatalogue{kKinds};
  return kCatalogue;
}

std::string_view key(State state) {
  static constexpr std::string_view kKeys[] = {
#define X(id, key) key,
      TIEPOINT_STATES(X)
#undef X
  };
  return kKeys[static_cast<size_t>(state)];
}

}  // namespace tiepoint
