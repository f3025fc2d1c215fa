// The oscilloscope: a case with a square-ruled screen, beside it a row of buttons for each thing that is set, below them the sockets.
#include "shell/bench/draw_scope.h"

#include <algorithm>
#include <cmath>

#include "shell/bench/draw_kinds.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

using theme::rgb;
using theme::shade;

constexpr float kButton = 0.98f, kPitch = 1.16f;             // [hole steps]
constexpr float kLeft = 1.15f, kRight = 9.95f, kTop = -3.95f;  // of the panel
constexpr float kSwitchRow = 3.2f;
constexpr int kMostColumns = 640;

Box about(const Pose& pose, float x, float y, float w, float h) {
  const ImVec2 corner = pose.centre + ImVec2{x, y} * pose.scale;
  return {corner, corner + ImVec2{w, h} * pose.scale};
}

float row_y(int row) { return kTop + kPitch * float(row); }

std::string_view switch_label(const Part& part, ScopeSwitch action) {
  namespace v = scope_value;
  switch (action) {
    case ScopeSwitch::kRun: return part.values[v::kRunning] != 0 ? "bench.scope.hold" : "bench.scope.run";
    case ScopeSwitch::kSingle: return "bench.scope.single";
    case ScopeSwitch::kFit: return "bench.scope.fit";
    case ScopeSwitch::kChart: return "bench.scope.chart";
    default: return "";
  }
}

bool lit(const Part& part, const ScopeButton& b) {
  namespace v = scope_value;
  switch (b.action) {
    case ScopeSwitch::kRun: return part.values[v::kRunning] == 0;
    case ScopeSwitch::kSingle: return part.values[v::kMode] == 2;
    case ScopeSwitch::kChart: return part.values[v::kDisplay] != 0;
    case ScopeSwitch::kShown: return part.values[size_t(v::of_channel(b.channel, v::kShown))] != 0;
    default: return false;
  }
}

// ---- Screen

using Grid = ScopeGrid;

void draw_ruling(Paint& paint, const Grid& g) {
  for (int i = 0; i <= int(kSquaresAcross); ++i) {
    const bool strong = i == 0 || 2 * i == int(kSquaresAcross) || i == int(kSquaresAcross);
    const float x = g.x(i - kSquaresAcross / 2);
    paint.thin({x, g.box.min.y}, {x, g.box.max.y}, paint.px, rgb(theme::kDisplayDim, strong ? 0.42f : 0.20f));
  }
  for (int i = 0; i <= int(kSquaresUp); ++i) {
    const bool strong = i == 0 || 2 * i == int(kSquaresUp) || i == int(kSquaresUp);
    const float y = g.y(i - kSquaresUp / 2);
    paint.thin({g.box.min.x, y}, {g.box.max.x, y}, paint.px, rgb(theme::kDisplayDim, strong ? 0.42f : 0.20f));
  }
}

// Samples joined by lines where there are few of them; else a stroke from lowest to highest for each column of pixels.
void draw_trace(Paint& paint, const Grid& g, const Scope& scope, int c) {
  const ScopeScreen& screen = scope.screen();
  const std::vector<Sample>& samples = screen.channel[size_t(c)].samples;
  const double span = screen.to - screen.from;
  if (samples.empty() || !(span > 0)) return;
  const ImU32 colour = rgb(trace_colour(c));
  const float width = std::max(1.6f, g.box.size().x / 190);
  const auto height = [&](double v) { return g.y(std::clamp(scope.settings().height(c, v), -100.0, 100.0)); };
  const int columns = std::clamp(int(g.box.size().x), 32, kMostColumns);
  if (samples.size() <= size_t(2 * columns)) {
    ImVec2 line[2 * kMostColumns];
    int n = 0;
    const auto flush = [&] {
      if (n > 1) paint.trace({line, size_t(n)}, width, colour);
      n = 0;
    };
    for (const Sample& s : samples) {
      if (std::isnan(s.value)) {
        flush();
        continue;
      }
      line[n++] = {g.box.min.x + float((s.time - screen.from) / span) * g.box.size().x, height(s.value)};
    }
    flush();
    return;
  }
  Column column[kMostColumns];
  into_columns(samples, screen.from, screen.to, {column, size_t(columns)});
  const float step = g.box.size().x / float(columns);
  for (int i = 0; i < columns; ++i) {
    if (column[i].low > column[i].high) continue;
    const float x = g.box.min.x + step * float(i);
    paint.bar({{x, height(column[i].high) - width / 2}, {x + step + 0.25f, height(column[i].low) + width / 2}}, colour);
  }
}

