// Every model, one per file of this folder; models.cpp puts them in the order of ElementKind.
#pragma once

#include "engine/devices/model.h"

namespace tiepoint {

extern const Model kResistorModel;         // resistor.cpp
extern const Model kCapacitorModel;        // capacitor.cpp
extern const Model kInductorModel;         // inductor.cpp
extern const Model kVoltageSourceModel;    // source.cpp
extern const Model kCurrentSourceModel;    // source.cpp
extern const Model kDiodeModel;            // diode.cpp
extern const Model kLimitedSupplyModel;    // limited_supply.cpp
extern const Model kNpnModel;              // bipolar.cpp
extern const Model kPnpModel;              // bipolar.cpp
extern const Model kNmosModel;             // mosfet.cpp
extern const Model kPmosModel;             // mosfet.cpp
extern const Model kTimedSwitchModel;      // timed_switch.cpp
extern const Model kTriggeredSwitchModel;  // triggered_switch.cpp
extern const Model kOptocouplerModel;      // optocoupler.cpp
extern const Model kFilamentModel;         // filament.cpp
extern const Model kMotorModel;            // motor.cpp
extern const Model kRelayModel;            // relay.cpp
extern const Model kFuseModel;             // fuse.cpp
extern const Model kResettableFuseModel;   // fuse.cpp
extern const Model kServoModel;            // servo.cpp
extern const Model kListenerModel;         // listener.cpp
extern const Model kRegulatorModel;        // regulator.cpp
extern const Model kOpAmpModel;            // op_amp.cpp
extern const Model kComparatorModel;       // comparator.cpp
extern const Model kTimerModel;            // timer.cpp
extern const Model kHalfBridgeModel;       // half_bridge.cpp
extern const Model kMeterModel;            // meter.cpp
extern const Model kContactModel;          // contact.cpp
extern const Model kLogicProbeModel;       // logic_probe.cpp
extern const Model kReedModel;             // reed.cpp
extern const Model kHallModel;             // hall.cpp
extern const Model kThermistorModel;       // thermistor.cpp
// logic.cpp
extern const Model kInverterModel, kGateModel, kFlipFlopModel, kCounterModel, kShiftInModel, kShiftOutModel, kDecadeModel, kSegmentsModel;

}  // namespace tiepoint
