// Instruments on the mat: the adjustable supply and the signal source, each a case with a read-out, knobs and two terminals.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"
#include "shell/words/words.h"

namespace tiepoint::kit {
namespace {

void terminals(Paint& paint, const Pose& pose) {
  const float s = pose.scale;
  terminal_post(paint, pose.root[0], s, theme::kPlusWire);
  terminal_post(paint, pose.root[1], s, theme::kMinusWire);
  paint.text(pose.root[0] + ImVec2{0, -0.64f * s}, 0.5f, 0.52f * s, rgb(theme::kRailPlus), "+", Weight::kStrong);
  paint.text(pose.root[1] + ImVec2{0, 0.64f * s}, 0.5f, 0.52f * s, rgb(theme::kMinusWire), "−", Weight::kStrong);
}

void knobs(Paint& paint, const Frame& f, const Part& part, const Pose& pose) {
  Dial dials[kMostDials];
  const int n = dials_of(part, pose, dials);
  for (int i = 0; i < n; ++i) {
    const Dial& d = dials[i];
    for (int k = 0; k <= 10; ++k) {
      const float a = d.from + (d.to - d.from) * float(k) / 10;
      const ImVec2 way = {std::sin(a), -std::cos(a)};
      paint.line(d.centre + way * (1.10f * d.radius), d.centre + way * (1.24f * d.radius), std::max(0.04f * f.s, 0.6f), rgb(theme::kCaseSmall));
    }
    knob(paint, f, d, rgb(theme::kKnobDark));
    // Above it: the leads hang down over what lies below.
    const std::string key = "value." + std::string(part.kind->values[size_t(d.value)].key);
    if (has_words(key)) fitted(paint, d.centre - ImVec2{0, d.radius + 0.50f * f.s}, 0.5f, 0.40f * f.s, 2.15f * d.radius, rgb(theme::kCaseText), say(key));
  }
}

}  // namespace

void draw_bench_supply(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const bool on = is_on(part);
  housing(paint, pose, rgb(theme::kCase), 0.40f * s);
  const Box glass = {f.at(-5.1f, -1.9f), f.at(-0.35f, 0.5f)};
  display(paint, glass, on, s);
  const bool known = on && look.reading && has_reading(look.reading->voltage) && has_reading(look.reading->current);
  const ImU32 figures = rgb(on ? theme::kDisplayText : theme::kDisplayOff);
  const auto figure = [&](float y, std::string_view digits, std::string_view unit) {
    const ImVec2 right = f.at(-1.55f, y);
    paint.text(right, 1, 0.86f * s, figures, digits, Weight::kLarge);
    paint.text(right + ImVec2{0.24f * s, 0.04f * s}, 0, 0.62f * s, figures, unit, Weight::kLarge);
  };
  figure(-1.26f, known ? fixed_text(look.reading->voltage, 2) : std::string("–.––"), "V");
  figure(-0.16f, known ? fixed_text(std::max(look.reading->current, 0.0), 3) : std::string("–.–––"), "A");
  const bool limits = look.reading && look.reading->state == State::kAtLimit;
  // Which of the two knobs rules now.
  const ImVec2 lamp = f.at(-4.7f, limits ? -0.16f : -1.26f);
  paint.fill(circle(lamp, 0.15f * s), on ? rgb(limits ? 0xFF8A6B : theme::kSwitchOn) : rgb(theme::kDisplayOff));
  const std::string set = say_quantity(value_of(part, "voltage"), "V") + " · " + say_quantity(value_of(part, "limit"), "A");
  fitted(paint, f.at(0.15f, -1.42f), 0, 0.46f * s, 3.9f * s, rgb(theme::kCaseText), set, Weight::kStrong);
  if (!look.in_box) fitted(paint, f.at(0.15f, -0.78f), 0, 0.42f * s, 2.6f * s, rgb(theme::kCaseSmall), part.name);
  const Box toggle = control_of(part, pose);
  const Box place = toggle.size().x > 0 ? toggle : Box{f.at(-5.05f, 1.08f), f.at(-3.35f, 1.94f)};
  switch_cap(paint, place, on);
  paint.text({place.max.x + 0.3f * s, place.centre().y}, 0, 0.44f * s, rgb(theme::kCaseText), say(on ? "bench.on" : "bench.off"));
  knobs(paint, f, part, pose);
  terminals(paint, pose);
}

void draw_signal_source(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const bool on = is_on(part), square = value_of(part, "waveform") > 0.5;
  housing(paint, pose, rgb(theme::kCase), 0.40f * s);
  const Box glass = {f.at(-5.1f, -1.9f), f.at(-0.95f, 0.6f)};
  display(paint, glass, on, s);
  const ImU32 ink = rgb(on ? theme::kDisplayText : theme::kDisplayOff);
  // Two periods of what comes out, as high as the knob has it against the largest.
  const float high = 0.22f + 0.40f * std::clamp(float(value_of(part, "amplitude") / 10), 0.0f, 1.0f);
  ImVec2 wave[49];
  int n = 0;
  for (int i = 0; i <= 48; ++i) {
    const float t = float(i) / 48, x = -4.75f + 3.45f * t, y = std::sin(t * 4 * kPi);
    if (!square) wave[n++] = f.at(x, -0.98f - high * y);
  }
  if (square)
    for (int i = 0; i < 4; ++i) {
      const float y = -0.98f + (i % 2 ? high : -high), x = -4.75f + 3.45f * float(i) / 4;
      wave[n++] = f.at(x, y), wave[n++] = f.at(x + 3.45f / 4, y);
    }
  paint.path({wave, size_t(n)}, std::max(0.10f * s, 1.2f), ink);
  fitted(paint, f.at(-4.75f, 0.16f), 0, 0.56f * s, 3.5f * s, ink, say_quantity(value_of(part, "frequency"), "Hz"));
  const std::string set = say_quantity(value_of(part, "amplitude"), "V");
  fitted(paint, f.at(-0.45f, -1.42f), 0, 0.46f * s, 4.0f * s, rgb(theme::kCaseText), set, Weight::kStrong);
  if (!look.in_box) fitted(paint, f.at(-0.45f, -0.78f), 0, 0.42f * s, 2.6f * s, rgb(theme::kCaseSmall), part.name);
  const Box toggle = control_of(part, pose);
  const Box place = toggle.size().x > 0 ? toggle : Box{f.at(-5.05f, 1.08f), f.at(-3.35f, 1.94f)};
  switch_cap(paint, place, on);
  paint.text({place.max.x + 0.3f * s, place.centre().y}, 0, 0.44f * s, rgb(theme::kCaseText), say(on ? "bench.on" : "bench.off"));
  knobs(paint, f, part, pose);
  terminals(paint, pose);
}

// Three lights with their words: so that colour is never alone.
void draw_logic_probe(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  static constexpr struct {
    std::string_view words;
    uint32_t colour;
  } kLights[] = {{"state.high", 0xFF7A5C}, {"state.low", 0x5CC8FF}, {"state.changing", theme::kTrace1}};
  const Frame f(pose);
  const float s = f.s;
  housing(paint, pose, rgb(theme::kMould), 0.7f * s);
  for (int k = 0; k < 3; ++k) {
    const bool lit = look.reading && look.reading->lights[size_t(k)] > 0;
    const ImVec2 c = f.at(-2.9f + 2.0f * float(k), -0.35f);
    const ImU32 light = rgb(kLights[k].colour);
    if (lit) bloom(paint, c, 1.1f * s, light, rgb(theme::kWhite), 0.7f);
    paint.fill(circle(c, 0.42f * s), lit ? light : shade(light, -0.72f));
    paint.stroke(circle(c, 0.42f * s), std::max(0.05f * s, 0.8f), rgb(theme::kMouldText, lit ? 0.9f : 0.35f));
    fitted(paint, c + ImVec2{0, 0.86f * s}, 0.5f, 0.46f * s, 1.95f * s, rgb(theme::kMouldText), say(kLights[k].words), lit ? Weight::kStrong : Weight::kBody);
  }
  if (!look.in_box) fitted(paint, f.at(-3.7f, -1.2f), 0, 0.40f * s, 2.6f * s, rgb(theme::kMouldText), part.name);
}

}  // namespace tiepoint::kit