void draw_dashes(Paint& paint, ImVec2 a, ImVec2 b, float dash, ImU32 colour) {
  const float whole = length(b - a);
  const ImVec2 way = unit(b - a);
  for (float at = 0; at < whole; at += 2 * dash) paint.thin(a + way * at, a + way * std::min(at + dash, whole), std::max(1.2f, paint.px), colour);
}

// The channel's number beside its zero line, at the left edge.
void draw_zero_marks(Paint& paint, const Grid& g, const Scope& scope, float em) {
  for (int c = 0; c < scope.settings().channels; ++c) {
    if (!scope.settings().channel[size_t(c)].shown) continue;
    const float y = std::clamp(g.y(scope.settings().height(c, 0)), g.box.min.y, g.box.max.y), r = 0.62f * em;
    const ImVec2 tip = {g.box.min.x + 0.3f * em, y};
    const ImU32 colour = rgb(trace_colour(c));
    paint.triangle(tip - ImVec2{0.5f * em, 0.5f * em}, tip, tip - ImVec2{0.5f * em, -0.5f * em}, colour);
    paint.fill(rounded(Box{{tip.x - 0.35f * em - 2 * r, y - r}, {tip.x - 0.35f * em, y + r}}, 0.3f * em), colour);
    static constexpr std::string_view kNumbers[] = {"1", "2", "3", "4"};
    if (em > 5) paint.text({tip.x - 0.35f * em - r, y}, 0.5f, em, rgb(theme::kDisplay), kNumbers[c], Weight::kStrong);
  }
}

// Where the trigger looks: its level at the right edge, its moment at the upper one.
void draw_trigger_marks(Paint& paint, const Grid& g, const ScopeSettings& s, float em) {
  if (s.chart) return;
  const float h = 0.5f * em;
  const float y = std::clamp(g.y(s.height(s.source, s.level)), g.box.min.y, g.box.max.y);
  const ImU32 colour = rgb(trace_colour(s.source));
  paint.triangle({g.box.max.x - h, y}, {g.box.max.x + h, y - h}, {g.box.max.x + h, y + h}, colour);
  const float x = g.x(s.shift);
  paint.triangle({x - h, g.box.min.y}, {x + h, g.box.min.y}, {x, g.box.min.y + 1.6f * h}, rgb(theme::kPillText));
}

void draw_cursors(Paint& paint, const Grid& g, const ScopeSettings& s, float em) {
  const ImU32 colour = rgb(theme::kPillText, 0.9f);
  const float dash = 0.45f * em;
  static constexpr std::string_view kNames[2][2] = {{"A", "B"}, {"C", "D"}};
  for (int k = 0; k < 2; ++k) {
    if (s.time_cursors) {
      const float x = g.x(s.time_cursor[size_t(k)]);
      draw_dashes(paint, {x, g.box.min.y}, {x, g.box.max.y}, dash, colour);
      if (em > 5) paint.text({x + 0.55f * em, g.box.max.y - 0.7f * em}, 0.5f, em, colour, kNames[0][k], Weight::kStrong);
    }
    if (s.level_cursors) {
      const float y = g.y(s.level_cursor[size_t(k)]);
      draw_dashes(paint, {g.box.min.x, y}, {g.box.max.x, y}, dash, colour);
      if (em > 5) paint.text({g.box.max.x - 0.9f * em, y - 0.65f * em}, 0.5f, em, colour, kNames[1][k], Weight::kStrong);
    }
  }
}

std::string cursor_words(const Scope& scope) {
  const ScopeSettings& s = scope.settings();
  const double time = std::fabs(s.time_cursor[1] - s.time_cursor[0]) * s.time;
  const double level = std::fabs(s.level_cursor[1] - s.level_cursor[0]) * s.channel[size_t(s.cursor_channel)].volts;
  const std::string times = measured_value(time, "s"), levels = measured_value(level, "V");
  if (s.time_cursors && s.level_cursors) return say("bench.scope.cursors.both", {{"time", times}, {"level", levels}});
  if (s.time_cursors) return say("bench.scope.cursors.time", {{"time", times}});
  return say("bench.scope.cursors.level", {{"level", levels}});
}

}  // namespace

uint32_t trace_colour(int channel) {
  static constexpr uint32_t kColours[kMostChannels] = {theme::kTrace1, theme::kTrace2, theme::kTrace3, theme::kTrace4};
  return kColours[std::clamp(channel, 0, kMostChannels - 1)];
}

std::string measured_value(double value, std::string_view unit) {
  if (std::fabs(value) < 1e-12) return say_quantity(0, unit);
  const double last = std::pow(10, std::floor(std::log10(std::fabs(value))) - 2);
  return say_quantity(std::round(value / last) * last, unit);
}

