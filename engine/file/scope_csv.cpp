#include "engine/file/scope_csv.h"

#include <algorithm>
#include <cmath>
#include <span>
#include <vector>

#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr int kFigures = 9;

// Goes along the samples of one channel as the time rises.
struct Along {
  std::span<const Sample> samples;
  size_t at = 0;

  double value(double time) {
    while (at + 1 < samples.size() && samples[at + 1].time <= time) ++at;
    if (samples.empty() || time < samples[at].time) return std::nan("");
    const Sample& a = samples[at];
    if (a.time == time) return a.value;
    if (at + 1 == samples.size()) return std::nan("");
    const Sample& b = samples[at + 1];
    return a.value + (b.value - a.value) * (time - a.time) / (b.time - a.time);
  }
};

}  // namespace

std::string scope_csv(const Scope& scope) {
  const ScopeScreen& screen = scope.screen();
  std::string out = "time (s)";
  std::vector<Along> channels;
  std::vector<double> times;
  for (int c = 0; c < scope.settings().channels; ++c) {
    if (!scope.settings().channel[size_t(c)].shown) continue;
    out += ",channel " + std::to_string(c + 1) + " (V)";
    channels.push_back({screen.channel[size_t(c)].samples});
    for (const Sample& s : screen.channel[size_t(c)].samples)
      if (s.time >= screen.from && s.time <= screen.to) times.push_back(s.time);
  }
  out += "\r\n";
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  for (const double time : times) {
    out += decimal(time - screen.zero, kFigures);
    for (Along& channel : channels) {
      out += ',';
      if (const double value = channel.value(time); !std::isnan(value)) out += decimal(value, kFigures);
    }
    out += "\r\n";
  }
  return out;
}

}  // namespace tiepoint
