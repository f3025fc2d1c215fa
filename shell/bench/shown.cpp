#include "shell/bench/shown.h"

#include <cmath>

#include "shell/bench/sheet.h"

namespace tiepoint {
namespace {

constexpr double kLeastLight = 0.0005;  // of the rated one: darker is dark

// Six bits of the mantissa: steps of 1.6 %, of which the eye's law leaves less than 0.5 %.
double in_steps(double value) {
  float f = float(value);
  uint32_t bits;
  std::memcpy(&bits, &f, sizeof bits);
  bits = (bits + (1u << 16)) & ~((1u << 17) - 1);
  std::memcpy(&f, &bits, sizeof f);
  return double(f);
}

double light(double value) { return value > kLeastLight ? in_steps(value) : 0; }
double to(double value, double step) { return has_reading(value) ? std::floor(value / step + 0.5) * step : kNoReading; }

// Seven figures; a display has four.
double figures(double value) {
  if (!has_reading(value) || value == 0 || !std::isfinite(value)) return value;
  const double unit = std::pow(10.0, std::floor(std::log10(std::fabs(value))) - 6);
  return std::fabs(value) < 1e-9 ? 0 : std::round(value / unit) * unit;
}

}  // namespace

PartNumbers shown_of(const Part& part, const PartNumbers& reading) {
  PartNumbers shown;
  shown.state = reading.state;
  shown.brightness = light(reading.brightness);
  for (size_t k = 0; k < reading.lights.size(); ++k) shown.lights[k] = light(reading.lights[k]);
  if (has_reading(reading.speed)) shown.speed = in_steps(reading.speed);
  shown.angle = to(reading.angle, 2e-3);
  shown.charge = to(reading.charge, 2e-3);
  if (shows_heat(part, reading.temperature)) shown.temperature = to(reading.temperature, 1);
  switch (type_of(part).body) {
    case Body::kOutlet:  // two places of a volt, tenths of a milliampere
      shown.voltage = to(reading.voltage, 1e-2);
      shown.current = to(reading.current, 1e-4);
      break;
    case Body::kBenchSupply:
      shown.voltage = to(reading.voltage, 1e-2);
      shown.current = to(reading.current, 1e-3);
      break;
    case Body::kMeter:
      shown.shown = figures(reading.shown);
      shown.shown_unit = reading.shown_unit;
      break;
    default:
      break;
  }
  return shown;
}

uint64_t key_of(const PartNumbers& n) {
  Key key;
  key.add(n.state).add(n.brightness);
  for (const double v : n.lights) key.add(v);
  for (const double v : {n.speed, n.angle, n.charge, n.voltage, n.current, n.temperature, n.shown}) key.add(has_reading(v) ? v : -1e300);
  return key.add(n.shown_unit).value();
}

uint64_t key_of(const Camera& camera, const Part& part, const Pose& pose, const PartLook& look, float px) {
  Key key;
  key.add(double(px)).add(double(camera.scale)).add(camera.origin);
  key.add(static_cast<const void*>(part.kind)).add(std::string_view(part.name)).add(std::string_view(part.label));
  key.add(part.turn).add(part.mat.x).add(part.mat.y);
  for (const Hole hole : part.leads) key.add(hole.breadboard).add(hole.index);
  for (const double v : part.values) key.add(v);
  for (const MatPoint p : part.bends) key.add(p.x).add(p.y);
  key.add(pose.count).add(pose.centre).add(pose.axis).add(pose.half).add(double(pose.scale)).add(pose.probes);
  for (int i = 0; i < pose.count; ++i) key.add(pose.lead[i]).add(pose.root[i]).add(pose.seated[i]);
  key.add(look.in_box).add(double(look.turned));
  if (look.reading) key.add(key_of(*look.reading));
  if (look.scope) key.add(look.scope->revision()).add(int(look.scope->screen().state));
  return key.value();
}

}  // namespace tiepoint
