// Heat: what the power that a part takes does to it. One pole per part:
//
//   tau dT/dt = P Rth - T        T: its rise over the air, Rth: from its hottest place to still air, tau: how long that takes
//
// Damage adds up while a part is hotter than its limit, twice as fast for every 10 K more (Arrhenius' law as a rule of thumb,
// common practice); it kills within kLastsAt at `destroyed`. Nothing within its ratings is ever damaged.
//
//   resistor, 0.25 W         Rth (155 - 70) / 0.25 = 340 K/W: full power up to 70 C, none at 155 C, the usual derating line of film
//                            resistors (IEC 60115-1, from memory); tau 20 s; destroyed at 400 C. The standard's overload test, 2.5
//                            times the rated voltage for 5 s, must do no harm (from memory).
//   LED                      Rth 400 K/W (Vishay TLUR6400, from memory), tau 2 s; limit 125, destroyed at 230 C (bond wire in epoxy:
//                            own choice)
//   RGB LED, digit, bar      each of its lights as a 5 mm LED; the one that takes most dies first, then the part counts as broken (own
//                            choice; that the lights warm each other is left out)
//   diode in glass           Rth 350 K/W (1N4148, NXP, from memory), a Zener of one watt 170 K/W (1N4728A series), limit 200 C; rectifier
//                            50 K/W (1N4007, from memory), limit 175 C; 5 s
//   transistor, chip         Rth (Tj - 25 C) / rated power; Tj 150 C (2N3904 625 mW: 200 K/W as its sheet says); 8 s; destroyed at 250 C
//   regulator, TO-220        Rth 50 K/W (ST DS0422, from memory), tau 45 s; cuts out at 165 C, back at 140 C (from memory: about 150 to
//                            175)
//   thermistor               1 / 7 mW/K = 143 K/W over the air of its knob, 15 s (sensing_resistors.h); limit 150, destroyed at 300 C (own
//                            choice). Its rise is that of its model, which solves it along with the currents that it changes
//   battery                  Rth 12 K/W, 23 J/K for an AA cell of 23 g (own estimates); it warms, and is not destroyed here
//   electrolytic             beyond 1.5 V reversed or over its rating it is worn out by volts, not watts: 100 V s beyond vent it (own
//                            choice)
//   filament lamp            life goes as V^-13 (common practice): 100 h at its rated voltage; tungsten melts at 3695 K
// Times not named otherwise are own estimates from mass and specific heat.
//
// Caution for anyone at a real bench: what dies here on a screen burns fingers and may burst there. Unplug first, let it cool,
// and leave mains and lithium cells to those who are trained and licensed for it.
#pragma once

#include <optional>
#include <span>

#include "engine/parts/part_type.h"

namespace tiepoint {

inline constexpr double kAirTemperature = 25;  // [C]
inline constexpr double kDoubling = 10;        // [K] twice the damage
inline constexpr double kLastsAt = 1;          // [s] that a part lasts at the temperature that destroys it

enum class Fate : unsigned char { kNothing, kOpens, kShorts, kCutsOut };

struct Heat {
  double resistance = 0;     // [K/W] to the air
  double time_constant = 1;  // [s]
  double limit = 0;          // [C] no damage up to here; kCutsOut: back at work from here down
  double destroyed = 0;      // [C] dead within kLastsAt; kCutsOut: cuts out
  Fate fate = Fate::kOpens;
  int lead = 0, other = 1;  // where it opens or shorts
  double air = kAirTemperature;  // [C] round it
  bool modelled = false;         // its model has the same pole and the same figures for itself: its rise is what that says
};
std::optional<Heat> heat_of(const Part& part);  // none: nothing of it gets hot

double air_of(const Part& part);  // [C]

// Of an assembly of lights the one that takes most. lead: that leads to it alone; -1: no assembly, or nothing is known of it.
struct HottestLight {
  int lead = -1;
  double power = 0, current = 0;  // [W], [A]
  double share = 1;               // of what all its lights take
};
HottestLight hottest_light(const Part& part, std::span<const double> lead_voltage, std::span<const double> lead_current);

// Damage per second at a temperature [1/s]. 1 kills.
double damage_rate(const Heat& heat, double temperature);
// Damage per second by other things than its mean heat: volts, a filament's own temperature. 0 for most parts.
double stress_rate(const Part& part, const PartNumbers& reading);

}  // namespace tiepoint
