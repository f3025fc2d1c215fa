// The search of the parts box, as a function and worked by hands.
#include "shell/bench/find_parts.h"

#include <set>

#include "shell/bench/page_api.h"
#include "shell/words/words.h"
#include "tests/shell/hands.h"
#include "tests/shell/speaking.h"

namespace tiepoint {
namespace {

std::string keys(const std::vector<Part>& found, size_t most = 100) {
  std::string out;
  for (size_t i = 0; i < std::min(found.size(), most); ++i) out += (out.empty() ? "" : " ") + std::string(found[i].kind->key);
  return out;
}
bool holds(const std::vector<Part>& found, std::string_view kind) {
  return std::any_of(found.begin(), found.end(), [&](const Part& part) { return part.kind->key == kind; });
}

TEST(FindParts, EveryKindIsFoundFirstByItsWholeName) {
  for (const PartKind* kind : catalogue().kinds) {
    const std::vector<Part> found = find_parts(say("kind." + std::string(kind->key)));
    ASSERT_FALSE(found.empty()) << kind->key;
    EXPECT_EQ(found.front().kind, kind) << kind->key << ": " << keys(found, 4);
  }
}

TEST(FindParts, PurposeIsUnderstoodInTheLanguageOfThePageAndInEnglish) {
  const struct {
    const char *language, *words, *kind;
  } asked[] = {{"de", "Licht", "led"},         {"de", "Messgerät", "meter"},     {"de", "zählen", "cd4017"},     {"de", "sensor Temperatur", "thermistor"},
               {"es", "sonido", "buzzer"},     {"es", "batería", "battery-pack"}, {"es", "regulador", "lm7805"},  {"es", "linterna", "filament-lamp"},
               {"he", "חיישן", "thermistor"}, {"he", "סוללה", "coin-cell"},     {"he", "צליל", "loudspeaker"}, {"he", "sound", "buzzer"}};
  for (const auto& [language, words, kind] : asked) {
    const Speaking speaking(language);
    const std::vector<Part> found = find_parts(words);
    EXPECT_TRUE(holds(found, kind)) << language << " " << words << ": " << keys(found);
  }
  const Speaking speaking("de");
  EXPECT_EQ(find_parts("Licht").front().kind->key, "led");
  EXPECT_FALSE(holds(find_parts("Licht"), "resistor"));
}

TEST(FindParts, PurposeFindsWhatServesIt) {
  const std::vector<Part> light = find_parts("light");
  for (const char* kind : {"led", "filament-lamp", "photoresistor"}) EXPECT_TRUE(holds(light, kind)) << kind;
  EXPECT_EQ(light.front().kind->key, "led") << "before a light gate and a bar of lights: " << keys(light, 5);
  EXPECT_FALSE(holds(light, "resistor"));
  EXPECT_EQ(keys(find_parts("timer"), 2), "ne555 tlc555");
  EXPECT_EQ(keys(find_parts("555"), 2), "ne555 tlc555") << "the number printed on it, and no resistor of 555 ohm";
  EXPECT_TRUE(holds(find_parts("sound"), "buzzer"));
  EXPECT_TRUE(holds(find_parts("SENSOR"), "thermistor"));
  for (const char* type : {"1N4728A", "1N4740A", "1N4742A", "BZX85"}) EXPECT_EQ(keys(find_parts(type), 1), "zener-diode") << type;
}

// Marks of IEC 60062 and what people write instead.
TEST(FindParts, ValueFindsAResistorThatHasIt) {
  for (const char* text :
       {"4k7", "4.7k", "4.7 k", "4,7 k", "4.7 kohm", "4K7", "4700", "yellow violet red", "resistor 4k7", "4.7 k resistor"}) {
    const std::vector<Part> found = find_parts(text);
    ASSERT_FALSE(found.empty()) << text;
    EXPECT_EQ(found.front().kind->key, "resistor") << text << ": " << keys(found, 5);
    EXPECT_NEAR(value_of(found.front(), "resistance"), 4700, 1e-6) << text;
  }
  EXPECT_TRUE(holds(find_parts("10k"), "potentiometer"));
}

TEST(FindParts, ValueOfAnotherUnitFindsAnotherPart) {
  const std::vector<Part> found = find_parts("100n");
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found.front().kind->key, "ceramic-capacitor") << keys(found);
  EXPECT_NEAR(value_of(found.front(), "capacitance"), 100e-9, 1e-15);
  EXPECT_FALSE(holds(found, "resistor"));
  const std::vector<Part> large = find_parts("470 µF");
  ASSERT_FALSE(large.empty());
  EXPECT_EQ(large.front().kind->key, "electrolytic-capacitor");
  EXPECT_NEAR(value_of(large.front(), "capacitance"), 470e-6, 1e-12);
}

TEST(FindParts, AWordForAnOptionSetsIt) {
  const std::vector<Part> found = find_parts("green led");
  ASSERT_FALSE(found.empty());
  EXPECT_EQ(found.front().kind->key, "led") << keys(found, 5);
  const ValueSpec& colour = found.front().kind->values[size_t(value_index(*found.front().kind, "colour"))];
  EXPECT_EQ(colour.options[size_t(value_of(found.front(), "colour"))], "green");
}

TEST(FindParts, EveryWordHasToFit) {
  EXPECT_TRUE(find_parts("green resistorx").empty());
  EXPECT_TRUE(find_parts("zzz").empty());
  EXPECT_TRUE(find_parts("   ").empty());
  EXPECT_TRUE(find_parts(std::string(5000, 'q')).empty());
  EXPECT_TRUE(find_parts("\xFF\xFE\x80").empty()) << "no UTF-8";
}

TEST(FindParts, WhatWasUsedLatelyComesFirst) {
  const PartKind* recent[] = {catalogue().find("photoresistor"), catalogue().find("buzzer")};
  EXPECT_EQ(find_parts("light", recent).front().kind->key, "photoresistor");
  EXPECT_EQ(keys(find_parts("", recent)), "photoresistor buzzer");
  EXPECT_EQ(find_parts("timer", recent).front().kind->key, "ne555");
}

TEST(FindParts, ValuesFoundAreAllowedOnes) {
  for (const char* text : {"10k", "1M", "4k7", "100n", "330", "5 V", "9V", "1 Hz", "0", "-5k", "1e300k", "104"})
    for (const Part& part : find_parts(text))
      for (size_t i = 0; i < part.values.size(); ++i)
        EXPECT_TRUE(check_value(*part.kind, int(i), part.values[i]).ok()) << text << " " << part.kind->key;
}

TEST(PartsBoxSearch, TheBoxShowsWhatIsFoundAndAClickTakesItWithItsValue) {
  Hands h;
  h.bench.search("10k");
  ASSERT_NE(h.find("box.resistor"), nullptr);
  EXPECT_EQ(h.find("box.led"), nullptr);
  h.picture("search-10k");
  h.click(h.at("box.resistor"));
  h.click(h.hole("b10"));
  h.click(h.hole("b15"));
  ASSERT_NE(h.part("R1"), nullptr) << text(h.bench.message());
  EXPECT_EQ(value_of(*h.part("R1"), "resistance"), 10000);
  h.bench.end_search();
  EXPECT_NE(h.find("box.led"), nullptr);
}

TEST(PartsBoxSearch, APartDraggedOutOfWhatIsFoundHasItsColour) {
  Hands h;
  h.bench.search("blue wire");
  h.drag(h.at("box.jumper-wire"), h.between("b5", "b9"));
  ASSERT_NE(h.part("W1"), nullptr) << text(h.bench.message());
  const Part& wire = *h.part("W1");
  EXPECT_EQ(wire.kind->values[size_t(value_index(*wire.kind, "colour"))].options[size_t(value_of(wire, "colour"))], "blue");
}

TEST(PartsBoxSearch, NothingFoundSaysSo) {
  Hands h;
  h.bench.search("qqq");
  h.frames(2);
  for (const Widget& w : h.bench.widgets()) EXPECT_NE(std::string(w.id).substr(0, 4), "box.");
  h.picture("search-none");
}

TEST(PartsBoxSearch, ATrayOpenedByHandEndsIt) {
  Hands h;
  h.bench.search("timer");
  h.click(h.at("tray.light"));
  EXPECT_FALSE(h.bench.desk().search.open);
  EXPECT_NE(h.find("box.led"), nullptr);
}

TEST(PartsBoxSearch, RecentlyUsedPartsGetTheirOwnTrayAndLieFirst) {
  Hands h;
  EXPECT_EQ(h.find("tray.recent"), nullptr) << "nothing was used yet";
  h.drag(h.at("box.led"), h.between("c15", "c16"));
  h.drag(h.at("box.resistor"), h.between("b3", "b8"));
  h.bench.select("");
  h.click(h.at("tray.recent"));
  const Widget* resistor = h.find("box.resistor");
  ASSERT_NE(resistor, nullptr);
  const float x = resistor->x;
  ASSERT_NE(h.find("box.led"), nullptr);
  EXPECT_LT(x, h.find("box.led")->x) << "the latest first";
  EXPECT_EQ(h.find("box.push-button"), nullptr);
  h.picture("recent");
  h.bench.search("");
  EXPECT_EQ(keys(h.bench.desk().search.found), "resistor led");
}

TEST(PartsBoxSearch, TheMarkedOneIsBroughtIntoSight) {
  Hands h(360, 360);
  h.bench.search("chip", 0);
  const size_t count = h.bench.desk().search.found.size();
  ASSERT_GT(count, 8u);
  h.bench.search("chip", int(count) - 1);
  EXPECT_NE(h.find("box." + std::string(h.bench.desk().search.found.back().kind->key)), nullptr);
}

TEST(PartsBoxSearch, ALessonsFewPartsAreAllThatIsFound) {
  Hands h;
  h.bench.desk().offered = {catalogue().find("resistor")};
  h.bench.search("light");
  EXPECT_TRUE(h.bench.desk().search.found.empty());
  h.bench.search("10k");
  EXPECT_EQ(keys(h.bench.desk().search.found), "resistor");
}

TEST(PartsBoxSearch, ThePagesRequestsAreAnsweredWithPlaces) {
  Hands h;
  EXPECT_EQ(call(h.bench, R"({"do":"find","text":"4k7"})")
                .find(R"({"ok":true,"found":[{"kind":"resistor","values":{"resistance":"4.7 kΩ"}},)"),
            0u);
  EXPECT_FALSE(h.bench.desk().search.open);
  EXPECT_NE(call(h.bench, R"({"do":"find","text":"4k7","show":true,"at":0})").find("\"ok\":true"), std::string::npos);
  EXPECT_TRUE(h.bench.desk().search.open);
  EXPECT_NE(call(h.bench, R"({"do":"take","kind":"resistor","values":{"resistance":"4.7 kΩ"}})").find("\"ok\":true"),
            std::string::npos);
  h.click(h.hole("b10"));
  h.click(h.hole("b15"));
  ASSERT_NE(h.part("R1"), nullptr);
  EXPECT_NEAR(value_of(*h.part("R1"), "resistance"), 4700, 1e-9);
  EXPECT_NE(call(h.bench, R"({"do":"take","kind":"nothing"})").find("unknown-kind"), std::string::npos);
  EXPECT_NE(call(h.bench, R"({"do":"find","text":5})").find("wrong-type"), std::string::npos);
}

}  // namespace
}  // namespace tiepoint
