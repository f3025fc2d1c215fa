// The bench worked by hands: real pointer and key events into ImGui's queue, the model checked afterwards.
#include "tests/shell/hands.h"

namespace tiepoint {
namespace {

// Builds, by mouse alone, on an empty half board: supply to the top rails, wire, button, resistor, LED, wire back.
void build_lamp_by_mouse(Hands& h) {
  h.drag(h.at("box.usb-supply"), {h.hole("a6").x, h.hole("top-1").y - 90});
  h.drag(h.at("lead.PS1.+"), h.hole("top+10"));
  h.drag(h.at("lead.PS1.-"), h.hole("top-9"));
  h.drag(h.at("box.push-button"), h.between("e8", "f10"));
  h.drag(h.at("box.resistor"), h.between("b10", "b15"));
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  h.bench.select("");
  h.drag(h.hole("top+7"), h.hole("a8"));
  h.drag(h.hole("a16"), h.hole("top-15"));
}

TEST(BenchHands, MainJobByMouse) {
  Hands h;
  ASSERT_TRUE(h.board().parts.empty());
  build_lamp_by_mouse(h);
  h.picture("built");
  ASSERT_EQ(h.board().parts.size(), 6u) << text(h.bench.message());
  EXPECT_EQ(h.hole_of("PS1", 0), "top+10");
  EXPECT_EQ(h.hole_of("PS1", 1), "top-9");
  EXPECT_EQ(h.hole_of("S1", 0), "e8");
  EXPECT_EQ(h.hole_of("R1", 0), "b10");
  EXPECT_EQ(h.hole_of("R1", 1), "b15");
  EXPECT_EQ(h.hole_of("LED1", 0), "c15");
  EXPECT_EQ(h.hole_of("LED1", 1), "c16");
  EXPECT_EQ(h.hole_of("W1", 0), "top+7");
  EXPECT_EQ(h.hole_of("W2", 1), "top-15");
  // Red from the plus rail, black to the minus rail: common practice, no source.
  EXPECT_EQ(value_of(*h.part("W1"), "colour"), 0);
  EXPECT_EQ(value_of(*h.part("W2"), "colour"), 1);

  EXPECT_EQ(h.reading("LED1").state, State::kDark);
  h.down(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  EXPECT_EQ(h.reading("LED1").state, State::kLit);
  // 5 V behind 330 ohm and a red LED of about 1.9 V: (5 - 1.9) / 330, within a tenth for the LED's spread.
  EXPECT_NEAR(h.reading("LED1").current, 3.1 / 330, 0.1 * 3.1 / 330);
  h.up(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_EQ(h.reading("LED1").state, State::kDark);

  const Board built = h.board();
  int steps = 0;
  while (h.bench.session().journal().can_undo() && steps < 100) h.key(ImGuiKey_Z, kControl), ++steps;
  EXPECT_EQ(h.board(), Board{});
  EXPECT_EQ(steps, 8) << "one step for each gesture; the press is none";
  while (h.bench.session().journal().can_redo() && steps < 200)
    h.key(steps % 2 ? ImGuiKey_Y : ImGuiKey_Z, steps % 2 ? kControl : kControl | kShift), ++steps;
  EXPECT_EQ(h.board(), built);
}

TEST(BenchHands, MainJobByTapsOfAFinger) {
  Hands h;
  h.source = PointerSource::kTouch;
  h.click(h.at("box.usb-supply"));
  h.click({h.hole("a6").x, h.hole("top-1").y - 90});
  h.click(h.at("lead.PS1.+"));
  h.click(h.hole("top+10"));
  h.click(h.at("lead.PS1.-"));
  h.click(h.hole("top-9"));
  h.click(h.at("box.push-button"));
  h.click(h.hole("e8"));
  h.bench.select("");
  h.click(h.at("box.resistor"));
  h.click(h.hole("b10"));
  h.click(h.hole("b15"));
  h.bench.select("");
  h.click(h.at("box.led"));
  h.click(h.hole("c15"));
  h.click(h.hole("c16"));
  h.bench.select("");
  h.click(h.at("box.jumper-wire"));
  h.click(h.hole("top+7"));
  h.click(h.hole("a8"));
  h.click(h.at("box.jumper-wire"));
  h.click(h.hole("a16"));
  h.click(h.hole("top-15"));
  h.picture("built-by-taps");
  ASSERT_EQ(h.board().parts.size(), 6u) << text(h.bench.message());
  h.bench.select("");
  h.frames(2);
  h.down(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  EXPECT_EQ(h.reading("LED1").state, State::kLit);
  h.up(h.at("control.S1"));
  h.wait(0.2);
  EXPECT_EQ(h.reading("LED1").state, State::kDark);
}

TEST(BenchHands, FingerDragsAPartAboveItself) {
  Hands h;
  h.source = PointerSource::kTouch;
  const ImVec2 target = h.between("c10", "c15");
  h.drag(h.at("box.resistor"), {target.x, target.y + 58});
  ASSERT_NE(h.part("R1"), nullptr);
  EXPECT_EQ(h.hole_of("R1", 0), "c10");
}

TEST(BenchHands, OccupiedHoleRefusesAndSaysWhy) {
  Hands h;
  h.drag(h.at("box.resistor"), h.between("b10", "b15"));
  const Board before = h.board();
  h.bench.select("");
  h.down(h.at("box.led"));
  h.glide(h.at("box.led"), h.between("b15", "b16"));
  h.picture("refused");
  h.up(h.between("b15", "b16"));
  EXPECT_EQ(h.board(), before);
  EXPECT_TRUE(h.bench.message().refused);
  EXPECT_EQ(h.bench.message().key, "error.hole-occupied");
  EXPECT_EQ(h.bench.message().error.hole, "b15");
  EXPECT_NE(text(h.bench.message()).find("b15"), std::string::npos);
}

TEST(BenchHands, LostPointerNeitherDropsNorPresses) {
  Hands h;
  h.down(h.at("box.resistor"));
  h.glide(h.at("box.resistor"), h.between("b10", "b15"));
  h.pointer(PointerKind::kCancel, {-1, -1});
  h.frames(2);
  EXPECT_TRUE(h.board().parts.empty());
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.down(h.at("control.S1"));
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  h.pointer(PointerKind::kCancel, {-1, -1});
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
}

TEST(BenchHands, FocusLostLetsGoOfTheButton) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.host.key(ImGuiKey_1, true, 0);
  h.frames(2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  h.host.focus(false);
  h.frames(2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
}

TEST(BenchHands, NumberKeysHoldTwoButtonsAtOnce) {
  Hands h;
  h.bench.load(example_board("two-in-series"));
  h.frames(2);
  h.host.key(ImGuiKey_1, true, 0);
  h.wait(0.1);
  EXPECT_EQ(h.reading("LED1").state, State::kDark);
  h.host.key(ImGuiKey_2, true, 0);
  h.wait(0.1);
  EXPECT_EQ(h.reading("LED1").state, State::kLit);
  h.host.key(ImGuiKey_1, false, 0);
  h.wait(0.1);
  EXPECT_EQ(h.reading("LED1").state, State::kDark);
}

TEST(BenchHands, ButtonHeldByMouseAndKeyComesUpWithTheLast) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.down(h.at("control.S1"));
  h.host.key(ImGuiKey_1, true, 0);
  h.frames(2);
  h.up(h.at("control.S1"));
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  h.host.key(ImGuiKey_1, false, 0);
  h.frames(2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
}

TEST(BenchHands, SpaceHoldsTheSelectedButton) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.bench.select("S1");
  h.frames(2);
  h.host.key(ImGuiKey_Space, true, 0);
  h.frames(2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 1);
  h.host.key(ImGuiKey_Space, false, 0);
  h.frames(2);
  EXPECT_EQ(value_of(*h.part("S1"), "pressed"), 0);
}

TEST(BenchHands, DraggedPartKeepsItsSpanAndItsName) {
  Hands h;
  h.drag(h.at("box.resistor"), h.between("b10", "b15"));
  h.bench.select("");
  const ImVec2 from = h.at("part.R1"), step = h.hole("d13");
  const ImVec2 origin = h.hole("b10");
  h.drag(from, {from.x + step.x - origin.x, from.y + step.y - origin.y});
  EXPECT_EQ(h.hole_of("R1", 0), "d13");
  EXPECT_EQ(h.hole_of("R1", 1), "d18");
}

TEST(BenchHands, EndOfAWireIsSeatedAnew) {
  Hands h;
  h.drag(h.hole("c5"), h.hole("c9"));
  ASSERT_NE(h.part("W1"), nullptr);
  h.drag(h.at("lead.W1.2"), h.hole("g12"));
  EXPECT_EQ(h.hole_of("W1", 0), "c5");
  EXPECT_EQ(h.hole_of("W1", 1), "g12");
}

TEST(BenchHands, PlugPulledOutLiesOnTheMat) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.drag(h.at("lead.PS1.+"), {h.bench.screen_of("top-25")->x, 40});
  EXPECT_FALSE(h.part("PS1")->leads[0].valid());
  EXPECT_TRUE(h.part("PS1")->leads[1].valid());
}

TEST(BenchHands, TurnInTheHandAndOnTheBoard) {
  Hands h;
  h.down(h.at("box.resistor"));
  h.glide(h.at("box.resistor"), h.between("c12", "h12"));
  h.key(ImGuiKey_R);
  h.move(h.between("d12", "h12"));
  h.up(h.between("d12", "h12"));
  const Part* r = h.part("R1");
  ASSERT_NE(r, nullptr);
  EXPECT_EQ(h.board().mat_of(r->leads[0]).x, h.board().mat_of(r->leads[1]).x) << "it stands upright";
  const std::vector<Hole> before = r->leads;
  ASSERT_EQ(h.bench.selected(), "R1");
  h.key(ImGuiKey_R);
  EXPECT_NE(h.part("R1")->leads, before);
}

TEST(BenchHands, EscapePutsTheHandDownAndDeleteRemoves) {
  Hands h;
  h.click(h.at("box.led"));
  h.click(h.hole("c5"));
  h.key(ImGuiKey_Escape);
  h.click(h.hole("c6"));
  EXPECT_TRUE(h.board().parts.empty());
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  ASSERT_EQ(h.bench.selected(), "LED1");
  h.key(ImGuiKey_Delete);
  EXPECT_TRUE(h.board().parts.empty());
  EXPECT_TRUE(h.bench.selected().empty());
}

TEST(BenchHands, PartDraggedBackIntoTheBoxIsRemoved) {
  Hands h;
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  h.bench.select("");
  h.drag(h.at("part.LED1"), h.at("box.diode"));
  EXPECT_TRUE(h.board().parts.empty());
  EXPECT_TRUE(h.bench.session().journal().can_undo());
}

TEST(BenchHands, CardStepsAResistorAlongItsSeries) {
  Hands h;
  h.drag(h.at("box.resistor"), h.between("b10", "b15"));
  ASSERT_EQ(h.bench.selected(), "R1");
  EXPECT_EQ(h.find("inspector"), nullptr) << "no card in the way after placing";
  h.click(h.at("part.R1"));
  h.click(h.at("inspector.resistance.up"));
  EXPECT_DOUBLE_EQ(value_of(*h.part("R1"), "resistance"), 360);  // E24 after 330: IEC 60063
  h.click(h.at("inspector.resistance.down"));
  h.click(h.at("inspector.resistance.down"));
  EXPECT_DOUBLE_EQ(value_of(*h.part("R1"), "resistance"), 300);
  h.click(h.at("inspector.remove"));
  EXPECT_TRUE(h.board().parts.empty());
}

TEST(BenchHands, CardColoursAnLed) {
  Hands h;
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  h.click(h.at("part.LED1"));
  h.click(h.at("inspector.colour.blue"));
  const Part& led = *h.part("LED1");
  const int i = value_index(*led.kind, "colour");
  EXPECT_EQ(led.kind->values[size_t(i)].options[size_t(led.values[size_t(i)])], "blue");
  h.picture("led-card");
}

TEST(BenchHands, SupplyIsSwitchedOnItsCase) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.frames(2);
  h.click(h.at("control.PS1"));
  EXPECT_EQ(value_of(*h.part("PS1"), "on"), 0);
  h.click(h.at("control.PS1"));
  EXPECT_EQ(value_of(*h.part("PS1"), "on"), 1);
}

TEST(BenchHands, SupplyDroppedOnTheBoardStandsBesideIt) {
  Hands h;
  h.drag(h.at("box.usb-supply"), h.hole("c15"));
  const Part* supply = h.part("PS1");
  ASSERT_NE(supply, nullptr);
  const MatArea plate = board_plate(h.board().breadboards[0]);
  const ImVec2 half = mat_half(*supply);
  const bool clear = supply->mat.y + half.y <= plate.min.y || supply->mat.y - half.y >= plate.max.y ||
                     supply->mat.x + half.x <= plate.min.x || supply->mat.x - half.x >= plate.max.x;
  EXPECT_TRUE(clear);
}

TEST(BenchHands, WheelZoomsAboutThePointer) {
  Hands h;
  const ImVec2 at = h.hole("c15");
  h.move(at);
  const float before = h.hole("c16").x - at.x;
  h.host.wheel(0, 2);
  h.frames(3);
  EXPECT_NEAR(h.hole("c15").x, at.x, 0.5);
  EXPECT_NEAR(h.hole("c15").y, at.y, 0.5);
  EXPECT_GT(h.hole("c16").x - h.hole("c15").x, before * 1.2f);
  h.bench.zoom_fit();
  h.frames(2);
  EXPECT_NEAR(h.hole("c16").x - h.hole("c15").x, before, 0.01);
}

TEST(BenchHands, TwoFingersMoveTheViewAndNothingElse) {
  Hands h;
  h.source = PointerSource::kTouch;
  const Board before = h.board();
  const float step = h.hole("c16").x - h.hole("c15").x;
  h.down(h.hole("c15"));
  h.pointer(PointerKind::kCancel, {-1, -1});
  h.host.gesture({.x = 400, .y = 300, .scale = 2, .pan_x = 10, .pan_y = 0});
  h.frames(3);
  EXPECT_NEAR(h.hole("c16").x - h.hole("c15").x, 2 * step, 0.01);
  EXPECT_EQ(h.board(), before);
}

TEST(BenchHands, PinchWhileAPartWaitsForItsSecondHoleKeepsItInTheHand) {
  Hands h;
  h.source = PointerSource::kTouch;
  h.click(h.at("box.resistor"));
  h.click(h.hole("c5"));
  h.down(h.hole("c9"));  // the first finger of the pinch
  h.pointer(PointerKind::kCancel, {-1, -1});
  h.host.gesture({.x = 500, .y = 300, .scale = 1.2f, .pan_x = 0, .pan_y = 0});
  h.frames(3);
  EXPECT_TRUE(h.board().parts.empty());
  h.click(h.hole("c10"));
  ASSERT_NE(h.part("R1"), nullptr);
  EXPECT_EQ(h.hole_of("R1", 0), "c5");
  EXPECT_EQ(h.hole_of("R1", 1), "c10");
}

TEST(BenchHands, BenchSleepsWhenNothingChanges) {
  Hands h;
  h.bench.load(example_board("one-button"));
  h.wait(1);
  EXPECT_EQ(h.wake, kSleep);
}

TEST(BenchHands, WithABatteryInUseItSleepsUntilTheVoltageHasToFollowAndMakesUpForTheTime) {
  Hands h;
  Board board = example_board("call-bell-lamp");
  for (Part& part : board.parts)
    if (part.kind->key == "push-button") part.values[0] = 1;
  h.bench.load(std::move(board));
  h.wait(1);
  ASSERT_TRUE(h.bench.session().at_rest());
  EXPECT_GT(h.wake, 60) << "a few milliamperes out of AA cells";
  const double before = h.bench.session().time(), slept = h.wake;
  h.wake = h.host.frame(h.now += slept);
  EXPECT_NEAR(h.bench.session().time() - before, slept, 1e-6 * slept);
  EXPECT_GT(h.wake, 60);
}

TEST(BenchHands, BenchStaysAwakeWhileALampFadesAndDozesWhenNobodyCouldSeeAChange) {
  Hands h;
  h.bench.load(example_board("rc-afterglow"));
  h.host.key(ImGuiKey_1, true, 0);
  h.wait(0.3);
  h.host.key(ImGuiKey_1, false, 0);
  h.wait(1.0);
  EXPECT_GE(h.wake, 0);
  EXPECT_LT(h.wake, 0.1) << "the capacitor empties through the lamp";
  EXPECT_GT(h.reading("LED1").brightness, 0);
  const double before = h.reading("LED1").brightness;
  h.wait(0.5);
  EXPECT_LT(h.reading("LED1").brightness, before);
  h.wait(30);
  EXPECT_TRUE(h.wake < 0 || h.wake > 0.4) << h.wake;
}

TEST(BenchHands, ThePointKeyLetsOneStepGoByWhileTimeStandsAndOnlyThen) {
  Hands h;
  h.bench.load(example_board("rc-afterglow"));
  h.wait(0.2);
  h.key(ImGuiKey_Period);
  EXPECT_EQ(h.bench.message().key, "bench.step.running");
  ViewOptions view = h.bench.view();
  view.time_scale = 0, view.step = 2e-3;
  h.bench.set_view(view);
  h.wait(1);
  const double before = h.bench.session().time();
  h.wait(0.5);
  EXPECT_EQ(h.bench.session().time(), before);
  h.key(ImGuiKey_Period);
  EXPECT_NEAR(h.bench.session().time() - before, 2e-3, 1e-9);
  EXPECT_EQ(h.bench.message().key, "bench.step.done");
}

TEST(BenchHands, KeyboardSeatsAWire) {
  Hands h;
  h.key(ImGuiKey_C), h.key(ImGuiKey_5);
  EXPECT_EQ(h.board().name_of(h.bench.hole_cursor()), "c5");
  h.wait(1.6);
  h.key(ImGuiKey_Enter);
  for (int i = 0; i < 4; ++i) h.key(ImGuiKey_RightArrow);
  h.key(ImGuiKey_Enter);
  ASSERT_NE(h.part("W1"), nullptr);
  EXPECT_EQ(h.hole_of("W1", 0), "c5");
  EXPECT_EQ(h.hole_of("W1", 1), "c9");
}

TEST(BenchHands, ControlsAreLargeEnoughAndInSight) {
  Hands h;
  h.bench.load(example_board("two-in-series"));
  h.bench.select("LED1");
  h.frames(3);
  for (const Widget& w : h.bench.widgets()) {
    const std::string id = w.id;
    if (id.starts_with("part.") || id.starts_with("lead.") || id.starts_with("control.") || id == "inspector") continue;
    EXPECT_GE(w.w, 24) << id;  // WCAG 2.2, 2.5.8
    EXPECT_GE(w.h, 22) << id;
    EXPECT_GE(w.x, -0.5f) << id;
    EXPECT_LE(w.x + w.w, 1014.5f) << id;
    EXPECT_LE(w.y + w.h, 724.5f) << id;
  }
}

TEST(BenchHands, SmallWindowStillReachesEveryCompartment) {
  Hands h(360, 560);
  for (const char* kind : {"jumper-wire", "battery-pack"}) {
    for (int tries = 0; tries < 40 && !h.find(std::string("box.") + kind); ++tries) {
      h.move({180, 520});
      h.host.wheel(0, -1);
      h.frames(2);
    }
    EXPECT_NE(h.find(std::string("box.") + kind), nullptr) << kind;
  }
}

TEST(BenchHands, TabsOfTraysThatDoNotFitScrollInsteadOfOverlapping) {
  for (const float width : {360.0f, 456.0f, 720.0f, 1014.0f}) {
    Hands h(width, 560);
    float x = -1;
    for (const Widget& w : h.bench.widgets()) {
      if (!std::string(w.id).starts_with("tray.")) continue;
      EXPECT_GE(w.w, 24) << w.id;
      EXPECT_GE(w.x, x - 0.5f) << w.id << " lies over its neighbour at " << width;
      x = w.x + w.w;
    }
    EXPECT_LE(x, width + 0.5f);
  }
  Hands h(360, 560);
  EXPECT_EQ(h.find("tray.instruments"), nullptr) << "it has to be scrolled to";
  const ImVec2 row = h.at("tray.resistors");
  for (int tries = 0; tries < 10 && !h.find("tray.instruments"); ++tries) h.drag(row, row - ImVec2{150, 0});
  ASSERT_NE(h.find("tray.instruments"), nullptr);
  EXPECT_EQ(h.find("box.meter"), nullptr) << "dragging the row opens no tray";
  h.click(h.at("tray.instruments"));
  EXPECT_NE(h.find("box.meter"), nullptr);
}

}  // namespace
}  // namespace tiepoint
