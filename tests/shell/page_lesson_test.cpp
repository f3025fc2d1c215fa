#include "shell/bench/page_lesson.h"

#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <fstream>
#include <sstream>
#include <string>

#include "shell/bench/bench.h"
#include "shell/bench/learner.h"
#include "shell/bench/page_api.h"

namespace tiepoint {
namespace {

using Json = rapidjson::Document;

std::string in_json(const std::string& text) {
  PageJson out;
  out.object().member("text", text).end_object();
  const std::string whole = out.text();
  return whole.substr(8, whole.size() - 9);
}

// Somebody takes the lesson of the first lamp through the command layer.
struct PageLesson : testing::Test {
  Bench bench;

  Json ask(const std::string& command) {
    Json json;
    const std::string reply = call(bench, command);
    json.Parse(reply.data(), reply.size());
    EXPECT_FALSE(json.HasParseError()) << reply;
    return json;
  }
  Json done(const std::string& command) {
    Json json = ask(command);
    EXPECT_TRUE(json["ok"].GetBool()) << command.substr(0, 200);
    return json;
  }
  std::string refused(const std::string& command) {
    const Json json = ask(command);
    return json["ok"].GetBool() ? "not refused" : json["error"]["code"].GetString();
  }
  static std::string file(const std::string& path) {
    std::ifstream in(path);
    std::stringstream text;
    text << in.rdbuf();
    EXPECT_FALSE(text.str().empty()) << path;
    return text.str();
  }
  static std::string lesson(const std::string& id) {
    return file(std::string(TIEPOINT_EXAMPLES) + "/lessons/" + id + ".lesson.json");
  }
  static std::string hand_in(const std::string& name) {
    return file(std::string(TIEPOINT_EXAMPLES) + "/../tests/lessons/" + name + ".board.json");
  }
  Json open(const std::string& id, const std::string& more = {}) {
    return done(R"({"do":"lesson","act":"open","text":)" + in_json(lesson(id)) + more + "}");
  }
  Json act(const std::string& what) { return done(R"({"do":"lesson","act":)" + what + "}"); }
  void load(const std::string& name) { done(R"({"do":"load","text":)" + in_json(hand_in(name)) + "}"); }
  std::string board() { return done(R"({"do":"board"})")["text"].GetString(); }
  bool supply_on() {
    for (const Part& part : bench.session().board().parts)
      if (is_supply(part) && is_on(part)) return true;
    return false;
  }
  // To the step where the lamp is built.
  void come_to_building() {
    open("first-lamp");
    act(R"("read")");
    act(R"("go","step":1)");
    act(R"("answer","choice":"burns")");
    act(R"("go","step":2)");
  }
};

TEST_F(PageLesson, NothingButOpeningWorksBeforeALessonIsOpen) {
  EXPECT_EQ(refused(R"({"do":"lesson","act":"see"})"), "bad-value");
  EXPECT_EQ(refused(R"({"do":"lesson"})"), "missing-key");
  EXPECT_EQ(refused(R"({"do":"lesson","act":"open"})"), "missing-key");
  EXPECT_EQ(refused(R"({"do":"lesson","act":"open","text":"{}"})"), "missing-key");
  EXPECT_EQ(bench.learner(), nullptr);
}

TEST_F(PageLesson, SummaryTellsOfALessonThatIsNotBegun) {
  const Json json = done(R"({"do":"lesson","act":"summary","text":)" + in_json(lesson("first-lamp")) + "}");
  EXPECT_STREQ(json["about"]["title"].GetString(), "The first lamp");
  EXPECT_EQ(bench.learner(), nullptr);
}

TEST_F(PageLesson, OpeningPutsTheBoardAsideAndLeavingBringsItBack) {
  done(R"({"do":"place","kind":"resistor","holes":["a5","a10"]})");
  const std::string own = board();
  const Json json = open("first-lamp");
  EXPECT_EQ(json["at"].GetInt(), 0);
  EXPECT_TRUE(bench.session().board().parts.empty());
  load("first-lamp.right");
  act(R"("leave")");
  EXPECT_EQ(board(), own);
  EXPECT_EQ(bench.learner(), nullptr);
  EXPECT_TRUE(bench.desk().offered.empty());
}

TEST_F(PageLesson, AStepThatIsNotReachedCannotBeGoneTo) {
  open("first-lamp");
  EXPECT_EQ(refused(R"({"do":"lesson","act":"go","step":1})"), "bad-value");
  EXPECT_EQ(refused(R"({"do":"lesson","act":"go"})"), "bad-value");
  act(R"("read")");
  EXPECT_EQ(act(R"("go","step":1)")["at"].GetInt(), 1);
}

TEST_F(PageLesson, NoWayOfSwitchingASupplyOnWorksBeforeThePrediction) {
  open("first-lamp");
  act(R"("read")");
  const Json locked = act(R"("go","step":1)");
  EXPECT_FALSE(locked["supplyAllowed"].GetBool());
  done(R"({"do":"place","kind":"usb-supply","holes":["top+1","top-1"]})");
  EXPECT_FALSE(supply_on());
  EXPECT_EQ(refused(R"({"do":"edit","edit":{"edit":"switch","part":"PS1","on":true}})"), "supply-locked");
  EXPECT_EQ(refused(R"({"do":"edit","edit":{"edit":"batch","edits":[{"edit":"switch","part":"PS1","on":true}]}})"),
            "supply-locked");
  load("first-lamp.right");
  EXPECT_FALSE(supply_on());
  EXPECT_EQ(act(R"("see")")["refusals"].GetInt(), 2);
  EXPECT_STREQ(act(R"("see")")["dark"][0].GetString(), "PS1");

  const Json answered = act(R"("answer","choice":"burns")");
  EXPECT_TRUE(answered["supplyAllowed"].GetBool());
  EXPECT_FALSE(answered["step"]["question"]["right"].GetBool());
  EXPECT_TRUE(answered["step"]["done"].GetBool());
  EXPECT_EQ(refused(R"({"do":"lesson","act":"answer","choice":"same"})"), "bad-value");
  done(R"({"do":"edit","edit":{"edit":"switch","part":"PS1","on":true}})");
  EXPECT_TRUE(supply_on());
}

TEST_F(PageLesson, ALockThatComesLaterSwitchesOffAndUndoDoesNotGetRoundIt) {
  done(R"({"do":"place","kind":"usb-supply","holes":["top+1","top-1"]})");
  EXPECT_TRUE(supply_on());
  bench.desk().lock_supplies(true);
  EXPECT_FALSE(supply_on());
  ask(R"({"do":"undo"})");
  EXPECT_FALSE(supply_on());
  bench.desk().lock_supplies(false);
  ask(R"({"do":"undo"})");
  EXPECT_TRUE(supply_on());
}

TEST_F(PageLesson, ARightBoardPassesByLookingAndAFailureCountsOnlyWhenAskedFor) {
  come_to_building();
  load("first-lamp.slip");
  Json state = act(R"("look")");
  EXPECT_FALSE(state["verdict"]["passed"].GetBool());
  EXPECT_FALSE(state["step"]["done"].GetBool());
  EXPECT_EQ(bench.learner()->progress().steps[2].tries, 0);
  EXPECT_GT(std::string(state["words"][0]["reason"].GetString()).size(), 10u);
  act(R"("check")");
  EXPECT_EQ(bench.learner()->progress().steps[2].tries, 1);

  load("first-lamp.right");
  state = act(R"("look")");
  EXPECT_TRUE(state["verdict"]["passed"].GetBool());
  EXPECT_TRUE(state["step"]["done"].GetBool());
  EXPECT_TRUE(state["steps"][3]["open"].GetBool());
}

TEST_F(PageLesson, ABoardThatWasNotTouchedInTheStepDoesNotPassByLooking) {
  come_to_building();
  load("first-lamp.right");
  act(R"("go","step":1)");
  act(R"("go","step":2)");
  EXPECT_FALSE(act(R"("look")")["step"]["done"].GetBool());
  EXPECT_TRUE(act(R"("check")")["step"]["done"].GetBool());
}

TEST_F(PageLesson, HintsGoDeeperOneByOneForWhatFailsNow) {
  come_to_building();
  load("first-lamp.slip");
  EXPECT_EQ(act(R"("look")")["hints"].Size(), 0u);
  EXPECT_EQ(act(R"("hint")")["hints"].Size(), 1u);
  const Json second = act(R"("hint")");
  ASSERT_EQ(second["hints"].Size(), 2u);
  EXPECT_NE(std::string(second["hints"][1].GetString()).find("which way round the LED stands"), std::string::npos);
  const Json third = act(R"("hint")");
  EXPECT_EQ(third["hints"].Size(), 3u);
  EXPECT_FALSE(third["hintsLeft"].GetBool());
}

TEST_F(PageLesson, ShowSelectsThePartsOfAFailingCheck) {
  come_to_building();
  load("first-lamp.slip");
  const Json state = act(R"("look")");
  const std::string failing = state["verdict"]["checks"][0]["id"].GetString();
  act(R"("show","check":")" + failing + "\"");
  ASSERT_EQ(bench.selection().size(), 1u);
  EXPECT_EQ(bench.selection()[0], "LED1");
}

TEST_F(PageLesson, TheCaseThatFailedIsPutAndTheButtonsAreLetGo) {
  open("two-hands");
  // On to the first step that judges, by whatever it asks for.
  for (int step = 0; bench.learner()->step().checks.empty(); ++step) {
    const Step& now = bench.learner()->step();
    if (now.question) {
      for (const Choice& choice : now.question->choices)
        if (choice.right || now.kind == StepKind::kPredict)
          ask(R"({"do":"lesson","act":"answer","choice":")" + choice.id + "\"}");
    } else {
      act(R"("read")");
    }
    ASSERT_TRUE(bench.learner()->go(step + 1).ok());
  }
  load("two-hands.slip");
  const Json state = act(R"("look")");
  const auto& checks = state["verdict"]["checks"];
  for (rapidjson::SizeType i = 0; i < checks.Size(); ++i) {
    if (checks[i]["passed"].GetBool() || checks[i]["case"].Size() == 0) continue;
    act(R"("put","down":true,"check":")" + std::string(checks[i]["id"].GetString()) + "\"");
    int held = 0, wanted = 0;
    for (const auto& setting : checks[i]["case"].GetArray())
      wanted += setting["to"].IsBool() ? setting["to"].GetBool() : setting["to"].GetInt() != 0;
    for (const Part& part : bench.session().board().parts) held += has_momentary(part) && is_on(part);
    EXPECT_EQ(held, wanted);
    EXPECT_GT(held, 0);
    act(R"("put","down":false)");
    for (const Part& part : bench.session().board().parts) EXPECT_FALSE(has_momentary(part) && is_on(part)) << part.name;
    return;
  }
  FAIL() << "no failing case";
}

