// Bodies that stand on their legs, seen from the front: LEDs and capacitors.
#include <algorithm>
#include <cmath>

#include "engine/parts/led.h"
#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {

using theme::rgb;
using theme::shade;

constexpr float kPi = 3.14159265f;

void standing_legs(Paint& paint, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  for (int i = 0; i < 2; ++i) {
    if (!look.in_box) {
      const ImVec2 course[] = {pose.root[i], pose.lead[i]};
      paint.path_shadow(course, 0.04f * s, 0.08f * s, {0.05f * s, 0.10f * s}, 0.28f);
      draw_entry(paint, pose.lead[i], s);
    }
    draw_leg(paint, pose.root[i], pose.lead[i], 0.13f * s);
  }
}

void foot_shadow(Paint& paint, const Pose& pose, const PartLook& look) {
  if (look.in_box) return;
  const float s = pose.scale;
  paint.shadow(pose.centre + ImVec2{0.06f * s, 0.20f * s}, {pose.half.x * 0.92f, pose.half.y * 0.92f}, 0.5f * s, {1, 0},
               0.34f * s, 0.42f);
}

// How strongly an LED shines on the canvas, 0..1.25: the eye's answer to light is far from linear, so a tenth of the rated
// current already looks bright.
float shine(const PartNumbers* reading) {
  if (reading == nullptr || !(reading->brightness > 0.0005)) return 0;
  return std::clamp(float(std::pow(reading->brightness, 0.30)), 0.0f, 1.25f);
}

ImVec2 dome_centre(const Pose& pose) { return pose.centre + ImVec2{0, -0.06f * pose.scale}; }

// Makers print microfarads on a can, however many: "1000 µF".
std::string sleeve_print(double farad) {
  const double micro = farad * 1e6;
  return micro >= 10 ? std::to_string((long long)(micro + 0.5)) + " µF" : engineering(farad, "F");
}

}  // namespace

void draw_glow(Paint& paint, const Part& part, const Pose& pose, const PartNumbers& reading) {
  if (!is_coloured_dome(type_of(part).body)) return draw_kind_glow(paint, part, pose, reading);
  const float k = shine(&reading);
  if (k <= 0) return;
  const theme::LedColour& c = theme::led_colour(option_of(part, "colour"));
  // From the rim of the dome; the 5 mm one and smaller ones alike.
  const float s = pose.scale, reach = (1.5f + 2.9f * k) * s + std::max(0.0f, pose.half.x - 0.81f * s);
  const ImU32 core = rgb(c.core), light = rgb(c.light);
  // Bright around the lamp, then a long soft fall to nothing: light scattered by the plastic and by the eye.
  Fill::Stop stops[12];
  for (int i = 0; i < 12; ++i) {
    const float r = float(i) / 11, left = 1 - r;
    const float fall = left * left * (0.62f + 0.38f * left);
    stops[i] = {r,
                theme::fade(theme::mix(light, core, std::max(0.0f, 1 - r * 4.0f) * 0.75f), fall * std::min(1.2f * k, 0.97f))};
  }
  paint.glow(dome_centre(pose), reach, reach, stops);
}

