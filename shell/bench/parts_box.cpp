// The parts box: one compartment for each kind of part, with the part itself lying in it. Drag it onto the holes, or tap it and
// then the holes.
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

// How a body lies in its compartment: scale [CSS px per hole step], span of its leads [hole steps], how far it is let down.
struct Lie {
  Body body;
  float scale, span, drop;
};
constexpr Lie kLies[] = {
    {Body::kAxialResistor, 15.5f, 4.4f, 0},     {Body::kAxialDiode, 16.5f, 4.1f, 0},     {Body::kRoundLed, 19.0f, 0.72f, 17},
    {Body::kSmallLed, 19.0f, 0.72f, 15},        {Body::kInfraredLed, 19.0f, 0.72f, 17},  {Body::kPhotodiode, 19.0f, 0.72f, 17},
    {Body::kPhototransistor, 19.0f, 0.72f, 17}, {Body::kDiscCapacitor, 17.0f, 1.1f, 17}, {Body::kCanCapacitor, 16.0f, 0.8f, 20},
    {Body::kTactButton, 16.5f, 0, 0},           {Body::kSlideSwitch, 16.5f, 0, 0},       {Body::kOutlet, 7.0f, 0, 0},
    {Body::kBatteryPack, 8.8f, 0, 0},
};

// Whatever it is, body and legs fit into the compartment and lie in its middle.
void fit_sample(const Part& part, Lie& lie, ImVec2& shift) {
  constexpr float kWide = 62, kHigh = 44, kLargest = 22;  // [CSS px], [CSS px per hole step]
  const Footprint& f = part.kind->footprint;
  if (f.seat == Seat::kMat) {
    const ImVec2 half = mat_half(part);
    lie.scale = std::min({kLargest, kWide / (2 * half.x), kHigh / (2 * half.y)});
    return;
  }
  lie.span = float(std::max(f.reach_min, 1.0) + (f.seat == Seat::kFlexible && f.body_length > 0 ? 1 : 0));
  std::vector<MatPoint> pins;
  lead_offsets(*part.kind, 0, double(lie.span), pins);
  ImVec2 leads[Pose::kMostLeads];
  const size_t n = std::min(pins.size(), size_t(Pose::kMostLeads));
  for (size_t i = 0; i < n; ++i) leads[i] = {float(pins[i].x), float(pins[i].y)};
  Box box = pose_at(part, {leads, n}, 1).bounds();
  for (size_t i = 0; i < n; ++i) {
    box.min = {std::min(box.min.x, leads[i].x - 0.1f), std::min(box.min.y, leads[i].y - 0.1f)};
    box.max = {std::max(box.max.x, leads[i].x + 0.1f), std::max(box.max.y, leads[i].y + 0.1f)};
  }
  lie.scale = std::min({kLargest, kWide / box.size().x, kHigh / box.size().y});
  shift = box.centre() * -lie.scale;
}

void draw_sample(Paint& paint, const Part& part, ImVec2 centre) {
  const PartType& type = type_of(part);
  if (type.body == Body::kWire) {
    const ImVec2 a = centre + ImVec2{-27, 13}, b = centre + ImVec2{27, 13};
    const std::span<const ImVec2> arc = paint.cubic(a, a + ImVec2{13, -33}, b + ImVec2{-13, -33}, b);
    paint.path_shadow(arc, 3, 4, {0, 4}, 0.5f);
    draw_leg(paint, a + ImVec2{-3.5f, 8.5f}, a, 2.6f), draw_leg(paint, b + ImVec2{3.5f, 8.5f}, b, 2.6f);
    paint.tube(arc, 3.1f, theme::rgb(theme::wire_colour(option_of(part, "colour"))));
    return;
  }
  Lie lie = {type.body, 0, 3, 0};
  for (const Lie& l : kLies)
    if (l.body == type.body) lie = l;
  ImVec2 shift = {};
  if (lie.scale == 0) fit_sample(part, lie, shift);
  Camera camera;
  camera.scale = lie.scale;
  camera.origin = centre;
  if (type.footprint.seat == Seat::kMat) {
    Part on_mat = part;
    return draw_part(paint, camera, on_mat, pose_on_mat(camera, nullptr, on_mat), {nullptr, true});
  }
  std::vector<MatPoint> offsets;
  lead_offsets(type, 0, double(lie.span), offsets);
  ImVec2 leads[Pose::kMostLeads];
  const size_t n = std::min(offsets.size(), size_t(Pose::kMostLeads));
  for (size_t i = 0; i < n; ++i)
    leads[i] = camera.screen(offsets[i]) + shift + ImVec2{0, lie.drop + (lie.drop > 0 && i == 0 ? 3.0f : 0.0f)};
  draw_part(paint, camera, part, pose_at(part, {leads, n}, lie.scale), {nullptr, true});
}

