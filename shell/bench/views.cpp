// What a real bench hides, drawn over it: how high each clip stands, and which way the current goes.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw.h"
#include "shell/bench/panels.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {

ImU32 level_colour(float t, float alpha) {
  static constexpr float kAt[] = {0, 0.35f, 0.6f, 0.8f, 1};
  static constexpr uint32_t kColour[] = {theme::kLevelLow, 0x4C5C8A, theme::kLevelMid, 0xC9B458, theme::kLevelHigh};
  t = std::clamp(t, 0.0f, 1.0f);
  int i = 0;
  while (i < 3 && t > kAt[i + 1]) ++i;
  return theme::fade(theme::mix(theme::rgb(kColour[i]), theme::rgb(kColour[i + 1]), (t - kAt[i]) / (kAt[i + 1] - kAt[i])),
                     alpha);
}

namespace {

struct Range {
  double low = 0, high = 0;
};
Range range_of(const Readings& readings) {
  Range r;
  for (double v : readings.net_voltage)
    if (has_reading(v)) r.low = std::min(r.low, v), r.high = std::max(r.high, v);
  if (r.high - r.low < 0.1) r.high = r.low + 0.1;
  return r;
}

// A clip is shown when a lead sits in it.
template <class Each>
void each_used_clip(const Desk& desk, Each each) {
  const Wiring& wiring = desk.session.wiring();
  const Board& board = desk.board();
  for (int strip = 0; strip < wiring.clip_count; ++strip) {
    Hole hole;
    for (const LeadRef& ref : wiring.leads_on_strip[size_t(strip)]) {
      const Part& part = board.parts[size_t(ref.part)];
      hole = part.leads[size_t(ref.lead)];
      if (hole.valid()) break;
    }
    if (hole.valid()) each(strip, hole);
  }
}

// Tells a hole of each piece of metal that the hole's strip really is: a rail with a crack is two.
template <class Tell>
void each_piece(const Board& board, Hole hole, Tell tell) {
  const Layout& l = board.layout_of(hole);
  const HolePlace place = place_of(l, hole.index);
  if (!place.on_rail || !board.breadboards[hole.breadboard].hides_crack(place.rail)) return tell(hole);
  for (const int number : {1, l.rail_holes})
    tell(Hole{hole.breadboard, uint16_t(index_of(l, {.on_rail = true, .rail = place.rail, .rail_hole = number}))});
}

float course_length(std::span<const ImVec2> course) {
  float sum = 0;
  for (size_t i = 0; i + 1 < course.size(); ++i) sum += length(course[i + 1] - course[i]);
  return sum;
}

void draw_chevron(Paint& paint, ImVec2 at, ImVec2 direction, float s) {
  const ImVec2 side = across(direction);
  const float k = std::clamp(0.20f * s, 3.2f, 7.0f);
  const ImVec2 v[] = {at - direction * k - side * k, at + direction * (k * 0.6f), at - direction * k + side * k};
  paint.path(v, k * 1.15f, theme::rgb(theme::kFlowEdge, 0.6f));
  paint.path(v, k * 0.62f, theme::rgb(theme::kFlow));
}

// Chevrons along a course, walking with the current (negative: backwards). Those over `body` are left out.
void chevrons(Paint& paint, std::span<const ImVec2> course, double current, double now, bool still, const Pose* body) {
  const float whole = course_length(course), s = body ? body->scale : 26;
  if (whole < 0.8f * s) return;
  const float gap = std::max(2.4f * s, 34.0f);
  const int n = std::max(1, int(whole / gap));
  const float spacing = whole / float(n);
  // Faster for more, on a scale of decades: 1 mA goes one gap in about 1.6 s.
  const double pace = std::clamp(0.62 + 0.28 * std::log10(std::fabs(current) / 1e-3), 0.12, 1.6);
  double phase = still ? 0.5 : std::fmod(now * pace, 1.0);
  if (current < 0 && !still) phase = 1 - phase;
  for (int i = 0; i < n; ++i) {
    float want = (float(i) + float(phase)) * spacing;
    for (size_t k = 0; k + 1 < course.size(); ++k) {
      const float l = length(course[k + 1] - course[k]);
      if (want > l) {
        want -= l;
        continue;
      }
      const ImVec2 at = lerp(course[k], course[k + 1], want / std::max(l, 1e-3f));
      if (!body || !body->in_body(at, 0.1f * s))
        draw_chevron(paint, at, unit(course[k + 1] - course[k]) * (current < 0 ? -1.0f : 1.0f), s);
      break;
    }
  }
}

}  // namespace

