// What shines besides the plain LED: three colours in one dome, digits, bars, glowing wire.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

float light_of(const PartNumbers* reading, size_t k) { return reading && k < reading->lights.size() ? shine(reading->lights[k]) : 0.0f; }

// Red, green and blue light mix by adding; the brightest of them sets the strength.
struct Mixed {
  ImU32 light = 0, core = 0;
  float strength = 0;
};
Mixed mixed_light(const PartNumbers* reading) {
  const auto own = [&](size_t k) { return reading && reading->lights[k] > 0.0005 ? float(std::pow(reading->lights[k], 0.7)) : 0.0f; };
  const float r = own(0), g = own(1), b = own(2), most = std::max({r, g, b});
  if (most <= 0) return {};
  const auto channel = [&](float part, float spill) { return int(std::clamp(255 * (part / most + spill), 0.0f, 255.0f)); };
  const ImU32 light = IM_COL32(channel(r, 0.14f * g / most), channel(g, 0.20f * b / most + 0.08f * r / most), channel(b, 0.12f * r / most), 255);
  return {light, shade(light, 0.65f), std::max({light_of(reading, 0), light_of(reading, 1), light_of(reading, 2)})};
}

ImVec2 dome_of(const Pose& pose) { return pose.centre - across(pose.axis) * (0.06f * pose.scale); }

}  // namespace

void glow_rgb(Paint& paint, const Part&, const Pose& pose, const PartNumbers& reading) {
  const Mixed c = mixed_light(&reading);
  bloom(paint, dome_of(pose), (1.3f + 2.7f * c.strength) * pose.scale, c.light, c.core, c.strength);
}

void draw_rgb(Paint& paint, const Part&, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.5f);
  legs(paint, pose, look, 0.12f);
  const Mixed c = mixed_light(look.reading);
  const float k = std::min(c.strength, 1.0f), depth = 1 - 0.7f * k;
  // Milky epoxy takes on whatever colour is lit inside.
  const ImU32 milk = rgb(0xE4E6E4), body = k > 0 ? theme::mix(milk, shade(c.light, 0.15f), k) : milk;
  const float dome = 0.82f * hx, base = hy - 0.20f, shoulder = -hy + dome;
  const float turn = std::atan2(f.u.y, f.u.x);
  Outline shape;
  shape.arc(f.at(0, shoulder), dome * s, dome * s, turn - kPi, turn);
  shape.add(f.at(dome, base)), shape.add(f.at(-dome, base));
  paint.fill(shape, {f.at(-dome, 0), f.at(dome, 0), {{0, shade(body, -0.30f * depth)}, {0.22f, shade(body, 0.10f)}, {0.42f, shade(body, 0.30f)}, {0.72f, shade(body, -0.05f * depth)}, {1, shade(body, -0.36f * depth)}}});
  // Three dies side by side on their posts: red, green, blue.
  static constexpr uint32_t kDie[] = {0xC23A33, 0x3C9A52, 0x3567C4};
  for (int i = 0; i < 3; ++i) {
    const float own = light_of(look.reading, size_t(i)), x = 0.34f * float(i - 1);
    paint.fill(f.box(x - 0.10f, base - 0.52f, x + 0.10f, base, 0.02f), theme::fade(rgb(0x5C6468), 0.40f * (1 - k)));
    paint.fill(circle(f.at(x, base - 0.60f), 0.13f * s), theme::fade(shade(rgb(kDie[i]), 0.5f * std::min(own, 1.0f)), 0.9f - 0.3f * k));
  }
  if (k > 0.02f) {
    const Fill::Stop hot[] = {{0, theme::fade(c.core, 0.95f * k)}, {0.45f, theme::fade(c.core, 0.5f * k)}, {1, theme::fade(c.core, 0)}};
    paint.glow(f.at(0, shoulder + 0.12f), dome * 0.95f * s, dome * 1.05f * s, hot);
  }
  ImVec2 streak[9];
  for (int i = 0; i < 9; ++i) {
    const float a = kPi * (1.05f + 0.36f * float(i) / 8);
    streak[i] = f.at(0.66f * dome * std::cos(a), shoulder + 0.70f * dome * std::sin(a));
  }
  paint.path(streak, 0.125f * s, theme::fade(rgb(theme::kWhite), 0.6f));
  const ImU32 ring = theme::mix(shade(milk, -0.16f), k > 0 ? shade(c.light, -0.15f) : milk, k);
  const Outline flange = f.box(-hx, base - 0.145f, hx, base + 0.145f, 0.075f);
  paint.fill(flange, downwards(flange, {{0, shade(ring, 0.24f)}, {0.4f, ring}, {1, shade(ring, -0.30f)}}));
}

