// The hill drawn: a strip under the board with the supply's step up at its left end and the parts of the path as steps down.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/panels.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

constexpr float kSmall = 11.5f, kLarge = 13;  // [CSS px] type

// Where volts and steps lie in the strip.
struct Scale {
  Box plot;
  double low = 0, high = 1;  // [V]
  float slot = 1;            // [CSS px] one step across
  float y(double volts) const { return plot.max.y - float((volts - low) / (high - low)) * plot.size().y; }
  float x(size_t step, float within) const { return plot.min.x + (float(step) + within) * slot; }
};

Fill by_height(const Scale& s, float alpha) {
  const auto colour = [&](float t) { return level_colour(t, alpha); };
  return {{0, s.plot.max.y},
          {0, s.plot.min.y},
          {{0, colour(0)}, {0.35f, colour(0.35f)}, {0.6f, colour(0.6f)}, {0.8f, colour(0.8f)}, {1, colour(1)}}};
}

void draw_scale(Paint& paint, const Scale& s) {
  for (const double volts : {s.low, s.high}) {
    const float y = s.y(volts);
    paint.fill(rounded({{s.plot.min.x, y}, {s.plot.max.x, y + std::max(paint.px, 1.0f)}}, 0),
               theme::rgb(theme::kDisplayDim, 0.45f));
    paint.text({s.plot.min.x - 8, y}, 1, kSmall, theme::rgb(theme::kCompartmentText), fixed_text(volts, 2) + " V");
  }
}

std::string step_name(const Desk& desk, const Part& part) {
  const PartReading* reading = desk.reading_of(part);
  if (reading && reading->state == State::kOpen) return say("bench.hill.open", {{"part", part.name}});
  return part.name;
}

// One step as a thing to point at: it marks its part on the board, and a click selects it.
bool touched(Desk& desk, const Part& part, const Box& box) {
  ImGui::SetCursorScreenPos(box.min);
  ImGui::PushID(part.name.data(), part.name.data() + part.name.size());
  const bool clicked = ImGui::InvisibleButton("hill step", box.size());
  const bool hovered = ImGui::IsItemHovered();
  ImGui::PopID();
  desk.mark("hill", part.name, {}, box);
  if (hovered) desk.hovered = part.name, ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (clicked) desk.select(part.name, false);
  return hovered;
}

void draw_steps(Desk& desk, const Scale& s, std::span<const HillStep> steps, const std::vector<size_t>& shown) {
  Paint& paint = desk.paint;
  const Board& board = desk.board();
  const Fill fill = by_height(s, 0.78f);
  ImVec2 at = {s.plot.min.x, s.y(s.low)};
  double last = s.low;
  std::vector<ImVec2> line = {at};
  struct Drop {
    ImVec2 at;
    std::string words;
  };
  std::vector<Drop> drops;
  const auto go = [&](ImVec2 to) {
    // A little over the next piece, so that no seam shows.
    paint.fill(polygon({at, to, {to.x + 0.7f, to.y}, {to.x + 0.7f, s.plot.max.y}, {at.x, s.plot.max.y}}), fill);
    line.push_back(to);
    at = to;
  };
  for (size_t k = 0; k < shown.size(); ++k) {
    const HillStep& step = steps[shown[k]];
    const Part* part = board.find(step.part);
    if (!part) continue;
    const bool known = has_reading(step.before) && has_reading(step.after);
    const double before = has_reading(step.before) ? step.before : last, after = has_reading(step.after) ? step.after : before;
    const Box box = {{s.x(k, 0), s.plot.min.y - 16}, {s.x(k, 1), s.plot.max.y + 24}};
    const bool hovered = touched(desk, *part, box);
    const bool chosen = desk.selects(part->name);
    if (hovered || chosen)
      paint.fill(rounded({{box.min.x, s.plot.min.y}, {box.max.x, box.max.y}}, 6),
                 theme::rgb(theme::kWhite, hovered ? 0.13f : 0.08f));
    const float steep = k == 0 ? 0.42f : 0.22f;  // the supply lifts at once, a part lets down gently
    go({s.x(k, steep), s.y(before)});
    go({s.x(k, 1 - steep), s.y(after)});
    go({s.x(k, 1), s.y(after)});
    last = after;
    const std::string name = step_name(desk, *part);
    const float room = s.slot - 4, wide = paint.text_width(kLarge, name);
    paint.text({s.x(k, 0.5f), s.plot.max.y + 14}, 0.5f, kLarge * std::min(1.0f, room / wide),
               theme::rgb(chosen ? theme::kSelect : theme::kPillText), name, Weight::kStrong);
    const std::string drop = known ? fixed_text(std::abs(after - before), 2) + " V" : std::string(say("bench.hill.unknown"));
    if (room < paint.text_width(kSmall, drop) + 12 && !hovered) continue;
    const float middle = (s.y(before) + s.y(after)) / 2;
    drops.push_back({{s.x(k, 0.5f), std::clamp(middle, s.plot.min.y + 2, s.plot.max.y - 12)}, drop});
  }
  paint.path(line, 3, theme::rgb(theme::kPillText));
  for (const Drop& drop : drops) draw_pill(paint, drop.at, drop.words);
}

