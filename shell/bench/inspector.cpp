// The card beside the selected part: what it is, its values with their steps, what it does now, turn and remove.
#include <algorithm>
#include <cmath>

#include "engine/parts/led.h"
#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/draw_scope.h"
#include "shell/bench/panels.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {

using theme::rgb;

bool panel_button(Desk& desk, std::string_view id, const Box& box, std::string_view label, Face face, uint32_t chip,
                  bool chosen) {
  ImGui::SetCursorScreenPos(box.min);
  ImGui::PushID(id.data(), id.data() + id.size());
  const bool clicked = ImGui::InvisibleButton("button", box.size());
  ImGui::PopID();
  const bool hovered = ImGui::IsItemHovered(), active = ImGui::IsItemActive();
  desk.mark("inspector", id, {}, box);
  Paint& paint = desk.paint;
  if (hovered) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
  if (face == Face::kChip) {
    const ImVec2 c = box.centre();
    const float r = std::min(box.size().x, box.size().y) / 2 - 3;
    if (chosen) paint.stroke(circle(c, r + 2), 2, rgb(theme::kAccent));
    const ImU32 colour = rgb(chip);
    paint.fill(circle(c, chosen ? r - 1 : r),
               {c - ImVec2{0, r},
                c + ImVec2{0, r},
                {{0, theme::shade(colour, hovered ? 0.32f : 0.18f)}, {1, theme::shade(colour, -0.14f)}}});
    paint.stroke(circle(c, (chosen ? r - 1 : r) - 0.5f), 1, theme::fade(rgb(theme::kBlack), 0.22f));
    return clicked;
  }
  const bool danger = face == Face::kDanger;
  const uint32_t base = active ? theme::kCardLine : hovered ? theme::kFieldHover : theme::kField;
  if (face != Face::kQuiet || hovered) paint.fill(rounded(box, 7), rgb(base));
  if (face != Face::kQuiet) paint.stroke(rounded(box.grown(-0.5f), 6.5f), 1, rgb(danger ? 0xE3C3BC : theme::kCardLine));
  paint.text(box.centre(), 0.5f, 12.4f, rgb(danger ? theme::kDanger : theme::kCardText), label,
             face == Face::kQuiet ? Weight::kBody : Weight::kStrong);
  return clicked;
}

namespace {

constexpr float kWidth = 246, kPad = 14, kRow = 34;
constexpr float kSmall = 290;  // [CSS px] of bench, in either direction

struct Card {
  Desk& desk;
  const Part& part;
  std::string name;
  Box box;
  float y;
  // Edits wait until all is drawn: `part` must not change underfoot.
  std::optional<Edit> edit;
  bool turn = false, duplicate = false, remove = false, close = false;

