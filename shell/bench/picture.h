// Picture: which places of a frame differ from the frame before, so that only those are drawn again.
//
// A frame's draw commands are its pieces; the screen begins a new one (Paint::piece) for each thing that changes by itself. A
// piece is known by a hash of its vertices and indices, the latter counted from its own first vertex, so that it stays the same
// when one before it grows. The pieces of a sheet (sheet.h) bring their hashes along. Places are device pixels, left and top
// counted.
#pragma once

#include <algorithm>
#include <cstdint>
#include <vector>

#include "imgui.h"
#include "shell/bench/sheet.h"

namespace tiepoint {

struct Area {  // [device px] from the left and the top; right and bottom lie outside
  int left = 0, top = 0, right = 0, bottom = 0;
  bool empty() const { return right <= left || bottom <= top; }
};

inline bool meet(const Area& a, const Area& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
// Around both.
inline Area both(const Area& a, const Area& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}
// What both have; empty when they do not meet.
inline Area common(const Area& a, const Area& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}

// The pixels that a clip rectangle [CSS px] lets through: left, width and height are rounded down, so is the bottom as counted
// from below.
Area clip_pixels(const ImVec4& clip, ImVec2 size, ImVec2 scale);

class Picture {
 public:
  // Takes a frame in; true when it looks different from the last one.
  bool look(const ImDrawData& data);
  // Forgets the last frame: all of the next one is to be drawn.
  void forget() { pieces_.clear(); }
  // Where the last two frames differ: areas apart from each other. None: everywhere.
  const std::vector<Area>& changed() const { return changed_; }
  // Of the frame last taken in, the triangles that touch `area`, clipped to it: the same pixels as of the whole. Valid until
  // the next cut.
  ImDrawData* cut(const ImDrawData& data, const Area& area);
  // The same for all areas that changed, in one list; the whole frame where `changed` names none.
  ImDrawData* changes(const ImDrawData& data);

 private:
  struct Piece {
    const ImDrawVert* vertex = nullptr;  // the one that index 0 means
    const ImDrawIdx* index = nullptr;    // the first of its own
    const SheetRun* runs = nullptr;      // of a sheet
    unsigned indices = 0;
    unsigned first_vertex = 0, vertices = 0;
    ImVec4 clip = {};  // [CSS px]
    ImTextureID texture = {};
    uint64_t hash = 0;
    Area bounds;  // of what is seen of it, a pixel wider all round
  };
  void take(const ImDrawList& list);
  Piece piece_of(const ImDrawList& list, const ImDrawCmd& command) const;
  Piece piece_of(const Sheet& sheet, const SheetPiece& of, const ImDrawCmd& command) const;
  void differ(const Piece& piece);
  void settle_areas();
  Area pixels(const ImVec4& clip) const;
  Area bounds_of(const Piece& piece) const;
  Area around(ImVec2 low, ImVec2 high, const ImVec4& clip) const;
  void begin_cut();
  ImDrawData* end_cut(const ImDrawData& data);
  void add_area(const Area& area);
  void add_cut(const Piece& piece, const Area& area);
  void add_whole(const Piece& piece);
  void add_command(const Piece& piece, const ImVec4& clip, int first_index);

  std::vector<Piece> pieces_, before_;
  std::vector<Area> changed_, waiting_;
  ImVec2 size_ = {}, scale_ = {};
  bool whole_ = true;
  std::vector<ImDrawIdx> place_;    // of a piece's vertices in the cut; between two cuts all are nowhere
  std::vector<ImDrawIdx> touched_;  // the vertices that have a place
  ImDrawList cut_list_{nullptr};
  ImDrawData cut_;
};

}  // namespace tiepoint
