#include "shell/bench/shortcuts.h"

#include <set>
#include <tuple>

#include "shell/words/table.h"
#include "shell/words/words.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

int host_modifiers(int chord) {
  return (chord & kWithShift ? kShift : 0) | (chord & kWithCommand ? kControl : 0) | (chord & kWithAlt ? kAlt : 0);
}

TEST(Shortcuts, EveryRowSaysWhatItDoesAndHow) {
  for (const Shortcut& row : shortcuts()) {
    const std::string id(row.id);
    EXPECT_TRUE(has_words("shortcut." + id)) << id;
    EXPECT_TRUE(has_words("shortcut.group." + std::string(row.group))) << id;
    EXPECT_TRUE(!row.chords.empty() || has_words("shortcut.how." + id)) << id;
    EXPECT_EQ(row.act != nullptr, row.reach == Reach::kPressed || row.reach == Reach::kEveryFrame) << id;
    for (const Chord& chord : row.chords)
      EXPECT_TRUE(chord.name.size() <= 2 || has_words("key." + std::string(chord.name))) << id << " " << chord.name;
  }
}

TEST(Shortcuts, NoWordsTellOfARowThatIsNotThere) {
  std::set<std::string> known = {"heading", "close", "or"};
  for (const Shortcut& row : shortcuts()) {
    known.insert(std::string(row.id));
    known.insert("how." + std::string(row.id));
    known.insert("group." + std::string(row.group));
  }
  constexpr std::string_view kPrefix = "shortcut.";
  for (const WordsEntry& entry : words_table())
    if (entry.key.starts_with(kPrefix)) {
      EXPECT_TRUE(known.contains(std::string(entry.key.substr(kPrefix.size())))) << entry.key;
    }
}

TEST(Shortcuts, NoTwoRowsShareAKey) {
  std::set<std::pair<int, int>> seen;
  for (const Shortcut& row : shortcuts())
    for (const Chord& chord : row.chords)
      if (chord.key != ImGuiKey_None) {
        EXPECT_TRUE(seen.insert({chord.modifiers, int(chord.key)}).second) << row.id;
      }
}

// With a part selected, the hole cursor on another and a step each to undo and to redo, each key has something to do.
TEST(Shortcuts, EveryKeyOfTheTableDoesSomething) {
  for (const Shortcut& row : shortcuts()) {
    if (row.reach != Reach::kPressed) continue;
    for (const Chord& chord : row.chords) {
      Hands h;
      h.bench.load(example_board("one-button"));
      ASSERT_TRUE(h.bench.act({SetTitle{"once"}}).ok());
      ASSERT_TRUE(h.bench.act({SetTitle{"twice"}}).ok());
      ASSERT_TRUE(h.bench.undo());
      h.bench.select("R1");
      h.bench.set_hole_cursor(h.part("LED1")->leads[0]);
      h.frames(2);
      const uint64_t before = h.bench.revision(Revision::kView) + h.bench.revision(Revision::kBoard);
      h.key(chord.key, host_modifiers(chord.modifiers));
      EXPECT_GT(h.bench.revision(Revision::kView) + h.bench.revision(Revision::kBoard), before) << row.id << " " << chord.name;
    }
  }
}

TEST(Shortcuts, AKeyWithAModifierThatIsNotInTheTableDoesNothing) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.bench.select("R1");
  h.frames(2);
  const Board before = h.board();
  h.key(ImGuiKey_R, kAlt);
  h.key(ImGuiKey_Delete, kAlt);
  h.key(ImGuiKey_A, kAlt);
  h.key(ImGuiKey_1, kAlt);
  EXPECT_EQ(h.board(), before);
  EXPECT_FALSE(h.bench.hole_cursor().valid());
}

}  // namespace
}  // namespace tiepoint