std::string scope_words(const Scope& scope, int channel) {
  const Measured& m = scope.screen().channel[size_t(channel)].measured;
  if (std::isnan(m.peak_to_peak)) return {};
  const std::string swing = measured_value(m.peak_to_peak, "V");
  if (m.periods > 0) return say("bench.scope.wave", {{"frequency", measured_value(m.frequency, "Hz")}, {"swing", swing}});
  if (m.peak_to_peak > 0.1 * scope.settings().channel[size_t(channel)].volts) return say("bench.scope.swing", {{"swing", swing}});
  return measured_value(m.mean, "V");
}

ScopeGrid scope_grid(const Box& glass, float em, const ScopeSettings& settings) {
  const float side = 1.75f * em, row = 1.5f * em;
  // Square squares in what is left beside the marks and the rows of words.
  const float square = std::min((glass.size().x - side - 0.8f * em) / float(kSquaresAcross), (glass.size().y - 2.2f * row) / float(kSquaresUp));
  const ImVec2 half = ImVec2{float(kSquaresAcross), float(kSquaresUp)} * (square / 2);
  const ImVec2 middle = {glass.min.x + side + (glass.size().x - side - 0.8f * em) / 2, glass.centre().y};
  return {{middle - half, middle + half}, settings};
}

void draw_scope_screen(Paint& paint, const Box& glass, const Scope& scope, float em) {
  const ScopeSettings& s = scope.settings();
  const Grid g = scope_grid(glass, em, s);
  paint.clip(glass);
  draw_ruling(paint, g);
  paint.clip(g.box);
  for (int c = s.channels - 1; c >= 0; --c)
    if (s.channel[size_t(c)].shown) draw_trace(paint, g, scope, c);
  paint.unclip();
  draw_cursors(paint, g, s, em);
  draw_zero_marks(paint, g, scope, em);
  draw_trigger_marks(paint, g, s, em);
  if (em >= 5) {
    const float top = g.box.min.y - 0.85f * em, bottom = g.box.max.y + 0.85f * em;
    float x = g.box.min.x;
    for (int c = 0; c < s.channels; ++c) {
      if (!s.channel[size_t(c)].shown) continue;
      const std::string words = scope_words(scope, c);
      if (words.empty() || x + paint.text_width(em, words) > g.box.max.x) continue;
      paint.text({x, top}, 0, em, rgb(trace_colour(c)), words);
      x += paint.text_width(em, words) + 1.2f * em;
    }
    const std::string across = say("bench.scope.across", {{"time", std::string(say_quantity(s.time, "s"))}});
    paint.text({g.box.min.x, bottom}, 0, em, rgb(theme::kPillText), across);
    const std::string right = s.time_cursors || s.level_cursors ? cursor_words(scope) : std::string(say("scope.state." + std::string(key(scope.screen().state))));
    if (paint.text_width(em, across) + paint.text_width(em, right) + em < g.box.size().x)
      paint.text({g.box.max.x, bottom}, 1, em, rgb(theme::kPillText), right);
  }
  paint.unclip();
}

uint64_t seen_on(const Scope& scope) {
  uint64_t hash = 1469598103934665603ull ^ uint64_t(scope.screen().state);
  const ScopeScreen& screen = scope.screen();
  Column column[160];
  for (int c = 0; c < scope.settings().channels; ++c) {
    if (!scope.settings().channel[size_t(c)].shown) continue;
    into_columns(screen.channel[size_t(c)].samples, screen.from, screen.to, column);
    for (const Column& one : column)
      for (const double v : {one.low, one.high}) {
        const double height = std::clamp(scope.settings().height(c, v), -100.0, 100.0);
        hash = (hash ^ uint64_t(int64_t(std::floor(height * 32 + 0.5)))) * 1099511628211ull;
      }
  }
  return hash;
}

Box scope_glass(const Pose& pose) { return about(pose, -10.15f, -4.95f, 10.95f, 9.9f); }
Box scope_panel(const Pose& pose) { return about(pose, kLeft - 0.1f, kTop - 0.15f, kRight - kLeft + 0.2f, kSwitchRow + kButton - kTop + 0.25f); }

