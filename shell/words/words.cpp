#include "shell/words/words.h"

#include "shell/words/table.h"

namespace tiepoint {
namespace {

const WordsEntry* find(std::string_view key) { return find_entry(words_table(), key); }

std::string_view value_of(std::initializer_list<Argument> arguments, std::string_view name) {
  for (const Argument& argument : arguments)
    if (argument.name == name) return argument.value;
  return {};
}

}  // namespace

bool has_words(std::string_view key) { return find(key) != nullptr; }

std::string_view say(std::string_view key) {
  const WordsEntry* entry = find(key);
  return entry ? entry->message : key;
}

std::string say(std::string_view key, std::initializer_list<Argument> arguments) {
  const std::string_view message = say(key);
  std::string out;
  for (size_t i = 0; i < message.size();) {
    const size_t close = message[i] == '{' ? message.find('}', i) : std::string_view::npos;
    if (close == std::string_view::npos) {
      out += message[i++];
      continue;
    }
    out += value_of(arguments, message.substr(i + 1, close - i - 1));
    i = close + 1;
  }
  return out;
}

}  // namespace tiepoint
