#include "shell/bench/find_parts.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>

#include "engine/parts/marking.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

// How well a word fits; lower is better.
enum Fit { kName, kPurpose, kNameBegins, kPurposeBegins, kGroup, kInside, kNot };
constexpr size_t kLeastInside = 3;    // [byte] a shorter piece would be found inside everything
constexpr size_t kLongestQuery = 80;  // [byte]
constexpr size_t kMostWords = 8;
constexpr double kMember = 0.005;  // of an E series: as near as two digits are written

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Small letters, those of Latin-1 included (U+00C0 to U+00DE are C3 80 to C3 9E in UTF-8).
std::string lower(std::string_view text) {
  std::string out(text);
  for (size_t i = 0; i < out.size(); ++i) {
    const unsigned char c = static_cast<unsigned char>(out[i]);
    if (c >= 'A' && c <= 'Z') out[i] = char(c + 32);
    const bool latin = i > 0 && static_cast<unsigned char>(out[i - 1]) == 0xC3 && c >= 0x80 && c <= 0x9E && c != 0x97;
    if (latin) out[i] = char(c + 32);
  }
  return out;
}

void split(std::string_view text, std::string_view between, std::vector<std::string>& out) {
  while (!text.empty()) {
    const size_t end = std::min(text.find_first_of(between), text.size());
    if (end > 0) out.emplace_back(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

// Without the signs of a sentence around it; a comma inside may be that of a number.
std::string bare_word(std::string_view word) {
  constexpr std::string_view kSigns = ",;:()\"'";
  const size_t first = word.find_first_not_of(kSigns);
  if (first == std::string_view::npos) return {};
  return std::string(word.substr(first, word.find_last_not_of(kSigns) + 1 - first));
}

struct Haystack {
  std::vector<std::string> name, purpose, group;
};

Haystack words_of(const PartType& type) {
  constexpr std::string_view kBetween = " ,()/";
  Haystack h;
  const std::string key(type.key);
  split(lower(say("kind." + key)), kBetween, h.name);
  if (const std::string box = "bench.box." + key; has_words(box)) split(lower(say(box)), kBetween, h.name);
  split(lower(type.search), kBetween, h.purpose);
  // The same words in the language of the page.
  for (size_t k = 0, english = h.purpose.size(); k < english; ++k)
    if (const std::string word = "find." + h.purpose[k]; has_words(word)) split(lower(say(word)), kBetween, h.purpose);
  split(lower(say("group." + std::string(type.group))), kBetween, h.group);
  for (const ValueSpec& value : type.values)
    for (const std::string_view option : value.options) {
      const std::string word = "option." + std::string(option);
      split(lower(has_words(word) ? say(word) : option), kBetween, h.purpose);
    }
  return h;
}

Fit fit(const std::string& word, const Haystack& h) {
  const auto any = [&](const std::vector<std::string>& words, auto&& how) {
    return std::any_of(words.begin(), words.end(), how);
  };
  const auto equal = [&](const std::string& other) { return other == word; };
  const auto begins = [&](const std::string& other) { return other.compare(0, word.size(), word) == 0; };
  const auto inside = [&](const std::string& other) { return other.find(word) != std::string::npos; };
  // A number printed on a chip is how people call it: the 555, the 4017.
  const bool number = word.size() >= kLeastInside && std::all_of(word.begin(), word.end(), is_digit);
  // The first or the last word of a name says what the thing is: a light gate is no light.
  const bool head = !h.name.empty() && (equal(h.name.front()) || equal(h.name.back()));
  if (head || (number && any(h.name, inside))) return kName;
  if (any(h.name, equal) || any(h.purpose, equal)) return kPurpose;
  if (any(h.name, begins)) return kNameBegins;
  if (any(h.purpose, begins)) return kPurposeBegins;
  if (any(h.group, begins)) return kGroup;
  if (word.size() >= kLeastInside && (any(h.name, inside) || any(h.purpose, inside))) return kInside;
  return kNot;
}

std::string without_spaces(std::string_view text) {
  std::string out;
  for (const char c : text)
    if (c != ' ') out += c;
  return lower(out);
}

// Does `text`, as somebody writes a value, name one that this kind can have? Then it is set.
std::optional<Fit> take_value(std::string_view text, Part& part) {
  for (size_t i = 0; i < part.kind->values.size(); ++i) {
    const ValueSpec& spec = part.kind->values[i];
    if (spec.use != Use::kValue) continue;
    for (size_t k = 0; k < spec.options.size(); ++k) {
      const std::string word = "option." + std::string(spec.options[k]);
      const std::string plain = without_spaces(text);
      if (plain != without_spaces(spec.options[k]) && plain != without_spaces(say(word))) continue;
      part.values[i] = double(k);
      return kPurpose;
    }
    if (!spec.options.empty() || spec.unit.empty()) continue;
    const std::optional<double> value = read_marking(text, spec.unit);
    if (!value || *value == 0 || !check_value(*part.kind, int(i), *value)) continue;
    // A bare number says nothing of its unit: what comes in such values, or has such a number printed on it.
    const bool bare = std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c) || c == '.' || c == ','; });
    const bool member = spec.series > 0 && std::abs(*value / nearest_e_value(*value, 24) - 1) < kMember;
    if (bare && !member) continue;
    part.values[i] = *value;
    return spec.series > 0 ? kName : kNameBegins;
  }
  return std::nullopt;
}