// As set for what was searched for: "10 kΩ", "green"; "" for the standard ones.
std::string values_in_words(const Part& part) {
  const Part standard = make_part(*part.kind);
  std::string out;
  for (size_t i = 0; i < part.values.size(); ++i) {
    const ValueSpec& spec = part.kind->values[i];
    if (part.values[i] == standard.values[i] || spec.use != Use::kValue) continue;
    if (!spec.options.empty()) {
      const std::string_view option = spec.options[size_t(part.values[i])];
      const std::string word = "option." + std::string(option);
      return std::string(has_words(word) ? say(word) : option);
    }
    return engineering(part.values[i], spec.unit);
  }
  return out;
}

void draw_line(Paint& paint, const Box& box, float up, ImU32 colour, std::string_view words) {
  constexpr float kEm = 11.5f;
  const float room = box.size().x - 8, wide = paint.text_width(kEm, words);
  paint.text({box.centre().x, box.max.y - up}, 0.5f, kEm * std::min(1.0f, room / wide), colour, words);
}

// Two short lines rather than one cut name.
void draw_name(Paint& paint, const Box& box, std::string_view name, ImU32 colour) {
  constexpr float kEm = 11.5f;
  const float room = box.size().x - 8, x = box.centre().x;
  if (paint.text_width(kEm, name) <= room) return paint.text({x, box.max.y - 13}, 0.5f, kEm, colour, name);
  const size_t space = name.find(' ');
  if (space == std::string_view::npos) {
    const float em = kEm * room / paint.text_width(kEm, name);
    return paint.text({x, box.max.y - 13}, 0.5f, em, colour, name);
  }
  const std::string_view a = name.substr(0, space), b = name.substr(space + 1);
  const float em = kEm * std::min({1.0f, room / paint.text_width(kEm, a), room / paint.text_width(kEm, b)});
  paint.text({x, box.max.y - 21}, 0.5f, em, colour, a);
  paint.text({x, box.max.y - 9}, 0.5f, em, colour, b);
}

// The tray that lies open: what was used of late, what a beginner needs, then the whole catalogue group by group.
constexpr std::string_view kRecent = "recent", kStart = "start";
constexpr std::string_view kStarters[] = {
    "jumper-wire", "resistor",    "led", "push-button", "slide-switch", "diode", "ceramic-capacitor", "electrolytic-capacitor",
    "usb-supply",  "battery-pack"};

bool in_tray(const PartType& type, std::string_view tray) {
  if (tray != kStart) return type.group == tray;
  return std::find(std::begin(kStarters), std::end(kStarters), type.key) != std::end(kStarters);
}

// The groups of the catalogue, in its order. Few kinds need no trays.
void list_trays(std::vector<std::string_view>& out) {
  out.clear();
  const auto& kinds = catalogue().kinds;
  if (kinds.size() <= std::size(kStarters) + 2) return;
  out.push_back(kStart);
  for (const PartKind* kind : kinds) {
    const std::string_view group = static_cast<const PartType*>(kind)->group;
    if (std::find(out.begin(), out.end(), group) == out.end()) out.push_back(group);
  }
}

constexpr float kTabs = 26, kMargin = 14, kGap = 6;

std::string_view name_in_box(const PartType& type, std::string& buffer) {
  buffer = "bench.box." + std::string(type.key);
  if (has_words(buffer)) return say(buffer);
  buffer = "kind." + std::string(type.key);
  return say(buffer);
}

