// Reading and writing JSON text for the files of this folder; RapidJSON stays behind json_node.cpp.
// A JsonNode is one value of a parsed text that knows its own JSON pointer (RFC 6901), so that every error has a place.
#pragma once

#include <initializer_list>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "engine/error.h"

namespace tiepoint {

class JsonNode {  // valid as long as its JsonText
 public:
  enum class Type : unsigned char { kNull, kBool, kNumber, kText, kList, kObject };

  JsonNode(const void* value, std::string pointer) : value_(value), pointer_(std::move(pointer)) {}

  Type type() const;
  bool is(Type wanted) const { return type() == wanted; }
  const std::string& pointer() const { return pointer_; }  // "" for the root
  size_t size() const;                                     // entries of a list or an object, else 0
  JsonNode item(size_t index) const;                       // of a list
  std::string_view key(size_t index) const;                // of an object
  JsonNode member(size_t index) const;
  std::optional<JsonNode> find(std::string_view key) const;  // none for anything but an object
  bool boolean() const;                                      // each asks for a node of that type
  double number() const;
  std::string_view text() const;

 private:
  const void* value_;
  std::string pointer_;
};

// A whole JSON text, parsed. Errors: kTooLarge before anything is read, kBadJson with line and column.
class JsonText {
 public:
  static Result<JsonText> parse(std::string_view text);
  JsonText(JsonText&&) noexcept;
  JsonText& operator=(JsonText&&) noexcept;
  ~JsonText();
  JsonNode root() const;

 private:
  struct State;
  explicit JsonText(std::unique_ptr<const State> state);
  std::unique_ptr<const State> state_;
};

// An error about one node.
Error at(const JsonNode& node, Error error);
Error wrong_type(const JsonNode& node, std::string_view expected);

Status expect_object(const JsonNode& node);
Status expect_list(const JsonNode& node);
Result<double> read_number(const JsonNode& node);
Result<std::string> read_text(const JsonNode& node);
Result<bool> read_bool(const JsonNode& node);
Result<int> read_whole(const JsonNode& node, int minimum, int maximum);
// The entry of an object; errors: kMissingKey.
Result<JsonNode> need(const JsonNode& node, std::string_view key);
// Every key is one of these, and none comes twice; "" is skipped. Errors: kUnknownKey, kBadJson.
Status check_keys(const JsonNode& node, std::initializer_list<std::string_view> known);

// One step further down a JSON pointer, escaped.
std::string pointer_to(const std::string& pointer, std::string_view key);

// As JSON: "quoted \"text\"", and a number by as few digits as read back the same number (RapidJSON's
// Grisu2: always the same number, nearly always the fewest digits).
std::string json_text(std::string_view text);
std::string json_number(double value);

}  // namespace tiepoint
