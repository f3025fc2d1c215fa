#include "engine/lesson/check.h"

#include <cmath>

#include "tests/engine/build_board.h"
#include "tests/engine/lesson_fixture.h"

namespace tiepoint {
namespace {

const std::string kLamp = R"("Lamp":{"kind":"led"})";
const std::string kRoles =
    R"("Supply":{"kind":"usb-supply"},"Button":{"kind":"push-button"},"Limiter":{"kind":"resistor"},)" + kLamp;

// Two buttons in line with a lamp.
BoardBuilder two_in_line() {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+3", "b4"}).add("push-button", "S1", {"e4"});
  b.add("jumper-wire", "W2", {"c6", "c11"}).add("push-button", "S2", {"e11"}).add("resistor", "R1", {"b13", "b18"});
  b.add("led", "LED1", {"d18", "d19"}).add("jumper-wire", "W3", {"a19", "top-18"});
  return b;
}

// A resistor charging a capacitor from a button: 1 kilohm, 100 microfarads.
BoardBuilder charging() {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+3", "b4"}).add("push-button", "S1", {"e4"});
  b.add("resistor", "R1", {"b6", "b11"})
      .set("resistance", 1000)
      .add("electrolytic-capacitor", "C1", {"c11", "c12"})
      .set("capacitance", 1e-4);
  b.add("jumper-wire", "W2", {"a12", "top-12"});
  return b;
}

TEST(Check, StateIsLookedAtInItsSituation) {
  const Board board = one_button().board;
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":"lit","when":{"Button":"down"})", board), "passed");
  const Outcome up = ask(kRoles, R"("check":"state","part":"Lamp","is":"lit")", board);
  EXPECT_EQ(key(up.reason), "wrong-state");
  EXPECT_EQ(up.what, "dark");
  EXPECT_EQ(up.wanted, "lit");
  EXPECT_EQ(up.places.at(0).part, board.find("LED1")->id);
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":["faint","rests"])", board), "passed");
}

TEST(Check, BoardIsPutToRestFirst) {
  Board board = one_button().board;
  // Left pressed, and the supply switched off: neither is the circuit's fault.
  for (Part& part : board.parts) {
    if (part.name == "S1") part.values[0] = 1;
    if (part.name == "PS1") part.values[0] = 0;
  }
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":"rests")", board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":"lit","when":{"Button":"down"})", board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":"rests","when":{"Button":"down","Supply":"off"})", board),
            "passed");
}

TEST(Check, ReadingTellsWhatWasFoundAndExpected) {
  const Board board = one_button().board;
  const Outcome out =
      ask(kRoles, R"("check":"reading","part":"Lamp","what":"current","between":[0.02,0.03],"when":{"Button":"down"})", board);
  EXPECT_EQ(key(out.reason), "outside");
  EXPECT_NEAR(out.found, 0.0094, 0.0002);
  EXPECT_EQ(out.expected.low, 0.02);
  EXPECT_EQ(out.unit, "A");
  ASSERT_EQ(out.at.size(), 1u);
  EXPECT_EQ(board.parts[size_t(out.at[0].part)].name, "S1");
  EXPECT_EQ(out.at[0].position, 1);
}

TEST(Check, VoltageBetweenLeadsAddsUpRoundTheLoop) {
  const Board board = one_button().board;
  const std::string down = R"(,"when":{"Button":"down"})";
  // Kirchhoff: what the supply gives is what limiter, lamp, contact and wires take.
  EXPECT_EQ(reason(kRoles, R"("check":"reading","at":"Supply.+","against":"Lamp.cathode","between":[4.99,5])" + down, board),
            "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"reading","at":"top+9","against":"top-9","between":[4.99,5])" + down, board), "passed");
}

