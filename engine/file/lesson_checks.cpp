// The checks of a lesson file.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/board/words.h"
#include "engine/explain/finding.h"
#include "engine/file/lesson_json.h"
#include "engine/file/part_json.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

constexpr std::array kStates = {
#define X(id, key) std::string_view(key),
    TIEPOINT_STATES(X)
#undef X
        std::string_view("works"),
    std::string_view("rests")};
constexpr std::array kFindings = {
#define X(id, key, severity, tag) std::string_view(key),
    TIEPOINT_FINDINGS(X)
#undef X
};
constexpr double kLongestRun = 600;  // [s] a check may let a board run
constexpr int kMostInputs = 8;

template <class List>
std::string one_of(const List& list) {
  std::string words;
  for (const auto& one : list) words += (words.empty() ? "one of " : ", ") + std::string(one);
  return words;
}

Error not_one_of(const JsonNode& node, std::string_view found, std::string expected) {
  return at(node, {.code = Code::kBadValue, .found = in_quotes(found), .expected = std::move(expected)});
}

Result<int> find_role(const JsonNode& node, std::string_view name, const LessonContext& context) {
  std::string names;
  for (size_t i = 0; i < context.lesson.roles.size(); ++i) {
    if (context.lesson.roles[i].name == name) return int(i);
    names += (i > 0 ? ", " : "one of the roles ") + context.lesson.roles[i].name;
  }
  return not_one_of(node, name, names.empty() ? "a role; the lesson has none" : names);
}

Result<int> read_role(const JsonNode& node, const LessonContext& context) {
  const Result<std::string> name = read_text(node);
  if (!name) return name.error();
  return find_role(node, *name, context);
}

Result<std::vector<int>> read_roles(const JsonNode& node, const LessonContext& context) {
  if (const Status status = expect_list(node); !status) return status.error();
  std::vector<int> roles;
  for (size_t i = 0; i < node.size(); ++i) {
    const Result<int> role = read_role(node.item(i), context);
    if (!role) return role.error();
    if (std::find(roles.begin(), roles.end(), *role) != roles.end())
      return at(node.item(i),
                {.code = Code::kBadValue, .found = in_quotes(node.item(i).text()) + " twice", .expected = "each role once"});
    roles.push_back(*role);
  }
  return roles;
}

// "Lamp.anode", "Lamp", or a hole.
Result<LeadPoint> read_lead_point(const JsonNode& node, const LessonContext& context, bool lead_needed = false) {
  const Result<std::string> words = read_text(node);
  if (!words) return words.error();
  const size_t dot = words->find('.');
  const std::string name = words->substr(0, dot);
  const bool is_role =
      std::any_of(context.lesson.roles.begin(), context.lesson.roles.end(), [&](const Role& r) { return r.name == name; });
  if (!is_role) {
    if (dot != std::string::npos) return find_role(node, name, context).error();
    const Result<Hole> hole = context.holes.hole(*words);
    if (!hole) return not_one_of(node, *words, "a role, a role's lead such as Lamp.anode, or a hole");
    return LeadPoint{-1, "", *words};
  }
  LeadPoint point{*find_role(node, name, context), dot == std::string::npos ? "" : words->substr(dot + 1), ""};
  for (const PartKind* kind : context.lesson.roles[size_t(point.role)].filter.kinds) {
    if (point.lead.empty() ? !lead_needed : lead_index(*kind, point.lead) >= 0) continue;
    std::string leads;
    for (const LeadSpec& lead : kind->leads) leads += (leads.empty() ? "" : ", ") + std::string(lead.name);
    return at(node,
              {.code = Code::kUnknownLead, .part = std::string(kind->key), .found = in_quotes(point.lead), .expected = leads});
  }
  return point;
}

