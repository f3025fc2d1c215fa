#include "engine/file/json.h"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>
#include <limits>

#include "engine/board/journal.h"
#include "engine/file/json_node.h"
#include "tests/engine/small_kinds.h"

namespace tiepoint {
namespace {

using small::hole;
using small::kCatalogue;
using small::part;
using small::place;

constexpr std::string_view kLampRoom = R"({
"tiepoint":"board",
"version":1,
"title":"Lamp room",
"breadboards":[
 {"layout":"400","rails":"whole","at":[0,0]}
],
"parts":[
 {"name":"R1","kind":"resistor","leads":{"1":"c4","2":"c9"},"set":{"resistance":4700,"colour":"blue"}},
 {"name":"S1","kind":"push-button","at":"e12","turn":2,"set":{"pressed":true},"label":"bell \"push\""},
 {"name":"PS1","kind":"supply","mat":[-6.5,0.1],"leads":{"+":"top+3","-":"bottom-3"},"set":{"on":false}},
 {"name":"W1","kind":"jumper-wire","leads":{"1":"a5"},"bends":[[1,-1],[0.3333333333333333,2]]}
]
}
)";

Board lamp_room() {
  const Result<Board> board = read_board(kLampRoom, kCatalogue);
  EXPECT_TRUE(board.ok()) << (board ? "" : text(board.error()));
  return board ? *board : Board();
}

// The error of a file, which must be one.
Error refuse(std::string_view file) {
  const Result<Board> board = read_board(file, kCatalogue);
  EXPECT_FALSE(board.ok()) << file;
  return board ? Error{} : board.error();
}

std::string with_part(std::string_view part) {
  return R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400"}],"parts":[)" + std::string(part) + "]}";
}

void expect_place(const Error& error, Code code, std::string_view pointer) {
  EXPECT_EQ(key(error.code), key(code)) << text(error);
  EXPECT_EQ(error.pointer, pointer) << text(error);
}

// ---- text that is no JSON ----

TEST(JsonText, SyntaxErrorHasLineAndColumn) {
  const Error comma = refuse("{\n  \"tiepoint\": \"board\"\n  \"version\": 1\n}");
  EXPECT_EQ(comma.code, Code::kBadJson);
  EXPECT_EQ(comma.line, 3);
  EXPECT_EQ(comma.column, 3);
  EXPECT_EQ(text(comma), "line 3, column 3: this is not valid JSON: a comma or } is missing here");
  const Error after = refuse("{} x");
  EXPECT_EQ(after.line, 1);
  EXPECT_EQ(after.column, 4);
  const Error wide = refuse("{\"Ω\" 1}");
  EXPECT_EQ(wide.column, 6) << "columns count characters, not bytes";
}

TEST(JsonText, WhatIsNoJsonIsRefused) {
  const std::string nul("{}\0{}", 5);
  for (const std::string_view file :
       {std::string_view(""), std::string_view("  \n"), std::string_view("{"), std::string_view("["),
        std::string_view("{\"a\":NaN}"), std::string_view("{\"a\":1e999}"), std::string_view("{\"a\":01}"),
        std::string_view("{\"a\":\"\xFF\"}"), std::string_view("{\"a\":\"\xED\xA0\x80\"}"),
        std::string_view("{\"a\":\"\\ud800\"}"), std::string_view("{'a':1}"), std::string_view("{} {}"),
        std::string_view("{\"a\":1,}"), std::string_view("// x\n{}"), std::string_view(nul)}) {
    const Error error = refuse(file);
    EXPECT_EQ(error.code, Code::kBadJson) << file;
    EXPECT_GT(error.line, 0);
    EXPECT_GT(error.column, 0);
    EXPECT_FALSE(error.found.empty());
  }
}

TEST(JsonText, TooLargeIsRefusedUnread) {
  const Error error = refuse(std::string(kLargestFile + 1, ' '));
  EXPECT_EQ(error.code, Code::kTooLarge);
  EXPECT_EQ(error.found, "9 MiB");
  EXPECT_EQ(error.expected, "8 MiB");
  EXPECT_EQ(refuse(std::string(kLargestFile, ' ')).code, Code::kBadJson);
}

TEST(JsonText, DeepNestingDoesNotOverflow) {
  EXPECT_EQ(refuse(std::string(1'000'000, '[')).code, Code::kBadJson);
  const std::string deep = std::string(1'000'000, '[') + std::string(1'000'000, ']');
  EXPECT_EQ(refuse(deep).code, Code::kWrongType);
}