TEST(Check, RatioOfTwoReadingsAndMagnitude) {
  const Board board = one_button().board;
  const std::string down = R"("when":{"Button":"down"})";
  EXPECT_EQ(reason(kRoles,
                   R"("check":"reading","part":"Lamp","what":"current","between":[0.999,1.001],)" + down +
                       R"(,"over":{"part":"Supply","what":"current",)" + down + "}",
                   board),
            "passed");
  BoardBuilder turned;
  turned.add("usb-supply", "PS1", {"top+1", "top-1"})
      .add("resistor", "R1", {"a5", "a10"})
      .add("jumper-wire", "W1", {"top-3", "b5"});
  turned.add("jumper-wire", "W2", {"top+10", "b10"});
  const std::string five = R"("check":"reading","part":"Limiter","what":"voltage","between":[4.9,5])";
  EXPECT_EQ(reason(R"("Limiter":{"kind":"resistor"})", five, turned.board), "outside");
  EXPECT_EQ(reason(R"("Limiter":{"kind":"resistor"})", five + R"(,"magnitude":true)", turned.board), "passed");
}

TEST(Check, TruthTableNamesTheFirstRowThatDiffers) {
  const std::string roles = R"("A":{"kind":"push-button"},"B":{"kind":"push-button"},)" + kLamp;
  const Board board = two_in_line().board;
  EXPECT_EQ(reason(roles, R"("check":"truth","inputs":["A","B"],"output":"Lamp","works":["11"])", board), "passed");
  const Outcome out = ask(roles, R"("check":"truth","inputs":["A","B"],"output":"Lamp","works":["01","10","11"])", board);
  EXPECT_EQ(key(out.reason), "wrong-state");
  EXPECT_EQ(out.wanted, "works");
  ASSERT_EQ(out.at.size(), 2u);  // 00 is right, 01 is not
  EXPECT_EQ(out.at[0].position + out.at[1].position, 1);
}

TEST(Check, SwitchThatStaysMayBeMountedEitherWayRound) {
  for (const bool turned : {false, true}) {
    BoardBuilder b;
    b.add("usb-supply", "PS1", {"top+1", "top-1"})
        .add("slide-switch", "S1", {"c5"})
        .add("jumper-wire", "W1", {"top+3", turned ? "a5" : "a7"});
    b.add("resistor", "R1", {"b6", "b11"}).add("led", "LED1", {"c11", "c12"}).add("jumper-wire", "W2", {"a12", "top-12"});
    const std::string truth = R"("check":"truth","inputs":["Key"],"output":"Lamp","works":["1"])";
    EXPECT_EQ(reason(R"("Key":{"kind":"slide-switch","flip":true},)" + kLamp, truth, b.board), "passed") << turned;
    EXPECT_EQ(reason(R"("Key":{"kind":"slide-switch"},)" + kLamp, truth, b.board), turned ? "wrong-state" : "passed");
  }
}

// From 10 % to 90 % of the way an exponential takes ln 9 = 2.197 time constants (IEC 60469 names the two levels, from memory).
TEST(Check, RiseOfAChargingCapacitorIsLn9TimeConstants) {
  const std::string roles = R"("Button":{"kind":"push-button"},"Store":{"kind":"electrolytic-capacitor"})";
  const std::string wave =
      R"("check":"wave","part":"Store","what":"voltage","from":0.1,"span":1.5,"do":[{"at":0.2,"set":{"Button":"down"}}],"rise":)";
  const double expected = std::log(9.0) * 1000 * 1e-4;
  const std::string low = std::to_string(expected * 0.98), high = std::to_string(expected * 1.02),
                    beyond = std::to_string(expected * 1.1);
  EXPECT_EQ(reason(roles, wave + "[" + low + "," + high + "]", charging().board), "passed");
  const Outcome out = ask(roles, wave + "[" + high + "," + beyond + "]", charging().board);
  EXPECT_EQ(key(out.reason), "outside");
  EXPECT_NEAR(out.found, expected, expected * 0.02);
  EXPECT_EQ(out.what, "rise");
}

TEST(Check, LookAtAMomentAfterPluggingIn) {
  const std::string roles = R"("Button":{"kind":"push-button"},"Store":{"kind":"electrolytic-capacitor"})";
  // One time constant after the press: 5 V (1 - 1/e) = 3.16 V.
  const std::string at = R"("check":"reading","part":"Store","what":"voltage","do":[{"at":0.1,"set":{"Button":"down"}}],)";
  EXPECT_EQ(reason(roles, at + R"("look":0.2,"between":[3.14,3.18])", charging().board), "passed");
  EXPECT_EQ(reason(roles, at + R"("look":0.1,"between":[-0.05,0.05])", charging().board), "passed");
}