// {"Left": "down", "Sensor.light": 10}
Result<std::vector<RoleSetting>> read_settings(const JsonNode& node, const LessonContext& context) {
  if (const Status status = expect_object(node); !status) return status.error();
  std::vector<RoleSetting> settings;
  for (size_t i = 0; i < node.size(); ++i) {
    const JsonNode entry = node.member(i);
    const std::string words(node.key(i));
    const size_t dot = words.find('.');
    const Result<int> role = find_role(entry, words.substr(0, dot), context);
    if (!role) return role.error();
    RoleSetting setting{*role, dot == std::string::npos ? "" : words.substr(dot + 1), 0};
    for (const PartKind* kind : context.lesson.roles[size_t(*role)].filter.kinds) {
      int index = value_index(*kind, setting.key);
      for (size_t v = 0; setting.key.empty() && v < kind->values.size() && index < 0; ++v)
        if (kind->values[v].use != Use::kValue) index = int(v);
      if (index < 0)
        return at(entry, {.code = Code::kUnknownValue,
                          .part = std::string(kind->key),
                          .found = in_quotes(setting.key),
                          .expected = "a value that every part of this role has"});
      const ValueSpec& spec = kind->values[size_t(index)];
      if (setting.key.empty() && entry.is(JsonNode::Type::kText) && (spec.options.empty() || spec.options.size() == 2)) {
        const std::string_view word = entry.text();
        const bool one = word == "down" || word == "on", zero = word == "up" || word == "off";
        if (one || zero) {
          setting.value = one;
          continue;
        }
      }
      const Result<double> value = read_value(entry, *kind, index, words);
      if (!value) return value.error();
      setting.value = *value;
    }
    settings.push_back(std::move(setting));
  }
  return settings;
}

Result<double> read_time(const JsonNode& node, double least) {
  const Result<double> time = read_number(node);
  if (!time) return time.error();
  if (*time >= least && *time <= kLongestRun) return *time;
  return at(node, {.code = Code::kBadValue,
                   .found = number_text(*time),
                   .expected = "a time from " + number_text(least) + " s to " + number_text(kLongestRun) + " s"});
}

// The entries "when", "do" and "look".
Status read_situation(const JsonNode& node, const LessonContext& context, Situation& out) {
  if (const auto when = node.find("when")) {
    Result<std::vector<RoleSetting>> set = read_settings(*when, context);
    if (!set) return set.error();
    out.set = std::move(set).value();
  }
  if (const auto list = node.find("do")) {
    if (const Status status = expect_list(*list); !status) return status;
    for (size_t i = 0; i < list->size(); ++i) {
      const JsonNode entry = list->item(i);
      if (const Status status = check_keys(entry, {"at", "set"}); !status) return status;
      const Result<JsonNode> time_node = need(entry, "at"), set_node = need(entry, "set");
      if (!time_node) return time_node.error();
      if (!set_node) return set_node.error();
      const Result<double> time = read_time(*time_node, out.operations.empty() ? 0 : out.operations.back().time);
      if (!time) return time.error();
      Result<std::vector<RoleSetting>> set = read_settings(*set_node, context);
      if (!set) return set.error();
      out.operations.push_back({*time, std::move(set).value()});
    }
  }
  if (const auto look = node.find("look")) {
    const Result<double> time = read_time(*look, 0);
    if (!time) return time.error();
    out.look = *time;
  }
  return done();
}

// {"part": "Lamp", "what": "current"}, or {"at": "Driver.collector", "against": "Supply.-"}.
Result<Term> read_term(const JsonNode& node, const LessonContext& context) {
  Term term;
  if (const auto part = node.find("part")) {
    const Result<int> role = read_role(*part, context);
    if (!role) return role.error();
    term.role = *role;
    const Result<JsonNode> what = need(node, "what");
    if (!what) return what.error();
    const Result<std::string> word = read_text(*what);
    if (!word) return word.error();
    std::vector<std::string_view> words;
    for (int q = 0; q <= int(Quantity::kShown); ++q) words.push_back(key(Quantity(q)));
    const auto found = std::find(words.begin(), words.end(), *word);
    if (found == words.end()) return not_one_of(*what, *word, one_of(words));
    term.quantity = Quantity(found - words.begin());
    return term;
  }
  const Result<JsonNode> a = need(node, "at"), b = need(node, "against");
  if (!a) return a.error();
  if (!b) return b.error();
  const Result<LeadPoint> from = read_lead_point(*a, context, true), against = read_lead_point(*b, context, true);
  if (!from) return from.error();
  if (!against) return against.error();
  term.at = *from;
  term.against = *against;
  return term;
}

using Ask = decltype(Check::ask);

Result<Ask> read_state(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> part = need(node, "part"), is = need(node, "is");
  if (!part) return part.error();
  if (!is) return is.error();
  const Result<int> role = read_role(*part, context);
  if (!role) return role.error();
  StateCheck check{*role, {}};
  const bool list = is->is(JsonNode::Type::kList);
  for (size_t i = 0; i < (list ? is->size() : 1); ++i) {
    const JsonNode entry = list ? is->item(i) : *is;
    const Result<std::string> word = read_text(entry);
    if (!word) return word.error();
    if (std::find(kStates.begin(), kStates.end(), *word) == kStates.end()) return not_one_of(entry, *word, one_of(kStates));
    check.states.push_back(*word);
  }
  if (check.states.empty()) return at(*is, {.code = Code::kBadValue, .found = "no state", .expected = "at least one"});
  return Ask(std::move(check));
}

