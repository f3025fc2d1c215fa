// What a finger works: push buttons and slide switches, seen from above.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {
using theme::rgb;
using theme::shade;

Fill from_above(ImVec2 centre, float half, ImU32 top, ImU32 bottom) {
  return {centre - ImVec2{0, half}, centre + ImVec2{0, half}, {{0, top}, {1, bottom}}};
}
}  // namespace

void draw_button(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, h = pose.half.x;
  const bool down = is_on(part);
  const ImVec2 m = pose.centre;
  // Legs: flat tinned strips bent outwards into their holes.
  for (int i = 0; i < pose.count; ++i) {
    const ImVec2 d = pose.lead[i] - m;
    const bool along_y = (part.turn & 1) == 0;
    const ImVec2 knee = along_y ? ImVec2{m.x + (d.x > 0 ? 1 : -1) * 0.72f * s, m.y + (d.y > 0 ? 1 : -1) * h * 0.96f}
                                : ImVec2{m.x + (d.x > 0 ? 1 : -1) * h * 0.96f, m.y + (d.y > 0 ? 1 : -1) * 0.72f * s};
    if (!look.in_box) {
      const ImVec2 course[] = {knee, pose.lead[i]};
      paint.path_shadow(course, 0.06f * s, 0.10f * s, {0, 0.10f * s}, 0.25f);
    }
    draw_leg(paint, knee, pose.lead[i], 0.22f * s);
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
  }
  if (!look.in_box) {
    paint.shadow(m + ImVec2{0, 0.24f * s}, {h, h}, 0.22f * s, {1, 0}, 0.34f * s, 0.55f);
    paint.shadow(m + ImVec2{0, 0.07f * s}, {h, h}, 0.2f * s, {1, 0}, 0.10f * s, 0.35f);
  }
  const ImU32 base = rgb(theme::kButtonBase), face = rgb(theme::kButtonFace);
  paint.fill(rounded(m, {h, h}, 0.19f * s), from_above(m, h, shade(base, 0.12f), shade(base, -0.25f)));
  paint.fill(rounded(m - ImVec2{0, 0.02f * s}, {h * 0.885f, h * 0.885f}, 0.14f * s),
             from_above(m, h, shade(face, 0.14f), shade(face, -0.16f)));
  paint.stroke(rounded(m - ImVec2{0, 0.02f * s}, {h * 0.885f, h * 0.885f}, 0.14f * s), std::max(0.03f * s, 0.6f),
               theme::fade(rgb(theme::kWhite), 0.10f));
  for (float sx : {-1.0f, 1.0f})
    for (float sy : {-1.0f, 1.0f}) {
      const ImVec2 rivet = m + ImVec2{sx * h * 0.68f, sy * h * 0.68f};
      const float r = 0.105f * s;
      paint.fill(circle(rivet, r),
                 from_above(rivet, r, shade(rgb(theme::kButtonRivet), 0.30f), shade(rgb(theme::kButtonRivet), -0.30f)));
    }
  // The cap stands proud in its collar; pressed, it sinks: darker, smaller, its shadow gone and the collar's falling on it.
  const float collar = 0.64f * s, r = (down ? 0.50f : 0.545f) * s;
  paint.fill(circle(m, collar), from_above(m, collar, rgb(0x14181A), rgb(0x2A2F33)));
  const ImVec2 cap = m + ImVec2{0, down ? 0.035f * s : -0.035f * s};
  if (!down) paint.shadow(m + ImVec2{0, 0.13f * s}, {r * 0.9f, r * 0.9f}, r, {1, 0}, 0.16f * s, 0.65f);
  const ImU32 colour = rgb(down ? theme::kButtonCapDown : theme::kButtonCap);
  paint.fill(circle(cap, r), {cap - ImVec2{0.35f * r, r},
                              cap + ImVec2{0.35f * r, r},
                              {{0, shade(colour, down ? -0.28f : 0.30f)},
                               {0.45f, shade(colour, down ? -0.04f : 0.04f)},
                               {1, shade(colour, down ? 0.06f : -0.24f)}}});
  paint.stroke(circle(cap, r - 0.035f * s), std::max(0.05f * s, 0.7f),
               theme::fade(down ? rgb(theme::kBlack) : rgb(theme::kWhite), down ? 0.22f : 0.28f));
  const float em = std::min(0.44f, 1.15f / float(std::max<size_t>(part.name.size(), 2))) * s;
  if (em > 5.5f && !look.in_box) paint.text(cap, 0.5f, em, rgb(0x2A2418), part.name, Weight::kStrong);
}