void draw_digit(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.1f);
  block(paint, f, -hx, -hy, hx, hy, 0.12f, rgb(0xC9CCC9));
  const Outline face = f.box(-hx + 0.20f, -hy + 0.20f, hx - 0.20f, hy - 0.20f, 0.06f);
  paint.fill(face, downwards(face, {{0, shade(rgb(theme::kDigitFace), 0.10f)}, {1, rgb(theme::kDigitFace)}}));
  // Where the pins are, behind the face: two rows of five.
  for (int i = 0; i < pose.count; ++i) {
    const float x = dot(pose.lead[i] - f.origin, f.u) / s, y = dot(pose.lead[i] - f.origin, f.v) / s;
    paint.fill(circle(f.at(x, y + (y < 0 ? -0.36f : 0.36f)), 0.12f * s), shade(rgb(theme::kLeadDark), -0.25f));
  }
  // Segments lean by eight degrees. Each is a long hexagon between two corners of the figure.
  constexpr float kW = 1.16f, kH = 1.98f, kThick = 0.26f, kLean = 0.14f, kGap = 0.10f;
  const auto place = [&](float x, float y) { return f.at(x - kLean * y - 0.14f, y); };
  static constexpr float kEnds[7][4] = {{-kW, -kH, kW, -kH}, {kW, -kH, kW, 0}, {kW, 0, kW, kH}, {-kW, kH, kW, kH}, {-kW, 0, -kW, kH}, {-kW, -kH, -kW, 0}, {-kW, 0, kW, 0}};
  const ImU32 dark = rgb(theme::kSegmentOff), lit = rgb(0xFF4A3A), core = rgb(0xFFD9CC);
  const auto segment = [&](int i, float grow) {
    const float* e = kEnds[i];
    const bool flat = std::fabs(e[3] - e[1]) < 0.01f;
    const float t = kThick + grow, g = kGap - grow * 0.5f;
    if (flat) {
      const float a = std::min(e[0], e[2]) + g, b = std::max(e[0], e[2]) - g, y = e[1];
      return polygon({place(a, y), place(a + t, y - t), place(b - t, y - t), place(b, y), place(b - t, y + t), place(a + t, y + t)});
    }
    const float a = std::min(e[1], e[3]) + g, b = std::max(e[1], e[3]) - g, x = e[0];
    return polygon({place(x, a), place(x + t, a + t), place(x + t, b - t), place(x, b), place(x - t, b - t), place(x - t, a + t)});
  };
  for (int i = 0; i < 7; ++i) {
    const float k = std::min(light_of(look.reading, size_t(i)), 1.0f);
    if (k > 0.05f) paint.fill(segment(i, 0.16f), theme::fade(lit, 0.20f * k));
    paint.fill(segment(i, 0), theme::mix(dark, shade(lit, 0.10f * k), k));
    if (k > 0.3f) {
      const float* e = kEnds[i];
      const bool flat = std::fabs(e[3] - e[1]) < 0.01f;
      const float shift = 0.34f;
      const ImVec2 a = flat ? place(std::min(e[0], e[2]) + shift, e[1]) : place(e[0], std::min(e[1], e[3]) + shift);
      const ImVec2 b = flat ? place(std::max(e[0], e[2]) - shift, e[1]) : place(e[0], std::max(e[1], e[3]) - shift);
      paint.line(a, b, 0.13f * s, theme::fade(core, 0.65f * k));
    }
  }
  const float point = std::min(light_of(look.reading, 7), 1.0f);
  const ImVec2 at = f.at(1.60f, kH + 0.10f);
  if (point > 0.05f) paint.fill(circle(at, 0.40f * s), theme::fade(lit, 0.20f * point));
  paint.fill(circle(at, 0.25f * s), theme::mix(dark, shade(lit, 0.15f), point));
  // A gleam over the face.
  paint.fill(polygon({f.at(-hx + 0.2f, -hy + 0.2f), f.at(0.2f, -hy + 0.2f), f.at(-1.2f, hy - 0.2f), f.at(-hx + 0.2f, hy - 0.2f)}), theme::fade(rgb(theme::kWhite), 0.035f));
  if (!look.in_box) letter(paint, f, -hx + 0.66f, hy - 0.78f, 0.42f, 0.9f, rgb(0x9AA0A0), part.name);
}

