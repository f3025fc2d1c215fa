// Chips in their black moulding, and what is built like one.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {

void draw_dip(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  // Legs leave the sides as broad shoulders and narrow into their holes.
  for (int i = 0; i < pose.count; ++i) {
    const float x = dot(pose.lead[i] - f.origin, f.u) / s, y = dot(pose.lead[i] - f.origin, f.v) / s, side = y < 0 ? -1.0f : 1.0f;
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
    draw_leg(paint, f.at(x, side * (hy - 0.1f)), pose.lead[i], 0.20f * s);
    draw_leg(paint, f.at(x, side * (hy - 0.1f)), f.at(x, side * (hy + 0.09f)), 0.40f * s);
  }
  cast_shadow(paint, pose, look, 0.1f);
  const ImU32 c = rgb(theme::kMould);
  block(paint, f, -hx, -hy, hx, hy, 0.10f, c);
  // The parting line of the mould, a half-round notch at the end of pin 1, a dot beside pin 1.
  paint.fill(f.box(-hx + 0.02f, -0.36f, -hx + 0.08f, 0.36f, 0.02f), shade(c, -0.35f));
  Outline notch;
  const float turn = std::atan2(f.u.y, f.u.x);
  notch.arc(f.at(-hx + 0.02f, 0), 0.36f * s, 0.36f * s, turn - kPi / 2, turn + kPi / 2);
  paint.fill(notch, downwards(notch, {{0, shade(c, -0.62f)}, {1, shade(c, -0.15f)}}));
  const float pin_x = pose.count ? dot(pose.lead[0] - f.origin, f.u) / s : 0;
  const ImVec2 dot_at = f.at(std::max(pin_x, -hx + 0.42f), hy - 0.40f);
  paint.fill(circle(dot_at, 0.15f * s), {dot_at - ImVec2{0, 0.15f * s}, dot_at + ImVec2{0, 0.15f * s}, {{0, shade(c, -0.6f)}, {1, shade(c, 0.16f)}}});
  const float room = 2 * hx - 1.2f;
  const ImU32 ink = rgb(theme::kMouldText);
  const float line = f.next_line();
  letter(paint, f, 0.24f, look.in_box ? 0.0f : -0.24f * line, look.in_box ? 0.86f : 0.68f, room, ink, type_print(part));
  if (!look.in_box) letter(paint, f, 0.24f, 0.48f * line, 0.44f, room, theme::fade(ink, 0.72f), part.name);
}

void draw_slotted(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.1f);
  for (int i = 0; i < pose.count; ++i) {
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
    draw_leg(paint, pose.root[i], pose.lead[i], 0.2f * s);
  }
  // Two towers on one base, an invisible beam across the slot between them.
  const ImU32 c = rgb(theme::kMould);
  block(paint, f, -hx, -hy, hx, hy, 0.10f, shade(c, -0.15f));
  paint.fill(f.box(-0.62f, -hy + 0.06f, 0.62f, hy - 0.06f, 0.02f), rgb(0x101315));
  block(paint, f, -hx, -hy, -0.62f, hy, 0.10f, c);
  block(paint, f, 0.62f, -hy, hx, hy, 0.10f, c);
  const double flag = value_of(part, "flag");
  for (int i = -2; i <= 2; ++i)
    if (!(flag > 0.5 && i > -2)) paint.line(f.at(float(i) * 0.24f - 0.06f, 0), f.at(float(i) * 0.24f + 0.06f, 0), std::max(0.07f * s, 1.0f), rgb(0x9A5A7E, 0.9f));
  for (float x : {-0.72f, 0.72f}) paint.fill(circle(f.at(x, 0), 0.13f * s), rgb(0x5A3A55));
  if (flag > 0.02) {
    // A card that slides into the slot.
    const float y = hy + 0.9f - float(flag) * (hy + 1.5f);
    const Outline card = f.box(-0.34f, y, 0.34f, y + 2.1f, 0.06f);
    paint.fill(card, downwards(card, {{0, rgb(0xF3C86A)}, {1, rgb(0xD99C2B)}}));
  }
  const ImU32 ink = rgb(theme::kMouldText);
  letter(paint, f, -1.5f, 0, 0.5f, 1.3f, ink, "E");
  letter(paint, f, 1.5f, 0, 0.5f, 1.3f, ink, "S");
  if (!look.in_box) letter(paint, f, -1.5f, 0.72f, 0.36f, 1.5f, theme::fade(ink, 0.75f), part.name);
}

void draw_sound_module(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.12f);
  const ImU32 board = rgb(theme::kModule), steel = rgb(theme::kSteel);
  block(paint, f, -hx, -hy, hx, hy, 0.16f, board);
  // A row of gilded pads over the pins, a small amplifier, and the microphone's can.
  for (int i = 0; i < pose.count; ++i) {
    const float x = dot(pose.lead[i] - f.origin, f.u) / s;
    const ImVec2 pad = f.at(x, hy - 0.42f);
    paint.fill(circle(pad, 0.26f * s), rgb(theme::kBrass));
    paint.fill(circle(pad, 0.14f * s), {pad - ImVec2{0, 0.14f * s}, pad + ImVec2{0, 0.14f * s}, {{0, rgb(theme::kLeadLight)}, {1, rgb(theme::kLeadDark)}}});
  }
  block(paint, f, 0.75f, -0.85f, 1.5f, -0.25f, 0.04f, rgb(theme::kMould));
  const ImVec2 mic = f.at(-0.55f, -0.42f);
  const float r = 0.84f * s;
  paint.shadow(mic + ImVec2{0, 0.1f * s}, {r, r}, r, {1, 0}, 0.2f * s, 0.5f);
  paint.fill(circle(mic, r), {mic - ImVec2{0.4f * r, r}, mic + ImVec2{0.4f * r, r}, {{0, shade(steel, 0.5f)}, {0.5f, steel}, {1, shade(steel, -0.4f)}}});
  paint.fill(circle(mic, 0.82f * r), {mic - ImVec2{0, r}, mic + ImVec2{0, r}, {{0, rgb(0x23272A)}, {1, rgb(0x4A5054)}}});
  for (int i = 0; i < 7; ++i) {
    const float a = kPi * 2 * float(i) / 6, k = i == 6 ? 0.0f : 0.42f * r;
    paint.fill(circle(mic + ImVec2{std::cos(a), std::sin(a)} * k, 0.10f * r), rgb(0x0B0D0E));
  }
  if (!look.in_box) letter(paint, f, 1.12f, 0.18f, 0.36f, 1.1f, rgb(0xE4F2EE), part.name);
}

}  // namespace tiepoint::kit
