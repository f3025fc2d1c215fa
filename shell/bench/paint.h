// Paint: the few shapes all drawings of the bench are made of, with edges softened over one device pixel and colours that shade
// across a body. Everything ends as vertices of one ImDrawList, so WebGL, the software rasteriser and tests see the same
// picture.
#pragma once

#include <initializer_list>
#include <span>
#include <string_view>
#include <vector>

#include "imgui.h"
#include "shell/bench/theme.h"

namespace tiepoint {

using Index = ImDrawIdx;
inline float dot(ImVec2 a, ImVec2 b) { return a.x * b.x + a.y * b.y; }
float length(ImVec2 v);
ImVec2 unit(ImVec2 v);                                  // (1, 0) for a null vector
inline ImVec2 across(ImVec2 v) { return {-v.y, v.x}; }  // a quarter turn clockwise on the screen
ImVec2 lerp(ImVec2 a, ImVec2 b, float t);

struct Box {  // CSS px
  ImVec2 min, max;
  bool contains(ImVec2 p) const { return p.x >= min.x && p.x < max.x && p.y >= min.y && p.y < max.y; }
  ImVec2 centre() const { return lerp(min, max, 0.5f); }
  ImVec2 size() const { return max - min; }
  Box grown(float d) const { return {{min.x - d, min.y - d}, {max.x + d, max.y + d}}; }
};

// Colour over a plane: one colour, or up to five stops along a line.
struct Fill {
  struct Stop {
    float at;
    ImU32 colour;
  };
  Fill(ImU32 colour) : count(1) { stops[0] = {0, colour}; }
  Fill(ImVec2 from_, ImVec2 to_, std::initializer_list<Stop> list);
  float position(ImVec2 p) const;  // along the line, 0 at from, 1 at to
  ImU32 at(float t) const;
  ImVec2 from = {}, to = {};
  Stop stops[5];
  int count = 0;
};

// A convex outline, clockwise on the screen.
struct Outline {
  static constexpr int kMost = 160;
  ImVec2 p[kMost];
  int n = 0;
  void add(ImVec2 q) {
    if (n < kMost) p[n++] = q;
  }
  // Arc about c from angle a to b (radians, clockwise on the screen from +x), both ends included.
  void arc(ImVec2 c, float rx, float ry, float a, float b);
};
Outline circle(ImVec2 centre, float radius);
Outline ellipse(ImVec2 centre, float rx, float ry);
// A rounded rectangle whose long axis points along `axis` (unit); half-sizes along and across it.
Outline rounded(ImVec2 centre, ImVec2 half, float radius, ImVec2 axis = {1, 0});
Outline rounded(const Box& box, float radius);
Outline polygon(std::initializer_list<ImVec2> points);

// A line of stations with a radius each: wires, leads, turned bodies.
struct Station {
  ImVec2 p;
  float radius;
  ImU32 colour;
};
// Shading across it: at -1 the left edge seen along the line, +1 the right; `shade` towards white (+) or black (-).
struct Across {
  float at, shade;
};

enum class Weight { kBody, kStrong, kLarge };

class Vector;

class Paint {
 public:
  ImDrawList* list = nullptr;
  float px = 1;       // one device pixel [CSS px]
  Vector* vector = nullptr;  // when set, shapes are written there (vector.h) instead of becoming vertices
  float opacity = 1;  // multiplies every alpha: ghosts of parts being placed
  bool more_contrast = false;  // letters and lines as theme::stronger has them, bodies and wires with dark edges

  void begin(ImDrawList* target, float dpr);
  // What follows changes by itself, apart from what stands before it: a piece of the picture (picture.h).
  void piece() { list->AddDrawCmd(); }

  void fill(const Outline& outline, const Fill& fill);
  void stroke(const Outline& outline, float width, ImU32 colour);
  void line(ImVec2 a, ImVec2 b, float width, ImU32 colour);                                       // round ends
  void path(std::span<const ImVec2> points, float width, ImU32 colour);                           // open, round ends
  void trace(std::span<const ImVec2> points, float width, ImU32 colour);                          // many points, plain ends
  void tube(std::span<const ImVec2> points, float radius, ImU32 colour, bool round_ends = true);  // a shaded wire
  void body(std::span<const Station> stations, std::span<const Across> profile, bool lit_from_top = true);
  // As ImGui has them, without soft edges of their own: thin lines, bars and points of a screen.
  void thin(ImVec2 a, ImVec2 b, float width, ImU32 colour);
  void bar(const Box& box, ImU32 colour);
  void triangle(ImVec2 a, ImVec2 b, ImVec2 c, ImU32 colour);
  // What follows is seen within the box alone, until unclip().
  void clip(const Box& box);
  void unclip();
  // Soft shadow of a rounded rectangle, blur reaching `blur` outwards and inwards.
  void shadow(const Box& box, float radius, float blur, ImVec2 offset, float alpha);
  void shadow(ImVec2 centre, ImVec2 half, float radius, ImVec2 axis, float blur, float alpha);
  void path_shadow(std::span<const ImVec2> points, float radius, float blur, ImVec2 offset, float alpha);
  // Discs of light: colours at radii 0..1, from the middle outwards.
  void glow(ImVec2 centre, float rx, float ry, std::span<const Fill::Stop> stops);
  // One hole of the board: a square of half-size r with its worn rim.
  void hole(ImVec2 centre, float r, ImU32 rim, ImU32 top, ImU32 bottom);

  // Text of cap height about 0.73 em; `em` is the type size [CSS px]; `anchor` 0..1 of its width left of x; centred on y.
  void text(ImVec2 at, float anchor, float em, ImU32 colour, std::string_view words, Weight weight = Weight::kBody);
  float text_width(float em, std::string_view words, Weight weight = Weight::kBody) const;
  // Text turned a quarter anticlockwise (lettering along a vertical edge), centred on `at`.
  void text_upright(ImVec2 at, float em, ImU32 colour, std::string_view words);

  // Points along curves, into a list kept between calls so that drawing allocates nothing once warm.
  std::span<const ImVec2> quadratic(ImVec2 a, ImVec2 b, ImVec2 c);
  std::span<const ImVec2> cubic(ImVec2 a, ImVec2 b, ImVec2 c, ImVec2 d);
  std::span<const ImVec2> smooth(std::span<const ImVec2> through);  // Catmull-Rom through all points

 private:
  ImU32 ink(ImU32 colour) const { return opacity >= 1 ? colour : theme::fade(colour, opacity); }
  ImU32 drawn(ImU32 colour) const { return more_contrast ? theme::stronger(colour) : colour; }  // of letters and lines
  ImVec2 white() const { return uv_; }
  Index reserve(int indices, int vertices);
  void put(ImVec2 p, ImU32 colour) { list->PrimWriteVtx(p, uv_, colour); }
  void quad(Index a, Index b, Index c, Index d);
  void fan(const Outline& outline, const Fill& fill);
  void rings(int loops, int points, const ImVec2* at, const ImU32* colour, bool closed_middle);

  ImVec2 uv_ = {};
  std::vector<ImVec2> curve_, normal_, spot_;
  std::vector<Station> stations_;
  std::vector<ImU32> tint_;
};

}  // namespace tiepoint
