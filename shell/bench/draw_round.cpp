// Resistors with a sliding contact, seen from above: a knob on its shaft, a screw in its block.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw_kinds.h"
#include "shell/words/words.h"

namespace tiepoint::kit {

// Ticks around a dial, and its ends.
static void scale_ring(Paint& paint, const Frame& f, const Dial& dial, int steps, float reach, ImU32 ink) {
  for (int i = 0; i <= steps; ++i) {
    const float a = dial.from + (dial.to - dial.from) * float(i) / float(steps);
    const ImVec2 d = f.u * std::sin(a) - f.v * std::cos(a);
    const bool end = i == 0 || i == steps;
    paint.line(dial.centre + d * (dial.radius * 1.08f), dial.centre + d * (dial.radius * reach * (end ? 1.04f : 1.0f)), std::max((end ? 0.075f : 0.05f) * f.s, 0.8f), ink);
  }
}

void draw_potentiometer(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  lugs(paint, f, pose, hy - 0.02f);
  cast_shadow(paint, pose, look, 0.3f);
  // Laminated board with rivets, and the pressed steel of the back beneath it.
  block(paint, f, -hx, -hy, hx, hy, 0.34f, rgb(theme::kPanel));
  for (float x : {-2.0f, 2.0f}) {
    const ImVec2 c = f.at(x, -hy + 0.40f);
    paint.fill(circle(c, 0.17f * s), shade(rgb(theme::kSteel), -0.3f));
    paint.fill(circle(c, 0.12f * s), {c - ImVec2{0, 0.12f * s}, c + ImVec2{0, 0.12f * s}, {{0, shade(rgb(theme::kSteel), 0.5f)}, {1, rgb(theme::kSteel)}}});
  }
  Dial dials[kMostDials];
  if (dials_of(part, pose, dials) < 1) return;
  scale_ring(paint, f, dials[0], 10, 1.20f, rgb(0x5B4F35));
  knob(paint, f, dials[0], rgb(theme::kKnob));
  const ImU32 ink = rgb(0x4A3F28);
  letter(paint, f, -1.72f, 0.72f, 0.40f, 1.3f, ink, say_marking(value_of(part, "resistance"), "Ω"));
  if (!look.in_box) letter(paint, f, 1.72f, 0.72f, 0.40f, 1.2f, ink, part.name);
}

void draw_trimmer(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  lugs(paint, f, pose, hy - 0.04f);
  cast_shadow(paint, pose, look, 0.12f);
  block(paint, f, -hx, -hy, hx, hy, 0.14f, rgb(theme::kTrimmerBlue));
  Dial dials[kMostDials];
  if (dials_of(part, pose, dials) < 1) return;
  const Dial& d = dials[0];
  // A brass rotor with a slot that is an arrow on one side.
  paint.fill(circle(d.centre, d.radius * 1.06f), rgb(0x1C3864));
  const ImU32 brass = rgb(theme::kBrass);
  const float r = d.radius * 0.94f;
  paint.fill(circle(d.centre, r), {d.centre - ImVec2{0.4f * r, r}, d.centre + ImVec2{0.4f * r, r}, {{0, shade(brass, 0.5f)}, {0.5f, brass}, {1, shade(brass, -0.34f)}}});
  const ImVec2 way = f.u * std::sin(d.angle) - f.v * std::cos(d.angle), side = across(way);
  const ImU32 slot = rgb(0x3A2A0C);
  paint.line(d.centre - way * (0.70f * r), d.centre + way * (0.50f * r), std::max(0.20f * r, 1.2f), slot);
  paint.fill(polygon({d.centre + way * (0.92f * r), d.centre + way * (0.36f * r) + side * (0.34f * r), d.centre + way * (0.36f * r) - side * (0.34f * r)}), slot);
  const ImU32 ink = rgb(0xEAF1FA);
  letter(paint, f, -1.13f, 0.0f, 0.36f, 0.62f, ink, digit_code(value_of(part, "resistance"), 1));
  if (!look.in_box) letter(paint, f, 1.13f, 0.0f, 0.36f, 0.62f, ink, part.name);
}

}  // namespace tiepoint::kit
