#include "shell/bench/camera.h"

#include <gtest/gtest.h>

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

constexpr double kArrived = 0.4;  // [s] after a glide began

struct CameraKeys : testing::Test {
  Hands h;
  CameraKeys() {
    h.bench.load(example_board("one-button"));
    h.frames(3);
  }
  const Camera& camera() { return h.bench.desk().camera; }
  Box view() { return h.bench.desk().bench; }
};

TEST_F(CameraKeys, ZShowsTheHoleAtTheCursorCloselyAndThenTheWholeBench) {
  const float whole = camera().scale;
  h.bench.set_hole_cursor(*h.board().hole("e12"));
  h.key(ImGuiKey_Z);
  h.wait(kArrived);
  EXPECT_GT(camera().scale, 1.5f * whole);
  const ImVec2 hole = h.hole("e12"), centre = view().centre();
  EXPECT_NEAR(hole.x, centre.x, 2);
  EXPECT_NEAR(hole.y, centre.y, 2);
  h.key(ImGuiKey_Z);
  h.wait(kArrived);
  EXPECT_EQ(camera().scale, whole);
  EXPECT_FALSE(camera().touched) << "a new window size fits it anew";
}

TEST_F(CameraKeys, ZShowsAllLeadsOfTheSelectedParts) {
  const float whole = camera().scale;
  h.bench.select("R1");
  h.key(ImGuiKey_Z);
  h.wait(kArrived);
  EXPECT_GT(camera().scale, whole);
  for (int lead = 0; lead < 2; ++lead) {
    const ImVec2 at = h.hole(h.hole_of("R1", lead));
    EXPECT_TRUE(view().grown(-16).contains(at)) << lead;
  }
}

TEST_F(CameraKeys, WithNothingChosenZIsTheWholeBenchAndShiftZAlwaysIs) {
  const float whole = camera().scale;
  h.bench.zoom(2);
  h.key(ImGuiKey_Z);
  h.wait(kArrived);
  EXPECT_EQ(camera().scale, whole);
  h.bench.select("R1");
  h.key(ImGuiKey_Z);
  h.wait(kArrived);
  h.key(ImGuiKey_Z, kShift);
  h.wait(kArrived);
  EXPECT_EQ(camera().scale, whole);
}

TEST_F(CameraKeys, AGlideGivesWayToAHand) {
  h.bench.select("R1");
  h.host.key(ImGuiKey_Z, true, 0);
  h.frames(3);
  h.bench.zoom(0.5f);
  const float mine = camera().scale;
  h.wait(kArrived);
  EXPECT_EQ(camera().scale, mine);
}

TEST_F(CameraKeys, WithReducedMotionItIsThereAtOnce) {
  h.host.preferences({.reduced_motion = true});
  h.frames(1);
  h.bench.select("R1");
  ASSERT_TRUE(h.bench.look_at("R1"));
  h.frames(1);
  const float there = camera().scale;
  h.wait(kArrived);
  EXPECT_EQ(camera().scale, there);
  EXPECT_FALSE(h.bench.look_at("R99"));
}

TEST(Glide, PassesThroughTheMiddleAndEndsWhereItWasToEnd) {
  Camera camera, there;
  there.scale = 2 * camera.scale;
  there.origin = {camera.origin.x + 100, camera.origin.y - 50};
  Glide glide;
  EXPECT_FALSE(glide.advance(camera, 0));
  glide.begin(camera, there, 1);
  EXPECT_TRUE(glide.advance(camera, 1.1));
  EXPECT_NEAR(camera.scale, 1.5f * there.scale / 2, 1e-3);
  EXPECT_FALSE(glide.advance(camera, 1.3));
  EXPECT_EQ(camera.scale, there.scale);
  EXPECT_EQ(camera.origin.x, there.origin.x);
}

}  // namespace
}  // namespace tiepoint
