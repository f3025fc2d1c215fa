#include "shell/bench/picture.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

constexpr size_t kReach = 80;  // pieces that come or go at once and are seen to have
using Vertex = ImDrawIdx;      // which one, of a list
constexpr Vertex kNowhere = ~Vertex(0);

bool same(const ImVec4& a, const ImVec4& b) { return a.x == b.x && a.y == b.y && a.z == b.z && a.w == b.w; }
uint64_t with_clip(uint64_t hash, const ImVec4& clip) {
  return Key().word(hash).add(ImVec2{clip.x, clip.y}).add(ImVec2{clip.z, clip.w}).value();
}

}  // namespace

Picture::Piece Picture::piece_of(const ImDrawList& list, const ImDrawCmd& command) const {
  Piece piece{.vertex = list.VtxBuffer.Data,
              .index = list.IdxBuffer.Data + command.IdxOffset,
              .indices = command.ElemCount,
              .clip = command.ClipRect,
              .texture = command.GetTexID()};
  if (piece.indices == 0) return piece;
  const auto [low, high] = std::minmax_element(piece.index, piece.index + piece.indices);
  piece.first_vertex = *low;
  piece.vertices = *high - *low + 1;
  piece.hash = with_clip(
      hash_of(piece.vertex + piece.first_vertex, piece.vertices, piece.index, piece.indices, piece.first_vertex), piece.clip);
  return piece;
}

Picture::Piece Picture::piece_of(const Sheet& sheet, const SheetPiece& of, const ImDrawCmd& command) const {
  Piece piece{.vertex = sheet.vertices.data(),
              .index = sheet.indices.data() + of.first_index,
              .runs = of.has_runs ? sheet.runs.data() + of.first_run : nullptr,
              .indices = of.indices,
              .first_vertex = of.first_vertex,
              .vertices = of.vertices,
              .clip = clip_of(command, of),
              .texture = command.TextureId};
  if (piece.clip.z <= piece.clip.x || piece.clip.w <= piece.clip.y) piece.indices = 0;
  piece.hash = with_clip(of.hash, piece.clip);
  piece.bounds = piece.indices > 0 ? around(of.low, of.high, piece.clip) : Area{};
  return piece;
}

void Picture::take(const ImDrawList& list) {
  for (const ImDrawCmd& command : list.CmdBuffer) {
    if (const Sheet* sheet = sheet_of(command)) {
      for (const SheetPiece& piece : sheet->pieces) pieces_.push_back(piece_of(*sheet, piece, command));
    } else {
      pieces_.push_back(piece_of(list, command));
    }
  }
}

bool Picture::look(const ImDrawData& data) {
  pieces_.swap(before_);
  pieces_.clear();
  whole_ = before_.empty() || data.DisplaySize != size_ || data.FramebufferScale != scale_;
  size_ = data.DisplaySize, scale_ = data.FramebufferScale;
  for (const ImDrawList* list : data.CmdLists) take(*list);
  changed_.clear();

  bool any = whole_;
  const auto fresh = [&](Piece& piece) {
    if (piece.indices > 0 && piece.bounds.empty()) piece.bounds = bounds_of(piece);
    differ(piece);
  };
  // In step with the frame before. Pieces that have come or gone are passed over, in whichever of the two the other's next
  // piece comes sooner.
  const size_t now = pieces_.size(), then = whole_ ? 0 : before_.size();
  for (size_t k = 0, t = 0; k < now || t < then;) {
    size_t come = now - k, gone = then - t;
    if (come > 0 && gone > 0) {
      if (pieces_[k].hash == before_[t].hash) {
        pieces_[k++].bounds = before_[t++].bounds;
        continue;
      }
      const size_t far = std::min(std::max(come, gone), kReach);
      size_t ahead = 1;
      while (ahead < far && !(ahead < gone && before_[t + ahead].hash == pieces_[k].hash) &&
             !(ahead < come && pieces_[k + ahead].hash == before_[t].hash))
        ++ahead;
      const bool found = ahead < far, is_gone = found && ahead < gone && before_[t + ahead].hash == pieces_[k].hash;
      come = !found ? 1 : is_gone ? 0 : ahead;
      gone = !found ? 1 : is_gone ? ahead : 0;
    }
    any = true;
    for (; come > 0; --come) fresh(pieces_[k++]);
    for (; gone > 0; --gone) differ(before_[t++]);
  }
  if (any) settle_areas();
  return any;
}

Area clip_pixels(const ImVec4& clip, ImVec2 size, ImVec2 scale) {
  const int height = int(size.y * scale.y);
  const int left = int(clip.x * scale.x), below = int(float(height) - clip.w * scale.y);
  const int bottom = height - below;
  return {left, bottom - int((clip.w - clip.y) * scale.y), left + int((clip.z - clip.x) * scale.x), bottom};
}

Area Picture::pixels(const ImVec4& clip) const { return clip_pixels(clip, size_, scale_); }

Area Picture::around(ImVec2 low, ImVec2 high, const ImVec4& clip) const {
  const auto px = [](float at, float scale, float most) { return int(std::clamp(at * scale, -2.0f, most * scale + 2)); };
  return common({px(low.x, scale_.x, size_.x) - 1, px(low.y, scale_.y, size_.y) - 1, px(high.x, scale_.x, size_.x) + 2,
                 px(high.y, scale_.y, size_.y) + 2},
                pixels(clip));
}

Area Picture::bounds_of(const Piece& piece) const {
  const ImDrawVert* vertex = piece.vertex + piece.first_vertex;
  ImVec2 low = vertex->pos, high = vertex->pos;
  for (unsigned v = 1; v < piece.vertices; ++v) {
    low = {std::min(low.x, vertex[v].pos.x), std::min(low.y, vertex[v].pos.y)};
    high = {std::max(high.x, vertex[v].pos.x), std::max(high.y, vertex[v].pos.y)};
  }
  return around(low, high, piece.clip);
}

