#include "shell/words/words.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <set>
#include <string>

#include "engine/devices/model.h"
#include "engine/error.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/words/languages.h"
#include "shell/words/part_facts.h"
#include "shell/words/table.h"
#include "tests/shell/speaking.h"

namespace tiepoint {
namespace {

bool has_digit(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; });
}

TEST(Words, EveryErrorSentenceIsTheEnginesOwn) {
  const Code codes[] = {
#define X(id, key, sentence) Code::id,
      TIEPOINT_ERRORS(X)
#undef X
  };
  for (const Code code : codes) EXPECT_EQ(say("error." + std::string(key(code))), sentence_template(code));
}

TEST(Words, EveryStateOfAPartHasAWord) {
  const State states[] = {
#define X(id, key) State::id,
      TIEPOINT_STATES(X)
#undef X
  };
  for (const State state : states) EXPECT_TRUE(has_words("state." + std::string(key(state)))) << key(state);
}

TEST(PartFacts, EveryKindHasModelSourceAndLimits) {
  for (const PartKind* kind : catalogue().kinds) {
    const PartFacts facts = part_facts(static_cast<const PartType&>(*kind));
    EXPECT_GT(facts.model.size(), 10u) << kind->key;
    EXPECT_GT(facts.source.size(), 10u) << kind->key;
    EXPECT_GT(facts.limits.size(), 10u) << kind->key;
    EXPECT_EQ(facts.elements.empty(), kind->key == "note") << kind->key;  // paper has no model
    for (const ElementFacts& element : facts.elements) {
      EXPECT_FALSE(element.what.empty()) << kind->key << " " << element.name;
      EXPECT_FALSE(element.equation.empty()) << kind->key << " " << element.name;
      EXPECT_FALSE(element.source.empty()) << kind->key << " " << element.name;
    }
  }
}

TEST(PartFacts, NothingIsSaidOfAKindOrAModelThatIsNotThere) {
  std::set<std::string_view> models;
  for (int k = 0; k < int(ElementKind::kCount); ++k) models.insert(model(ElementKind(k)).name);
  for (const WordsEntry& entry : part_facts_table()) {
    const size_t first = entry.key.find('.') + 1;
    const std::string_view name = entry.key.substr(first, entry.key.find('.', first) - first);
    if (entry.key.substr(0, first) == "part.") {
      EXPECT_TRUE(catalogue().find(name)) << entry.key;
    } else {
      EXPECT_TRUE(models.count(name)) << entry.key;
    }
  }
}

TEST(Words, EveryKindItsLeadsAndItsValuesAreNamed) {
  for (const PartKind* kind : catalogue().kinds) {
    EXPECT_TRUE(has_words("kind." + std::string(kind->key))) << kind->key;
    EXPECT_TRUE(has_words("group." + std::string(static_cast<const PartType*>(kind)->group))) << kind->key;
    for (const LeadSpec& lead : kind->leads) EXPECT_TRUE(has_words("lead." + std::string(lead.name))) << kind->key << " " << lead.name;
    for (const ValueSpec& value : kind->values) {
      EXPECT_TRUE(has_words("value." + std::string(value.key))) << kind->key << " " << value.key;
      // "5 %" and "1N4148" say themselves; words of a language need the catalogue.
      for (const std::string_view option : value.options)
        EXPECT_TRUE(has_words("option." + std::string(option)) || has_digit(option)) << kind->key << " " << option;
    }
  }
}

TEST(Words, EveryColourBandIsNamed) {
  for (int band = 0; band <= int(Band::kNone); ++band) EXPECT_TRUE(has_words("band." + std::string(name(Band(band))))) << band;
}

TEST(Words, ArgumentsFillTheirPlacesAndMissingOnesPrintAsNothing) {
  EXPECT_EQ(say("part.from-to", {{"from", "e12"}, {"to", "e16"}}), "e12 to e16");
  EXPECT_EQ(say("part.from-to", {{"from", "e12"}}), "e12 to ");
}

TEST(Words, EveryLanguageHasAWordForEveryKey) {
  std::set<std::string_view> keys;
  for (const WordsEntry& entry : words_table()) keys.insert(entry.key);
  for (const std::string_view language : languages()) {
    const Speaking speaking(language);
    for (const std::string_view key : keys) EXPECT_TRUE(has_words(key)) << language << " " << key;
    EXPECT_EQ(words_table().size(), keys.size()) << language;
  }
}

TEST(Words, ALanguageThatIsNotThereChangesNothing) {
  EXPECT_FALSE(use_language("xx"));
  EXPECT_EQ(say("bar.undo"), "Undo");
}

