#include "shell/bench/pose.h"

#include "shell/bench/draw.h"
#include "shell/bench/draw_meter.h"
#include "shell/bench/draw_scope.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

// Drawn sizes of bodies [hole steps]: along the axis, across it. A 6.3 x 2.4 mm resistor, a 6 mm button, a 5 mm LED and so on.
struct BodySize {
  Body body;
  float length, width;
  float rise;  // an upright body is seen from the front, its middle this far above the middle of its leads
};
constexpr BodySize kSizes[] = {
    {Body::kWire, 0, 0, 0},
    {Body::kAxialResistor, 2.66f, 0.92f, 0},
    {Body::kAxialDiode, 1.9f, 0.80f, 0},
    {Body::kRoundLed, 1.62f, 1.46f, 1.06f},
    {Body::kDiscCapacitor, 1.80f, 1.64f, 1.16f},
    {Body::kCanCapacitor, 1.72f, 2.20f, 1.40f},
    {Body::kSmallLed, 1.12f, 1.20f, 0.95f},
    {Body::kLed8mm, 2.60f, 2.20f, 1.43f},
    {Body::kLed10mm, 3.24f, 2.70f, 1.68f},
    {Body::kInfraredLed, 1.62f, 1.46f, 1.06f},
    {Body::kPhotodiode, 1.62f, 1.46f, 1.06f},
    {Body::kPhototransistor, 1.62f, 1.46f, 1.06f},
    {Body::kTactButton, 2.26f, 2.26f, 0},
    {Body::kSlideSwitch, 3.5f, 1.5f, 0},
    {Body::kRgbLed, 1.70f, 1.60f, 1.30f},
    {Body::kTo92, 1.86f, 1.50f, 1.14f},
    {Body::kTo18, 2.10f, 1.60f, 1.18f},
    {Body::kTo220, 3.70f, 3.30f, 2.02f},
    {Body::kSoundSensor, 3.60f, 2.80f, 0.55f},
    {Body::kPhotoresistor, 1.94f, 1.70f, 1.20f},
    {Body::kThermistor, 1.20f, 1.16f, 1.04f},
    {Body::kResettableFuse, 1.84f, 1.64f, 1.18f},
    {Body::kTiltSwitch, 1.34f, 1.90f, 1.26f},
    {Body::kForceSensor, 2.90f, 4.60f, 2.86f},
    {Body::kFlexSensor, 1.30f, 5.60f, 3.40f},
};

BodySize size_of(const PartType& type) {
  for (const BodySize& s : kSizes)
    if (s.body == type.body) return s;
  // A kind without a drawing of its own: as large as its footprint says, or as its pins need.
  const Footprint& f = type.footprint;
  if (f.body_length > 0) return {type.body, float(f.body_length), float(f.body_width), 0};
  if (f.seat != Seat::kRigid) return {type.body, 1.7f, 1.0f, 0};
  int x0 = 0, x1 = 0, y0 = 0, y1 = 0;
  for (const LeadSpec& lead : type.leads)
    x0 = std::min(x0, lead.dx), x1 = std::max(x1, lead.dx), y0 = std::min(y0, lead.dy), y1 = std::max(y1, lead.dy);
  return {type.body, float(x1 - x0) + 0.9f, float(y1 - y0) + 0.9f, 0};
}

// Where the terminals of a supply stand, from its centre [hole steps].
ImVec2 terminal(const Part& part, int lead) {
  const ImVec2 half = mat_half(part);
  if (type_of(part).body == Body::kOutlet) return {half.x - 1.28f, lead == 0 ? -half.y + 1.22f : -half.y + 3.12f};
  const Body body = type_of(part).body;
  if (body == Body::kNote) return {half.x - 0.3f, -half.y + 0.3f};
  if (body == Body::kMeter) return {lead == 0 ? half.x - 2.2f : half.x - 0.95f, 1.28f};
  if (body == Body::kOscilloscope) return {half.x - 1.0f - 1.45f * float(int(part.kind->leads.size()) - 1 - lead), half.y - 0.62f};
  if (body == Body::kBenchSupply || body == Body::kSignalSource) return {half.x - 0.85f, lead == 0 ? -0.85f : 0.85f};
  if (body == Body::kFilamentLamp) return {1.64f, lead == 0 ? 1.56f : 2.02f};
  const float middle = float(int(part.kind->leads.size()) - 1) / 2;
  return {half.x - 0.1f, (float(lead) - middle) * 0.9f};
}