TEST(JsonText, ByteOrderMarkIsSkipped) { EXPECT_TRUE(read_board("\xEF\xBB\xBF" + std::string(kLampRoom), kCatalogue)); }

TEST(JsonText, NumbersAreShortAndReadBackTheSame) {
  EXPECT_EQ(json_number(330), "330");
  EXPECT_EQ(json_number(-0.0), "0");
  EXPECT_EQ(json_number(0.1), "0.1");
  EXPECT_EQ(json_number(1e300), "1e300");
  EXPECT_EQ(json_number(std::nan("")), "null");
  EXPECT_EQ(json_text("a\"b\n\xC2\xB5"), "\"a\\\"b\\n\xC2\xB5\"");
  std::mt19937_64 random(7);
  for (int i = 0; i < 2000; ++i) {
    const uint64_t bits = random();
    double value = 0;
    static_assert(sizeof value == sizeof bits);
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    const Result<JsonText> json = JsonText::parse(json_number(value));
    ASSERT_TRUE(json) << value;
    EXPECT_EQ(json->root().number(), value);
  }
}

TEST(JsonText, PointersAreEscaped) {
  EXPECT_EQ(pointer_to("/a", "b/c~d"), "/a/b~1c~0d");
  EXPECT_LT(pointer_to("", std::string(1000, 'x')).size(), 100u);
}

// ---- board files ----

TEST(BoardFile, ReadsWhatItSays) {
  const Board board = lamp_room();
  EXPECT_EQ(board.title, "Lamp room");
  ASSERT_EQ(board.parts.size(), 4u);
  EXPECT_EQ(board.parts[0].leads[1], hole(board, "c9"));
  EXPECT_EQ(value_of(board.parts[0], "resistance"), 4700);
  EXPECT_EQ(value_of(board.parts[0], "colour"), 2);
  EXPECT_EQ(board.parts[1].turn, 2);
  EXPECT_EQ(board.name_of(board.parts[1].leads[3]), "b10");
  EXPECT_EQ(value_of(board.parts[1], "pressed"), 1) << "a momentary value is kept";
  EXPECT_EQ(board.parts[1].label, "bell \"push\"");
  EXPECT_EQ(board.parts[2].mat, (MatPoint{-6.5, 0.1}));
  EXPECT_EQ(value_of(board.parts[2], "on"), 0);
  EXPECT_FALSE(board.parts[3].leads[1].valid()) << "a lead that is not named is in the air";
  EXPECT_EQ(board.parts[3].bends[1].x, 1.0 / 3.0);
}

TEST(BoardFile, IsWrittenAsItWasRead) { EXPECT_EQ(write_board(lamp_room()), kLampRoom); }

TEST(BoardFile, OnePartStandsOnOneLine) {
  const std::string file = write_board(lamp_room());
  EXPECT_NE(file.find("\n {\"name\":\"R1\",\"kind\":\"resistor\","), std::string::npos);
}

TEST(BoardFile, EmptyBoard) {
  const std::string file = write_board(Board());
  const Result<Board> board = read_board(file, kCatalogue);
  ASSERT_TRUE(board);
  EXPECT_EQ(*board, Board());
  EXPECT_EQ(write_board(*board), file);
}

TEST(BoardFile, StandardValuesNeedNotBeWritten) {
  Board board;
  ASSERT_TRUE(place(board, small::kResistor, "R1", {"c4", "c9"}));
  EXPECT_EQ(write_board(board).find("set"), std::string::npos);
}

TEST(BoardFile, TitleRailsAndPlaceAreOptional) {
  const Result<Board> board = read_board(with_part(""), kCatalogue);
  ASSERT_TRUE(board);
  EXPECT_EQ(*board, Board());
}

TEST(BoardFile, ValuesMayBeLetterCodesWordsAndTruths) {
  const Result<Board> board =
      read_board(with_part(R"({"name":"R1","kind":"resistor","set":{"resistance":"4k7","colour":"red"}},)"
                           R"({"name":"PS1","kind":"supply","mat":[0,-9],"set":{"on":0}})"),
                 kCatalogue);
  ASSERT_TRUE(board) << text(board.error());
  EXPECT_EQ(value_of(board->parts[0], "resistance"), 4700);
  EXPECT_EQ(value_of(board->parts[0], "colour"), 0);
  EXPECT_EQ(value_of(board->parts[1], "on"), 0);
}

