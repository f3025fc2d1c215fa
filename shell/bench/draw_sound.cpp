// What makes a sound: buzzer, piezo disc, loudspeaker. Rings go out from them while they do.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

void sound_rings(Paint& paint, ImVec2 m, float r, float s, const PartLook& look) {
  if (!sounding(look) || look.in_box) return;
  for (int i = 0; i < 3; ++i) paint.stroke(circle(m, r + (0.26f + 0.34f * float(i)) * s), std::max(0.09f * s, 1.2f), rgb(theme::kSelect, 0.78f - 0.24f * float(i)));
}

}  // namespace

void draw_buzzer(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, r = pose.half.x;
  const ImVec2 m = pose.centre;
  if (!look.in_box)
    for (int i = 0; i < pose.count; ++i) draw_entry(paint, pose.lead[i], s);
  legs(paint, pose, look, 0.14f);
  if (!look.in_box) cast_shadow(paint, m, {r, r}, r, {1, 0}, s);
  sound_rings(paint, m, r, s, look);
  const ImU32 c = rgb(theme::kMould);
  paint.fill(circle(m, r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(c, 0.26f)}, {0.5f, shade(c, -0.05f)}, {1, shade(c, -0.55f)}}});
  paint.fill(circle(m, 0.90f * r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(c, 0.24f)}, {0.4f, shade(c, 0.08f)}, {1, shade(c, -0.12f)}}});
  paint.stroke(circle(m, 0.62f * r), std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kBlack), 0.5f));
  // The sound hole, and the plus of the plus leg.
  paint.fill(circle(m, 0.24f * r), rgb(0x4A5054));
  paint.fill(circle(m, 0.20f * r), {m - ImVec2{0, 0.2f * r}, m + ImVec2{0, 0.2f * r}, {{0, rgb(0x050607)}, {1, rgb(0x24282B)}}});
  const ImVec2 plus = lerp(m, pose.lead[0], 0.0f) + unit(pose.lead[0] - pose.lead[1]) * (0.66f * r);
  paint.text(plus, 0.5f, 0.30f * r, rgb(0xF2F4F4), "+", Weight::kStrong);
  if (!look.in_box) fitted(paint, m + ImVec2{0, 0.52f * r}, 0.5f, 0.42f * s, 1.1f * r, rgb(theme::kMouldText), part.name, Weight::kStrong);
  sheen(paint, m + ImVec2{-0.4f * r, -0.55f * r}, 0.45f * r, 0.25f * r, 0.22f);
}

void draw_piezo(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, r = pose.half.x;
  const ImVec2 m = pose.centre;
  if (!look.in_box) cast_shadow(paint, m, {r, r}, r, {1, 0}, s);
  sound_rings(paint, m, r, s, look);
  // A brass plate, the silvered ceramic glued on it, two soldered wires.
  const ImU32 brass = rgb(theme::kBrass);
  paint.fill(circle(m, r), {m - ImVec2{0.5f * r, r}, m + ImVec2{0.5f * r, r}, {{0, shade(brass, 0.52f)}, {0.4f, shade(brass, 0.12f)}, {0.6f, brass}, {1, shade(brass, -0.30f)}}});
  paint.stroke(circle(m, r - 0.05f * s), std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kBrassDark), 0.5f));
  const float k = 0.66f * r;
  paint.fill(circle(m, k), {m - ImVec2{0.5f * k, k}, m + ImVec2{0.5f * k, k}, {{0, rgb(0xFAF8F2)}, {0.6f, rgb(theme::kCeramic)}, {1, rgb(0xC9C4B6)}}});
  paint.stroke(circle(m, k * 0.94f), std::max(0.03f * s, 0.6f), rgb(0xA9A493));
  static constexpr uint32_t kInk[] = {theme::kPlusWire, theme::kMinusWire};
  const ImVec2 spot[] = {m + unit(pose.lead[0] - m) * (0.34f * r) + ImVec2{0, -0.2f * r}, m + unit(pose.lead[1] - m) * (0.82f * r) + ImVec2{0, -0.1f * r}};
  for (int i = 0; i < 2; ++i) {
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
    paint.tube(paint.quadratic(spot[i], (spot[i] + pose.lead[i]) * 0.5f + ImVec2{0, -0.30f * s}, pose.lead[i]), std::max(0.10f * s, 1.0f), rgb(kInk[i]));
    paint.fill(circle(spot[i], 0.20f * s), {spot[i] - ImVec2{0.1f * s, 0.2f * s}, spot[i] + ImVec2{0.1f * s, 0.2f * s}, {{0, rgb(0xFFFFFF)}, {1, rgb(0x858D90)}}});
  }
  if (!look.in_box) fitted(paint, m + ImVec2{0, 0.36f * r}, 0.5f, 0.42f * s, 1.0f * r, rgb(0x5A5040), part.name, Weight::kStrong);
}

void draw_speaker(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, r = pose.half.y;
  const ImVec2 m = pose.centre;
  paint.shadow(m, {r, r}, r, {1, 0}, 0.5f * s, 0.55f);
  for (int i = 0; i < pose.count; ++i) paint.fill(rounded(pose.root[i] - ImVec2{0.1f * s, 0}, {0.3f * s, 0.16f * s}, 0.05f * s), rgb(theme::kBrass));
  sound_rings(paint, m, r, s, look);
  // Basket, rubber surround, paper cone, dust cap.
  const ImU32 steel = rgb(theme::kSteel), cone = rgb(theme::kCone);
  paint.fill(circle(m, r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(steel, 0.42f)}, {0.5f, shade(steel, -0.08f)}, {1, shade(steel, -0.48f)}}});
  for (int i = 0; i < 4; ++i) {
    const float a = kPi / 4 + kPi / 2 * float(i);
    paint.fill(circle(m + ImVec2{std::cos(a), std::sin(a)} * (0.93f * r), 0.055f * r), rgb(0x2A2F32));
  }
  paint.fill(circle(m, 0.86f * r), {m - ImVec2{0, r}, m + ImVec2{0, r}, {{0, rgb(0x17191B)}, {1, rgb(0x3A3F43)}}});
  paint.fill(circle(m, 0.80f * r), {m - ImVec2{0, r}, m + ImVec2{0, r}, {{0, rgb(0x2E3336)}, {1, rgb(0x1B1E20)}}});
  paint.fill(circle(m, 0.72f * r), {m - ImVec2{0.3f * r, 0.72f * r}, m + ImVec2{0.3f * r, 0.72f * r}, {{0, shade(cone, -0.35f)}, {0.5f, cone}, {1, shade(cone, 0.26f)}}});
  for (float k : {0.62f, 0.52f, 0.42f}) paint.stroke(circle(m, k * r), std::max(0.03f * s, 0.6f), theme::fade(rgb(theme::kBlack), 0.28f));
  const float cap = 0.28f * r;
  paint.shadow(m + ImVec2{0, 0.08f * r}, {cap, cap}, cap, {1, 0}, 0.12f * r, 0.5f);
  paint.fill(circle(m, cap), {m - ImVec2{0.4f * cap, cap}, m + ImVec2{0.4f * cap, cap}, {{0, rgb(0x7B848A)}, {0.5f, rgb(0x4A5156)}, {1, rgb(0x24282B)}}});
  sheen(paint, m - ImVec2{0.35f * cap, 0.45f * cap}, 0.5f * cap, 0.4f * cap, 0.5f);
  if (!look.in_box) fitted(paint, m + ImVec2{0, 0.54f * r}, 0.5f, 0.44f * s, 1.0f * r, rgb(0xC9D0D3), part.name, Weight::kStrong);
}

}  // namespace tiepoint::kit
