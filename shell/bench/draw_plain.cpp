// Kinds without a drawing of their own yet: an honest plain body of the right size with its pins and its name.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"
#include "shell/bench/theme.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {
using theme::rgb;
using theme::shade;

void draw_name_on(Paint& paint, const Part& part, const Pose& pose, const PartLook& look, ImU32 colour) {
  if (look.in_box) return;
  const Box box = pose.bounds();
  float em = 0.42f * pose.scale;
  const float width = paint.text_width(em, part.name, Weight::kStrong), room = box.size().x - 0.3f * pose.scale;
  if (width > room) em *= room / width;
  if (em > 5) paint.text(pose.centre, 0.5f, em, colour, part.name, Weight::kStrong);
}

// A moulded package over its pins, pin 1 marked by a dot.
void draw_package(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  for (int i = 0; i < pose.count; ++i) {
    draw_leg(paint, pose.root[i], pose.lead[i], 0.24f * s);
    if (!look.in_box) draw_entry(paint, pose.lead[i], s);
  }
  if (!look.in_box) {
    paint.shadow(pose.centre + ImVec2{0, 0.2f * s}, pose.half, 0.12f * s, pose.axis, 0.3f * s, 0.5f);
    paint.shadow(pose.centre + ImVec2{0, 0.05f * s}, pose.half, 0.1f * s, pose.axis, 0.1f * s, 0.35f);
  }
  const Box b = pose.bounds();
  const ImU32 black = rgb(0x2B2F33);
  paint.fill(rounded(pose.centre, pose.half, 0.12f * s, pose.axis),
             {b.min,
              {b.min.x, b.max.y},
              {{0, shade(black, 0.26f)}, {0.16f, shade(black, 0.08f)}, {0.8f, black}, {1, shade(black, -0.4f)}}});
  paint.stroke(rounded(pose.centre, pose.half - ImVec2{0.05f * s, 0.05f * s}, 0.1f * s, pose.axis), std::max(0.03f * s, 0.6f),
               theme::fade(rgb(theme::kWhite), 0.10f));
  if (pose.count > 0) {
    const ImVec2 inward = pose.centre - pose.lead[0];
    const ImVec2 dot = pose.centre - ImVec2{inward.x * 0.80f, std::clamp(inward.y, -pose.half.y * 0.5f, pose.half.y * 0.5f)};
    if (pose.in_body(dot, -0.1f * s)) paint.fill(circle(dot, 0.11f * s), shade(black, -0.5f));
  }
  draw_name_on(paint, part, pose, look, rgb(0xC9CFD2));
}

void draw_case(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const Box box = {pose.centre - pose.half, pose.centre + pose.half};
  paint.shadow(box, 0.35f * s, 0.6f * s, {0, 0.26f * s}, 0.55f);
  const ImU32 c = rgb(theme::kCase);
  paint.fill(rounded({box.min + ImVec2{0, 0.1f * s}, box.max + ImVec2{0, 0.11f * s}}, 0.35f * s), shade(c, -0.26f));
  paint.fill(rounded(box, 0.35f * s),
             {box.min, {box.min.x, box.max.y}, {{0, shade(c, 0.3f)}, {0.1f, shade(c, 0.1f)}, {1, shade(c, -0.06f)}}});
  if (look.in_box) return;
  float em = 0.46f * s;
  const std::string kind(say("kind." + std::string(part.kind->key)));
  const float room = box.size().x - 1.2f * s, width = paint.text_width(em, kind, Weight::kStrong);
  if (width > room) em *= room / width;
  if (em < 4.5f) return;
  paint.text({box.min.x + 0.46f * s, pose.centre.y - 0.3f * s}, 0, em, rgb(theme::kCaseText), kind, Weight::kStrong);
  paint.text({box.min.x + 0.46f * s, pose.centre.y + 0.42f * s}, 0, em * 0.95f, rgb(theme::kCaseSmall), part.name);
}

}  // namespace

void draw_plain(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  if (part.kind->footprint.seat == Seat::kMat)
    draw_case(paint, part, pose, look);
  else
    draw_package(paint, part, pose, look);
}

}  // namespace tiepoint
