// What the drawings of the many kinds share: a frame of reference that turns with the part, moulded blocks, knobs, lettering that
// stays readable, light.
#pragma once

#include <string>

#include "shell/bench/dial.h"
#include "shell/bench/draw.h"

namespace tiepoint::kit {

using theme::rgb;
using theme::shade;
inline constexpr float kPi = 3.14159265f;

// Places on a body: x along its axis, y across it (away from the reader at turn 0: negative), in hole steps from the body's centre.
struct Frame {
  explicit Frame(const Pose& pose) : origin(pose.centre), u(pose.axis), v(across(pose.axis)), s(pose.scale) {}
  Frame(ImVec2 origin_, ImVec2 u_, float s_) : origin(origin_), u(u_), v(across(u_)), s(s_) {}
  ImVec2 origin, u, v;
  float s;
  ImVec2 at(float x, float y) const { return origin + u * (x * s) + v * (y * s); }
  // +1 when a second line of lettering, always readable from below or from the right, lies at larger y; else -1.
  float next_line() const { return v.x + v.y > 0 ? 1.0f : -1.0f; }
  Outline box(float x0, float y0, float x1, float y1, float radius) const {
    return rounded(at((x0 + x1) / 2, (y0 + y1) / 2), {(x1 - x0) / 2 * s, (y1 - y0) / 2 * s}, radius * s, u);
  }
};

// Shading down the screen over an outline, whatever its turn: light comes from above the bench.
Fill downwards(const Outline& outline, std::initializer_list<Fill::Stop> stops);
Fill satin(const Outline& outline, ImU32 colour);   // a flat moulded face
Fill barrel(const Frame& f, float x0, float x1, ImU32 colour);  // a cylinder standing along y

void cast_shadow(Paint& paint, const Pose& pose, const PartLook& look, float radius);
void cast_shadow(Paint& paint, ImVec2 centre, ImVec2 half, float radius, ImVec2 axis, float s);
// A block with a bevel: sides, face and a thin bright edge.
void block(Paint& paint, const Frame& f, float x0, float y0, float x1, float y1, float radius, ImU32 colour);
void sheen(Paint& paint, ImVec2 centre, float rx, float ry, float strength);
// Legs from the body into their holes, with the entries.
void legs(Paint& paint, const Pose& pose, const PartLook& look, float width);
// Tinned lugs that show at the near edge of a body which hides its own legs.
void lugs(Paint& paint, const Frame& f, const Pose& pose, float edge);
void screw(Paint& paint, ImVec2 centre, float r, float angle);
// A turned knob with a pointer; `angle` [rad] clockwise from straight up.
void knob(Paint& paint, const Frame& f, const Dial& dial, ImU32 colour);

// Lettering: along the axis when that lies flat, else upright; shrinks into `room` [hole steps], vanishes when too small to read.
void letter(Paint& paint, const Frame& f, float x, float y, float em, float room, ImU32 colour, std::string_view words, Weight weight = Weight::kStrong);
// Always level, CSS px.
void fitted(Paint& paint, ImVec2 at, float anchor, float em, float room, ImU32 colour, std::string_view words, Weight weight = Weight::kBody);
std::string type_print(const Part& part);        // what the maker prints on it: "NE555", "BC547"
bool sounding(const PartLook& look);

// How strongly a light shines on the canvas, 0..1.25: an eye's answer is far from linear.
float shine(double brightness);
void bloom(Paint& paint, ImVec2 centre, float reach, ImU32 light, ImU32 core, float strength);

// A case on the mat with its shadow.
void housing(Paint& paint, const Pose& pose, ImU32 colour, float radius);
void switch_cap(Paint& paint, const Box& box, bool on);
void terminal_post(Paint& paint, ImVec2 at, float s, uint32_t colour);
void display(Paint& paint, const Box& glass, bool on, float s);
// Name of the part beside its body on the mat.
void mat_name(Paint& paint, const Part& part, const Pose& pose, const PartLook& look, ImVec2 at, ImU32 colour);

}  // namespace tiepoint::kit
