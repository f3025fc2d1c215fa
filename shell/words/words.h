// Words: the message catalogue for everything a person reads. One source for bench, page and terminal: en.json beside this file,
// a flat list of "key": "message with {arguments}", made into a table when the program is built (words.cmake).
// The page reads the same file itself, for it also needs the plural forms.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

namespace tiepoint {

// The message of a key; the key itself when there is none, so that a missing word shows instead of hiding.
std::string_view say(std::string_view key);
bool has_words(std::string_view key);

struct Argument {
  std::string_view name;
  std::string_view value;
};
// The message with every {name} replaced; arguments that are not given print as nothing.
std::string say(std::string_view key, std::initializer_list<Argument> arguments);

}  // namespace tiepoint
