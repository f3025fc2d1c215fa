#include "engine/parts/heat.h"

#include <algorithm>
#include <cmath>

#include "engine/parts/sensing_resistors.h"

namespace tiepoint {
namespace {

constexpr double kSiliconLimit = 150, kSiliconDestroyed = 250;  // [C]
constexpr double kCapacitorReverse = 1.5, kVents = 100;         // [V], [V s]
constexpr double kFilamentLife = 100 * 3600;                    // [s] at the rated voltage
constexpr double kTungstenMelts = 3695 - 273.15;                // [C]
constexpr double kPowerOfVolts = 1.6, kLifeOfVolts = 13;        // P ~ V^1.6, life ~ V^-13
constexpr double kFilamentMargin = 1.2;                         // lamps.cpp: its power rating is this much over the rated power

// From the rating itself: full power at 25 C brings the junction to its limit.
std::optional<Heat> by_rating(const Part& part, double time_constant, Fate fate, int lead, int other) {
  const PartType& type = type_of(part);
  const double power = type.ratings ? type.ratings(part).power : kNoReading;
  if (!has_reading(power)) return std::nullopt;
  return Heat{(kSiliconLimit - kAirTemperature) / power, time_constant, kSiliconLimit, kSiliconDestroyed, fate, lead, other};
}

int lead_or(const Part& part, std::string_view name, int otherwise) {
  const int lead = lead_index(*part.kind, name);
  return lead < 0 ? otherwise : lead;
}

}  // namespace

double air_of(const Part& part) {
  return type_of(part).body == Body::kThermistor ? part.values[size_t(value_index(*part.kind, "temperature"))]
                                                 : kAirTemperature;
}

std::optional<Heat> heat_of(const Part& part) {
  const PartType& type = type_of(part);
  if (type.capacity) return Heat{12, 276, 0, 0, Fate::kNothing};
  switch (type.body) {
    case Body::kAxialResistor:
      return Heat{340, 20, 155, 400, Fate::kOpens};
    case Body::kRoundLed:
    case Body::kSmallLed:
    case Body::kLed8mm:
    case Body::kLed10mm:
    case Body::kInfraredLed:
    case Body::kRgbLed:
    case Body::kDigit:
    case Body::kLedBar:
      return Heat{400, 2, 125, 230, Fate::kOpens};
    case Body::kThermistor:
      return Heat{1 / kThermistorDissipation, kThermistorTime, 150, 300, Fate::kOpens, 0, 1, air_of(part), true};
    case Body::kCanCapacitor:
      return Heat{0, 1, 105, 1e6, Fate::kOpens};
    case Body::kFilamentLamp:
      return Heat{0, 1, 1e6, 1e7, Fate::kOpens};
    case Body::kAxialDiode: {
      const Ratings ratings = type.ratings ? type.ratings(part) : Ratings{};
      if (ratings.current >= 0.9) return Heat{50, 5, 175, 300, Fate::kShorts};
      return Heat{ratings.power >= 0.9 ? 170.0 : 350.0, 5, 200, 300, Fate::kShorts};
    }
    case Body::kTo92:
    case Body::kTo18:
      if (type.group == "transistors")
        return by_rating(part, 8, Fate::kShorts, lead_or(part, "collector", lead_or(part, "drain", 0)),
                         lead_or(part, "emitter", lead_or(part, "source", 1)));
      return std::nullopt;
    case Body::kTo220:
      if (type.group == "transistors")
        return by_rating(part, 45, Fate::kShorts, lead_or(part, "collector", lead_or(part, "drain", 0)),
                         lead_or(part, "emitter", lead_or(part, "source", 1)));
      return Heat{50, 45, 140, 165, Fate::kCutsOut, lead_or(part, "in", 0)};
    case Body::kDip:
      for (const std::string_view name : {"vcc", "vdd"})
        if (const int lead = lead_index(*part.kind, name); lead >= 0) return by_rating(part, 20, Fate::kOpens, lead, 0);
      return std::nullopt;
    default:
      return std::nullopt;
  }
}

HottestLight hottest_light(const Part& part, std::span<const double> voltage, std::span<const double> current) {
  const Body body = type_of(part).body;
  if (body != Body::kRgbLed && body != Body::kDigit && body != Body::kLedBar) return {};
  const int leads = int(part.kind->leads.size());
  // The other end of a light: across the bar; otherwise the common lead, of which there may be two, one piece.
  const auto is_common = [&](int lead) { return part.kind->leads[size_t(lead)].name.starts_with("common"); };
  const auto other_end = [&](int lead) {
    if (body == Body::kLedBar) return leads - 1 - lead;
    for (int k = 0; k < leads; ++k)
      if (is_common(k) && has_reading(voltage[size_t(k)])) return k;
    return -1;
  };
  HottestLight out;
  double sum = 0;
  for (int lead = 0; lead < (body == Body::kLedBar ? leads / 2 : leads); ++lead) {
    if (is_common(lead) || !has_reading(voltage[size_t(lead)]) || !has_reading(current[size_t(lead)])) continue;
    const int other = other_end(lead);
    if (other < 0 || !has_reading(voltage[size_t(other)])) continue;
    const double power = std::fabs(current[size_t(lead)] * (voltage[size_t(lead)] - voltage[size_t(other)]));
    sum += power;
    if (power > out.power) out = {lead, power, std::fabs(current[size_t(lead)])};
  }
  if (sum > 0) out.share = out.power / sum;
  return out;
}

double damage_rate(const Heat& heat, double temperature) {
  if (heat.fate == Fate::kNothing || heat.fate == Fate::kCutsOut || temperature <= heat.limit) return 0;
  return std::exp2(std::min(60.0, (temperature - heat.destroyed) / kDoubling)) / kLastsAt;
}

double stress_rate(const Part& part, const PartNumbers& r) {
  const PartType& type = type_of(part);
  if (type.body == Body::kCanCapacitor && has_reading(r.voltage)) {
    const double rating = type.ratings(part).voltage;
    return std::max({0.0, -r.voltage - kCapacitorReverse, r.voltage - rating}) / kVents;
  }
  if (type.body == Body::kFilamentLamp && has_reading(r.temperature) && has_reading(r.power)) {
    if (r.temperature >= kTungstenMelts) return 1e3;
    const double share = std::max(0.0, r.power) * kFilamentMargin / type.ratings(part).power;
    return share <= kFilamentMargin ? 0 : std::pow(share, kLifeOfVolts / kPowerOfVolts) / kFilamentLife;
  }
  return 0;
}

}  // namespace tiepoint
