#include "shell/bench/page_size.h"

#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/logic/sizing.h"
#include "engine/logic/values.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/bench/page_request.h"
#include "shell/words/value_words.h"

namespace tiepoint {
namespace {

using namespace page;

constexpr std::array kLedFields = {ValueField{"supply", "V", 5}, ValueField{"current", "A", 0.01}};
constexpr double kWritten = 1e12;  // a standard value that is as good as none is left blank

void write_question(PageJson& out, std::string_view key, std::span<const ValueField> fields) {
  out.object().member("key", key).key("fields").array();
  for (const ValueField& field : fields) {
    const bool blank = std::isnan(field.standard) || field.standard > kWritten;
    const std::string standard = blank                ? ""
                                 : field.unit.empty() ? decimal(field.standard, 3)
                                                      : engineering(field.standard, field.unit);
    out.object()
        .member("key", field.key)
        .member("unit", field.unit)
        .member("standard", standard)
        .member("must", std::isnan(field.standard))
        .end_object();
  }
  out.end_array();
  if (key == "led") {
    const PartKind* led = catalogue().find("led");
    out.key("colours").array();
    for (const std::string_view colour : led->values[size_t(value_index(*led, "colour"))].options) out.value(colour);
    out.end_array();
  }
  out.end_object();
}

Result<std::vector<double>> read_given(const Json& request, std::span<const ValueField> fields) {
  const Json* given = find(request, "given");
  if (!given || !given->IsObject()) return wrong_type("given", "an object");
  std::vector<double> values;
  for (const ValueField& field : fields) {
    const Result<std::string> text = optional_text(*given, std::string(field.key).c_str());
    if (!text) return text.error();
    const std::string_view written = trimmed(*text);
    const std::optional<double> value = written.empty() ? field.standard : read_marking(written, field.unit);
    if (!value)
      return Error{.code = Code::kBadValue,
                   .found = "\"" + text->substr(0, 40) + "\"",
                   .expected = "a value such as 4k7, 10 mA or 100 nF",
                   .pointer = "/given/" + std::string(field.key)};
    values.push_back(*value);
  }
  return values;
}

void write_row(PageJson& out, const std::string& words, bool nearest) {
  out.object().member("text", words).member("nearest", nearest).end_object();
}

Status size_led(const Json& request, int series, PageJson& out) {
  const Result<std::vector<double>> given = read_given(request, kLedFields);
  const Result<std::string> colour = optional_text(request, "colour");
  if (!given) return given.error();
  if (!colour) return colour.error();
  Part led = make_part(*catalogue().find("led"));
  const int index = value_index(*led.kind, "colour");
  if (!colour->empty()) {
    const auto& options = led.kind->values[size_t(index)].options;
    size_t at = 0;
    while (at < options.size() && options[at] != *colour) ++at;
    if (at == options.size())
      return Error{.code = Code::kBadValue,
                   .found = "\"" + colour->substr(0, 40) + "\"",
                   .expected = "a colour of the LED",
                   .pointer = "/colour"};
    led.values[size_t(index)] = double(at);
  }
  const SizingRequest sizing_request{.supply = (*given)[0], .current = (*given)[1], .series = series, .part = &led};
  const Result<Sizing> sizing = size_resistor(sizing_request);
  if (!sizing) return sizing.error();
  out.member("formula", formula_words(sizing_request, *sizing)).key("rows").array();
  for (size_t k = 0; k < sizing->members.size(); ++k) write_row(out, row_words(sizing->members[k]), int(k) == sizing->nearest);
  out.end_array();
  return done();
}

}  // namespace

Status size_command(const rapidjson::Value& request, PageJson& out) {
  const Result<std::string> of = optional_text(request, "of");
  const Result<double> series = number_of(request, "series", 12);
  if (!of) return of.error();
  if (!series) return series.error();
  if (of->empty()) {
    out.key("questions").array();
    write_question(out, "led", kLedFields);
    for (const ValueQuestion& question : value_questions()) write_question(out, question.key, question.fields);
    out.end_array();
    return done();
  }
  const int members = *series >= 1 && *series <= 192 ? int(*series) : 0;
  if (*of == "led") return size_led(request, members, out);
  const ValueQuestion* question = find_value_question(*of);
  if (!question)
    return Error{.code = Code::kBadValue,
                 .found = "\"" + of->substr(0, 40) + "\"",
                 .expected = "led, divider, rc, rc-capacitor, timer or base",
                 .pointer = "/of"};
  const Result<std::vector<double>> given = read_given(request, question->fields);
  if (!given) return given.error();
  const Result<ValueAnswer> answer = answer_value(*question, *given, members);
  if (!answer) {
    Error error = answer.error();
    if (!error.pointer.empty()) error.pointer = "/given" + error.pointer;
    return error;
  }
  out.member("formula", formula_words(*question, *given, *answer)).key("rows").array();
  for (size_t k = 0; k < answer->members.size(); ++k)
    write_row(out, row_words(*question, answer->members[k]), int(k) == answer->nearest);
  out.end_array();
  return done();
}

}  // namespace tiepoint