void draw_bar(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.1f);
  block(paint, f, -hx, -hy, hx, hy, 0.12f, rgb(0xD4D6D2));
  const Outline face = f.box(-hx + 0.14f, -hy + 0.34f, hx - 0.14f, hy - 0.34f, 0.06f);
  paint.fill(face, downwards(face, {{0, shade(rgb(theme::kDigitFace), 0.12f)}, {1, rgb(theme::kDigitFace)}}));
  const ImU32 dark = rgb(theme::kSegmentOff), lit = rgb(0xFF4A3A), core = rgb(0xFFD9CC);
  for (int i = 0; i < 10; ++i) {
    const float x = float(i) - 4.5f, k = std::min(light_of(look.reading, size_t(i)), 1.0f);
    if (k > 0.05f) paint.fill(f.box(x - 0.44f, -1.42f, x + 0.44f, 1.42f, 0.14f), theme::fade(lit, 0.22f * k));
    const Outline light = f.box(x - 0.29f, -1.22f, x + 0.29f, 1.22f, 0.06f);
    const ImU32 c = theme::mix(dark, lit, k);
    paint.fill(light, downwards(light, {{0, shade(c, 0.14f)}, {1, shade(c, -0.10f)}}));
    if (k > 0.3f) paint.line(f.at(x, -0.8f), f.at(x, 0.8f), 0.18f * s, theme::fade(core, 0.6f * k));
  }
  // Anodes below: the corner of number 1 is cut.
  paint.fill(polygon({f.at(-hx + 0.02f, hy - 0.36f), f.at(-hx + 0.36f, hy - 0.02f), f.at(-hx + 0.02f, hy - 0.02f)}), rgb(0x7E837F));
  if (!look.in_box) letter(paint, f, hx - 1.0f, hy - 0.19f, 0.30f, 1.6f, rgb(0x454A48), part.name);
}

