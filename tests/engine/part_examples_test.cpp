// Every board of examples/parts opens, stands as it says, and shows the readings written beside it.
//   {"cases": [{"set": {"S1": "down"} or {"S1": ["down", "up@1s"]}, "for": "1.4s", "parts": {"LED1": {"state", "current": [least, most]}}}]}
// A setting is "down", "up", "on", "off", or what the part's position is put to: one of its words, or a number. Without "for" the
// settled state counts; with it everything starts empty.
#include <gtest/gtest.h>
#include <rapidjson/document.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace tiepoint {
namespace {

const std::filesystem::path kFolder = std::filesystem::path(TIEPOINT_EXAMPLES) / "parts";

std::string text_of(const std::filesystem::path& path) {
  std::ifstream in(path);
  std::stringstream out;
  out << in.rdbuf();
  return out.str();
}

std::vector<std::string> names() {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(kFolder)) {
    const std::string file = entry.path().filename().string();
    if (const size_t at = file.find(".board.json"); at != std::string::npos) found.push_back(file.substr(0, at));
  }
  std::sort(found.begin(), found.end());
  return found;
}

struct Setting {
  std::string part, word;
  double at = 0;  // [s]
};

std::vector<Setting> settings_of(const rapidjson::Value& set) {
  std::vector<Setting> all;
  for (const auto& member : set.GetObject()) {
    std::vector<std::string> words;
    if (member.value.IsString()) words.push_back(member.value.GetString());
    if (member.value.IsArray())
      for (const auto& word : member.value.GetArray()) words.push_back(word.GetString());
    for (const std::string& word : words) {
      const size_t at = word.find('@');
      all.push_back({member.name.GetString(), word.substr(0, at), at == std::string::npos ? 0 : std::stod(word.substr(at + 1))});
    }
  }
  std::stable_sort(all.begin(), all.end(), [](const Setting& a, const Setting& b) { return a.at < b.at; });
  return all;
}

Edit edit_of(const Board& board, const Setting& s) {
  if (s.word == "down" || s.word == "up") return {PressPart{s.part, s.word == "down"}};
  if (s.word == "on" || s.word == "off") return {SwitchSupply{s.part, s.word == "on"}};
  const Part* part = board.find(s.part);
  if (!part) return {};
  for (const ValueSpec& value : part->kind->values) {
    if (value.use != Use::kPosition || value.key == "on") continue;
    for (size_t k = 0; k < value.options.size(); ++k)
      if (value.options[k] == s.word) return {SetValue{s.part, std::string(value.key), double(k)}};
    return {SetValue{s.part, std::string(value.key), std::stod(s.word)}};
  }
  return {};
}

void check(const Session& session, const rapidjson::Value& parts, const std::string& where) {
  const Readings& readings = session.readings();
  ASSERT_FALSE(readings.error) << where << ": " << text(*readings.error);
  for (const auto& member : parts.GetObject()) {
    const Part* part = session.board().find(member.name.GetString());
    ASSERT_NE(part, nullptr) << where;
    const PartReading& reading = readings.parts[size_t(session.board().index_of(part->id))];
    for (const auto& wanted : member.value.GetObject()) {
      const std::string key = wanted.name.GetString();
      if (key == "state") {
        EXPECT_EQ(tiepoint::key(reading.state), wanted.value.GetString()) << where << " " << part->name;
        continue;
      }
      const double got = key == "current" ? reading.current : key == "voltage" ? reading.voltage : kNoReading;
      EXPECT_GE(got, wanted.value[0].GetDouble()) << where << " " << part->name << " " << key;
      EXPECT_LE(got, wanted.value[1].GetDouble()) << where << " " << part->name << " " << key;
    }
  }
}

class PartExample : public ::testing::TestWithParam<std::string> {};

TEST_P(PartExample, ShowsItsReadings) {
  const Result<Board> board = read_board(text_of(kFolder / (GetParam() + ".board.json")), catalogue());
  ASSERT_TRUE(board) << text(board.error());
  rapidjson::Document expected;
  expected.Parse(text_of(kFolder / (GetParam() + ".expect.json")).c_str());
  ASSERT_FALSE(expected.HasParseError());
  int number = 0;
  for (const auto& one : expected["cases"].GetArray()) {
    const std::string where = GetParam() + " case " + std::to_string(++number);
    Session session(*board);
    const double until = one.HasMember("for") ? std::stod(one["for"].GetString()) : 0;
    std::vector<Setting> settings = settings_of(one["set"]);
    const auto apply_until = [&](double time) {
      while (!settings.empty() && settings.front().at <= time) {
        const Result<Applied> applied = session.apply(edit_of(session.board(), settings.front()));
        EXPECT_TRUE(applied) << where << ": " << text(applied.error());
        settings.erase(settings.begin());
      }
    };
    apply_until(0);
    if (until > 0) {
      session.start_empty();
      while (session.time() < until * (1 - 1e-9)) {
        const double next = settings.empty() ? until : std::min(until, settings.front().at);
        ASSERT_GT(session.advance(next - session.time(), 1000000), 0) << where;
        apply_until(session.time() * (1 + 1e-9));
      }
    } else {
      session.settle();
    }
    check(session, one["parts"], where);
  }
}

INSTANTIATE_TEST_SUITE_P(All, PartExample, ::testing::ValuesIn(names()), [](const auto& info) {
  std::string name = info.param;
  std::replace_if(name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
  return name;
});

// Every kind of part stands on a board of the examples.
TEST(PartExamples, EveryKindIsShown) {
  std::set<std::string> shown;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(TIEPOINT_EXAMPLES)) {
    if (entry.path().filename().string().find(".board.json") == std::string::npos) continue;
    const Result<Board> board = read_board(text_of(entry.path()), catalogue());
    if (!board) continue;
    for (const Part& part : board->parts) shown.insert(std::string(part.kind->key));
  }
  for (const PartKind* kind : catalogue().kinds) EXPECT_TRUE(shown.count(std::string(kind->key))) << kind->key;
}

}  // namespace
}  // namespace tiepoint
