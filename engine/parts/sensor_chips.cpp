// Sensors with electronics inside: temperature, magnet, sound level. What they sense is a knob of the part.
//
//   LM35 (National/TI): 10 mV for each degree Celsius, 2 to 150 °C on one supply of 4 to 30 V; 56 uA; gives up to 10 mA, sinks next to nothing.
//     TO-92, flat face towards you: supply, output, ground.
//   Hall switch (unipolar, of the 3144 kind, from memory): open collector; sinks from a field of the south pole of 20 mT on (7 to 35 mT) until
//     it has fallen to 14.5 mT (5 to 33 mT; between them at least 2, typically 5.5 mT); 25 mA at most; 4.5 to 24 V, 4.4 mA. Supply, ground, output.
//   Sound level sensor: a microphone with an amplifier and a rectifier. No maker's sheet: 0.3 V at 30 dB, 20 mV for each decibel above (own
//     choice); 3 to 6 V, 1 mA; gives at most what its supply has. Supply, ground, output.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr ValueSpec ambient(std::string_view key, std::string_view unit, double standard, double minimum, double maximum) {
  return {.key = key, .unit = unit, .standard = standard, .minimum = minimum, .maximum = maximum, .options = {}, .use = Use::kPosition};
}
constexpr std::array<ValueSpec, 1> kWarmth = {{ambient("temperature", "°C", 25, 2, 150)}};
constexpr std::array<ValueSpec, 1> kField = {{ambient("field", "T", 0, -0.1, 0.1)}};
constexpr std::array<ValueSpec, 1> kLoudness = {{ambient("sound", "dB", 40, 30, 130)}};
constexpr std::array<LeadSpec, 3> kOutputMiddle = {{{.name = "vcc"}, {.name = "output", .dx = 1}, {.name = "gnd", .dx = 2}}};
constexpr std::array<LeadSpec, 3> kOutputLast = {{{.name = "vcc"}, {.name = "gnd", .dx = 1}, {.name = "output", .dx = 2}}};

struct SensorFigures {
  int vcc, out, gnd;
  double least, largest;  // [V] supply
  double current;         // [A] from the output
};
constexpr SensorFigures kWarm = {0, 1, 2, 4, 30, 0.01}, kMagnet = {0, 2, 1, 4.5, 24, 0.025}, kSound = {0, 2, 1, 3, 6, 0.01};

// set_voltage, supply_share, output_resistance, dropout, drop_resistance, current_limit, sink_limit, quiescent_current
void warmth_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kRegulator, {kWarm.vcc, kWarm.out, kWarm.gnd}, {0.010 * part.values[0], 0, 0.5, 1.5, 20, 0.01, 1e-6, 56e-6});
}

void field_elements(const Board&, const Part& part, ElementList& out) {
  constexpr double kOperate = 0.020, kRelease = 0.0145;  // [T]
  out.add(ElementKind::kHall, {kMagnet.out, kMagnet.vcc, kMagnet.gnd},
          {part.values[0], kOperate, kRelease, 7.5, 0.025, 4.4e-3});
}

void sound_elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kRegulator, {kSound.vcc, kSound.out, kSound.gnd},
          {0.3 + 0.020 * (part.values[0] - 30), 0, 100, 0.05, 200, 0.01, 1e-3, 1e-3});
}

template <const SensorFigures& f>
Ratings ratings(const Part&) {
  return {.current = f.current, .voltage = f.largest};
}

// Output voltage against ground, and the current out of the output.
template <const SensorFigures& f>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!known(leads)) return;
  out.voltage = leads.voltage[f.out] - leads.voltage[f.gnd];
  out.current = -leads.current[f.out];
  out.power = power_taken(leads);
  const double supply = leads.voltage[f.vcc] - leads.voltage[f.gnd];
  if (supply < -0.4)
    out.state = State::kReversed;
  else if (supply > f.largest)
    out.state = State::kOverVoltage;
  else
    out.state = supply >= f.least ? State::kOn : State::kOff;
}

constexpr Footprint kSmallCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 2.0, .body_width = 1.6};
constexpr Footprint kSoundCase = {.seat = Seat::kRigid, .reach_min = 0, .reach_max = 0, .body_length = 4.0, .body_width = 1.8};

}  // namespace

constexpr PartType kLM35 = {
    {.key = "lm35", .prefix = "U", .leads = kOutputMiddle, .footprint = kSmallCase, .values = kWarmth},
    "sensors", Body::kTo92, warmth_elements, 0, ratings<kWarm>, read<kWarm>, -1, "temperature sensor LM35 degree celsius warm"};

constexpr PartType kHallSensor = {
    {.key = "hall-sensor", .prefix = "U", .leads = kOutputLast, .footprint = kSmallCase, .values = kField},
    "sensors", Body::kTo92, field_elements, 0, ratings<kMagnet>, read<kMagnet>, -1, "hall magnet sensor switch field"};

constexpr PartType kSoundSensor = {
    {.key = "sound-sensor", .prefix = "U", .leads = kOutputLast, .footprint = kSoundCase, .values = kLoudness},
    "sensors", Body::kSoundSensor, sound_elements, 0, ratings<kSound>, read<kSound>, -1, "sound level sensor microphone noise loud"};

}  // namespace tiepoint
