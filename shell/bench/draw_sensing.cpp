// Small bodies on two legs, seen from the front: what senses light, warmth, a push or a bend, and the coil between its leads.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

void foot_shadow(Paint& paint, const Pose& pose, const PartLook& look, float round) {
  if (look.in_box) return;
  const float s = pose.scale;
  paint.shadow(pose.centre + ImVec2{0.06f * s, 0.20f * s}, pose.half * 0.92f, round * s, {1, 0}, 0.34f * s, 0.42f);
}

void run_down(Paint& paint, const Pose& pose, ImU32 c) {
  const float s = pose.scale;
  for (int i = 0; i < 2; ++i) {
    const ImVec2 root = pose.root[i];
    paint.fill(rounded({{root.x - 0.14f * s, root.y - 0.36f * s}, {root.x + 0.14f * s, root.y + 0.16f * s}}, 0.12f * s), shade(c, -0.18f));
  }
}

}  // namespace

void draw_photoresistor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, rx = pose.half.x, ry = pose.half.y;
  foot_shadow(paint, pose, look, 0.8f);
  legs(paint, pose, look, 0.13f);
  const ImVec2 m = pose.centre;
  const ImU32 rim = rgb(0xC8A06A), face = rgb(theme::kPhotoFace);
  // A round ceramic cut flat at both sides.
  const auto slice = [&](float k, ImVec2 shift) {
    Outline out;
    const float cut = std::acos(0.90f);
    out.arc(m + shift, rx * k, ry * k * 1.02f, cut - kPi, -cut);
    out.arc(m + shift, rx * k, ry * k * 1.02f, cut, kPi - cut);
    return out;
  };
  paint.fill(slice(1, {}), downwards(slice(1, {}), {{0, shade(rim, 0.25f)}, {0.5f, rim}, {1, shade(rim, -0.42f)}}));
  paint.fill(slice(0.90f, {}), downwards(slice(0.90f, {}), {{0, shade(face, 0.22f)}, {0.6f, face}, {1, shade(face, -0.14f)}}));
  // Two tinned shores, and the red-brown track that winds between them.
  for (float e : {-1.0f, 1.0f}) paint.fill(circle(m + ImVec2{e * 0.66f * rx, 0}, 0.10f * s), {m - ImVec2{0, 0.1f * s}, m + ImVec2{0, 0.1f * s}, {{0, rgb(theme::kLeadLight)}, {1, rgb(theme::kLeadDark)}}});
  ImVec2 way[24];
  int n = 0;
  constexpr int kTurns = 5;
  for (int i = 0; i < kTurns; ++i) {
    const float y = m.y + (float(i) / (kTurns - 1) - 0.5f) * 1.16f * ry;
    const float reach = 0.50f * rx * (i == 0 || i == kTurns - 1 ? 0.80f : 1.0f);
    const float side = i % 2 == 0 ? -1.0f : 1.0f;
    way[n++] = {m.x + side * reach, y}, way[n++] = {m.x - side * reach, y};
  }
  paint.path({way, size_t(n)}, std::max(0.115f * s, 1.3f), rgb(theme::kPhotoTrack));
  // Under a strong light the face shines a little.
  const double light = value_of(part, "light");
  if (light > 20) sheen(paint, m + ImVec2{-0.2f * rx, -0.3f * ry}, 0.95f * rx, 0.85f * ry, std::clamp(float(std::log10(light) - 1.3) * 0.13f, 0.0f, 0.42f));
  sheen(paint, m + ImVec2{-0.38f * rx, -0.48f * ry}, 0.40f * rx, 0.26f * ry, 0.55f);
}

void draw_thermistor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  foot_shadow(paint, pose, look, 0.5f);
  legs(paint, pose, look, 0.11f);
  // The bead warms from green towards a dull red with what it feels.
  const float warm = std::clamp(float(value_of(part, "temperature", 25) - 25) / 90, 0.0f, 1.0f), cold = std::clamp(float(25 - value_of(part, "temperature", 25)) / 60, 0.0f, 1.0f);
  const ImU32 c = theme::mix(theme::mix(rgb(theme::kBead), rgb(0xA3392B), warm * 0.8f), rgb(0x3C6FA0), cold * 0.8f);
  run_down(paint, pose, c);
  Outline drop;
  const ImVec2 m = pose.centre;
  const float r = pose.half.x * 0.94f;
  drop.arc(m - ImVec2{0, 0.05f * s}, r, r * 0.98f, -kPi, 0);
  drop.add({m.x + 0.62f * r, m.y + 0.86f * r}), drop.add({m.x - 0.62f * r, m.y + 0.86f * r});
  paint.fill(drop, {m - ImVec2{0.5f * r, r}, m + ImVec2{0.5f * r, r}, {{0, shade(c, 0.34f)}, {0.4f, shade(c, 0.08f)}, {1, shade(c, -0.38f)}}});
  sheen(paint, m + ImVec2{-0.32f * r, -0.46f * r}, 0.5f * r, 0.4f * r, 0.5f);
  const float em = 0.34f * s;
  if (em > 6) paint.text(m + ImVec2{0, 0.08f * s}, 0.5f, em, rgb(0xF2F5EE), "103", Weight::kStrong);
}

