// Picture: which places of a frame differ from the frame before, so that only those are drawn again.
//
// A frame's draw commands are its pieces; the screen begins a new one (Paint::piece) for each thing that changes by itself. A piece is
// known by a hash of its vertices and indices, the latter counted from its own first vertex, so that it stays the same when one before it
// grows. Places are device pixels, left and top counted.
#pragma once

#include <cstdint>
#include <vector>

#include "imgui.h"

namespace tiepoint {

struct Area {  // [device px] from the left and the top; right and bottom lie outside
  int left = 0, top = 0, right = 0, bottom = 0;
  bool empty() const { return right <= left || bottom <= top; }
};

class Picture {
 public:
  // Takes a frame in; true when it looks different from the last one.
  bool look(const ImDrawData& data);
  // Forgets the last frame: all of the next one is to be drawn.
  void forget() { pieces_.clear(); }
  // Where the last two frames differ: areas apart from each other. None: everywhere.
  const std::vector<Area>& changed() const { return changed_; }
  // Of the frame last taken in, the triangles that touch `area`, clipped to it: the same pixels as of the whole. Valid until the next cut.
  ImDrawData* cut(const ImDrawData& data, const Area& area);

 private:
  struct Piece {
    const ImDrawList* list = nullptr;
    unsigned first_index = 0, indices = 0;
    unsigned first_vertex = 0, vertices = 0;
    ImVec4 clip = {};  // [CSS px]
    ImTextureID texture = {};
    uint64_t hash = 0;
    Area bounds;  // of what is seen of it, a pixel wider all round
  };
  Piece piece_of(const ImDrawList& list, const ImDrawCmd& command) const;
  void differ(const Piece& piece);
  void settle_areas();
  Area pixels(const ImVec4& clip) const;
  Area bounds_of(const Piece& piece) const;
  void add_cut(const Piece& piece, const Area& area);

  std::vector<Piece> pieces_, before_;
  std::vector<Area> changed_;
  ImVec2 size_ = {}, scale_ = {};
  bool whole_ = true;
  std::vector<ImDrawIdx> place_;  // of a piece's vertices in the cut
  ImDrawList cut_list_{nullptr};
  ImDrawData cut_;
};

}  // namespace tiepoint