Result<Ask> read_reading(const JsonNode& node, const LessonContext& context) {
  const Result<Term> term = read_term(node, context);
  if (!term) return term.error();
  const Result<JsonNode> between = need(node, "between");
  if (!between) return between.error();
  const Result<Window> window = read_window(*between);
  if (!window) return window.error();
  ReadingCheck check{*term, *window, false, {}};
  if (const Status status = read_flag(node, "magnitude", check.magnitude); !status) return status.error();
  if (const auto over = node.find("over")) {
    if (const Status status = check_keys(*over, {"part", "what", "at", "against", "when", "do", "look"}); !status)
      return status.error();
    const Result<Term> other = read_term(*over, context);
    if (!other) return other.error();
    check.over.emplace();
    check.over->term = *other;
    if (const Status status = read_situation(*over, context, check.over->situation); !status) return status.error();
  }
  return Ask(std::move(check));
}

Result<Ask> read_truth(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> inputs = need(node, "inputs"), output = need(node, "output"), works = need(node, "works");
  if (!inputs) return inputs.error();
  if (!output) return output.error();
  if (!works) return works.error();
  const Result<std::vector<int>> roles = read_roles(*inputs, context);
  if (!roles) return roles.error();
  if (roles->empty() || roles->size() > kMostInputs)
    return at(*inputs, {.code = Code::kTooMany,
                        .found = std::to_string(roles->size()) + " inputs",
                        .expected = "1 to " + std::to_string(kMostInputs)});
  const Result<int> role = read_role(*output, context);
  if (!role) return role.error();
  TruthCheck check{*roles, *role, {}};
  if (const Status status = expect_list(*works); !status) return status.error();
  for (size_t i = 0; i < works->size(); ++i) {
    const Result<std::string> row = read_text(works->item(i));
    if (!row) return row.error();
    const bool fits = row->size() == roles->size() && row->find_first_not_of("01") == std::string::npos;
    if (!fits) return not_one_of(works->item(i), *row, "one 0 or 1 for each input");
    check.works.push_back(*row);
  }
  return Ask(std::move(check));
}

Result<Ask> read_wave(const JsonNode& node, const LessonContext& context) {
  const Result<Term> term = read_term(node, context);
  if (!term) return term.error();
  WaveCheck check;
  check.term = *term;
  const Result<JsonNode> span = need(node, "span");
  if (!span) return span.error();
  const Result<double> seconds = read_time(*span, 1e-6);
  if (!seconds) return seconds.error();
  check.span = *seconds;
  if (const auto from = node.find("from")) {
    const Result<double> begin = read_time(*from, 0);
    if (!begin) return begin.error();
    check.from = *begin;
  }
  bool any = false;
  const std::pair<std::string_view, std::optional<Window>*> facts[] = {
      {"frequency", &check.frequency}, {"duty", &check.duty},  {"rise", &check.rise},
      {"fall", &check.fall},           {"lowest", &check.low}, {"highest", &check.high}};
  for (const auto& [name, window] : facts) {
    const auto entry = node.find(name);
    if (!entry) continue;
    const Result<Window> read = read_window(*entry);
    if (!read) return read.error();
    *window = *read;
    any = true;
  }
  if (!any) return at(node, {.code = Code::kMissingKey, .expected = "frequency, duty, rise, fall, lowest or highest"});
  return Ask(std::move(check));
}

Result<Ask> read_joined(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> a = need(node, "a"), b = need(node, "b");
  if (!a) return a.error();
  if (!b) return b.error();
  const Result<LeadPoint> from = read_lead_point(*a, context), to = read_lead_point(*b, context);
  if (!from) return from.error();
  if (!to) return to.error();
  JoinedCheck check{*from, *to, true};
  if (const auto joined = node.find("joined")) {
    const Result<bool> is = read_bool(*joined);
    if (!is) return is.error();
    check.joined = *is;
  }
  return Ask(check);
}

