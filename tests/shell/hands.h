// Hands for the tests of the bench: a Host and a Bench without a window, worked by injected pointer, touch and key events only.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "engine/file/json.h"
#include "shell/bench/bench.h"
#include "shell/bench/host.h"
#include "shell/bench/raster.h"

namespace tiepoint {

inline Board example_board(const std::string& name) {
  std::ifstream file(std::string(TIEPOINT_EXAMPLES) + "/" + name + ".board.json");
  std::stringstream text;
  text << file.rdbuf();
  Result<Board> board = read_board(text.str(), catalogue());
  EXPECT_TRUE(board.ok()) << name;
  return board ? std::move(board).value() : Board{};
}

class Hands {
 public:
  Bench bench;
  Host host;
  double now = 1;
  float dpr;
  PointerSource source = PointerSource::kMouse;
  double wake = 0;  // what the last frame returned

  explicit Hands(float width = 1014, float height = 724, float dpr_ = 1) : host(bench, width, height, dpr_), dpr(dpr_) {
    frames(3);
  }

  void frames(int n) {
    for (int i = 0; i < n; ++i) wake = host.frame(now += 1.0 / 60);
  }
  void wait(double seconds) { frames(int(std::ceil(seconds * 60))); }

  void pointer(PointerKind kind, ImVec2 at, int button = 0) {
    host.pointer(kind, source, button, at.x, at.y);
    frames(2);
  }
  void move(ImVec2 at) { pointer(PointerKind::kMove, at); }
  void down(ImVec2 at) {
    if (source == PointerSource::kMouse) move(at);
    pointer(PointerKind::kDown, at);
  }
  void up(ImVec2 at) { pointer(PointerKind::kUp, at); }
  void click(ImVec2 at) { down(at), up(at); }
  void glide(ImVec2 from, ImVec2 to) {
    for (int i = 1; i <= 8; ++i) move({from.x + (to.x - from.x) * float(i) / 8, from.y + (to.y - from.y) * float(i) / 8});
  }
  void drag(ImVec2 from, ImVec2 to) {
    down(from);
    glide(from, to);
    up(to);
    frames(2);
  }
  void key(ImGuiKey k, int modifiers = 0) {
    host.key(k, true, modifiers);
    frames(2);
    host.key(k, false, 0);
    frames(2);
  }

  const Widget* find(const std::string& id) {
    frames(1);
    for (const Widget& w : bench.widgets())
      if (id == w.id) return &w;
    return nullptr;
  }
  ImVec2 at(const std::string& id) {
    const Widget* w = find(id);
    EXPECT_NE(w, nullptr) << "nothing called " << id << " is on the canvas";
    return w ? ImVec2{w->x + w->w / 2, w->y + w->h / 2} : ImVec2{-100, -100};
  }
  ImVec2 hole(const std::string& name) {
    const std::optional<ImVec2> p = bench.screen_of(name);
    EXPECT_TRUE(p.has_value()) << name;
    return p ? *p : ImVec2{-100, -100};
  }
  ImVec2 between(const std::string& a, const std::string& b) {
    const ImVec2 p = hole(a), q = hole(b);
    return {(p.x + q.x) / 2, (p.y + q.y) / 2};
  }

  const Board& board() { return bench.session().board(); }
  const Part* part(const std::string& name) { return board().find(name); }
  std::string hole_of(const std::string& name, int lead) {
    const Part* p = part(name);
    return p ? board().name_of(p->leads[size_t(lead)]) : std::string("no part");
  }
  const PartReading& reading(const std::string& name) {
    static const PartReading none;
    const Part* p = part(name);
    return p ? bench.session().readings().parts[size_t(board().index_of(p->id))] : none;
  }

  Image picture(const std::string& name) {
    frames(2);
    Image image;
    const ImDrawData& data = *host.draw_data();
    image.resize(int(data.DisplaySize.x * dpr + 0.5f), int(data.DisplaySize.y * dpr + 0.5f));
    image.clear(IM_COL32_BLACK);
    rasterise(data, atlas_coverage(), image);
    // For looking at them: TIEPOINT_PICTURES names a folder.
    if (const char* folder = std::getenv("TIEPOINT_PICTURES")) {
      const std::vector<uint8_t> ppm = to_ppm(image);
      std::ofstream(std::string(folder) + "/" + name + ".ppm", std::ios::binary)
          .write(reinterpret_cast<const char*>(ppm.data()), long(ppm.size()));
    }
    return image;
  }
};

}  // namespace tiepoint