void draw_compartment(Paint& paint, const Part& part, const Box& box, bool in_hand, bool marked, bool hovered) {
  const PartType& type = type_of(part);
  const ImU32 face = theme::rgb(in_hand ? 0x2B4A50 : hovered || marked ? theme::kCompartmentHover : theme::kCompartment);
  paint.fill(
      rounded(box, 9),
      {box.min, {box.min.x, box.max.y}, {{0, theme::shade(face, -0.14f)}, {0.12f, face}, {1, theme::shade(face, 0.035f)}}});
  paint.stroke(rounded(box.grown(-0.5f), 8.5f), in_hand || marked ? 2.0f : 1.0f,
               theme::rgb(in_hand || marked ? theme::kSelect : theme::kCompartmentLine));
  draw_sample(paint, part, {box.centre().x, box.min.y + (box.size().y - 22) / 2 + 1});
  std::string buffer;
  const ImU32 ink = theme::rgb(theme::kCompartmentText);
  const std::string_view name = name_in_box(type, buffer);
  const std::string values = values_in_words(part);
  if (values.empty()) return draw_name(paint, box, name, ink);
  draw_line(paint, box, 22, ink, name);
  draw_line(paint, box, 9, theme::rgb(theme::kSelect), values);
}

void compartment(Desk& desk, const Part& part, bool marked, const Box& box, const Box& area, float most, float& scroll) {
  Paint& paint = desk.paint;
  const PartType& type = type_of(part);
  const ImGuiIO& io = ImGui::GetIO();
  ImGui::SetCursorScreenPos(box.min);
  ImGui::PushID(type.key.data(), type.key.data() + type.key.size());
  const bool clicked = ImGui::InvisibleButton("compartment", box.size());
  const bool hovered = ImGui::IsItemHovered(), active = ImGui::IsItemActive();
  ImGui::PopID();
  // Only what is in sight can be pointed at.
  if (box.max.x > area.min.x + 20 && box.min.x < area.max.x - 20)
    desk.mark("box", type.key, {},
              {{std::max(box.min.x, area.min.x), box.min.y}, {std::min(box.max.x, area.max.x), box.max.y}});
  const bool in_hand = desk.tool && desk.tool->kind() == &type;

  const ImVec2 way = active ? ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0) : ImVec2{0, 0};
  const bool along = most > 0 && std::fabs(way.x) > 1.6f * std::fabs(way.y);
  const bool still = clicked && length(ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0)) < 9;
  if (active && along && !in_hand && io.MouseDelta.x != 0) {
    scroll = std::clamp(scroll - io.MouseDelta.x, 0.0f, most);
  } else if (active && !in_hand && !along && length(way) > (most > 0 ? 9.0f : 5.0f)) {
    desk.use(place_tool(type, true, part.values));
  } else if (still && in_hand) {
    desk.use(nullptr);
  } else if (still) {
    take_from_box(desk, type, part.values, false);
  }
  if (hovered && !active) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);

  const uint64_t name = Key().add(static_cast<const void*>(&type)).value();
  Key key;
  key.add(double(paint.px)).add(box).add(in_hand).add(marked).add(hovered);
  for (const double value : part.values) key.add(value);
  desk.sheets.show(paint, name, key.value(), [&] { draw_compartment(paint, part, box, in_hand, marked, hovered); });
}

// The ends of a row that scrolls fade where more lies beyond.
void fade_ends(Paint& paint, const Box& row, float scroll, float most) {
  for (int end = 0; end < 2; ++end) {
    if (most <= 0 || (end == 0 ? scroll <= 1 : scroll >= most - 1)) continue;
    const float x0 = end == 0 ? row.min.x : row.max.x - 36, x1 = x0 + 36;
    const ImU32 dark = theme::rgb(theme::kStrip), clear = theme::rgb(theme::kStrip, 0);
    paint.fill(rounded({{x0, row.min.y}, {x1, row.max.y}}, 0),
               {{x0, 0}, {x1, 0}, {{0, end == 0 ? dark : clear}, {1, end == 0 ? clear : dark}}});
  }
}

