#include "engine/devices/list.h"

namespace tiepoint {

const std::array<const Model*, size_t(ElementKind::kCount)> kModels = {
    &kResistorModel,        &kCapacitorModel,   &kInductorModel, &kVoltageSourceModel, &kCurrentSourceModel, &kDiodeModel,
    &kLimitedSupplyModel,   &kNpnModel,         &kPnpModel,      &kNmosModel,          &kPmosModel,          &kTimedSwitchModel,
    &kTriggeredSwitchModel, &kOptocouplerModel, &kFilamentModel, &kMotorModel,         &kRelayModel,         &kFuseModel,
    &kResettableFuseModel,  &kServoModel,       &kListenerModel, &kRegulatorModel,     &kOpAmpModel,         &kComparatorModel,
    &kTimerModel,           &kHalfBridgeModel,  &kInverterModel, &kGateModel,          &kFlipFlopModel,      &kCounterModel,
    &kShiftInModel,         &kShiftOutModel,    &kDecadeModel,   &kSegmentsModel,      &kMeterModel,         &kContactModel,
    &kLogicProbeModel,      &kReedModel,        &kHallModel,     &kThermistorModel};

const Model* find_model(std::string_view name) {
  for (const Model* m : kModels)
    if (m->name == name) return m;
  return nullptr;
}

}  // namespace tiepoint