void draw_led(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  // Light that no eye sees comes out of violet epoxy, goes in through black or clear one.
  static constexpr theme::LedColour kViolet = {"violet", 0x6A5C96, 0x6A5C96, 0x8A7CB6}, kSmoked = {"smoked", 0x33303A, 0x33303A, 0x5A5266},
                                    kClear = {"clear", 0xB4C3CA, 0xB4C3CA, 0xDCE6EA};
  const Body kind = type_of(part).body;
  const theme::LedColour& c = is_coloured_dome(kind)           ? theme::led_colour(option_of(part, "colour"))
                              : kind == Body::kInfraredLed     ? kViolet
                              : kind == Body::kPhototransistor ? kClear
                                                               : kSmoked;
  const float s = pose.scale, k = std::min(shine(look.reading), 1.0f);
  foot_shadow(paint, pose, look);
  standing_legs(paint, pose, look);

  const ImU32 lens = rgb(c.lens), lit = theme::mix(rgb(c.light), rgb(c.core), 0.25f * k);
  const ImU32 body = theme::mix(lens, lit, std::min(1.0f, 1.3f * k));
  const ImVec2 m = pose.centre;
  const float dome = 0.81f * pose.half.x, base = m.y + pose.half.y - 0.20f * s, shoulder = m.y - pose.half.y + dome;
  // The dome: a cylinder under a half ball, rounder shading the less it glows.
  const float depth = 1 - 0.75f * k;
  Outline shape;
  shape.arc({m.x, shoulder}, dome, dome, -kPi, 0);
  shape.add({m.x + dome, base}), shape.add({m.x - dome, base});
  paint.fill(shape, {{m.x - dome, 0},
                     {m.x + dome, 0},
                     {{0, shade(body, -0.34f * depth)},
                      {0.22f, shade(body, 0.10f)},
                      {0.42f, shade(body, 0.20f)},
                      {0.72f, shade(body, -0.06f * depth)},
                      {1, shade(body, -0.42f * depth)}}});
  // Inside: post and cup, dim behind the coloured epoxy, drowned by the light when lit. The cup stands on the cathode's leg.
  const float cup = pose.root[1].x >= m.x ? 1.0f : -1.0f;
  if (k < 0.9f) {
    const ImU32 inner = theme::fade(shade(lens, -0.45f), 0.55f * (1 - k));
    const float left = std::min(m.x + cup * 0.08f * s, m.x + cup * 0.40f * s), right = left + 0.32f * s,
                mouth = base - 0.44f * s;
    const float foot = 0.10f * s;  // the cup narrows towards the leg
    paint.fill(polygon({{left, mouth}, {right, mouth}, {right - foot, base}, {left + foot, base}}), inner);
    const float post = m.x - cup * 0.26f * s;
    paint.fill(rounded({{post - 0.07f * s, base - 0.34f * s}, {post + 0.07f * s, base}}, 0), inner);
  }
  if (k > 0.02f) {
    const Fill::Stop hot[] = {{0, theme::fade(rgb(c.core), 0.92f * k)},
                              {0.4f, theme::fade(rgb(c.core), 0.42f * k)},
                              {1, theme::fade(rgb(c.core), 0)}};
    paint.glow({m.x, shoulder + 0.12f * s}, dome * 0.95f, dome * 1.05f, hot);
  }
  // The streak of the window on the ball.
  ImVec2 streak[9];
  for (int i = 0; i < 9; ++i) {
    const float a = kPi * (1.05f + 0.36f * float(i) / 8);
    streak[i] = {m.x + 0.66f * dome * std::cos(a), shoulder + 0.70f * dome * std::sin(a)};
  }
  paint.path(streak, 0.125f * s, theme::fade(rgb(theme::kWhite), 0.34f + 0.4f * k));
  // Flange, cut flat on the cathode's side.
  const float rim = pose.half.x, h = 0.145f * s;
  const Box flange = {{m.x - (cup < 0 ? 0.86f * rim : rim), base - h}, {m.x + (cup > 0 ? 0.86f * rim : rim), base + h}};
  const ImU32 ring = theme::mix(shade(lens, -0.16f), shade(lit, -0.20f), k);
  paint.fill(rounded(flange, 0.075f * s),
             {flange.min, {flange.min.x, flange.max.y}, {{0, shade(ring, 0.24f)}, {0.4f, ring}, {1, shade(ring, -0.30f)}}});
  const float flat = cup > 0 ? flange.max.x : flange.min.x;
  const Box face = cup > 0 ? Box{{flat - 0.15f * s, flange.min.y}, {flat, flange.max.y}}
                           : Box{{flat, flange.min.y}, {flat + 0.15f * s, flange.max.y}};
  paint.fill(rounded(face, 0.02f * s), shade(ring, -0.42f));
}

void draw_disc(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, r = pose.half.y;
  foot_shadow(paint, pose, look);
  standing_legs(paint, pose, look);
  const ImVec2 m = pose.centre;
  const ImU32 base = rgb(theme::kDisc);
  // The lacquer runs down the legs a little.
  for (int i = 0; i < 2; ++i) {
    const ImVec2 root = pose.root[i];
    paint.fill(rounded({{root.x - 0.14f * s, root.y - 0.36f * s}, {root.x + 0.14f * s, root.y + 0.16f * s}}, 0.12f * s),
               shade(base, -0.18f));
  }
  paint.fill(circle(m, r),
             {m - ImVec2{0.5f * r, r},
              m + ImVec2{0.5f * r, r},
              {{0, shade(base, 0.34f)}, {0.35f, shade(base, 0.10f)}, {0.75f, shade(base, -0.10f)}, {1, shade(base, -0.34f)}}});
  const Fill::Stop gleam[] = {{0, theme::fade(rgb(theme::kWhite), 0.38f)},
                              {0.5f, theme::fade(rgb(theme::kWhite), 0.12f)},
                              {1, theme::fade(rgb(theme::kWhite), 0)}};
  paint.glow(m + ImVec2{-0.34f * r, -0.42f * r}, 0.52f * r, 0.40f * r, gleam);
  paint.stroke(circle(m, r - 0.04f * s), 0.06f * s, theme::fade(shade(base, -0.5f), 0.35f));
  const float em = 0.50f * s;
  if (em > 5)
    paint.text(m + ImVec2{0, 0.10f * s}, 0.5f, em, rgb(theme::kDiscText), digit_code(value_of(part, "capacitance"), 1e-12),
               Weight::kStrong);
}

