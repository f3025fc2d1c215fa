#include "engine/readings/thermal.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tiepoint {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr double kAsGoodAsDead = 1 - 1e-9;
constexpr double kWarmPower = 30;       // [K] a power that would raise a part by less is never of interest
constexpr double kHand = 60;            // [C] from here on a finger is taken away (common practice): worth showing as it comes
constexpr double kShownStep = 4;        // [K], and
constexpr double kShownDamage = 0.05;   // of damage, that one can see
constexpr double kShortestLook = 0.05;  // [s]
constexpr double kStep = 2;             // [K] of temperature within one step of the damage integral
constexpr double kSettled = 0.05;       // [K] as warm as it gets

double after(double rise, double end, double seconds, double tau) { return end + (rise - end) * std::exp(-seconds / tau); }
double steady(const Thermal::Body& b) { return b.power * b.heat.resistance; }

// Seconds until the rise has come `step` nearer to its end; infinite when it never moves that far.
double time_to_move(const Thermal::Body& b, double rise, double step) {
  const double gap = std::fabs(steady(b) - rise);
  return gap <= step ? kInfinite : -b.heat.time_constant * std::log1p(-step / gap);
}

// Moves on by at most `seconds` in one piece of the damage integral; returns how long that was. With the temperature taken as
// straight within the piece the integral of the exponential is exact.
double move(Thermal::Body& b, double seconds) {
  const double piece = std::min(seconds, time_to_move(b, b.rise, kStep));
  const double from = damage_rate(b.heat, b.heat.air + b.rise);
  b.rise = after(b.rise, steady(b), piece, b.heat.time_constant);
  const double to = damage_rate(b.heat, b.heat.air + b.rise);
  const double mean =
      from > 0 && to > 0 && std::fabs(to - from) > 1e-9 * to ? (to - from) / std::log(to / from) : (from + to) / 2;
  b.damage += (mean + b.stress) * piece;
  return piece;
}

bool harmless(const Thermal::Body& b) {
  return b.lasts || b.heat.fate == Fate::kNothing ||
         (b.stress == 0 && b.heat.air + std::max(b.rise, steady(b)) <= b.heat.limit);
}

double time_to_cross(const Thermal::Body& b, double rise) {
  const double end = steady(b), now = (rise - end) / (b.rise - end);
  return now > 0 && now < 1 ? -b.heat.time_constant * std::log(now) : kInfinite;
}

double time_to_die(Thermal::Body b) {
  if (b.heat.fate == Fate::kCutsOut)
    return b.cut_out ? time_to_cross(b, b.heat.limit - b.heat.air) : time_to_cross(b, b.heat.destroyed - b.heat.air);
  if (harmless(b)) return kInfinite;
  for (double gone = 0;;) {
    const double rate = damage_rate(b.heat, b.heat.air + b.rise) + b.stress;
    if (std::fabs(steady(b) - b.rise) < kSettled || time_to_move(b, b.rise, kStep) == kInfinite) {
      const double last = damage_rate(b.heat, b.heat.air + steady(b)) + b.stress;
      const double slower = std::max(std::min(rate, last), 0.0);
      if (last <= 0 && rate <= 0) return kInfinite;
      return gone + (1 - b.damage) / (slower > 0 ? slower : std::max(rate, last));
    }
    const Thermal::Body before = b;
    const double piece = move(b, kInfinite);
    if (b.damage >= 1) return gone + piece * (1 - before.damage) / (b.damage - before.damage);
    gone += piece;
  }
}

}  // namespace

bool Thermal::is_warm(const Body& b) { return b.rise > kWarmPower || steady(b) > kWarmPower; }
bool Thermal::is_dead(const Body& b) { return b.damage >= kAsGoodAsDead; }

void Thermal::follow(const Board& board) {
  std::vector<Body> next;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    const Part& part = board.parts[p];
    const std::optional<Heat> heat = heat_of(part);
    if (!heat) continue;
    const auto was = std::find_if(bodies_.begin(), bodies_.end(),
                                  [&](const Body& b) { return b.part == part.id && b.specimen == part.specimen; });
    Body body = was != bodies_.end() ? *was : Body{.part = part.id, .specimen = part.specimen};
    body.index = int(p);
    body.heat = *heat;
    next.push_back(body);
  }
  bodies_ = std::move(next);
}

