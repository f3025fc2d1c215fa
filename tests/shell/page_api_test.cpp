#include "shell/bench/page_api.h"

#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <fstream>
#include <sstream>
#include <string>

#include "shell/bench/bench.h"

namespace tiepoint {
namespace {

using Json = rapidjson::Document;

// A bench on a canvas of ordinary size, and one command after another.
struct PageApi : testing::Test {
  Bench bench;
  Host host{bench, 1014, 724, 1};
  double now = 0;

  Json ask(std::string_view command) {
    const std::string reply = call(bench, command);
    Json json;
    json.Parse(reply.data(), reply.size());
    EXPECT_FALSE(json.HasParseError()) << reply;
    EXPECT_TRUE(json.IsObject() && json.HasMember("ok")) << reply;
    return json;
  }
  Json done(std::string_view command) {
    Json json = ask(command);
    EXPECT_TRUE(json["ok"].GetBool()) << command << call(bench, command);
    return json;
  }
  std::string refused(std::string_view command) {
    const Json json = ask(command);
    if (json["ok"].GetBool()) return "not refused";
    return json["error"]["code"].GetString();
  }
  std::string board() { return done(R"({"do":"board"})")["text"].GetString(); }
  void frames(int count) {
    for (int i = 0; i < count; ++i) host.frame(now += 1.0 / 60);
  }
  void load_example(const std::string& name) {
    std::ifstream file(std::string(TIEPOINT_EXAMPLES) + "/" + name + ".board.json");
    std::stringstream text;
    text << file.rdbuf();
    ASSERT_FALSE(text.str().empty());
    done(R"({"do":"load","board":)" + text.str() + "}");
  }
  const rapidjson::Value* part(const Json& words, std::string_view name) {
    for (const auto& one : words["parts"].GetArray())
      if (one["name"].GetString() == name) return &one;
    return nullptr;
  }
};

TEST_F(PageApi, PlacingAPartNamesItAndWordsTellOfIt) {
  EXPECT_STREQ(done(R"({"do":"place","kind":"resistor","holes":["a5","a10"],"values":{"resistance":"4k7"}})")["part"].GetString(), "R1");
  const Json words = done(R"({"do":"words"})");
  const rapidjson::Value* r1 = part(words, "R1");
  ASSERT_NE(r1, nullptr);
  EXPECT_STREQ((*r1)["kind"].GetString(), "resistor");
  EXPECT_STREQ((*r1)["leads"][0]["hole"].GetString(), "a5");
  EXPECT_STREQ((*r1)["leads"][1]["hole"].GetString(), "a10");
  EXPECT_DOUBLE_EQ((*r1)["values"][0]["number"].GetDouble(), 4700);
  EXPECT_STREQ((*r1)["bands"][0].GetString(), "yellow");
  EXPECT_STREQ((*r1)["bands"][1].GetString(), "violet");
  EXPECT_STREQ((*r1)["bands"][2].GetString(), "red");
}

TEST_F(PageApi, UndoAndRedoAreNamedByTheirEdit) {
  EXPECT_TRUE(done(R"({"do":"words"})")["undo"].IsNull());
  EXPECT_EQ(refused(R"({"do":"undo"})"), "nothing-to-undo");
  done(R"({"do":"place","kind":"led","holes":["c15","c16"]})");
  const std::string with_part = board();
  EXPECT_STREQ(done(R"({"do":"words"})")["undo"]["edit"].GetString(), "place");
  done(R"({"do":"undo"})");
  EXPECT_STREQ(done(R"({"do":"words"})")["redo"]["edit"].GetString(), "place");
  EXPECT_EQ(done(R"({"do":"words"})")["parts"].Size(), 0u);
  done(R"({"do":"redo"})");
  EXPECT_EQ(board(), with_part);
  EXPECT_EQ(refused(R"({"do":"redo"})"), "nothing-to-redo");
}

TEST_F(PageApi, AReadOnlyBoardIsWorkedButNotChanged) {
  load_example("one-button");
  done(R"({"do":"set","part":"R1","key":"resistance","text":"470"})");
  done(R"({"do":"view","readOnly":true})");
  const std::string before = board();
  for (const char* command :
       {R"({"do":"place","kind":"led","holes":["c20","c21"]})", R"({"do":"set","part":"R1","key":"resistance","text":"1k"})",
        R"({"do":"edit","edit":{"edit":"title","title":"Mine"}})", R"({"do":"undo"})", R"({"do":"redo"})", R"({"do":"new"})",
        R"({"do":"load","board":{"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[]}})"})
    EXPECT_EQ(refused(command), "read-only") << command;
  done(R"({"do":"select","part":"R1"})");
  for (const char* command : {R"({"do":"turn"})", R"({"do":"remove"})", R"({"do":"duplicate"})"}) EXPECT_EQ(refused(command), "read-only") << command;
  EXPECT_EQ(board(), before);
  done(R"({"do":"press","part":"S1","down":true})");
  frames(60);
  EXPECT_STREQ((*part(done(R"({"do":"words"})"), "LED1"))["reading"]["state"].GetString(), "lit");
  done(R"({"do":"press","part":"S1","down":false})");
  done(R"({"do":"view","readOnly":false})");
  done(R"({"do":"set","part":"R1","key":"resistance","text":"1k"})");
  EXPECT_NE(board(), before);
}

TEST_F(PageApi, InHandTellsWhetherEscapeHasSomethingToPutDown) {
  load_example("one-button");
  EXPECT_FALSE(done(R"({"do":"view"})")["inHand"].GetBool());
  done(R"({"do":"select","part":"R1"})");
  EXPECT_TRUE(done(R"({"do":"view"})")["inHand"].GetBool());
  done(R"({"do":"select","part":""})");
  EXPECT_FALSE(done(R"({"do":"view"})")["inHand"].GetBool());
}

TEST_F(PageApi, ValuesAreReadAsPeopleWriteThem) {
  done(R"({"do":"place","kind":"resistor","holes":["a5","a10"]})");
  const auto resistance = [&] { return (*part(done(R"({"do":"words"})"), "R1"))["values"][0]["number"].GetDouble(); };
  const std::pair<const char*, double> written[] = {{"4k7", 4700}, {"220R", 220}, {"1 MΩ", 1e6}, {" 470 ", 470}, {"2,2k", 2200}};
  for (const auto& [text, ohm] : written) {
    done(std::string(R"({"do":"set","part":"R1","key":"resistance","text":")") + text + "\"}");
    EXPECT_DOUBLE_EQ(resistance(), ohm) << text;
  }
  EXPECT_EQ(refused(R"({"do":"set","part":"R1","key":"resistance","text":"much"})"), "bad-value");
  EXPECT_EQ(refused(R"({"do":"set","part":"R1","key":"resistance","text":"0"})"), "bad-value");
  EXPECT_EQ(refused(R"({"do":"set","part":"R1","key":"weight","text":"1"})"), "unknown-value");
  EXPECT_DOUBLE_EQ(resistance(), 2200);
}

TEST_F(PageApi, CapacitancesAreWrittenInMicrofaradAndReadBack) {
  done(R"({"do":"place","kind":"electrolytic-capacitor","holes":["a5","a7"],"values":{"capacitance":"1000 µF"}})");
  const Json words = done(R"({"do":"words"})");
  EXPECT_NEAR((*part(words, "C1"))["values"][0]["number"].GetDouble(), 1e-3, 1e-15);
  EXPECT_STREQ((*part(words, "C1"))["values"][0]["text"].GetString(), "1000 µF");
}

TEST_F(PageApi, APressLightsTheLedAndReleaseDarkensIt) {
  load_example("one-button");
  frames(30);
  EXPECT_STREQ((*part(done(R"({"do":"words"})"), "LED1"))["reading"]["state"].GetString(), "dark");
  done(R"({"do":"press","part":"S1","down":true})");
  frames(30);
  EXPECT_STREQ(done(R"({"do":"readings"})")["parts"]["LED1"]["state"].GetString(), "lit");
  done(R"({"do":"press","part":"S1","down":false})");
  frames(30);
  EXPECT_STREQ(done(R"({"do":"readings"})")["parts"]["LED1"]["state"].GetString(), "dark");
}

TEST_F(PageApi, AMeterTellsWhatItsDisplayShows) {
  load_example("meter-on-a-divider");
  frames(30);
  const Json words = done(R"({"do":"words"})");
  EXPECT_STREQ((*part(words, "M1"))["reading"]["shownText"].GetString(), "3.44 V");  // 5 V over 1 kilohm and 2.2 kilohm
  EXPECT_STREQ((*part(words, "M2"))["reading"]["shownText"].GetString(), "4.7 kΩ");
  EXPECT_FALSE((*part(words, "R1"))["reading"].HasMember("shownText"));
}

TEST_F(PageApi, JoinedTellsTheClipsAndTheLeadsInThem) {
  load_example("one-button");
  frames(3);
  const Json joined = done(R"({"do":"joined","hole":"E10"})");
  EXPECT_STREQ(joined["hole"].GetString(), "e10");
  // Legs 3 and 4 of the button are one piece: column 10 above and below the gap is one net.
  ASSERT_EQ(joined["strips"].Size(), 2u);
  EXPECT_STREQ(joined["strips"][0][0].GetString(), "a10");
  EXPECT_STREQ(joined["strips"][1][0].GetString(), "f10");
  ASSERT_EQ(joined["leads"].Size(), 3u);
}

TEST_F(PageApi, PointsLieOnTheCanvas) {
  load_example("one-button");
  frames(5);
  for (const char* what : {R"("hole":"e12")", R"("part":"S1")", R"("part":"PS1","lead":"+")", R"("box":"resistor")"}) {
    const Json point = done(std::string(R"({"do":"point",)") + what + "}");
    ASSERT_TRUE(point["found"].GetBool()) << what;
    EXPECT_GT(point["x"].GetDouble(), 0);
    EXPECT_LT(point["x"].GetDouble(), 1014);
    EXPECT_GT(point["y"].GetDouble(), 0);
    EXPECT_LT(point["y"].GetDouble(), 724);
  }
}

TEST_F(PageApi, ASecondSupplyFindsRoomBesideTheFirst) {
  done(R"({"do":"place","kind":"usb-supply","holes":["top+1","top-1"]})");
  done(R"({"do":"place","kind":"battery-pack","holes":["",""]})");
  EXPECT_EQ(done(R"({"do":"words"})")["parts"].Size(), 2u);
}

TEST_F(PageApi, BadInputIsRefusedWithItsPlaceAndTheBoardStays) {
  load_example("two-in-series");
  const std::string before = board();
  const std::pair<const char*, const char*> cases[] = {
      {"", "bad-json"},
      {"{", "bad-json"},
      {"null", "wrong-type"},
      {"[]", "wrong-type"},
      {R"({"do":7})", "wrong-type"},
      {R"({})", "missing-key"},
      {R"({"do":"explode"})", "bad-value"},
      {"{\"do\":\"words\",\"x\":\"\xff\"}", "bad-json"},
      {R"({"do":"edit"})", "missing-key"},
      {R"({"do":"edit","edit":[]})", "wrong-type"},
      {R"({"do":"edit","edit":{"edit":"remove","part":"R9"}})", "unknown-part"},
      {R"({"do":"place"})", "missing-key"},
      {R"({"do":"place","kind":"anchor"})", "unknown-kind"},
      {R"({"do":"place","kind":"resistor"})", "missing-key"},
      {R"({"do":"place","kind":"resistor","holes":"a1"})", "wrong-type"},
      {R"({"do":"place","kind":"resistor","holes":["a1"]})", "missing-key"},
      {R"({"do":"place","kind":"resistor","holes":["a1",null]})", "wrong-type"},
      {R"({"do":"place","kind":"resistor","holes":["a1","z1"]})", "unknown-hole"},
      {R"({"do":"place","kind":"resistor","holes":["a1","a2","a3"]})", "too-many"},
      {R"({"do":"place","kind":"resistor","holes":["j1","j2"]})", "out-of-reach"},
      {R"({"do":"place","kind":"resistor","holes":["j1","j6"],"values":[]})", "wrong-type"},
      {R"({"do":"place","kind":"resistor","holes":["j1","j6"],"values":{"mass":1}})", "unknown-value"},
      {R"({"do":"place","kind":"resistor","holes":["j1","j6"],"values":{"resistance":1e999}})", "bad-json"},
      {R"({"do":"place","kind":"push-button","holes":["e30"]})", "off-board"},
      {R"({"do":"place","kind":"push-button","holes":["e20"],"turn":"left"})", "wrong-type"},
      {R"({"do":"move","part":"R1","holes":["a1","a1"]})", "same-hole-twice"},
      {R"({"do":"press","part":"R1"})", "not-a-switch"},
      {R"({"do":"press","part":"S1","down":"yes"})", "wrong-type"},
      {R"({"do":"new","layout":"831"})", "bad-value"},
      {R"({"do":"load"})", "missing-key"},
      {R"({"do":"load","text":"{\"tiepoint\": \"board\", "})", "bad-json"},
      {R"({"do":"load","text":7})", "wrong-type"},
      {R"({"do":"load","board":{"tiepoint":"board","version":1,"breadboards":[],"parts":[]}})", "*"},
      {R"({"do":"joined","hole":"k1"})", "unknown-hole"},
      {R"({"do":"select","part":"X1"})", "unknown-part"},
      {R"({"do":"view","levels":"on"})", "wrong-type"},
      {R"({"do":"view","pace":2})", "bad-value"},
      {R"({"do":"view","zoom":0})", "bad-value"},
      {R"({"do":"view","near":"Q9"})", "bad-value"},
      {R"({"do":"view","near":7})", "wrong-type"},
      {R"({"do":"point"})", "missing-key"},
      {R"({"do":"point","part":"R1","lead":"7"})", "unknown-lead"},
      {R"({"do":"point","box":"anchor"})", "unknown-kind"},
  };
  for (const auto& [command, code] : cases) {
    const std::string got = refused(command);
    EXPECT_NE(got, "not refused") << command;
    if (std::string_view(code) == "*") continue;
    EXPECT_EQ(got, code) << command;
  }
  EXPECT_EQ(board(), before);
}

TEST_F(PageApi, BounceIsOnUntilItIsSwitchedOff) {
  EXPECT_TRUE(done(R"({"do":"view"})")["bounce"].GetBool());
  EXPECT_EQ(refused(R"({"do":"view","bounce":false,"near":"Q9"})"), "bad-value");
  EXPECT_TRUE(done(R"({"do":"view"})")["bounce"].GetBool()) << "all of a request or nothing";
  EXPECT_FALSE(done(R"({"do":"view","bounce":false})")["bounce"].GetBool());
  EXPECT_FALSE(bench.session().bounce());
  EXPECT_EQ(refused(R"({"do":"view","bounce":3})"), "wrong-type");
  EXPECT_FALSE(done(R"({"do":"view"})")["bounce"].GetBool());
}

TEST_F(PageApi, DeepNestingIsRefusedNotWalked) {
  EXPECT_EQ(refused(R"({"do":"load","board":)" + std::string(100000, '[')), "bad-json");
  EXPECT_EQ(refused(std::string(1000000, '{')), "bad-json");
}

TEST_F(PageApi, AFileErrorTellsLineAndColumn) {
  const Json json = ask("{\"do\":\"load\",\"text\":\"{\\n  \\\"tiepoint\\\": \\\"board\\\",\\n  oops\\n}\"}");
  ASSERT_FALSE(json["ok"].GetBool());
  EXPECT_EQ(json["error"]["line"].GetInt(), 3);
  EXPECT_GT(json["error"]["column"].GetInt(), 0);
}

TEST_F(PageApi, TheCatalogueTellsWhatTheFormNeeds) {
  const Json json = done(R"({"do":"catalogue"})");
  bool button = false;
  for (const auto& kind : json["kinds"].GetArray())
    if (kind["key"] == "push-button") {
      button = true;
      EXPECT_STREQ(kind["seat"].GetString(), "rigid");
      EXPECT_EQ(kind["leads"].Size(), 4u);
    }
  EXPECT_TRUE(button);
}

TEST_F(PageApi, ANewBoardHasTheLayoutAskedFor) {
  done(R"({"do":"new","layout":"830","splitRails":true})");
  const Json words = done(R"({"do":"words"})");
  EXPECT_STREQ(words["breadboards"][0]["layout"].GetString(), "830");
  EXPECT_TRUE(words["breadboards"][0]["splitRails"].GetBool());
  EXPECT_EQ(words["parts"].Size(), 0u);
}

TEST_F(PageApi, AFaultOfTheListIsHiddenBesideTheOthers) {
  load_example("one-button");
  const Json list = done(R"({"do":"faults"})");
  int wire = -1, rail = -1;
  for (int k = 0; k < int(list["faults"].Size()); ++k) {
    const auto& fault = list["faults"][rapidjson::SizeType(k)];
    if (fault.HasMember("part") && fault["part"] == "W1" && fault["what"] == "open") wire = k;
    if (fault.HasMember("rail") && fault["rail"] == "top+" && fault["what"] == "cracked") rail = k;
  }
  ASSERT_GE(wire, 0);
  ASSERT_GE(rail, 0);
  done(R"({"do":"hide","fault":)" + std::to_string(wire) + "}");
  EXPECT_TRUE(done(R"({"do":"words"})")["hidden"].GetBool());
  // W1 is off the list now, the rail is not.
  const Json rest = done(R"({"do":"faults"})");
  EXPECT_LT(rest["faults"].Size(), list["faults"].Size());
  for (const auto& fault : rest["faults"].GetArray()) EXPECT_FALSE(fault.HasMember("part") && fault["part"] == "W1");
  EXPECT_EQ(refused(R"({"do":"hide","fault":999})"), "bad-value");
  done(R"({"do":"undo"})");
  EXPECT_FALSE(done(R"({"do":"words"})")["hidden"].GetBool());
}

TEST_F(PageApi, WhoComesBackToTheirBoardHasItsKindsOfPartsAtHand) {
  const std::string text = R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[{"name":"R1","kind":"resistor","leads":{"1":"a5","2":"a9"}}]})";
  const auto recent = [&] { return done(R"({"do":"find","text":""})")["found"].Size(); };
  done(R"({"do":"load","board":)" + text + "}");
  EXPECT_EQ(recent(), 0u);
  done(R"({"do":"load","own":true,"board":)" + text + "}");
  EXPECT_EQ(recent(), 1u);
}

