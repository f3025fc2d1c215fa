// Notes: paper on the mat or on a board. Placed, moved, pointed, written on by hands and by the page; the circuit knows nothing
// of them.
#include "shell/bench/page_api.h"
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

std::string say_all(Hands& h, const std::string& request) { return call(h.bench, request); }

void place_note(Hands& h, ImVec2 at) {
  h.click(h.at("tray.wires"));
  h.click(h.at("box.note"));
  h.click(at);
}

TEST(Notes, PlacedByATapWrittenOnMovedAndUndoneByName) {
  for (const PointerSource source : {PointerSource::kMouse, PointerSource::kTouch}) {
    Hands h;
    h.source = source;
    h.bench.load(example_board("one-button"));
    h.frames(2);
    const ImVec2 free = {h.hole("a25").x, h.hole("top-25").y - 60};
    place_note(h, free);
    ASSERT_NE(h.part("N1"), nullptr) << text(h.bench.message());
    const MatPoint before = h.part("N1")->mat;
    EXPECT_NE(say_all(h, R"({"do":"edit","edit":{"edit":"label","part":"N1","label":"Lamp of the north gallery"}})")
                  .find("\"ok\":true"),
              std::string::npos);
    EXPECT_EQ(h.part("N1")->label, "Lamp of the north gallery");
    h.bench.select("");
    const ImVec2 body = h.at("part.N1");
    h.drag(body, {body.x - 120, body.y + 4});
    EXPECT_LT(h.part("N1")->mat.x, before.x - 1);
    h.picture("note");
    h.key(ImGuiKey_Z, kControl);
    EXPECT_EQ(h.part("N1")->mat, before);
    EXPECT_NE(say_all(h, R"({"do":"words"})").find(R"("undo":{"edit":"label","part":"N1")"), std::string::npos)
        << say_all(h, R"({"do":"words"})").substr(0, 600);
    h.key(ImGuiKey_Z, kControl);
    EXPECT_EQ(h.part("N1")->label, "");
    h.key(ImGuiKey_Z, kControl);
    EXPECT_EQ(h.part("N1"), nullptr);
  }
}

TEST(Notes, ItsPointerStandsInAHoleWithALeadInItAndChangesNothing) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.down(h.at("control.S1"));
  h.wait(0.2);
  const double before = h.reading("LED1").current;
  h.up(h.at("control.S1"));
  place_note(h, {h.hole("a25").x, h.hole("top-25").y - 60});
  h.bench.select("");
  h.drag(h.at("lead.N1.pointer"), h.hole("b10"));
  EXPECT_EQ(h.hole_of("N1", 0), "b10") << text(h.bench.message());
  EXPECT_EQ(h.hole_of("R1", 0), "b10");
  h.picture("note-pointer");
  h.down(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_NEAR(h.reading("LED1").current, before, 1e-12);
  // No finding speaks of paper.
  EXPECT_EQ(say_all(h, R"({"do":"findings"})").find("N1"), std::string::npos) << say_all(h, R"({"do":"findings"})");
}

TEST(Notes, TheFileKeepsThem) {
  Hands h;
  place_note(h, {h.hole("a25").x, h.hole("top-25").y - 60});
  ASSERT_NE(h.part("N1"), nullptr);
  ASSERT_TRUE(h.bench.act({LabelPart{"N1", "bell \xE2\x99\xAA"}}).ok());
  ASSERT_TRUE(h.bench.act({SeatLead{"N1", 0, *h.board().hole("c3")}}).ok());
  const Result<Board> again = read_board(write_board(h.board()), catalogue());
  ASSERT_TRUE(again.ok());
  EXPECT_EQ(*again, h.board());
}

TEST(Notes, ALongTextStaysInsideItsPaper) {
  Hands h;
  place_note(h, {h.hole("a15").x, h.hole("e15").y});
  ASSERT_NE(h.part("N1"), nullptr) << "paper may lie on a board";
  ASSERT_TRUE(h.bench
                  .act({LabelPart{"N1",
                                  "Members of the Thursday group: the bell circuit stays as it is until the new relay has "
                                  "come, please do not pull the red wire"}})
                  .ok());
  h.picture("note-long");
  const Widget* w = h.find("part.N1");
  ASSERT_NE(w, nullptr);
  EXPECT_GT(w->h, 60);
}

