// Motors: a small direct-current motor, a vibration motor, a hobby servo. Equations: engine/devices/motor.cpp, servo.cpp.
//
//   DC motor (130 size, 3 V; figures of a common type, from memory): 12300 rpm and 0.15 A without load, 2.1 A stalled at 3 V.
//     R = 3 / 2.1 = 1.43 ohm, k = (3 V - 0.15 A R) / 1288 rad/s = 2.16e-3 V s, friction k * 0.15 A = 3.2e-4 N m; 0.6 mH, rotor 1e-7 kg m2.
//     The knob is the torque that loads its shaft. Heat limits it to about 0.7 A.
//   Vibration motor (coin, 3 V, from memory): 60 mA at 12000 rpm, 120 mA at start: R 25 ohm, k 1.19e-3 V s.
//   Servo (9 g class, 4.8 V, from memory): 60 degrees in 0.1 s, 6 mA at rest, 200 mA on its way.
//
// Caution for anyone at a real bench: what turns catches hair and fingers; a stalled motor gets hot.

#include <array>
#include <cmath>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

struct MotorFigures {
  double resistance, inductance, constant, inertia, friction;  // [ohm] [H] [V s] [kg m2] [N m]
  double voltage, current;                                     // [V] [A] continuous
};
constexpr MotorFigures kToy = {1.43, 0.6e-3, 2.16e-3, 1e-7, 3.2e-4, 3, 0.7};
constexpr MotorFigures kCoin = {25, 0.3e-3, 1.19e-3, 3e-9, 7.1e-5, 3, 0.12};
constexpr double kViscous = 1e-9;    // [N m s]
constexpr double kStanding = 10;     // [rad/s] slower than a turn a second and a half: not turning
enum { kOwnCurrent, kOwnSpeed };

constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "+"}, {.name = "-"}}};
constexpr std::array<ValueSpec, 1> kLoadValues = {{
    {.key = "load", .unit = "N m", .standard = 0, .minimum = 0, .maximum = 0.005, .options = {}, .use = Use::kPosition},
}};

template <const MotorFigures& f>
void elements(const Board&, const Part& part, ElementList& out) {
  const double load = part.values.empty() ? 0 : part.values[0];
  out.add(ElementKind::kMotor, {0, 1}, {f.resistance + kTwoContacts, f.inductance, f.constant, f.inertia, kViscous, f.friction + load});
}

template <const MotorFigures& f>
Ratings ratings(const Part&) {
  return {.current = f.current, .voltage = f.voltage};
}

template <const MotorFigures& f>
void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out) || leads.inside.empty()) return;
  out.speed = leads.inside[0].own[kOwnSpeed];
  const bool turning = std::abs(out.speed) > kStanding;
  if (!turning && std::abs(out.current) > f.current)
    out.state = State::kStalled;
  else if (std::abs(out.current) > f.current)
    out.state = State::kOverloaded;
  else
    out.state = turning ? State::kTurning : State::kIdle;
}

// ---- Servo

constexpr double kServoVoltage = 4.8;  // [V]
constexpr std::array<LeadSpec, 3> kServoLeads = {{{.name = "-"}, {.name = "+"}, {.name = "signal"}}};
enum { kMinus, kPlus, kSignal };

void servo_elements(const Board&, const Part&, ElementList& out) {
  out.add(ElementKind::kServo, {kPlus, kMinus, kSignal}, {kServoVoltage, 10.5, 6e-3, 0.2});
}
Ratings servo_ratings(const Part&) { return {.current = 0.65, .voltage = 6}; }

void servo_read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  constexpr double kMovingCurrent = 0.03;  // [A]
  if (!known(leads)) return;
  out.voltage = leads.voltage[kPlus] - leads.voltage[kMinus];
  out.current = leads.current[kPlus];
  out.power = power_taken(leads);
  if (!leads.inside.empty()) out.angle = leads.inside[0].own[0];
  if (out.voltage < -0.5)
    out.state = State::kReversed;
  else if (out.voltage > 6)
    out.state = State::kOverVoltage;
  else
    out.state = out.current > kMovingCurrent ? State::kTurning : out.voltage > 2 ? State::kOn : State::kOff;
}

constexpr Footprint mat(double length, double width) {
  return {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = length, .body_width = width};
}

}  // namespace

constexpr PartType kDcMotor = {
    {.key = "dc-motor", .prefix = "M", .leads = kLeads, .footprint = mat(14, 8), .values = kLoadValues},
    "motion", Body::kMotor, elements<kToy>, 0, ratings<kToy>, read<kToy>, -1, "motor turn spin fan direct current"};

constexpr PartType kVibrationMotor = {
    {.key = "vibration-motor", .prefix = "M", .leads = kLeads, .footprint = mat(5, 5), .values = {}},
    "motion", Body::kVibrationMotor, elements<kCoin>, 0, ratings<kCoin>, read<kCoin>, -1, "motor vibration buzz shake"};

constexpr PartType kServo = {
    {.key = "servo", .prefix = "M", .leads = kServoLeads, .footprint = mat(10, 9), .values = {}},
    "motion", Body::kServo, servo_elements, 0, servo_ratings, servo_read, -1, "servo motor angle pulse arm"};

}  // namespace tiepoint