void draw_lamp(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const ImVec2 m = pose.centre;
  const float k = look.reading ? shine(look.reading->brightness) : 0.0f, lit = std::min(k, 1.0f);
  const ImVec2 bulb = m + ImVec2{-0.1f * s, -0.62f * s};
  const float r = 1.30f * s;
  if (!look.in_box) bloom(paint, bulb, (2.4f + 3.2f * k) * s, rgb(theme::kFilament), rgb(theme::kFilamentCore), k);
  // Socket: a porcelain foot with two screws, the threaded brass shell on it.
  const Box foot = {m + ImVec2{-1.75f, 1.30f} * s, m + ImVec2{1.75f, 2.25f} * s};
  const ImU32 china = rgb(theme::kCeramic), brass = rgb(theme::kBrass);
  paint.shadow(foot, 0.3f * s, 0.5f * s, {0, 0.22f * s}, 0.55f);
  paint.fill(rounded(foot, 0.28f * s), {foot.min, {foot.min.x, foot.max.y}, {{0, shade(china, 0.4f)}, {0.4f, china}, {1, shade(china, -0.22f)}}});
  for (float e : {-1.28f, 1.28f}) screw(paint, m + ImVec2{e * s, 1.72f * s}, 0.26f * s, e);
  const float neck = 0.78f * s;
  const Box shell = {{bulb.x - neck, m.y + 0.42f * s}, {bulb.x + neck, m.y + 1.62f * s}};
  const Frame f(m, {1, 0}, s);
  paint.fill(rounded(shell, 0.08f * s), {{shell.min.x, 0}, {shell.max.x, 0}, {{0, shade(brass, -0.45f)}, {0.25f, shade(brass, 0.15f)}, {0.4f, shade(brass, 0.5f)}, {0.7f, shade(brass, -0.08f)}, {1, shade(brass, -0.5f)}}});
  for (int i = 0; i < 3; ++i) {
    const float y = shell.min.y + (0.28f + 0.32f * float(i)) * s;
    paint.line({shell.min.x + 0.04f * s, y + 0.06f * s}, {shell.max.x - 0.04f * s, y - 0.06f * s}, std::max(0.07f * s, 0.8f), theme::fade(rgb(theme::kBrassDark), 0.75f));
  }
  // Bulb: glass, two wires, a coil that reddens before it shines white.
  const ImU32 tint = theme::mix(rgb(theme::kGlassTint), rgb(theme::kFilament), lit);
  Outline pear;
  pear.arc(bulb, r, r, kPi * 0.80f, kPi * 2.20f);
  pear.add({bulb.x + neck * 0.92f, shell.min.y + 0.05f * s}), pear.add({bulb.x - neck * 0.92f, shell.min.y + 0.05f * s});
  paint.fill(pear, {bulb - ImVec2{0.5f * r, r}, bulb + ImVec2{0.5f * r, r}, {{0, theme::fade(shade(tint, 0.5f), 0.62f)}, {0.5f, theme::fade(tint, 0.26f + 0.4f * lit)}, {1, theme::fade(shade(tint, -0.25f), 0.55f)}}});
  const ImVec2 left = bulb + ImVec2{-0.55f, -0.12f} * s, right = bulb + ImVec2{0.55f, -0.12f} * s;
  const ImU32 wire = rgb(0x6C7376);
  paint.line({bulb.x - 0.25f * s, shell.min.y}, left, std::max(0.06f * s, 0.8f), wire);
  paint.line({bulb.x + 0.25f * s, shell.min.y}, right, std::max(0.06f * s, 0.8f), wire);
  paint.fill(circle({bulb.x, shell.min.y - 0.18f * s}, 0.14f * s), rgb(0x9BB4BB, 0.8f));
  ImVec2 coil[25];
  for (int i = 0; i < 25; ++i) {
    const float t = float(i) / 24;
    coil[i] = lerp(left, right, t) + ImVec2{0, -0.16f * s * std::sin(kPi * t) + 0.12f * s * std::sin(t * kPi * 12)};
  }
  if (lit > 0) {
    const Fill::Stop hot[] = {{0, theme::fade(rgb(theme::kFilamentCore), 0.95f * lit)}, {0.4f, theme::fade(rgb(theme::kFilament), 0.6f * lit)}, {1, theme::fade(rgb(theme::kFilament), 0)}};
    paint.glow(bulb + ImVec2{0, -0.15f * s}, r * 1.0f, r * 0.95f, hot);
  }
  paint.path(coil, std::max(0.07f * s, 1.0f), theme::mix(rgb(0x8A6A4A), rgb(theme::kFilamentCore), std::min(1.0f, lit * 2.2f)));
  paint.stroke(pear, std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kWhite), 0.40f));
  sheen(paint, bulb + ImVec2{-0.45f * r, -0.50f * r}, 0.42f * r, 0.36f * r, 0.65f);
  fitted(paint, m + ImVec2{0, 1.98f * s}, 0.5f, 0.38f * s, 1.7f * s, rgb(0x5A5448), look.in_box ? option_of(part, "bulb") : std::string_view(part.name), Weight::kStrong);
  if (!look.in_box) fitted(paint, {bulb.x, m.y + 1.06f * s}, 0.5f, 0.38f * s, 1.3f * s, rgb(0x3A2A0C), option_of(part, "bulb"), Weight::kStrong);
}

}  // namespace tiepoint::kit