TEST(BoardFile, HolesMayBeUpperCase) {
  const Result<Board> board =
      read_board(with_part(R"({"name":"W1","kind":"jumper-wire","leads":{"1":"C4","2":"top−3"}})"), kCatalogue);
  ASSERT_TRUE(board) << text(board.error());
  EXPECT_EQ(board->name_of(board->parts[0].leads[1]), "top-3");
}

TEST(BoardFile, OtherFilesAndNewerVersionsAreNamed) {
  const Error circuit = refuse(R"({"tiepoint":"circuit","version":1})");
  expect_place(circuit, Code::kWrongFile, "/tiepoint");
  EXPECT_NE(circuit.found.find("circuit"), std::string::npos);
  const Error newer = refuse(R"({"tiepoint":"board","version":2,"notes":[]})");
  expect_place(newer, Code::kNewerVersion, "/version");
  EXPECT_EQ(newer.found, "2");
  EXPECT_EQ(newer.expected, "1");
  expect_place(refuse(R"({"tiepoint":"board","version":0})"), Code::kBadValue, "/version");
  expect_place(refuse(R"({"tiepoint":"board","version":0.5})"), Code::kBadValue, "/version");
  expect_place(refuse(R"({"tiepoint":"board","version":"1"})"), Code::kWrongType, "/version");
  expect_place(refuse(R"({"version":1})"), Code::kMissingKey, "");
  expect_place(refuse("[]"), Code::kWrongType, "");
  expect_place(refuse("3"), Code::kWrongType, "");
}

TEST(BoardFile, EntriesAreKnownCompleteAndOnlyOnce) {
  const std::string head = R"({"tiepoint":"board","version":1,)";
  const Error unknown = refuse(head + R"("breadboards":[{"layout":"400"}],"parts":[],"notes":[]})");
  expect_place(unknown, Code::kUnknownKey, "/notes");
  EXPECT_EQ(unknown.expected, "tiepoint, version, title, breadboards, parts, realism, hunt");
  expect_place(refuse(head + R"("parts":[]})"), Code::kMissingKey, "");
  expect_place(refuse(head + R"("breadboards":[{"layout":"400"}]})"), Code::kMissingKey, "");
  expect_place(refuse(head + R"("breadboards":[{"layout":"400"}],"parts":[],"parts":[]})"), Code::kBadJson, "/parts");
  expect_place(refuse(head + R"("breadboards":[{"layout":"400"}],"parts":{}})"), Code::kWrongType, "/parts");
  expect_place(refuse(head + R"("breadboards":[{"layout":"400"}],"parts":[],"title":3})"), Code::kWrongType, "/title");
  const std::string long_title(kLongestText + 1, 'x');
  expect_place(refuse(head + R"("breadboards":[{"layout":"400"}],"parts":[],"title":")" + long_title + "\"}"), Code::kBadValue,
               "/title");
}

TEST(BoardFile, BreadboardsAreChecked) {
  const auto with = [](std::string_view list) {
    return R"({"tiepoint":"board","version":1,"breadboards":)" + std::string(list) + R"(,"parts":[]})";
  };
  const Error layout = refuse(with(R"([{"layout":"500"}])"));
  expect_place(layout, Code::kBadValue, "/breadboards/0/layout");
  EXPECT_EQ(layout.expected, "one of 830, 400, 170");
  expect_place(refuse(with(R"([{"layout":400}])")), Code::kWrongType, "/breadboards/0/layout");
  expect_place(refuse(with(R"([{}])")), Code::kMissingKey, "/breadboards/0");
  expect_place(refuse(with(R"([{"layout":"400","rails":"cut"}])")), Code::kBadValue, "/breadboards/0/rails");
  expect_place(refuse(with(R"([{"layout":"400","at":[0.5,0]}])")), Code::kBadValue, "/breadboards/0/at/0");
  expect_place(refuse(with(R"([{"layout":"400","at":[0]}])")), Code::kWrongType, "/breadboards/0/at");
  expect_place(refuse(with(R"([{"layout":"400","at":[0,1e9]}])")), Code::kBadValue, "/breadboards/0/at/1");
  expect_place(refuse(with(R"([{"layout":"400","color":1}])")), Code::kUnknownKey, "/breadboards/0/color");
  expect_place(refuse(with("[]")), Code::kBadValue, "/breadboards");
  expect_place(refuse(with(R"([{"layout":"400"},{"layout":"400"}])")), Code::kBadValue, "/breadboards");
  std::string many = "[{\"layout\":\"170\"}";
  for (int i = 1; i < 6; ++i) many += ",{\"layout\":\"170\",\"at\":[0," + std::to_string(20 * i) + "]}";
  expect_place(refuse(with(many + "]")), Code::kTooMany, "/breadboards");
}

