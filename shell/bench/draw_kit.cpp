#include "shell/bench/draw_kit.h"

#include <algorithm>
#include <cmath>

namespace tiepoint::kit {

Fill downwards(const Outline& outline, std::initializer_list<Fill::Stop> stops) {
  float top = outline.p[0].y, bottom = top;
  for (int i = 1; i < outline.n; ++i) top = std::min(top, outline.p[i].y), bottom = std::max(bottom, outline.p[i].y);
  return {{0, top}, {0, bottom}, stops};
}

Fill satin(const Outline& outline, ImU32 c) { return downwards(outline, {{0, shade(c, 0.20f)}, {0.18f, shade(c, 0.07f)}, {0.75f, shade(c, -0.05f)}, {1, shade(c, -0.24f)}}); }

Fill barrel(const Frame& f, float x0, float x1, ImU32 c) {
  return {f.at(x0, 0), f.at(x1, 0), {{0, shade(c, -0.38f)}, {0.2f, shade(c, 0.08f)}, {0.38f, shade(c, 0.32f)}, {0.7f, shade(c, -0.06f)}, {1, shade(c, -0.46f)}}};
}

void cast_shadow(Paint& paint, ImVec2 centre, ImVec2 half, float radius, ImVec2 axis, float s) {
  paint.shadow(centre + ImVec2{0, 0.22f * s}, half, radius, axis, 0.32f * s, 0.50f);
  paint.shadow(centre + ImVec2{0, 0.06f * s}, half, radius, axis, 0.10f * s, 0.35f);
}

void cast_shadow(Paint& paint, const Pose& pose, const PartLook& look, float radius) {
  if (!look.in_box) cast_shadow(paint, pose.centre, pose.half, radius * pose.scale, pose.axis, pose.scale);
}

void block(Paint& paint, const Frame& f, float x0, float y0, float x1, float y1, float radius, ImU32 colour) {
  const Outline outer = f.box(x0, y0, x1, y1, radius);
  paint.fill(outer, downwards(outer, {{0, shade(colour, 0.10f)}, {0.5f, shade(colour, -0.10f)}, {1, shade(colour, -0.42f)}}));
  const float rim = 0.07f;
  const Outline face = f.box(x0 + rim, y0 + rim, x1 - rim, y1 - rim, std::max(radius - rim, 0.02f));
  paint.fill(face, satin(face, colour));
  paint.stroke(face, std::max(0.03f * f.s, 0.6f), theme::fade(rgb(theme::kWhite), 0.10f));
}

void sheen(Paint& paint, ImVec2 centre, float rx, float ry, float strength) {
  const ImU32 white = rgb(theme::kWhite);
  const Fill::Stop stops[] = {{0, theme::fade(white, strength)}, {0.5f, theme::fade(white, strength * 0.35f)}, {1, theme::fade(white, 0)}};
  paint.glow(centre, rx, ry, stops);
}

void legs(Paint& paint, const Pose& pose, const PartLook& look, float width) {
  const float s = pose.scale;
  for (int i = 0; i < pose.count; ++i) {
    if (!look.in_box) {
      const ImVec2 course[] = {pose.root[i], pose.lead[i]};
      paint.path_shadow(course, 0.04f * s, 0.08f * s, {0.05f * s, 0.10f * s}, 0.28f);
      draw_entry(paint, pose.lead[i], s);
    }
    draw_leg(paint, pose.root[i], pose.lead[i], width * s);
  }
}

void lugs(Paint& paint, const Frame& f, const Pose& pose, float edge) {
  for (int i = 0; i < pose.count; ++i) {
    const float x = dot(pose.lead[i] - f.origin, f.u) / f.s;
    draw_leg(paint, f.at(x, edge - 0.3f), f.at(x, edge + 0.20f), 0.30f * f.s);
    paint.fill(circle(f.at(x, edge + 0.12f), 0.06f * f.s), theme::fade(rgb(theme::kBlack), 0.55f));
  }
}

void screw(Paint& paint, ImVec2 c, float r, float angle) {
  const ImU32 steel = rgb(theme::kSteel);
  paint.fill(circle(c, r), {c - ImVec2{0.4f * r, r}, c + ImVec2{0.4f * r, r}, {{0, shade(steel, 0.45f)}, {0.5f, steel}, {1, shade(steel, -0.35f)}}});
  const ImVec2 d = ImVec2{std::sin(angle), -std::cos(angle)} * (r * 0.72f);
  paint.line(c - d, c + d, std::max(0.26f * r, 1.0f), rgb(0x2A2E31));
}

void knob(Paint& paint, const Frame& f, const Dial& dial, ImU32 colour) {
  const float r = dial.radius;
  const ImVec2 c = dial.centre;
  paint.shadow(c + ImVec2{0, 0.16f * r}, {r * 0.94f, r * 0.94f}, r * 0.94f, {1, 0}, 0.24f * r, 0.6f);
  // Skirt with its grip, then the cap.
  paint.fill(circle(c, r), {c - ImVec2{0.3f * r, r}, c + ImVec2{0.3f * r, r}, {{0, shade(colour, 0.14f)}, {0.5f, shade(colour, -0.22f)}, {1, shade(colour, -0.5f)}}});
  const ImVec2 up = f.v * -1.0f;
  const auto way = [&](float a) { return up * std::cos(a) + f.u * std::sin(a); };
  for (int i = 0; i < 24; ++i) {
    const ImVec2 d = way(dial.angle + kPi * 2 * float(i) / 24);
    paint.line(c + d * (0.86f * r), c + d * (0.97f * r), std::max(0.05f * r, 0.6f), theme::fade(rgb(theme::kBlack), 0.35f));
  }
  paint.fill(circle(c, 0.80f * r), {c - ImVec2{0.35f * r, 0.8f * r}, c + ImVec2{0.35f * r, 0.8f * r}, {{0, shade(colour, 0.36f)}, {0.45f, shade(colour, 0.04f)}, {1, shade(colour, -0.25f)}}});
  const ImVec2 d = way(dial.angle);
  paint.line(c + d * (0.12f * r), c + d * (0.92f * r), std::max(0.15f * r, 1.4f), rgb(0xFBF8F0));
}

void letter(Paint& paint, const Frame& f, float x, float y, float em, float room, ImU32 colour, std::string_view words, Weight weight) {
  em *= f.s;
  const float width = paint.text_width(em, words, weight);
  if (width > room * f.s) em *= room * f.s / width;
  if (em < 4.6f) return;
  if (em > 24 && weight == Weight::kStrong) weight = Weight::kLarge;
  if (std::fabs(f.u.x) > 0.5f) paint.text(f.at(x, y), 0.5f, em, colour, words, weight);
  else paint.text_upright(f.at(x, y), em, colour, words);
}

void fitted(Paint& paint, ImVec2 at, float anchor, float em, float room, ImU32 colour, std::string_view words, Weight weight) {
  const float width = paint.text_width(em, words, weight);
  if (width > room) em *= room / width;
  if (em > 4.5f) paint.text(at, anchor, em, colour, words, weight);
}

std::string type_print(const Part& part) {
  std::string out(part.kind->key);
  if (out == "optocoupler") return "4N25";
  if (out == "hall-sensor") return "HALL";
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = char(c - 'a' + 'A');
  return out;
}

bool sounding(const PartLook& look) { return look.reading && look.reading->state == State::kSounding; }

float shine(double brightness) { return brightness > 0.0005 ? std::clamp(float(std::pow(brightness, 0.42)), 0.0f, 1.25f) : 0.0f; }

void bloom(Paint& paint, ImVec2 centre, float reach, ImU32 light, ImU32 core, float k) {
  if (k <= 0) return;
  // Falls off as light on a surface does, about 1 / (1 + (r/r0)^2)^1.5, brought to nothing at the rim.
  Fill::Stop stops[12];
  for (int i = 0; i < 12; ++i) {
    const float r = float(i) / 11, u = r / 0.30f;
    const float fall = i == 11 ? 0.0f : std::max((std::pow(1 + u * u, -1.5f) - 0.024f) / 0.976f, 0.0f);
    stops[i] = {r, theme::fade(theme::mix(light, core, std::max(0.0f, 1 - r * 4.5f) * 0.7f), fall * std::min(0.92f * k, 0.96f))};
  }
  paint.glow(centre, reach, reach, stops);
}

void housing(Paint& paint, const Pose& pose, ImU32 c, float radius) {
  const float s = pose.scale;
  const Box box = {pose.centre - pose.half, pose.centre + pose.half};
  paint.shadow(box, radius, 0.60f * s, {0, 0.26f * s}, 0.60f);
  paint.shadow(box, radius, 0.14f * s, {0, 0.07f * s}, 0.40f);
  paint.fill(rounded({box.min + ImVec2{0, 0.10f * s}, box.max + ImVec2{0, 0.11f * s}}, radius), shade(c, -0.26f));
  paint.fill(rounded(box, radius), {box.min, {box.min.x, box.max.y}, {{0, shade(c, 0.30f)}, {0.06f, shade(c, 0.12f)}, {0.5f, c}, {1, shade(c, -0.07f)}}});
  paint.stroke(rounded(box.grown(-0.05f * s), radius), std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kWhite), 0.25f));
}