  Paint& paint() { return desk.paint; }
  float left() const { return box.min.x + kPad; }
  float right() const { return box.max.x - kPad; }
};

std::string value_words(const ValueSpec& spec, double value) {
  if (!spec.options.empty()) {
    const std::string_view word = spec.options[std::min(size_t(std::max(value, 0.0)), spec.options.size() - 1)];
    const std::string key = "option." + std::string(word);
    return has_words(key) ? std::string(say(key)) : std::string(word);
  }
  return say_marking(value, spec.unit);
}

bool is_colour(const ValueSpec& spec) { return spec.key == "colour"; }

uint32_t chip_colour(const Part& part, std::string_view word) {
  return is_coloured_dome(type_of(part).body) ? theme::led_colour(word).light : theme::wire_colour(word);
}

void bands_row(Card& card, double resistance) {
  const std::string_view word = option_of(card.part, "tolerance");
  const std::optional<double> percent = parse_value(word.substr(0, word.find(' ')));
  const std::vector<Band> bands = bands_for(resistance, percent ? *percent / 100 : 0.05);
  if (bands.empty()) return;
  // A strip of the body with its rings, as one reads them from the left.
  const Box strip = {{card.left(), card.y}, {card.right(), card.y + 18}};
  Paint& paint = card.paint();
  const ImU32 base = rgb(theme::kResistor);
  paint.fill(
      rounded(strip, 9),
      {strip.min, {strip.min.x, strip.max.y}, {{0, theme::shade(base, 0.25f)}, {0.5f, base}, {1, theme::shade(base, -0.2f)}}});
  for (size_t i = 0; i < bands.size(); ++i) {
    const bool last = i + 1 == bands.size();
    const float x = last ? strip.max.x - 40 : strip.min.x + 34 + 30 * float(i);
    const ImU32 c = rgb(theme::band_colour(int(bands[i])));
    paint.fill(rounded({{x, strip.min.y}, {x + 13, strip.max.y}}, 0),
               {strip.min, {strip.min.x, strip.max.y}, {{0, theme::shade(c, 0.22f)}, {0.5f, c}, {1, theme::shade(c, -0.2f)}}});
  }
  card.y += 18 + 8;
}

void chips_row(Card& card, const ValueSpec& spec, double value) {
  const size_t n = spec.options.size();
  constexpr float kChip = 28;
  const int per_row = std::max(1, int((kWidth - 2 * kPad + 4) / kChip));
  for (size_t i = 0; i < n; ++i) {
    const ImVec2 corner = {card.left() - 3 + float(int(i) % per_row) * kChip, card.y + float(int(i) / per_row) * kChip};
    const std::string id = "colour." + std::string(spec.options[i]);
    if (panel_button(card.desk, id, {corner, corner + ImVec2{kChip, kChip}}, {}, Face::kChip,
                     chip_colour(card.part, spec.options[i]), int(value) == int(i)))
      card.edit = Edit{SetValue{card.name, std::string(spec.key), double(i)}};
  }
  card.y += float((int(n) + per_row - 1) / per_row) * kChip + 8;
}

void stepper_row(Card& card, const ValueSpec& spec, double value) {
  Paint& paint = card.paint();
  const std::string key(spec.key);
  const float top = card.y, mid = top + 15;
  const Box down = {{card.right() - 128, top}, {card.right() - 98, top + 30}},
            up = {{card.right() - 30, top}, {card.right(), top + 30}};
  const std::string label_key = "value." + key;
  paint.text({card.left(), mid}, 0, 12.0f, rgb(theme::kCardDim), say(label_key));
  paint.text({(down.max.x + up.min.x) / 2, mid}, 0.5f, 12.4f, rgb(theme::kCardText), value_words(spec, value), Weight::kStrong);
  const auto set = [&](int steps) {
    double next = value + steps;
    if (spec.options.empty())
      next = spec.series > 0 ? step_e_value(value, spec.series, steps) : value * (steps > 0 ? 1.1 : 1 / 1.1);
    next = std::clamp(next, spec.minimum, spec.maximum);
    if (next != value) card.edit = Edit{SetValue{card.name, key, next}};
  };
  if (panel_button(card.desk, key + ".down", down, "−", Face::kPlain)) set(-1);
  if (panel_button(card.desk, key + ".up", up, "+", Face::kPlain)) set(1);
  card.y += kRow + 2;
}

// The row of a value takes this much height.
float value_height(const ValueSpec& spec) {
  if (spec.use != Use::kValue) return 0;
  if (!is_colour(spec)) return kRow + 2;
  const int per_row = std::max(1, int((kWidth - 2 * kPad + 4) / 28));
  return float((int(spec.options.size()) + per_row - 1) / per_row) * 28 + 8;
}

bool shows(const ValueSpec& spec) { return spec.use == Use::kValue && spec.key != "gauge"; }

float height_of(const Part& part) {
  float h = kPad + 38 + 22;  // heading, what it does now
  if (is_oscilloscope(*part.kind)) {
    h -= 18;
    for (const ScopeSettings::Channel& channel : scope_settings(part).channel) h += channel.shown ? 18 : 0;
  }
  for (const ValueSpec& spec : part.kind->values) {
    if (shows(spec)) h += value_height(spec);
    if (spec.key == "resistance") h += 26;
  }
  if (has_position(part) || is_supply(part)) h += kRow + 2;
  const Ratings r = type_of(part).ratings ? type_of(part).ratings(part) : Ratings{};
  if (has_reading(r.power) || has_reading(r.current) || has_reading(r.voltage)) h += 20;
  return h + 34 + kPad;
}

// Beside the part: to its right, left, below or above, wherever it hides least of the other parts.
Box place_for(const Desk& desk, const Part& part, float height) {
  const Pose pose = desk.pose(part);
  Box about = pose.bounds();
  for (int i = 0; i < pose.count; ++i) {
    if (part.kind->footprint.seat == Seat::kMat && pose.seated[i]) continue;  // a plug on the mat must stay in reach
    about.min = {std::min(about.min.x, pose.lead[i].x), std::min(about.min.y, pose.lead[i].y)};
    about.max = {std::max(about.max.x, pose.lead[i].x), std::max(about.max.y, pose.lead[i].y)};
  }
  for (const MatPoint bend : part.bends) {  // the grips of a wire must stay in reach
    const ImVec2 at = desk.camera.screen(bend);
    about.min = {std::min(about.min.x, at.x), std::min(about.min.y, at.y)};
    about.max = {std::max(about.max.x, at.x), std::max(about.max.y, at.y)};
  }
  const Box& room = desk.bench;
  constexpr float kAway = 24, kEdge = 10;
  const ImVec2 c = about.centre();
  const ImVec2 places[] = {{about.max.x + kAway, c.y - height / 2},    {about.min.x - kAway - kWidth, c.y - height / 2},
                           {c.x - kWidth / 2, about.max.y + kAway},    {c.x - kWidth / 2, about.min.y - kAway - height},
                           {about.max.x + kAway, about.max.y + kAway}, {about.min.x - kAway - kWidth, about.max.y + kAway}};
  const auto shared = [](const Box& a, const Box& b) {
    const float w = std::min(a.max.x, b.max.x) - std::max(a.min.x, b.min.x),
                h = std::min(a.max.y, b.max.y) - std::max(a.min.y, b.min.y);
    return w > 0 && h > 0 ? w * h : 0.0f;
  };
  Box best;
  float least = 1e30f;
  for (ImVec2 corner : places) {
    const ImVec2 wanted = corner;
    corner.x = std::round(std::clamp(corner.x, room.min.x + kEdge, std::max(room.min.x + kEdge, room.max.x - kEdge - kWidth)));
    corner.y = std::round(std::clamp(corner.y, room.min.y + kEdge, std::max(room.min.y + kEdge, room.max.y - kEdge - height)));
    const Box box = {corner, corner + ImVec2{kWidth, height}};
    float cost = 40 * shared(box, about.grown(6)) + 3 * length(corner - wanted);
    for (const Part& other : desk.board().parts) {
      if (other.id == part.id) continue;
      const Pose p = desk.pose(other);
      cost += (has_momentary(other) || layer_of(other) == Layer::kStanding ? 6.0f : 1.0f) *
              shared(box, p.half.x > 0 ? p.bounds() : Box{p.lead[0], p.lead[1]});
    }
    if (cost < least) least = cost, best = box;
  }
  return best;
}

// At the upper or the lower edge, away from the part.
Box low_place(const Desk& desk, const Part& part) {
  constexpr float kHigh = 84, kAway = 6;
  const Box& room = desk.bench;
  const ImVec2 size = {std::min(kWidth + 40, room.size().x - 2 * kAway), kHigh};
  const float x = std::round(room.centre().x - size.x / 2);
  const bool above = desk.pose(part).centre.y > room.centre().y;
  const float y = above ? room.min.y + kAway : room.max.y - kAway - size.y;
  return {{x, y}, {x + size.x, y + size.y}};
}

void heading(Card& card) {
  Paint& paint = card.paint();
  const std::string kind(say("kind." + std::string(card.part.kind->key)));
  paint.text({card.left(), card.y + 10}, 0, 16.0f, rgb(theme::kCardText), card.name, Weight::kStrong);
  const float width = paint.text_width(16.0f, card.name, Weight::kStrong);
  paint.text({card.left() + width + 9, card.y + 10.5f}, 0, 12.0f, rgb(theme::kCardDim), kind);
  if (panel_button(card.desk, "close", {{card.box.max.x - 36, card.box.min.y + 6}, {card.box.max.x - 6, card.box.min.y + 36}},
                   "×", Face::kQuiet))
    card.close = true;
  card.y += 30;
}

// A line for each trace: what is measured of it.
void scope_doing(Card& card, const Scope& scope) {
  for (int c = 0; c < scope.settings().channels; ++c) {
    if (!scope.settings().channel[size_t(c)].shown) continue;
    const std::string words = scope_words(scope, c), number = std::to_string(c + 1);
    card.paint().text({card.left(), card.y + 8}, 0, 12.0f, rgb(0x0F6B65),
                      words.empty() ? say("bench.scope.trace.nothing", {{"channel", number}}) : say("bench.scope.trace", {{"channel", number}, {"measured", words}}));
    card.y += 18;
  }
  card.y += 8;
}

void doing(Card& card) {
  const PartReading* r = card.desk.reading_of(card.part);
  if (r == nullptr) return;
  const std::string state(say("state." + std::string(key(r->state))));
  if (const Scope* scope = card.desk.session.scope(card.part.id)) return scope_doing(card, *scope);
  const std::string words =
      has_reading(r->current) && std::fabs(r->current) > 1e-6
          ? say("bench.inspector.now",
                {{"state", state}, {"current", say_quantity(r->current, "A")}, {"voltage", say_quantity(r->voltage, "V")}})
          : state;
  const bool strained = r->state == State::kTooHot || r->state == State::kTooBright || r->state == State::kOverloaded ||
                        r->state == State::kOverVoltage || r->state == State::kAtLimit || r->state == State::kBeingCharged ||
                        r->state == State::kBroken;
  card.paint().text({card.left(), card.y + 8}, 0, 12.0f, rgb(strained ? theme::kDanger : 0x0F6B65), words);
  card.y += 26;
}

void rating(Card& card) {
  const Ratings r = type_of(card.part).ratings ? type_of(card.part).ratings(card.part) : Ratings{};
  std::string words;
  for (const auto& [value, unit] : {std::pair{r.power, "W"}, std::pair{r.current, "A"}, std::pair{r.voltage, "V"}})
    if (has_reading(value)) words += (words.empty() ? "" : ", ") + say_quantity(value, unit);
  if (words.empty()) return;
  card.paint().text({card.left(), card.y + 6}, 0, 11.5f, rgb(theme::kCardDim),
                    say("bench.inspector.rating", {{"rating", words}}));
  card.y += 20;
}

void draw_card(Paint& paint, const Box& box) {
  paint.list->PushClipRectFullScreen();
  paint.shadow(box, 11, 22, {0, 8}, 0.50f);
  paint.shadow(box, 11, 4, {0, 1.5f}, 0.30f);
  paint.fill(rounded(box, 11), rgb(theme::kCard));
  paint.stroke(rounded(box.grown(-0.5f), 10.5f), 1, rgb(theme::kCardLine));
  paint.list->PopClipRect();
}

// A window of its own; gives back the list that was drawn to before.
ImDrawList* begin_card(Desk& desk, const Box& box) {
  ImGui::SetNextWindowPos(box.min);
  ImGui::SetNextWindowSize(box.size());
  ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2{0, 0});
  ImGui::PushStyleVar(ImGuiStyleVar_WindowBorderSize, 0.0f);
  ImGui::Begin("inspector", nullptr,
               ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                   ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoNav | ImGuiWindowFlags_NoFocusOnAppearing);
  ImGui::PopStyleVar(2);
  ImDrawList* before = desk.paint.list;
  desk.paint.list = ImGui::GetWindowDrawList();
  draw_card(desk.paint, box);
  desk.mark("inspector", {}, {}, box);
  return before;
}

