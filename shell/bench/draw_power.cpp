// Batteries other than the AA pack, the solar panel, and the glass fuse that guards them.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

// How much charge is left, as a row of small lamps on the label.
void charge_marks(Paint& paint, const Frame& f, float x, float y, double charge, ImU32 on) {
  for (int i = 0; i < 5; ++i) {
    const bool full = charge * 5 > double(i) + 0.25;
    paint.fill(f.box(x + 0.30f * float(i), y - 0.17f, x + 0.30f * float(i) + 0.22f, y + 0.17f, 0.05f), full ? on : theme::fade(on, 0.25f));
  }
}

double charge_left(const Part& part, const PartLook& look) {
  return look.reading && has_reading(look.reading->charge) ? look.reading->charge : value_of(part, "charge", 1);
}

}  // namespace

void draw_block_battery(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hy = 1.98f;
  paint.shadow(Box{f.at(-4.1f, -hy), f.at(3.0f, hy)}, 0.3f * s, 0.55f * s, {0, 0.26f * s}, 0.6f);
  // Lying down: a dark body, its copper-coloured end, the two snaps under their clip at the right.
  const ImU32 dark = rgb(0x25282C), copper = rgb(theme::kBlockTop), steel = rgb(theme::kSteel);
  static constexpr Across kTin[] = {{-1, -0.42f}, {-0.9f, 0.05f}, {-0.7f, 0.30f}, {-0.5f, 0.12f}, {0.6f, 0.0f}, {0.92f, -0.16f}, {1, -0.48f}};
  const Station can[] = {{f.at(-4.1f, 0), 0.93f * hy * s, copper}, {f.at(-3.98f, 0), hy * s, copper}, {f.at(-1.9f, 0), hy * s, copper}, {f.at(-1.899f, 0), hy * s, dark},
                         {f.at(2.35f, 0), hy * s, dark}, {f.at(2.351f, 0), hy * s, steel}, {f.at(2.56f, 0), 0.95f * hy * s, steel}};
  paint.body(can, kTin);
  block(paint, f, 2.5f, -1.6f, 3.05f, 1.6f, 0.12f, rgb(0x1B1E21));
  for (float y : {-0.82f, 0.82f}) {
    const bool plus = y < 0;
    const Station snap[] = {{f.at(3.0f, y), (plus ? 0.40f : 0.52f) * s, steel}, {f.at(3.42f, y), (plus ? 0.40f : 0.56f) * s, steel}};
    paint.body(snap, kTin);
  }
  block(paint, f, 3.34f, -1.55f, 4.0f, 1.55f, 0.26f, rgb(0x2B2F33));
  letter(paint, f, 0.2f, look.in_box ? 0 : -0.55f, 1.25f, 3.4f, rgb(0xF6F1E5), "9 V");
  letter(paint, f, 1.9f, -1.30f, 0.6f, 0.7f, rgb(0xFFB9A6), "+");
  letter(paint, f, 1.9f, 1.30f, 0.6f, 0.7f, rgb(0xBFD3EA), "−");
  if (look.in_box) return;
  letter(paint, f, -3.0f, 0, 0.56f, 1.9f, rgb(0x3A1A0A), part.name);
  charge_marks(paint, f, -0.5f, 0.72f, charge_left(part, look), rgb(theme::kJoinLight));
}