TEST_F(PageApi, WordsTellTheHoleCursorAndTheBenchsLastMessage) {
  load_example("one-button");
  EXPECT_FALSE(done(R"({"do":"words"})").HasMember("cursor"));
  bench.set_hole_cursor(*bench.session().board().hole("e12"));
  done(R"({"do":"edit","edit":{"edit":"remove","part":"R1"}})");
  const Json words = done(R"({"do":"words"})");
  EXPECT_STREQ(words["cursor"].GetString(), "e12");
  EXPECT_STREQ(words["message"]["text"].GetString(), "R1 removed.");
  const std::string placed = done(R"({"do":"place","kind":"potentiometer","holes":["c20"]})")["part"].GetString();
  EXPECT_EQ(placed, done(R"({"do":"joined","hole":"c21"})")["under"].GetString());
}

TEST_F(PageApi, WordsTellThatSomethingIsHiddenAndWhatTheHunterWroteDown) {
  load_example("one-button");
  EXPECT_FALSE(done(R"({"do":"words"})")["hidden"].GetBool());
  done(R"({"do":"hide","count":1,"seed":3})");
  done(R"({"do":"edit","edit":{"edit":"hunt","entries":[{"what":"guess","text":"R1 is open"},{"what":"measurement","text":"R1: no tone"}]}})");
  const Json words = done(R"({"do":"words"})");
  EXPECT_TRUE(words["hidden"].GetBool());
  ASSERT_EQ(words["hunt"].Size(), 2u);
  EXPECT_STREQ(words["hunt"][1]["what"].GetString(), "measurement");
  EXPECT_STREQ(words["hunt"][1]["text"].GetString(), "R1: no tone");
}

