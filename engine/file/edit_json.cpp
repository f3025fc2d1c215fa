// One Edit as JSON: {"edit":"press","part":"S1"}. The word after "edit" names it; the other entries are its fields.
#include <array>

#include "engine/board/words.h"
#include "engine/file/json.h"
#include "engine/file/json_node.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

constexpr int kMaxBatch = 4 * kMaxParts;  // enough to clear a full board and build another
constexpr int kMaxBatchDepth = 4;

// ---- reading ----

struct Context {
  const Board& board;
  const Catalogue& catalogue;
  int depth = 0;  // batches inside batches
};

// The part that the entry "part" names.
Result<const Part*> read_part_of(const JsonNode& node, const Board& board) {
  const Result<JsonNode> entry = need(node, "part");
  if (!entry) return entry.error();
  const Result<std::string> name = read_text(*entry);
  if (!name) return name.error();
  if (const Part* part = board.find(*name)) return part;
  return at(*entry, {.code = Code::kUnknownPart, .part = shown_name(*name)});
}

Result<std::string> read_text_of(const JsonNode& node, std::string_view key) {
  const Result<JsonNode> entry = need(node, key);
  if (!entry) return entry.error();
  return read_text(*entry);
}

Result<Edit> read_place(const JsonNode& node, const Context& context) {
  Result<Part> part = read_part(node, context.board, context.catalogue, PartObject::kInEdit);
  if (!part) return part.error();
  PlacePart edit{std::move(part).value()};
  if (const std::optional<JsonNode> entry = node.find("index")) {
    const Result<int> index = read_whole(*entry, 0, kMaxParts);
    if (!index) return index.error();
    edit.index = *index;
  }
  return Edit{std::move(edit)};
}

// Whatever is not given stays as it is.
Result<Edit> read_move(const JsonNode& node, const Context& context) {
  const Result<const Part*> found = read_part_of(node, context.board);
  if (!found) return found.error();
  const Part& part = **found;
  const Seat seat = part.kind->footprint.seat;
  const bool rigid = seat == Seat::kRigid;
  if (const Status status = check_keys(node, {"edit", "part", rigid ? "at" : "leads", rigid ? "turn" : "",
                                              seat == Seat::kMat ? "mat" : "", part.kind->conductor ? "bends" : ""});
      !status)
    return status.error();
  MovePart edit{.part = part.name, .turn = part.turn, .mat = part.mat};
  if (const std::optional<JsonNode> entry = node.find("at")) {
    const Result<Hole> hole = read_hole(*entry, context.board);
    if (!hole) return hole.error();
    edit.leads = {*hole};
  }
  if (const std::optional<JsonNode> entry = node.find("turn")) {
    const Result<int> turn = read_whole(*entry, 0, 3);
    if (!turn) return turn.error();
    edit.turn = *turn;
  }
  if (const std::optional<JsonNode> entry = node.find("mat")) {
    const Result<MatPoint> mat = read_point(*entry);
    if (!mat) return mat.error();
    edit.mat = *mat;
  }
  if (const std::optional<JsonNode> entry = node.find("leads")) {
    const Result<std::vector<Hole>> leads = read_leads(*entry, context.board, *part.kind, part.name);
    if (!leads) return leads.error();
    edit.leads = *leads;
  }
  if (const std::optional<JsonNode> entry = node.find("bends")) {
    const Result<std::vector<MatPoint>> bends = read_bends(*entry);
    if (!bends) return bends.error();
    edit.bends = *bends;
  }
  return Edit{std::move(edit)};
}

Result<Edit> read_turn(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "quarters"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  TurnPart edit{(*part)->name};
  if (const std::optional<JsonNode> entry = node.find("quarters")) {
    const Result<int> quarters = read_whole(*entry, -1000, 1000);
    if (!quarters) return quarters.error();
    edit.quarters = *quarters;
  }
  return Edit{edit};
}

