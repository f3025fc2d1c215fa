#include "shell/words/words.h"

#include <cmath>

#include "engine/parts/marking.h"
#include "shell/words/phrases.h"
#include "shell/words/table.h"

namespace tiepoint {
namespace {

const WordsEntry* find(std::string_view key) { return find_entry(words_table(), key); }

std::string_view value_of(std::span<const Argument> arguments, std::string_view name) {
  for (const Argument& argument : arguments)
    if (argument.name == name) return argument.value;
  return {};
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

// Index of the brace that closes the one at `open`; the end when none does.
size_t closing(std::string_view text, size_t open) {
  int depth = 0;
  for (size_t i = open; i < text.size(); ++i) {
    if (text[i] == '{') ++depth;
    if (text[i] == '}' && --depth == 0) return i;
  }
  return text.size();
}

// The text of the branch called `name` in "one {…} other {…}"; null when there is none.
std::string_view branch(std::string_view branches, std::string_view name) {
  for (size_t i = 0; i < branches.size();) {
    const size_t open = branches.find('{', i);
    if (open == std::string_view::npos) break;
    const size_t close = closing(branches, open);
    if (trimmed(branches.substr(i, open - i)) == name) return branches.substr(open + 1, close - open - 1);
    i = close + 1;
  }
  return {};
}

std::string fill(std::string_view message, std::span<const Argument> arguments, std::string_view counted);

// What stands between two braces, filled.
std::string filled(std::string_view body, std::span<const Argument> arguments) {
  const size_t comma = body.find(',');
  const std::string_view value = value_of(arguments, trimmed(body.substr(0, comma)));
  if (comma == std::string_view::npos) return std::string(value);
  const size_t second = body.find(',', comma + 1);
  const std::string_view kind = trimmed(body.substr(comma + 1, second - comma - 1)), branches = body.substr(second + 1);
  std::string_view chosen;
  if (kind == "plural") {
    chosen = branch(branches, "=" + std::string(value));
    if (!chosen.data()) chosen = branch(branches, plural_class(say("language.tag"), value));
  } else {
    chosen = branch(branches, value);
  }
  if (!chosen.data()) chosen = branch(branches, "other");
  return fill(chosen, arguments, kind == "plural" ? value : "#");
}

std::string fill(std::string_view message, std::span<const Argument> arguments, std::string_view counted) {
  std::string out;
  for (size_t i = 0; i < message.size(); ++i) {
    if (message[i] == '{') {
      const size_t close = closing(message, i);
      out += filled(message.substr(i + 1, close - i - 1), arguments);
      i = close;
    } else if (message[i] == '#') {
      out += counted;
    } else {
      out += message[i];
    }
  }
  return out;
}

std::string in_the_language(std::string number) {
  const std::string_view sign = say("number.decimal");
  const size_t point = number.find('.');
  return point == std::string::npos || sign == "." ? number : number.replace(point, 1, sign);
}

// "4k7", "100n", "2µ2": the prefix stands where the point was. Empty for a unit that IEC 60062 has no code for, or without a
// reading.
std::string code_of(double value, std::string_view unit) {
  if (std::isnan(value) || (unit != "Ω" && unit != "F" && unit != "H")) return {};
  if (unit == "Ω") return letter_code(value);
  std::string number = engineering(value, unit);
  const size_t gap = number.find(' ');
  const std::string prefix = number.substr(gap + 1, number.size() - gap - 1 - unit.size());
  number.resize(gap);
  const size_t point = number.find('.');
  if (prefix.empty()) return {};
  return point == std::string::npos ? number + prefix : number.replace(point, 1, prefix);
}

}  // namespace

bool has_words(std::string_view key) { return find(key) != nullptr; }

std::string_view say(std::string_view key) {
  const WordsEntry* entry = find(key);
  return entry ? entry->message : key;
}

std::string say(std::string_view key, std::span<const Argument> arguments) { return fill(say(key), arguments, "#"); }

std::string say(std::string_view key, std::initializer_list<Argument> arguments) {
  return say(key, std::span<const Argument>(arguments.begin(), arguments.size()));
}

std::string said_in_language(std::string_view english) {
  return say("language.tag").substr(0, 2) == "en" ? std::string(english) : look_up_phrase(english);
}

std::string_view plural_class(std::string_view language, std::string_view number) {
  if (number == "1") return "one";
  if (language == "he" && number == "2") return "two";
  return "other";
}

std::string say_quantity(double value, std::string_view unit, int digits) {
  return std::isnan(value) ? std::string(say("state.no-reading")) : in_the_language(engineering(value, unit, digits));
}

std::string say_decimal(double value, int digits) { return in_the_language(decimal(value, digits)); }

std::string say_marking(double value, std::string_view unit) {
  if (say("number.marking") == "letter") {
    const std::string code = code_of(value, unit);
    if (!code.empty()) return code;
  }
  return say_quantity(value, unit);
}

}  // namespace tiepoint
