// What heat has done to a part, over its drawing: a glow while it is hot, a scorch where it died, and a word beside it, so that
// colour is never the only sign.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

using theme::rgb;

constexpr double kHot = 60;     // [C] from here on nobody would hold it
constexpr double kGlows = 250;  // [C] as strong as the tint gets

// A label with a light ground, above the part.
void tag(Paint& paint, const Pose& pose, ImU32 colour, std::string_view words) {
  const ImVec2 at = pose.centre - ImVec2{0, std::max(pose.half.x, pose.half.y) + 0.55f * pose.scale};
  const float em = std::clamp(0.62f * pose.scale, 10.0f, 15.0f), half = 0.29f * em * float(words.size()) + 5;
  paint.fill(rounded(at, {half, 0.72f * em}, 0.4f * em, {1, 0}), rgb(0xFFFFFF, 0.92f));
  paint.stroke(rounded(at, {half, 0.72f * em}, 0.4f * em, {1, 0}), 1.2f, colour);
  paint.text(at, 0.5f, em, colour, words);
}

}  // namespace

// A filament is meant to glow.
bool shows_heat(const Part& part, double temperature) {
  return has_reading(temperature) && temperature >= kHot && type_of(part).body != Body::kFilamentLamp;
}

void draw_condition(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading) {
  if (!(pose.half.x > 0)) return;
  const float s = pose.scale;
  const ImVec2 size = pose.half + ImVec2{0.10f * s, 0.10f * s};
  if (reading.state == State::kBroken) {
    paint.fill(rounded(pose.centre, size * 0.86f, 0.3f * s, pose.axis), rgb(0x1C1512, 0.55f));
    const float r = std::max(0.34f * s, 5.0f);
    for (const float side : {-1.0f, 1.0f}) {
      const ImVec2 cross[] = {pose.centre + ImVec2{-r, -side * r}, pose.centre + ImVec2{r, side * r}};
      paint.path(cross, std::max(0.20f * s, 4.0f), rgb(0xFFFFFF, 0.9f));
      paint.path(cross, std::max(0.12f * s, 2.4f), rgb(theme::kDanger));
    }
    tag(paint, pose, rgb(theme::kDanger), say("bench.burnt-out"));
    return;
  }
  if (!shows_heat(part, reading.temperature)) return;
  const float heat = float(std::min(1.0, (reading.temperature - kHot) / (kGlows - kHot)));
  paint.fill(rounded(pose.centre, size, 0.3f * s, pose.axis), rgb(0xE0482A, 0.12f + 0.30f * heat));
  tag(paint, pose, rgb(theme::kDanger), say("bench.hot", {{"temperature", fixed_text(reading.temperature, 0)}}));
}

}  // namespace tiepoint
