// tiepoint parts: what is in the box.
#include <cmath>
#include <cstdio>
#include <initializer_list>
#include <utility>

#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/part_facts.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint parts [KIND] [--json]\n"
    "\n"
    "Lists the kinds of part: leads, values with their unit, standard and range, ratings of a part with standard values. With a KIND, or\n"
    "--json, also the model, its equations, where its figures are from, and what it leaves out.\n";

std::string_view use_word(Use use) { return use == Use::kMomentary ? "held" : use == Use::kPosition ? "position" : "value"; }

// The same quantities as a person reads them.
void write_shown(JsonOut& out, std::initializer_list<std::pair<std::string_view, double>> quantities, std::string_view unit) {
  out.key("shown");
  out.begin_object();
  for (const auto& [name, quantity] : quantities) out.member(name, engineering(quantity, unit));
  out.end_object();
}

void write_rating(JsonOut& out, std::string_view name, double rating, std::string_view unit) {
  if (!has_reading(rating)) return;
  out.member(name, engineering(rating, unit));
}

void write_facts(JsonOut& out, const PartFacts& facts) {
  out.member("model", facts.model);
  out.member("source", facts.source);
  out.member("limits", facts.limits);
  out.key("elements");
  out.begin_array();
  for (const ElementFacts& element : facts.elements) {
    out.begin_object();
    out.member("name", element.name);
    out.member("what", element.what);
    out.member("equation", element.equation);
    out.member("source", element.source);
    out.end_object();
  }
  out.end_array();
}

void write_value(JsonOut& out, const ValueSpec& spec) {
  out.begin_object();
  out.member("key", spec.key);
  out.member("unit", spec.unit);
  out.member("use", use_word(spec.use));
  if (spec.options.empty()) {
    out.member("standard", spec.standard);
    out.member("minimum", spec.minimum);
    out.member("maximum", spec.maximum);
    if (spec.series) out.member("series", spec.series);
    write_shown(out, {{"standard", spec.standard}, {"minimum", spec.minimum}, {"maximum", spec.maximum}}, spec.unit);
  } else {
    out.member("standard", spec.options[static_cast<size_t>(spec.standard)]);
    out.key("options");
    out.begin_array();
    for (const std::string_view option : spec.options) out.value(option);
    out.end_array();
  }
  out.end_object();
}

void write_type(JsonOut& out, const PartType& type) {
  out.begin_object();
  out.member("kind", type.key);
  out.member("name", say("kind." + std::string(type.key)));
  out.member("prefix", type.prefix);
  out.member("group", type.group);
  out.key("leads");
  out.begin_array();
  for (const LeadSpec& lead : type.leads) out.value(lead.name);
  out.end_array();
  out.key("values");
  out.begin_array();
  for (const ValueSpec& spec : type.values) write_value(out, spec);
  out.end_array();
  const Ratings ratings = type.ratings ? type.ratings(make_part(type)) : Ratings{};
  out.key("ratings");
  out.begin_object();
  out.member("power", ratings.power);
  out.member("current", ratings.current);
  out.member("voltage", ratings.voltage);
  out.member("reverse_voltage", ratings.reverse_voltage);
  out.key("shown");
  out.begin_object();
  write_rating(out, "power", ratings.power, "W");
  write_rating(out, "current", ratings.current, "A");
  write_rating(out, "voltage", ratings.voltage, "V");
  write_rating(out, "reverse_voltage", ratings.reverse_voltage, "V");
  out.end_object();
  out.end_object();
  write_facts(out, part_facts(type));
  out.end_object();
}

std::string value_words(const ValueSpec& spec) {
  std::string words(spec.key);
  words += " ";
  if (spec.options.empty()) {
    words += engineering(spec.standard, spec.unit) + " (" + engineering(spec.minimum, spec.unit) + " to " +
             engineering(spec.maximum, spec.unit) + ")";
    return words;
  }
  for (size_t i = 0; i < spec.options.size(); ++i) words += (i ? ", " : "") + std::string(spec.options[i]);
  return words;
}

void print_type(const PartType& type) {
  std::string leads;
  for (const LeadSpec& lead : type.leads) leads += (leads.empty() ? "" : " ") + std::string(lead.name);
  std::printf("%-24s %-4s leads: %s\n", std::string(type.key).c_str(), std::string(type.prefix).c_str(), leads.c_str());
  for (const ValueSpec& spec : type.values) std::printf("    %s\n", value_words(spec).c_str());
}

void print_facts(const PartFacts& facts) {
  const auto row = [](const char* what, std::string_view words) { std::printf("    %-9s %s\n", what, std::string(words).c_str()); };
  row("model:", facts.model);
  for (const ElementFacts& element : facts.elements) {
    row("equation:", std::string(element.what) + ": " + std::string(element.equation));
    row("after:", element.source);
  }
  row("figures:", facts.source);
  row("limits:", facts.limits);
}

}  // namespace

int parts(const Arguments& arguments) {
  bool json = false;
  std::string wanted;
  for (const std::string& word : arguments) {
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
    if (word == "--json") json = true;
    else if (word.empty() || word[0] == '-' || !wanted.empty())
      return fail("parts", Error{.code = Code::kUsage, .found = "'" + word + "'", .expected = "a kind or --json"}, false);
    else wanted = word;
  }
  if (!wanted.empty() && !catalogue().find(wanted))
    return fail("parts", Error{.code = Code::kUnknownKind, .found = wanted}, json);
  JsonOut out;
  out.begin_array();
  for (const PartKind* kind : catalogue().kinds) {
    if (!wanted.empty() && kind->key != wanted) continue;
    const PartType& type = static_cast<const PartType&>(*kind);
    json ? write_type(out, type) : print_type(type);
    if (!json && !wanted.empty()) print_facts(part_facts(type));
  }
  out.end_array();
  if (json) std::puts(out.text().c_str());
  return 0;
}

}  // namespace tiepoint::cli
