#include "engine/file/json_node.h"

#include <rapidjson/document.h>
#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <cmath>
#include <cstdint>

#include "engine/board/words.h"
#include "engine/file/json.h"

namespace tiepoint {
namespace {

const rapidjson::Value& value_at(const void* value) { return *static_cast<const rapidjson::Value*>(value); }
std::string_view view(const rapidjson::Value& text) { return {text.GetString(), text.GetStringLength()}; }

std::string_view type_word(JsonNode::Type type) {
  switch (type) {
    case JsonNode::Type::kNull:
      return "null";
    case JsonNode::Type::kBool:
      return "true or false";
    case JsonNode::Type::kNumber:
      return "a number";
    case JsonNode::Type::kText:
      return "a text";
    case JsonNode::Type::kList:
      return "a list";
    case JsonNode::Type::kObject:
      return "an object";
  }
  return "";
}

std::string_view syntax_words(rapidjson::ParseErrorCode code) {
  switch (code) {
    case rapidjson::kParseErrorDocumentEmpty:
      return "the text is empty";
    case rapidjson::kParseErrorDocumentRootNotSingular:
      return "something follows after the end";
    case rapidjson::kParseErrorValueInvalid:
      return "a value is missing or misspelt here";
    case rapidjson::kParseErrorObjectMissName:
      return "the name of an entry in quotation marks is missing here";
    case rapidjson::kParseErrorObjectMissColon:
      return "a colon is missing after the name of an entry";
    case rapidjson::kParseErrorObjectMissCommaOrCurlyBracket:
      return "a comma or } is missing here";
    case rapidjson::kParseErrorArrayMissCommaOrSquareBracket:
      return "a comma or ] is missing here";
    case rapidjson::kParseErrorStringUnicodeEscapeInvalidHex:
    case rapidjson::kParseErrorStringUnicodeSurrogateInvalid:
    case rapidjson::kParseErrorStringEscapeInvalid:
      return "a text has an escape that means nothing";
    case rapidjson::kParseErrorStringMissQuotationMark:
      return "a closing quotation mark is missing";
    case rapidjson::kParseErrorStringInvalidEncoding:
      return "a text is not valid UTF-8";
    case rapidjson::kParseErrorNumberTooBig:
      return "a number is too large";
    case rapidjson::kParseErrorNumberMissFraction:
      return "digits are missing after the decimal point";
    case rapidjson::kParseErrorNumberMissExponent:
      return "digits are missing in the exponent";
    default:
      return "it breaks off or makes no sense here";
  }
}

Error syntax_error(std::string_view text, size_t offset, std::string_view words) {
  Error error{.code = Code::kBadJson, .found = std::string(words), .line = 1, .column = 1};
  for (size_t i = 0; i < offset && i < text.size(); ++i) {
    if (text[i] == '\n') {
      ++error.line;
      error.column = 1;
    } else if ((static_cast<uint8_t>(text[i]) & 0xC0) != 0x80) {  // characters, not bytes
      ++error.column;
    }
  }
  return error;
}

}  // namespace

struct JsonText::State {
  rapidjson::Document document;
};

JsonText::JsonText(std::unique_ptr<const State> state) : state_(std::move(state)) {}
JsonText::JsonText(JsonText&&) noexcept = default;
JsonText& JsonText::operator=(JsonText&&) noexcept = default;
JsonText::~JsonText() = default;

Result<JsonText> JsonText::parse(std::string_view text) {
  if (text.size() > kLargestFile) {
    constexpr size_t kMega = 1u << 20;
    return Error{.code = Code::kTooLarge,
                 .found = std::to_string((text.size() + kMega - 1) / kMega) + " MiB",
                 .expected = std::to_string(kLargestFile / kMega) + " MiB"};
  }
  // A byte order mark is none of JSON's characters, but some editors leave one.
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  // RapidJSON takes a NUL for the end of the text.
  if (const size_t nul = text.find('\0'); nul != std::string_view::npos) return syntax_error(text, nul, "there is a NUL byte");
  auto state = std::make_unique<State>();
  constexpr unsigned kFlags =
      rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag | rapidjson::kParseValidateEncodingFlag;
  state->document.Parse<kFlags>(text.data(), text.size());
  if (state->document.HasParseError())
    return syntax_error(text, state->document.GetErrorOffset(), syntax_words(state->document.GetParseError()));
  return JsonText(std::move(state));
}

JsonNode JsonText::root() const { return JsonNode(static_cast<const rapidjson::Value*>(&state_->document), ""); }

JsonNode::Type JsonNode::type() const {
  switch (value_at(value_).GetType()) {
    case rapidjson::kNullType:
      return Type::kNull;
    case rapidjson::kFalseType:
    case rapidjson::kTrueType:
      return Type::kBool;
    case rapidjson::kNumberType:
      return Type::kNumber;
    case rapidjson::kStringType:
      return Type::kText;
    case rapidjson::kArrayType:
      return Type::kList;
    case rapidjson::kObjectType:
      return Type::kObject;
  }
  return Type::kNull;
}

size_t JsonNode::size() const {
  const rapidjson::Value& value = value_at(value_);
  return value.IsArray() ? value.Size() : value.IsObject() ? value.MemberCount() : 0;
}

JsonNode JsonNode::item(size_t index) const {
  return {&value_at(value_)[static_cast<rapidjson::SizeType>(index)], pointer_ + "/" + std::to_string(index)};
}

std::string_view JsonNode::key(size_t index) const {
  return view((value_at(value_).MemberBegin() + static_cast<std::ptrdiff_t>(index))->name);
}

JsonNode JsonNode::member(size_t index) const {
  const auto member = value_at(value_).MemberBegin() + static_cast<std::ptrdiff_t>(index);
  return {&member->value, pointer_to(pointer_, view(member->name))};
}

std::optional<JsonNode> JsonNode::find(std::string_view wanted) const {
  if (!is(Type::kObject)) return std::nullopt;
  for (size_t i = 0; i < size(); ++i)
    if (key(i) == wanted) return member(i);
  return std::nullopt;
}

bool JsonNode::boolean() const { return value_at(value_).GetBool(); }
double JsonNode::number() const { return value_at(value_).GetDouble(); }
std::string_view JsonNode::text() const { return view(value_at(value_)); }

Error at(const JsonNode& node, Error error) {
  error.pointer = node.pointer();
  return error;
}

Error wrong_type(const JsonNode& node, std::string_view expected) {
  return at(node, {.code = Code::kWrongType, .found = std::string(type_word(node.type())), .expected = std::string(expected)});
}

Status expect_object(const JsonNode& node) {
  if (node.is(JsonNode::Type::kObject)) return done();
  return wrong_type(node, type_word(JsonNode::Type::kObject));
}

Status expect_list(const JsonNode& node) {
  if (node.is(JsonNode::Type::kList)) return done();
  return wrong_type(node, type_word(JsonNode::Type::kList));
}

Result<double> read_number(const JsonNode& node) {
  if (node.is(JsonNode::Type::kNumber)) return node.number();
  return wrong_type(node, type_word(JsonNode::Type::kNumber));
}

Result<std::string> read_text(const JsonNode& node) {
  if (node.is(JsonNode::Type::kText)) return std::string(node.text());
  return wrong_type(node, type_word(JsonNode::Type::kText));
}

Result<bool> read_bool(const JsonNode& node) {
  if (node.is(JsonNode::Type::kBool)) return node.boolean();
  return wrong_type(node, type_word(JsonNode::Type::kBool));
}

Result<int> read_whole(const JsonNode& node, int minimum, int maximum) {
  const Result<double> number = read_number(node);
  if (!number) return number.error();
  if (*number >= minimum && *number <= maximum && *number == std::floor(*number)) return static_cast<int>(*number);
  return at(node, {.code = Code::kBadValue,
                   .found = number_text(*number),
                   .expected = "a whole number from " + std::to_string(minimum) + " to " + std::to_string(maximum)});
}

Result<JsonNode> need(const JsonNode& node, std::string_view key) {
  if (const Status status = expect_object(node); !status) return status.error();
  if (std::optional<JsonNode> found = node.find(key)) return *std::move(found);
  return at(node, {.code = Code::kMissingKey, .expected = in_quotes(key)});
}

Status check_keys(const JsonNode& node, std::initializer_list<std::string_view> known) {
  if (const Status status = expect_object(node); !status) return status;
  // Stops at the first repeated key, so at most known.size() + 1 entries are ever compared.
  for (size_t i = 0; i < node.size(); ++i) {
    const std::string_view key = node.key(i);
    bool is_known = false;
    std::string words;
    for (const std::string_view one : known) {
      is_known = is_known || (!one.empty() && one == key);
      if (!one.empty()) words += (words.empty() ? "" : ", ") + std::string(one);
    }
    if (!is_known) return at(node.member(i), {.code = Code::kUnknownKey, .found = in_quotes(key), .expected = words});
    for (size_t j = 0; j < i; ++j)
      if (node.key(j) == key)
        return at(node.member(i), {.code = Code::kBadJson, .found = "the entry " + in_quotes(key) + " comes twice"});
  }
  return done();
}

std::string pointer_to(const std::string& pointer, std::string_view key) {
  // RFC 6901: ~ is written ~0 and / is written ~1. A key of a megabyte is not repeated in a message.
  constexpr size_t kLongest = 60;
  std::string out = pointer + "/";
  for (const char c : key.substr(0, kLongest)) out += c == '~' ? "~0" : c == '/' ? "~1" : std::string(1, c);
  if (key.size() > kLongest) {
    while (!is_utf8(out)) out.pop_back();  // the cut may have gone through a character
    out += "…";
  }
  return out;
}

std::string json_text(std::string_view text) {
  rapidjson::StringBuffer buffer;
  rapidjson::Writer<rapidjson::StringBuffer> writer(buffer);
  writer.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
  return {buffer.GetString(), buffer.GetSize()};
}

std::string json_number(double value) {
  constexpr double kWholeLimit = 1e15;  // whole numbers up to here are written without ".0"
  if (!std::isfinite(value)) return "null";
  if (value == std::floor(value) && std::abs(value) < kWholeLimit) return std::to_string(static_cast<int64_t>(value));
  rapidjson::StringBuffer buffer;
  rapidjson::Writer<rapidjson::StringBuffer> writer(buffer);
  writer.Double(value);
  return {buffer.GetString(), buffer.GetSize()};
}

}  // namespace tiepoint
