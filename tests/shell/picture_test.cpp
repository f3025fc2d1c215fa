// What is drawn of a change is the change: cutting a frame to the areas that differ gives the same pixels as drawing all of it.
#include "shell/bench/picture.h"

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

Image image_of(const ImDrawData& data) {
  Image image;
  image.resize(int(data.DisplaySize.x * data.FramebufferScale.x + 0.5f), int(data.DisplaySize.y * data.FramebufferScale.y + 0.5f));
  image.clear(IM_COL32_BLACK);
  rasterise(data, atlas_coverage(), image);
  return image;
}

// Draws over `image` what has changed; returns the share of the canvas that took.
double draw_changes(Picture& picture, const ImDrawData& data, Image& image) {
  double drawn = 0;
  for (const Area& area : picture.changed()) {
    drawn += double(area.right - area.left) * (area.bottom - area.top);
    const Image part = image_of(*picture.cut(data, area));
    for (int y = area.top; y < area.bottom; ++y)
      for (int x = area.left; x < area.right; ++x)
        for (int k = 0; k < 4; ++k) image.rgba[size_t(y * image.width + x) * 4 + size_t(k)] = part.rgba[size_t(y * image.width + x) * 4 + size_t(k)];
  }
  return drawn / (double(image.width) * image.height);
}

TEST(Picture, TheChangedAreasAloneGiveTheWholePictureAtAnyDensity) {
  for (const float dpr : {1.0f, 1.25f}) {
    Hands hands(1014, 724, dpr);
    hands.bench.load(example_board("one-button"));
    hands.wait(1);
    Picture picture;
    EXPECT_TRUE(picture.look(*hands.host.draw_data()));
    EXPECT_TRUE(picture.changed().empty()) << "the first picture is drawn whole";
    Image image = image_of(*hands.host.draw_data());
    hands.frames(1);
    EXPECT_FALSE(picture.look(*hands.host.draw_data()));
    hands.down(hands.at("control.S1"));
    hands.wait(0.3);
    ASSERT_TRUE(picture.look(*hands.host.draw_data()));
    ASSERT_FALSE(picture.changed().empty());
    EXPECT_LT(draw_changes(picture, *hands.host.draw_data(), image), 0.35);
    EXPECT_TRUE(image.rgba == image_of(*hands.host.draw_data()).rgba) << "at " << dpr;
  }
}

// In a drag, marks over the board come and go; what lies between them in the list has not changed for that.
TEST(Picture, ADragOverALargeBoardChangesPlacesApartFromEachOtherAndLittleOfAll) {
  Hands hands;
  hands.bench.load(example_board("lamp-room"));
  hands.wait(0.5);
  Picture picture;
  picture.look(*hands.host.draw_data());
  Image image = image_of(*hands.host.draw_data());
  const ImVec2 from = hands.at("part.R2");
  hands.down(from);
  double most = 0;
  for (int k = 0; k < 12; ++k) {
    hands.move(from + ImVec2{9.0f * float(k), 7.0f * float(k % 5)});
    if (!picture.look(*hands.host.draw_data())) continue;
    const std::vector<Area>& areas = picture.changed();
    ASSERT_FALSE(areas.empty()) << "step " << k << " is drawn whole";
    for (size_t a = 0; a < areas.size(); ++a)
      for (size_t b = a + 1; b < areas.size(); ++b)
        EXPECT_FALSE(areas[a].left < areas[b].right && areas[b].left < areas[a].right && areas[a].top < areas[b].bottom && areas[b].top < areas[a].bottom);
    most = std::max(most, draw_changes(picture, *hands.host.draw_data(), image));
    ASSERT_TRUE(image.rgba == image_of(*hands.host.draw_data()).rgba) << "step " << k;
  }
  EXPECT_LT(most, 0.25);
  EXPECT_GT(most, 0);
  hands.key(ImGuiKey_Escape);
}

TEST(Picture, AZoomedBoardIsDrawnWhole) {
  Hands hands;
  hands.bench.load(example_board("one-button"));
  hands.wait(1);
  Picture picture;
  picture.look(*hands.host.draw_data());
  hands.bench.zoom(1.5f);
  hands.frames(2);
  EXPECT_TRUE(picture.look(*hands.host.draw_data()));
  EXPECT_TRUE(picture.changed().empty());
}

}  // namespace
}  // namespace tiepoint