TEST(Check, WhatStandsStillHasNoFrequency) {
  EXPECT_EQ(
      reason(kRoles, R"("check":"wave","part":"Lamp","what":"current","span":0.5,"frequency":[1,2],"when":{"Button":"down"})",
             one_button().board),
      "no-wave");
}

TEST(Check, JoinedByMetalAcrossWires) {
  const Board board = one_button().board;
  EXPECT_EQ(reason(kRoles, R"("check":"joined","a":"Supply.-","b":"Lamp.cathode")", board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"joined","a":"a5","b":"top+20")", board), "passed");
  const Outcome out = ask(kRoles, R"("check":"joined","a":"a5","b":"j7")", board);
  EXPECT_EQ(key(out.reason), "not-joined");
  EXPECT_EQ(out.places.size(), 2u);
  EXPECT_EQ(reason(kRoles, R"("check":"joined","a":"Limiter","b":"Lamp.cathode","joined":false)", board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"joined","a":"Limiter","b":"Lamp.anode","joined":false)", board), "joined");
}

TEST(Check, MeasuredAcrossThroughAndBetween) {
  BoardBuilder b = one_button();
  const std::string across = R"("check":"measured","function":"volts","across":"Lamp","when":{"Button":"down"})";
  EXPECT_EQ(reason(kRoles, across, b.board), "not-measured");
  b.add("meter", "M1", {"b12", "b13"}).set("function", 1);
  EXPECT_EQ(reason(kRoles, across, b.board), "passed");
  EXPECT_EQ(reason(kRoles, across + R"(,"shown":[1.8,2.0])", b.board), "passed");
  EXPECT_EQ(reason(kRoles, across + R"(,"shown":[3,4])", b.board), "outside");
  EXPECT_EQ(reason(kRoles, R"("check":"measured","function":"volts","between":["e12","e13"])", b.board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"measured","function":"volts","between":["e12","e14"])", b.board), "not-measured");
  EXPECT_EQ(reason(kRoles, R"("check":"measured","function":"amperes","through":"Lamp","when":{"Button":"down"})", b.board),
            "not-measured");
}

TEST(Check, AmmeterInLineIsAWireToEveryOtherCheck) {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"}).add("jumper-wire", "W1", {"top+2", "a5"}).add("push-button", "S1", {"e5"});
  b.add("resistor", "R1", {"d7", "d12"}).add("led", "LED1", {"c15", "c16"}).add("jumper-wire", "W2", {"a16", "top-16"});
  b.add("meter", "M1", {"b12", "b15"}).set("function", 3);
  EXPECT_EQ(reason(kRoles, R"("check":"measured","function":"amperes","through":"Lamp","when":{"Button":"down"})", b.board),
            "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"measured","function":"amperes","through":"Lamp")", b.board),
            "not-measured");  // nothing flows
  EXPECT_EQ(reason(kRoles, R"("check":"series","parts":["Button","Limiter","Lamp"])", b.board), "passed");
  EXPECT_EQ(
      reason(kRoles, R"("check":"shape","nets":{"Limiter":["x","y"],"Lamp":{"anode":"y","cathode":"z"},"Supply":{"-":"z"}})",
             b.board),
      "passed");
}

TEST(Check, PartsCountedAndForbidden) {
  const Board board = two_in_line().board;
  EXPECT_EQ(reason(kRoles, R"("check":"parts","kind":"push-button","at-least":2,"at-most":2)", board), "passed");
  EXPECT_EQ(reason(kRoles, R"("check":"parts","kind":["led","led-3mm"],"set":{"colour":"green"},"at-least":1)", board),
            "too-few");
  const Outcome out = ask(kRoles, R"("check":"parts","kind":"jumper-wire","at-most":0)", board);
  EXPECT_EQ(key(out.reason), "too-many");
  EXPECT_EQ(out.found, 3);
  EXPECT_EQ(out.places.size(), 3u);
}

TEST(Check, SeriesAndParallelAreToldApart) {
  const std::string roles = R"("A":{"kind":"resistor"},"B":{"kind":"resistor"})";
  BoardBuilder line, side;
  line.add("resistor", "R1", {"a5", "a10"}).add("resistor", "R2", {"b10", "b15"});
  side.add("resistor", "R1", {"a5", "a10"}).add("resistor", "R2", {"b10", "b5"});
  EXPECT_EQ(reason(roles, R"("check":"series","parts":["A","B"])", line.board), "passed");
  EXPECT_EQ(reason(roles, R"("check":"parallel","parts":["A","B"])", line.board), "not-parallel");
  EXPECT_EQ(reason(roles, R"("check":"parallel","parts":["A","B"])", side.board), "passed");
  BoardBuilder branch = line;
  branch.add("led", "LED1", {"c10", "c12"});
  EXPECT_EQ(reason(roles, R"("check":"series","parts":["A","B"])", branch.board), "not-in-series");
}

TEST(Check, ShapeNeedsDifferentNetsForDifferentNames) {
  const std::string roles = R"("A":{"kind":"resistor"},"B":{"kind":"resistor"})";
  BoardBuilder side;
  side.add("resistor", "R1", {"a5", "a10"}).add("resistor", "R2", {"b10", "b5"});
  EXPECT_EQ(reason(roles, R"("check":"shape","nets":{"A":["x","y"],"B":["x","y"]})", side.board), "passed");
  EXPECT_EQ(reason(roles, R"("check":"shape","nets":{"A":["x","y"],"B":["y","z"]})", side.board), "other-shape");
}

TEST(Check, FaultsAreThoseOfTheFindings) {
  BoardBuilder b = one_button();
  EXPECT_EQ(reason(kRoles, R"("check":"no-faults")", b.board), "passed");
  BoardBuilder turned;
  turned.add("usb-supply", "PS1", {"top+1", "top-1"})
      .add("jumper-wire", "W1", {"top+2", "a7"})
      .add("resistor", "R1", {"d7", "d12"});
  turned.add("led", "LED1", {"c13", "c12"}).add("jumper-wire", "W2", {"a13", "top-13"});
  const Outcome out = ask(kLamp, R"("check":"no-faults")", turned.board);
  EXPECT_EQ(key(out.reason), "faulty");
  ASSERT_TRUE(out.finding);
  EXPECT_EQ(key(out.finding->kind), "led-reversed");
  EXPECT_EQ(reason(kLamp, R"("check":"no-faults","except":["led-reversed"])", turned.board), "passed");
}

TEST(Check, RoleThatNothingCanPlayIsNamed) {
  const std::string roles = R"("Button":{"kind":"push-button"},"Other":{"kind":"push-button"},)" + kLamp;
  const Outcome out =
      ask(roles, R"("check":"truth","inputs":["Button","Other"],"output":"Lamp","works":["11"])", one_button().board);
  EXPECT_EQ(key(out.reason), "missing-part");
  EXPECT_EQ(out.role, 1);
}

TEST(Check, EmptyBoardFailsWithoutNumbers) {
  EXPECT_EQ(reason(kRoles, R"("check":"state","part":"Lamp","is":"lit")", Board{}), "missing-part");
  BoardBuilder alone;
  alone.add("led", "LED1", {"a5", "a6"});
  EXPECT_EQ(reason(kLamp, R"("check":"reading","part":"Lamp","what":"current","between":[0,1])", alone.board), "no-reading");
}

// Laws: what a judge may not mind.
Lesson and_lesson() {
  return lesson_of(R"("A":{"kind":"push-button"},"B":{"kind":"push-button"},"Limiter":{"kind":"resistor"},)" + kLamp,
                   R"({"id":"and","fail":"f","check":"truth","inputs":["A","B"],"output":"Lamp","works":["11"]},
                      {"id":"line","fail":"f","check":"series","parts":["A","B","Limiter","Lamp"]},
                      {"id":"safe","fail":"f","check":"reading","part":"Lamp","what":"current","between":[0.003,0.02],"when":{"A":"down","B":"down"}})");
}

TEST(Check, VerdictDoesNotDependOnNamesOrTheOrderOfParts) {
  const Lesson lesson = and_lesson();
  const Board board = two_in_line().board;
  EXPECT_TRUE(judge_hand_in(lesson, board).passed());
  Board other = board;
  std::reverse(other.parts.begin(), other.parts.end());
  int number = 40;
  for (Part& part : other.parts) part.name = std::string(part.kind->prefix) + std::to_string(number--);
  EXPECT_TRUE(judge_hand_in(lesson, other).passed());
}

TEST(Check, VerdictDoesNotDependOnWhereTheBoardWasBuilt) {
  const Lesson lesson = and_lesson();
  for (int shift = 1; shift <= 8; ++shift) {
    Board moved = two_in_line().board;
    for (Part& part : moved.parts)
      for (Hole& hole : part.leads) hole = moved.hole_at({int(moved.mat_of(hole).x) + shift, int(moved.mat_of(hole).y)});
    bool on_board = true;
    for (const Part& part : moved.parts)
      for (const Hole hole : part.leads) on_board = on_board && hole.valid();
    if (!on_board) continue;
    EXPECT_TRUE(judge_hand_in(lesson, moved).passed()) << shift;
  }
}

TEST(Check, SparePartsDoNotHideTheRightOnes) {
  BoardBuilder b = two_in_line();
  b.add("push-button", "S0", {"e22"}).add("led", "LED0", {"j27", "j28"}).add("resistor", "R0", {"j5", "j10"});
  std::rotate(b.board.parts.begin(), b.board.parts.end() - 3, b.board.parts.end());
  const Verdict verdict = judge_hand_in(and_lesson(), b.board);
  EXPECT_TRUE(verdict.passed());
  EXPECT_EQ(b.board.parts[size_t(verdict.part_of_role[3])].name, "LED1");
}

TEST(Check, PointsAreThoseOfThePassedChecks) {
  const Lesson lesson = lesson_of(kLamp, R"({"id":"a","fail":"f","points":3,"check":"parts","kind":"led","at-least":1},
                                            {"id":"b","fail":"f","points":2,"check":"parts","kind":"relay","at-least":1,"hints":["h0","h1"]})");
  const Verdict verdict = judge_hand_in(lesson, one_button().board);
  EXPECT_EQ(verdict.points, 3);
  EXPECT_EQ(verdict.most_points, 5);
  EXPECT_EQ(verdict.first_failed(), 1);
  EXPECT_EQ(hint_for(lesson, 0, verdict, 0), "h0");
  EXPECT_EQ(hint_for(lesson, 0, verdict, 2), "h1");  // the deepest there is
}

TEST(Check, ClaimsAreHeldAgainstTheOutlineAsEdited) {
  const std::string outline = R"(,"outline":{"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[
    {"name":"PS1","kind":"usb-supply","mat":[5,-6.8],"leads":{"+":"top+1","-":"top-1"}},{"name":"R1","kind":"resistor","leads":{"1":"top+5","2":"top-9"},"set":{"resistance":1000}}]})";
  const auto claim = [](const std::string& edits, const std::string& window) {
    return R"(,"claims":[{"says":"some text","edits":[)" + edits +
           R"(],"holds":{"check":"reading","part":"R","what":"current","between":)" + window + "}}]";
  };
  const std::string role = R"("R":{"kind":"resistor"})",
                    check = R"({"id":"c","fail":"f","check":"parts","kind":"resistor","at-least":1})";
  const auto broken = [&](const std::string& edits, const std::string& window) {
    return check_claims(lesson_of(role, check, outline + claim(edits, window))).value().size();
  };
  const std::string doubled = R"({"edit":"set","part":"R1","key":"resistance","value":2000})";
  EXPECT_EQ(broken("", "[0.00495,0.005]"), 0u);
  EXPECT_EQ(broken(doubled, "[0.00495,0.005]"), 1u);
  EXPECT_EQ(broken(doubled, "[0.00249,0.0025]"), 0u);
}

}  // namespace
}  // namespace tiepoint
