// The meter: a blue case with a grey-green display, a row of function buttons and two sockets.
#include "shell/bench/draw_meter.h"

#include <algorithm>
#include <cmath>

#include "engine/board/edit.h"
#include "engine/readings/readings.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

using theme::rgb;
using theme::shade;

constexpr uint32_t kCaseBlue = 0x2E4B93, kButtonBlue = 0x3F5FAE, kGlass = 0xC9D5BC, kInk = 0x1E2A22, kInkDim = 0x55644F, kPale = 0xE6ECF7;
constexpr int kAmperes = 3, kContinuity = 5;    // of the value "function"
constexpr float kButton = 1.06f, kGap = 0.12f;  // [hole steps]

int function_of(const Part& part) { return int(value_of(part, "function")); }

// Four figures and a prefix, as a meter ranges by itself: "1.934", "47.20" k.
struct Figures {
  std::string digits;
  std::string_view prefix;
};
Figures figures(double value) {
  static constexpr struct {
    double least;
    std::string_view prefix;
  } kRanges[] = {{1e6, "M"}, {1e3, "k"}, {0.9995, ""}, {0.9995e-3, "m"}, {1e-6, "µ"}};
  const double size = std::fabs(value);
  for (const auto& range : kRanges) {
    if (size < range.least) continue;
    const double unit = range.least >= 1e3 ? range.least : range.least > 0.1 ? 1 : range.least > 0.1e-3 ? 1e-3 : 1e-6;
    const double mantissa = value / unit;
    const double m = std::fabs(mantissa);
    return {fixed_text(mantissa, m < 9.9995 ? 3 : m < 99.995 ? 2 : 1), range.prefix};
  }
  return {"0.000", ""};
}

std::string_view message_of(const PartNumbers* reading) {
  if (reading == nullptr) return "";
  switch (reading->state) {
    case State::kMelted: return "bench.meter.fuse";
    case State::kLiveCircuit: return "bench.meter.live";
    case State::kOverRange: return "bench.meter.open";
    default: return "";
  }
}

void draw_display(Paint& paint, const Part& part, const Pose& pose, const PartNumbers* reading) {
  const float s = pose.scale;
  const ImVec2 corner = pose.centre - pose.half;
  const Box glass = {corner + ImVec2{0.54f, 0.46f} * s, corner + ImVec2{7.6f, 2.70f} * s};
  const ImU32 green = rgb(kGlass);
  paint.fill(rounded(glass.grown(0.06f * s), 0.24f * s), rgb(0x223A76));
  paint.fill(rounded(glass, 0.19f * s), {glass.min, {glass.min.x, glass.max.y}, {{0, shade(green, -0.16f)}, {0.12f, green}, {1, shade(green, 0.10f)}}});
  const int function = function_of(part);
  if (function == 0) return;
  const float left = glass.min.x + 0.30f * s, right = glass.max.x - 0.30f * s;
  const std::string_view message = message_of(reading);
  float em = 0.42f * s;
  const std::string head(say(message.empty() ? "option." + std::string(option_of(part, "function")) : std::string(message)));
  const float room = right - left, width = paint.text_width(em, head);
  if (width > room) em *= room / width;
  if (em > 4.5f) paint.text({left, glass.min.y + 0.42f * s}, 0, em, rgb(kInkDim), head);
  const bool known = reading && has_reading(reading->shown);
  const Figures f = known ? figures(reading->shown) : Figures{"–.–––", ""};
  const std::string unit = std::string(f.prefix) + std::string(reading && !reading->shown_unit.empty() ? reading->shown_unit : std::string_view("V"));
  const float unit_em = 0.52f * s, digits_em = 1.12f * s;
  const float unit_width = 1.0f * s;
  const float digits_width = paint.text_width(digits_em, f.digits, Weight::kLarge);
  paint.text({right - unit_width - digits_width, glass.max.y - 0.74f * s}, 0, digits_em, rgb(known ? kInk : kInkDim), f.digits, Weight::kLarge);
  paint.text({right - unit_width + 0.16f * s, glass.max.y - 0.52f * s}, 0, unit_em, rgb(kInk), unit, Weight::kStrong);
}

// Marks without words: sound for continuity, the arrow against its bar for the diode.
void draw_mark(Paint& paint, int function, ImVec2 c, float s, ImU32 colour) {
  const float w = std::max(0.07f * s, 1.0f);
  if (function == kContinuity) {
    paint.fill(circle(c + ImVec2{-0.20f * s, 0}, 0.11f * s), colour);
    for (const float r : {0.16f, 0.32f}) {
      ImVec2 arc[9];
      for (int i = 0; i < 9; ++i) {
        const float a = -0.85f + 1.7f * float(i) / 8;
        arc[i] = c + ImVec2{-0.20f * s + (r + 0.06f) * s * std::cos(a), (r + 0.06f) * s * std::sin(a)};
      }
      paint.trace(arc, w, colour);
    }
    return;
  }
  const float h = 0.22f * s;
  paint.triangle(c + ImVec2{-h, -h}, c + ImVec2{-h, h}, c + ImVec2{h * 0.8f, 0}, colour);
  paint.thin(c + ImVec2{h * 0.8f, -h}, c + ImVec2{h * 0.8f, h}, w, colour);
  paint.thin(c + ImVec2{-2 * h, 0}, c + ImVec2{2 * h, 0}, w, colour);
}

