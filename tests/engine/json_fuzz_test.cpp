// Damaged files: whatever bytes come in, there is a board that holds or an error that says something, never a crash.
#include <gtest/gtest.h>

#include <random>

#include "engine/file/json.h"
#include "tests/engine/small_kinds.h"

namespace tiepoint {
namespace {

using small::kCatalogue;

class Damage {
 public:
  explicit Damage(uint32_t seed) : random_(seed) {}

  std::string of(std::string text) {
    for (int hits = 1 + static_cast<int>(pick(3)); hits > 0 && !text.empty(); --hits) {
      const size_t at = pick(text.size());
      switch (pick(7)) {
        case 0:
          text.resize(at);
          break;
        case 1:
          text[at] = static_cast<char>(text[at] ^ (1 << pick(8)));
          break;
        case 2:
          text[at] = static_cast<char>(pick(256));
          break;
        case 3:
          text.erase(at, 1 + pick(20));
          break;
        case 4:
          text.insert(at, text.substr(pick(text.size()), pick(60)));
          break;
        case 5:
          text.insert(at, token());
          break;
        default:
          replace_number(text, at);
          break;
      }
    }
    return text;
  }

 private:
  size_t pick(size_t count) { return random_() % count; }
  std::string token() {
    static constexpr std::array<std::string_view, 16> kTokens = {
        "null",        "true",   "[]",      "{}", "\"\"",    "-1",           "1e308",    "1e-320",
        "99999999999", "\"a1\"", "\"at\":", ",",  "\\u0000", "\xEF\xBB\xBF", "\"2:a1\"", "NaN"};
    return std::string(kTokens[pick(kTokens.size())]);
  }
  void replace_number(std::string& text, size_t from) {
    const size_t start = text.find_first_of("0123456789", from);
    if (start == std::string::npos) return;
    const size_t end = text.find_first_not_of("0123456789.", start);
    text.replace(start, end == std::string::npos ? end : end - start, std::to_string(static_cast<int>(random_())));
  }
  std::mt19937 random_;
};

Board random_board(uint32_t seed) {
  small::RandomEdits random(seed);
  Board board;
  for (int step = 0; step < 40; ++step) (void)apply(board, random.next(board));
  return board;
}

TEST(JsonFuzz, DamagedBoardFilesGiveABoardOrAnError) {
  int boards = 0, errors = 0;
  for (uint32_t seed = 1; seed <= 20; ++seed) {
    const std::string file = write_board(random_board(seed));
    Damage damage(seed);
    for (int i = 0; i < 200; ++i) {
      const std::string damaged = damage.of(file);
      const Result<Board> board = read_board(damaged, kCatalogue);
      if (!board) {
        ++errors;
        ASSERT_FALSE(text(board.error()).empty());
        ASSERT_TRUE(board.error().line > 0 || board.error().pointer.empty() || board.error().pointer[0] == '/');
        continue;
      }
      ++boards;  // whatever was read holds the rules and is kept without loss
      for (const Part& part : board->parts) ASSERT_TRUE(check_seat(*board, part)) << damaged;
      const Result<Board> again = read_board(write_board(*board), kCatalogue);
      ASSERT_TRUE(again) << text(again.error()) << "\n" << damaged;
      ASSERT_EQ(*again, *board);
    }
  }
  EXPECT_GT(boards, 20);
  EXPECT_GT(errors, 1000);
}

TEST(JsonFuzz, EveryTruncationIsAnError) {
  Board board;
  for (uint32_t seed = 1; board.parts.size() < 4; ++seed) board = random_board(seed);
  const std::string file = write_board(board);
  const size_t end = file.find_last_of('}');
  for (size_t length = 0; length <= end; ++length) {
    const Result<Board> cut = read_board(std::string_view(file).substr(0, length), kCatalogue);
    ASSERT_FALSE(cut.ok()) << length;
    ASSERT_GT(cut.error().line, 0);
  }
}

TEST(JsonFuzz, DamagedEditsGiveAnEditOrAnError) {
  int edits = 0, errors = 0;
  for (uint32_t seed = 50; seed <= 70; ++seed) {
    small::RandomEdits random(seed);
    Board board = random_board(seed);
    Damage damage(seed);
    for (int i = 0; i < 100; ++i) {
      const std::string json = write_edit(random.next(board), board);
      const Result<Edit> edit = read_edit(damage.of(json), board, kCatalogue);
      ++(edit ? edits : errors);
      if (edit) (void)apply(board, *edit);
    }
  }
  EXPECT_GT(edits, 10);
  EXPECT_GT(errors, 500);
}

}  // namespace
}  // namespace tiepoint
