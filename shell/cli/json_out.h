// JSON out: numbers with the fewest digits that read back the same; NaN and infinity become null.
#pragma once

#include <cmath>
#include <string>
#include <string_view>

#include <rapidjson/prettywriter.h>
#include <rapidjson/stringbuffer.h>

namespace tiepoint::cli {

class JsonOut {
 public:
  JsonOut() : writer_(buffer_) { writer_.SetIndent(' ', 1); writer_.SetFormatOptions(rapidjson::kFormatSingleLineArray); }
  void begin_object() { writer_.StartObject(); }
  void end_object() { writer_.EndObject(); }
  void begin_array() { writer_.StartArray(); }
  void end_array() { writer_.EndArray(); }
  void key(std::string_view name) { writer_.Key(name.data(), static_cast<rapidjson::SizeType>(name.size())); }
  void value(std::string_view text) { writer_.String(text.data(), static_cast<rapidjson::SizeType>(text.size())); }
  void value(double number) { std::isfinite(number) ? writer_.Double(number) : writer_.Null(); }
  void value(int number) { writer_.Int(number); }
  void value(long number) { writer_.Int64(number); }
  void value(bool truth) { writer_.Bool(truth); }
  void raw(std::string_view json) { writer_.RawValue(json.data(), json.size(), rapidjson::kObjectType); }  // JSON made elsewhere
  void value(const char* text) { value(std::string_view(text)); }
  template <class T>
  void member(std::string_view name, const T& content) {
    key(name);
    value(content);
  }
  std::string text() const { return buffer_.GetString(); }

 private:
  rapidjson::StringBuffer buffer_;
  rapidjson::PrettyWriter<rapidjson::StringBuffer> writer_;
};

}  // namespace tiepoint::cli