void draw_buttons(Paint& paint, const Part& part, const Pose& pose) {
  static constexpr std::string_view kLabels[kMeterButtons] = {"V", "V~", "A", "Ω", "", ""};
  const float s = pose.scale;
  for (int k = 0; k < kMeterButtons; ++k) {
    const Box box = meter_button(pose, k);
    const bool on = function_of(part) == k + 1;
    const ImU32 face = rgb(on ? theme::kSelect : kButtonBlue), ink = rgb(on ? 0x2A2413 : kPale);
    paint.fill(rounded({box.min + ImVec2{0, 0.05f * s}, box.max + ImVec2{0, 0.07f * s}}, 0.2f * s), shade(rgb(kCaseBlue), -0.4f));
    paint.fill(rounded(box, 0.2f * s), {box.min, {box.min.x, box.max.y}, {{0, shade(face, 0.14f)}, {1, shade(face, -0.06f)}}});
    if (kLabels[k].empty()) draw_mark(paint, k + 1, box.centre(), s, ink);
    else paint.text(box.centre(), 0.5f, 0.50f * s, ink, kLabels[k], Weight::kStrong);
  }
}

void draw_socket(Paint& paint, ImVec2 at, float s, uint32_t colour) {
  const float r = 0.36f * s;
  const ImU32 c = rgb(colour);
  paint.fill(circle(at, r), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, shade(c, 0.20f)}, {1, shade(c, -0.35f)}}});
  paint.fill(circle(at, r * 0.66f), shade(c, -0.15f));
  paint.fill(circle(at, r * 0.34f), rgb(0x101416));
}

}  // namespace

Box meter_button(const Pose& pose, int button) {
  const float s = pose.scale;
  const ImVec2 corner = pose.centre - pose.half + ImVec2{0.54f + float(button) * (kButton + kGap), 3.02f} * s;
  return {corner, corner + ImVec2{kButton, 1.0f} * s};
}

Box meter_buttons(const Pose& pose) { return {meter_button(pose, 0).min, meter_button(pose, kMeterButtons - 1).max}; }

std::optional<Edit> meter_edit(const Part& part, const Pose& pose, const PartNumbers* reading, ImVec2 at) {
  for (int k = 0; k < kMeterButtons; ++k) {
    if (!meter_button(pose, k).grown(0.5f * kGap * pose.scale).contains(at)) continue;
    const int function = k + 1;
    if (function != function_of(part)) return Edit{SlidePart{part.name, function}};
    if (function == kAmperes && reading && reading->state == State::kMelted)
      return Edit{SetValue{part.name, "fuse-number", value_of(part, "fuse-number", 1) + 1}};
    return Edit{SlidePart{part.name, 0}};
  }
  return std::nullopt;
}

void draw_meter(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale, radius = 0.55f * s;
  const Box box = {pose.centre - pose.half, pose.centre + pose.half};
  if (!look.in_box) {
    paint.shadow(box, radius, 0.60f * s, {0, 0.26f * s}, 0.60f);
    paint.shadow(box, radius, 0.14f * s, {0, 0.07f * s}, 0.40f);
  }
  const ImU32 blue = rgb(kCaseBlue);
  paint.fill(rounded({box.min + ImVec2{0, 0.10f * s}, box.max + ImVec2{0, 0.11f * s}}, radius), shade(blue, -0.30f));
  paint.fill(rounded(box, radius), {box.min, {box.min.x, box.max.y}, {{0, shade(blue, 0.16f)}, {0.08f, blue}, {1, shade(blue, -0.08f)}}});
  paint.stroke(rounded(box.grown(-0.05f * s), radius), std::max(0.05f * s, 0.8f), theme::fade(rgb(theme::kWhite), 0.16f));
  paint.piece();
  draw_display(paint, part, pose, look.reading);
  paint.piece();
  draw_buttons(paint, part, pose);
  if (!look.in_box && 0.44f * s > 4.5f) paint.text(box.max - ImVec2{2.75f * s, pose.half.y * 2 - 0.95f * s}, 0, 0.46f * s, rgb(kPale), part.name, Weight::kStrong);
  for (int lead = 0; lead < pose.count; ++lead) draw_socket(paint, pose.root[lead], s, lead == 0 ? theme::kPlusWire : theme::kMinusWire);
}

// A probe touching metal: a hand-held grip of insulation that ends in a fine tip.
void draw_probe(Paint& paint, ImVec2 tip, ImVec2 direction, float s, ImU32 colour) {
  const ImVec2 guard = tip - direction * (0.62f * s), back = tip - direction * (2.3f * s);
  draw_leg(paint, guard, tip, 0.09f * s);
  static constexpr Across kGrip[] = {{-1, -0.30f}, {-0.6f, 0.06f}, {-0.3f, 0.36f}, {0.1f, 0.08f}, {1, -0.42f}};
  const float r = 0.22f * s;
  const Station grip[] = {{guard, r * 0.55f, colour}, {lerp(guard, back, 0.06f), r * 1.25f, colour}, {lerp(guard, back, 0.14f), r * 0.95f, colour},
                          {lerp(guard, back, 0.70f), r, colour}, {lerp(guard, back, 0.92f), r * 0.8f, colour}, {back, r * 0.55f, colour}};
  paint.body(grip, kGrip);
}

}  // namespace tiepoint
