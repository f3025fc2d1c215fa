#include <array>

#include "engine/parts/families.h"

namespace tiepoint {

const Catalogue& catalogue() {
  static constexpr std::array<const PartKind*, 10> kKinds = {
      &kJumperWire, &kResistor,         &kLed,
      &kDiode,      &kPushButton,       &kSlideSwitch,
      &kUsbSupply,  &kBatteryPack,      &kCeramicCapacitor,
      &kElectrolyticCapacitor,
  };
  static constexpr Catalogue kCatalogue{kKinds};
  return kCatalogue;
}

std::string_view key(State state) {
  static constexpr std::array<std::string_view, 23> kKeys = {
#define X(id, key) key,
      TIEPOINT_STATES(X)
#undef X
  };
  return kKeys[static_cast<size_t>(state)];
}

}  // namespace tiepoint
