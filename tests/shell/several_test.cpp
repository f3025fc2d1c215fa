#include "shell/bench/several.h"

#include <set>

#include "shell/bench/page_api.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

using List = std::vector<std::string>;

const PartKind& kind(const char* key) { return *catalogue().find(key); }

// A half board with parts in the holes given.
struct Scene {
  Board board;
  std::string put(const char* key, const List& holes) {
    Part part = make_part(kind(key));
    for (size_t i = 0; i < holes.size(); ++i) part.leads[i] = *board.hole(holes[i]);
    const Result<Applied> done = apply(board, {PlacePart{part}});
    EXPECT_TRUE(done.ok()) << (done ? std::string() : text(done.error()));
    return done ? done->part : std::string();
  }
  std::string holes(const std::string& name) const {
    std::string out;
    for (const Hole hole : board.find(name)->leads) out += (out.empty() ? "" : " ") + board.name_of(hole);
    return out;
  }
  void carry_out(const Result<Edit>& edit) {
    ASSERT_TRUE(edit.ok()) << text(edit.error());
    const Result<Applied> done = apply(board, *edit);
    ASSERT_TRUE(done.ok()) << text(done.error());
  }
};

std::set<Hole> seated(const Board& board) {
  std::set<Hole> holes;
  for (const Part& part : board.parts)
    for (const Hole hole : part.leads)
      if (hole.valid() && !part.kind->touches) {
        EXPECT_TRUE(holes.insert(hole).second) << board.name_of(hole);
      }
  return holes;
}

TEST(Several, PartsThatStandInEachOthersWayMoveTogether) {
  // W1 c1-c4 and W2 c2-c3: by one column each lands where the other stood, whichever goes first.
  Scene s;
  s.put("jumper-wire", {"c1", "c4"});
  s.put("jumper-wire", {"c2", "c3"});
  const Board before = s.board;
  const Result<Edit> edit = shift_parts(s.board, List{"W1", "W2"}, 1, 0);
  ASSERT_TRUE(edit.ok()) << text(edit.error());
  const Result<Applied> done = apply(s.board, *edit);
  ASSERT_TRUE(done.ok());
  EXPECT_EQ(s.holes("W1"), "c2 c5");
  EXPECT_EQ(s.holes("W2"), "c3 c4");
  ASSERT_TRUE(apply(s.board, done->inverse).ok());
  EXPECT_EQ(s.board, before);
}

TEST(Several, LeadInARailKeepsToItsRailOverTheGaps) {
  Scene s;
  const std::string wire = s.put("jumper-wire", {"top+5", "a7"});
  s.carry_out(nudge_parts(s.board, List{wire}, 1, 0));
  EXPECT_EQ(s.holes(wire), "top+6 a8") << "the fifth and the sixth hole of a rail have a gap between them";
  s.carry_out(nudge_parts(s.board, List{wire}, 0, 1));
  EXPECT_EQ(s.holes(wire), "top+6 b8");
}

TEST(Several, NudgeCrossesTheCentreGapAndStopsAtTheEdge) {
  Scene s;
  const std::string led = s.put("led", {"e5", "e6"});
  s.carry_out(nudge_parts(s.board, List{led}, 0, 1));
  EXPECT_EQ(s.holes(led), "f5 f6");
  const std::string corner = s.put("led", {"e1", "e2"});
  const Result<Edit> refused = nudge_parts(s.board, List{corner}, -1, 0);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().code, Code::kOffBoard);
  EXPECT_EQ(refused.error().part, corner);
}

TEST(Several, NudgeOntoATakenHoleIsRefusedNotSteppedOver) {
  Scene s;
  const std::string wire = s.put("jumper-wire", {"c1", "c3"});
  s.put("jumper-wire", {"c4", "c8"});
  const Result<Edit> refused = nudge_parts(s.board, List{wire}, 1, 0);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().code, Code::kHoleOccupied);
  EXPECT_EQ(refused.error().hole, "c4");
}

TEST(Several, BendsOfAWireComeAlong) {
  Scene s;
  const std::string wire = s.put("jumper-wire", {"c1", "c5"});
  ASSERT_TRUE(apply(s.board, {RouteWire{wire, {{2, 6}}}}).ok());
  s.carry_out(shift_parts(s.board, List{wire}, 3, 1));
  EXPECT_EQ(s.board.find(wire)->bends, (std::vector<MatPoint>{{5, 7}}));
}