void draw_slide(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const ImVec2 m = pose.centre, axis = pose.axis, half = pose.half;
  const ImVec2 half_up = {half.x, half.y};
  if (!look.in_box) {
    paint.shadow(m + ImVec2{0, 0.22f * s}, half_up, 0.14f * s, axis, 0.32f * s, 0.52f);
    paint.shadow(m + ImVec2{0, 0.06f * s}, half_up, 0.12f * s, axis, 0.10f * s, 0.35f);
  }
  const ImU32 shell = rgb(theme::kSwitchShell);
  const Box b = pose.bounds();
  paint.fill(
      rounded(m, half, 0.13f * s, axis),
      {b.min,
       {b.min.x, b.max.y},
       {{0, shade(shell, 0.42f)}, {0.18f, shade(shell, 0.12f)}, {0.75f, shade(shell, -0.10f)}, {1, shade(shell, -0.34f)}}});
  paint.stroke(rounded(m, {half.x - 0.05f * s, half.y - 0.05f * s}, 0.11f * s, axis), std::max(0.035f * s, 0.6f),
               theme::fade(rgb(theme::kWhite), 0.35f));
  // Ears crimped over the base.
  for (float e : {-1.0f, 1.0f})
    paint.fill(rounded(m + axis * (e * (half.x - 0.24f * s)), {0.07f * s, half.y * 0.42f}, 0.05f * s, axis),
               theme::fade(rgb(theme::kBlack), 0.22f));
  const ImVec2 slot = {1.10f * s, 0.42f * s};
  paint.fill(rounded(m, slot, 0.09f * s, axis),
             {b.min, {b.min.x, b.max.y}, {{0, rgb(0x0E1113)}, {1, rgb(theme::kSwitchSlot)}}});
  // The knob stands over the two pins that are joined: at the left it joins 1 and common, at the right common and 2.
  const float at = (is_on(part) ? 1.0f : -1.0f) * 0.50f * s;
  const ImVec2 knob = m + axis * at;
  const ImVec2 size = {0.52f * s, 0.35f * s};
  paint.shadow(knob + ImVec2{0, 0.08f * s}, size, 0.06f * s, axis, 0.12f * s, 0.7f);
  const ImU32 black = rgb(theme::kSwitchKnob);
  paint.fill(rounded(knob, size, 0.07f * s, axis),
             {knob - ImVec2{0, size.x},
              knob + ImVec2{0, size.x},
              {{0, shade(black, 0.30f)}, {0.5f, shade(black, 0.04f)}, {1, shade(black, -0.35f)}}});
  for (int i = -2; i <= 2; ++i) {
    const ImVec2 c = knob + axis * (float(i) * 0.17f * s), across_ = across(axis) * (0.24f * s);
    paint.line(c - across_, c + across_, std::max(0.045f * s, 0.7f),
               theme::fade(rgb(i & 1 ? theme::kBlack : theme::kWhite), i & 1 ? 0.45f : 0.22f));
  }
  const float em = 0.34f * s;
  if (em > 5.5f && !look.in_box && std::fabs(axis.x) > 0.5f)
    paint.text(m + ImVec2{0, 0.58f * s}, 0.5f, em, rgb(0x3A4246), part.name, Weight::kStrong);
}

}  // namespace tiepoint
