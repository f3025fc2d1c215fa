// One function a body, one file a family.
#pragma once

#include "shell/bench/draw_kit.h"

namespace tiepoint::kit {

using Draw = void(Paint& paint, const Part& part, const Pose& pose, const PartLook& look);

Draw draw_potentiometer, draw_trimmer;                                    // draw_round.cpp
Draw draw_photoresistor, draw_thermistor, draw_polymer_fuse, draw_inductor, draw_force, draw_flex;  // draw_sensing.cpp
Draw draw_to92, draw_to18, draw_to220;                                    // draw_transistor.cpp
Draw draw_dip, draw_slotted, draw_sound_module;                           // draw_chip.cpp
Draw draw_rgb, draw_digit, draw_bar, draw_lamp;                           // draw_light.cpp
void glow_rgb(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading);
Draw draw_toggle_switch, draw_dip_switch, draw_rotary, draw_tilt, draw_reed, draw_limit;  // draw_contacts.cpp
Draw draw_motor, draw_vibrator, draw_servo, draw_relay, draw_solenoid;    // draw_motion.cpp
Draw draw_buzzer, draw_piezo, draw_speaker;                               // draw_sound.cpp
Draw draw_block_battery, draw_coin_cell, draw_fuse, draw_solar;           // draw_power.cpp
Draw draw_bench_supply, draw_signal_source;                               // draw_instrument.cpp
Draw draw_logic_probe;                                                    // draw_instrument.cpp
Draw draw_note;                                                            // draw_note_part.cpp
Draw draw_oscilloscope;                                                   // draw_scope.cpp

}  // namespace tiepoint::kit