TEST(Several, CopyIsPutDownInAStripOfItsOwn) {
  Scene s;
  const std::string resistor = s.put("resistor", {"b10", "b15"});
  const Board before = s.board;
  s.carry_out(paste_parts(s.board, copy_parts(s.board, List{resistor}), catalogue()));
  ASSERT_EQ(s.board.parts.size(), 2u);
  const Part& copy = s.board.parts[1];
  EXPECT_EQ(copy.name, "R2");
  EXPECT_EQ(copy.values, before.parts[0].values);
  for (const Hole hole : copy.leads)
    for (const Hole other : s.board.clip_of(hole)) EXPECT_FALSE(before.lead_in(other).part) << "joined with the first at " << s.board.name_of(other);
}

TEST(Several, CutPartsGoBackToWhereTheyWere) {
  Board board = example_board("one-button");
  const Board before = board;
  const std::string clip = copy_parts(board, List{"R1", "LED1"});
  ASSERT_TRUE(apply(board, remove_parts(List{"R1", "LED1"})).ok());
  const Result<Edit> back = paste_parts(board, clip, catalogue());
  ASSERT_TRUE(back.ok());
  ASSERT_TRUE(apply(board, *back).ok());
  for (const char* name : {"R1", "LED1"}) EXPECT_EQ(board.find(name)->leads, before.find(name)->leads);
}

TEST(Several, CopiesFillTheBoardAndThenThereIsNoRoom) {
  Scene s;
  s.board.breadboards[0].layout = LayoutKind::k170;
  const std::string chip = s.put("push-button", {"e1"});
  const std::string clip = copy_parts(s.board, List{chip});
  int copies = 0;
  for (; copies < 100; ++copies) {
    const Result<Edit> edit = paste_parts(s.board, clip, catalogue());
    ASSERT_TRUE(edit.ok());
    if (const Batch* batch = std::get_if<Batch>(&edit->act); batch && batch->edits.empty()) break;
    s.carry_out(edit);
    seated(s.board);
  }
  EXPECT_GE(copies, 3);
  EXPECT_LT(copies, 100);
}

TEST(Several, EveryExampleCopiedWholeStandsAloneOnAnEmptyBoard) {
  for (const char* name : {"one-button", "two-in-series", "call-bell-lamp", "signal-lantern", "meter-on-a-divider"}) {
    const Board board = example_board(name);
    List all;
    for (const Part& part : board.parts) all.push_back(part.name);
    Board empty;
    empty.breadboards = board.breadboards;
    empty.title = board.title;
    const Result<Edit> edit = paste_parts(empty, copy_parts(board, all), catalogue());
    ASSERT_TRUE(edit.ok()) << name;
    ASSERT_TRUE(apply(empty, *edit).ok()) << name;
    EXPECT_EQ(empty, board) << name << ": in its very holes, plugs and all";
  }
}

TEST(Several, SupplyCopiedBesideItselfComesUnplugged) {
  const Board board = example_board("one-button");
  Board twice = board;
  const Result<Edit> edit = paste_parts(board, copy_parts(board, List{"PS1"}), catalogue());
  ASSERT_TRUE(edit.ok());
  ASSERT_TRUE(apply(twice, *edit).ok());
  const Part* copy = twice.find("PS2");
  ASSERT_NE(copy, nullptr);
  for (const Hole hole : copy->leads) EXPECT_FALSE(hole.valid());
  EXPECT_NE(copy->mat, board.find("PS1")->mat);
}

TEST(Several, ButtonHeldWhileItIsCopiedComesUpInTheCopy) {
  Scene s;
  const std::string button = s.put("push-button", {"e1"});
  ASSERT_TRUE(apply(s.board, {PressPart{button}}).ok());
  s.carry_out(paste_parts(s.board, copy_parts(s.board, List{button}), catalogue()));
  EXPECT_EQ(value_of(s.board.parts[1], "pressed"), 0);
}

TEST(Several, CopyOfALongBoardIsPutOnAShortOne) {
  Scene from;
  from.board.breadboards[0].layout = LayoutKind::k830;
  const List names = {from.put("resistor", {"b55", "b60"}), from.put("led", {"c60", "c61"})};
  Scene to;
  to.carry_out(paste_parts(to.board, copy_parts(from.board, names), catalogue()));
  ASSERT_EQ(to.board.parts.size(), 2u);
  EXPECT_EQ(to.board.clip_of(to.board.parts[0].leads[1]), to.board.clip_of(to.board.parts[1].leads[0])) << "still joined with each other";
}