TEST_F(PageApi, SignsStandWhereTheyAreAskedForUntilOthersAreOrABoardComes) {
  load_example("one-button");
  const auto flags = [&] {
    host.frame(now += 1.0 / 60);
    std::string names;
    for (const Widget& one : bench.desk().widgets)
      if (const std::string_view id = one.id; id.starts_with("flag.")) names += std::string(id.substr(5)) + " ";
    return names;
  };
  done(R"({"do":"signs","holes":["e15","top-7"],"parts":["LED1"]})");
  EXPECT_EQ(flags(), "e15 top-7 LED1 ");
  done(R"({"do":"why","part":"LED1","show":true})");
  EXPECT_EQ(flags(), "");
  const Signs& signs = bench.desk().signs;
  ASSERT_EQ(signs.way.size(), 5u);
  EXPECT_EQ(signs.whole, 5);
  EXPECT_EQ(bench.desk().board().name_of(signs.way[3].in), "e15");
  const uint64_t board = bench.revision(Revision::kBoard);
  done(R"({"do":"signs","edits":[{"edit":"move","part":"R1","leads":{"1":"c10","2":"c15"}},{"edit":"remove","part":"W2"}]})");
  ASSERT_TRUE(bench.desk().signs.mended);
  EXPECT_FALSE(bench.desk().signs.mended->find("W2"));
  EXPECT_TRUE(bench.desk().board().find("W2"));
  EXPECT_EQ(bench.revision(Revision::kBoard), board);  // shown, not made
  frames(1);
  load_example("two-in-series");
  EXPECT_FALSE(bench.desk().signs.mended);
}