Result<Edit> read_seat(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "lead", "hole"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<JsonNode> entry = need(node, "lead");
  if (!entry) return entry.error();
  const Result<std::string> name = read_text(*entry);
  if (!name) return name.error();
  const PartKind& kind = *(*part)->kind;
  const int lead = lead_index(kind, *name);
  if (lead < 0) {
    std::string names;
    for (const LeadSpec& one : kind.leads) names += (names.empty() ? "" : ", ") + std::string(one.name);
    return at(*entry, {.code = Code::kUnknownLead, .part = (*part)->name, .found = in_quotes(*name), .expected = names});
  }
  const Result<JsonNode> hole = need(node, "hole");
  if (!hole) return hole.error();
  if (hole->is(JsonNode::Type::kNull)) return Edit{SeatLead{(*part)->name, lead, Hole{}}};
  const Result<Hole> to = read_hole(*hole, context.board);
  if (!to) return to.error();
  return Edit{SeatLead{(*part)->name, lead, *to}};
}

Result<Edit> read_set(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "key", "value"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<JsonNode> entry = need(node, "key");
  if (!entry) return entry.error();
  const Result<std::string> key = read_text(*entry);
  if (!key) return key.error();
  const PartKind& kind = *(*part)->kind;
  const int index = value_index(kind, *key);
  if (index < 0) {
    std::string keys;
    for (const ValueSpec& one : kind.values) keys += (keys.empty() ? "" : ", ") + std::string(one.key);
    return at(*entry, {.code = Code::kUnknownValue,
                       .part = (*part)->name,
                       .found = in_quotes(*key),
                       .expected = keys.empty() ? "no values" : keys});
  }
  const Result<JsonNode> value = need(node, "value");
  if (!value) return value.error();
  const Result<double> number = read_value(*value, kind, index, (*part)->name);
  if (!number) return number.error();
  return Edit{SetValue{(*part)->name, *key, *number}};
}

Result<Edit> read_remove(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  return Edit{RemovePart{(*part)->name}};
}

Result<Edit> read_press(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  return Edit{PressPart{(*part)->name, node.find("edit")->text() == "press"}};
}

Result<Edit> read_slide(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "position"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<JsonNode> entry = need(node, "position");
  if (!entry) return entry.error();
  const Result<int> position = read_whole(*entry, -1'000'000, 1'000'000);
  if (!position) return position.error();
  return Edit{SlidePart{(*part)->name, *position}};
}

Result<Edit> read_switch(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "on"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<JsonNode> entry = need(node, "on");
  if (!entry) return entry.error();
  const Result<bool> on = read_bool(*entry);
  if (!on) return on.error();
  return Edit{SwitchSupply{(*part)->name, *on}};
}

Result<Edit> read_rename(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "name"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<std::string> name = read_text_of(node, "name");
  if (!name) return name.error();
  return Edit{RenamePart{(*part)->name, *name}};
}

Result<Edit> read_label(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "label"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<std::string> label = read_text_of(node, "label");
  if (!label) return label.error();
  return Edit{LabelPart{(*part)->name, *label}};
}

Result<Edit> read_route(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "bends"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  const Result<JsonNode> entry = need(node, "bends");
  if (!entry) return entry.error();
  const Result<std::vector<MatPoint>> bends = read_bends(*entry);
  if (!bends) return bends.error();
  return Edit{RouteWire{(*part)->name, *bends}};
}

Result<Edit> read_boards(const JsonNode& node, const Context&) {
  if (const Status status = check_keys(node, {"edit", "breadboards"}); !status) return status.error();
  const Result<JsonNode> entry = need(node, "breadboards");
  if (!entry) return entry.error();
  const Result<std::vector<Breadboard>> breadboards = read_breadboards(*entry);
  if (!breadboards) return breadboards.error();
  return Edit{SetBreadboards{*breadboards}};
}

Result<Edit> read_title(const JsonNode& node, const Context&) {
  if (const Status status = check_keys(node, {"edit", "title"}); !status) return status.error();
  const Result<std::string> title = read_text_of(node, "title");
  if (!title) return title.error();
  return Edit{SetTitle{*title}};
}