TEST(Several, BadClipboardsAreRefusedWithTheirReason) {
  const Board board = example_board("one-button");
  const std::pair<std::string, Code> bad[] = {
      {"", Code::kBadJson},
      {"The lamp is lit at dusk", Code::kBadJson},
      {"[]", Code::kWrongType},
      {"{}", Code::kMissingKey},
      {"\xff\xfe{", Code::kBadJson},
      {std::string(100000, '['), Code::kBadJson},
      {R"({"tiepoint":"circuit","version":1})", Code::kWrongFile},
      {R"({"tiepoint":"board","version":99,"breadboards":[],"parts":[]})", Code::kNewerVersion},
      {R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[]})", Code::kBadValue},
      {R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[{"kind":"rocket","name":"X1"}]})", Code::kUnknownKind},
  };
  for (const auto& [clip, code] : bad) {
    const Result<Edit> edit = paste_parts(board, clip, catalogue());
    ASSERT_FALSE(edit.ok()) << clip.substr(0, 60);
    EXPECT_EQ(key(edit.error().code), key(code)) << clip.substr(0, 60);
  }
}

// ---- on the bench

void load(Hands& h, const char* name = "one-button") {
  h.bench.load(example_board(name));
  h.frames(3);
}

TEST(SeveralHands, ShiftClickTakesPartsInAndOut) {
  Hands h;
  load(h);
  const Board before = h.board();
  const auto shift_click = [&](const std::string& id) {
    const ImVec2 at = h.at(id);
    h.host.key(ImGuiKey_LeftShift, true, kShift);
    h.frames(2);
    h.click(at);
    h.host.key(ImGuiKey_LeftShift, false, 0);
    h.frames(2);
  };
  shift_click("part.R1");
  shift_click("part.LED1");
  shift_click("control.S1");
  EXPECT_EQ(h.bench.selection(), (List{"R1", "LED1", "S1"}));
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
  EXPECT_TRUE(h.bench.selected().empty()) << "there is no single one";
  h.picture("several");
  shift_click("part.LED1");
  EXPECT_EQ(h.bench.selection(), (List{"R1", "S1"}));
  EXPECT_EQ(h.board(), before);
}

TEST(SeveralHands, ShiftDragSelectsWhatLiesWholeInTheBox) {
  Hands h;
  load(h);
  // All columns of the resistor and the LED, and half of what reaches out of the box.
  const Part& r = *h.part("R1");
  const ImVec2 a = h.hole(h.board().name_of(r.leads[0])), b = h.hole(h.board().name_of(r.leads[1]));
  const ImVec2 from = {std::min(a.x, b.x) - 14, std::min(a.y, b.y) - 14}, to = {std::max(a.x, b.x) + 14, std::max(a.y, b.y) + 14};
  h.host.key(ImGuiKey_LeftShift, true, kShift);
  h.frames(2);
  h.down(from);
  h.glide(from, to);
  h.picture("box");
  h.up(to);
  h.host.key(ImGuiKey_LeftShift, false, 0);
  h.frames(2);
  EXPECT_EQ(h.bench.selection(), (List{"R1"}));
}

TEST(SeveralHands, DragOverTheMatWithoutShiftStillMovesTheView) {
  Hands h;
  load(h);
  const ImVec2 before = h.hole("a1");
  h.drag({30, 30}, {90, 60});
  EXPECT_NEAR(h.hole("a1").x, before.x + 60, 1);
  EXPECT_TRUE(h.bench.selection().empty());
}

TEST(SeveralHands, FingerThatRestsSelectsAndOneThatRestsOnTheMatDrawsABox) {
  Hands h;
  load(h);
  h.source = PointerSource::kTouch;
  h.down(h.at("part.R1"));
  h.wait(0.7);
  EXPECT_EQ(h.bench.selection(), (List{"R1"}));
  h.up(h.at("part.R1"));
  EXPECT_EQ(h.bench.selection(), (List{"R1"})) << "lifting it does nothing more";
  h.down(h.at("part.LED1"));
  h.wait(0.7);
  h.up(h.at("part.LED1"));
  EXPECT_EQ(h.bench.selection(), (List{"R1", "LED1"}));
  h.bench.select("");
  const ImVec2 corner = {6, 6}, view = h.hole("a1");
  h.down(corner);
  h.wait(0.7);
  h.glide(corner, {1000, 590});
  h.picture("box-by-finger");
  h.up({1000, 590});
  EXPECT_GT(h.bench.selection().size(), 3u);
  EXPECT_EQ(h.hole("a1").x, view.x) << "the view stays";
}