int scope_buttons(const Part& part, const Pose& pose, ScopeButton (&out)[kMostScopeButtons]) {
  int n = 0;
  const auto knob = [&](ScopeKnob which, int channel, int row) {
    for (const int step : {-1, 1}) {
      const float x = step < 0 ? kRight - 5.05f : kRight - kButton;
      out[n++] = {.knob = true, .which = which, .channel = channel, .step = step, .box = about(pose, x, row_y(row), kButton, kButton)};
    }
  };
  knob(ScopeKnob::kTime, 0, 0);
  const int channels = channels_of(*part.kind);
  for (int c = 0; c < channels; ++c) {
    out[n++] = {.action = ScopeSwitch::kShown, .channel = c, .box = about(pose, kLeft, row_y(1 + c), kButton, kButton)};
    knob(ScopeKnob::kVolts, c, 1 + c);
  }
  knob(ScopeKnob::kLevel, 0, 1 + channels);
  const ScopeSwitch row[] = {ScopeSwitch::kRun, ScopeSwitch::kSingle, ScopeSwitch::kChart, ScopeSwitch::kFit};
  const float width = (kRight - kLeft - 3 * 0.16f) / 4;
  for (int k = 0; k < 4; ++k) out[n++] = {.action = row[k], .box = about(pose, kLeft + float(k) * (width + 0.16f), kSwitchRow, width, kButton)};
  return n;
}

std::optional<Edit> fit_scope(const Part& part, const Scope& scope) {
  namespace v = scope_value;
  const std::optional<ScopeSettings> fit = fitted(scope);
  if (!fit) return std::nullopt;
  Batch batch;
  const auto set = [&](int index, double value) {
    if (part.values[size_t(index)] != value) batch.edits.push_back({SetValue{part.name, std::string(part.kind->values[size_t(index)].key), value}});
  };
  const auto step_of = [](const auto& steps, double value) {
    return double(std::find_if(steps.begin(), steps.end(), [&](const ScaleStep& s) { return s.value == value; }) - steps.begin());
  };
  set(v::kRunning, 1);
  set(v::kTime, step_of(kTimeScale, fit->time));
  set(v::kShift, fit->shift);
  set(v::kSource, fit->source);
  const ValueSpec& level = part.kind->values[v::kLevel];
  set(v::kLevel, std::clamp(std::round(fit->level * 100) / 100, level.minimum, level.maximum));
  set(v::kMode, double(fit->mode));
  for (int c = 0; c < fit->channels; ++c) {
    set(v::of_channel(c, v::kVolts), step_of(kVoltScale, fit->channel[size_t(c)].volts));
    set(v::of_channel(c, v::kPosition), fit->channel[size_t(c)].position);
  }
  if (batch.edits.empty()) return std::nullopt;
  return Edit{std::move(batch)};
}

std::optional<Edit> scope_edit(const Part& part, const Scope& scope, const ScopeButton& b) {
  namespace v = scope_value;
  const auto set = [&](int index, double value) -> std::optional<Edit> {
    const ValueSpec& spec = part.kind->values[size_t(index)];
    value = std::clamp(value, spec.minimum, spec.maximum);
    if (value == part.values[size_t(index)]) return std::nullopt;
    return Edit{SetValue{part.name, std::string(spec.key), value}};
  };
  const auto next = [&](int index, int step) { return set(index, part.values[size_t(index)] + step); };
  if (b.knob) {
    const ScopeSettings& s = scope.settings();
    const double quarter = 0.25 * s.channel[size_t(s.source)].volts;
    switch (b.which) {
      case ScopeKnob::kTime: return next(v::kTime, b.step);
      case ScopeKnob::kVolts: return next(v::of_channel(b.channel, v::kVolts), b.step);
      case ScopeKnob::kLevel: return set(v::kLevel, std::round(s.level / quarter + b.step) * quarter);
    }
  }
  switch (b.action) {
    case ScopeSwitch::kRun: return set(v::kRunning, 1 - part.values[v::kRunning]);
    case ScopeSwitch::kSingle: {
      if (part.values[v::kMode] == 2) return set(v::kMode, 0);
      Batch batch;  // a strip has no trigger
      for (const auto& edit : {set(v::kDisplay, 0), set(v::kRunning, 1), set(v::kMode, 2)})
        if (edit) batch.edits.push_back(*edit);
      return Edit{std::move(batch)};
    }
    case ScopeSwitch::kChart: return set(v::kDisplay, 1 - part.values[v::kDisplay]);
    case ScopeSwitch::kShown: return set(v::of_channel(b.channel, v::kShown), 1 - part.values[size_t(v::of_channel(b.channel, v::kShown))]);
    case ScopeSwitch::kFit: return fit_scope(part, scope);
  }
  return std::nullopt;
}

