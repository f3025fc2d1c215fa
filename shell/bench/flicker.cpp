#include "shell/bench/flicker.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

constexpr double kSecond = 1, kSettle = 0.25;  // [s] the span in which rises are counted; that of the average
constexpr double kLit = 0.5, kDark = 0.2;      // of the peak: above it lights up, below it goes out

double brightest(const PartNumbers& numbers) {
  double most = std::max(numbers.brightness, 0.0);
  for (const double light : numbers.lights) most = std::max(most, light);
  return most;
}

}  // namespace

void Flicker::look(const Board& board, const Readings& readings, double now) {
  const double passed = last_ < 0 ? 0 : std::clamp(now - last_, 0.0, 1.0), part_of = 1 - std::exp(-passed / kSettle);
  last_ = now;
  seen_.clear();
  any_steady_ = false;
  for (size_t i = 0; i < board.parts.size() && i < readings.parts.size(); ++i) {
    const PartNumbers& numbers = readings.parts[i];
    const double bright = brightest(numbers);
    const Light* before = find(board.parts[i].id);
    if (!before && bright <= 0) continue;
    Light light = before ? *before : Light{.part = board.parts[i].id, .mean = numbers};
    light.peak = std::max(bright, light.peak * std::exp(-passed / kSecond));
    const auto follow = [&](double& mean, double value) { mean += (std::max(value, 0.0) - mean) * part_of; };
    follow(light.mean.brightness, numbers.brightness);
    for (size_t k = 0; k < numbers.lights.size(); ++k) follow(light.mean.lights[k], numbers.lights[k]);
    if (!light.lit && bright > kLit * light.peak && bright > 0) {
      light.lit = true;
      std::rotate(light.rises.begin(), light.rises.end() - 1, light.rises.end());
      light.rises[0] = now;
    } else if (light.lit && bright < kDark * light.peak) {
      light.lit = false;
    }
    light.steady = now - light.rises.back() < kSecond || (light.steady && now - light.rises[0] < kSecond);
    if (bright <= 0 && now - light.rises[0] >= 2 * kSecond) continue;
    any_steady_ |= light.steady;
    seen_.push_back(light);
  }
  lights_.swap(seen_);
}

const Flicker::Light* Flicker::find(PartId part) const {
  const auto at = std::find_if(lights_.begin(), lights_.end(), [&](const Light& light) { return light.part == part; });
  return at == lights_.end() ? nullptr : &*at;
}

bool Flicker::steadies(PartId part) const {
  if (!any_steady_) return false;
  const Light* light = find(part);
  return light && light->steady;
}

PartNumbers Flicker::steadied(PartId part, const PartNumbers& numbers) const {
  const Light* light = any_steady_ ? find(part) : nullptr;
  if (!light || !light->steady) return numbers;
  PartNumbers shown = numbers;
  shown.brightness = light->mean.brightness;
  shown.lights = light->mean.lights;
  return shown;
}

}  // namespace tiepoint