// A row of tabs along the top of the strip. They draw together a little to fit; where that is not enough the row scrolls, with the
// wheel or by dragging along it.
void tray_tabs(Desk& desk, const Box& area, std::span<const std::string_view> trays, BoxState& state) {
  constexpr float kEm = 11.5f, kAround = 22, kTightest = 0.84f;
  Paint& paint = desk.paint;
  const ImGuiIO& io = ImGui::GetIO();
  std::string key;
  const auto words = [&](std::string_view tray) {
    key = (tray == kStart || tray == kRecent ? "bench.tray." : "group.") + std::string(tray);
    return say(key);
  };
  const Box row = {{area.min.x, area.min.y + 2}, {area.max.x, area.min.y + kTabs + 2}};
  float whole = 0;
  for (std::string_view tray : trays) whole += paint.text_width(kEm, words(tray)) + kAround;
  const float room = area.size().x - 2 * kMargin;
  const float fitting = std::min(1.0f, room / whole);
  const float squeeze = fitting >= kTightest ? fitting : 1;
  const float most = std::max(0.0f, whole * squeeze - room), em = kEm * squeeze;
  if (row.contains(io.MousePos) && (io.MouseWheel != 0 || io.MouseWheelH != 0)) state.tab_scroll -= (io.MouseWheel + io.MouseWheelH) * 60;
  state.tab_scroll = std::clamp(state.tab_scroll, 0.0f, most);
  paint.list->PushClipRect(row.min, row.max, true);
  float x = area.min.x + kMargin - state.tab_scroll;
  for (std::string_view tray : trays) {
    const std::string_view label = words(tray);
    const float width = (paint.text_width(kEm, label) + kAround) * squeeze;
    const Box tab = {{x, area.min.y + 4}, {x + width, area.min.y + kTabs + 2}};
    x += width;
    ImGui::SetCursorScreenPos(tab.min);
    ImGui::PushID(tray.data(), tray.data() + tray.size());
    const bool clicked = ImGui::InvisibleButton("tab", tab.size());
    const bool hovered = ImGui::IsItemHovered(), active = ImGui::IsItemActive();
    ImGui::PopID();
    if (active && most > 0 && io.MouseDelta.x != 0) state.tab_scroll = std::clamp(state.tab_scroll - io.MouseDelta.x, 0.0f, most);
    if (clicked && length(ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0)) < 9) {
      desk.search = {};
      state.tray = tray, state.scroll = 0, ++desk.view_revision;
    }
   
    if (hovered) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    const Box seen = {{std::max(tab.min.x, row.min.x), tab.min.y}, {std::min(tab.max.x, row.max.x), tab.max.y}};
    if (seen.size().x > 24) desk.mark("tray", tray, {}, seen);  // only what is in sight can be pointed at
    const bool open = state.tray == tray && !desk.search.open;
    if (open) paint.fill(rounded({tab.min + ImVec2{2, 1}, tab.max - ImVec2{2, 3}}, 11), theme::rgb(theme::kCompartment));
    paint.text(tab.centre() - ImVec2{0, 1}, 0.5f, em,
               theme::rgb(open      ? theme::kSelect
                          : hovered ? theme::kPillText
                                    : theme::kDisplayDim),
               label);
  }
  fade_ends(paint, row, state.tab_scroll, most);
  paint.list->PopClipRect();
}

// With nothing typed yet and nothing used yet, the tray stays as it is.
bool searching(const Desk& desk) { return desk.search.open && (!desk.search.text.empty() || !desk.search.found.empty()); }

// One sample of every kind, for what lies in the trays.
const Part& sample_of(const PartKind* kind) {
  static const std::vector<Part> samples = [] {
    std::vector<Part> out;
    for (const PartKind* one : catalogue().kinds) out.push_back(make_part(*one));
    return out;
  }();
  const auto& kinds = catalogue().kinds;
  return samples[size_t(std::find(kinds.begin(), kinds.end(), kind) - kinds.begin())];
}

void list_shown(const Desk& desk, std::span<const std::string_view> trays, BoxState& state) {
  state.shown.clear();
  if (searching(desk)) {
    for (const Part& part : desk.search.found) state.shown.push_back(&part);
  } else if (!trays.empty() && state.tray == kRecent) {
    for (const PartKind* kind : desk.recent) state.shown.push_back(&sample_of(kind));
  } else {
    for (const PartKind* kind : catalogue().kinds) {
      const bool here = !desk.offered.empty() ? std::find(desk.offered.begin(), desk.offered.end(), kind) != desk.offered.end()
                                              : trays.empty() || in_tray(static_cast<const PartType&>(*kind), state.tray);
      if (here) state.shown.push_back(&sample_of(kind));
    }
  }
}

}  // namespace

