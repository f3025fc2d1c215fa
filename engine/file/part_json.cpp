#include "engine/file/part_json.h"

#include <algorithm>
#include <cmath>

#include "engine/board/words.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

// A switch-like value is written true or false: nothing but 0 and 1, without words of its own.
bool is_two_state(const ValueSpec& spec) {
  return spec.options.empty() && spec.minimum == 0 && spec.maximum == 1 && spec.unit.empty() && spec.use != Use::kValue;
}

template <class Spec, class Name>
std::string list_of(std::span<const Spec> specs, const Name& name, std::string_view none) {
  std::string out;
  for (const Spec& spec : specs) out += (out.empty() ? "" : ", ") + std::string(name(spec));
  return out.empty() ? std::string(none) : out;
}

// "no kind of part called x": with so many kinds the list would help nobody, so it stays out.
Result<const PartKind*> read_kind(const JsonNode& node, const Catalogue& catalogue) {
  const Result<JsonNode> entry = need(node, "kind");
  if (!entry) return entry.error();
  const Result<std::string> key = read_text(*entry);
  if (!key) return key.error();
  if (const PartKind* kind = catalogue.find(*key)) return kind;
  return at(*entry, {.code = Code::kUnknownKind, .found = in_quotes(*key)});
}

Result<std::string> read_name(const JsonNode& node, PartObject where) {
  const std::optional<JsonNode> entry = node.find("name");
  if (entry) return read_text(*entry);
  if (where == PartObject::kInEdit) return std::string();
  return at(node, {.code = Code::kMissingKey, .expected = "\"name\""});
}

Status read_seat(const JsonNode& node, const Board& board, Part& part) {
  if (part.kind->footprint.seat == Seat::kRigid) {
    const Result<JsonNode> anchor = need(node, "at");
    if (!anchor) return anchor.error();
    const Result<Hole> hole = read_hole(*anchor, board);
    if (!hole) return hole.error();
    if (!part.leads.empty()) part.leads[0] = *hole;
    if (const std::optional<JsonNode> turn = node.find("turn")) {
      const Result<int> quarters = read_whole(*turn, 0, 3);
      if (!quarters) return quarters.error();
      part.turn = *quarters;
    }
    return done();
  }
  if (part.kind->footprint.seat == Seat::kMat) {
    const Result<JsonNode> mat = need(node, "mat");
    if (!mat) return mat.error();
    const Result<MatPoint> point = read_point(*mat);
    if (!point) return point.error();
    part.mat = *point;
  }
  const std::optional<JsonNode> leads = node.find("leads");
  if (!leads) return done();
  Result<std::vector<Hole>> holes = read_leads(*leads, board, *part.kind, part.name);
  if (!holes) return holes.error();
  part.leads = std::move(holes).value();
  return done();
}

Status read_set(const JsonNode& node, Part& part) {
  if (const Status status = expect_object(node); !status) return status;
  for (size_t i = 0; i < node.size(); ++i) {
    const std::string_view key = node.key(i);
    const int index = value_index(*part.kind, key);
    if (index < 0)
      return at(node.member(i), {.code = Code::kUnknownValue,
                                 .part = part.name,
                                 .found = in_quotes(key),
                                 .expected = list_of(
                                     part.kind->values, [](const ValueSpec& v) { return v.key; }, "no values")});
    // Known keys only, so a repeated one is met within as many steps as there are values.
    for (size_t j = 0; j < i; ++j)
      if (node.key(j) == key)
        return at(node.member(i), {.code = Code::kBadJson, .found = "the entry " + in_quotes(key) + " comes twice"});
    const Result<double> value = read_value(node.member(i), *part.kind, index, part.name);
    if (!value) return value.error();
    part.values[static_cast<size_t>(index)] = *value;
  }
  return done();
}

Status read_drawing(const JsonNode& node, Part& part) {
  if (const std::optional<JsonNode> entry = node.find("bends")) {
    Result<std::vector<MatPoint>> bends = read_bends(*entry);
    if (!bends) return bends.error();
    part.bends = std::move(bends).value();
  }
  if (const std::optional<JsonNode> entry = node.find("label")) {
    Result<std::string> label = read_text(*entry);
    if (!label) return label.error();
    part.label = std::move(label).value();
  }
  return done();
}

