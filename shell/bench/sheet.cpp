#include "shell/bench/sheet.h"

#include <algorithm>

#include "shell/bench/host.h"

namespace tiepoint {
namespace {

constexpr uint64_t kKeptFor = 240;  // [frames] a sheet that is not shown
constexpr unsigned kLongPiece = 64 * kRunIndices;
constexpr float kAnywhere = 1e6f;  // [CSS px] a sheet is drawn whole; the frame's clip rectangle comes later

struct Around {
  ImVec2 low, high;
  explicit Around(ImVec2 p) : low(p), high(p) {}
  void take(ImVec2 p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
};

void sheet_mark(const ImDrawList*, const ImDrawCmd*) {}

}  // namespace

Key& Key::bytes(const void* data, size_t size) {
  const unsigned char* byte = static_cast<const unsigned char*>(data);
  for (; size >= sizeof(uint64_t); size -= sizeof(uint64_t), byte += sizeof(uint64_t)) {
    uint64_t value;
    std::memcpy(&value, byte, sizeof value);
    word(value);
  }
  for (; size > 0; --size, ++byte) word(*byte);
  return *this;
}

uint64_t hash_of(const ImDrawVert* vertices, unsigned count, const ImDrawIdx* indices, unsigned index_count,
                 unsigned first_vertex) {
  Key key;
  for (unsigned k = 0; k + 1 < index_count; k += 2)
    key.word(uint64_t(indices[k] - first_vertex) << 32 | (indices[k + 1] - first_vertex));
  if (index_count % 2 == 1) key.word(indices[index_count - 1] - first_vertex);
  return key.bytes(vertices, count * sizeof(ImDrawVert)).value();
}

const Sheet* sheet_of(const ImDrawCmd& command) {
  return command.UserCallback == sheet_mark ? static_cast<const Sheet*>(command.UserCallbackData) : nullptr;
}

ImVec4 clip_of(const ImDrawCmd& command, const SheetPiece& piece) {
  const ImVec4 &a = command.ClipRect, &b = piece.clip;
  return {std::max(a.x, b.x), std::max(a.y, b.y), std::min(a.z, b.z), std::min(a.w, b.w)};
}

void Sheets::begin_frame() {
  if (fonts_ != fonts::generation()) {
    sheets_.clear();
    fonts_ = fonts::generation();
  }
  if (++frame_ % kKeptFor == 0)
    std::erase_if(sheets_, [&](const auto& entry) { return entry.second->shown + kKeptFor < frame_; });
}

Sheet& Sheets::find(uint64_t name) {
  std::unique_ptr<Sheet>& sheet = sheets_[name];
  if (!sheet) sheet = std::make_unique<Sheet>();
  return *sheet;
}

void Sheets::begin(Paint& paint) {
  recorder_._Data = ImGui::GetDrawListSharedData();
  recorder_._ResetForNewFrame();
  recorder_.PushTextureID(ImGui::GetIO().Fonts->TexID);
  recorder_.PushClipRect({-kAnywhere, -kAnywhere}, {kAnywhere, kAnywhere});
  frame_list_ = paint.list;
  paint.list = &recorder_;
}

void Sheets::end(Paint& paint, Sheet& sheet) {
  paint.list = frame_list_;
  ++drawn_;
  sheet.fresh = false;
  const ImDrawList& from = recorder_;
  sheet.vertices.assign(from.VtxBuffer.begin(), from.VtxBuffer.end());
  sheet.indices.assign(from.IdxBuffer.begin(), from.IdxBuffer.end());
  sheet.pieces.clear();
  sheet.runs.clear();
  for (const ImDrawCmd& command : from.CmdBuffer) {
    if (command.ElemCount == 0 || command.UserCallback) continue;
    SheetPiece piece{.clip = command.ClipRect, .first_index = command.IdxOffset, .indices = command.ElemCount};
    const ImDrawIdx* index = sheet.indices.data() + piece.first_index;
    const auto [low, high] = std::minmax_element(index, index + piece.indices);
    piece.first_vertex = *low;
    piece.vertices = *high - *low + 1;
    const ImDrawVert* vertex = sheet.vertices.data() + piece.first_vertex;
    Around all(vertex->pos);
    for (unsigned v = 1; v < piece.vertices; ++v) all.take(vertex[v].pos);
    piece.low = all.low, piece.high = all.high;
    piece.first_run = unsigned(sheet.runs.size());
    piece.has_runs = piece.indices >= kLongPiece;
    for (unsigned first = 0; piece.has_runs && first < piece.indices; first += kRunIndices) {
      Around run(sheet.vertices[index[first]].pos);
      for (unsigned k = first + 1; k < std::min(first + kRunIndices, piece.indices); ++k) run.take(sheet.vertices[index[k]].pos);
      sheet.runs.push_back({run.low, run.high});
    }
    piece.hash = hash_of(vertex, piece.vertices, index, piece.indices, piece.first_vertex);
    sheet.pieces.push_back(piece);
  }
}

void Sheets::put(Paint& paint, Sheet& sheet) {
  sheet.shown = frame_;
  if (!sheet.pieces.empty()) paint.list->AddCallback(sheet_mark, &sheet);
}

}  // namespace tiepoint
