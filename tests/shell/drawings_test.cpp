// Every kind of the catalogue has its drawing; what is drawn answers to values and readings.
#include <cmath>
#include <functional>
#include <set>

#include <gtest/gtest.h>

#include "shell/bench/dial.h"
#include "shell/bench/draw.h"
#include "shell/bench/host.h"
#include "shell/bench/raster.h"
#include "shell/bench/rotor.h"
#include "shell/bench/theme.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

const PartType& kind_of(std::string_view key) { return static_cast<const PartType&>(*catalogue().find(key)); }

Pose pose_in_the_middle(const Part& part, ImVec2 centre, float scale) {
  Camera camera;
  camera.scale = scale;
  camera.origin = centre;
  if (part.kind->footprint.seat == Seat::kMat) return pose_on_mat(camera, nullptr, part);
  std::vector<MatPoint> pins;
  lead_offsets(*part.kind, part.turn, std::max(part.kind->footprint.reach_min, 1.0), pins);
  std::vector<ImVec2> leads;
  for (const MatPoint& p : pins) leads.push_back(camera.screen(p));
  return pose_at(part, leads, scale);
}

// A canvas that one function draws on.
class Canvas : public Screen {
 public:
  static constexpr float kSide = 420;
  std::function<void(Paint&)> draw;
  Host host{*this, kSide, kSide, 1};

  Image picture(std::function<void(Paint&)> what) {
    draw = std::move(what);
    for (int i = 0; i < 3; ++i) host.frame(now_ += 1.0 / 60);
    Image image;
    image.resize(int(kSide), int(kSide));
    image.clear(theme::rgb(theme::kBoard));
    rasterise(*host.draw_data(), atlas_coverage(), image);
    return image;
  }
  Image picture(const Part& part, const PartLook& look, float scale = 26) {
    Camera camera;
    camera.scale = scale;
    const Pose pose = pose_in_the_middle(part, {kSide / 2, kSide / 2}, scale);
    return picture([&, pose](Paint& paint) { draw_part(paint, camera, part, pose, look); });
  }

  double frame(const FrameIn& in) override {
    Paint paint;
    paint.begin(ImGui::GetBackgroundDrawList(), in.dpr);
    if (draw) draw(paint);
    for (const ImDrawVert& v : paint.list->VtxBuffer) finite_ = finite_ && std::isfinite(v.pos.x) && std::isfinite(v.pos.y);
    return kSleep;
  }
  void gesture(const Gesture&) override {}
  void preferences(const Preferences&) override {}
  uint64_t revision(Revision) const override { return 1; }
  bool finite() const { return finite_; }

 private:
  double now_ = 1;
  bool finite_ = true;
};

int differing(const Image& a, const Image& b) {
  int n = 0;
  for (int y = 0; y < a.height; ++y)
    for (int x = 0; x < a.width; ++x) n += a.at(x, y) != b.at(x, y);
  return n;
}

TEST(Drawings, EveryKindIsDrawnInEveryTurnWithFiniteShapes) {
  Canvas canvas;
  const Image bare = canvas.picture([](Paint&) {});
  for (const PartKind* kind : catalogue().kinds)
    for (int turn = 0; turn < 4; ++turn) {
      Part part = make_part(*kind);
      part.name = "X1";
      part.turn = decltype(part.turn)(turn);
      EXPECT_GT(differing(bare, canvas.picture(part, {})), 40) << kind->key << " turn " << turn;
      EXPECT_TRUE(canvas.finite()) << kind->key << " turn " << turn;
      if (kind->footprint.seat != Seat::kRigid) break;
    }
}

