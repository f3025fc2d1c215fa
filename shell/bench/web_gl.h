// Draws lists of triangles with WebGL 2. It sets all the state it needs and asks WebGL for none: in a browser every such
// question waits for the process that draws.
#pragma once

#include <cstdint>
#include <vector>

#include "imgui.h"
#include "shell/bench/picture.h"

namespace tiepoint {

class WebGl {
 public:
  // Gives the shaders to the current context, which compiles them meanwhile; start() waits for that.
  void begin();
  // Makes buffers and the texture of the fonts. False when the context refuses.
  bool start();
  // The context is gone, and with it every object made in it.
  void forget() { program_ = 0, started_ = false; }
  bool waits() const { return program_ != 0 && !started_; }  // for start()
  bool ready() const { return started_; }
  void put_fonts();
  // `data` has one list without callbacks, clip rectangles in CSS px; `areas` are wiped before, none: the whole canvas is.
  void draw(const ImDrawData& data, const std::vector<Area>& areas);

 private:
  unsigned program_ = 0, vertices_ = 0, indices_ = 0, layout_ = 0, texture_ = 0;
  int to_clip_ = -1;  // the uniform
  bool started_ = false;
};

}  // namespace tiepoint