TEST(SeveralBoards, ASecondOneIsJoinedBesideAndTakenAwayAgain) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  EXPECT_NE(say_all(h, R"({"do":"breadboard","layout":"400"})").find("\"ok\":true"), std::string::npos);
  h.frames(3);
  ASSERT_EQ(h.board().breadboards.size(), 2u);
  EXPECT_GT(h.hole("2:a1").x, h.hole("a30").x);
  EXPECT_NEAR(h.hole("2:a1").y, h.hole("a1").y, 0.01);
  EXPECT_LT(h.hole("2:a30").x, 1014) << "and all of it is in sight";
  h.picture("two-boards");
  h.drag(h.hole("j30"), h.hole("2:f1"));
  ASSERT_NE(h.part("W3"), nullptr) << text(h.bench.message());
  EXPECT_EQ(h.hole_of("W3", 1), "2:f1");
  EXPECT_NE(say_all(h, R"({"do":"joined","hole":"2:f1"})").find("\"2:g1\""), std::string::npos);
  // A lead sits in it: it stays.
  EXPECT_EQ(say_all(h, R"({"do":"breadboard","away":true})").find("\"ok\":true"), std::string::npos);
  h.key(ImGuiKey_Z, kControl);
  EXPECT_NE(say_all(h, R"({"do":"breadboard","away":true})").find("\"ok\":true"), std::string::npos);
  EXPECT_EQ(h.board().breadboards.size(), 1u);
  EXPECT_NE(say_all(h, R"({"do":"breadboard","away":true})").find("bad-value"), std::string::npos);
}

TEST(SeveralBoards, WholeOnesLieBelowEachOtherAndAFifthIsRefused) {
  Hands h;
  ASSERT_NE(say_all(h, R"({"do":"new","layout":"830"})").find("\"ok\":true"), std::string::npos);
  for (int k = 2; k <= 4; ++k)
    EXPECT_NE(say_all(h, R"({"do":"breadboard","layout":"830"})").find("\"ok\":true"), std::string::npos) << k;
  h.frames(3);
  EXPECT_GT(h.hole("2:a1").y, h.hole("j1").y);
  EXPECT_EQ(h.hole("2:a1").x, h.hole("a1").x);
  EXPECT_NE(say_all(h, R"({"do":"breadboard","layout":"830"})").find("too-many"), std::string::npos);
  EXPECT_NE(say_all(h, R"({"do":"breadboard","layout":"90"})").find("\"pointer\":\"/layout\""), std::string::npos);
}

TEST(SeveralBoards, WhatLiesInTheWayMovesAsideInTheSameStep) {
  Hands h;
  h.drag(h.at("box.usb-supply"), {h.hole("a30").x + 160, h.hole("e30").y});
  ASSERT_NE(h.part("PS1"), nullptr);
  const MatPoint before = h.part("PS1")->mat;
  ASSERT_NE(say_all(h, R"({"do":"breadboard","layout":"400"})").find("\"ok\":true"), std::string::npos);
  EXPECT_NE(h.part("PS1")->mat, before);
  h.key(ImGuiKey_Z, kControl);
  EXPECT_EQ(h.part("PS1")->mat, before);
  EXPECT_EQ(h.board().breadboards.size(), 1u);
}

TEST(SeveralBoards, AKeyTakesTheCursorAcrossAndATypedAddressStaysThere) {
  Hands h;
  ASSERT_NE(say_all(h, R"({"do":"breadboard","layout":"400"})").find("\"ok\":true"), std::string::npos);
  const auto cursor = [&] { return h.board().name_of(h.bench.hole_cursor()); };
  h.key(ImGuiKey_N);
  EXPECT_EQ(cursor(), "e16");
  h.key(ImGuiKey_N);
  EXPECT_EQ(cursor(), "2:e16");
  h.key(ImGuiKey_C), h.key(ImGuiKey_4);
  EXPECT_EQ(cursor(), "2:c4");
  h.key(ImGuiKey_N, kShift);
  EXPECT_EQ(cursor(), "e16");
  h.wait(2);
  h.key(ImGuiKey_C), h.key(ImGuiKey_4);
  EXPECT_EQ(cursor(), "c4");
}

}  // namespace
}  // namespace tiepoint
