// Words: the message catalogue for everything a person reads. One source for bench, page and terminal: en.json beside this file
// and one file for each other language, a flat list of "key": "message with {arguments}", made into tables when the program is
// built (words.cmake). Messages are written as ICU MessageFormat, of which they use {name}, {n, plural, =0 {…} one {…} other
// {…}} and {x, select, a {…} other {…}}. The page reads the same files itself, and hands the bench the ones of its language.
#pragma once

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>

namespace tiepoint {

// The message of a key; the key itself when there is none, so that a missing word shows instead of hiding.
std::string_view say(std::string_view key);
bool has_words(std::string_view key);

struct Argument {
  std::string_view name;
  std::string_view value;
};
// The message with every argument in its place; arguments that are not given print as nothing.
std::string say(std::string_view key, std::initializer_list<Argument> arguments);
std::string say(std::string_view key, std::span<const Argument> arguments);

// What an error found or expected ("a1 to j30", "at most 400 parts"), in the language: the engine says it in English, and messages called
// "phrase." and the English words with {names} for what varies tell how another language says it. What no message fits stays as it is.
std::string said_in_language(std::string_view english);

// The plural class of a number as written, in a language, by the rules of CLDR (from memory; held against Intl by the tests): "one",
// "two", "other". A language that is not known counts as English does.
std::string_view plural_class(std::string_view language, std::string_view number);

// engineering() (engine/parts/marking.h) as the language writes it: its decimal sign, its word where there is no reading.
std::string say_quantity(double value, std::string_view unit, int digits = 3);
// decimal() (engine/parts/marking.h), likewise.
std::string say_decimal(double value, int digits = 3);
// The same for a value as it is marked on a part: "4.7 kΩ", or "4k7" when the catalogue asks for the letter code of IEC 60062.
std::string say_marking(double value, std::string_view unit);

}  // namespace tiepoint