Result<Edit> read_replace(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  return Edit{ReplacePart{(*part)->name}};
}

// {"edit":"defect","part":"R1","is":{"kind":"open"},"hidden":true}; without "is" the part is whole.
Result<Edit> read_defective(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "part", "is", "sealed", "hidden", "specimen", "by_use"}); !status) return status.error();
  const Result<const Part*> part = read_part_of(node, context.board);
  if (!part) return part.error();
  SetDefect edit{.part = (*part)->name};
  if (const std::optional<JsonNode> entry = node.find("is")) {
    const Result<Defect> defect = read_defect(*entry, *(*part)->kind);
    if (!defect) return defect.error();
    edit.defect = *defect;
  } else if (const std::optional<JsonNode> sealed = node.find("sealed")) {
    const Result<Defect> defect = read_sealed(*sealed, *(*part)->kind, edit.part);
    if (!defect) return defect.error();
    edit.defect = *defect;
  }
  for (const auto& [name, flag] : {std::pair{"hidden", &edit.defect.hidden}, std::pair{"by_use", &edit.by_use}})
    if (const std::optional<JsonNode> entry = node.find(name)) {
      const Result<bool> value = read_bool(*entry);
      if (!value) return value.error();
      *flag = *value;
    }
  if (!edit.defect) edit.defect.hidden = false;
  if (const std::optional<JsonNode> entry = node.find("specimen")) {
    const Result<int> number = read_whole(*entry, 0, kMostSpecimens);
    if (!number) return number.error();
    edit.specimen = *number;
  }
  return Edit{std::move(edit)};
}

Result<Edit> read_realism_edit(const JsonNode& node, const Context&) {
  if (const Status status = check_keys(node, {"edit", "realism"}); !status) return status.error();
  const Result<JsonNode> entry = need(node, "realism");
  if (!entry) return entry.error();
  const Result<Realism> realism = read_realism(*entry);
  if (!realism) return realism.error();
  return Edit{SetRealism{*realism}};
}

Result<Edit> read_hunt_edit(const JsonNode& node, const Context&) {
  if (const Status status = check_keys(node, {"edit", "entries"}); !status) return status.error();
  const Result<JsonNode> entry = need(node, "entries");
  if (!entry) return entry.error();
  Result<std::vector<HuntEntry>> entries = read_hunt(*entry);
  if (!entries) return entries.error();
  return Edit{SetHunt{std::move(entries).value()}};
}

Result<Edit> read_any(const JsonNode& node, const Context& context);

// Moves of different parts and nothing else: they happen at once, so each is read against the board as it is.
std::optional<Batch> read_moves(const JsonNode& list, const Context& context) {
  Batch batch;
  for (size_t i = 0; i < list.size(); ++i) {
    const JsonNode entry = list.item(i);
    const std::optional<JsonNode> word = entry.is(JsonNode::Type::kObject) ? entry.find("edit") : std::nullopt;
    if (!word || !word->is(JsonNode::Type::kText) || word->text() != "move") return std::nullopt;
    Result<Edit> edit = read_move(entry, context);
    if (!edit) return std::nullopt;
    batch.edits.push_back(std::move(edit).value());
  }
  if (!moves_at_once(batch)) return std::nullopt;
  return batch;
}

