// The meter under the hand: its buttons, its fuse, its probes.
#include <gtest/gtest.h>

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

// A point of the mat on the screen, from two holes of the board: a1 lies at (0, 0), a2 at (1, 0).
ImVec2 on_mat(Hands& hands, double x, double y) {
  const ImVec2 a = hands.hole("a1"), b = hands.hole("a2");
  const float scale = b.x - a.x;
  return {a.x + float(x) * scale, a.y + float(y) * scale};
}

const Part& part(Hands& hands, std::string_view name) { return *hands.bench.session().board().find(name); }

// Middle of a function's button of a meter at this place of the mat (draw_meter.cpp: 5.4 x 2.25 half-size, buttons of 1.06 every 1.18).
ImVec2 button(Hands& hands, MatPoint mat, int function) {
  return on_mat(hands, mat.x - 5.4 + 0.54 + (function - 1) * 1.18 + 0.53, mat.y - 2.25 + 3.52);
}

TEST(BenchMeter, ButtonsTurnItsFunctionAndOff) {
  Hands hands;
  hands.bench.load(example_board("meter-on-a-divider"));
  hands.frames(3);
  hands.picture("meter");
  const MatPoint mat = part(hands, "M1").mat;
  for (int function = 2; function <= 6; ++function) {
    hands.click(button(hands, mat, function));
    EXPECT_EQ(value_of(part(hands, "M1"), "function"), function);
  }
  hands.click(button(hands, mat, 6));
  EXPECT_EQ(value_of(part(hands, "M1"), "function"), 0) << "the button that is on switches it off";
  EXPECT_EQ(part(hands, "M1").mat, mat) << "a button does not move the case";
}

TEST(BenchMeter, ProbeIsDraggedOntoALead) {
  Hands hands;
  hands.bench.load(example_board("meter-on-a-divider"));
  hands.frames(3);
  hands.drag(hands.hole("d9"), hands.hole("c4"));
  EXPECT_EQ(part(hands, "M1").leads[0], *hands.bench.session().board().hole("c4"));
  EXPECT_EQ(part(hands, "R1").leads[0], *hands.bench.session().board().hole("c4")) << "the lead there stays";
}

}  // namespace
}  // namespace tiepoint
