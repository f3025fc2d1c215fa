#include "shell/cli/command.h"

#include <cstdio>
#include <cstdlib>

#include "engine/file/json.h"
#include "engine/parts/marking.h"
#include "shell/cli/json_out.h"

namespace tiepoint::cli {

Result<std::string> read_file(const std::string& path) {
  std::FILE* file = path == "-" ? stdin : std::fopen(path.c_str(), "rb");
  if (!file) return Error{.code = Code::kFileAccess, .found = path};
  std::string text;
  char block[65536];
  size_t got = 0;
  bool too_large = false;
  while ((got = std::fread(block, 1, sizeof block, file)) > 0 && !too_large) {
    text.append(block, got);
    too_large = text.size() > kLargestFile;
  }
  const bool failed = std::ferror(file) != 0;
  if (file != stdin) std::fclose(file);
  if (failed) return Error{.code = Code::kFileAccess, .found = path};
  if (too_large)
    return Error{.code = Code::kTooLarge, .found = "larger", .expected = std::to_string(kLargestFile >> 20) + " MiB"};
  return text;
}

Error usage_error(std::string found, std::string expected) {
  return {.code = Code::kUsage, .found = std::move(found), .expected = std::move(expected)};
}

int fail(const std::string& file, const Error& error, bool json) {
  if (json) {
    JsonOut out;
    out.begin_object();
    if (!file.empty()) out.member("file", file);
    out.key("error");
    out.begin_object();
    out.member("code", key(error.code));
    out.member("text", text(error));
    if (!error.pointer.empty()) out.member("pointer", error.pointer);
    if (error.line > 0) out.member("line", error.line);
    if (error.column > 0) out.member("column", error.column);
    if (!error.part.empty()) out.member("part", error.part);
    if (!error.lead.empty()) out.member("lead", error.lead);
    if (!error.hole.empty()) out.member("hole", error.hole);
    out.end_object();
    out.end_object();
    std::puts(out.text().c_str());
  }
  std::fprintf(stderr, "tiepoint: %s%s%s\n", file.c_str(), file.empty() ? "" : ": ", text(error).c_str());
  return 2;
}

Result<double> read_quantity(std::string_view text, std::string_view unit) {
  std::string_view number = text;
  if (!unit.empty() && number.ends_with(unit)) number.remove_suffix(unit.size());
  const std::optional<double> value = parse_value(number);
  if (value && *value >= 0) return *value;
  return Error{.code = Code::kUsage, .found = "'" + std::string(text) + "' is no value", .expected = "a number like 0.5" + std::string(unit)};
}

namespace {

Error bad_position(const Part& part, std::string_view word, std::string_view expected) {
  return Error{.code = Code::kBadValue, .part = part.name, .found = "'" + std::string(word) + "'", .expected = std::string(expected)};
}

// The words a switch-like value answers to; -1 when the word is none of them.
int position_word(const ValueSpec& spec, std::string_view word) {
  for (size_t i = 0; i < spec.options.size(); ++i)
    if (spec.options[i] == word) return static_cast<int>(i);
  if (word == "down" || word == "on" || word == "1" || word == "pressed") return 1;
  if (word == "up" || word == "off" || word == "0" || word == "released") return 0;
  if (const std::optional<double> number = parse_value(word)) return static_cast<int>(*number);
  return -1;
}

Result<Edit> switch_edit(const Part& part, std::string_view word) {
  for (const ValueSpec& spec : part.kind->values) {
    if (spec.use == Use::kValue) continue;
    const int position = position_word(spec, word);
    if (position < 0 || position > spec.maximum)
      return bad_position(part, word, spec.use == Use::kMomentary ? "down or up" : spec.key == "on" ? "on or off" : "a position");
    if (spec.use == Use::kMomentary) return Edit{PressPart{part.name, position != 0}};
    if (spec.key == "on") return Edit{SwitchSupply{part.name, position != 0}};
    return Edit{SlidePart{part.name, position}};
  }
  return Error{.code = Code::kNotASwitch, .part = part.name};
}

Result<Edit> value_edit(const Part& part, std::string_view value_key, std::string_view word) {
  const int index = value_index(*part.kind, value_key);
  if (index < 0) {
    std::string known;
    for (const ValueSpec& spec : part.kind->values) known += (known.empty() ? "" : ", ") + std::string(spec.key);
    return Error{.code = Code::kUnknownValue, .part = part.name, .found = std::string(value_key), .expected = known};
  }
  const ValueSpec& spec = part.kind->values[index];
  for (size_t i = 0; i < spec.options.size(); ++i)
    if (spec.options[i] == word) return Edit{SetValue{part.name, std::string(value_key), static_cast<double>(i)}};
  const std::optional<double> number = spec.options.empty() ? read_marking(word, spec.unit) : std::nullopt;
  if (!number) return bad_position(part, word, spec.options.empty() ? "a number" : "one of its options");
  return Edit{SetValue{part.name, std::string(value_key), *number}};
}

}  // namespace

Result<Setting> read_setting(std::string_view word, const Board& board) {
  const size_t equals = word.find('=');
  if (equals == std::string_view::npos || equals == 0)
    return Error{.code = Code::kUsage, .found = "'" + std::string(word) + "' is no setting", .expected = "a form like S1=down"};
  std::string_view name = word.substr(0, equals), value_word = word.substr(equals + 1), value_key;
  Setting setting{Edit{SetTitle{}}};
  if (const size_t at = value_word.find('@'); at != std::string_view::npos) {
    const Result<double> time = read_quantity(value_word.substr(at + 1), "s");
    if (!time) return time.error();
    setting.time = *time;
    setting.timed = true;
    value_word = value_word.substr(0, at);
  }
  const Part* part = board.find(name);
  if (const size_t dot = name.rfind('.'); !part && dot != std::string_view::npos) {
    value_key = name.substr(dot + 1);
    name = name.substr(0, dot);
    part = board.find(name);
  }
  if (!part) return Error{.code = Code::kUnknownPart, .part = std::string(name)};
  Result<Edit> edit = value_key.empty() ? switch_edit(*part, value_word) : value_edit(*part, value_key, value_word);
  if (!edit) return edit.error();
  setting.edit = std::move(edit).value();
  return setting;
}

}  // namespace tiepoint::cli
