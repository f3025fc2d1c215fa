// Sheet: the vertices of one thing on the canvas (a breadboard, a part, a compartment), kept from frame to frame. It is drawn
// anew only when one of the things its drawing reads has changed; a frame's draw list holds a reference to it (a callback
// command that is never called). Who walks through a draw list reads the pieces of a sheet where it meets one: picture.h,
// raster.h.
#pragma once

#include <cstdint>
#include <cstring>
#include <memory>
#include <string_view>
#include <type_traits>
#include <unordered_map>
#include <vector>

#include "imgui.h"
#include "shell/bench/paint.h"

namespace tiepoint {

// A hash of values in order; only equality matters. Words of 8 bytes are taken at once.
class Key {
 public:
  Key& bytes(const void* data, size_t size);
  Key& word(uint64_t value) {
    hash_ = (hash_ ^ value) * 1099511628211ull;
    hash_ ^= hash_ >> 32;
    return *this;
  }
  Key& add(double value) {
    uint64_t bits;
    std::memcpy(&bits, &value, sizeof bits);
    return word(bits);
  }
  Key& add(ImVec2 p) {
    uint64_t bits;
    static_assert(sizeof bits == sizeof p);
    std::memcpy(&bits, &p, sizeof bits);
    return word(bits);
  }
  Key& add(const Box& box) { return add(box.min).add(box.max); }
  Key& add(std::string_view text) { return word(text.size()).bytes(text.data(), text.size()); }
  Key& add(const void* address) { return word(uint64_t(reinterpret_cast<uintptr_t>(address))); }
  template <class T>
  requires(std::is_integral_v<T> || std::is_enum_v<T>) Key& add(T value) { return word(uint64_t(value)); }
  uint64_t value() const { return hash_; }

 private:
  uint64_t hash_ = 14695981039346656037ull;
};

// Around a run of triangles that follow each other: where only a small place is drawn again, most of a large sheet is passed by
// in runs.
struct SheetRun {
  ImVec2 low = {}, high = {};
};
inline constexpr unsigned kRunIndices = 96;  // of 32 triangles

// What is drawn with one clip rectangle, or changes by itself (Paint::piece).
struct SheetPiece {
  ImVec4 clip = {};  // [CSS px] its own, besides that of the frame
  unsigned first_index = 0, indices = 0;
  unsigned first_vertex = 0, vertices = 0;
  bool has_runs = false;       // a long one
  unsigned first_run = 0;      // its runs, kRunIndices of its indices each, the last one fewer
  ImVec2 low = {}, high = {};  // around its vertices
  uint64_t hash = 0;           // of vertices and indices
};

struct Sheet {
  uint64_t key = 0;  // of all that its drawing has read
  bool fresh = true;
  uint64_t shown = 0;  // in which frame, last
  std::vector<ImDrawVert> vertices;
  std::vector<ImDrawIdx> indices;  // counted from vertices[0]
  std::vector<SheetPiece> pieces;
  std::vector<SheetRun> runs;
};

// The sheet a command refers to, null for any other command.
const Sheet* sheet_of(const ImDrawCmd& command);
// The part of a frame's clip rectangle that a piece may use; empty (z <= x or w <= y) when nothing of it is seen.
ImVec4 clip_of(const ImDrawCmd& command, const SheetPiece& piece);
uint64_t hash_of(const ImDrawVert* vertices, unsigned count, const ImDrawIdx* indices, unsigned index_count,
                 unsigned first_vertex);

class Sheets {
 public:
  void begin_frame();
  void forget() { sheets_.clear(); }  // what all drawings read has changed
  // Puts the sheet called `name` into the frame; `draw` draws it onto `paint` if its key is another than when it was last
  // drawn.
  template <class Draw>
  void show(Paint& paint, uint64_t name, uint64_t key, Draw&& draw) {
    if (paint.vector) return void(draw());  // a drawing of its own, of which nothing is kept
    Sheet& sheet = find(name);
    if (sheet.fresh || sheet.key != key) {
      begin(paint);
      draw();
      end(paint, sheet);
      sheet.key = key;
    }
    put(paint, sheet);
  }
  uint64_t drawn() const { return drawn_; }  // sheets drawn since the start, for the tests

 private:
  Sheet& find(uint64_t name);
  void begin(Paint& paint);
  void end(Paint& paint, Sheet& sheet);
  void put(Paint& paint, Sheet& sheet);

  std::unordered_map<uint64_t, std::unique_ptr<Sheet>> sheets_;
  ImDrawList recorder_{nullptr};
  ImDrawList* frame_list_ = nullptr;
  uint64_t frame_ = 0, drawn_ = 0;
  unsigned fonts_ = 0;  // as they were when the sheets were drawn
};

}  // namespace tiepoint