TEST(SeveralHands, FingerThatRestsOnAButtonOnlyHoldsIt) {
  Hands h;
  load(h);
  h.source = PointerSource::kTouch;
  h.down(h.at("control.S1"));
  h.wait(0.8);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  EXPECT_TRUE(h.bench.selection().empty());
  h.up(h.at("control.S1"));
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
}

TEST(SeveralHands, SleepingBenchWakesForAFingerThatRests) {
  Hands h;
  load(h);
  h.source = PointerSource::kTouch;
  const ImVec2 at = h.at("part.R1");
  h.wait(1.5);
  h.host.pointer(PointerKind::kDown, PointerSource::kTouch, 0, at.x, at.y);
  double slept = 0;
  for (int i = 0; i < 100 && h.bench.selection().empty(); ++i) {
    h.wake = h.host.frame(h.now += 1e-3);
    if (h.wake < 0) break;
    h.now += h.wake, slept += h.wake;
  }
  EXPECT_EQ(h.bench.selection(), (List{"R1"}));
  EXPECT_LT(slept, 1);
}

TEST(SeveralHands, AllAreRemovedTurnedAndBroughtBackInOneStep) {
  Hands h;
  load(h);
  const Board before = h.board();
  h.key(ImGuiKey_A, kControl);
  EXPECT_EQ(h.bench.selection().size(), before.parts.size());
  h.key(ImGuiKey_Delete);
  EXPECT_TRUE(h.board().parts.empty());
  EXPECT_TRUE(h.bench.selection().empty());
  EXPECT_EQ(h.bench.message().key, "bench.removed");
  h.key(ImGuiKey_Z, kControl);
  EXPECT_EQ(h.board(), before);
  h.key(ImGuiKey_Z, kControl | kShift);
  EXPECT_TRUE(h.board().parts.empty());
  h.key(ImGuiKey_Z, kControl);
  h.key(ImGuiKey_A, kControl);
  h.key(ImGuiKey_Escape);
  EXPECT_TRUE(h.bench.selection().empty());
}

TEST(SeveralHands, SelectedPartsAreDraggedTogether) {
  Hands h;
  Scene s;
  s.put("resistor", {"b10", "b15"});
  s.put("led", {"c15", "c16"});
  h.bench.load(s.board);
  h.frames(3);
  h.bench.select_these({"R1", "LED1"});
  const ImVec2 from = h.at("part.R1"), step = h.hole("d13"), origin = h.hole("b10");
  const ImVec2 to = {from.x + step.x - origin.x, from.y + step.y - origin.y};
  h.down(from);
  h.glide(from, to);
  h.picture("dragged-together");
  h.up(to);
  h.frames(2);
  EXPECT_EQ(h.hole_of("R1", 0) + " " + h.hole_of("R1", 1), "d13 d18");
  EXPECT_EQ(h.hole_of("LED1", 0) + " " + h.hole_of("LED1", 1), "e18 e19");
  EXPECT_EQ(h.bench.selection(), (List{"R1", "LED1"}));
  h.key(ImGuiKey_Z, kControl);
  EXPECT_EQ(h.board(), s.board) << "one step";
}

TEST(SeveralHands, DragThatHasNoPlaceForAllLeavesAllAndSaysWhy) {
  Hands h;
  Scene s;
  s.put("resistor", {"b10", "b15"});
  s.put("led", {"c15", "c16"});
  s.put("led", {"d18", "d19"});
  h.bench.load(s.board);
  h.frames(3);
  h.bench.select_these({"R1", "LED1"});
  const ImVec2 from = h.at("part.R1"), step = h.hole("c13"), origin = h.hole("b10");
  h.drag(from, {from.x + step.x - origin.x, from.y + step.y - origin.y});
  EXPECT_EQ(h.board(), s.board);
  EXPECT_TRUE(h.bench.message().refused);
  EXPECT_EQ(h.bench.message().key, "error.hole-occupied");
}