Result<Ask> read_measured(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> function = need(node, "function");
  if (!function) return function.error();
  const Result<std::string> word = read_text(*function);
  if (!word) return word.error();
  const PartKind* meter = context.catalogue.find("meter");
  const int value = meter ? value_index(*meter, "function") : -1;
  if (value < 0) return not_one_of(*function, *word, "no function: there is no meter in the catalogue");
  const auto options = meter->values[size_t(value)].options;
  if (std::find(options.begin(), options.end(), *word) == options.end()) return not_one_of(*function, *word, one_of(options));
  MeasuredCheck check;
  check.function = *word;
  const auto across = node.find("across"), through = node.find("through"), between = node.find("between");
  if (int(bool(across)) + int(bool(through)) + int(bool(between)) != 1)
    return at(node, {.code = Code::kMissingKey, .expected = "exactly one of across, through and between"});
  if (between) {
    if (!between->is(JsonNode::Type::kList) || between->size() != 2) return wrong_type(*between, "a list of two points");
    const Result<LeadPoint> a = read_lead_point(between->item(0), context), b = read_lead_point(between->item(1), context);
    if (!a) return a.error();
    if (!b) return b.error();
    check.where = MeasuredCheck::Where::kBetween;
    check.a = *a;
    check.b = *b;
  } else {
    const Result<int> role = read_role(across ? *across : *through, context);
    if (!role) return role.error();
    check.where = across ? MeasuredCheck::Where::kAcross : MeasuredCheck::Where::kThrough;
    check.role = *role;
  }
  if (const auto shown = node.find("shown")) {
    const Result<Window> window = read_window(*shown);
    if (!window) return window.error();
    check.shown = *window;
  }
  return Ask(std::move(check));
}

Result<Ask> read_parts(const JsonNode& node, const LessonContext& context) {
  Result<PartFilter> filter = read_filter(node, context.catalogue);
  if (!filter) return filter.error();
  PartsCheck check;
  check.filter = std::move(filter).value();
  const auto least = node.find("at-least"), most = node.find("at-most");
  if (!least && !most) return at(node, {.code = Code::kMissingKey, .expected = "at-least or at-most"});
  if (least) {
    const Result<int> count = read_whole(*least, 0, kMaxParts);
    if (!count) return count.error();
    check.at_least = *count;
  }
  if (most) {
    const Result<int> count = read_whole(*most, check.at_least, kMaxParts);
    if (!count) return count.error();
    check.at_most = *count;
  }
  return Ask(std::move(check));
}

Result<Ask> read_chain(const JsonNode& node, const LessonContext& context, bool series) {
  const Result<JsonNode> parts = need(node, "parts");
  if (!parts) return parts.error();
  const Result<std::vector<int>> roles = read_roles(*parts, context);
  if (!roles) return roles.error();
  if (roles->size() < 2)
    return at(*parts, {.code = Code::kBadValue, .found = std::to_string(roles->size()) + " parts", .expected = "at least two"});
  return Ask(ChainCheck{*roles, series});
}

Result<Ask> read_series(const JsonNode& node, const LessonContext& context) { return read_chain(node, context, true); }
Result<Ask> read_parallel(const JsonNode& node, const LessonContext& context) { return read_chain(node, context, false); }

// {"nets": {"Left": ["feed", "middle"], "Lamp": {"anode": "middle", "cathode": "return"}}}
Result<Ask> read_shape(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> nets = need(node, "nets");
  if (!nets) return nets.error();
  if (const Status status = expect_object(*nets); !status) return status.error();
  ShapeCheck check;
  const auto add = [&](const JsonNode& entry, int role, std::string lead) -> Status {
    const Result<std::string> name = read_id(entry);
    if (!name) return name.error();
    auto found = std::find(check.nets.begin(), check.nets.end(), *name);
    if (found == check.nets.end()) found = check.nets.insert(check.nets.end(), *name);
    check.ends.push_back({role, std::move(lead), int(found - check.nets.begin())});
    return done();
  };
  for (size_t i = 0; i < nets->size(); ++i) {
    const JsonNode entry = nets->member(i);
    const Result<int> role = find_role(entry, nets->key(i), context);
    if (!role) return role.error();
    if (entry.is(JsonNode::Type::kList)) {
      if (entry.size() != 2) return wrong_type(entry, "a list of two nets, or an object from leads to nets");
      for (size_t side = 0; side < 2; ++side)
        if (const Status status = add(entry.item(side), *role, ""); !status) return status.error();
      continue;
    }
    if (const Status status = expect_object(entry); !status) return status.error();
    for (size_t k = 0; k < entry.size(); ++k) {
      const std::string lead(entry.key(k));
      for (const PartKind* kind : context.lesson.roles[size_t(*role)].filter.kinds)
        if (lead_index(*kind, lead) < 0)
          return at(entry.member(k), {.code = Code::kUnknownLead,
                                      .part = std::string(kind->key),
                                      .found = in_quotes(lead),
                                      .expected = "a lead that every part of this role has"});
      if (const Status status = add(entry.member(k), *role, lead); !status) return status.error();
    }
  }
  return Ask(std::move(check));
}