// The best way to read the words of a query for one kind: all of them as words, or a run of them as a value and the others as
// words.
struct Reading {
  Fit worst = kNot;
  Part part;
};
Reading read_for(const PartType& type, const std::vector<std::string>& query) {
  const Haystack h = words_of(type);
  std::vector<Fit> fits;
  for (const std::string& word : query) fits.push_back(fit(lower(word), h));
  const auto worst = [&](size_t from, size_t end) {
    Fit out = kName;
    for (size_t i = 0; i < fits.size(); ++i)
      if (i < from || i >= end) out = std::max(out, fits[i]);
    return out;
  };
  Reading best{worst(0, 0), make_part(type)};
  for (size_t from = 0; from < query.size(); ++from) {
    std::string text;
    for (size_t end = from + 1; end <= query.size(); ++end) {
      text += (text.empty() ? "" : " ") + query[end - 1];
      Part part = make_part(type);
      const std::optional<Fit> value = take_value(text, part);
      if (!value) continue;
      const Fit all = std::max(*value, worst(from, end));
      // At equal fit the reading that sets a value knows more.
      if (all < best.worst || (all == best.worst && all != kNot))
        best = {all, std::move(part)};
      else if (all != kNot && best.worst <= kPurposeBegins && all <= kPurposeBegins)
        best.part = std::move(part);
    }
  }
  return best;
}

}  // namespace

std::vector<Part> find_parts(std::string_view text, std::span<const PartKind* const> recent) {
  std::vector<std::string> query;
  split(text.substr(0, kLongestQuery), " \t\n", query);
  for (std::string& word : query) word = bare_word(word);
  std::erase(query, std::string());
  if (query.size() > kMostWords) query.resize(kMostWords);
  std::vector<Part> out;
  if (query.empty()) {
    for (const PartKind* kind : recent) out.push_back(make_part(*kind));
    return out;
  }
  struct Found {
    std::tuple<bool, size_t, Fit> order;
    Part part;
  };
  const std::string whole = lower(text);
  std::vector<Found> found;
  for (const PartKind* kind : catalogue().kinds) {
    Reading reading = read_for(static_cast<const PartType&>(*kind), query);
    if (reading.worst == kNot) continue;
    if (lower(say("kind." + std::string(kind->key))) == whole) reading.worst = kName;
    const size_t used = size_t(std::find(recent.begin(), recent.end(), kind) - recent.begin());
    found.push_back({{reading.worst >= kGroup, used, reading.worst}, std::move(reading.part)});
  }
  std::stable_sort(found.begin(), found.end(), [](const Found& a, const Found& b) { return a.order < b.order; });
  for (Found& one : found) out.push_back(std::move(one.part));
  return out;
}

}  // namespace tiepoint