TEST(BoardFile, CracksThatNobodyFoundAreSealedAndComeBack) {
  Board board;
  board.breadboards[0].cracks = {Crack::kHidden, Crack::kNone, Crack::kFound, Crack::kHidden};
  const std::string text = write_board(board);
  EXPECT_NE(text.find(R"("cracked":"bottom-")"), text.npos) << text;
  EXPECT_EQ(text.find("top-"), text.npos) << "sealed";
  const Result<Board> back = read_board(text, kCatalogue);
  ASSERT_TRUE(back) << tiepoint::text(back.error());
  EXPECT_EQ(*back, board);
}

TEST(BoardFile, BadCracksAreRefusedAtTheirPlace) {
  const auto refused = [](std::string_view entry) {
    const Result<Board> board = read_board(R"({"tiepoint":"board","version":1,"breadboards":[{"layout":"400",)" + std::string(entry) + R"(}],"parts":[]})", kCatalogue);
    return board ? "" : board.error().pointer + " " + board.error().expected;
  };
  EXPECT_EQ(refused(R"("cracked":"top+ middle")"), "/breadboards/0/cracked top-, top+, bottom- or bottom+");
  EXPECT_EQ(refused(R"("sealed":"zz")"), "/breadboards/0/sealed the seal that was written for a breadboard");
  EXPECT_EQ(refused(R"("sealed":"00ff00")"), "/breadboards/0/sealed the seal that was written for a breadboard");
}

TEST(BoardFile, EveryErrorOfAPartHasItsPlace) {
  struct Case {
    std::string_view part;
    Code code;
    std::string_view pointer;
  };
  const Case cases[] = {
      {R"(7)", Code::kWrongType, "/parts/0"},
      {R"({"kind":"resistor"})", Code::kMissingKey, "/parts/0"},
      {R"({"name":"R1"})", Code::kMissingKey, "/parts/0"},
      {R"({"name":"R1","kind":"siren"})", Code::kUnknownKind, "/parts/0/kind"},
      {R"({"name":"R1","kind":null})", Code::kWrongType, "/parts/0/kind"},
      {R"({"name":"","kind":"resistor"})", Code::kBadName, "/parts/0/name"},
      {R"({"name":"1R","kind":"resistor"})", Code::kBadName, "/parts/0/name"},
      {R"({"name":"R1","kind":"resistor","at":"c4"})", Code::kUnknownKey, "/parts/0/at"},
      {R"({"name":"R1","kind":"resistor","kind":"resistor"})", Code::kBadJson, "/parts/0/kind"},
      {R"({"name":"R1","kind":"resistor","leads":[]})", Code::kWrongType, "/parts/0/leads"},
      {R"({"name":"R1","kind":"resistor","leads":{"3":"c4"}})", Code::kUnknownLead, "/parts/0/leads/3"},
      {R"({"name":"R1","kind":"resistor","leads":{"1":"c4","1":"c5"}})", Code::kBadJson, "/parts/0/leads/1"},
      {R"({"name":"R1","kind":"resistor","leads":{"1":"z4"}})", Code::kUnknownHole, "/parts/0/leads/1"},
      {R"({"name":"R1","kind":"resistor","leads":{"1":4}})", Code::kWrongType, "/parts/0/leads/1"},
      {R"({"name":"R1","kind":"resistor","leads":{"1":"c4","2":"c4"}})", Code::kSameHoleTwice, "/parts/0/leads/2"},
      {R"({"name":"R1","kind":"resistor","leads":{"1":"c4","2":"c5"}})", Code::kOutOfReach, "/parts/0/leads/2"},
      {R"({"name":"R1","kind":"resistor","set":[]})", Code::kWrongType, "/parts/0/set"},
      {R"({"name":"R1","kind":"resistor","set":{"volume":1}})", Code::kUnknownValue, "/parts/0/set/volume"},
      {R"({"name":"R1","kind":"resistor","set":{"resistance":0}})", Code::kBadValue, "/parts/0/set/resistance"},
      {R"({"name":"R1","kind":"resistor","set":{"resistance":-4.7}})", Code::kBadValue, "/parts/0/set/resistance"},
      {R"({"name":"R1","kind":"resistor","set":{"resistance":"soft"}})", Code::kBadValue, "/parts/0/set/resistance"},
      {R"({"name":"R1","kind":"resistor","set":{"resistance":true}})", Code::kWrongType, "/parts/0/set/resistance"},
      {R"({"name":"R1","kind":"resistor","set":{"resistance":1,"resistance":1}})", Code::kBadJson, "/parts/0/set/resistance"},
      {R"({"name":"R1","kind":"resistor","set":{"colour":"pink"}})", Code::kBadValue, "/parts/0/set/colour"},
      {R"({"name":"R1","kind":"resistor","set":{"colour":1}})", Code::kWrongType, "/parts/0/set/colour"},
      {R"({"name":"R1","kind":"resistor","bends":[]})", Code::kUnknownKey, "/parts/0/bends"},
      {R"({"name":"W1","kind":"jumper-wire","bends":[[1]]})", Code::kWrongType, "/parts/0/bends/0"},
      {R"({"name":"W1","kind":"jumper-wire","bends":[[1,"2"]]})", Code::kWrongType, "/parts/0/bends/0/1"},
      {R"({"name":"W1","kind":"jumper-wire","bends":[[1,1e9]]})", Code::kBadValue, "/parts/0/bends"},
      {R"({"name":"W1","kind":"jumper-wire","label":7})", Code::kWrongType, "/parts/0/label"},
      {R"({"name":"S1","kind":"push-button"})", Code::kMissingKey, "/parts/0"},
      {R"({"name":"S1","kind":"push-button","at":"d9"})", Code::kOffBoard, "/parts/0/at"},
      {R"({"name":"S1","kind":"push-button","at":"e9","turn":4})", Code::kBadValue, "/parts/0/turn"},
      {R"({"name":"S1","kind":"push-button","at":"e9","leads":{}})", Code::kUnknownKey, "/parts/0/leads"},
      {R"({"name":"PS1","kind":"supply"})", Code::kMissingKey, "/parts/0"},
      {R"({"name":"PS1","kind":"supply","mat":[1e9,0]})", Code::kBadValue, "/parts/0/mat"},
      {R"({"name":"PS1","kind":"supply","mat":"here"})", Code::kWrongType, "/parts/0/mat"},
      {R"({"name":"PS1","kind":"supply","mat":[0,0],"set":{"on":"yes"}})", Code::kWrongType, "/parts/0/set/on"},
      {R"({"name":"PS1","kind":"supply","mat":[0,0],"set":{"on":2}})", Code::kBadValue, "/parts/0/set/on"},
  };
  for (const Case& one : cases) expect_place(refuse(with_part(one.part)), one.code, one.pointer);
}

