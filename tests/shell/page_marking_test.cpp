#include "shell/bench/page_marking.h"

#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <fstream>
#include <sstream>
#include <string>

#include "shell/bench/page_json.h"
#include "tests/shell/run_program.h"

namespace tiepoint {
namespace {

using Json = rapidjson::Document;

std::string file(const std::string& path) {
  std::ifstream in(std::string(TIEPOINT_SOURCE) + path);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

struct PageMarking : testing::Test {
  Marking marking;

  Json ask(PageJson& request) {
    request.end_object();
    const std::string reply = marking.call(request.text());
    Json json;
    json.Parse(reply.data(), reply.size());
    EXPECT_FALSE(json.HasParseError()) << reply;
    return json;
  }
  Json ask(const std::string& what) {
    PageJson request;
    request.object().member("do", what);
    return ask(request);
  }
  Json begin() {
    PageJson request;
    request.object().member("do", "begin").member("text", file("/examples/lessons/two-hands.lesson.json"));
    return ask(request);
  }
  Json mark(const std::string& name, const std::string& board) {
    PageJson request;
    request.object().member("do", "mark").member("file", name).member("board", board).member("progress", "");
    return ask(request);
  }
};

TEST_F(PageMarking, WithoutALessonNothingIsJudged) {
  EXPECT_FALSE(ask("csv")["ok"].GetBool());
  EXPECT_TRUE(begin()["ok"].GetBool());
  EXPECT_FALSE(ask("think")["ok"].GetBool());
}

// The same engine, the same table: `tiepoint grade --csv` is run beside it.
TEST_F(PageMarking, TheTableIsThatOfTheTerminalProgram) {
  begin();
  const std::string folder = std::string(TIEPOINT_SOURCE) + "/tests/lessons/";
  std::string files;
  for (const char* name : {"two-hands.right", "two-hands.slip", "first-lamp.right"}) {
    const std::string path = folder + name + ".board.json";
    files += " " + path;
    EXPECT_TRUE(mark(path, file("/tests/lessons/" + std::string(name) + ".board.json"))["ok"].GetBool());
  }
  ask("alike");
  const std::string lesson = std::string(TIEPOINT_EXAMPLES) + "/lessons/two-hands.lesson.json";
  EXPECT_EQ(std::string(ask("csv")["text"].GetString()), run("grade --csv " + lesson + files).out);
}

TEST_F(PageMarking, ABadFileIsARowAndABoardHasASketch) {
  begin();
  const Json bad = mark("a", "{ broken");
  EXPECT_TRUE(bad["ok"].GetBool());
  EXPECT_NE(std::string(bad["row"]["error"].GetString()), "");
  EXPECT_FALSE(bad.HasMember("sketch"));
  const Json good = mark("b", file("/tests/lessons/two-hands.right.board.json"));
  EXPECT_EQ(good["sketch"]["parts"].Size(), 9u);
  EXPECT_EQ(good["sketch"]["boards"].Size(), 1u);
  EXPECT_STREQ(good["sketch"]["parts"][1]["colour"].GetString(), "red");
}

TEST_F(PageMarking, AlikeRowsNameTheirTwin) {
  begin();
  const std::string board = file("/tests/lessons/two-hands.right.board.json");
  mark("a", board);
  mark("b", board);
  const Json json = ask("alike");
  ASSERT_EQ(json["alike"].Size(), 1u);
  EXPECT_EQ(json["alike"][0]["row"].GetInt(), 1);
  EXPECT_EQ(json["alike"][0]["like"].GetInt(), 0);
}

}  // namespace
}  // namespace tiepoint
