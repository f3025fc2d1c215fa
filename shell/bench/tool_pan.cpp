// Dragging the mat moves the view.
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class PanTool : public Tool {
 public:
  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    if (p.moved) {
      const ImVec2 way = p.at - (started_ ? last_ : p.down_at);
      if (way.x != 0 || way.y != 0) desk.camera.pan(way);
      last_ = p.at, started_ = true;
    }
    if (p.released && !p.moved) desk.select({});
    return p.down && !p.released;
  }

 private:
  ImVec2 last_ = {};
  bool started_ = false;
};

}  // namespace

std::unique_ptr<Tool> pan_tool() { return std::make_unique<PanTool>(); }

}  // namespace tiepoint
