#include "shell/bench/page_request.h"

#include <rapidjson/stringbuffer.h>
#include <rapidjson/writer.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/parts/marking.h"
#include "shell/words/words.h"

namespace tiepoint::page {

std::string_view view(const Json& text) { return {text.GetString(), text.GetStringLength()}; }

Error wrong_type(std::string_view name, std::string_view expected) {
  return {.code = Code::kWrongType,
          .found = "something else",
          .expected = std::string(expected),
          .pointer = "/" + std::string(name)};
}

Error missing(std::string_view name) {
  return {.code = Code::kMissingKey, .expected = "\"" + std::string(name) + "\"", .pointer = "/" + std::string(name)};
}

const Json* find(const Json& object, const char* name) {
  const auto at = object.FindMember(name);
  return at == object.MemberEnd() ? nullptr : &at->value;
}

Result<std::string> text_of(const Json& object, const char* name) {
  const Json* value = find(object, name);
  if (!value) return missing(name);
  if (!value->IsString()) return wrong_type(name, "a text");
  return std::string(view(*value));
}

Result<std::string> optional_text(const Json& object, const char* name) {
  const Json* value = find(object, name);
  return !value || value->IsNull() ? Result<std::string>(std::string()) : text_of(object, name);
}

Result<double> number_of(const Json& object, const char* name) {
  const Json* value = find(object, name);
  if (!value) return missing(name);
  if (!value->IsNumber() || !std::isfinite(value->GetDouble())) return wrong_type(name, "a number");
  return value->GetDouble();
}

Result<double> number_of(const Json& object, const char* name, double otherwise) {
  return find(object, name) ? number_of(object, name) : otherwise;
}

Result<bool> truth_of(const Json& object, const char* name, bool otherwise) {
  const Json* value = find(object, name);
  if (!value) return otherwise;
  if (!value->IsBool()) return wrong_type(name, "true or false");
  return value->GetBool();
}

Status take_option(const Json& object, const char* name, bool& option) {
  const Result<bool> wanted = truth_of(object, name, option);
  if (!wanted) return wanted.error();
  option = *wanted;
  return done();
}

std::string text_of_json(const Json& json) {
  rapidjson::StringBuffer buffer;
  rapidjson::Writer<rapidjson::StringBuffer> writer(buffer);
  json.Accept(writer);
  return {buffer.GetString(), buffer.GetSize()};
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

namespace {

bool same_letters(std::string_view a, std::string_view b) {
  const auto low = [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; };
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [&](char x, char y) { return low(x) == low(y); });
}

std::string words_of(std::span<const std::string_view> options) {
  std::string out;
  for (const std::string_view option : options) out += (out.empty() ? "" : ", ") + std::string(option);
  return out;
}

Error bad_value(const ValueSpec& spec, std::string_view found) {
  std::string expected = spec.options.empty()
                             ? say("lesson.window.between", {{"least", say_marking(spec.minimum, spec.unit)}, {"most", say_marking(spec.maximum, spec.unit)}})
                             : "one of " + words_of(spec.options);
  return {.code = Code::kBadValue, .found = "\"" + std::string(found.substr(0, 60)) + "\"", .expected = std::move(expected)};
}

Result<double> read_value(const ValueSpec& spec, std::string_view written) {
  const std::string_view text = trimmed(written);
  for (size_t i = 0; i < spec.options.size(); ++i)
    if (same_letters(spec.options[i], text)) return double(i);
  if (!spec.options.empty()) return bad_value(spec, written);
  const std::optional<double> value = read_marking(text, spec.unit);
  if (!value) return bad_value(spec, written);
  return *value;
}

}  // namespace

Result<double> read_value(const ValueSpec& spec, const Json& json) {
  if (json.IsString()) return read_value(spec, view(json));
  if (json.IsNumber() && std::isfinite(json.GetDouble())) return json.GetDouble();
  return bad_value(spec, "something else");
}

Error unknown_value(const PartKind& kind, std::string_view part, std::string_view found) {
  std::string expected;
  for (const ValueSpec& spec : kind.values) expected += (expected.empty() ? "" : ", ") + std::string(spec.key);
  return {.code = Code::kUnknownValue, .part = std::string(part), .found = std::string(found), .expected = std::move(expected)};
}

Status read_values(const Json& request, std::string_view name, Part& part) {
  const Json* values = find(request, "values");
  if (!values) return done();
  if (!values->IsObject()) return wrong_type("values", "an object");
  for (const auto& member : values->GetObject()) {
    const int index = value_index(*part.kind, view(member.name));
    if (index < 0) return unknown_value(*part.kind, name, view(member.name));
    const Result<double> value = read_value(part.kind->values[size_t(index)], member.value);
    if (!value) return value.error();
    if (const Status status = check_value(*part.kind, index, *value); !status) return status;
    part.values[size_t(index)] = *value;
  }
  return done();
}

Result<std::vector<Hole>> read_holes(const Json& request, const Board& board, const PartKind& kind, std::string_view part) {
  const Json* list = find(request, "holes");
  if (!list) return missing("holes");
  if (!list->IsArray()) return wrong_type("holes", "a list of holes");
  const size_t most = kind.footprint.seat == Seat::kRigid ? 1 : kind.leads.size();
  std::vector<Hole> holes(kind.leads.size());
  if (list->Size() > kind.leads.size())
    return Error{.code = Code::kTooMany,
                 .part = std::string(part),
                 .found = std::to_string(list->Size()) + " holes",
                 .expected = std::to_string(most)};
  for (size_t lead = 0; lead < most; ++lead) {
    const std::string lead_name(kind.leads[lead].name);
    const bool given = lead < list->Size();
    if (given && !(*list)[rapidjson::SizeType(lead)].IsString())
      return wrong_type("holes/" + std::to_string(lead), "the name of a hole");
    const std::string_view name = given ? trimmed(view((*list)[rapidjson::SizeType(lead)])) : std::string_view();
    if (name.empty() && kind.footprint.seat == Seat::kMat) continue;
    if (name.empty())
      return Error{
          .code = Code::kMissingKey, .part = std::string(part), .lead = lead_name, .expected = "hole for lead " + lead_name};
    const Result<Hole> hole = board.hole(name);
    if (!hole) {
      Error error = hole.error();
      error.part = part;
      error.lead = lead_name;
      return error;
    }
    holes[lead] = *hole;
  }
  return holes;
}

}  // namespace tiepoint::page