Status read_state_of_specimen(const JsonNode& node, Part& part) {
  if (const std::optional<JsonNode> entry = node.find("specimen")) {
    const Result<int> number = read_whole(*entry, 0, kMostSpecimens);
    if (!number) return number.error();
    part.specimen = *number;
  }
  const std::optional<JsonNode> open = node.find("defect"), sealed = node.find("sealed");
  if (open && sealed) return at(*sealed, {.code = Code::kBadJson, .part = part.name, .found = "\"defect\" and \"sealed\" at one part"});
  if (!open && !sealed) return done();
  const Result<Defect> defect = open ? read_defect(*open, *part.kind) : read_sealed(*sealed, *part.kind, part.name);
  if (!defect) return defect.error();
  part.defect = *defect;
  return done();
}

}  // namespace

Result<Hole> read_hole(const JsonNode& node, const Board& board) {
  if (!node.is(JsonNode::Type::kText)) return wrong_type(node, "the name of a hole");
  const Result<Hole> hole = board.hole(node.text());
  if (!hole) return at(node, hole.error());
  return hole;
}

Result<std::vector<Hole>> read_leads(const JsonNode& node, const Board& board, const PartKind& kind, const std::string& part) {
  if (const Status status = expect_object(node); !status) return status.error();
  std::vector<Hole> leads(kind.leads.size());
  for (size_t i = 0; i < node.size(); ++i) {
    const JsonNode entry = node.member(i);
    const int lead = lead_index(kind, node.key(i));
    if (lead < 0)
      return at(entry, {.code = Code::kUnknownLead,
                        .part = part,
                        .found = in_quotes(node.key(i)),
                        .expected = list_of(
                            kind.leads, [](const LeadSpec& l) { return l.name; }, "no leads")});
    Hole& place = leads[static_cast<size_t>(lead)];
    if (place.valid())
      return at(entry, {.code = Code::kBadJson, .found = "the entry " + in_quotes(node.key(i)) + " comes twice"});
    Result<Hole> hole = read_hole(entry, board);
    if (!hole) {
      Error error = hole.error();
      error.part = part;
      error.lead = node.key(i);
      return error;
    }
    place = *hole;
  }
  return leads;
}

Result<MatPoint> read_point(const JsonNode& node) {
  if (!node.is(JsonNode::Type::kList) || node.size() != 2) return wrong_type(node, "a list of two numbers, [x, y]");
  const Result<double> x = read_number(node.item(0)), y = read_number(node.item(1));
  if (!x) return x.error();
  if (!y) return y.error();
  return MatPoint{*x, *y};
}

Result<std::vector<MatPoint>> read_bends(const JsonNode& node) {
  if (const Status status = expect_list(node); !status) return status.error();
  if (node.size() > kMaxBends)
    return at(node, {.code = Code::kTooMany,
                     .found = std::to_string(node.size()) + " bends",
                     .expected = std::to_string(kMaxBends) + " bends"});
  std::vector<MatPoint> bends;
  for (size_t i = 0; i < node.size(); ++i) {
    const Result<MatPoint> bend = read_point(node.item(i));
    if (!bend) return bend.error();
    bends.push_back(*bend);
  }
  return bends;
}

namespace {

Result<Breadboard> read_breadboard(const JsonNode& node) {
  if (const Status status = check_keys(node, {"layout", "rails", "at", "cracked", "sealed"}); !status) return status.error();
  Breadboard breadboard;
  const Result<JsonNode> entry = need(node, "layout");
  if (!entry) return entry.error();
  const Result<std::string> name = read_text(*entry);
  if (!name) return name.error();
  const Layout* found = find_layout(*name);
  if (!found)
    return at(*entry, {.code = Code::kBadValue,
                       .found = in_quotes(*name),
                       .expected = "one of " + list_of(
                                                   layouts(), [](const Layout& l) { return l.name; }, "")});
  breadboard.layout = found->kind;
  if (const std::optional<JsonNode> rails = node.find("rails")) {
    const Result<std::string> word = read_text(*rails);
    if (!word) return word.error();
    if (*word != "whole" && *word != "split")
      return at(*rails, {.code = Code::kBadValue, .found = in_quotes(*word), .expected = "whole or split"});
    breadboard.split_rails = *word == "split";
  }
  if (const std::optional<JsonNode> origin = node.find("at")) {
    if (!origin->is(JsonNode::Type::kList) || origin->size() != 2)
      return wrong_type(*origin, "a list of two whole numbers, [x, y]");
    constexpr int kReach = static_cast<int>(kMatReach);
    const Result<int> x = read_whole(origin->item(0), -kReach, kReach), y = read_whole(origin->item(1), -kReach, kReach);
    if (!x) return x.error();
    if (!y) return y.error();
    breadboard.origin = {*x, *y};
  }
  if (node.find("cracked") || node.find("sealed"))
    if (const Status status = read_cracks(node, breadboard); !status) return status.error();
  return breadboard;
}

}  // namespace

