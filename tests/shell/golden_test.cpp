// Four main scenes held against pictures kept in tests/shell/golden: the software rasteriser's, averaged over blocks of 12
// pixels, so that they are small and a font's hinting does not matter. With TIEPOINT_GOLDEN=write the pictures are written
// anew: look at them before they are kept.
#include <fstream>
#include <sstream>

#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

constexpr int kBlock = 12;      // [px] of the picture that make one of the golden one
constexpr int kAlike = 20;      // of 255, in each colour
constexpr int kMostOther = 12;  // blocks that may be otherwise: lettering

std::string golden_path(const std::string& name) {
  return std::string(TIEPOINT_EXAMPLES) + "/../tests/shell/golden/" + name + ".ppm";
}

Image in_blocks(const Image& image) {
  Image out;
  out.resize(image.width / kBlock, image.height / kBlock);
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      int sum[3] = {};
      for (int j = 0; j < kBlock; ++j)
        for (int i = 0; i < kBlock; ++i)
          for (int c = 0; c < 3; ++c) sum[c] += int(image.at(x * kBlock + i, y * kBlock + j) >> (8 * c) & 255);
      constexpr int kArea = kBlock * kBlock;
      for (int c = 0; c < 4; ++c) out.rgba[4 * size_t(y * out.width + x) + size_t(c)] = c == 3 ? 255 : uint8_t(sum[c] / kArea);
    }
  return out;
}

// Blocks that look otherwise; -1 when there is no such golden picture or it has another size.
int otherwise(const Image& seen, const std::string& name) {
  std::ifstream file(golden_path(name), std::ios::binary);
  std::string magic;
  int width = 0, height = 0, most = 0;
  file >> magic >> width >> height >> most;
  file.get();
  if (!file || magic != "P6" || width != seen.width || height != seen.height || most != 255) return -1;
  int count = 0;
  for (int y = 0; y < height; ++y)
    for (int x = 0; x < width; ++x) {
      bool other = false;
      for (int c = 0; c < 3; ++c) other |= std::abs(file.get() - int(seen.at(x, y) >> (8 * c) & 255)) > kAlike;
      count += other;
    }
  return file ? count : -1;
}

void expect_golden(Hands& h, const std::string& name) {
  const Image seen = in_blocks(h.picture("golden-" + name));
  if (const char* wish = std::getenv("TIEPOINT_GOLDEN"); wish && std::string(wish) == "write") {
    const std::vector<uint8_t> ppm = to_ppm(seen);
    std::ofstream(golden_path(name), std::ios::binary).write(reinterpret_cast<const char*>(ppm.data()), long(ppm.size()));
  }
  const int others = otherwise(seen, name);
  EXPECT_GE(others, 0) << "no golden picture " << golden_path(name);
  EXPECT_LE(others, kMostOther) << name << ": so many blocks of " << kBlock << " pixels look otherwise";
}

TEST(Golden, FirstBoardWithItsButtonHeldLevelsAndFlow) {
  Hands h;
  h.bench.load(example_board("one-button"));
  ViewOptions view = h.bench.view();
  view.levels = view.flow = view.reduced_motion = true;
  h.bench.set_view(view);
  h.frames(2);
  h.down(h.at("control.S1"));
  h.wait(0.3);
  expect_golden(h, "held");
}

TEST(Golden, SixtyParts) {
  Hands h;
  Board board = example_board("lamp-room");
  // Switched off: what runs looks otherwise at every instant.
  for (Part& part : board.parts)
    if (const int on = value_index(*part.kind, "on"); on >= 0) part.values[size_t(on)] = 0;
  h.bench.load(std::move(board));
  h.wait(0.5);
  expect_golden(h, "sixty-parts");
}

TEST(Golden, HillUnderTheBoard) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.key(ImGuiKey_P);
  h.down(h.at("control.S1"));
  h.wait(0.3);
  expect_golden(h, "hill");
}

TEST(Golden, PhoneWithThePartsBox) {
  Hands h(360, 304, 2);
  h.bench.load(example_board("one-button"));
  h.frames(3);
  expect_golden(h, "phone");
}

TEST(Golden, APartLessAndALampThatIsDarkAreSeen) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.key(ImGuiKey_P);
  h.wait(0.3);
  EXPECT_GT(otherwise(in_blocks(h.picture("golden-dark")), "hill"), kMostOther);
  ASSERT_TRUE(h.bench.act({RemovePart{"R1"}}).ok());
  h.key(ImGuiKey_P);
  Hands phone(360, 304, 2);
  Board board = example_board("one-button");
  phone.bench.load(std::move(board));
  ASSERT_TRUE(phone.bench.act({RemovePart{"PS1"}}).ok());
  phone.frames(3);
  EXPECT_GT(otherwise(in_blocks(phone.picture("golden-phone-less")), "phone"), kMostOther);
}

}  // namespace
}  // namespace tiepoint
