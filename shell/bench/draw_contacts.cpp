// Switches that stay as they are put, and contacts worked by something else than a finger. All are drawn in the position they have.
#include <algorithm>
#include <cmath>

#include "engine/parts/contacts.h"
#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {

void draw_toggle_switch(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  lugs(paint, f, pose, hy - 0.04f);
  cast_shadow(paint, pose, look, 0.14f);
  block(paint, f, -hx, -hy, hx, hy, 0.14f, rgb(0x7E2F2A));
  // Steel cover, threaded bush, and the bat lever tipped to the side that is joined to the middle.
  const ImU32 steel = rgb(theme::kSteel);
  const Outline cover = f.box(-1.95f, -0.95f, 1.95f, 0.95f, 0.08f);
  paint.fill(cover, downwards(cover, {{0, shade(steel, 0.42f)}, {0.3f, shade(steel, 0.1f)}, {1, shade(steel, -0.28f)}}));
  const ImVec2 m = f.at(0, 0);
  paint.fill(circle(m, 0.86f * s), shade(steel, -0.45f));
  for (int i = 0; i < 2; ++i) {
    const float r = (0.80f - 0.20f * float(i)) * s;
    paint.fill(circle(m, r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(steel, i ? -0.2f : 0.5f)}, {0.5f, shade(steel, i ? -0.05f : 0.05f)}, {1, shade(steel, i ? 0.25f : -0.35f)}}});
  }
  paint.fill(circle(m, 0.40f * s), rgb(0x1A1D1F));
  const float side = is_on(part) ? 1.0f : -1.0f;
  const ImVec2 tip = f.at(side * 1.72f, 0);
  const ImVec2 course[] = {m, tip};
  if (!look.in_box) paint.path_shadow(course, 0.26f * s, 0.22f * s, {0, 0.32f * s}, 0.5f);
  static constexpr Across kChrome[] = {{-1, -0.35f}, {-0.6f, 0.5f}, {-0.35f, 0.65f}, {0, 0.12f}, {0.4f, -0.25f}, {0.75f, -0.05f}, {1, -0.5f}};
  const ImU32 bright = rgb(0xC7CDD0);
  const auto x = [&](float t) { return lerp(m, tip, t); };
  const Station lever[] = {{x(0), 0.18f * s, bright}, {x(0.5f), 0.22f * s, bright}, {x(0.85f), 0.33f * s, bright}, {x(1.0f), 0.35f * s, bright}, {x(1.10f), 0.30f * s, bright}, {x(1.17f), 0.16f * s, bright}};
  paint.body(lever, kChrome);
  if (!look.in_box) letter(paint, f, -side * 1.36f, -0.02f, 0.38f, 0.9f, rgb(0x2E3538), part.name);
}

void draw_dip_switch(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.1f);
  block(paint, f, -hx, -hy, hx, hy, 0.12f, rgb(theme::kDipRed));
  const int n = int(part.values.size());
  const ImU32 white = rgb(0xFBF6EE);
  for (int i = 0; i < n; ++i) {
    const float x = float(i) - float(n - 1) / 2;
    const bool on = part.values[size_t(i)] > 0.5;
    const Outline slot = f.box(x - 0.30f, -0.86f, x + 0.30f, 0.86f, 0.06f);
    paint.fill(slot, downwards(slot, {{0, rgb(0x3A100D)}, {1, rgb(0x5E1F1A)}}));
    // The slider away from the numbers is on: the contacts of this column are joined.
    const float y = on ? -0.42f : 0.42f;
    const Outline cap = f.box(x - 0.25f, y - 0.37f, x + 0.25f, y + 0.37f, 0.05f);
    if (!look.in_box) paint.shadow(f.at(x, y) + ImVec2{0, 0.06f * s}, {0.25f * s, 0.37f * s}, 0.05f * s, f.u, 0.1f * s, 0.5f);
    paint.fill(cap, downwards(cap, {{0, rgb(0xFFFFFF)}, {0.7f, rgb(0xE7E3D8)}, {1, rgb(0xB9B3A4)}}));
    paint.line(f.at(x - 0.16f, y), f.at(x + 0.16f, y), std::max(0.05f * s, 0.8f), rgb(0x8F897B));
    letter(paint, f, x, 1.32f, 0.52f, 0.6f, white, std::to_string(i + 1));
  }
  letter(paint, f, -hx + 0.62f, -1.34f, 0.50f, 1.0f, white, "ON");
  if (!look.in_box) letter(paint, f, hx - 0.72f, -1.34f, 0.44f, 1.3f, theme::fade(white, 0.85f), part.name);
}