// What Intl.PluralRules says; tests/tools/words.test.mjs asks it again.
constexpr std::string_view kPlurals[] = {
    "en 0:other 1:one 2:other 3:other 10:other 11:other 20:other 21:other 22:other 100:other 101:other 102:other 1000:other",
    "es 0:other 1:one 2:other 3:other 10:other 11:other 20:other 21:other 22:other 100:other 101:other 102:other 1000:other",
    "de 0:other 1:one 2:other 3:other 10:other 11:other 20:other 21:other 22:other 100:other 101:other 102:other 1000:other",
    "he 0:other 1:one 2:two 3:other 10:other 11:other 20:other 21:other 22:other 100:other 101:other 102:other 1000:other"};

TEST(Words, PluralClassesAreThoseOfThePlatform) {
  for (std::string_view line : kPlurals) {
    const std::string_view language = line.substr(0, 2);
    line.remove_prefix(3);
    while (!line.empty()) {
      const size_t colon = line.find(':'), end = std::min(line.find(' '), line.size());
      EXPECT_EQ(plural_class(language, line.substr(0, colon)), line.substr(colon + 1, end - colon - 1)) << language << " " << line;
      line.remove_prefix(std::min(end + 1, line.size()));
    }
  }
}

TEST(Words, PluralsAndChoicesAreFilled) {
  EXPECT_EQ(say("notebook.summary", {{"parts", "2 parts"}, {"wires", "1"}}), "On the board: 2 parts and 1 jumper wire.");
  EXPECT_EQ(say("notebook.summary", {{"parts", "2 parts"}, {"wires", "0"}}), "On the board: 2 parts.");
  EXPECT_EQ(say("lesson.step.name", {{"number", "1"}, {"count", "4"}, {"title", "Look"}, {"state", "done"}}), "Step 1 of 4: Look, done");
  const Speaking speaking("he");
  EXPECT_EQ(say("notebook.summary.parts", {{"count", "2"}}), "שני רכיבים");
}

TEST(Words, NumbersAreWrittenAsTheLanguageDoes) {
  EXPECT_EQ(say_quantity(0.0047, "A"), "4.7 mA");
  EXPECT_EQ(say_quantity(kNoReading, "A"), "no reading");
  const Speaking speaking("de");
  EXPECT_EQ(say_quantity(0.0047, "A"), "4,7 mA");
  EXPECT_EQ(say_quantity(kNoReading, "A"), "kein Messwert");
  EXPECT_EQ(say_marking(4700, "Ω"), "4,7 kΩ");
  // What is shown can be typed in again.
  EXPECT_EQ(read_marking(say_marking(4700, "Ω"), "Ω"), 4700);
}

TEST(Words, AnUnknownKeyShowsItself) {
  EXPECT_EQ(say("no.such.key"), "no.such.key");
  EXPECT_FALSE(has_words("no.such.key"));
}

TEST(Words, WhatAnErrorExpectsIsSaidInTheLanguageOfThePage) {
  const Speaking speaking("de");
  EXPECT_EQ(said_in_language("a1 to j30"), "a1 bis j30");
  EXPECT_EQ(said_in_language("a1 to j30, top-1 to top-25, bottom+1 to bottom+25"), "a1 bis j30, top-1 bis top-25, bottom+1 bis bottom+25");
  EXPECT_EQ(said_in_language("0.1 Ω to 1.5 GΩ"), "0,1 Ω bis 1,5 GΩ");
  EXPECT_EQ(said_in_language("one of red, green"), "eines von red, green");
  EXPECT_EQ(said_in_language("400 parts"), "400 Teile");
  EXPECT_EQ(said_in_language("1 to 24 letters, digits, - or _, a letter first"), "1 bis 24 Buchstaben, Ziffern, - oder _, zuerst ein Buchstabe");
  EXPECT_EQ(said_in_language("a lesson to be opened first"), "erst eine geöffnete Lektion") << "the message with more of its own words";
  EXPECT_EQ(said_in_language("anode, cathode"), "anode, cathode");
  EXPECT_EQ(said_in_language("to"), "to");
  EXPECT_EQ(said_in_language(" to "), " to ");
  EXPECT_EQ(said_in_language(""), "");
}

TEST(Words, InEnglishAnErrorSaysWhatTheEngineSays) {
  for (const std::string_view words : {"a1 to j30, top-1 to top-25", "0.1 Ω to 1.5 GΩ", "one of red, green", "400 parts", "this board"})
    EXPECT_EQ(said_in_language(words), words);
}

}  // namespace
}  // namespace tiepoint