TEST(SeveralHands, AltArrowsNudgeAndEachIsAStep) {
  Hands h;
  Scene s;
  s.put("resistor", {"b10", "b15"});
  h.bench.load(s.board);
  h.bench.select("R1");
  h.frames(3);
  h.key(ImGuiKey_RightArrow, kAlt);
  h.key(ImGuiKey_DownArrow, kAlt);
  EXPECT_EQ(h.hole_of("R1", 0), "c11");
  EXPECT_FALSE(h.bench.hole_cursor().valid()) << "the hole cursor stays away";
  h.key(ImGuiKey_LeftArrow, kAlt);
  h.key(ImGuiKey_UpArrow, kAlt);
  EXPECT_EQ(h.board(), s.board);
  h.key(ImGuiKey_Z, kControl);
  EXPECT_EQ(h.hole_of("R1", 0), "c10");
}

TEST(SeveralHands, DuplicateByKeyAndByTheCardSelectsTheCopies) {
  Hands h;
  load(h);
  h.bench.select_these({"R1", "LED1"});
  h.frames(2);
  h.key(ImGuiKey_D, kControl);
  EXPECT_EQ(h.bench.selection(), (List{"R2", "LED2"}));
  EXPECT_EQ(h.board().clip_of(h.part("R2")->leads[1]).size(), 5u);
  h.bench.select_these({"R1", "LED1"});
  h.frames(2);
  h.click(h.at("inspector.duplicate"));
  EXPECT_EQ(h.bench.selection(), (List{"R3", "LED3"}));
  h.bench.select("R3");
  h.frames(2);
  h.click(h.at("inspector.duplicate"));
  EXPECT_EQ(h.bench.selection(), (List{"R4"}));
  seated(h.board());
  for (int i = 0; i < 3; ++i) h.key(ImGuiKey_Z, kControl);
  EXPECT_EQ(h.board(), example_board("one-button"));
  EXPECT_TRUE(h.bench.selection().empty()) << "what is gone is not selected";
}

TEST(BendHands, SelectedWireIsBentByItsMiddleAndBackAgain) {
  for (const PointerSource source : {PointerSource::kMouse, PointerSource::kTouch}) {
    Hands h;
    Scene s;
    s.put("jumper-wire", {"c5", "c15"});
    h.bench.load(s.board);
    h.bench.select("W1");
    h.frames(3);
    h.source = source;
    const ImVec2 to = h.hole("h10");
    h.drag(h.at("grip.W1.0"), to);
    ASSERT_EQ(h.part("W1")->bends.size(), 1u);
    EXPECT_NEAR(h.board().mat_of(*h.board().hole("h10")).x, h.part("W1")->bends[0].x, 0.5);
    EXPECT_NEAR(h.board().mat_of(*h.board().hole("h10")).y, h.part("W1")->bends[0].y, 0.5);
    EXPECT_EQ(h.hole_of("W1", 0) + h.hole_of("W1", 1), "c5c15") << "its ends stay";
    h.picture("bent");
    h.drag(h.at("grip.W1.0"), h.hole("c11"));
    EXPECT_TRUE(h.part("W1")->bends.empty());
    h.key(ImGuiKey_Z, kControl);
    h.key(ImGuiKey_Z, kControl);
    EXPECT_EQ(h.board(), s.board);
  }
}

TEST(SeveralPage, CommandsCopyPasteTurnAndRemoveTheSelection) {
  Hands h;
  load(h);
  EXPECT_EQ(call(h.bench, R"({"do":"select","parts":["R1","nobody"]})").find("\"ok\":true"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"select","parts":["R1","LED1"]})").find("\"ok\":true"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"select","part":"S1","toggle":true})").find("\"ok\":true"), std::string::npos);
  EXPECT_EQ(h.bench.selection(), (List{"R1", "LED1", "S1"}));
  EXPECT_NE(call(h.bench, R"({"do":"words"})").find(R"("selection":["R1","LED1","S1"])"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"copy"})").find("resistor"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"duplicate"})").find(R"("parts":[)"), std::string::npos);
  EXPECT_EQ(h.bench.selection().size(), 3u);
  EXPECT_NE(call(h.bench, R"({"do":"remove"})").find(R"("ok":true)"), std::string::npos);
  EXPECT_EQ(h.board(), example_board("one-button"));
  const std::string refused = call(h.bench, R"({"do":"paste","text":"no parts at all"})");
  EXPECT_NE(refused.find("bad-json"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"select","all":true})").find("\"ok\":true"), std::string::npos);
  EXPECT_EQ(h.bench.selection().size(), h.board().parts.size());
}

}  // namespace
}  // namespace tiepoint