void draw_levels(Desk& desk) {
  const Readings& readings = desk.session.readings();
  const Range range = range_of(readings);
  each_used_clip(desk, [&](int, Hole hole) {
    each_piece(desk.board(), hole, [&](Hole end) {
      const double v = voltage_at(desk.board(), desk.session.wiring(), readings, end);
      if (!has_reading(v)) return;
      const float t = float((v - range.low) / (range.high - range.low));
      draw_clip(desk.paint, desk.camera, desk.board(), end, level_colour(t, 0.42f), level_colour(t, 1), true);
    });
  });
}

void draw_level_pills(Desk& desk) {
  const Readings& readings = desk.session.readings();
  const Wiring& wiring = desk.session.wiring();
  // One pill a net, at the outer end of its first terminal strip; none over another. Where a join does not hold, each side has its own.
  constexpr double kSame = 0.05;  // [V] more than whole metal drops
  std::vector<double> told(size_t(wiring.net_count), kNoReading);
  std::vector<Box> taken;
  each_used_clip(desk, [&](int strip, Hole hole) {
    const size_t net = size_t(wiring.net_of_strip[size_t(strip)]);
    const Layout& l = desk.board().layout_of(hole);
    const HolePlace place = place_of(l, hole.index);
    const double voltage = voltage_at(desk.board(), wiring, readings, hole);
    if (std::abs(told[net] - voltage) < kSame || !has_reading(voltage) || place.on_rail) return;
    const GridPoint origin = desk.board().breadboards[hole.breadboard].origin;
    const double x = origin.x + place.column - 1;
    static constexpr double kUpper[] = {4.86, -0.62, 5.9}, kLower[] = {6.14, 11.66, 5.1};
    for (double y : place.row < 5 ? kUpper : kLower) {
      const ImVec2 c = desk.camera.screen(x, origin.y + y);
      const Box box = {c - ImVec2{27, 11}, c + ImVec2{27, 11}};
      const bool free = std::none_of(taken.begin(), taken.end(), [&](const Box& o) {
        return box.min.x < o.max.x && o.min.x < box.max.x && box.min.y < o.max.y && o.min.y < box.max.y;
      });
      if (!free) continue;
      taken.push_back(box);
      told[net] = voltage;
      draw_pill(desk.paint, c, fixed_text(voltage, 2) + " V");
      return;
    }
  });
}

bool draw_flow(Desk& desk) {
  constexpr double kLeast = 2e-6;  // [A] below this nothing seems to flow
  bool moves = false;
  for (const Part& part : desk.board().parts) {
    const PartReading* r = desk.reading_of(part);
    if (!r || r->lead_current.empty() || part.kind->footprint.seat == Seat::kRigid) continue;
    if (!desk.tool || !desk.tool->lifts(part.name)) {
      const Pose pose = desk.pose(part);
      for (int lead = 0; lead < pose.count; ++lead) {
        const double current = r->lead_current[size_t(lead)];
        if (!has_reading(current) || std::fabs(current) < kLeast) continue;
        moves = true;
        if (part.kind->footprint.seat == Seat::kMat) {
          if (pose.seated[lead])
            chevrons(desk.paint, flying_course(desk.paint, pose, lead), -current, desk.now, desk.view.reduced_motion, &pose);
        } else if (lead == 0) {
          const bool wire = type_of(part).body == Body::kWire;
          const ImVec2 legs[] = {pose.lead[0], pose.root[0], pose.root[1], pose.lead[1]};
          if (wire)
            chevrons(desk.paint, wire_course(desk.paint, desk.camera, part, pose), current, desk.now, desk.view.reduced_motion,
                     &pose);
          else
            chevrons(desk.paint, legs, current, desk.now, desk.view.reduced_motion, &pose);
        }
      }
    }
  }
  return moves && !desk.view.reduced_motion;
}

}  // namespace tiepoint