void Thermal::look(const Board& board, const Circuit& circuit, const Readings& readings) {
  for (Body& b : bodies_) {
    const Part& part = board.parts[size_t(b.index)];
    const PartType& type = type_of(part);
    const PartReading& r = readings.parts[size_t(b.index)];
    const Ratings ratings = type.ratings ? type.ratings(part) : Ratings{};
    b.power = has_reading(r.power) ? std::max(0.0, r.power) : 0;
    if (type.capacity) {  // inside a battery the current meets its own resistance
      const Element& source = circuit.elements[size_t(circuit.first_element_of_part[size_t(b.index)])];
      b.power = has_reading(r.current) ? r.current * r.current * circuit.values(source)[1] : 0;
      if (r.state == State::kOff) b.power = 0;
    }
    b.heat.air = air_of(part);
    if (b.heat.modelled && has_reading(r.temperature)) b.rise = r.temperature - b.heat.air;
    b.lasts = bool(part.defect) || board.realism.spared;
    b.stress = b.lasts ? 0 : stress_rate(part, r);
    const bool by_current = has_reading(ratings.current) && !has_reading(ratings.power);
    const bool by_voltage = b.heat.resistance == 0 && has_reading(ratings.voltage) && type.group == "storage";
    b.unit = by_voltage ? 'V' : by_current ? 'A' : 'W';
    b.rating = by_voltage   ? (r.voltage < 0 ? ratings.reverse_voltage : ratings.voltage)
               : by_current ? ratings.current
                            : ratings.power;
    b.bore = std::fabs(by_voltage ? r.voltage : by_current ? r.current : r.power);
    if (const HottestLight light = hottest_light(part, r.lead_voltage, r.lead_current); light.lead >= 0) {
      b.share = light.share;
      b.power = light.power;
      b.bore = light.current;
      b.heat.lead = light.lead;
    }
    b.is_over = has_reading(b.bore) && has_reading(b.rating) && b.bore > b.rating;
    if (!b.is_over) b.over = 0;
  }
}

void Thermal::pass(double seconds) {
  for (Body& b : bodies_) {
    if (b.is_over) b.over += seconds;
    if (harmless(b) || b.heat.fate == Fate::kCutsOut) {
      b.rise = after(b.rise, steady(b), seconds, b.heat.time_constant);
      continue;
    }
    for (double left = seconds; left > 0 && b.damage < 1;) left -= move(b, left);
  }
}

double Thermal::due() const {
  double due = kInfinite;
  for (const Body& b : bodies_) {
    due = std::min(due, time_to_die(b));
    const double hottest = b.heat.air + std::max(b.rise, steady(b));
    if (b.heat.resistance > 0 && hottest > kHand)
      due = std::min(due, std::max(kShortestLook, time_to_move(b, b.rise, kShownStep)));
  }
  return due;
}

void Thermal::show(Readings& readings) {
  shown_.assign(2 * bodies_.size(), 0);
  for (size_t k = 0; k < bodies_.size(); ++k) {
    const Body& b = bodies_[k];
    PartReading& r = readings.parts[size_t(b.index)];
    if (b.heat.resistance > 0 && has_reading(r.power)) r.temperature = b.heat.air + b.rise;
    r.worn = std::min(1.0, b.damage);
    shown_[2 * k] = b.rise, shown_[2 * k + 1] = b.damage;
  }
}

bool Thermal::differs() const {
  for (size_t k = 0; k < bodies_.size() && 2 * k + 1 < shown_.size(); ++k) {
    const Body& b = bodies_[k];
    const bool hot = b.heat.air + std::max(b.rise, shown_[2 * k]) > kHand;
    if (hot && std::fabs(b.rise - shown_[2 * k]) >= 0.9 * kShownStep) return true;
    if (std::fabs(b.damage - shown_[2 * k + 1]) >= kShownDamage) return true;
  }
  return false;
}

}  // namespace tiepoint