TEST(BoardFile, SecondPartInTheWayOfTheFirstIsNamed) {
  const std::string first = R"({"name":"R1","kind":"resistor","leads":{"1":"c4","2":"c10"}},)";
  const Error occupied = refuse(with_part(first + R"({"name":"W1","kind":"jumper-wire","leads":{"1":"a1","2":"c4"}})"));
  expect_place(occupied, Code::kHoleOccupied, "/parts/1/leads/2");
  EXPECT_EQ(text(occupied), "/parts/1/leads/2: hole c4 already holds a lead of R1");
  expect_place(refuse(with_part(first + R"({"name":"R1","kind":"resistor"})")), Code::kNameTaken, "/parts/1/name");
  expect_place(refuse(with_part(first + R"({"name":"S1","kind":"slide","at":"c7"})")), Code::kHoleCovered, "/parts/1/at");
  const std::string wire = R"({"name":"W1","kind":"jumper-wire","leads":{"1":"a7"}},)";
  expect_place(refuse(with_part(wire + R"({"name":"R1","kind":"resistor","leads":{"1":"a4","2":"a10"}})")), Code::kBodyOnLead,
               "/parts/1/leads");
}

TEST(BoardFile, AMillionPartsAreRefused) {
  std::string parts;
  for (int i = 0; i < 1'000'000; ++i) parts += i > 0 ? ",{}" : "{}";
  const Error error = refuse(with_part(parts));
  expect_place(error, Code::kTooMany, "/parts");
  EXPECT_EQ(error.found, "1000000 parts");
  EXPECT_EQ(error.expected, "2000 parts");
}