void draw_polymer_fuse(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, h = pose.half.y;
  foot_shadow(paint, pose, look, 0.5f);
  legs(paint, pose, look, 0.13f);
  const bool hot = look.reading && look.reading->state == State::kTripped;
  const ImU32 c = hot ? theme::mix(rgb(theme::kPolymer), rgb(0xD9592B), 0.6f) : rgb(theme::kPolymer);
  run_down(paint, pose, c);
  const ImVec2 m = pose.centre;
  const Outline pad = rounded(m, {h, h}, 0.42f * s);
  paint.fill(pad, {m - ImVec2{0.5f * h, h}, m + ImVec2{0.5f * h, h}, {{0, shade(c, 0.36f)}, {0.4f, shade(c, 0.08f)}, {1, shade(c, -0.34f)}}});
  paint.stroke(rounded(m, {h - 0.04f * s, h - 0.04f * s}, 0.40f * s), 0.06f * s, theme::fade(shade(c, -0.5f), 0.4f));
  sheen(paint, m + ImVec2{-0.34f * h, -0.46f * h}, 0.55f * h, 0.40f * h, 0.45f);
  fitted(paint, m + ImVec2{0, 0.06f * s}, 0.5f, 0.44f * s, 1.45f * h, rgb(0x4B3A08), option_of(part, "hold-current"), Weight::kStrong);
}

void draw_inductor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, half = pose.half.x, r = pose.half.y;
  if (!look.in_box) {
    const ImVec2 course[] = {pose.lead[0], pose.lead[1]};
    paint.path_shadow(course, 0.05f * s, 0.10f * s, {0, 0.14f * s}, 0.30f);
    paint.shadow(pose.centre + ImVec2{0, 0.20f * s}, {half, r}, r * 0.5f, pose.axis, 0.26f * s, 0.50f);
  }
  legs(paint, pose, look, 0.135f);
  // A ferrite spool between two cheeks, wound with enamelled copper.
  static constexpr Across kMatt[] = {{-1, -0.30f}, {-0.6f, 0.22f}, {-0.2f, 0.14f}, {0.4f, -0.10f}, {1, -0.48f}};
  const auto x = [&](float t) { return pose.centre + pose.axis * (t * half); };
  const ImU32 ferrite = rgb(theme::kFerrite), copper = rgb(theme::kCopper);
  const Station spool[] = {{x(-1), r * 0.80f, ferrite}, {x(-0.97f), r, ferrite}, {x(-0.72f), r, ferrite}, {x(-0.719f), r * 0.78f, copper},
                           {x(0.719f), r * 0.78f, copper}, {x(0.72f), r, ferrite}, {x(0.97f), r, ferrite}, {x(1), r * 0.80f, ferrite}};
  paint.body(spool, kMatt);
  const ImVec2 side = across(pose.axis);
  for (int i = 0; i < 9; ++i) {
    const float t = -0.60f + 1.2f * float(i) / 8;
    const ImVec2 a = x(t - 0.03f) - side * (0.76f * r), b = x(t + 0.03f) + side * (0.76f * r);
    paint.line(a, b, std::max(0.11f * half, 1.0f), shade(copper, i % 2 ? 0.04f : -0.22f));
    paint.line(lerp(a, b, 0.16f), lerp(a, b, 0.34f), std::max(0.07f * half, 0.8f), theme::fade(rgb(theme::kWhite), 0.34f));
  }
  if (!look.in_box && s > 38) {
    // Close up there is room for a slip of paper round it.
    const std::string words = digit_code(value_of(part, "inductance"), 1e-6);
    const float em = 0.36f * s, width = paint.text_width(em, words, Weight::kStrong) / 2 + 0.1f * s;
    if (std::fabs(pose.axis.x) > 0.7f) {
      paint.fill(rounded(pose.centre, {width, 0.22f * s}, 0.08f * s), rgb(0xF3EDE0, 0.88f));
      paint.text(pose.centre, 0.5f, em, rgb(0x33291C), words, Weight::kStrong);
    }
  }
}