void switch_cap(Paint& paint, const Box& box, bool on) {
  const ImVec2 half = box.size() * 0.5f;
  const ImU32 colour = rgb(on ? theme::kSwitchOn : theme::kSwitchOff);
  paint.fill(rounded(box.centre(), half, half.y), {box.min, {box.min.x, box.max.y}, {{0, shade(colour, -0.28f)}, {0.35f, colour}, {1, shade(colour, 0.10f)}}});
  const float r = half.y * 0.80f;
  const ImVec2 cap = {on ? box.max.x - half.y : box.min.x + half.y, box.centre().y};
  paint.shadow(cap + ImVec2{0, 0.12f * r}, {r, r}, r, {1, 0}, 0.35f * r, 0.4f);
  paint.fill(circle(cap, r), {cap - ImVec2{0, r}, cap + ImVec2{0, r}, {{0, rgb(0xFFFFFF)}, {1, rgb(0xDDD9CF)}}});
}

void terminal_post(Paint& paint, ImVec2 at, float s, uint32_t colour) {
  const float r = 0.36f * s;
  const ImU32 c = rgb(colour);
  paint.shadow(at + ImVec2{0, 0.06f * s}, {r, r}, r, {1, 0}, 0.14f * s, 0.4f);
  paint.fill(circle(at, r), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, shade(c, 0.20f)}, {1, shade(c, -0.35f)}}});
  paint.fill(circle(at, r * 0.72f), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, shade(c, -0.25f)}, {1, shade(c, 0.16f)}}});
  paint.fill(circle(at, r * 0.34f), rgb(0x101416));
}

