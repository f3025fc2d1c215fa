// Bodies turned about their axis, lying between their two legs: resistors and diodes.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"

namespace tiepoint {
namespace {

using theme::rgb;

// A satin cylinder lit from above.
constexpr Across kSatin[] = {{-1, -0.30f},  {-0.82f, 0.0f},  {-0.52f, 0.36f}, {-0.28f, 0.30f},
                             {0.1f, 0.05f}, {0.55f, -0.12f}, {0.85f, -0.30f}, {1, -0.44f}};

struct Ring {
  float from, to;  // of the body's length, 0..1
  ImU32 colour;
};

// Stations along a body of revolution: profile radius(t) and rings of colour.
template <class Radius>
void turned(Paint& paint, const Pose& pose, float half_length, Radius radius, ImU32 base, std::span<const Ring> rings) {
  static constexpr int kMost = 96;
  Station stations[kMost];
  float cuts[kMost];
  int n = 0;
  for (int i = 0; i <= 28; ++i) cuts[n++] = float(i) / 28;
  constexpr float kSharp = 0.0015f;
  for (const Ring& r : rings)
    for (float t : {r.from - kSharp, r.from + kSharp, r.to - kSharp, r.to + kSharp})
      if (n < kMost) cuts[n++] = std::clamp(t, 0.0f, 1.0f);
  std::sort(cuts, cuts + n);
  for (int i = 0; i < n; ++i) {
    const float t = cuts[i];
    ImU32 colour = base;
    for (const Ring& r : rings)
      if (t > r.from && t < r.to) colour = r.colour;
    stations[i] = {pose.centre + pose.axis * ((2 * t - 1) * half_length), radius(t), colour};
  }
  paint.body({stations, size_t(n)}, kSatin);
}

void legs(Paint& paint, const Pose& pose) {
  for (int i = 0; i < 2; ++i) draw_leg(paint, pose.lead[i], pose.root[i], 0.135f * pose.scale);
}

struct BandSet {
  std::array<uint8_t, 6> band = {};
  int count = 0;
};
BandSet bands_of(const Part& part) {
  const std::string_view word = option_of(part, "tolerance");  // "5 %"
  const std::optional<double> percent = parse_value(word.substr(0, word.find(' ')));
  BandSet set;
  for (Band b : bands_for(value_of(part, "resistance"), percent ? *percent / 100 : 0.05))
    if (set.count < 6) set.band[size_t(set.count++)] = uint8_t(b);
  return set;
}

}  // namespace

void draw_leg(Paint& paint, ImVec2 from, ImVec2 to, float width) {
  static constexpr Across kMetal[] = {{-1, -0.30f}, {-0.3f, 0.45f}, {0.15f, 0.15f}, {1, -0.42f}};
  if (length(to - from) < 0.5f) return;
  const float r = std::max(width / 2, 0.6f);
  const Station stations[] = {{from, r, rgb(theme::kLead)}, {to, r, rgb(theme::kLead)}};
  paint.body(stations, kMetal);
}

void draw_entry(Paint& paint, ImVec2 at, float scale) {
  const float r = std::max(0.115f * scale, 1.2f);
  paint.fill(circle(at, r + std::max(0.035f * scale, 0.6f)), rgb(theme::kLeadDark));
  paint.fill(circle(at, r), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, rgb(theme::kLeadLight)}, {1, rgb(theme::kLead)}}});
}

void draw_resistor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, r = pose.half.y, half = pose.half.x;
  if (!look.in_box) {
    const ImVec2 course[] = {pose.lead[0], pose.lead[1]};
    paint.path_shadow(course, 0.05f * s, 0.10f * s, {0, 0.14f * s}, 0.30f);
    paint.shadow(pose.centre + ImVec2{0, 0.20f * s}, {half, r}, r * 0.8f, pose.axis, 0.26f * s, 0.50f);
  }
  legs(paint, pose);
  for (int i = 0; i < 2; ++i)
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);

  // Dog-bone: caps at both ends, a slimmer barrel between, rounded off at the tips.
  const auto radius = [&](float t) {
    const float d = std::min(t, 1 - t) * 2 * half;  // from the nearer tip
    const float cap = 0.56f * r;
    if (d < cap) return r * std::sqrt(std::max(0.0f, 1 - (1 - d / cap) * (1 - d / cap)));
    const float x = std::clamp((d - 0.62f * s) / (0.20f * s), 0.0f, 1.0f);
    return r * (1 - 0.18f * x * x * (3 - 2 * x));
  };
  const BandSet set = bands_of(part);
  Ring rings[6];
  // The first band sits on the left cap and the last (tolerance) apart from the others, on the right cap.
  const float wide = 0.074f;
  const int values = set.count > 0 ? set.count - 1 : 0;
  int n = 0;
  for (int i = 0; i < values; ++i) {
    const float at = i == 0 ? 0.145f : 0.30f + float(i - 1) * (values > 3 ? 0.125f : 0.145f);
    rings[n++] = {at - wide / 2, at + wide / 2, rgb(theme::band_colour(set.band[size_t(i)]))};
  }
  if (set.count > 0)
    rings[n++] = {0.855f - wide / 2, 0.855f + wide / 2, rgb(theme::band_colour(set.band[size_t(set.count - 1)]))};
  turned(paint, pose, half, radius, rgb(theme::kResistor), {rings, size_t(n)});
}

void draw_diode(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, r = pose.half.y, half = pose.half.x;
  if (!look.in_box) {
    const ImVec2 course[] = {pose.lead[0], pose.lead[1]};
    paint.path_shadow(course, 0.05f * s, 0.10f * s, {0, 0.14f * s}, 0.30f);
    paint.shadow(pose.centre + ImVec2{0, 0.18f * s}, {half, r}, r * 0.6f, pose.axis, 0.24f * s, 0.50f);
  }
  legs(paint, pose);
  for (int i = 0; i < 2; ++i)
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
  // Small-signal types come in glass, rectifiers in black plastic; both mark the cathode with a band.
  const bool glass = option_of(part, "type").find("4148") != std::string_view::npos;
  const auto radius = [&](float t) {
    const float d = std::min(t, 1 - t) * 2 * half, cap = (glass ? 0.5f : 0.16f) * r;
    return d < cap ? r * std::sqrt(std::max(0.0f, 1 - (1 - d / cap) * (1 - d / cap))) : r;
  };
  const Ring band[] = {{0.74f, 0.87f, rgb(glass ? theme::kDiodeBlack : theme::kDiodeBand)}};
  turned(paint, pose, half, radius, rgb(glass ? theme::kGlass : theme::kDiodeBlack), band);
}

}  // namespace tiepoint