TEST_F(PageApi, TheWayIsWholeUpToWhereItBreaks) {
  load_example("one-button");
  done(R"({"do":"edit","edit":{"edit":"remove","part":"W2"}})");
  done(R"({"do":"why","part":"LED1","show":true})");
  const Signs& signs = bench.desk().signs;
  ASSERT_GE(signs.way.size(), 4u);
  EXPECT_LT(signs.whole, int(signs.way.size()));
  EXPECT_GE(signs.whole, 4);
  frames(1);
}

TEST_F(PageApi, SignsThatCannotBeShownAreRefusedAndTheOldOnesStay) {
  load_example("one-button");
  done(R"({"do":"signs","holes":["e15"]})");
  EXPECT_EQ(refused(R"({"do":"signs","holes":["k99"]})"), "unknown-hole");
  EXPECT_EQ(refused(R"({"do":"signs","holes":"e15"})"), "wrong-type");
  EXPECT_EQ(refused(R"({"do":"signs","parts":["R9"]})"), "unknown-part");
  EXPECT_EQ(refused(R"({"do":"why","part":"R9","show":true})"), "unknown-part");
  EXPECT_EQ(refused(R"({"do":"signs","edits":[{"edit":"remove","part":"R9"}]})"), "unknown-part");
  EXPECT_EQ(bench.desk().signs.flags.size(), 1u);
}