void take_from_box(Desk& desk, const PartType& type, std::span<const double> values, bool dragging) {
  desk.use(place_tool(type, dragging, values));
  const Seat seat = type.footprint.seat;
  desk.tell(seat == Seat::kFlexible ? "bench.hint.first"
            : seat == Seat::kRigid  ? "bench.hint.hole"
                                    : "bench.hint.mat",
            {}, say("kind." + std::string(type.key)));
}

float parts_box_height(float, float height) {
  return (height < kShortStage ? 84.0f : 102.0f) + (catalogue().kinds.size() > std::size(kStarters) + 2 ? kTabs - 8 : 0);
}

void parts_box(Desk& desk, const Box& strip, BoxState& state) {
  Paint& paint = desk.paint;
  paint.fill(rounded(strip, 0),
             {strip.min,
              {strip.min.x, strip.max.y},
              {{0, theme::rgb(theme::kStripEdge)}, {0.06f, theme::rgb(theme::kStrip)}, {1, theme::rgb(0x101B1F)}}});
  paint.fill(rounded({strip.min, {strip.max.x, strip.min.y + std::max(paint.px, 1.0f)}}, 0), theme::rgb(0x0A1214));

  if (state.trays.empty()) list_trays(state.trays);
  if (!state.trays.empty() && !desk.recent.empty() && state.trays.front() != kRecent) state.trays.insert(state.trays.begin(), kRecent);
  // A lesson's few parts lie in one row.
  std::span<const std::string_view> trays;
  if (desk.offered.empty()) trays = state.trays;
  Box area = strip;
  if (!trays.empty()) {
    if (std::find(trays.begin(), trays.end(), state.tray) == trays.end()) state.tray = kStart;
    // The page lays its field for searching over this place.
    const float field = strip.size().x >= 560 ? 128.0f : 38.0f;
    Box tabs = strip;
    tabs.max.x -= field + kMargin - 8;
    tray_tabs(desk, tabs, trays, state);
    desk.mark("search", "field", {}, {{tabs.max.x, strip.min.y + 3}, {strip.max.x - kMargin + 8, strip.min.y + kTabs + 3}});
    area.min.y += kTabs - 8;
  }
  list_shown(desk, trays, state);
  float& scroll = state.scroll;
  constexpr float kLeast = 76;
  const float n = float(state.shown.size());
  const float room = area.size().x - 2 * kMargin;
  const float width = std::clamp((room - kGap * (n - 1)) / std::max(n, 1.0f), kLeast, 96.0f);
  const float whole = n * width + (n - 1) * kGap;
  const float most = std::max(0.0f, whole - room);
  // What is too narrow scrolls: with the wheel, or by dragging along it.
  const ImGuiIO& io = ImGui::GetIO();
  if (area.contains(io.MousePos) && (io.MouseWheel != 0 || io.MouseWheelH != 0))
    scroll -= (io.MouseWheel + io.MouseWheelH) * 60;
  scroll = std::clamp(scroll, 0.0f, most);
  if (state.show_at && searching(desk) && desk.search.at >= 0) {
    const float left = float(desk.search.at) * (width + kGap);
    scroll = std::clamp(scroll, std::clamp(left + width - room, 0.0f, most), std::min(left, most));
  }
  state.show_at = false;
  float x = area.min.x + kMargin - (most > 0 ? scroll : 0);
  if (most <= 0 && (trays.empty() || (state.tray == kStart && !searching(desk)))) x += (room - whole) / 2;

  paint.list->PushClipRect(area.min, area.max, true);
  for (size_t i = 0; i < state.shown.size(); ++i) {
    const Box box = {{x, area.min.y + 10}, {x + width, area.max.y - 10}};
    x += width + kGap;
    compartment(desk, *state.shown[i], searching(desk) && int(i) == desk.search.at, box, area, most, scroll);
  }
  if (state.shown.empty() && searching(desk)) {
    const std::string_view words = say("bench.search.none");
    const float em = std::min(13.0f, 13.0f * room / paint.text_width(13, words));
    paint.text(area.centre(), 0.5f, em, theme::rgb(theme::kCompartmentText), words);
  }
  fade_ends(paint, {{area.min.x, area.min.y + 2}, area.max}, scroll, most);
  paint.list->PopClipRect();
}

}  // namespace tiepoint