TEST(BoardFile, AsManyPartsAsAllowedAreRead) {
  std::string parts;
  for (int i = 0; i < kMaxParts; ++i)
    parts += (i > 0 ? "," : "") + (R"({"name":"W)" + std::to_string(i) + R"(","kind":"jumper-wire"})");
  const Result<Board> board = read_board(with_part(parts), kCatalogue);
  ASSERT_TRUE(board) << text(board.error());
  EXPECT_EQ(board->parts.size(), static_cast<size_t>(kMaxParts));
}

TEST(BoardFile, KeepsEverythingOfRandomBoards) {
  size_t parts = 0;
  for (uint32_t seed = 1; seed <= 60; ++seed) {
    small::RandomEdits random(seed);
    Board board;
    for (int step = 0; step < 60; ++step) (void)apply(board, random.next(board));
    parts += board.parts.size();
    const std::string file = write_board(board);
    const Result<Board> again = read_board(file, kCatalogue);
    ASSERT_TRUE(again) << text(again.error()) << "\n" << file;
    EXPECT_EQ(*again, board) << file;
    EXPECT_EQ(write_board(*again), file);
  }
  EXPECT_GT(parts, 200u);
}

// ---- edits ----

class EditJsonTest : public testing::Test {
 protected:
  // Writes, reads, and expects the same effect on the board.
  std::string round(const Edit& edit) {
    const std::string json = write_edit(edit, board);
    const Result<Edit> read = read_edit(json, board, kCatalogue);
    EXPECT_TRUE(read.ok()) << json << "\n" << (read ? "" : text(read.error()));
    if (!read) return json;
    EXPECT_EQ(read->act.index(), edit.act.index()) << json;
    EXPECT_EQ(write_edit(*read, board), json);
    Board one = board, other = board;
    const Result<Applied> a = apply(one, edit), b = apply(other, *read);
    EXPECT_EQ(a.ok(), b.ok()) << json;
    EXPECT_EQ(one, other) << json;
    return json;
  }
  Error refuse_edit(std::string_view json) {
    const Result<Edit> edit = read_edit(json, board, kCatalogue);
    EXPECT_FALSE(edit.ok()) << json;
    return edit ? Error{} : edit.error();
  }
  Board board = lamp_room();
};

TEST_F(EditJsonTest, EachEditHasItsWord) {
  EXPECT_EQ(round({PressPart{"S1"}}), R"({"edit":"press","part":"S1"})");
  EXPECT_EQ(round({PressPart{"S1", false}}), R"({"edit":"release","part":"S1"})");
  EXPECT_EQ(round({RemovePart{"R1"}}), R"({"edit":"remove","part":"R1"})");
  EXPECT_EQ(round({TurnPart{"R1", 2}}), R"({"edit":"turn","part":"R1","quarters":2})");
  EXPECT_EQ(round({SeatLead{"R1", 1, hole(board, "c12")}}), R"({"edit":"seat","part":"R1","lead":"2","hole":"c12"})");
  EXPECT_EQ(round({SeatLead{"R1", 0, Hole{}}}), R"({"edit":"seat","part":"R1","lead":"1","hole":null})");
  EXPECT_EQ(round({SetValue{"R1", "resistance", 10e3}}), R"({"edit":"set","part":"R1","key":"resistance","value":10000})");
  EXPECT_EQ(round({SetValue{"R1", "colour", 0}}), R"({"edit":"set","part":"R1","key":"colour","value":"red"})");
  EXPECT_EQ(round({SetValue{"PS1", "on", 1}}), R"({"edit":"set","part":"PS1","key":"on","value":true})");
  EXPECT_EQ(round({RenamePart{"R1", "R7"}}), R"({"edit":"rename","part":"R1","name":"R7"})");
  EXPECT_EQ(round({LabelPart{"R1", "spare"}}), R"({"edit":"label","part":"R1","label":"spare"})");
  EXPECT_EQ(round({RouteWire{"W1", {{1, 2.5}}}}), R"({"edit":"route","part":"W1","bends":[[1,2.5]]})");
  EXPECT_EQ(round({SlidePart{"S1", 1}}), R"({"edit":"slide","part":"S1","position":1})");
  EXPECT_EQ(round({SwitchSupply{"PS1", true}}), R"({"edit":"switch","part":"PS1","on":true})");
  EXPECT_EQ(round({SetTitle{"Bell"}}), R"({"edit":"title","title":"Bell"})");
  EXPECT_EQ(round({SetBreadboards{{{.layout = LayoutKind::k830, .split_rails = true}}}}),
            R"({"edit":"breadboards","breadboards":[{"layout":"830","rails":"split","at":[0,0]}]})");
  EXPECT_EQ(round({MovePart{"R1", {hole(board, "h4"), hole(board, "h9")}}}),
            R"({"edit":"move","part":"R1","leads":{"1":"h4","2":"h9"}})");
  EXPECT_EQ(round({MovePart{"S1", {hole(board, "e20")}, 0}}), R"({"edit":"move","part":"S1","at":"e20","turn":0})");
  EXPECT_EQ(round({MovePart{.part = "PS1", .mat = {3, -9}}}), R"({"edit":"move","part":"PS1","mat":[3,-9]})");
  EXPECT_EQ(round({PlacePart{part(board, small::kWire, "W2", {"b20", "b25"})}}),
            R"({"edit":"place","name":"W2","kind":"jumper-wire","leads":{"1":"b20","2":"b25"}})");
  EXPECT_EQ(round({PlacePart{part(board, small::kSlide, "S3", {"b20"}), 0}}),
            R"({"edit":"place","name":"S3","kind":"slide","at":"b20","turn":0,"index":0})");
  EXPECT_EQ(round({Batch{{{SetTitle{"a"}}, {RemovePart{"R1"}}}}}),
            R"({"edit":"batch","edits":[{"edit":"title","title":"a"},{"edit":"remove","part":"R1"}]})");
}

