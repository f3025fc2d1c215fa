// JSON text for the page: compact, numbers that are no number become null.
#pragma once

#include <cmath>
#include <string>
#include <string_view>

#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

namespace tiepoint {

class PageJson {
 public:
  PageJson() : writer_(buffer_) {}
  PageJson& object() { return writer_.StartObject(), *this; }
  PageJson& end_object() { return writer_.EndObject(), *this; }
  PageJson& array() { return writer_.StartArray(), *this; }
  PageJson& end_array() { return writer_.EndArray(), *this; }
  PageJson& key(std::string_view name) {
    writer_.Key(name.data(), static_cast<rapidjson::SizeType>(name.size()));
    return *this;
  }
  PageJson& value(std::string_view text) {
    writer_.String(text.data(), static_cast<rapidjson::SizeType>(text.size()));
    return *this;
  }
  PageJson& value(const char* text) { return value(std::string_view(text)); }
  PageJson& value(const std::string& text) { return value(std::string_view(text)); }
  PageJson& value(double number) {
    std::isfinite(number) ? writer_.Double(number) : writer_.Null();
    return *this;
  }
  PageJson& value(int number) { return writer_.Int(number), *this; }
  PageJson& value(uint64_t number) { return writer_.Uint64(number), *this; }
  PageJson& value(bool truth) { return writer_.Bool(truth), *this; }
  PageJson& null() { return writer_.Null(), *this; }
  // Text that is JSON already.
  PageJson& raw(std::string_view json) {
    writer_.RawValue(json.data(), json.size(), rapidjson::kObjectType);
    return *this;
  }
  template <class T>
  PageJson& member(std::string_view name, const T& content) {
    key(name);
    return value(content);
  }
  std::string text() const { return {buffer_.GetString(), buffer_.GetSize()}; }

 private:
  rapidjson::StringBuffer buffer_;
  rapidjson::Writer<rapidjson::StringBuffer> writer_;
};

}  // namespace tiepoint