void Picture::differ(const Piece& piece) {
  if (!whole_ && !piece.bounds.empty()) changed_.push_back(piece.bounds);
}

void Picture::begin_cut() { cut_list_.CmdBuffer.resize(0), cut_list_.IdxBuffer.resize(0), cut_list_.VtxBuffer.resize(0); }

ImDrawData* Picture::end_cut(const ImDrawData& data) {
  cut_.Clear();
  cut_.Valid = true;
  cut_.DisplayPos = data.DisplayPos, cut_.DisplaySize = data.DisplaySize, cut_.FramebufferScale = data.FramebufferScale;
  cut_.CmdLists.push_back(&cut_list_);
  cut_.CmdListsCount = 1;
  cut_.TotalIdxCount = cut_list_.IdxBuffer.Size, cut_.TotalVtxCount = cut_list_.VtxBuffer.Size;
  return &cut_;
}

void Picture::add_area(const Area& area) {
  for (const Piece& piece : pieces_)
    if (piece.indices > 0 && meet(piece.bounds, area)) add_cut(piece, area);
}

ImDrawData* Picture::cut(const ImDrawData& data, const Area& area) {
  begin_cut();
  add_area(area);
  return end_cut(data);
}

ImDrawData* Picture::changes(const ImDrawData& data) {
  begin_cut();
  for (const Area& area : changed_) add_area(area);
  if (changed_.empty())
    for (const Piece& piece : pieces_)
      if (piece.indices > 0) add_whole(piece);
  return end_cut(data);
}

void Picture::add_whole(const Piece& piece) {
  const int begun = cut_list_.IdxBuffer.Size;
  const Vertex shift = Vertex(cut_list_.VtxBuffer.Size) - piece.first_vertex;
  cut_list_.VtxBuffer.resize(cut_list_.VtxBuffer.Size + int(piece.vertices));
  std::copy_n(piece.vertex + piece.first_vertex, piece.vertices, cut_list_.VtxBuffer.end() - piece.vertices);
  cut_list_.IdxBuffer.resize(begun + int(piece.indices));
  ImDrawIdx* out = cut_list_.IdxBuffer.Data + begun;
  for (unsigned k = 0; k < piece.indices; ++k) out[k] = piece.index[k] + shift;
  add_command(piece, piece.clip, begun);
}

// Its indices reach from `first_index` to the end of the list.
void Picture::add_command(const Piece& piece, const ImVec4& clip, int first_index) {
  const unsigned count = unsigned(cut_list_.IdxBuffer.Size - first_index);
  if (count == 0) return;
  if (!cut_list_.CmdBuffer.empty()) {
    ImDrawCmd& last = cut_list_.CmdBuffer.back();
    if (last.TextureId == piece.texture && same(last.ClipRect, clip)) {
      last.ElemCount += count;
      return;
    }
  }
  ImDrawCmd command;
  command.ClipRect = clip;
  command.TextureId = piece.texture;
  command.IdxOffset = unsigned(first_index);
  command.ElemCount = count;
  cut_list_.CmdBuffer.push_back(command);
}

void Picture::add_cut(const Piece& piece, const Area& area) {
  const Area clip = common(pixels(piece.clip), area);
  if (clip.empty()) return;
  // A little beside the pixels' edges, so that rounding down comes to them again.
  const ImVec4 bounds = {(float(clip.left) + 0.25f) / scale_.x, (float(clip.top) - 0.5f) / scale_.y,
                         (float(clip.right) + 0.5f) / scale_.x, (float(clip.bottom) - 0.25f) / scale_.y};
  const ImVec2 low = {float(clip.left) / scale_.x, float(clip.top) / scale_.y},
               high = {float(clip.right) / scale_.x, float(clip.bottom) / scale_.y};
  const ImDrawIdx* index = piece.index;
  const ImDrawVert* vertex = piece.vertex;
  const int begun = cut_list_.IdxBuffer.Size;
  if (place_.size() < piece.vertices) place_.resize(piece.vertices, kNowhere);
  const auto take = [&](Vertex corner) {
    ImDrawIdx& place = place_[corner - piece.first_vertex];
    if (place == kNowhere) {
      place = Vertex(cut_list_.VtxBuffer.Size);
      cut_list_.VtxBuffer.push_back(vertex[corner]);
      touched_.push_back(corner - piece.first_vertex);
    }
    cut_list_.IdxBuffer.push_back(place);
  };
  for (unsigned from = 0; from < piece.indices; from += kRunIndices) {
    if (const SheetRun* run = piece.runs ? piece.runs + from / kRunIndices : nullptr)
      if (run->low.x >= high.x || run->high.x <= low.x || run->low.y >= high.y || run->high.y <= low.y) continue;
    const unsigned to = std::min(from + kRunIndices, piece.indices);
    for (unsigned k = from; k + 2 < to; k += 3) {
      const ImVec2 a = vertex[index[k]].pos, b = vertex[index[k + 1]].pos, c = vertex[index[k + 2]].pos;
      if (std::min({a.x, b.x, c.x}) >= high.x || std::max({a.x, b.x, c.x}) <= low.x || std::min({a.y, b.y, c.y}) >= high.y ||
          std::max({a.y, b.y, c.y}) <= low.y)
        continue;
      for (unsigned corner = k; corner < k + 3; ++corner) take(index[corner]);
    }
  }
  for (const Vertex corner : touched_) place_[corner] = kNowhere;
  touched_.clear();
  add_command(piece, bounds, begun);
}

}  // namespace tiepoint
