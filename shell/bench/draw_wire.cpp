// Jumper wires, and the flying leads of supplies with their plugs.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/draw_scope.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {

using theme::rgb;
using theme::shade;

// A plug: a moulded sleeve with a tinned pin, pointing along `direction` at `tip`.
void draw_plug(Paint& paint, ImVec2 tip, ImVec2 direction, float s, ImU32 colour) {
  const ImVec2 neck = tip - direction * (0.30f * s), back = tip - direction * (0.95f * s);
  draw_leg(paint, neck, tip, 0.14f * s);
  static constexpr Across kSleeve[] = {{-1, -0.30f}, {-0.6f, 0.06f}, {-0.3f, 0.36f}, {0.1f, 0.08f}, {1, -0.42f}};
  const float r = 0.20f * s;
  const Station sleeve[] = {{neck, r * 0.72f, colour}, {lerp(neck, back, 0.12f), r * 0.92f, colour}, {lerp(neck, back, 0.3f), r, colour},
                            {lerp(neck, back, 0.72f), r, colour}, {lerp(neck, back, 0.9f), r * 0.85f, colour}, {back, r * 0.62f, colour}};
  paint.body(sleeve, kSleeve);
}

// Red for plus, black for minus, yellow for a signal; where polarity has no meaning the first is red.
ImU32 lead_colour(const Pose& pose, int lead) {
  const std::string_view name = pose.kind ? pose.kind->leads[size_t(lead)].name : std::string_view{};
  if (name == "-") return rgb(theme::kMinusWire);
  if (name == "ground-clip") return rgb(theme::kMinusWire);
  if (name.starts_with("probe-")) return rgb(trace_colour(lead));
  if (name == "signal" || name == "tip") return rgb(theme::wire_colour("yellow"));
  return rgb(name == "+" || lead == 0 ? theme::kPlusWire : theme::kMinusWire);
}

}  // namespace

void draw_wire(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, r = 0.145f * s;
  std::span<const ImVec2> course = wire_course(paint, camera, part, pose);
  if (!look.in_box) {
    // The wire rises in the middle: its shadow falls further away there.
    ImVec2 cast[160];
    const int n = std::min(int(course.size()), 160);
    for (int i = 0; i < n; ++i) {
      const float t = float(i) / float(std::max(n - 1, 1)), rise = 4 * t * (1 - t);
      cast[i] = course[size_t(i)] + ImVec2{0.05f * s * rise, (0.06f + 0.20f * rise) * s};
    }
    paint.path_shadow({cast, size_t(n)}, r, 0.12f * s, {0, 0}, 0.40f);
  }
  const ImU32 colour = rgb(theme::wire_colour(option_of(part, "colour")));
  if (look.in_box) return paint.tube(course, r, colour);
  // Bare ends: the insulation stops short of the hole.
  const size_t n = course.size();
  const float bare = 0.24f * s;
  size_t first = 1, last = n - 2;
  while (first < n / 2 && length(course[first] - course[0]) < bare) ++first;
  while (last > n / 2 && length(course[last] - course[n - 1]) < bare) --last;
  draw_entry(paint, course[0], s), draw_entry(paint, course[n - 1], s);
  draw_leg(paint, course[0], course[first], 0.13f * s);
  draw_leg(paint, course[last], course[n - 1], 0.13f * s);
  if (last > first) paint.tube(course.subspan(first, last - first + 1), r, colour);
}

void draw_flying_leads(Paint& paint, const Pose& pose) {
  if (pose.kind && static_cast<const PartType*>(pose.kind)->body == Body::kNote) return draw_pointer(paint, pose);
  const float s = pose.scale, r = 0.125f * s;
  for (int lead = pose.count - 1; lead >= 0; --lead) {
    std::span<const ImVec2> course = flying_course(paint, pose, lead);
    const ImU32 colour = lead_colour(pose, lead);
    const bool seated = pose.seated[lead];
    paint.path_shadow(course, r, 0.16f * s, {0.05f * s, (seated ? 0.22f : 0.14f) * s}, 0.36f);
    const size_t n = course.size();
    ImVec2 direction = unit(course[n - 1] - course[n - 2]);
    if (!seated) {
      paint.tube(course, r, colour);
      (pose.probes ? draw_probe : draw_plug)(paint, pose.lead[lead], {1, 0}, s, shade(colour, lead == 0 ? 0.0f : 0.06f));
      continue;
    }
    // The plug stands in the hole: we look at its sleeve from above, a little from the side the cable comes from.
    size_t last = n - 1;
    while (last > n / 2 && length(course[last] - course[n - 1]) < 0.5f * s) --last;
    direction = unit(course[n - 1] - course[last]);
    draw_entry(paint, pose.lead[lead], s);
    paint.tube(course.subspan(0, last + 1), r, colour);
    (pose.probes ? draw_probe : draw_plug)(paint, pose.lead[lead], direction, s * 0.92f, shade(colour, lead == 0 ? 0.04f : 0.10f));
  }
}

}  // namespace tiepoint
