// Defects, realism and the log of a fault hunt, in JSON.
#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <utility>

#include "engine/board/words.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

// The seal keeps honest eyes from it, no more: each byte is moved by a stream that starts from the part's name (FNV-1a), and
// written as two hexadecimal digits.
class Stream {
 public:
  explicit Stream(std::string_view name) {
    for (const char c : name) step(uint8_t(c));
  }
  uint8_t next() { return uint8_t(step(0x5A) >> 24); }

 private:
  uint32_t step(uint8_t byte) { return state_ = (state_ ^ byte) * 16777619u; }
  uint32_t state_ = 2166136261u;
};
constexpr std::string_view kDigits = "0123456789abcdef";

std::string seal(std::string_view text, std::string_view name) {
  Stream stream(name);
  std::string out;
  for (const char c : text) {
    const uint8_t byte = uint8_t(c) ^ stream.next();
    out += kDigits[byte >> 4], out += kDigits[byte & 15];
  }
  return out;
}

// Nothing where there are other characters than digits of a seal.
std::optional<std::string> unseal(std::string_view sealed, std::string_view name) {
  Stream stream(name);
  std::string text;
  for (size_t i = 0; i + 1 < sealed.size(); i += 2) {
    const size_t high = kDigits.find(sealed[i]), low = kDigits.find(sealed[i + 1]);
    if (high == kDigits.npos || low == kDigits.npos) return std::nullopt;
    text += char(uint8_t(high << 4 | low) ^ stream.next());
  }
  return text;
}

constexpr std::string_view kSealOfRails = "rails";

Status read_rails(std::string_view list, Crack crack, Breadboard& breadboard) {
  while (!list.empty()) {
    const size_t end = std::min(list.find(' '), list.size());
    const auto rail = std::find(kRailNames.begin(), kRailNames.end(), list.substr(0, end));
    if (rail == kRailNames.end()) return Error{.code = Code::kBadValue, .found = in_quotes(list.substr(0, end)), .expected = "top-, top+, bottom- or bottom+"};
    breadboard.cracks[size_t(rail - kRailNames.begin())] = crack;
    list.remove_prefix(std::min(end + 1, list.size()));
  }
  return done();
}

std::string rails_with(Crack crack, const Breadboard& breadboard) {
  std::string out;
  for (size_t rail = 0; rail < breadboard.cracks.size(); ++rail)
    if (breadboard.cracks[rail] == crack) out += (out.empty() ? "" : " ") + std::string(kRailNames[rail]);
  return out;
}

Result<int> read_lead(const JsonNode& node, const PartKind& kind) {
  const Result<std::string> name = read_text(node);
  if (!name) return name.error();
  if (const int lead = lead_index(kind, *name); lead >= 0) return lead;
  std::string names;
  for (const LeadSpec& one : kind.leads) names += (names.empty() ? "" : ", ") + std::string(one.name);
  return at(node, {.code = Code::kUnknownLead, .found = in_quotes(*name), .expected = names});
}

std::string kinds_of_defect() {
  std::string out;
#define X(id, word) out += (out.empty() ? "one of " : ", ") + std::string(word);
  TIEPOINT_DEFECTS(X)
#undef X
  return out;
}

}  // namespace

Result<Defect> read_defect(const JsonNode& node, const PartKind& kind) {
  if (const Status status = check_keys(node, {"kind", "lead", "other", "amount", "bore", "rating", "unit", "seconds"}); !status)
    return status.error();
  Defect defect;
  const Result<JsonNode> entry = need(node, "kind");
  if (!entry) return entry.error();
  const Result<std::string> word = read_text(*entry);
  if (!word) return word.error();
  if (!defect_of(*word, defect.kind))
    return at(*entry, {.code = Code::kBadValue, .found = in_quotes(*word), .expected = kinds_of_defect()});
  for (const auto& [name, lead] : {std::pair{"lead", &defect.lead}, std::pair{"other", &defect.other}})
    if (const std::optional<JsonNode> at = node.find(name)) {
      const Result<int> index = read_lead(*at, kind);
      if (!index) return index.error();
      *lead = *index;
    }
  for (const auto& [name, number] : {std::pair{"amount", &defect.amount}, std::pair{"bore", &defect.bore},
                                     std::pair{"rating", &defect.rating}, std::pair{"seconds", &defect.seconds}})
    if (const std::optional<JsonNode> at = node.find(name)) {
      const Result<double> value = read_number(*at);
      if (!value) return value.error();
      *number = *value;
    }
  if (const std::optional<JsonNode> unit = node.find("unit")) {
    const Result<std::string> letter = read_text(*unit);
    if (!letter) return letter.error();
    if (*letter != "W" && *letter != "A" && *letter != "V")
      return at(*unit, {.code = Code::kBadValue, .found = in_quotes(*letter), .expected = "W, A or V"});
    defect.unit = (*letter)[0];
  }
  return defect;
}

