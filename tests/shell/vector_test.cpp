#include "shell/bench/vector.h"

#include <gtest/gtest.h>

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

size_t count(const std::string& text, std::string_view what) {
  size_t n = 0;
  for (size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

TEST(Vector, EveryHoleOfTheBoardIsDrawn) {
  Hands hands;
  hands.bench.load(example_board("one-button"));
  hands.frames(2);
  const std::string svg = hands.bench.vector_picture();
  EXPECT_EQ(count(svg, "<use "), 400u);
  EXPECT_NE(svg.find(">S1</text>"), std::string::npos) << "the button carries its name";
}

TEST(Vector, TheLargestExampleStaysUnderHalfAMegabyte) {
  Hands hands;
  hands.bench.load(example_board("lamp-room"));
  hands.frames(2);
  const std::string svg = hands.bench.vector_picture();
  RecordProperty("bytes", int(svg.size()));
  EXPECT_LT(svg.size(), 500'000u);
}

// Drawing it changes nothing: the next frame is the same, and so are the places of the widgets.
TEST(Vector, TheBenchGoesOnAsBefore) {
  Hands hands;
  hands.bench.load(example_board("one-button"));
  hands.frames(2);
  const size_t widgets = hands.bench.widgets().size();
  const Image before = hands.picture("vector-before");
  hands.bench.vector_picture();
  EXPECT_EQ(hands.bench.widgets().size(), widgets);
  hands.frames(1);
  const Image after = hands.picture("vector-after");
  EXPECT_EQ(before.rgba, after.rgba);
}

TEST(Vector, EveryTagIsClosedAndNoNumberIsBroken) {
  Hands hands;
  hands.bench.load(example_board("harbour-lights"));
  hands.frames(2);
  const std::string svg = hands.bench.vector_picture();
  EXPECT_EQ(svg.find("nan"), std::string::npos);
  EXPECT_EQ(svg.find("inf"), std::string::npos);
  EXPECT_EQ(count(svg, "<g "), count(svg, "</g>"));
  EXPECT_EQ(count(svg, "<text "), count(svg, "</text>"));
  EXPECT_EQ(count(svg, "Gradient id="), count(svg, "Gradient>"));
}

TEST(Vector, AScopeHasItsSquaresAndItsTraceWithinItsGlass) {
  Hands hands;
  hands.bench.load(example_board("scope-on-a-filter"));
  hands.wait(0.5);
  const std::string svg = hands.bench.vector_picture();
  EXPECT_GE(count(svg, "stroke=\"#93aab1\""), 18u) << "ten squares across, eight up";
  EXPECT_GE(count(svg, "#f2b84b"), 2u) << "the first channel's trace and its number";
  EXPECT_GE(count(svg, "<clipPath id="), 2u);
  EXPECT_EQ(count(svg, "<g "), count(svg, "</g>"));
  if (const char* folder = std::getenv("TIEPOINT_PICTURES")) std::ofstream(std::string(folder) + "/scope.svg") << svg;
}

}  // namespace
}  // namespace tiepoint
