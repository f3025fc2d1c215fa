// What feeds the board: the USB outlet with its read-out, and battery packs drawn as their cells.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

using theme::rgb;
using theme::shade;

// Text as wide as there is room for.
void fitted(Paint& paint, ImVec2 at, float anchor, float em, float room, ImU32 colour, std::string_view words,
            Weight weight = Weight::kBody) {
  const float width = paint.text_width(em, words, weight);
  if (width > room) em *= room / width;
  if (em > 4.5f) paint.text(at, anchor, em, colour, words, weight);
}

void draw_toggle(Paint& paint, const Box& box, bool on) {
  const ImVec2 c = box.centre(), half = box.size() * 0.5f;
  const ImU32 colour = rgb(on ? theme::kSwitchOn : theme::kSwitchOff);
  paint.fill(rounded(c, half, half.y),
             {box.min, {box.min.x, box.max.y}, {{0, shade(colour, -0.28f)}, {0.35f, colour}, {1, shade(colour, 0.10f)}}});
  const float r = half.y * 0.80f;
  const ImVec2 knob = {on ? box.max.x - half.y : box.min.x + half.y, c.y};
  paint.shadow(knob + ImVec2{0, 0.12f * r}, {r, r}, r, {1, 0}, 0.35f * r, 0.4f);
  paint.fill(circle(knob, r), {knob - ImVec2{0, r}, knob + ImVec2{0, r}, {{0, rgb(0xFFFFFF)}, {1, rgb(0xDDD9CF)}}});
}

void draw_terminal(Paint& paint, ImVec2 at, float s, uint32_t colour) {
  const float r = 0.36f * s;
  const ImU32 c = rgb(colour);
  paint.shadow(at + ImVec2{0, 0.06f * s}, {r, r}, r, {1, 0}, 0.14f * s, 0.4f);
  paint.fill(circle(at, r), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, shade(c, 0.20f)}, {1, shade(c, -0.35f)}}});
  paint.fill(circle(at, r * 0.72f), {at - ImVec2{0, r}, at + ImVec2{0, r}, {{0, shade(c, -0.25f)}, {1, shade(c, 0.16f)}}});
  paint.fill(circle(at, r * 0.34f), rgb(0x101416));
}

void draw_case(Paint& paint, const Pose& pose, uint32_t colour, float radius) {
  const float s = pose.scale;
  const Box box = {pose.centre - pose.half, pose.centre + pose.half};
  paint.shadow(box, radius, 0.60f * s, {0, 0.26f * s}, 0.60f);
  paint.shadow(box, radius, 0.14f * s, {0, 0.07f * s}, 0.40f);
  const ImU32 c = rgb(colour);
  paint.fill(rounded({box.min + ImVec2{0, 0.10f * s}, box.max + ImVec2{0, 0.11f * s}}, radius), shade(c, -0.26f));
  paint.fill(
      rounded(box, radius),
      {box.min, {box.min.x, box.max.y}, {{0, shade(c, 0.30f)}, {0.06f, shade(c, 0.12f)}, {0.5f, c}, {1, shade(c, -0.07f)}}});
  paint.stroke(rounded(box.grown(-0.05f * s), radius), std::max(0.05f * s, 0.8f),
               theme::fade(rgb(theme::kWhite), colour == theme::kCase ? 0.65f : 0.10f));
}

}  // namespace