// Turn, duplicate, remove, side by side.
struct Hands {
  bool turn = false, duplicate = false, remove = false;
};
Hands hands_row(Desk& desk, float left, float right, float y, bool turns) {
  constexpr float kGap = 6;
  // Shared out by the length of their words in English; the longest may grow.
  const float room = right - left, turn = turns ? 0.25f * room : -kGap, remove = 0.33f * room;
  Hands out;
  if (turns) out.turn = panel_button(desk, "turn", {{left, y}, {left + turn, y + 32}}, say("part.turn"), Face::kPlain);
  out.duplicate = panel_button(desk, "duplicate", {{left + turn + kGap, y}, {right - remove - kGap, y + 32}}, say("part.duplicate"), Face::kPlain);
  out.remove = panel_button(desk, "remove", {{right - remove, y}, {right, y + 32}}, say("part.remove"), Face::kDanger);
  return out;
}

// What can be done with several parts: a low card at the edge of the bench where it hides fewer parts.
void several_card(Desk& desk) {
  constexpr float kAway = 10, kLow = 320;
  const Box& room = desk.bench;
  const bool slim = room.size().y < kLow;  // a phone: one row, so that the board stays in sight
  const float height = slim ? 44 : 98;
  const ImVec2 size = {std::min(slim ? 340.0f : 312.0f, room.size().x - 2 * kAway), height};
  bool turns = false;
  for (const std::string& name : desk.selection)
    if (const Part* part = desk.board().find(name)) turns = turns || part->kind->footprint.seat != Seat::kMat;
  const float x = std::round(room.centre().x - size.x / 2);
  const Box low = {{x, room.max.y - height - kAway}, {x + size.x, room.max.y - kAway}};
  const Box high = {{x, room.min.y + kAway}, {x + size.x, room.min.y + kAway + height}};
  const auto hidden = [&](const Box& box) {
    return std::count_if(desk.board().parts.begin(), desk.board().parts.end(), [&](const Part& part) {
      const Pose pose = desk.pose(part);
      const Box body = pose.half.x > 0 ? pose.bounds() : Box{pose.lead[0], pose.lead[0]};
      return body.min.x < box.max.x && body.max.x > box.min.x && body.min.y < box.max.y && body.max.y > box.min.y;
    });
  };
  const Box box = hidden(high) < hidden(low) ? high : low;
  ImDrawList* before = begin_card(desk, box);
  const float left = box.min.x + kPad, right = box.max.x - kPad;
  const std::string count = std::to_string(desk.selection.size());
  const float top = box.min.y + (slim ? 7.0f : 4.0f);
  if (slim) {
    desk.paint.text({left, box.centre().y}, 0, 13.0f, rgb(theme::kCardText), say("bench.several.short", {{"count", count}}), Weight::kStrong);
  } else {
    desk.paint.text({left, box.min.y + 19}, 0, 14.5f, rgb(theme::kCardText), say("bench.several", {{"count", count}}), Weight::kStrong);
    desk.paint.text({left, box.min.y + 39}, 0, 12.0f, rgb(theme::kCardDim), names_in_words(desk.selection));
  }
  const bool close = panel_button(desk, "close", {{box.max.x - 36, top}, {box.max.x - 6, top + 30}}, "×", Face::kQuiet);
  const Hands hands = slim ? hands_row(desk, left + 66, box.max.x - 40, box.min.y + 6, turns) : hands_row(desk, left, right, box.min.y + 54, turns);
  desk.paint.list = before;
  ImGui::End();
  if (close)
    desk.select({});
  else if (hands.remove)
    desk.remove_selected();
  else if (hands.duplicate)
    void(desk.duplicate_selected());
  else if (hands.turn)
    desk.turn_selected();
}

}  // namespace

