#include <array>

#include "engine/parts/families.h"

namespace tiepoint {

const Catalogue& catalogue() {
  static constexpr std::array kKinds = std::to_array<const PartKind*>({
      &kJumperWire,
      &kResistor, &kPotentiometer, &kTrimmer,
      &kLed, &kSmallLed, &kRgbLedCathode, &kRgbLedAnode, &kDigitCathode, &kDigitAnode, &kLedBar, &kInfraredLed,
      &kDiode, &kSchottkyDiode, &kZenerDiode,
      &kPushButton, &kSlideSwitch, &kToggleSwitch, &kDipSwitch4, &kDipSwitch8, &kRotarySwitch, &kLimitSwitch,
      &kUsbSupply, &kBatteryPack, &kAaaHolder, &kNineVoltBattery, &kCoinCell, &kBenchSupply, &kSignalSource, &kSolarPanel,
      &kCeramicCapacitor, &kElectrolyticCapacitor, &kInductor,
      &k2N3904, &k2N3906, &kBC547, &kBC557, &k2N2222, &kTIP120, &k2N7000, &kIRLZ44N, &kBS250, &kIRF9540N,
      &kPhotoresistor, &kThermistor, &kForceSensor, &kFlexSensor, &kPhotodiode, &kPhototransistor, &kTiltSwitch, &kReedSwitch,
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