void draw_rotary(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  lugs(paint, f, pose, hy - 0.04f);
  cast_shadow(paint, pose, look, 0.3f);
  block(paint, f, -hx, -hy, hx, hy, 0.34f, rgb(0x3E464C));
  Dial dials[kMostDials];
  if (dials_of(part, pose, dials) < 1) return;
  const Dial& d = dials[0];
  const ImU32 ink = rgb(0xE8ECEC);
  const int chosen = int(part.values[size_t(d.value)] + 0.5);
  for (int i = 0; i < 5; ++i) {
    const float a = d.from + (d.to - d.from) * float(i) / 4;
    // Numbers stand beside the knob, where there is room: an ellipse around it.
    const ImVec2 way = f.u * (std::sin(a) * 1.52f) - f.v * (std::cos(a) * 1.22f);
    const ImVec2 inner = f.u * (std::sin(a) * 1.20f) - f.v * (std::cos(a) * 1.16f);
    const ImVec2 at = d.centre + way * (1.0f * s) + f.u * (std::sin(a) * 0.30f * s);
    paint.line(d.centre + inner * (0.92f * s), d.centre + inner * (1.06f * s), std::max(0.06f * s, 0.9f), ink);
    const float em = 0.42f * s;
    if (em > 5 && std::fabs(std::sin(a)) > 0.3f) paint.text(at, 0.5f, em, i == chosen ? rgb(theme::kSelect) : ink, std::to_string(i + 1), Weight::kStrong);
  }
  knob(paint, f, d, rgb(theme::kKnobDark));
  if (!look.in_box) letter(paint, f, -hx + 0.75f, hy - 0.40f, 0.40f, 1.3f, theme::fade(ink, 0.85f), part.name);
  letter(paint, f, hx - 0.62f, hy - 0.40f, 0.46f, 1.0f, rgb(theme::kSelect), std::to_string(chosen + 1));
}

void draw_tilt(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, hy = pose.half.y / s, hx = pose.half.x / s;
  // The can leans about its foot by its own angle; the ball inside rolls away from the pins.
  const float tilt = float(value_of(part, "tilt")) * kPi / 180;
  const ImVec2 foot = pose.centre + ImVec2{0, pose.half.y};
  const ImVec2 up = {std::sin(tilt), -std::cos(tilt)};
  const Frame f(foot + up * (hy * s), {-up.y, up.x}, s);
  if (!look.in_box) paint.shadow(f.origin + ImVec2{0.06f * s, 0.2f * s}, pose.half * 0.92f, 0.4f * s, f.u, 0.34f * s, 0.42f);
  legs(paint, pose, look, 0.12f);
  const ImU32 brass = rgb(theme::kBrass);
  const Outline can = f.box(-hx, -hy, hx, hy, 0.16f);
  paint.fill(can, barrel(f, -hx, hx, brass));
  const Outline cap = f.box(-hx - 0.05f, hy - 0.34f, hx + 0.05f, hy, 0.08f);
  paint.fill(cap, barrel(f, -hx - 0.05f, hx + 0.05f, rgb(0x33383B)));
  // A window is drawn into the can so that one sees the ball.
  paint.fill(f.box(-0.40f, -hy + 0.34f, 0.40f, hy - 0.44f, 0.18f), rgb(0x2A210E, 0.92f));
  const bool closed = tilt < kPi / 4;
  const ImVec2 ball = f.at(closed ? 0 : 0.06f, closed ? hy - 0.76f : -hy + 0.64f);
  const float r = 0.30f * s;
  paint.fill(circle(ball, r), {ball - ImVec2{0.5f * r, r}, ball + ImVec2{0.5f * r, r}, {{0, rgb(0xFFFFFF)}, {0.4f, rgb(0xC2C8CB)}, {1, rgb(0x565E62)}}});
  for (float e : {-0.18f, 0.18f}) paint.line(f.at(e, hy - 0.32f), f.at(e, hy - 0.48f), std::max(0.07f * s, 0.8f), rgb(theme::kLeadLight));
}