// Where a flying lead's plug lies while it is in no hole.
ImVec2 parked(const Part& part, int lead) {
  if (type_of(part).body == Body::kOscilloscope) return {mat_half(part).x + kProbesBeside, 4.6f - 1.1f * float(lead)};
  if (type_of(part).body == Body::kNote) return terminal(part, lead) + ImVec2{0.02f, 0};
  return terminal(part, lead) + ImVec2{2.9f, 0.15f + 0.4f * float(lead)};
}

constexpr ImVec2 kAxes[] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};

// A body before a row of legs, as it would lie on the board: legs straight, or drawn together where the body is narrower.
void finish_standing_row(Pose& pose, const Part& part, float rise) {
  pose.axis = kAxes[part.turn & 3];
  const ImVec2 row = pose.centre, up = across(pose.axis) * -1.0f;
  pose.centre = row + up * (rise * pose.scale);
  float reach = 1;
  for (int i = 0; i < pose.count; ++i) reach = std::max(reach, std::fabs(dot(pose.lead[i] - row, pose.axis)));
  const float squeeze = std::min(1.0f, 0.72f * pose.half.x / reach);
  for (int i = 0; i < pose.count; ++i)
    pose.root[i] = pose.centre + pose.axis * (dot(pose.lead[i] - row, pose.axis) * squeeze) - up * (pose.half.y - 0.06f * pose.scale);
}

void finish_body(Pose& pose, const Part& part) {
  const BodySize size = size_of(type_of(part));
  const float s = pose.scale;
  pose.half = {size.length * s / 2, size.width * s / 2};
  ImVec2 sum = {};
  for (int i = 0; i < pose.count; ++i) sum = sum + pose.lead[i];
  pose.centre = sum * (1.0f / float(std::max(pose.count, 1)));
  if (size.rise > 0 && part.kind->footprint.seat == Seat::kRigid) return finish_standing_row(pose, part, size.rise);
  if (size.rise > 0 && pose.count >= 2) {
    // Standing part: its legs spread from the base to the holes, lead 0 to the side it comes from.
    pose.centre.y -= size.rise * s;
    pose.axis = {1, 0};
    const float dx = pose.lead[1].x - pose.lead[0].x;
    const float left = dx >= -0.5f ? -1.0f : 1.0f;
    const float spread = 0.26f * size.length * s, base = pose.centre.y + pose.half.y - 0.06f * s;
    pose.root[0] = {pose.centre.x + left * spread, base};
    pose.root[1] = {pose.centre.x - left * spread, base};
    return;
  }
  if (part.kind->footprint.seat == Seat::kFlexible && pose.count == 2) {
    pose.axis = unit(pose.lead[1] - pose.lead[0]);
    pose.root[0] = pose.centre - pose.axis * pose.half.x;
    pose.root[1] = pose.centre + pose.axis * pose.half.x;
    return;
  }
  pose.axis = kAxes[part.turn & 3];
  for (int i = 0; i < pose.count; ++i) {
    const ImVec2 d = pose.lead[i] - pose.centre;
    const float k = std::min(1.0f, pose.half.y / std::max(length(d), 1e-3f));
    pose.root[i] = pose.centre + d * k;
  }
}

// Where a lead in the air is drawn: beside the seated one, or from the part's resting place.
ImVec2 loose_lead(const Camera& camera, const Board& board, const Part& part, int lead) {
  for (size_t i = 0; i < part.leads.size(); ++i)
    if (part.leads[i].valid() && board.has(part.leads[i])) {
      const MatPoint at = board.mat_of(part.leads[i]);
      const double reach = std::max(part.kind->footprint.reach_min, 1.0);
      return camera.screen(at.x + (lead > int(i) ? 1 : -1) * reach * 0.92, at.y - 0.55);
    }
  return camera.screen(part.mat.x + lead * std::max(part.kind->footprint.reach_min, 1.0), part.mat.y);
}

}  // namespace

CellGrid cell_grid(const Part& part) {
  const int index = value_index(*part.kind, "cells");
  // The value counts options; the options are the words "1", "2", ...
  const int cells = index < 0 ? 2 : 1 + int(part.values[size_t(index)]);
  return cells <= 3 ? CellGrid{cells, cells, 1} : CellGrid{cells, (cells + 1) / 2, 2};
}