void inspector(Desk& desk) {
  if (desk.tool || !desk.card_shown) return;
  if (desk.selection.size() > 1) return several_card(desk);
  const Part* part = desk.selected_part();
  if (part == nullptr) return;
  // A telephone: a low card at the edge, its rows only when they are asked for; the notebook has them too.
  const bool small = std::min(desk.bench.size().x - 80, desk.bench.size().y) < kSmall, low = small && !desk.card_whole;
  const Box box = low ? low_place(desk, *part) : place_for(desk, *part, height_of(*part));
  ImDrawList* before = begin_card(desk, box);

  Card card{desk, *part, part->name, box, box.min.y + (low ? 8 : kPad), {}};
  heading(card);
  if (low) {
    const bool more = panel_button(desk, "more", {{box.max.x - 98, box.min.y + 6}, {box.max.x - 40, box.min.y + 36}}, say("bench.inspector.more"), Face::kQuiet);
    const Hands hands = hands_row(desk, card.left(), card.right(), box.min.y + 44, part->kind->footprint.seat != Seat::kMat);
    desk.paint.list = before;
    ImGui::End();
    if (more) desk.card_whole = true, ++desk.view_revision;
    else if (card.close) desk.select({});
    else if (hands.remove) desk.remove_selected();
    else if (hands.turn) desk.turn_selected();
    else if (hands.duplicate) void(desk.duplicate_selected());
    return;
  }
  doing(card);
  for (size_t i = 0; i < part->kind->values.size(); ++i) {
    const ValueSpec& spec = part->kind->values[i];
    if (!shows(spec)) continue;
    if (spec.key == "resistance") bands_row(card, part->values[i]);
    if (is_colour(spec))
      chips_row(card, spec, part->values[i]);
    else
      stepper_row(card, spec, part->values[i]);
  }
  bool work = false;
  if (has_position(*part) || is_supply(*part)) {
    const std::string_view label =
        is_oscilloscope(*part->kind) ? say(is_on(*part) ? "bench.scope.hold" : "bench.scope.run")
        : is_supply(*part)           ? say(is_on(*part) ? "part.switch.off" : "part.switch.on")
                                     : say("bench.inspector.slide");
    work = panel_button(desk, "work", {{card.left(), card.y}, {card.right(), card.y + 30}}, label, Face::kPlain);
    card.y += kRow + 2;
  }
  rating(card);
  const Hands hands = hands_row(desk, card.left(), card.right(), card.y, part->kind->footprint.seat != Seat::kMat);
  card.turn = hands.turn, card.duplicate = hands.duplicate, card.remove = hands.remove;

  desk.paint.list = before;
  ImGui::End();
  if (card.close)
    desk.select({});
  else if (card.remove)
    desk.remove_selected();
  else if (card.turn)
    desk.turn_selected();
  else if (card.duplicate)
    void(desk.duplicate_selected());
  else if (work)
    desk.work(*part);
  else if (card.edit)
    desk.carry_out(*card.edit);
}

}  // namespace tiepoint
