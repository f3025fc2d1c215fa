#include "shell/bench/draw_kinds.h"

namespace tiepoint {
namespace {

kit::Draw* drawing_of(Body body) {
  switch (body) {
    case Body::kPotentiometer: return kit::draw_potentiometer;
    case Body::kTrimmer: return kit::draw_trimmer;
    case Body::kPhotoresistor: return kit::draw_photoresistor;
    case Body::kThermistor: return kit::draw_thermistor;
    case Body::kForceSensor: return kit::draw_force;
    case Body::kFlexSensor: return kit::draw_flex;
    case Body::kInductor: return kit::draw_inductor;
    case Body::kResettableFuse: return kit::draw_polymer_fuse;
    case Body::kTo92: return kit::draw_to92;
    case Body::kTo18: return kit::draw_to18;
    case Body::kTo220: return kit::draw_to220;
    case Body::kDip: return kit::draw_dip;
    case Body::kSlottedSensor: return kit::draw_slotted;
    case Body::kSoundSensor: return kit::draw_sound_module;
    case Body::kRgbLed: return kit::draw_rgb;
    case Body::kDigit: return kit::draw_digit;
    case Body::kLedBar: return kit::draw_bar;
    case Body::kFilamentLamp: return kit::draw_lamp;
    case Body::kToggleSwitch: return kit::draw_toggle_switch;
    case Body::kDipSwitch: return kit::draw_dip_switch;
    case Body::kRotarySwitch: return kit::draw_rotary;
    case Body::kTiltSwitch: return kit::draw_tilt;
    case Body::kReedSwitch: return kit::draw_reed;
    case Body::kLimitSwitch: return kit::draw_limit;
    case Body::kMotor: return kit::draw_motor;
    case Body::kVibrationMotor: return kit::draw_vibrator;
    case Body::kServo: return kit::draw_servo;
    case Body::kRelay: return kit::draw_relay;
    case Body::kSolenoid: return kit::draw_solenoid;
    case Body::kBuzzer: return kit::draw_buzzer;
    case Body::kPiezo: return kit::draw_piezo;
    case Body::kLoudspeaker: return kit::draw_speaker;
    case Body::kNineVoltBattery: return kit::draw_block_battery;
    case Body::kCoinCell: return kit::draw_coin_cell;
    case Body::kFuse: return kit::draw_fuse;
    case Body::kSolarPanel: return kit::draw_solar;
    case Body::kBenchSupply: return kit::draw_bench_supply;
    case Body::kSignalSource: return kit::draw_signal_source;
    case Body::kLogicProbe: return kit::draw_logic_probe;
    case Body::kOscilloscope: return kit::draw_oscilloscope;
    case Body::kNote: return kit::draw_note;
    default: return nullptr;
  }
}

}  // namespace

bool draw_kind(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  kit::Draw* draw = drawing_of(type_of(part).body);
  if (draw) draw(paint, part, pose, look);
  return draw != nullptr;
}

void draw_kind_glow(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading) {
  if (type_of(part).body == Body::kRgbLed) kit::glow_rgb(paint, part, pose, reading);
}

}  // namespace tiepoint