TEST_F(PageApi, APartMovesByWholeHolesWithAllItsLeadsOrOnTheMatAndUndoTakesItBack) {
  load_example("one-button");
  const std::string before = board();
  const Board& b = bench.session().board();
  const auto where = [&](const char* name, size_t lead) { return b.name_of(b.find(name)->leads[lead]); };
  ASSERT_EQ(where("R1", 0), "b10");
  done(R"({"do":"move","part":"R1","by":[0,1]})");
  EXPECT_EQ(where("R1", 0), "c10");
  EXPECT_EQ(where("R1", 1), "c15");
  const MatPoint supply = b.find("PS1")->mat;
  done(R"({"do":"move","part":"PS1","by":[-2,-1]})");
  EXPECT_EQ(b.find("PS1")->mat.x, supply.x - 2);
  EXPECT_EQ(b.find("PS1")->mat.y, supply.y - 1);
  EXPECT_EQ(refused(R"({"do":"move","part":"R1","by":[0,100]})"), "off-board");
  for (const char* by : {"[1]", "[1.5,0]", "[1,0,0]", "7", "[1000,0]", R"(["1",0])"})
    EXPECT_EQ(refused(R"({"do":"move","part":"R1","by":)" + std::string(by) + "}"), "wrong-type") << by;
  done(R"({"do":"undo"})");
  done(R"({"do":"undo"})");
  EXPECT_EQ(board(), before);
}

}  // namespace
}  // namespace tiepoint