TEST_F(PageLesson, ProgressAndBoardAreTakenUpWhereTheyWereLeft) {
  come_to_building();
  load("first-lamp.right");
  const std::string progress = act(R"("look")")["progress"].GetString(), kept = board();
  act(R"("leave")");
  const Json again = open("first-lamp", R"(,"progress":)" + in_json(progress) + R"(,"board":)" + in_json(kept));
  EXPECT_EQ(again["at"].GetInt(), 2);
  EXPECT_TRUE(again["step"]["done"].GetBool());
  EXPECT_EQ(board(), kept);
  EXPECT_STREQ(again["progress"].GetString(), progress.c_str());
}

TEST_F(PageLesson, SpoiledProgressLeavesTheBenchAsItWas) {
  done(R"({"do":"place","kind":"resistor","holes":["a5","a10"]})");
  const std::string own = board();
  EXPECT_EQ(refused(R"({"do":"lesson","act":"open","text":)" + in_json(lesson("first-lamp")) + R"(,"progress":"{")" + "}"),
            "bad-json");
  EXPECT_EQ(board(), own);
  EXPECT_EQ(bench.learner(), nullptr);
}

TEST_F(PageLesson, TheLevelOfHelpDecidesWhatTheBenchOffers) {
  come_to_building();
  EXPECT_EQ(bench.desk().offered.size(), bench.learner()->lesson().box.size());
  EXPECT_FALSE(bench.desk().outline.has_value());
  act(R"("help","level":"outline")");
  EXPECT_TRUE(bench.desk().outline.has_value());
  EXPECT_STREQ(act(R"("help","level":"goal")")["help"].GetString(), "goal");
  EXPECT_TRUE(bench.desk().offered.empty());
  EXPECT_EQ(refused(R"({"do":"lesson","act":"help","level":"much"})"), "bad-value");
}

TEST_F(PageLesson, AHuntLaysOutABoardWithOneFaultHiddenInIt) {
  open("fault-hunt", R"(,"seed":1)");
  const Lesson& lesson = bench.learner()->lesson();
  int hunt = -1;
  for (size_t i = 0; i < lesson.steps.size(); ++i)
    if (lesson.steps[i].kind == StepKind::kHunt) hunt = int(i);
  ASSERT_GE(hunt, 0);
  for (int step = 0; step < hunt; ++step) {
    const Step& now = bench.learner()->step();
    if (now.question) {
      for (const Choice& choice : now.question->choices) ask(R"({"do":"lesson","act":"answer","choice":")" + choice.id + "\"}");
    } else {
      ask(R"({"do":"lesson","act":"read"})");
    }
    ASSERT_TRUE(bench.learner()->go(step + 1).ok()) << step;
  }
  const Result<Board> hidden = hidden_board(lesson.steps[size_t(hunt)], 1);
  ASSERT_TRUE(hidden.ok());
  EXPECT_EQ(bench.session().board(), *hidden);
  EXPECT_FALSE(act(R"("look")")["verdict"]["passed"].GetBool());
}