TEST(Drawings, PositionOfAKnobShows) {
  Canvas canvas;
  for (std::string_view key : {"potentiometer", "trimmer", "toggle-switch", "rotary-switch", "dip-switch-4", "slide-switch", "tilt-switch", "flex-sensor"}) {
    Part part = make_part(kind_of(key));
    int value = -1;
    for (size_t i = 0; i < part.values.size() && value < 0; ++i)
      if (part.kind->values[i].use == Use::kPosition) value = int(i);
    ASSERT_GE(value, 0) << key;
    part.values[size_t(value)] = part.kind->values[size_t(value)].minimum;
    const Image low = canvas.picture(part, {});
    part.values[size_t(value)] = part.kind->values[size_t(value)].maximum;
    EXPECT_GT(differing(low, canvas.picture(part, {})), 60) << key;
  }
}

// A digit's segments shine each by its own brightness: segment a (the topmost) alone reddens the upper half only.
TEST(Drawings, LitSegmentReddensItsOwnPlace) {
  Canvas canvas;
  const Part part = make_part(kind_of("digit-cathode"));
  PartReading reading;
  const Image dark = canvas.picture(part, {&reading});
  reading.lights[0] = 1;
  const Image lit = canvas.picture(part, {&reading});
  int upper = 0, lower = 0;
  for (int y = 0; y < lit.height; ++y)
    for (int x = 0; x < lit.width; ++x) {
      const int gain = int(lit.at(x, y) & 255) - int(dark.at(x, y) & 255);
      if (gain > 60) ++(y < lit.height / 2 ? upper : lower);
    }
  EXPECT_GT(upper, 200);
  EXPECT_EQ(lower, 0);
}

TEST(Drawings, MeltedFuseLooksDifferent) {
  Canvas canvas;
  const Part part = make_part(kind_of("fuse"));
  PartReading reading;
  const Image whole = canvas.picture(part, {&reading});
  reading.state = State::kMelted;
  EXPECT_GT(differing(whole, canvas.picture(part, {&reading})), 200);
}

TEST(Dial, ValueAndShareAreInverse) {
  for (const PartKind* kind : catalogue().kinds)
    for (const ValueSpec& spec : kind->values) {
      if (!spec.options.empty()) continue;
      for (double share : {0.0, 0.25, 0.5, 1.0})
        EXPECT_NEAR(dial_share(spec, dial_value(spec, share)), share, 1e-9) << kind->key << " " << spec.key;
    }
}

TEST(Dial, PointsAlongItsTravel) {
  Part part = make_part(kind_of("potentiometer"));
  Dial dials[kMostDials];
  const int value = value_index(*part.kind, "position");
  for (double position : {0.0, 0.5, 1.0}) {
    part.values[size_t(value)] = position;
    ASSERT_EQ(dials_of(part, pose_in_the_middle(part, {0, 0}, 26), dials), 1);
    EXPECT_EQ(dials[0].value, value);
    EXPECT_NEAR(dials[0].angle, dials[0].from + position * (dials[0].to - dials[0].from), 1e-5);
  }
}

TEST(Rotors, TurnWhileThereIsSpeedAndStandStillForReducedMotion) {
  Board board;
  board.parts.push_back(make_part(kind_of("dc-motor")));
  board.parts[0].id = {7};
  Readings readings;
  readings.parts.resize(1);
  Rotors rotors;
  EXPECT_FALSE(rotors.advance(board, readings, 1.0, false)) << "no reading";
  readings.parts[0].speed = 100;
  EXPECT_TRUE(rotors.advance(board, readings, 1.05, false));
  EXPECT_NEAR(rotors.turned(board.parts[0].id), drawn_speed(100) * 0.05, 1e-5);
  readings.parts[0].speed = -100;
  EXPECT_TRUE(rotors.advance(board, readings, 1.10, false));
  EXPECT_NEAR(rotors.turned(board.parts[0].id), 0, 1e-5) << "backwards";
  EXPECT_FALSE(rotors.advance(board, readings, 1.15, true));
  EXPECT_NEAR(rotors.turned(board.parts[0].id), 0, 1e-5);
}

}  // namespace
}  // namespace tiepoint
