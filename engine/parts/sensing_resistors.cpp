// Resistors that sense light, temperature, force and bending. What they sense is a knob of the part.
//
// Photoresistor, cadmium sulphide. Sunrom 3190 sheet (28 Jul 2008): 400 ohm at 1000 lx, 9 kohm at 10 lx, 1 megohm dark, 100 mW.
//   R = 400 (E / 1000 lx)^-g,  g = lg(9000 / 400) / 2 = 0.676091 through the two points, never above the dark value.
//   Real cells scatter by 30 % and more, and lag by tens of milliseconds: not modelled.
//
// Thermistor, 10 kohm at 25 °C, B25/85 = 3977 K. Vishay NTCLE100E3 sheet (29049, 18 Sep 2020), its four-constant law:
//   R = R25 exp(A + B/T + C/T^2 + D/T^3),  T in kelvin. 500 mW. It warms itself: 7 mW for each kelvin in still air, with 15 s (the same
//   sheet, from memory). The knob is the warmth of the air round it.
//
// Force sensing resistor, round, 13 mm. Interlink FSR 402 sheet (2010): senses 0.1 to 10 N, more than 10 megohm untouched. Its curve
// goes through about 30 kohm at 0.2 N and 1 kohm at 10 N (read off by eye, from memory): R = 30 k (F / 0.2 N)^-0.87. 1 mA per cm2 of
// its area at most, so about 1.3 mA (from memory).
//
// Flex sensor, 112 mm. Straight 25 kohm, bent by 90 degrees about 2.5 times that, in between straight (maker's typical figures, from
// memory; real ones scatter by 30 %). 0.5 W for a moment, used at far less; 0.1 W is taken here.

#include "engine/parts/sensing_resistors.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/devices/smooth.h"
#include "engine/devices/thermistor.h"
#include "engine/parts/families.h"

namespace tiepoint {

double photoresistor_resistance(double light) {
  constexpr double kDark = 1e6, kBright = 400, kBrightLight = 1000, kDim = 9000;
  if (light <= 0) return kDark;
  const double slope = std::log10(kDim / kBright) / 2;  // two decades of light lie between the points
  return std::min(kDark, kBright * std::pow(light / kBrightLight, -slope));
}

constexpr ThermistorLaw kThermistorLaw = {10e3, -14.6337, 4791.842, -115334, -3.730535e6};

double thermistor_resistance(double temperature) { return thermistor_at(kThermistorLaw, temperature + 273.15).value; }

double force_resistance(double force) {
  constexpr double kUntouched = 10e6, kTurnOn = 0.1;  // [ohm], [N]
  if (force < kTurnOn) return kUntouched;
  return 30e3 * std::pow(force / 0.2, -0.87);
}

double flex_resistance(double bend) { return 25e3 * (1 + 1.5 * bend / 90); }

namespace {

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

constexpr ValueSpec ambient(std::string_view key, std::string_view unit, double standard, double minimum, double maximum) {
  return {.key = key, .unit = unit, .standard = standard, .minimum = minimum, .maximum = maximum, .options = {}, .use = Use::kPosition};
}
constexpr std::array<ValueSpec, 1> kLight = {{ambient("light", "lx", 300, 0, 100e3)}};
constexpr std::array<ValueSpec, 1> kWarmth = {{ambient("temperature", "°C", 25, -40, 125)}};
constexpr std::array<ValueSpec, 1> kForce = {{ambient("force", "N", 0, 0, 20)}};
constexpr std::array<ValueSpec, 1> kBend = {{ambient("bend", "°", 0, 0, 180)}};

template <double (*law)(double)>
void elements(const Board&, const Part& part, ElementList& out) {
  out.add(ElementKind::kResistor, {0, 1}, {law(part.values[0]) + kTwoContacts});
}

void thermal_elements(const Board&, const Part& part, ElementList& out) {
  const ThermistorLaw& l = kThermistorLaw;
  out.add(ElementKind::kThermistor, {0, 1},
          {part.values[0], l.r25, l.a, l.b, l.c, l.d, kThermistorDissipation, kThermistorTime, kTwoContacts});
}

enum Kind { kPhoto, kThermal, kPress, kFlex };
constexpr double kPower[] = {0.1, 0.5, 0.001, 0.1};  // [W]; the force sensor is rated by current
constexpr double kForceCurrent = 1.3e-3;             // [A]

template <Kind kind>
Ratings ratings(const Part&) {
  if constexpr (kind == kPress) return {.current = kForceCurrent};
  return {.power = kPower[kind]};
}

template <Kind kind>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  if (kind == kPress ? std::abs(out.current) > kForceCurrent : out.power > kPower[kind])
    out.state = kind == kPress ? State::kOverloaded : State::kTooHot;
  else
    out.state = std::abs(out.current) > kIdleCurrent ? State::kCarrying : State::kIdle;
}

void thermal_read(const Part& part, const LeadNumbers& leads, PartNumbers& out) {
  read<kThermal>(part, leads, out);
  if (known(leads) && !leads.inside.empty()) out.temperature = part.values[0] + leads.inside[0].own[0];
}

constexpr Footprint kSmall = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 4};

}  // namespace

constexpr PartType kPhotoresistor = {
    {.key = "photoresistor", .prefix = "R", .leads = kLeads, .footprint = kSmall, .values = kLight},
    "sensors", Body::kPhotoresistor, elements<photoresistor_resistance>, 0, ratings<kPhoto>, read<kPhoto>, -1,
    "light sensor photoresistor ldr lux dark bright resistor"};

constexpr PartType kThermistor = {{.key = "thermistor", .prefix = "R", .leads = kLeads, .footprint = kSmall, .values = kWarmth},
                                  "sensors",
                                  Body::kThermistor,
                                  thermal_elements,
                                  0,
                                  ratings<kThermal>,
                                  thermal_read,
                                  -1,
                                  "temperature sensor thermistor ntc warm cold resistor"};

constexpr PartType kForceSensor = {
    {.key = "force-sensor", .prefix = "R", .leads = kLeads, .footprint = kSmall, .values = kForce},
    "sensors", Body::kForceSensor, elements<force_resistance>, 0, ratings<kPress>, read<kPress>, -1, "force pressure touch weight sensor resistor"};

constexpr PartType kFlexSensor = {
    {.key = "flex-sensor", .prefix = "R", .leads = kLeads, .footprint = kSmall, .values = kBend},
    "sensors", Body::kFlexSensor, elements<flex_resistance>, 0, ratings<kFlex>, read<kFlex>, -1, "flex bend sensor resistor"};

}  // namespace tiepoint