namespace kit {
namespace {

void draw_button_face(Paint& paint, const Box& box, float s, ImU32 face) {
  paint.fill(rounded({box.min + ImVec2{0, 0.05f * s}, box.max + ImVec2{0, 0.07f * s}}, 0.2f * s), shade(rgb(theme::kCaseDark), -0.3f));
  paint.fill(rounded(box, 0.2f * s), {box.min, {box.min.x, box.max.y}, {{0, shade(face, 0.14f)}, {1, shade(face, -0.06f)}}});
}

void draw_buttons(Paint& paint, const Part& part, const Pose& pose) {
  const float s = pose.scale, em = 0.46f * s;
  ScopeButton buttons[kMostScopeButtons];
  const int n = scope_buttons(part, pose, buttons);
  for (int i = 0; i < n; ++i) {
    const ScopeButton& b = buttons[i];
    const bool on = !b.knob && lit(part, b);
    const bool channel = !b.knob && b.action == ScopeSwitch::kShown;
    draw_button_face(paint, b.box, s, rgb(on ? channel ? trace_colour(b.channel) : theme::kSelect : theme::kCaseDark));
    const ImU32 ink = rgb(on ? theme::kDisplay : theme::kCaseText);
    const ImVec2 c = b.box.centre();
    if (b.knob) {
      const float h = 0.2f * s, w = std::max(0.09f * s, 1.2f);
      paint.thin(c - ImVec2{h, 0}, c + ImVec2{h, 0}, w, ink);
      if (b.step > 0) paint.thin(c - ImVec2{0, h}, c + ImVec2{0, h}, w, ink);
    } else if (channel) {
      static constexpr std::string_view kNumbers[] = {"1", "2", "3", "4"};
      fitted(paint, c, 0.5f, 0.56f * s, b.box.size().x, ink, kNumbers[b.channel], Weight::kStrong);
    } else {
      fitted(paint, c, 0.5f, em, b.box.size().x - 0.2f * s, ink, say(switch_label(part, b.action)), Weight::kStrong);
    }
  }
}

// What each row sets, and how it is set now.
void draw_rows(Paint& paint, const Part& part, const Pose& pose) {
  const float s = pose.scale, em = 0.48f * s;
  const ScopeSettings settings = scope_settings(part);
  const ImU32 ink = rgb(theme::kCaseText);
  const auto row = [&](int k, float x, std::string_view label, const std::string& value) {
    const float y = row_y(k) + kButton / 2;
    fitted(paint, pose.centre + ImVec2{x, y} * s, 0, em, (kRight - 5.2f - x) * s, ink, label);
    fitted(paint, pose.centre + ImVec2{kRight - 2.52f, y} * s, 0.5f, 0.54f * s, 2.9f * s, ink, value, Weight::kStrong);
  };
  row(0, kLeft, say("bench.scope.time"), say_quantity(settings.time, "s"));
  for (int c = 0; c < settings.channels; ++c)
    row(1 + c, kLeft + kButton + 0.25f, say("bench.scope.volts"), say_quantity(settings.channel[size_t(c)].volts, "V"));
  row(1 + settings.channels, kLeft, say("bench.scope.level"), say_quantity(settings.level, "V"));
}

}  // namespace

void draw_oscilloscope(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  housing(paint, pose, rgb(theme::kCase), 0.40f * s);
  const Box glass = scope_glass(pose);
  display(paint, glass, false, s);
  if (look.scope) {
    paint.piece();
    draw_scope_screen(paint, glass, *look.scope, kScopeType * s);
    paint.piece();
  } else {
    // In the box: two periods of a wave, so that it is known for what it is.
    ImVec2 wave[49];
    for (int i = 0; i <= 48; ++i) wave[i] = glass.min + ImVec2{glass.size().x * (0.08f + 0.84f * float(i) / 48), glass.size().y * (0.5f - 0.3f * std::sin(4 * kPi * float(i) / 48))};
    paint.path(wave, std::max(0.4f * s, 1.2f), rgb(theme::kTrace1));
  }
  draw_buttons(paint, part, pose);
  if (!look.in_box) {
    draw_rows(paint, part, pose);
    fitted(paint, f.at(kLeft, -4.62f), 0, 0.50f * s, 2.6f * s, rgb(theme::kCaseText), part.name, Weight::kStrong);
    fitted(paint, f.at(kRight, -4.62f), 1, 0.46f * s, 5.6f * s, rgb(theme::kCaseSmall), say("kind." + std::string(part.kind->key)));
  }
  for (int lead = 0; lead < pose.count; ++lead) {
    const bool ground = lead == ground_clip(*part.kind);
    terminal_post(paint, pose.root[lead], s, ground ? theme::kMinusWire : trace_colour(lead));
  }
}

}  // namespace kit
}  // namespace tiepoint