void draw_coin_cell(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const ImVec2 m = f.at(-0.3f, 0);
  paint.shadow(m, {2.1f * s, 2.1f * s}, 0.5f * s, {1, 0}, 0.5f * s, 0.55f);
  // A holder with a spring clip, the cell lying in it plus side up.
  block(paint, f, -2.35f, -1.5f, 2.2f, 1.5f, 0.4f, rgb(theme::kHolder));
  paint.fill(circle(m, 2.08f * s), {m - ImVec2{0, 2.1f * s}, m + ImVec2{0, 2.1f * s}, {{0, rgb(0x4A5156)}, {1, rgb(0x15181A)}}});
  const ImU32 steel = rgb(0xC4CACD);
  const float r = 1.92f * s;
  paint.fill(circle(m, r), {m - ImVec2{0.6f * r, r}, m + ImVec2{0.6f * r, r}, {{0, shade(steel, 0.6f)}, {0.35f, shade(steel, 0.1f)}, {0.55f, shade(steel, 0.35f)}, {1, shade(steel, -0.32f)}}});
  paint.stroke(circle(m, 0.93f * r), std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kBlack), 0.22f));
  paint.stroke(circle(m, 0.90f * r), std::max(0.04f * s, 0.7f), theme::fade(rgb(theme::kWhite), 0.5f));
  const ImU32 ink = rgb(0x50585C);
  paint.text(m + ImVec2{0, -0.95f * s}, 0.5f, 1.0f * s, ink, "+", Weight::kStrong);
  fitted(paint, m + ImVec2{0, -0.12f * s}, 0.5f, 0.62f * s, 3.0f * s, ink, "CR2032", Weight::kStrong);
  fitted(paint, m + ImVec2{0, 0.56f * s}, 0.5f, 0.50f * s, 2.0f * s, ink, "3 V", Weight::kStrong);
  if (!look.in_box) charge_marks(paint, Frame(m, {1, 0}, s), -0.72f, 1.16f, charge_left(part, look), rgb(theme::kAccent));
  const Outline clip = f.box(1.05f, -0.42f, 2.1f, 0.42f, 0.12f);
  paint.fill(clip, downwards(clip, {{0, shade(rgb(theme::kBrass), 0.4f)}, {1, rgb(theme::kBrassDark)}}));
}

void draw_solar(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s - 0.15f, hy = pose.half.y / s;
  paint.shadow(Box{f.at(-hx, -hy), f.at(hx, hy)}, 0.2f * s, 0.55f * s, {0, 0.26f * s}, 0.55f);
  block(paint, f, -hx, -hy, hx, hy, 0.18f, rgb(0xC3C9CC));
  // As many cells as it has, in two rows when there are many; silver fingers on dark blue.
  const std::string_view word = option_of(part, "solar-cells");
  int cells = 0;
  for (char c : word)
    if (c >= '0' && c <= '9') cells = cells * 10 + (c - '0');
  cells = std::max(cells, 1);
  const int rows = cells >= 4 ? 2 : 1, columns = cells / rows;
  const float x0 = -hx + 0.28f, y0 = -hy + 0.28f, w = (2 * hx - 0.56f) / float(columns), h = (2 * hy - 0.56f) / float(rows);
  const float sun = std::clamp(float(value_of(part, "irradiance", 500) / 1000), 0.0f, 1.2f);
  const ImU32 blue = theme::mix(shade(rgb(theme::kSolar), -0.35f), rgb(0x2B4794), std::min(sun, 1.0f));
  for (int i = 0; i < rows * columns; ++i) {
    const float x = x0 + w * float(i % columns), y = y0 + h * float(i / columns);
    const Outline cell = f.box(x + 0.05f, y + 0.05f, x + w - 0.05f, y + h - 0.05f, 0.10f);
    paint.fill(cell, {f.at(x, y), f.at(x + w, y + h), {{0, shade(blue, 0.22f)}, {0.5f, blue}, {1, shade(blue, -0.22f)}}});
    const int fingers = std::clamp(int(w / 0.42f), 2, 8);
    for (int k = 1; k < fingers; ++k) {
      const float fx = x + w * float(k) / float(fingers);
      paint.line(f.at(fx, y + 0.1f), f.at(fx, y + h - 0.1f), std::max(0.03f * s, 0.5f), rgb(theme::kSolarLine, 0.45f));
    }
    paint.line(f.at(x + 0.08f, y + h / 2), f.at(x + w - 0.08f, y + h / 2), std::max(0.10f * s, 0.9f), rgb(theme::kSolarLine, 0.9f));
  }
  // Sun on glass.
  if (sun > 0.02f) paint.fill(polygon({f.at(-hx + 0.2f, -hy + 0.2f), f.at(hx * 0.25f, -hy + 0.2f), f.at(-hx * 0.35f, hy - 0.2f), f.at(-hx + 0.2f, hy - 0.2f)}), rgb(theme::kWhite, 0.10f * std::min(sun, 1.0f)));
  if (look.in_box) return;
  const float em = 0.46f * s, width = paint.text_width(em, part.name, Weight::kStrong) / 2 + 0.18f * s;
  const ImVec2 at = f.at(-hx, hy) + ImVec2{width + 0.34f * s, -0.62f * s};
  paint.fill(rounded(at, {width, 0.32f * s}, 0.1f * s), rgb(0xF6F1E5, 0.92f));
  paint.text(at, 0.5f, em, rgb(theme::kCaseText), part.name, Weight::kStrong);
}

