// Fingers on what they hide: the loupe, a box drawn from over the holes, the marks on an oscilloscope's screen.
#include "shell/bench/loupe.h"

#include "shell/bench/draw_scope.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

TEST(Loupe, LiesAboveTheFingerAndWithinTheBenchAtItsEdges) {
  const Box room = {{0, 0}, {360, 300}};
  for (float x = 0; x <= 360; x += 20)
    for (float y = 0; y <= 300; y += 20) {
      const Box box = loupe_box({x, y}, room);
      EXPECT_TRUE(box.min.x >= 0 && box.min.y >= 0 && box.max.x <= 360 && box.max.y <= 300) << x << " " << y;
      EXPECT_FALSE(box.grown(20).contains({x, y})) << "the finger hides it at " << x << " " << y;
    }
}

struct Touched : testing::Test {
  Hands hands{360, 520};
  Touched() { hands.source = PointerSource::kTouch; }
  const Widget* loupe() {
    for (const Widget& w : hands.bench.widgets())
      if (std::string_view(w.id).starts_with("loupe")) return &w;
    return nullptr;
  }
};

TEST_F(Touched, AWireDrawnByAFingerIsSeenInTheLoupeWithTheNameOfItsHole) {
  hands.bench.load(example_board("empty"));
  hands.frames(2);
  hands.down(hands.hole("c5"));
  EXPECT_EQ(loupe(), nullptr) << "a finger that only rests needs none";
  hands.glide(hands.hole("c5"), hands.hole("c12"));
  ASSERT_NE(loupe(), nullptr);
  EXPECT_STREQ(loupe()->id, "loupe.c12");
  hands.up(hands.hole("c12"));
  EXPECT_EQ(loupe(), nullptr);
  ASSERT_NE(hands.part("W1"), nullptr);
  EXPECT_EQ(hands.hole_of("W1", 1), "c12");
}

TEST_F(Touched, AnEndOfAWireIsFollowedByTheLoupe) {
  hands.bench.load(example_board("empty"));
  hands.frames(2);
  hands.drag(hands.hole("c5"), hands.hole("c12"));
  const ImVec2 from = hands.hole("c12"), to = hands.hole("h20") + ImVec2{0, 40};
  hands.down(from);
  hands.glide(from, to);
  ASSERT_NE(loupe(), nullptr);
  EXPECT_STREQ(loupe()->id, "loupe.h20");
  EXPECT_FALSE((Box{{loupe()->x, loupe()->y}, {loupe()->x + loupe()->w, loupe()->y + loupe()->h}}.contains(to)));
  hands.up(to);
  EXPECT_EQ(hands.hole_of("W1", 1), "h20");
}

TEST_F(Touched, AFingerThatRestsOnAHoleDrawsABox) {
  hands.bench.load(example_board("one-button"));
  hands.frames(2);
  const ImVec2 r1 = hands.at("part.R1");
  // An empty hole up and left of the resistor.
  const ImVec2 from = hands.hole("f1");
  hands.down(from);
  hands.wait(0.6);
  hands.glide(from, hands.hole("a30"));
  hands.up(hands.hole("a30"));
  (void)r1;
  EXPECT_FALSE(hands.bench.selection().empty());
  EXPECT_EQ(hands.part("W99"), nullptr);
  EXPECT_EQ(hands.board(), example_board("one-button")) << "no wire was drawn";
}

struct OnScreen : testing::Test {
  Hands hands{1014, 724};
  ScopeGrid grid() {
    const Part& part = *hands.part("OS1");
    Camera camera;
    camera.origin = hands.hole("a1");
    camera.scale = hands.hole("a2").x - hands.hole("a1").x;
    return scope_grid(pose_of(camera, hands.board(), part), hands.bench.session().scope(part.id)->settings());
  }
  double value(std::string_view key) { return value_of(*hands.part("OS1"), key); }
};

TEST_F(OnScreen, TheTriggerIsDraggedByItsMarkWithMouseAndFingerAsOneStepOfTheJournal) {
  for (const PointerSource source : {PointerSource::kMouse, PointerSource::kTouch}) {
    hands.bench.load(example_board("scope-on-a-filter"));
    hands.source = source;
    hands.wait(0.4);
    const ScopeGrid g = grid();
    const double level = value("trigger-level"), volts = g.settings.channel[size_t(g.settings.source)].volts;
    const ImVec2 mark = {g.box.max.x, g.y(g.settings.height(g.settings.source, level))};
    const float square = g.box.size().y / float(kSquaresUp);
    hands.drag(mark, mark + ImVec2{0, square});
    EXPECT_NEAR(value("trigger-level"), level - volts, 0.06 * volts);
    EXPECT_TRUE(hands.bench.undo());
    EXPECT_EQ(value("trigger-level"), level);
    EXPECT_FALSE(hands.bench.undo());
  }
}

TEST_F(OnScreen, ACursorIsDraggedAcrossAndTheCaseByAnyOtherPlace) {
  hands.bench.load(example_board("scope-on-a-filter"));
  ASSERT_TRUE(hands.bench.act({SetValue{"OS1", "cursors", 1}}).ok());
  hands.wait(0.4);
  const ScopeGrid g = grid();
  ASSERT_TRUE(g.settings.time_cursors);
  const double first = g.settings.time_cursor[0];
  const ImVec2 from = {g.x(first), g.box.centre().y + 3}, to = from + ImVec2{2 * g.box.size().x / float(kSquaresAcross), 0};
  hands.drag(from, to);
  EXPECT_NEAR(grid().settings.time_cursor[0], first + 2, 0.11);
  const MatPoint mat = hands.part("OS1")->mat;
  const ImVec2 free = {g.x(-3.3), g.y(3.5)};
  hands.drag(free, free + ImVec2{0, 60});
  EXPECT_FALSE(hands.part("OS1")->mat == mat) << "between the marks one takes the whole case";
}

}  // namespace
}  // namespace tiepoint
