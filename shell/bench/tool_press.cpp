// Holding a button down: it goes down with the press and comes up when the hand lifts, wherever that is.
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

class PressTool : public Tool {
 public:
  static constexpr int kPointer = 0;
  PressTool(Desk& desk, const Part& part) { desk.hold(kPointer, part.name); }
  bool step(Desk& desk) override {
    if (desk.pointer.down && !desk.pointer.released) return true;
    desk.release(kPointer);
    return false;
  }
  void cancel(Desk& desk) override { desk.release(kPointer); }
};

}  // namespace

std::unique_ptr<Tool> press_tool(Desk& desk, const Part& part) { return std::make_unique<PressTool>(desk, part); }

}  // namespace tiepoint
