// The parts box: one compartment for each kind of part, with the part itself lying in it. Drag it onto the holes, or tap it and then
// the holes.
#include <algorithm>
#include <cmath>

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
    {Body::kAxialResistor, 15.5f, 4.4f, 0},  {Body::kAxialDiode, 16.5f, 4.1f, 0},    {Body::kRoundLed, 16.5f, 0.72f, 18},
    {Body::kDiscCapacitor, 14.5f, 1.1f, 20}, {Body::kCanCapacitor, 14.5f, 0.8f, 20}, {Body::kTactButton, 16.5f, 0, 0},
    {Body::kSlideSwitch, 16.5f, 0, 0},       {Body::kOutlet, 7.0f, 0, 0},            {Body::kBatteryPack, 8.8f, 0, 0},
};

void draw_sample(Paint& paint, const PartType& type, ImVec2 centre) {
  const Part part = make_part(type);
  if (type.body == Body::kWire) {
    const ImVec2 a = centre + ImVec2{-27, 13}, b = centre + ImVec2{27, 13};
    const std::span<const ImVec2> arc = paint.cubic(a, a + ImVec2{13, -33}, b + ImVec2{-13, -33}, b);
    paint.path_shadow(arc, 3, 4, {0, 4}, 0.5f);
    draw_leg(paint, a + ImVec2{-3.5f, 8.5f}, a, 2.6f), draw_leg(paint, b + ImVec2{3.5f, 8.5f}, b, 2.6f);
    paint.tube(arc, 3.1f, theme::rgb(theme::wire_colour(option_of(part, "colour"))));
    return;
  }
  Lie lie = {type.body, 14, 3, 0};
  for (const Lie& l : kLies)
    if (l.body == type.body) lie = l;
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
  for (size_t i = 0; i < n; ++i) leads[i] = camera.screen(offsets[i]) + ImVec2{0, lie.drop + (lie.drop > 0 && i == 0 ? 3.0f : 0.0f)};
  draw_part(paint, camera, part, pose_at(part, {leads, n}, lie.scale), {nullptr, true});
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

}  // namespace

float parts_box_height(float width, float height) {
  (void)width;
  return height < 420 ? 84.0f : 102.0f;
}

void parts_box(Desk& desk, const Box& area, float& scroll) {
  Paint& paint = desk.paint;
  paint.fill(rounded(area, 0), {area.min, {area.min.x, area.max.y}, {{0, theme::rgb(theme::kStripEdge)}, {0.06f, theme::rgb(theme::kStrip)}, {1, theme::rgb(0x101B1F)}}});
  paint.fill(rounded({area.min, {area.max.x, area.min.y + std::max(paint.px, 1.0f)}}, 0), theme::rgb(0x0A1214));

  const auto& kinds = catalogue().kinds;
  constexpr float kGap = 6, kMargin = 14, kLeast = 76;
  const float n = float(kinds.size()), room = area.size().x - 2 * kMargin;
  const float width = std::clamp((room - kGap * (n - 1)) / n, kLeast, 116.0f);
  const float whole = n * width + (n - 1) * kGap;
  const float most = std::max(0.0f, whole - room);
  // What is too narrow scrolls: with the wheel, or by dragging along it.
  const ImGuiIO& io = ImGui::GetIO();
  if (area.contains(io.MousePos) && (io.MouseWheel != 0 || io.MouseWheelH != 0)) scroll -= (io.MouseWheel + io.MouseWheelH) * 60;
  scroll = std::clamp(scroll, 0.0f, most);
  float x = area.min.x + (most > 0 ? kMargin - scroll : kMargin + (room - whole) / 2);

  paint.list->PushClipRect(area.min, area.max, true);
  for (const PartKind* kind : kinds) {
    const PartType& type = static_cast<const PartType&>(*kind);
    const Box box = {{x, area.min.y + 10}, {x + width, area.max.y - 10}};
    x += width + kGap;
    ImGui::SetCursorScreenPos(box.min);
    ImGui::PushID(type.key.data(), type.key.data() + type.key.size());
    const bool clicked = ImGui::InvisibleButton("compartment", box.size());
    const bool hovered = ImGui::IsItemHovered(), active = ImGui::IsItemActive();
    ImGui::PopID();
    if (box.max.x > area.min.x && box.min.x < area.max.x) desk.mark("box", type.key, {}, box);
    const bool in_hand = desk.tool && desk.tool->kind() == &type;

    const ImVec2 way = active ? ImGui::GetMouseDragDelta(ImGuiMouseButton_Left, 0) : ImVec2{0, 0};
    const bool along = most > 0 && std::fabs(way.x) > 1.6f * std::fabs(way.y);
    if (active && along && !in_hand && io.MouseDelta.x != 0) scroll = std::clamp(scroll - io.MouseDelta.x, 0.0f, most);
    else if (active && !in_hand && length(way) > (most > 0 ? 9.0f : 5.0f) && !along) desk.use(place_tool(type, true));
    else if (clicked && in_hand && !desk.pointer.moved) desk.use(nullptr);
    else if (clicked && length(way) < 9 && !desk.pointer.moved) {
      desk.use(place_tool(type, false));
      const Seat seat = type.footprint.seat;
      desk.tell(seat == Seat::kFlexible ? "bench.hint.first" : seat == Seat::kRigid ? "bench.hint.hole" : "bench.hint.mat", {}, say("kind." + std::string(type.key)));
    }
    if (hovered && !active) ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);

    const ImU32 face = theme::rgb(in_hand ? 0x2B4A50 : hovered ? theme::kCompartmentHover : theme::kCompartment);
    paint.fill(rounded(box, 9), {box.min, {box.min.x, box.max.y}, {{0, theme::shade(face, -0.14f)}, {0.12f, face}, {1, theme::shade(face, 0.035f)}}});
    paint.stroke(rounded(box.grown(-0.5f), 8.5f), in_hand ? 2.0f : 1.0f, theme::rgb(in_hand ? theme::kSelect : theme::kCompartmentLine));
    draw_sample(paint, type, {box.centre().x, box.min.y + (box.size().y - 22) / 2 + 1});
    draw_name(paint, box, say("bench.box." + std::string(type.key)), theme::rgb(theme::kCompartmentText));
  }
  // The ends fade where more lies beyond.
  for (int end = 0; end < 2; ++end) {
    if (most <= 0 || (end == 0 ? scroll <= 1 : scroll >= most - 1)) continue;
    const float x0 = end == 0 ? area.min.x : area.max.x - 36, x1 = x0 + 36;
    const ImU32 dark = theme::rgb(theme::kStrip), clear = theme::rgb(theme::kStrip, 0);
    paint.fill(rounded({{x0, area.min.y + 2}, {x1, area.max.y}}, 0), {{x0, 0}, {x1, 0}, {{0, end == 0 ? dark : clear}, {1, end == 0 ? clear : dark}}});
  }
  paint.list->PopClipRect();
}

}  // namespace tiepoint