// Each edit is read against the board as the ones before it leave it: a part placed by the first may be moved by the second.
Result<Edit> read_batch(const JsonNode& node, const Context& context) {
  if (const Status status = check_keys(node, {"edit", "edits"}); !status) return status.error();
  const Result<JsonNode> list = need(node, "edits");
  if (!list) return list.error();
  if (const Status status = expect_list(*list); !status) return status.error();
  if (list->size() > kMaxBatch)
    return at(
        *list,
        {.code = Code::kTooMany, .found = std::to_string(list->size()) + " edits", .expected = std::to_string(kMaxBatch)});
  if (context.depth >= kMaxBatchDepth)
    return at(node, {.code = Code::kTooMany,
                     .found = "a batch inside " + std::to_string(context.depth) + " others",
                     .expected = std::to_string(kMaxBatchDepth)});
  if (std::optional<Batch> moves = read_moves(*list, context)) {
    if (const Status status = check(context.board, Edit{*moves}); !status) return at(node, status.error());
    return Edit{std::move(*moves)};
  }
  Batch batch;
  Board after = context.board;
  for (size_t i = 0; i < list->size(); ++i) {
    const JsonNode entry = list->item(i);
    Result<Edit> edit = read_any(entry, {after, context.catalogue, context.depth + 1});
    if (!edit) return edit.error();
    const Result<Applied> applied = apply(after, *edit);
    if (!applied) return at(entry, applied.error());
    batch.edits.push_back(std::move(edit).value());
  }
  return Edit{std::move(batch)};
}

struct Word {
  std::string_view word;
  Result<Edit> (*read)(const JsonNode& node, const Context& context);
};
constexpr std::array kWords = {
    Word{"place", read_place},   Word{"move", read_move},          Word{"turn", read_turn},
    Word{"seat", read_seat},     Word{"remove", read_remove},      Word{"set", read_set},
    Word{"rename", read_rename}, Word{"label", read_label},        Word{"route", read_route},
    Word{"press", read_press},   Word{"release", read_press},      Word{"slide", read_slide},
    Word{"switch", read_switch}, Word{"breadboards", read_boards}, Word{"title", read_title},
    Word{"replace", read_replace}, Word{"defect", read_defective}, Word{"realism", read_realism_edit},
    Word{"hunt", read_hunt_edit}, Word{"batch", read_batch},
};

Result<Edit> read_any(const JsonNode& node, const Context& context) {
  const Result<JsonNode> entry = need(node, "edit");
  if (!entry) return entry.error();
  const Result<std::string> word = read_text(*entry);
  if (!word) return word.error();
  std::string words;
  for (const Word& one : kWords) {
    if (one.word == *word) return one.read(node, context);
    words += (words.empty() ? "one of " : ", ") + std::string(one.word);
  }
  return at(*entry, {.code = Code::kBadValue, .found = "edit " + in_quotes(*word), .expected = words});
}

// ---- writing: one function per edit, giving the text between the braces ----

std::string head(std::string_view word) { return "\"edit\":" + json_text(word); }
std::string head(std::string_view word, std::string_view part) { return head(word) + ",\"part\":" + json_text(part); }

std::string write(const PlacePart& edit, const Board& board) {
  std::string out = head("place");
  if (edit.part.kind) out += "," + write_part(board, edit.part);
  if (edit.index >= 0) out += ",\"index\":" + std::to_string(edit.index);
  return out;
}

std::string write(const MovePart& edit, const Board& board) {
  std::string out = head("move", edit.part);
  const Part* part = board.find(edit.part);
  if (!part) return out;
  const Seat seat = part->kind->footprint.seat;
  if (seat == Seat::kRigid) {
    if (!edit.leads.empty()) out += ",\"at\":" + json_text(board.name_of(edit.leads[0]));
    out += ",\"turn\":" + std::to_string((edit.turn % 4 + 4) % 4);
  } else {
    if (seat == Seat::kMat) out += ",\"mat\":" + write_point(edit.mat);
    if (!edit.leads.empty()) out += ",\"leads\":" + write_leads(board, *part->kind, edit.leads);
  }
  if (edit.bends && part->kind->conductor) out += ",\"bends\":" + write_bends(*edit.bends);
  return out;
}

std::string write(const TurnPart& edit, const Board&) {
  return head("turn", edit.part) + ",\"quarters\":" + std::to_string(edit.quarters);
}

std::string write(const SeatLead& edit, const Board& board) {
  const Part* part = board.find(edit.part);
  const bool known = part && edit.lead >= 0 && edit.lead < static_cast<int>(part->kind->leads.size());
  const std::string lead =
      known ? std::string(part->kind->leads[static_cast<size_t>(edit.lead)].name) : std::to_string(edit.lead + 1);
  return head("seat", edit.part) + ",\"lead\":" + json_text(lead) +
         ",\"hole\":" + (edit.hole.valid() ? json_text(board.name_of(edit.hole)) : "null");
}