TEST_F(EditJsonTest, WhatIsNotGivenStays) {
  const Result<Edit> turn = read_edit(R"({"edit":"move","part":"S1","turn":0})", board, kCatalogue);
  ASSERT_TRUE(turn);
  EXPECT_TRUE(std::get<MovePart>(turn->act).leads.empty());
  const Result<Edit> leads = read_edit(R"({"edit":"move","part":"PS1","leads":{"+":"a1"}})", board, kCatalogue);
  ASSERT_TRUE(leads);
  EXPECT_EQ(std::get<MovePart>(leads->act).mat, (MatPoint{-6.5, 0.1}));
  const Result<Edit> quarter = read_edit(R"({"edit":"turn","part":"S1"})", board, kCatalogue);
  ASSERT_TRUE(quarter);
  EXPECT_EQ(std::get<TurnPart>(quarter->act).quarters, 1);
  const Result<Edit> place = read_edit(R"({"edit":"place","kind":"resistor"})", board, kCatalogue);
  ASSERT_TRUE(place);
  EXPECT_EQ(std::get<PlacePart>(place->act).part.name, "") << "the next free name";
}

TEST_F(EditJsonTest, LaterEditsOfABatchSeeTheEarlierOnes) {
  const Edit batch{Batch{{{SetBreadboards{{{.layout = LayoutKind::k830}}}},
                          {PlacePart{part(board, small::kChip, "U1", {"f25"})}},
                          {SeatLead{"W1", 1, Hole{0, 610}}},
                          {MovePart{"U1", {Hole{0, 405}}, 0}}}}};
  const std::string json = round(batch);
  EXPECT_NE(json.find("\"hole\":\"a62\""), std::string::npos) << json;
}

TEST_F(EditJsonTest, BatchThatHasBeenCarriedOutIsWrittenWhole) {
  const Edit batch{Batch{{{RemovePart{"R1"}}, {RemovePart{"W1"}}}}};
  ASSERT_TRUE(apply(board, batch));
  EXPECT_EQ(write_edit(batch, board), R"({"edit":"batch","edits":[{"edit":"remove","part":"R1"},{"edit":"remove","part":"W1"}]})");
}

TEST_F(EditJsonTest, MovesOfABatchAreReadAgainstTheBoardAsItIs) {
  ASSERT_TRUE(place(board, small::kWire, "W7", {"d24", "d27"}));
  ASSERT_TRUE(place(board, small::kWire, "W8", {"d25", "d26"}));
  const std::string json = round({Batch{{{MovePart{"W7", {hole(board, "d25"), hole(board, "d28")}}},
                                         {MovePart{"W8", {hole(board, "d26"), hole(board, "d27")}}}}}});
  EXPECT_NE(json.find("d28"), std::string::npos) << json;
  const Result<Edit> taken = read_edit(
      R"({"edit":"batch","edits":[{"edit":"move","part":"W7","leads":{"1":"d1","2":"d5"}},{"edit":"move","part":"W8","leads":{"1":"d5","2":"d9"}}]})",
      board, kCatalogue);
  ASSERT_FALSE(taken.ok());
  EXPECT_EQ(taken.error().code, Code::kHoleOccupied);
}