TEST_F(PageLesson, WhoeverWritesALessonHearsWhatTheirOwnBuildDoesNotBearOut) {
  std::string text = lesson("two-hands");
  EXPECT_EQ(done(R"({"do":"lesson","act":"prove","text":)" + in_json(text) + "}")["faults"].Size(), 0u);
  const std::string window = "[0.003, 0.02]";
  text.replace(text.find(window), window.size(), "[0.03, 0.2]");
  const Json json = done(R"({"do":"lesson","act":"prove","text":)" + in_json(text) + "}");
  ASSERT_EQ(json["faults"].Size(), 1u);
  EXPECT_STREQ(json["faults"][0]["pointer"].GetString(), "/steps/2/checks/2");
  EXPECT_NE(std::string(json["faults"][0]["text"].GetString()).find("expected 30 mA to 200 mA"), std::string::npos);
  text.replace(text.find("\"kind\": \"build\""), 15, "\"kind\": \"muse!\"");
  const Json bad = ask(R"({"do":"lesson","act":"prove","text":)" + in_json(text) + "}");
  EXPECT_FALSE(bad["ok"].GetBool());
  EXPECT_STREQ(bad["error"]["pointer"].GetString(), "/steps/2/kind");
}

TEST_F(PageLesson, ALessonThatVariesIsTakenUpAgainInTheCaseItWasBegunIn) {
  std::string text = lesson("first-lamp");
  const size_t at = text.find("\"title\": \"The first lamp\"");
  ASSERT_NE(at, std::string::npos);
  text.replace(at, 25, R"("title": "Lamp of {who}", "vary": {"cases": [{"who": "ann"}, {"who": "ben"}]})");
  const Json begun = done(R"({"do":"lesson","act":"open","seed":3,"text":)" + in_json(text) + "}");
  EXPECT_STREQ(begun["about"]["title"].GetString(), "Lamp of ben");
  const std::string progress = begun["progress"].GetString();
  const Json again =
      done(R"({"do":"lesson","act":"open","seed":4,"text":)" + in_json(text) + ",\"progress\":" + in_json(progress) + "}");
  EXPECT_STREQ(again["about"]["title"].GetString(), "Lamp of ben");
}

}  // namespace
}  // namespace tiepoint