std::string write(const RemovePart& edit, const Board&) { return head("remove", edit.part); }

std::string write(const SetValue& edit, const Board& board) {
  const Part* part = board.find(edit.part);
  const int index = part ? value_index(*part->kind, edit.key) : -1;
  return head("set", edit.part) + ",\"key\":" + json_text(edit.key) + ",\"value\":" +
         (index < 0 ? json_number(edit.value) : write_value(part->kind->values[static_cast<size_t>(index)], edit.value));
}

std::string write(const RenamePart& edit, const Board&) {
  return head("rename", edit.part) + ",\"name\":" + json_text(edit.name);
}
std::string write(const LabelPart& edit, const Board&) {
  return head("label", edit.part) + ",\"label\":" + json_text(edit.label);
}
std::string write(const RouteWire& edit, const Board&) {
  return head("route", edit.part) + ",\"bends\":" + write_bends(edit.bends);
}
std::string write(const PressPart& edit, const Board&) { return head(edit.down ? "press" : "release", edit.part); }

std::string write(const SlidePart& edit, const Board&) {
  return head("slide", edit.part) + ",\"position\":" + std::to_string(edit.position);
}

std::string write(const SwitchSupply& edit, const Board&) {
  return head("switch", edit.part) + ",\"on\":" + (edit.on ? "true" : "false");
}

std::string write(const SetBreadboards& edit, const Board&) {
  std::string list;
  for (const Breadboard& breadboard : edit.breadboards) list += (list.empty() ? "" : ",") + write_breadboard(breadboard);
  return head("breadboards") + ",\"breadboards\":[" + list + "]";
}

std::string write(const ReplacePart& edit, const Board&) { return head("replace", edit.part); }

std::string write(const SetDefect& edit, const Board& board) {
  const Part* part = board.find(edit.part);
  std::string out = head("defect", edit.part);
  if (part && edit.defect.hidden) out += ",\"sealed\":" + json_text(seal_defect(*part->kind, edit.defect, edit.part));
  else if (part && edit.defect) out += ",\"is\":" + write_defect(*part->kind, edit.defect);
  if (edit.specimen >= 0) out += ",\"specimen\":" + std::to_string(edit.specimen);
  if (edit.by_use) out += ",\"by_use\":true";
  return out;
}

std::string write(const SetRealism& edit, const Board&) { return head("realism") + ",\"realism\":" + write_realism(edit.realism); }
std::string write(const SetHunt& edit, const Board&) { return head("hunt") + ",\"entries\":" + write_hunt(edit.entries); }

std::string write(const SetTitle& edit, const Board&) { return head("title") + ",\"title\":" + json_text(edit.title); }

// As in reading: each edit is written against the board as the ones before it leave it.
std::string write(const Batch& batch, const Board& board) {
  std::string list;
  Board after = board;
  const bool at_once = moves_at_once(batch);
  for (const Edit& edit : batch.edits) {
    list += (list.empty() ? "" : ",") + write_edit(edit, after);
    // One that does not fit (as when it has been carried out already) is written all the same; reading it will say so.
    if (!at_once) static_cast<void>(apply(after, edit));
  }
  return head("batch") + ",\"edits\":[" + list + "]";
}

}  // namespace

Result<Edit> read_edit(std::string_view text, const Board& board, const Catalogue& catalogue) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  return read_edit(json->root(), board, catalogue);
}

Result<Edit> read_edit(const JsonNode& node, const Board& board, const Catalogue& catalogue) {
  return read_any(node, {board, catalogue});
}

std::string write_edit(const Edit& edit, const Board& board) {
  return "{" + std::visit([&](const auto& one) { return write(one, board); }, edit.act) + "}";
}

}  // namespace tiepoint