void draw_force(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  legs(paint, pose, look, 0.13f);
  const ImVec2 m = pose.centre;
  const float r = pose.half.x, top = m.y - pose.half.y, foot = m.y + pose.half.y;
  const ImVec2 pad = {m.x, top + r};
  if (!look.in_box) {
    // Film lies almost flat: a thin shadow.
    paint.shadow(pad + ImVec2{0, 0.10f * s}, {r, r}, r, {1, 0}, 0.20f * s, 0.40f);
    paint.shadow(Box{{m.x - 0.52f * s, pad.y + 0.8f * r}, {m.x + 0.52f * s, foot}}, 0.1f * s, 0.18f * s, {0, 0.08f * s}, 0.35f);
  }
  // Clear film: a round pad on a tail with two silver tracks.
  const ImU32 film = rgb(theme::kFilm, 0.92f), ink = rgb(0x2B2E31), silver = rgb(0xC6CBCC);
  const Box tail = {{m.x - 0.52f * s, pad.y + 0.8f * r}, {m.x + 0.52f * s, foot}};
  paint.fill(rounded(tail, 0.10f * s), {tail.min, {tail.max.x, tail.min.y}, {{0, shade(film, 0.12f)}, {0.5f, film}, {1, shade(film, -0.22f)}}});
  for (float e : {-0.24f, 0.24f}) paint.line({m.x + e * s, pad.y + 0.7f * r}, {m.x + e * s, foot - 0.1f * s}, std::max(0.10f * s, 1.0f), silver);
  paint.fill(circle(pad, r), {pad - ImVec2{0.4f * r, r}, pad + ImVec2{0.4f * r, r}, {{0, shade(film, 0.24f)}, {0.5f, film}, {1, shade(film, -0.26f)}}});
  const float force = std::clamp(float(value_of(part, "force") / 20), 0.0f, 1.0f);
  paint.fill(circle(pad, 0.80f * r), {pad - ImVec2{0, r}, pad + ImVec2{0, r}, {{0, shade(ink, 0.22f)}, {1, ink}}});
  // Combs of silver under the black.
  for (int i = -3; i <= 3; ++i) {
    const float y = float(i) * 0.2f * r, w = std::sqrt(std::max(0.0f, 0.50f * r * r - y * y));
    paint.line({pad.x - w * (i & 1 ? 1.0f : 0.8f), pad.y + y}, {pad.x + w * (i & 1 ? 0.8f : 1.0f), pad.y + y}, std::max(0.05f * s, 0.8f), theme::fade(silver, 0.45f));
  }
  // A thumb's dent, deeper the harder it presses.
  if (force > 0) {
    const Fill::Stop dent[] = {{0, rgb(theme::kSelect, 0.25f + 0.55f * force)}, {0.6f, rgb(theme::kSelect, 0.2f * force)}, {1, rgb(theme::kSelect, 0)}};
    paint.glow(pad, r * (0.45f + 0.5f * force), r * (0.45f + 0.5f * force), dent);
  }
  sheen(paint, pad + ImVec2{-0.35f * r, -0.45f * r}, 0.55f * r, 0.36f * r, 0.35f);
}

void draw_flex(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  legs(paint, pose, look, 0.13f);
  const ImVec2 m = pose.centre;
  // The strip leans over to the right by what it is bent, along an arc of the strip's own length.
  const float bend = float(value_of(part, "bend")) * kPi / 180, whole = 2 * pose.half.y;
  constexpr int kPieces = 22;
  ImVec2 spine[kPieces + 1];
  spine[0] = {m.x, m.y + pose.half.y};
  for (int i = 0; i < kPieces; ++i) {
    const float a = bend * (float(i) + 0.5f) / kPieces;
    spine[i + 1] = spine[i] + ImVec2{std::sin(a), -std::cos(a)} * (whole / kPieces);
  }
  if (!look.in_box) paint.path_shadow({spine, size_t(kPieces + 1)}, 0.42f * s, 0.24f * s, {0.05f * s, 0.20f * s}, 0.42f);
  const auto piece = [&](int i, float half, ImU32 colour) {
    const auto edge = [&](int k, float e) {
      const ImVec2 d = unit(spine[std::min(k + 1, int(kPieces))] - spine[std::max(k - 1, 0)]);
      return spine[k] + across(d) * (e * half * s);
    };
    paint.fill(polygon({edge(i, -1), edge(i + 1, -1), edge(i + 1, 1), edge(i, 1)}), colour);
  };
  const ImU32 film = rgb(theme::kFilm), dark = rgb(0x26292C), silver = rgb(0xC6CBCC);
  for (int i = 0; i < kPieces; ++i) piece(i, 0.52f, shade(film, 0.10f - 0.25f * float(i) / kPieces * std::min(bend, 1.0f)));
  for (int i = 2; i < kPieces - 1; ++i) piece(i, 0.34f, shade(dark, i % 3 ? 0.06f : 0.0f));
  for (int i = 3; i < kPieces - 1; i += 2) piece(i, 0.26f, theme::fade(silver, 0.75f));
  paint.path({spine, size_t(kPieces + 1)}, std::max(0.05f * s, 0.7f), theme::fade(rgb(theme::kWhite), 0.14f));
}

}  // namespace tiepoint::kit