void draw_fuse(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, r = 0.80f;
  const bool melted = look.reading && look.reading->state == State::kMelted;
  if (!look.in_box) {
    const ImVec2 course[] = {pose.lead[0], pose.lead[1]};
    paint.path_shadow(course, 0.06f * s, 0.10f * s, {0, 0.14f * s}, 0.30f);
    paint.shadow(pose.centre + ImVec2{0, 0.2f * s}, {hx * s, r * s}, r * 0.6f * s, pose.axis, 0.28f * s, 0.42f);
  }
  legs(paint, pose, look, 0.16f);
  // Glass between two nickel caps; the wire in it, or what is left of it.
  const Outline glass = f.box(-hx + 0.6f, -r * 0.9f, hx - 0.6f, r * 0.9f, 0.1f);
  const ImU32 tint = melted ? rgb(0x6E6A5E) : rgb(theme::kGlassTint);
  paint.fill(glass, {f.at(0, -r), f.at(0, r), {{0, theme::fade(shade(tint, 0.5f), 0.75f)}, {0.28f, theme::fade(shade(tint, 0.3f), 0.42f)}, {0.75f, theme::fade(tint, 0.45f)}, {1, theme::fade(shade(tint, -0.3f), 0.7f)}}});
  const float w = std::max(0.08f * s, 1.0f);
  const ImU32 wire = rgb(0x6A7276);
  if (melted) {
    const Fill::Stop soot[] = {{0, rgb(0x1A1713, 0.75f)}, {0.6f, rgb(0x1A1713, 0.35f)}, {1, rgb(0x1A1713, 0)}};
    paint.glow(f.at(0, 0), 1.5f * s, 0.62f * s, soot);
    const ImVec2 left[] = {f.at(-hx + 0.6f, 0), f.at(-1.2f, 0.02f), f.at(-0.8f, 0.16f)}, right[] = {f.at(hx - 0.6f, 0), f.at(1.1f, -0.02f), f.at(0.7f, 0.18f)};
    paint.path(left, w, wire), paint.path(right, w, wire);
    paint.fill(circle(f.at(-0.8f, 0.16f), 0.13f * s), wire), paint.fill(circle(f.at(0.7f, 0.18f), 0.12f * s), wire);
  } else {
    paint.line(f.at(-hx + 0.6f, 0), f.at(hx - 0.6f, 0), w, wire);
  }
  paint.line(f.at(-hx + 1.2f, -r * 0.52f), f.at(hx - 1.2f, -r * 0.52f), std::max(0.10f * s, 1.0f), theme::fade(rgb(theme::kWhite), 0.75f));
  static constexpr Across kNickel[] = {{-1, -0.44f}, {-0.75f, 0.0f}, {-0.45f, 0.5f}, {-0.2f, 0.26f}, {0.3f, -0.05f}, {0.8f, -0.2f}, {1, -0.5f}};
  for (float e : {-1.0f, 1.0f}) {
    const ImU32 nickel = rgb(theme::kSteel);
    const Station cap[] = {{f.at(e * hx, 0), 0.86f * r * s, nickel}, {f.at(e * (hx - 0.12f), 0), r * s, nickel}, {f.at(e * (hx - 1.25f), 0), r * s, nickel}};
    const Station turned[] = {cap[2], cap[1], cap[0]};
    paint.body(e < 0 ? std::span<const Station>(cap) : std::span<const Station>(turned), kNickel);
  }
  letter(paint, f, -hx + 0.64f, 0, 0.38f, 1.1f, rgb(0x2E3538), option_of(part, "fuse-rating"));
  if (!look.in_box) letter(paint, f, hx - 0.64f, 0, 0.38f, 1.1f, rgb(0x2E3538), part.name);
}

}  // namespace tiepoint::kit