TEST_F(EditJsonTest, BadEditsHaveAPlace) {
  struct Case {
    std::string_view json;
    Code code;
    std::string_view pointer;
  };
  const Case cases[] = {
      {R"([])", Code::kWrongType, ""},
      {R"({})", Code::kMissingKey, ""},
      {R"({"edit":7})", Code::kWrongType, "/edit"},
      {R"({"edit":"explode"})", Code::kBadValue, "/edit"},
      {R"({"edit":"press"})", Code::kMissingKey, ""},
      {R"({"edit":"press","part":7})", Code::kWrongType, "/part"},
      {R"({"edit":"press","part":"X1"})", Code::kUnknownPart, "/part"},
      {R"({"edit":"press","part":"S1","down":true})", Code::kUnknownKey, "/down"},
      {R"({"edit":"turn","part":"S1","quarters":1.5})", Code::kBadValue, "/quarters"},
      {R"({"edit":"seat","part":"R1","lead":"1"})", Code::kMissingKey, ""},
      {R"({"edit":"seat","part":"R1","lead":"9","hole":"a1"})", Code::kUnknownLead, "/lead"},
      {R"({"edit":"seat","part":"R1","lead":"1","hole":"q1"})", Code::kUnknownHole, "/hole"},
      {R"({"edit":"set","part":"R1","key":"volume","value":1})", Code::kUnknownValue, "/key"},
      {R"({"edit":"set","part":"R1","key":"resistance","value":0})", Code::kBadValue, "/value"},
      {R"({"edit":"set","part":"R1","key":"resistance"})", Code::kMissingKey, ""},
      {R"({"edit":"slide","part":"S1","position":1e12})", Code::kBadValue, "/position"},
      {R"({"edit":"switch","part":"PS1","on":1})", Code::kWrongType, "/on"},
      {R"({"edit":"rename","part":"R1","name":null})", Code::kWrongType, "/name"},
      {R"({"edit":"move","part":"R1","at":"a1"})", Code::kUnknownKey, "/at"},
      {R"({"edit":"move","part":"S1","at":"a99"})", Code::kUnknownHole, "/at"},
      {R"({"edit":"place","kind":"siren"})", Code::kUnknownKind, "/kind"},
      {R"({"edit":"place","kind":"resistor","index":-1})", Code::kBadValue, "/index"},
      {R"({"edit":"breadboards","breadboards":[]})", Code::kBadValue, "/breadboards"},
      {R"({"edit":"batch","edits":{}})", Code::kWrongType, "/edits"},
      {R"({"edit":"batch","edits":[{"edit":"title","title":"x"},{"edit":"press","part":"X1"}]})", Code::kUnknownPart,
       "/edits/1/part"},
      {R"({"edit":"batch","edits":[{"edit":"remove","part":"R1"},{"edit":"rename","part":"W1","name":"?"}]})", Code::kBadName,
       "/edits/1"},
  };
  for (const Case& one : cases) expect_place(refuse_edit(one.json), one.code, one.pointer);
  EXPECT_GT(refuse_edit("{\"edit\"").line, 0);
}

TEST_F(EditJsonTest, BatchesAreNeitherEndlessNorEndlesslyDeep) {
  std::string many;
  for (int i = 0; i < 5 * kMaxParts; ++i) many += i > 0 ? ",{}" : "{}";
  expect_place(refuse_edit("{\"edit\":\"batch\",\"edits\":[" + many + "]}"), Code::kTooMany, "/edits");
  std::string deep = R"({"edit":"title","title":"x"})";
  for (int i = 0; i < 10; ++i) deep = R"({"edit":"batch","edits":[)" + deep + "]}";
  EXPECT_EQ(refuse_edit(deep).code, Code::kTooMany);
}

TEST_F(EditJsonTest, RandomEditsAndTheirInversesKeepTheirMeaning) {
  int written = 0;
  for (uint32_t seed = 200; seed < 240; ++seed) {
    small::RandomEdits random(seed);
    board = Board();
    for (int step = 0; step < 50; ++step) {
      const Edit edit = random.next(board);
      if (!check(board, edit)) continue;  // of an edit that fits nowhere only the refusal is left
      round(edit);
      const Result<Applied> applied = apply(board, edit);
      ASSERT_TRUE(applied);
      round(applied->inverse);
      ++written;
    }
  }
  EXPECT_GT(written, 500);
}

}  // namespace
}  // namespace tiepoint