Result<Ask> read_faults(const JsonNode& node, const LessonContext&) {
  FaultCheck check;
  if (const auto except = node.find("except")) {
    Result<std::vector<std::string>> keys = read_list_of_words(*except);
    if (!keys) return keys.error();
    for (size_t i = 0; i < keys->size(); ++i)
      if (std::find(kFindings.begin(), kFindings.end(), (*keys)[i]) == kFindings.end())
        return not_one_of(except->item(i), (*keys)[i], one_of(kFindings));
    check.except = std::move(keys).value();
  }
  return Ask(std::move(check));
}

struct AskWord {
  std::string_view word;
  Result<Ask> (*read)(const JsonNode&, const LessonContext&);
  std::initializer_list<std::string_view> keys;  // its own
};
const AskWord kAsks[] = {
    {"state", read_state, {"part", "is"}},
    {"reading", read_reading, {"part", "what", "at", "against", "between", "magnitude", "over"}},
    {"truth", read_truth, {"inputs", "output", "works"}},
    {"wave",
     read_wave,
     {"part", "what", "at", "against", "from", "span", "frequency", "duty", "rise", "fall", "lowest", "highest"}},
    {"joined", read_joined, {"a", "b", "joined"}},
    {"measured", read_measured, {"function", "across", "through", "between", "shown"}},
    {"parts", read_parts, {"kind", "set", "at-least", "at-most"}},
    {"series", read_series, {"parts"}},
    {"parallel", read_parallel, {"parts"}},
    {"shape", read_shape, {"nets"}},
    {"no-faults", read_faults, {"except"}},
};

}  // namespace

Result<Check> read_check(const JsonNode& node, const LessonContext& context) {
  const Result<JsonNode> word_node = need(node, "check");
  if (!word_node) return word_node.error();
  const Result<std::string> word = read_text(*word_node);
  if (!word) return word.error();
  const AskWord* found = nullptr;
  std::string words;
  for (const AskWord& one : kAsks) {
    if (one.word == *word) found = &one;
    words += (words.empty() ? "one of " : ", ") + std::string(one.word);
  }
  if (!found) return not_one_of(*word_node, *word, words);
  for (size_t i = 0; i < node.size(); ++i) {
    constexpr std::string_view kCommon[] = {"id", "check", "when", "do", "look", "fail", "hints", "tag", "points"};
    const std::string_view key = node.key(i);
    const bool known = std::find(std::begin(kCommon), std::end(kCommon), key) != std::end(kCommon) ||
                       std::find(found->keys.begin(), found->keys.end(), key) != found->keys.end();
    std::string expected = "id, check, when, do, look, fail, hints, tag, points";
    for (const std::string_view own : found->keys) expected += ", " + std::string(own);
    if (!known) return at(node.member(i), {.code = Code::kUnknownKey, .found = in_quotes(key), .expected = expected});
  }
  Check check;
  if (const auto id = node.find("id")) {
    Result<std::string> read = read_id(*id);
    if (!read) return read.error();
    check.id = std::move(read).value();
  }
  Result<Ask> ask = found->read(node, context);
  if (!ask) return ask.error();
  check.ask = std::move(ask).value();
  if (const Status status = read_situation(node, context, check.situation); !status) return status.error();
  if (const Status status = read_words(node, "fail", check.fail); !status) return status.error();
  if (const Status status = read_words(node, "hints", check.hints); !status) return status.error();
  if (check.hints.size() > size_t(kHintDepths))
    return at(*node.find("hints"), {.code = Code::kTooMany,
                                    .found = std::to_string(check.hints.size()) + " hints",
                                    .expected = std::to_string(kHintDepths)});
  if (const Status status = read_words(node, "tag", check.tag); !status) return status.error();
  if (const auto points = node.find("points")) {
    const Result<double> number = read_number(*points);
    if (!number) return number.error();
    if (!(*number >= 0 && *number <= 1000))
      return at(*points, {.code = Code::kBadValue, .found = number_text(*number), .expected = "points from 0 to 1000"});
    check.points = *number;
  }
  return check;
}

}  // namespace tiepoint