void draw_can(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, hx = pose.half.x, hy = pose.half.y;
  foot_shadow(paint, pose, look);
  standing_legs(paint, pose, look);
  const ImVec2 m = pose.centre;
  const ImU32 sleeve = rgb(theme::kCan), stripe = rgb(theme::kCanStripe);
  const float top = m.y - hy + 0.20f * s, foot = m.y + hy, round = 0.16f * s;
  // Sleeve: a standing cylinder, its foot curving away.
  Outline shape;
  shape.add({m.x - hx, top}), shape.add({m.x + hx, top});
  shape.arc({m.x + hx - round, foot - round}, round, round, 0, kPi / 2);
  shape.arc({m.x - hx + round, foot - round}, round, round, kPi / 2, kPi);
  const Fill barrel = {{m.x - hx, 0},
                       {m.x + hx, 0},
                       {{0, shade(sleeve, -0.40f)},
                        {0.2f, shade(sleeve, 0.10f)},
                        {0.36f, shade(sleeve, 0.32f)},
                        {0.7f, shade(sleeve, -0.08f)},
                        {1, shade(sleeve, -0.50f)}}};
  paint.fill(shape, barrel);
  // The stripe of minus signs runs down the side of the minus leg.
  const float side = pose.root[1].x >= m.x ? 1.0f : -1.0f;
  const float near = m.x + side * 0.34f * hx, far = m.x + side * 0.86f * hx, x0 = std::min(near, far), x1 = std::max(near, far);
  paint.fill(rounded({{x0, top}, {x1, foot - 0.02f * s}}, 0.03f * s),
             {{x0, 0}, {x1, 0}, {{0, shade(stripe, side > 0 ? 0.1f : -0.25f)}, {1, shade(stripe, side > 0 ? -0.25f : 0.1f)}}});
  for (int i = 0; i < 3; ++i) {
    const float y = top + (0.55f + 0.58f * float(i)) * s, w = (x1 - x0) * 0.28f;
    paint.line({(x0 + x1) / 2 - w, y}, {(x0 + x1) / 2 + w, y}, std::max(0.085f * s, 1.0f), rgb(theme::kCan));
  }
  const float em = 0.36f * s, clear = m.x - side * 0.30f * hx;
  if (em > 6)
    paint.text_upright({clear, (top + foot) / 2 + 0.12f * s}, em, theme::fade(rgb(theme::kCanStripe), 0.9f),
                       sleeve_print(value_of(part, "capacitance")));
  // The aluminium lid with its vent.
  const ImVec2 lid = {m.x, top};
  paint.fill(ellipse(lid, hx, 0.24f * s), shade(sleeve, -0.35f));
  paint.fill(ellipse(lid + ImVec2{0, -0.01f * s}, hx * 0.88f, 0.19f * s),
             {lid - ImVec2{hx, 0},
              lid + ImVec2{hx, 0},
              {{0, rgb(theme::kCanTop)}, {0.4f, shade(rgb(theme::kCanTop), 0.45f)}, {1, shade(rgb(theme::kCanTop), -0.2f)}}});
  const ImU32 score = theme::fade(rgb(theme::kBlack), 0.30f);
  paint.line(lid + ImVec2{-0.42f * hx, 0}, lid + ImVec2{0.42f * hx, 0}, std::max(0.04f * s, 0.7f), score);
  paint.line(lid + ImVec2{-0.12f * hx, -0.11f * s}, lid + ImVec2{0.12f * hx, 0.10f * s}, std::max(0.04f * s, 0.7f), score);
}

}  // namespace tiepoint