void draw_reed(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  if (!look.in_box) {
    const ImVec2 course[] = {pose.lead[0], pose.lead[1]};
    paint.path_shadow(course, 0.05f * s, 0.10f * s, {0, 0.14f * s}, 0.30f);
    paint.shadow(pose.centre + ImVec2{0, 0.18f * s}, pose.half, pose.half.y * 0.8f, pose.axis, 0.24f * s, 0.36f);
  }
  legs(paint, pose, look, 0.13f);
  const double distance = value_of(part, "magnet", 0.05);
  // Between the two distances it stays as it was, and only its reading knows.
  const bool closed =
      look.reading ? look.reading->state != State::kOpen && look.reading->state != State::kUnknown : distance <= kReedPullIn;
  // Two springs from either end, overlapping in the middle; the gap shows when they do not touch.
  const float gap = closed ? 0.06f : 0.17f;
  const ImU32 spring = rgb(0x454D50);
  paint.fill(f.box(-hx, -hy, hx, hy, hy), downwards(f.box(-hx, -hy, hx, hy, hy), {{0, rgb(0xF4FAFA, 0.75f)}, {0.3f, rgb(0xE6F1F1, 0.60f)}, {0.8f, rgb(theme::kGlassTint, 0.60f)}, {1, rgb(0x6E9298, 0.75f)}}));
  const float w = std::max(0.13f * s, 1.2f);
  const ImVec2 left[] = {f.at(-hx - 0.1f, 0), f.at(-0.9f, 0), f.at(0.45f, -gap)}, right[] = {f.at(hx + 0.1f, 0), f.at(0.9f, 0), f.at(-0.45f, gap)};
  paint.path(left, w, spring), paint.path(right, w, spring);
  for (const ImVec2& p : {f.at(0.35f, -gap), f.at(-0.35f, gap)}) paint.fill(circle(p, 0.07f * s), rgb(theme::kBrass));
  for (float e : {-1.0f, 1.0f}) paint.fill(circle(f.at(e * (hx - 0.16f), 0), 0.20f * s), rgb(0x7FA3A8, 0.8f));
  paint.line(f.at(-hx + 0.4f, -hy * 0.55f), f.at(hx - 0.4f, -hy * 0.55f), std::max(0.07f * s, 0.8f), theme::fade(rgb(theme::kWhite), 0.75f));
  if (look.in_box) return;
  // The bar magnet, as far away as the knob says: 2.54 mm to a hole step, drawn no farther than 5 steps.
  const float away = 1.0f + std::min(float(distance / 0.00254), 4.0f);
  const Frame g(f.at(0, -away), f.u, s);
  paint.shadow(g.origin + ImVec2{0, 0.2f * s}, {1.6f * s, 0.42f * s}, 0.06f * s, g.u, 0.3f * s, 0.5f);
  block(paint, g, -1.6f, -0.42f, 0.02f, 0.42f, 0.07f, rgb(theme::kMagnetNorth));
  block(paint, g, -0.02f, -0.42f, 1.6f, 0.42f, 0.07f, rgb(theme::kMagnetSouth));
  letter(paint, g, -0.8f, 0, 0.56f, 1, rgb(theme::kWhite), "N");
  letter(paint, g, 0.8f, 0, 0.56f, 1, rgb(theme::kWhite), "S");
}

void draw_limit(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  const bool down = is_on(part);
  lugs(paint, f, pose, hy - 0.02f);
  const float top = -hy + 0.55f;
  cast_shadow(paint, pose, look, 0.14f);
  // Plunger, then the case, then the lever hinged at the left end.
  const float rise = down ? 0.06f : 0.30f;
  block(paint, f, 0.9f, top - rise, 1.5f, top + 0.3f, 0.08f, rgb(theme::kDipRed));
  block(paint, f, -hx, top, hx, hy, 0.16f, rgb(theme::kMould));
  for (float e : {-1.0f, 1.0f}) {
    const ImVec2 hole = f.at(e * (hx - 0.62f), hy - 0.62f);
    paint.fill(circle(hole, 0.30f * s), rgb(0x101315));
    paint.fill(circle(hole, 0.22f * s), rgb(0x565D60));
  }
  const ImVec2 hinge = f.at(-hx + 0.5f, top - 0.06f), tip = f.at(hx - 0.1f, top - (down ? 0.16f : 0.86f));
  const ImVec2 course[] = {hinge, tip};
  if (!look.in_box) paint.path_shadow(course, 0.08f * s, 0.14f * s, {0, 0.2f * s}, 0.4f);
  paint.line(hinge, tip, std::max(0.20f * s, 1.6f), rgb(theme::kLeadDark));
  paint.line(hinge - f.v * (0.03f * s), tip - f.v * (0.03f * s), std::max(0.11f * s, 1.0f), rgb(theme::kLeadLight));
  const float r = 0.34f * s;
  paint.fill(circle(tip, r), {tip - ImVec2{0.4f * r, r}, tip + ImVec2{0.4f * r, r}, {{0, rgb(0xFFFFFF)}, {0.5f, rgb(theme::kNylon)}, {1, rgb(0x9C978B)}}});
  paint.fill(circle(tip, 0.10f * s), rgb(0x4C5153));
  const ImU32 ink = rgb(theme::kMouldText);
  if (!look.in_box) letter(paint, f, 0, 0.24f, 0.44f, 2.0f, ink, part.name);
  static constexpr std::string_view kMarks[] = {"C", "NO", "NC"};
  for (int i = 0; i < pose.count && i < 3; ++i) letter(paint, f, dot(pose.lead[i] - f.origin, f.u) / s, hy - 0.36f, 0.38f, 0.9f, theme::fade(ink, 0.85f), kMarks[i]);
}

}  // namespace tiepoint::kit
