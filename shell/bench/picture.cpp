#include "shell/bench/picture.h"

#include <algorithm>
#include <cmath>
#include <cstring>

namespace tiepoint {
namespace {

constexpr size_t kMostAreas = 12;
constexpr float kMostShare = 0.5f;  // of the canvas; above it all is drawn again
using Vertex = ImDrawIdx;  // which one, of a list
constexpr Vertex kNowhere = ~Vertex(0);

// FNV-1a over 8-byte words (the tail byte by byte): only equality matters.
constexpr uint64_t kPrime = 1099511628211ull;
void mix_word(uint64_t& hash, uint64_t word) {
  hash = (hash ^ word) * kPrime;
  hash ^= hash >> 32;
}
void mix(uint64_t& hash, const void* data, size_t size) {
  const unsigned char* bytes = static_cast<const unsigned char*>(data);
  for (; size >= sizeof(uint64_t); size -= sizeof(uint64_t), bytes += sizeof(uint64_t)) {
    uint64_t word;
    std::memcpy(&word, bytes, sizeof word);
    mix_word(hash, word);
  }
  for (; size > 0; --size, ++bytes) hash = (hash ^ *bytes) * kPrime;
}

bool meet(const Area& a, const Area& b) { return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom; }
Area both(const Area& a, const Area& b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}
Area common(const Area& a, const Area& b) {
  return {std::max(a.left, b.left), std::max(a.top, b.top), std::min(a.right, b.right), std::min(a.bottom, b.bottom)};
}
bool same(const ImVec4& a, const ImVec4& b) { return a.x == b.x && a.y == b.y && a.z == b.z && a.w == b.w; }

}  // namespace

Picture::Piece Picture::piece_of(const ImDrawList& list, const ImDrawCmd& command) const {
  Piece piece{.list = &list, .first_index = command.IdxOffset, .indices = command.ElemCount, .clip = command.ClipRect, .texture = command.GetTexID()};
  piece.hash = 14695981039346656037ull;
  if (piece.indices == 0) return piece;
  const ImDrawIdx* index = list.IdxBuffer.Data + piece.first_index;
  ImDrawIdx low = index[0], high = index[0];
  for (unsigned k = 1; k < piece.indices; ++k) low = std::min(low, index[k]), high = std::max(high, index[k]);
  piece.first_vertex = low;
  piece.vertices = high - low + 1;
  mix(piece.hash, &piece.clip, sizeof piece.clip);
  for (unsigned k = 0; k + 1 < piece.indices; k += 2) mix_word(piece.hash, uint64_t(index[k] - low) << 32 | (index[k + 1] - low));
  mix_word(piece.hash, index[piece.indices - 1] - low);
  mix(piece.hash, list.VtxBuffer.Data + low, piece.vertices * sizeof(ImDrawVert));
  return piece;
}

bool Picture::look(const ImDrawData& data) {
  pieces_.swap(before_);
  pieces_.clear();
  for (const ImDrawList* list : data.CmdLists)
    for (const ImDrawCmd& command : list->CmdBuffer) pieces_.push_back(piece_of(*list, command));
  whole_ = before_.empty() || data.DisplaySize != size_ || data.FramebufferScale != scale_;
  size_ = data.DisplaySize, scale_ = data.FramebufferScale;
  changed_.clear();

  // Piece by piece; where their number differs, what lies between a like beginning and a like end.
  const size_t now = pieces_.size(), then = before_.size(), least = std::min(now, then);
  size_t head = 0, tail = 0;
  if (now != then) {
    while (head < least && pieces_[head].hash == before_[head].hash) ++head;
    while (tail < least - head && pieces_[now - 1 - tail].hash == before_[then - 1 - tail].hash) ++tail;
  }
  bool any = whole_ || now != then;
  for (size_t k = 0; k < now; ++k) {
    Piece& piece = pieces_[k];
    const bool from_end = now != then && k + tail >= now, known = now == then || k < head || from_end;
    const Piece* older = whole_ || !known ? nullptr : &before_[from_end ? k + then - now : k];
    if (older && older->hash == piece.hash) {
      piece.bounds = older->bounds;
      continue;
    }
    if (piece.indices > 0) piece.bounds = bounds_of(piece);
    any = true;
    differ(piece);
    if (older) differ(*older);
  }
  if (now != then)
    for (size_t k = head; k + tail < then; ++k) differ(before_[k]);
  if (any) settle_areas();
  return any;
}

// The pixels that ImGui's OpenGL backend keeps to for a clip rectangle: it rounds down the left, the width, the height, and the bottom as
// counted from below.
Area Picture::pixels(const ImVec4& clip) const {
  const int height = int(size_.y * scale_.y);
  const int left = int(clip.x * scale_.x), below = int(float(height) - clip.w * scale_.y);
  const int bottom = height - below;
  return {left, bottom - int((clip.w - clip.y) * scale_.y), left + int((clip.z - clip.x) * scale_.x), bottom};
}

Area Picture::bounds_of(const Piece& piece) const {
  const ImDrawVert* vertex = piece.list->VtxBuffer.Data + piece.first_vertex;
  ImVec2 low = vertex->pos, high = vertex->pos;
  for (unsigned v = 1; v < piece.vertices; ++v) {
    low = {std::min(low.x, vertex[v].pos.x), std::min(low.y, vertex[v].pos.y)};
    high = {std::max(high.x, vertex[v].pos.x), std::max(high.y, vertex[v].pos.y)};
  }
  const auto px = [](float at, float scale, float most) { return int(std::clamp(at * scale, -2.0f, most * scale + 2)); };
  return common({px(low.x, scale_.x, size_.x) - 1, px(low.y, scale_.y, size_.y) - 1, px(high.x, scale_.x, size_.x) + 2, px(high.y, scale_.y, size_.y) + 2},
                pixels(piece.clip));
}

void Picture::differ(const Piece& piece) {
  if (!whole_ && !piece.bounds.empty()) changed_.push_back(piece.bounds);
}

// Joins areas that overlap, until none do.
void Picture::settle_areas() {
  if (whole_) return changed_.clear();
  for (bool again = true; again;) {
    again = false;
    for (size_t a = 0; a < changed_.size(); ++a)
      for (size_t b = a + 1; b < changed_.size();)
        if (meet(changed_[a], changed_[b])) {
          changed_[a] = both(changed_[a], changed_[b]);
          changed_.erase(changed_.begin() + long(b));
          again = true;
        } else {
          ++b;
        }
  }
  float sum = 0;
  for (const Area& area : changed_) sum += float(area.right - area.left) * float(area.bottom - area.top);
  if (changed_.size() > kMostAreas || sum > kMostShare * size_.x * scale_.x * size_.y * scale_.y) changed_.clear();
}

ImDrawData* Picture::cut(const ImDrawData& data, const Area& area) {
  cut_list_.CmdBuffer.resize(0), cut_list_.IdxBuffer.resize(0), cut_list_.VtxBuffer.resize(0);
  for (const Piece& piece : pieces_)
    if (piece.indices > 0 && meet(piece.bounds, area)) add_cut(piece, area);
  cut_.Clear();
  cut_.Valid = true;
  cut_.DisplayPos = data.DisplayPos, cut_.DisplaySize = data.DisplaySize, cut_.FramebufferScale = data.FramebufferScale;
  cut_.CmdLists.push_back(&cut_list_);
  cut_.CmdListsCount = 1;
  cut_.TotalIdxCount = cut_list_.IdxBuffer.Size, cut_.TotalVtxCount = cut_list_.VtxBuffer.Size;
  return &cut_;
}

void Picture::add_cut(const Piece& piece, const Area& area) {
  const Area clip = common(pixels(piece.clip), area);
  if (clip.empty()) return;
  // A little beside the pixels' edges, so that rounding down comes to them again.
  const ImVec4 bounds = {(float(clip.left) + 0.25f) / scale_.x, (float(clip.top) - 0.5f) / scale_.y, (float(clip.right) + 0.5f) / scale_.x,
                         (float(clip.bottom) - 0.25f) / scale_.y};
  const ImVec2 low = {float(clip.left) / scale_.x, float(clip.top) / scale_.y}, high = {float(clip.right) / scale_.x, float(clip.bottom) / scale_.y};
  const ImDrawIdx* index = piece.list->IdxBuffer.Data + piece.first_index;
  const ImDrawVert* vertex = piece.list->VtxBuffer.Data;
  const int begun = cut_list_.IdxBuffer.Size;
  place_.assign(piece.vertices, kNowhere);
  for (unsigned k = 0; k + 2 < piece.indices; k += 3) {
    const ImVec2 a = vertex[index[k]].pos, b = vertex[index[k + 1]].pos, c = vertex[index[k + 2]].pos;
    if (std::min({a.x, b.x, c.x}) >= high.x || std::max({a.x, b.x, c.x}) <= low.x || std::min({a.y, b.y, c.y}) >= high.y ||
        std::max({a.y, b.y, c.y}) <= low.y)
      continue;
    for (unsigned corner = k; corner < k + 3; ++corner) {
      ImDrawIdx& place = place_[index[corner] - piece.first_vertex];
      if (place == kNowhere) {
        place = Vertex(cut_list_.VtxBuffer.Size);
        cut_list_.VtxBuffer.push_back(vertex[index[corner]]);
      }
      cut_list_.IdxBuffer.push_back(place);
    }
  }
  const unsigned count = unsigned(cut_list_.IdxBuffer.Size - begun);
  if (count == 0) return;
  if (!cut_list_.CmdBuffer.empty()) {
    ImDrawCmd& last = cut_list_.CmdBuffer.back();
    if (last.TextureId == piece.texture && same(last.ClipRect, bounds)) {
      last.ElemCount += count;
      return;
    }
  }
  ImDrawCmd command;
  command.ClipRect = bounds;
  command.TextureId = piece.texture;
  command.IdxOffset = unsigned(begun);
  command.ElemCount = count;
  cut_list_.CmdBuffer.push_back(command);
}

}  // namespace tiepoint