Result<std::vector<Breadboard>> read_breadboards(const JsonNode& node) {
  if (const Status status = expect_list(node); !status) return status.error();
  std::vector<Breadboard> breadboards;
  // One more than allowed is enough for check_breadboards to refuse them.
  for (size_t i = 0; i < node.size() && i <= kMaxBreadboards; ++i) {
    const Result<Breadboard> breadboard = read_breadboard(node.item(i));
    if (!breadboard) return breadboard.error();
    breadboards.push_back(*breadboard);
  }
  if (const Status status = check_breadboards(breadboards); !status) return at(node, status.error());
  return breadboards;
}

Result<double> read_value(const JsonNode& node, const PartKind& kind, int index, const std::string& part) {
  const ValueSpec& spec = kind.values[static_cast<size_t>(index)];
  const auto fail = [&](Error error) {
    error.part = part;
    return at(node, std::move(error));
  };
  const std::string key(spec.key);
  if (!spec.options.empty()) {
    const std::string words = "one of " + list_of(
                                              spec.options, [](std::string_view word) { return word; }, "");
    if (!node.is(JsonNode::Type::kText)) return wrong_type(node, words);
    const auto found = std::find(spec.options.begin(), spec.options.end(), node.text());
    if (found == spec.options.end())
      return fail({.code = Code::kBadValue, .found = key + " " + in_quotes(node.text()), .expected = words});
    return static_cast<double>(found - spec.options.begin());
  }
  double value = 0;
  if (node.is(JsonNode::Type::kNumber)) {
    value = node.number();
  } else if (node.is(JsonNode::Type::kBool) && is_two_state(spec)) {
    value = node.boolean() ? 1 : 0;
  } else if (node.is(JsonNode::Type::kText) && !is_two_state(spec)) {
    const std::optional<double> parsed = read_marking(node.text(), spec.unit);
    if (!parsed)
      return fail({.code = Code::kBadValue,
                   .found = key + " " + in_quotes(node.text()),
                   .expected = "a number or a letter code such as 4k7"});
    value = *parsed;
  } else {
    return wrong_type(node, is_two_state(spec) ? "true or false" : "a number or a letter code such as \"4k7\"");
  }
  if (const Status status = check_value(kind, index, value); !status) return fail(status.error());
  return value;
}

Result<Part> read_part(const JsonNode& node, const Board& board, const Catalogue& catalogue, PartObject where) {
  if (const Status status = expect_object(node); !status) return status.error();
  const Result<const PartKind*> kind = read_kind(node, catalogue);
  if (!kind) return kind.error();
  const Seat seat = (*kind)->footprint.seat;
  const bool rigid = seat == Seat::kRigid, in_edit = where == PartObject::kInEdit;
  const Status known =
      check_keys(node, {"name", "kind", rigid ? "at" : "leads", rigid ? "turn" : "", seat == Seat::kMat ? "mat" : "", "set",
                        (*kind)->conductor ? "bends" : "", "label", "specimen", "defect", "sealed", in_edit ? "edit" : "", in_edit ? "index" : ""});
  if (!known) return known.error();
  Part part = make_part(**kind);
  Result<std::string> name = read_name(node, where);
  if (!name) return name.error();
  part.name = std::move(name).value();
  if (const Status status = read_seat(node, board, part); !status) return status.error();
  if (const std::optional<JsonNode> set = node.find("set"))
    if (const Status status = read_set(*set, part); !status) return status.error();
  if (const Status status = read_drawing(node, part); !status) return status.error();
  if (const Status status = read_state_of_specimen(node, part); !status) return status.error();
  return part;
}

