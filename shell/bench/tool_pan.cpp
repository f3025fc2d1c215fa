// Dragging the mat moves the view; a finger that rests there first draws a box instead.
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class PanTool : public Tool {
 public:
  explicit PanTool(double now) : since_(now) {}

  bool step(Desk& desk) override {
    const Pointer& p = desk.pointer;
    if (!started_ && long_pressed(desk, since_)) {
      desk.use(select_tool({}));
      return true;
    }
    if (p.moved) {
      const ImVec2 way = p.at - (started_ ? last_ : p.down_at);
      if (way.x != 0 || way.y != 0) desk.camera.pan(way);
      last_ = p.at, started_ = true;
    }
    if (p.released && !p.moved) desk.select({});
    return p.down && !p.released;
  }

 private:
  double since_;  // [s]
  ImVec2 last_ = {};
  bool started_ = false;
};

}  // namespace

std::unique_ptr<Tool> pan_tool(double now) { return std::make_unique<PanTool>(now); }

}  // namespace tiepoint