ImVec2 mat_half(const Part& part) {
  const PartType& type = type_of(part);
  if (type.body == Body::kOutlet) return {4.8f, 2.15f};
  if (type.body == Body::kNote) return note_half(part);
  static constexpr struct {
    Body body;
    ImVec2 half;
  } kOnMat[] = {{Body::kMeter, {5.4f, 2.25f}}, {Body::kOscilloscope, {10.5f, 5.3f}}, {Body::kLogicProbe, {4.2f, 1.6f}}, {Body::kBenchSupply, {5.6f, 2.4f}}, {Body::kSignalSource, {5.6f, 2.4f}}, {Body::kSolarPanel, {3.5f, 2.4f}}, {Body::kNineVoltBattery, {4.3f, 2.15f}},
                {Body::kCoinCell, {2.4f, 2.2f}},    {Body::kMotor, {4.0f, 2.1f}},        {Body::kVibrationMotor, {1.9f, 1.6f}}, {Body::kServo, {3.7f, 2.3f}},
                {Body::kSolenoid, {3.9f, 1.8f}},    {Body::kLoudspeaker, {2.4f, 2.4f}},  {Body::kFilamentLamp, {2.1f, 2.3f}}};
  for (const auto& m : kOnMat)
    if (m.body == type.body) return m.half;
  if (type.body != Body::kBatteryPack) {
    const Footprint& f = type.footprint;
    return {std::clamp(float(f.body_length) / 2, 2.6f, 4.8f), std::clamp(float(f.body_width) / 2, 1.3f, 2.4f)};
  }
  const CellGrid grid = cell_grid(part);
  return {float(grid.columns) * 3.3f + 0.55f, float(grid.rows) * 0.75f + 0.35f};
}

Box Pose::bounds() const {
  const ImVec2 side = across(axis);
  const float x = std::fabs(axis.x) * half.x + std::fabs(side.x) * half.y, y = std::fabs(axis.y) * half.x + std::fabs(side.y) * half.y;
  return {{centre.x - x, centre.y - y}, {centre.x + x, centre.y + y}};
}

bool Pose::in_body(ImVec2 p, float slack) const {
  const ImVec2 d = p - centre;
  return half.x > 0 && std::fabs(dot(d, axis)) <= half.x + slack && std::fabs(dot(d, across(axis))) <= half.y + slack;
}

Pose pose_on_mat(const Camera& camera, const Board* board, const Part& part) {
  Pose pose;
  pose.scale = camera.scale;
  pose.count = std::min(int(part.kind->leads.size()), Pose::kMostLeads);
  pose.half = mat_half(part) * camera.scale;
  pose.centre = camera.screen(part.mat);
  pose.probes = part.kind->touches;
  pose.kind = part.kind;
  for (int i = 0; i < pose.count; ++i) {
    const ImVec2 t = terminal(part, i), rest = parked(part, i);
    pose.root[i] = camera.screen(part.mat.x + double(t.x), part.mat.y + double(t.y));
    pose.seated[i] = board && size_t(i) < part.leads.size() && part.leads[size_t(i)].valid() && board->has(part.leads[size_t(i)]);
    pose.lead[i] = pose.seated[i] ? camera.screen(board->mat_of(part.leads[size_t(i)]))
                                  : camera.screen(part.mat.x + double(rest.x), part.mat.y + double(rest.y));
  }
  return pose;
}

Pose pose_at(const Part& part, std::span<const ImVec2> leads, float scale) {
  Pose pose;
  pose.scale = scale;
  pose.count = std::min(int(leads.size()), Pose::kMostLeads);
  for (int i = 0; i < pose.count; ++i) pose.lead[i] = leads[size_t(i)], pose.seated[i] = true;
  finish_body(pose, part);
  return pose;
}

Pose pose_of(const Camera& camera, const Board& board, const Part& part) {
  if (part.kind->footprint.seat == Seat::kMat) return pose_on_mat(camera, &board, part);
  Pose pose;
  pose.scale = camera.scale;
  pose.count = std::min(int(part.leads.size()), Pose::kMostLeads);
  for (int i = 0; i < pose.count; ++i) {
    const Hole hole = part.leads[size_t(i)];
    pose.seated[i] = hole.valid() && board.has(hole);
    pose.lead[i] = pose.seated[i] ? camera.screen(board.mat_of(hole)) : loose_lead(camera, board, part, i);
  }
  finish_body(pose, part);
  return pose;
}

