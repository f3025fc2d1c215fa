// What an error found or expected: said by the engine in English, and looked up by that in the catalogue of another language.
#include "shell/words/phrases.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string>

#include "shell/words/table.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

constexpr std::string_view kPrefix = "phrase.";
constexpr size_t kMostValues = 3;

struct Match {
  std::string_view key;
  size_t fixed = 0;  // letters of the pattern that are not values: the more, the closer
  std::array<Argument, kMostValues> values = {};
  size_t count = 0;
};

// Whether a pattern such as "{least} to {most}" fits the text, and what stands for its {names}.
bool fits(std::string_view pattern, std::string_view text, Match& match) {
  for (;;) {
    const size_t open = pattern.find('{');
    const std::string_view before = pattern.substr(0, open);
    if (text.substr(0, before.size()) != before) return false;
    match.fixed += before.size();
    text.remove_prefix(before.size());
    if (open == std::string_view::npos) return text.empty();
    const size_t close = pattern.find('}', open);
    if (close == std::string_view::npos || match.count == kMostValues) return false;
    const std::string_view name = pattern.substr(open + 1, close - open - 1);
    pattern.remove_prefix(close + 1);
    const std::string_view after = pattern.substr(0, pattern.find('{'));
    const size_t end = after.empty() ? text.size() : text.find(after);
    if (end == std::string_view::npos || end == 0) return false;
    match.values[match.count++] = {name, text.substr(0, end)};
    text.remove_prefix(end);
  }
}

std::string filled(const Match& match) {
  // Numbers with the decimal sign of the language.
  std::array<std::string, kMostValues> written;
  std::array<Argument, kMostValues> arguments = match.values;
  const std::string_view sign = say("number.decimal");
  for (size_t k = 0; k < match.count; ++k) {
    written[k] = match.values[k].value;
    const size_t point = written[k].find('.');
    const bool is_number = point != std::string::npos && point > 0 && std::isdigit(static_cast<unsigned char>(written[k][0]));
    if (is_number) written[k].replace(point, 1, sign);
    arguments[k].value = written[k];
  }
  return say(match.key, std::span<const Argument>(arguments.data(), match.count));
}

}  // namespace

std::string look_up_phrase(std::string_view english) {
  const std::span<const WordsEntry> table = words_table();
  Match best;
  for (auto at = std::lower_bound(table.begin(), table.end(), kPrefix, [](const WordsEntry& entry, std::string_view key) { return entry.key < key; });
       at != table.end() && at->key.substr(0, kPrefix.size()) == kPrefix; ++at) {
    Match match{.key = at->key};
    if (fits(at->key.substr(kPrefix.size()), english, match) && match.fixed >= best.fixed) best = match;
  }
  // A list is said item by item unless a message begins as all of it does: "a1 to j30, top+1 to top+25", but "one of red, green".
  const size_t comma = english.find(", ");
  const bool is_list = comma != std::string_view::npos && (best.key.empty() || best.key[kPrefix.size()] == '{');
  if (is_list) return look_up_phrase(english.substr(0, comma)) + ", " + look_up_phrase(english.substr(comma + 2));
  return best.key.empty() ? std::string(english) : filled(best);
}

}  // namespace tiepoint
