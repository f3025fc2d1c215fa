// Transistors and regulators before their row of legs: the flat face with its print towards the reader.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

// One letter for each leg, as a data sheet's picture has it; "" when the name is more than a word's initial.
std::string_view leg_letter(std::string_view name) {
  static constexpr std::string_view kWords[][2] = {{"emitter", "E"}, {"base", "B"}, {"collector", "C"}, {"gate", "G"}, {"drain", "D"}, {"source", "S"}};
  for (const auto& [word, initial] : kWords)
    if (word == name) return initial;
  return {};
}

void leg_letters(Paint& paint, const Frame& f, const Part& part, const Pose& pose, const PartLook& look, float y, ImU32 ink) {
  if (look.in_box || f.s < 22) return;
  for (int i = 0; i < pose.count; ++i) {
    const std::string_view word = leg_letter(part.kind->leads[size_t(i)].name);
    const float x = dot(pose.root[i] - f.origin, f.u) / f.s;
    if (!word.empty()) letter(paint, f, x, y, 0.28f, 0.5f, ink, word);
  }
}

}  // namespace

void draw_to92(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float hx = pose.half.x / f.s, hy = pose.half.y / f.s;
  cast_shadow(paint, pose, look, 0.2f);
  legs(paint, pose, look, 0.15f);
  const ImU32 c = rgb(theme::kMould);
  // The round back shows above the flat face as a darker crown.
  Outline back;
  const float top = -hy + 0.26f;
  back.arc(f.at(0, top), hx * f.s, 0.30f * f.s, -kPi, 0);
  if (f.u.x < 0.5f) back = f.box(-hx, -hy, hx, top + 0.2f, 0.14f);
  paint.fill(back, shade(c, 0.16f));
  const Outline body = f.box(-hx, top - 0.05f, hx, hy, 0.10f);
  paint.fill(body, downwards(body, {{0, shade(c, -0.05f)}, {1, shade(c, -0.45f)}}));
  const Outline face = f.box(-hx + 0.10f, top + 0.02f, hx - 0.10f, hy - 0.07f, 0.06f);
  paint.fill(face, downwards(face, {{0, shade(c, 0.22f)}, {0.3f, shade(c, 0.12f)}, {1, shade(c, 0.02f)}}));
  const std::string print = type_print(part);
  const ImU32 ink = rgb(theme::kMouldText);
  if (print.size() > 4) {
    // Makers break a long type over two lines.
    const size_t cut = print.starts_with("2N") ? 2 : print.starts_with("BC") || print.starts_with("BS") ? 2 : 3;
    letter(paint, f, 0, -0.07f - 0.19f * f.next_line(), 0.40f, 1.5f, ink, std::string_view(print).substr(0, cut));
    letter(paint, f, 0, -0.07f + 0.19f * f.next_line(), 0.46f, 1.55f, ink, std::string_view(print).substr(cut));
  } else {
    letter(paint, f, 0, 0.02f, 0.52f, 1.55f, ink, print);
  }
  leg_letters(paint, f, part, pose, look, hy - 0.21f, theme::fade(rgb(theme::kSelect), 0.95f));
}

void draw_to18(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, r = 0.80f;
  if (!look.in_box) cast_shadow(paint, f.at(0, 0), {r * s, r * s}, r * s, f.u, s);
  legs(paint, pose, look, 0.13f);
  // A metal cap on its flange, the tab beside the emitter.
  const ImU32 steel = rgb(theme::kSteel);
  const ImVec2 m = f.origin, tab = unit(f.u * -0.72f + f.v * 0.62f);
  paint.fill(rounded(m + tab * (0.92f * s), {0.22f * s, 0.15f * s}, 0.04f * s, tab), shade(steel, -0.14f));
  paint.fill(circle(m, 0.84f * s), {m - ImVec2{0.3f * s, 0.8f * s}, m + ImVec2{0.3f * s, 0.8f * s}, {{0, shade(steel, 0.42f)}, {0.5f, steel}, {1, shade(steel, -0.42f)}}});
  paint.fill(circle(m, 0.70f * s), {m - ImVec2{0.3f * s, 0.7f * s}, m + ImVec2{0.3f * s, 0.7f * s}, {{0, shade(steel, -0.30f)}, {1, shade(steel, 0.10f)}}});
  const Fill cap = {m - ImVec2{0.5f * s, 0.6f * s}, m + ImVec2{0.5f * s, 0.6f * s}, {{0, shade(steel, 0.62f)}, {0.4f, shade(steel, 0.24f)}, {0.6f, shade(steel, 0.02f)}, {1, shade(steel, -0.18f)}}};
  paint.fill(circle(m, 0.63f * s), cap);
  letter(paint, f, 0, -0.02f, 0.34f, 1.12f, rgb(0x2C3235), type_print(part));
}

void draw_to220(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.12f);
  legs(paint, pose, look, 0.22f);
  // The shoulders of the legs.
  for (int i = 0; i < pose.count; ++i) paint.line(pose.root[i], lerp(pose.root[i], pose.lead[i], 0.45f), 0.36f * s, rgb(theme::kLead));
  const ImU32 steel = rgb(theme::kSteel), c = rgb(theme::kMould);
  const float shoulder = -hy + 1.28f;
  const Outline tab = f.box(-hx, -hy, hx, shoulder + 0.3f, 0.12f);
  paint.fill(tab, downwards(tab, {{0, shade(steel, 0.5f)}, {0.2f, shade(steel, 0.2f)}, {0.7f, steel}, {1, shade(steel, -0.22f)}}));
  paint.stroke(f.box(-hx + 0.05f, -hy + 0.05f, hx - 0.05f, shoulder + 0.25f, 0.09f), std::max(0.03f * s, 0.6f), theme::fade(rgb(theme::kWhite), 0.4f));
  const ImVec2 hole = f.at(0, -hy + 0.62f);
  paint.fill(circle(hole, 0.42f * s), shade(steel, -0.30f));
  paint.fill(circle(hole, 0.37f * s), {hole - ImVec2{0, 0.37f * s}, hole + ImVec2{0, 0.37f * s}, {{0, rgb(0x3B4145)}, {1, rgb(0x8E979B)}}});
  block(paint, f, -hx, shoulder, hx, hy, 0.08f, c);
  const ImU32 ink = rgb(theme::kMouldText);
  const float line = look.in_box ? 0.0f : 0.28f * f.next_line();
  letter(paint, f, 0, shoulder + 0.88f - line, look.in_box ? 0.8f : 0.62f, 3.3f, ink, type_print(part));
  if (!look.in_box) letter(paint, f, 0, shoulder + 0.90f + line * 1.05f, 0.42f, 2.4f, theme::fade(ink, 0.7f), part.name);
  leg_letters(paint, f, part, pose, look, hy - 0.24f, theme::fade(rgb(theme::kSelect), 0.95f));
}

}  // namespace tiepoint::kit