bool has_momentary(const Part& part) {
  for (const ValueSpec& v : part.kind->values)
    if (v.use == Use::kMomentary) return true;
  return false;
}
bool is_supply(const Part& part) { return type_of(part).reference_lead >= 0; }
bool has_position(const Part& part) {
  if (is_supply(part)) return false;
  for (const ValueSpec& v : part.kind->values)
    if (v.use == Use::kPosition) return true;
  return false;
}
bool is_on(const Part& part) {
  for (size_t i = 0; i < part.kind->values.size() && i < part.values.size(); ++i)
    if (part.kind->values[i].use != Use::kValue) return part.values[i] > 0.5;
  return false;
}

Box control_of(const Part& part, const Pose& pose) {
  const float s = pose.scale;
  const auto about = [&](ImVec2 c, float hx, float hy) { return Box{{c.x - hx, c.y - hy}, {c.x + hx, c.y + hy}}; };
  switch (type_of(part).body) {
    case Body::kTactButton: return about(pose.centre, 0.72f * s, 0.72f * s);
    case Body::kSlideSwitch: {
      const bool flat = std::fabs(pose.axis.x) > 0.5f;
      return about(pose.centre, (flat ? 1.1f : 0.46f) * s, (flat ? 0.46f : 1.1f) * s);
    }
    case Body::kMeter: return meter_buttons(pose);
    case Body::kOscilloscope: return scope_panel(pose);
    case Body::kOutlet: return about(pose.centre + ImVec2{1.83f * s, -1.11f * s}, 0.85f * s, 0.43f * s);
    case Body::kBatteryPack: {
      bool has = false;
      for (const ValueSpec& v : part.kind->values) has |= v.use == Use::kPosition;
      const ImVec2 half = mat_half(part) * s;
      if (has) return about(pose.centre + ImVec2{half.x - 0.42f * s, half.y - 0.62f * s}, 0.34f * s, 0.42f * s);
      break;
    }
    default: break;
  }
  return {};
}

std::span<const ImVec2> wire_course(Paint& paint, const Camera& camera, const Part& part, const Pose& pose) {
  const ImVec2 a = pose.lead[0], b = pose.lead[1];
  if (!part.bends.empty()) {
    ImVec2 through[64];
    int n = 0;
    through[n++] = a;
    for (const MatPoint& m : part.bends)
      if (n < 63) through[n++] = camera.screen(m);
    through[n++] = b;
    return paint.smooth({through, size_t(n)});
  }
  // A stiff wire rises from its holes: seen from above it bows, upwards on the canvas when it lies flat, aside when it stands.
  const ImVec2 d = b - a;
  const float reach = length(d), bow = std::min(0.16f * reach + 0.12f * pose.scale, 2.2f * pose.scale);
  ImVec2 side = across(unit(d));
  if (side.y > 0 || (std::fabs(side.y) < 0.05f && side.x < 0)) side = side * -1.0f;
  const ImVec2 lift = unit(side + ImVec2{0, -0.55f}) * bow;
  return paint.cubic(a, lerp(a, b, 0.22f) + lift, lerp(a, b, 0.78f) + lift, b);
}

std::span<const ImVec2> flying_course(Paint& paint, const Pose& pose, int lead) {
  const ImVec2 a = pose.root[lead], b = pose.lead[lead];
  const float s = pose.scale;
  if (!pose.seated[lead]) {
    const float sag = 0.35f * s;
    return paint.cubic(a, a + ImVec2{0.9f * s, sag}, b - ImVec2{1.2f * s, -sag * 0.4f}, b - ImVec2{0.75f * s, 0});
  }
  // Out of the terminal to the right, then down into the hole: a soft thick cable that keeps its bend wide.
  const ImVec2 d = b - a;
  const float reach = length(d), out = std::clamp(0.42f * reach, 1.2f * s, 9.0f * s);
  const float fall = std::clamp(0.45f * std::fabs(d.y) + 0.12f * std::fabs(d.x), 1.0f * s, 7.5f * s);
  const float swing = d.x < 1.5f * s ? std::clamp(1.5f * s - d.x, 0.0f, 6.0f * s) : 0.0f;
  return paint.cubic(a, a + ImVec2{out + swing * 0.5f, 0.25f * s}, b + ImVec2{0.12f * d.x * 0.2f + swing * 0.35f, d.y > 0 ? -fall : fall}, b);
}

}  // namespace tiepoint