bool close_button(Desk& desk, const Box& box) {
  ImGui::SetCursorScreenPos(box.min);
  const bool clicked = ImGui::InvisibleButton("hill close", box.size());
  const bool hovered = ImGui::IsItemHovered();
  if (hovered) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  desk.mark("hill", "close", {}, box);
  if (hovered) desk.paint.fill(rounded(box, 7), theme::rgb(theme::kCompartmentHover));
  const ImVec2 c = box.centre();
  const ImU32 ink = theme::rgb(theme::kPillText);
  desk.paint.line(c - ImVec2{5, 5}, c + ImVec2{5, 5}, 1.8f, ink);
  desk.paint.line(c + ImVec2{-5, 5}, c + ImVec2{5, -5}, 1.8f, ink);
  return clicked;
}

// "9.45 mA all the way round", where no branch takes part of it; else what flows through the chosen part.
std::string current_in_words(const Desk& desk, std::span<const HillStep> steps) {
  constexpr double kAlike = 0.01;
  double most = 0, least = 1e9, through = kNoReading;
  for (const HillStep& step : steps) {
    if (!has_reading(step.current)) return {};
    most = std::max(most, std::abs(step.current)), least = std::min(least, std::abs(step.current));
    const Part* part = desk.board().find(step.part);
    if (part && part->name == desk.hill.part()) through = step.current;
  }
  if (most < kIdleCurrent) return std::string(say("bench.hill.no-current"));
  if (most - least <= kAlike * most) return say("bench.hill.current", {{"current", say_quantity(most, "A")}});
  if (!has_reading(through)) return {};
  return say("bench.hill.through",
             {{"current", say_quantity(std::abs(through) < kIdleCurrent ? 0 : through, "A")}, {"part", desk.hill.part()}});
}

}  // namespace

float hill_height(float room) { return std::clamp(0.27f * room, 84.0f, 172.0f); }

void hill_panel(Desk& desk, const Box& area) {
  Paint& paint = desk.paint;
  paint.fill(rounded(area, 0), theme::rgb(theme::kDisplay));
  paint.fill(rounded({area.min, {area.max.x, area.min.y + std::max(paint.px, 1.0f)}}, 0), theme::rgb(theme::kCompartmentLine));
  if (!desk.selected().empty()) desk.hill.choose(desk.board(), desk.selected());
  const std::vector<HillStep>& steps = desk.hill.steps(desk.session);

  const Box close = {{area.max.x - 36, area.min.y + 4}, {area.max.x - 8, area.min.y + 32}};
  if (close_button(desk, close)) {
    desk.view.hill = false;
    ++desk.view_revision;
  }
  const bool low = area.size().y < 120;
  const std::string title =
      steps.empty() ? say(desk.hill.part().empty() ? "bench.hill.empty" : "bench.hill.none", {{"part", desk.hill.part()}})
                    : say("bench.hill.title", {{"part", desk.hill.part()}});
  const float room = close.min.x - area.min.x - 24;
  const float em = kLarge * std::min(1.0f, room / paint.text_width(kLarge, title));
  if (steps.empty()) {
    paint.text({area.min.x + 16, area.centre().y}, 0, em, theme::rgb(theme::kPillText), title);
    return;
  }
  paint.text({area.min.x + 16, area.min.y + 15}, 0, em, theme::rgb(theme::kCompartmentText), title, Weight::kStrong);
  const std::string flows = current_in_words(desk, steps);
  if (paint.text_width(em, title) + paint.text_width(kSmall, flows) + 40 < room)
    paint.text({close.min.x - 10, area.min.y + 16}, 1, kSmall, theme::rgb(theme::kDisplayText), flows);

  std::vector<size_t> shown;
  Scale s;
  s.low = s.high = 0;
  for (size_t k = 0; k < steps.size(); ++k) {
    for (const double volts : {steps[k].before, steps[k].after})
      if (has_reading(volts)) s.low = std::min(s.low, volts), s.high = std::max(s.high, volts);
    if (!is_flat(desk.board(), steps[k])) shown.push_back(k);
  }
  s.high = std::max(s.high, s.low + 0.1);
  s.plot = {{area.min.x + 62, area.min.y + (low ? 30.0f : 40.0f)}, {area.max.x - 20, area.max.y - 28}};
  s.slot = std::min(s.plot.size().x / float(shown.size()), 190.0f);
  s.plot.max.x = s.plot.min.x + s.slot * float(shown.size());
  draw_scale(paint, s);
  draw_steps(desk, s, steps, shown);
}

}  // namespace tiepoint
