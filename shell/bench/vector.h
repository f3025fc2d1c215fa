// The shapes of Paint written down as SVG 1.1 instead of triangles, for a picture that stays sharp at any size. Shading across a body is
// kept as a few strips, blurred shadows as filters. Lengths are tenths of a CSS px, so that all numbers are whole.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "shell/bench/paint.h"

namespace tiepoint {

class Vector {
 public:
  explicit Vector(const Box& seen) : seen_(seen) {}

  void fill(const Outline& outline, const Fill& fill, float opacity);
  void stroke(const Outline& outline, float width, ImU32 colour);
  void body(std::span<const Station> stations, std::span<const Across> profile, float opacity);
  void line(std::span<const ImVec2> points, float width, ImU32 colour);  // round ends
  void shadow(const Outline& outline, float blur, ImU32 colour);
  void line_shadow(std::span<const ImVec2> points, float width, float blur, ImU32 colour);
  void glow(ImVec2 centre, float rx, float ry, std::span<const Fill::Stop> stops, float opacity);
  void hole(ImVec2 centre, float r, ImU32 rim, ImU32 mouth);
  void clip(const Box& box);
  void unclip();
  // `left` is where the words begin, at the height of their middle.
  void text(ImVec2 left, float em, float width, ImU32 colour, std::string_view words, bool strong, bool upright);

  // The whole file.
  std::string file() const;

 private:
  struct HoleKind {
    float r;
    ImU32 rim, mouth;
    int id;
  };
  void number(int value);
  void point(ImVec2 p);
  void outline(std::span<const ImVec2> points, bool closed);
  void paint(const char* what, ImU32 colour);  // fill="#…" and its opacity
  void blurred(float blur);
  int stops(std::span<const Fill::Stop> list, float opacity);

  Box seen_;
  std::string defs_, out_;
  std::vector<HoleKind> holes_;
  std::vector<int> blurs_;
  int ids_ = 0;
};

}  // namespace tiepoint