std::string write_defect(const PartKind& kind, const Defect& defect) {
  std::string out = "{\"kind\":" + json_text(key(defect.kind));
  const auto lead = [&](std::string_view name, int index, int standard) {
    if (index != standard && index >= 0 && index < int(kind.leads.size()))
      out += "," + json_text(name) + ":" + json_text(kind.leads[size_t(index)].name);
  };
  lead("lead", defect.lead, 0);
  lead("other", defect.other, 1);
  for (const auto& [name, value] : {std::pair{"amount", defect.amount}, std::pair{"bore", defect.bore},
                                    std::pair{"rating", defect.rating}, std::pair{"seconds", defect.seconds}})
    if (value != 0) out += "," + json_text(name) + ":" + json_number(value);
  if (defect.unit) out += ",\"unit\":" + json_text(std::string(1, defect.unit));
  return out + "}";
}

std::string seal_defect(const PartKind& kind, const Defect& defect, const std::string& part) {
  return seal(write_defect(kind, defect), part);
}

Result<Defect> read_sealed(const JsonNode& node, const PartKind& kind, const std::string& part) {
  const Result<std::string> sealed = read_text(node);
  if (!sealed) return sealed.error();
  const Error broken{.code = Code::kBadValue,
                     .part = part,
                     .found = in_quotes(*sealed),
                     .expected = "the seal that was written with this part's name"};
  const std::optional<std::string> text = unseal(*sealed, part);
  if (!text) return at(node, broken);
  const Result<JsonText> json = JsonText::parse(*text);
  if (!json) return at(node, broken);
  Result<Defect> defect = read_defect(json->root(), kind);
  if (!defect) return at(node, broken);
  Defect hidden = *defect;
  hidden.hidden = true;
  return hidden;
}

Status read_cracks(const JsonNode& node, Breadboard& breadboard) {
  for (const auto& [name, crack] : {std::pair{"cracked", Crack::kFound}, std::pair{"sealed", Crack::kHidden}}) {
    const std::optional<JsonNode> entry = node.find(name);
    if (!entry) continue;
    const Result<std::string> text = read_text(*entry);
    if (!text) return text.error();
    const std::optional<std::string> list = crack == Crack::kHidden ? unseal(*text, kSealOfRails) : *text;
    const Status read = list ? read_rails(*list, crack, breadboard) : Status(Error{.code = Code::kBadValue});
    if (read) continue;
    // What is sealed is not told, not even where it cannot be read.
    if (crack == Crack::kHidden) return at(*entry, {.code = Code::kBadValue, .found = in_quotes(*text), .expected = "the seal that was written for a breadboard"});
    return at(*entry, read.error());
  }
  return done();
}

std::string write_cracks(const Breadboard& breadboard) {
  const std::string found = rails_with(Crack::kFound, breadboard), hidden = rails_with(Crack::kHidden, breadboard);
  return (found.empty() ? "" : ",\"cracked\":" + json_text(found)) + (hidden.empty() ? "" : ",\"sealed\":" + json_text(seal(hidden, kSealOfRails)));
}

Result<Realism> read_realism(const JsonNode& node) {
  if (const Status status = check_keys(node, {"spared", "spread", "seed"}); !status) return status.error();
  Realism realism;
  for (const auto& [name, flag] : {std::pair{"spared", &realism.spared}, std::pair{"spread", &realism.spread}})
    if (const std::optional<JsonNode> entry = node.find(name)) {
      const Result<bool> value = read_bool(*entry);
      if (!value) return value.error();
      *flag = *value;
    }
  if (const std::optional<JsonNode> entry = node.find("seed")) {
    const Result<int> seed = read_whole(*entry, 0, 1'000'000'000);
    if (!seed) return seed.error();
    realism.seed = uint32_t(*seed);
  }
  return realism;
}

std::string write_realism(const Realism& realism) {
  std::string out;
  if (realism.spared) out += "\"spared\":true";
  if (realism.spread) out += std::string(out.empty() ? "" : ",") + "\"spread\":true";
  if (realism.seed != 1) out += (out.empty() ? "\"seed\":" : ",\"seed\":") + std::to_string(realism.seed);
  return "{" + out + "}";
}

Result<std::vector<HuntEntry>> read_hunt(const JsonNode& node) {
  if (const Status status = expect_list(node); !status) return status.error();
  std::vector<HuntEntry> entries;
  for (size_t i = 0; i < node.size() && i <= kLongestHunt; ++i) {
    const JsonNode item = node.item(i);
    if (const Status status = check_keys(item, {"what", "text"}); !status) return status.error();
    const Result<JsonNode> what = need(item, "what"), words = need(item, "text");
    if (!what) return what.error();
    if (!words) return words.error();
    const Result<std::string> word = read_text(*what), text = read_text(*words);
    if (!word) return word.error();
    if (!text) return text.error();
    HuntEntry entry{.text = *text};
    bool known = false;
    for (const HuntEntry::Kind kind : {HuntEntry::Kind::kGuess, HuntEntry::Kind::kMeasurement, HuntEntry::Kind::kRepair})
      if (key(kind) == *word) entry.kind = kind, known = true;
    if (!known)
      return at(*what, {.code = Code::kBadValue, .found = in_quotes(*word), .expected = "guess, measurement or repair"});
    entries.push_back(std::move(entry));
  }
  return entries;
}

std::string write_hunt(const std::vector<HuntEntry>& entries) {
  std::string out = "[";
  for (const HuntEntry& entry : entries)
    out += (out.size() > 1 ? ",\n {" : "\n {") + std::string("\"what\":") + json_text(key(entry.kind)) +
           ",\"text\":" + json_text(entry.text) + "}";
  return out + "\n]";
}

}  // namespace tiepoint