std::string pointer_of(const JsonNode& node, const Part& part, const Error& error) {
  const auto below = [&](std::string_view key) { return pointer_to(node.pointer(), key); };
  if (error.code == Code::kBadName || error.code == Code::kNameTaken) return below("name");
  const bool about_seat = error.code == Code::kBodyOnLead || error.code == Code::kHoleCovered || error.code == Code::kOffBoard;
  if (part.kind->footprint.seat == Seat::kRigid && (!error.lead.empty() || about_seat)) return below("at");
  if (!error.lead.empty()) return pointer_to(below("leads"), error.lead);
  if (about_seat) return below("leads");
  if (error.code != Code::kBadValue) return node.pointer();
  if (part.label.size() > kLongestText) return below("label");
  const bool on_mat = std::abs(part.mat.x) <= kMatReach && std::abs(part.mat.y) <= kMatReach;
  return on_mat ? below("bends") : below("mat");
}

std::string write_leads(const Board& board, const PartKind& kind, const std::vector<Hole>& leads) {
  std::string out = "{";
  for (size_t lead = 0; lead < leads.size() && lead < kind.leads.size(); ++lead) {
    if (!board.has(leads[lead])) continue;
    out += (out.size() > 1 ? "," : "") + json_text(kind.leads[lead].name) + ":" + json_text(board.name_of(leads[lead]));
  }
  return out + "}";
}

std::string write_point(MatPoint point) { return "[" + json_number(point.x) + "," + json_number(point.y) + "]"; }

std::string write_bends(const std::vector<MatPoint>& bends) {
  std::string out = "[";
  for (const MatPoint bend : bends) out += (out.size() > 1 ? "," : "") + write_point(bend);
  return out + "]";
}

std::string write_breadboard(const Breadboard& breadboard) {
  return "{\"layout\":" + json_text(layout(breadboard.layout).name) +
         ",\"rails\":" + (breadboard.split_rails ? "\"split\"" : "\"whole\"") + ",\"at\":[" +
         std::to_string(breadboard.origin.x) + "," + std::to_string(breadboard.origin.y) + "]" + (breadboard.cracks == Breadboard{}.cracks ? "" : write_cracks(breadboard)) + "}";
}

std::string write_value(const ValueSpec& spec, double value) {
  const bool is_option = value >= 0 && value < static_cast<double>(spec.options.size()) && value == std::floor(value);
  if (is_option) return json_text(spec.options[static_cast<size_t>(value)]);
  if (is_two_state(spec) && (value == 0 || value == 1)) return value == 0 ? "false" : "true";
  return json_number(value);
}

std::string write_part(const Board& board, const Part& part) {
  const PartKind& kind = *part.kind;
  const Seat seat = kind.footprint.seat;
  std::string out = "\"name\":" + json_text(part.name) + ",\"kind\":" + json_text(kind.key);
  if (seat == Seat::kRigid) {
    out += ",\"at\":" + json_text(part.leads.empty() ? "" : board.name_of(part.leads[0])) +
           ",\"turn\":" + std::to_string(part.turn);
  } else {
    if (seat == Seat::kMat) out += ",\"mat\":" + write_point(part.mat);
    out += ",\"leads\":" + write_leads(board, kind, part.leads);
  }
  std::string set;
  for (size_t i = 0; i < part.values.size() && i < kind.values.size(); ++i) {
    const ValueSpec& spec = kind.values[i];
    if (part.values[i] != spec.standard)
      set += (set.empty() ? "" : ",") + json_text(spec.key) + ":" + write_value(spec, part.values[i]);
  }
  if (!set.empty()) out += ",\"set\":{" + set + "}";
  if (!part.bends.empty()) out += ",\"bends\":" + write_bends(part.bends);
  if (!part.label.empty()) out += ",\"label\":" + json_text(part.label);
  if (part.specimen > 0) out += ",\"specimen\":" + std::to_string(part.specimen);
  if (part.defect && !part.defect.hidden) out += ",\"defect\":" + write_defect(kind, part.defect);
  if (part.defect.hidden) out += ",\"sealed\":" + json_text(seal_defect(kind, part.defect, part.name));
  return out;
}

}  // namespace tiepoint