void display(Paint& paint, const Box& glass, bool on, float s) {
  const ImU32 dark = rgb(theme::kDisplay);
  paint.fill(rounded(glass.grown(0.05f * s), 0.22f * s), {glass.min, {glass.min.x, glass.max.y}, {{0, rgb(0xB9B09C)}, {1, rgb(0xFBF6EA)}}});
  paint.fill(rounded(glass, 0.19f * s), {glass.min, glass.max, {{0, shade(dark, 0.10f)}, {0.5f, dark}, {1, shade(dark, -0.25f)}}});
  if (!on) return;
  const Fill::Stop stops[] = {{0, rgb(theme::kDisplayText, 0.14f)}, {0.5f, rgb(theme::kDisplayText, 0.05f)}, {1, rgb(theme::kDisplayText, 0)}};
  paint.clip(glass);
  paint.glow(glass.centre(), glass.size().x * 0.55f, glass.size().y * 0.6f, stops);
  paint.unclip();
}

void mat_name(Paint& paint, const Part& part, const Pose& pose, const PartLook& look, ImVec2 at, ImU32 colour) {
  if (!look.in_box) fitted(paint, at, 0.5f, 0.44f * pose.scale, 2.6f * pose.scale, colour, part.name, Weight::kStrong);
}

}  // namespace tiepoint::kit