void draw_outlet(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const ImVec2 corner = pose.centre - pose.half;
  const auto at = [&](float x, float y) { return corner + ImVec2{x, y} * s; };
  draw_case(paint, pose, theme::kCase, 0.40f * s);
  const bool on = is_on(part);

  // Read-out: amber figures behind dark glass.
  const Box glass = {at(0.46f, 0.46f), at(5.0f, 2.24f)};
  paint.fill(rounded(glass.grown(0.05f * s), 0.22f * s),
             {glass.min, {glass.min.x, glass.max.y}, {{0, rgb(0xB9B09C)}, {1, rgb(0xFBF6EA)}}});
  paint.fill(
      rounded(glass, 0.19f * s),
      {glass.min,
       glass.max,
       {{0, shade(rgb(theme::kDisplay), 0.10f)}, {0.5f, rgb(theme::kDisplay)}, {1, shade(rgb(theme::kDisplay), -0.25f)}}});
  const bool known = on && look.reading && has_reading(look.reading->voltage);
  const std::string volts = known ? fixed_text(look.reading->voltage, 2) : std::string("–.––");
  const float em = 0.84f * s;
  const ImU32 figures = rgb(on ? theme::kDisplayText : theme::kDisplayOff);
  if (on) {
    const Fill::Stop bloom[] = {
        {0, rgb(theme::kDisplayText, 0.16f)}, {0.5f, rgb(theme::kDisplayText, 0.06f)}, {1, rgb(theme::kDisplayText, 0)}};
    paint.clip(glass);
    paint.glow(at(2.1f, 1.1f), 2.6f * s, 1.1f * s, bloom);
    paint.unclip();
  }
  paint.piece();  // the figures change, the case does not
  paint.text(at(0.86f, 1.10f), 0, em, figures, volts, Weight::kLarge);
  const float width = paint.text_width(em, volts, Weight::kLarge);
  paint.text(at(0.86f, 1.10f) + ImVec2{width + 0.22f * s, 0}, 0, em, figures, "V", Weight::kLarge);
  const double amperes = known && has_reading(look.reading->current) ? std::max(look.reading->current, 0.0) : 0;
  const double most = type_of(part).ratings ? type_of(part).ratings(part).current : kNoReading;
  const std::string now = known ? fixed_text(amperes * 1000, amperes < 0.0995 ? 1 : 0) : std::string("–");
  const std::string limit = has_reading(most) ? fixed_text(most * 1000, 0) : std::string("–");
  const bool strained = look.reading && (look.reading->state == State::kAtLimit || look.reading->state == State::kOverloaded);
  fitted(paint, at(0.86f, 1.86f), 0, 0.37f * s, 4.0f * s, rgb(strained ? 0xFF8A6B : theme::kDisplayDim),
         say("bench.outlet.current", {{"now", now}, {"limit", limit}}));
  paint.piece();

  fitted(paint, at(0.46f, 2.92f), 0, 0.46f * s, 6.0f * s, rgb(theme::kCaseText), say("bench.outlet.name"), Weight::kStrong);
  fitted(paint, at(0.46f, 3.60f), 0, 0.42f * s, 6.0f * s, rgb(theme::kCaseSmall),
         say("bench.outlet.limit", {{"limit", limit}}));
  draw_toggle(paint, control_of(part, pose), on);
  paint.text(at(6.63f, 1.90f), 0.5f, 0.42f * s, rgb(theme::kCaseText), say(on ? "bench.on" : "bench.off"));
  draw_terminal(paint, pose.root[0], s, theme::kPlusWire);
  draw_terminal(paint, pose.root[1], s, theme::kMinusWire);
  paint.text(pose.root[0] + ImVec2{-0.66f * s, -0.42f * s}, 0.5f, 0.52f * s, rgb(theme::kRailPlus), "+", Weight::kStrong);
  paint.text(pose.root[1] + ImVec2{-0.66f * s, 0.42f * s}, 0.5f, 0.52f * s, rgb(theme::kMinusWire), "−", Weight::kStrong);
}

void draw_battery(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  draw_case(paint, pose, theme::kHolder, 0.30f * s);
  const CellGrid grid = cell_grid(part);
  const float pitch_y = 1.5f * s, length_ = 5.9f * s, r = 0.62f * s;
  static constexpr Across kSteel[] = {{-1, -0.42f}, {-0.75f, -0.05f}, {-0.45f, 0.34f}, {-0.2f, 0.22f},
                                      {0.2f, 0.0f}, {0.7f, -0.22f},   {1, -0.5f}};
  for (int cell = 0; cell < grid.cells; ++cell) {
    const int column = cell / grid.rows, row = cell % grid.rows;
    const ImVec2 c = {pose.centre.x - pose.half.x + (0.22f + 3.05f + 6.35f * float(column)) * s,
                      pose.centre.y - pose.half.y + 0.35f * s + pitch_y * (float(row) + 0.5f)};
    // The trough it lies in, then the cell: neighbours lie head to tail, as series cells do.
    paint.fill(rounded(c, {length_ / 2 + 0.12f * s, r + 0.08f * s}, 0.16f * s), rgb(0x171B1E));
    const float d = cell % 2 == 0 ? 1.0f : -1.0f;
    const auto x = [&](float t) { return c + ImVec2{d * (t - 0.5f) * length_, 0}; };
    const ImU32 tin = rgb(0xC2C8CB), wrap = rgb(theme::kCell), band = rgb(theme::kCellBand);
    const Station can[] = {{x(0.02f), r * 0.90f, tin},  {x(0.035f), r * 0.98f, tin},  {x(0.055f), r, tin},
                           {x(0.056f), r, wrap},        {x(0.640f), r, wrap},         {x(0.641f), r, band},
                           {x(0.93f), r, band},         {x(0.945f), r * 0.96f, band}, {x(0.946f), r * 0.80f, tin},
                           {x(0.958f), r * 0.74f, tin}, {x(0.959f), r * 0.30f, tin},  {x(0.99f), r * 0.28f, tin}};
    paint.body(can, kSteel);
    const float em = 0.62f * s;
    if (em > 5) {
      paint.text(x(0.80f), 0.5f, em, rgb(0x3A2C10), "+", Weight::kStrong);
      paint.text(x(0.15f), 0.5f, em, rgb(0xEAF1F6), "−", Weight::kStrong);
      paint.text(x(0.40f), 0.5f, 0.40f * s, rgb(0xEAF1F6), "1.5 V");
    }
  }
  const bool on = is_on(part);
  const Box control = control_of(part, pose);
  if (control.size().x > 0) {
    // A little slide at the corner; down is on.
    paint.fill(rounded(control, 0.10f * s), rgb(0x14181B));
    const ImVec2 c = control.centre(), half = control.size() * 0.5f;
    const ImVec2 knob = c + ImVec2{0, (on ? 0.42f : -0.42f) * half.y};
    paint.fill(rounded(knob, {half.x * 0.82f, half.y * 0.52f}, 0.07f * s),
               {knob - ImVec2{0, half.y},
                knob + ImVec2{0, half.y},
                {{0, rgb(on ? 0x45C9BE : 0x9AA2A5)}, {1, rgb(on ? 0x147C74 : 0x5C6467)}}});
  }
  (void)look;
}

}  // namespace tiepoint
