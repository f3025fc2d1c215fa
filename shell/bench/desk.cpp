#include "shell/bench/desk.h"

#include "engine/parts/part_type.h"

#include <algorithm>
#include <cstring>

#include "shell/bench/several.h"
#include "shell/bench/shown.h"
#include "shell/bench/tool.h"
#include "shell/words/words.h"

namespace tiepoint {

Desk::Desk() = default;
Desk::~Desk() = default;

std::string phrase(std::string_view key, const Error& e) {
  return say(key, {{"part", e.part}, {"lead", e.lead}, {"hole", e.hole}, {"found", said_in_language(e.found)}, {"expected", said_in_language(e.expected)}});
}

std::string text(const Message& message) { return message.key.empty() ? std::string() : phrase(message.key, message.error); }

const PartReading* Desk::reading_of(const Part& part) const {
  const int index = board().index_of(part.id);
  const std::vector<PartReading>& all = session.readings().parts;
  return index >= 0 && size_t(index) < all.size() ? &all[size_t(index)] : nullptr;
}

PartNumbers Desk::shown(const Part& part, const PartNumbers& reading) const { return shown_of(part, flicker.steadied(part.id, reading)); }

bool Desk::step_time() {
  if (view.time_scale > 0) {
    tell("bench.step.running");
    return false;
  }
  session.set_eye(view.step);
  session.advance(view.step);
  tell("bench.step.done", {}, say_quantity(view.step, "s"));
  return true;
}

void Desk::tell(std::string_view key, std::string_view part, std::string_view found, std::string_view hole) {
  message.key = key;
  message.error = {};
  message.error.part = part, message.error.found = found, message.error.hole = hole;
  message.refused = false;
  message.time = now, message.at = pointer.at;
  ++message.number;
  ++view_revision;
}

namespace {
constexpr size_t kMostRecent = 8;  // as many as lie beside each other
void note_use(std::vector<const PartKind*>& recent, const PartKind* kind) {
  std::erase(recent, kind);
  recent.insert(recent.begin(), kind);
  if (recent.size() > kMostRecent) recent.pop_back();
}
}  // namespace

void Desk::remember_kinds() {
  for (const Part& part : board().parts) note_use(recent, part.kind);
}

void Desk::refuse(const Error& error) {
  message.key = "error." + std::string(key(error.code));
  message.error = error;
  message.refused = true;
  message.time = now, message.at = pointer.at;
  ++message.number;
  ++view_revision;
}

std::string names_in_words(std::span<const std::string> names) {
  switch (names.size()) {
    case 0: return {};
    case 1: return names[0];
    case 2: return say("bench.names.2", {{"first", names[0]}, {"second", names[1]}});
    case 3: return say("bench.names.3", {{"first", names[0]}, {"second", names[1]}, {"third", names[2]}});
    default: return say("bench.names.more", {{"first", names[0]}, {"second", names[1]}, {"count", std::to_string(names.size() - 2)}});
  }
}

namespace {
std::string_view told_as(const Edit& edit) {
  struct {
    std::string_view operator()(const PlacePart&) { return "bench.placed"; }
    std::string_view operator()(const MovePart&) { return "bench.moved"; }
    std::string_view operator()(const TurnPart&) { return "bench.turned"; }
    std::string_view operator()(const SeatLead& e) { return e.hole.valid() ? "bench.seated" : "bench.lifted"; }
    std::string_view operator()(const RemovePart&) { return "bench.removed"; }
    std::string_view operator()(const SetValue&) { return "bench.set"; }
    std::string_view operator()(const PressPart& e) { return e.down ? "bench.pressed" : "bench.released"; }
    std::string_view operator()(const SlidePart&) { return "bench.slid"; }
    std::string_view operator()(const SwitchSupply& e) { return e.on ? "bench.switched-on" : "bench.switched-off"; }
    std::string_view operator()(const RenamePart&) { return "bench.changed"; }
    std::string_view operator()(const LabelPart&) { return "bench.changed"; }
    std::string_view operator()(const RouteWire&) { return "bench.changed"; }
    std::string_view operator()(const SetBreadboards&) { return "bench.changed"; }
    std::string_view operator()(const SetTitle&) { return "bench.changed"; }
    std::string_view operator()(const ReplacePart&) { return "bench.replaced"; }
    std::string_view operator()(const SetDefect&) { return "bench.changed"; }
    std::string_view operator()(const SetRealism&) { return "bench.changed"; }
    std::string_view operator()(const SetHunt&) { return "bench.changed"; }
    // Of one sort as a rule: removed, moved, turned, placed.
    std::string_view operator()(const Batch& e) {
      if (e.edits.empty()) return "bench.changed";
      const size_t sort = e.edits.front().act.index();
      const bool alike = std::all_of(e.edits.begin(), e.edits.end(), [&](const Edit& one) { return one.act.index() == sort; });
      return alike && !std::holds_alternative<Batch>(e.edits.front().act) ? told_as(e.edits.front()) : "bench.changed";
    }
  } words;
  return std::visit(words, edit.act);
}

// The parts an edit is about, those it places under the names it gives them.
struct NamesOf {
  std::vector<std::string>& out;
  void operator()(const Batch& e) const {
    for (const Edit& one : e.edits) std::visit(*this, one.act);
  }
  void operator()(const PlacePart& e) const { out.push_back(e.part.name); }
  void operator()(const SetBreadboards&) const {}
  void operator()(const SetTitle&) const {}
  void operator()(const SetRealism&) const {}
  void operator()(const SetDefect& e) const {
    if (!e.defect.hidden) out.push_back(e.part);  // where it is hidden is not told
  }
  void operator()(const SetHunt&) const {}
  template <class Act>
  void operator()(const Act& e) const {
    out.push_back(e.part);
  }
};
void names_of(const Edit& edit, std::vector<std::string>& out) { std::visit(NamesOf{out}, edit.act); }

// What a hand does to a finished circuit: press, slide, switch, turn a knob.
bool works_only(const Edit& edit, const Board& board) {
  if (const SetValue* set = std::get_if<SetValue>(&edit.act)) {
    const Part* part = board.find(set->part);
    const int index = part ? value_index(*part->kind, set->key) : -1;
    if (index < 0) return false;
    const Body body = type_of(*part).body;  // instruments are set at their own knobs
    return part->kind->values[size_t(index)].use == Use::kPosition || body == Body::kBenchSupply || body == Body::kSignalSource ||
           body == Body::kOscilloscope || body == Body::kMeter;
  }
  return std::holds_alternative<PressPart>(edit.act) || std::holds_alternative<SlidePart>(edit.act) ||
         std::holds_alternative<SwitchSupply>(edit.act);
}

bool supply_is_on(const Part& part) { return is_supply(part) && is_on(part); }

void switch_off(Part& part) {
  if (part.kind == nullptr || !is_supply(part)) return;
  if (part.values.empty()) part.values = make_part(*part.kind).values;
  if (const int on = value_index(*part.kind, "on"); on >= 0) part.values[size_t(on)] = 0;
}

// Whatever an edit places is placed switched off.
void darken(Edit& edit) {
  if (PlacePart* place = std::get_if<PlacePart>(&edit.act)) switch_off(place->part);
  if (Batch* batch = std::get_if<Batch>(&edit.act))
    for (Edit& one : batch->edits) darken(one);
}

// The supply that an edit would leave switched on, "" for none. An edit that does not fit switches nothing on.
std::string switched_on(Board board, const Edit& edit) {
  if (!apply(board, edit)) return {};
  const auto on = std::find_if(board.parts.begin(), board.parts.end(), supply_is_on);
  return on == board.parts.end() ? std::string() : on->name;
}
}  // namespace

void switch_off_supplies(Board& board) {
  for (Part& part : board.parts) switch_off(part);
}

void Desk::lock_supplies(bool locked) {
  if (locked && !supplies_locked) {
    std::vector<Edit> edits;
    for (const Part& part : board().parts)
      if (supply_is_on(part)) edits.push_back({SwitchSupply{part.name, false}});
    if (!edits.empty()) (void)session.apply({Batch{std::move(edits)}});
  }
  supplies_locked = locked;
}

Result<Applied> Desk::act(const Edit& wanted) {
  Edit edit = wanted;
  if (supplies_locked) {
    darken(edit);
    if (const std::string part = switched_on(board(), edit); !part.empty()) {
      return stays_off(part);
    }
  }
  Result<Applied> done = read_only && !works_only(edit, board()) ? Result<Applied>(Error{.code = Code::kReadOnly}) : session.apply(edit);
  if (!done) {
    refuse(done.error());
    return done;
  }
  if (const PlacePart* place = std::get_if<PlacePart>(&edit.act)) note_use(recent, place->part.kind);
  std::vector<std::string> names;
  if (std::holds_alternative<Batch>(edit.act)) names_of(edit, names);
  tell(told_as(edit), names.empty() ? done->part : names_in_words(names));
  drop_gone();
  return done;
}

// Nothing stays selected that is not there.
void Desk::drop_gone() {
  if (std::erase_if(selection, [&](const std::string& name) { return board().find(name) == nullptr; }) == 0) return;
  card_shown = card_shown && !selection.empty();
  ++view_revision;
}

// The refusal of what would switch a supply on before its time.
Error Desk::stays_off(std::string_view part) {
  ++supply_refusals;
  const Error error = {.code = Code::kSupplyLocked, .part = std::string(part)};
  refuse(error);
  return error;
}

bool Desk::go(Result<Applied> (Session::*step)(), Result<Applied> (Session::*back)(), std::string_view words) {
  const Result<Applied> done = read_only ? Result<Applied>(Error{.code = Code::kReadOnly}) : (session.*step)();
  if (done && supplies_locked && std::any_of(board().parts.begin(), board().parts.end(), supply_is_on)) {
    (void)(session.*back)();
    stays_off(done->part);
    return false;
  }
  if (!done)
    refuse(done.error());
  else
    tell(words, done->part);
  drop_gone();
  return done.ok();
}

bool Desk::undo() { return go(&Session::undo, &Session::redo, "bench.undone"); }
bool Desk::redo() { return go(&Session::redo, &Session::undo, "bench.redone"); }

const std::string& Desk::selected() const {
  static const std::string none;
  return selection.size() == 1 ? selection.front() : none;
}

const Part* Desk::selected_wire() const {
  const Part* part = selected_part();
  const bool seated = part && part->kind->conductor && part->leads.size() == 2 && board().has(part->leads[0]) && board().has(part->leads[1]);
  return seated ? part : nullptr;
}

bool Desk::selects(std::string_view part) const { return std::find(selection.begin(), selection.end(), part) != selection.end(); }

void Desk::select(std::string_view part, bool with_card) {
  select_these(board().find(part) ? std::vector{std::string(part)} : std::vector<std::string>{}, with_card);
}

void Desk::select_these(std::vector<std::string> parts, bool with_card) {
  with_card = with_card && !parts.empty();
  if (selection == parts && card_shown == with_card) return;
  selection = std::move(parts);
  card_shown = with_card;
  card_whole = false;
  ++view_revision;
}

void Desk::select_all() {
  std::vector<std::string> all;
  for (const Part& part : board().parts) all.push_back(part.name);
  select_these(std::move(all));
}

void Desk::add(std::string_view part) {
  if (selects(part) || !board().find(part)) return;
  std::vector<std::string> more = selection;
  more.emplace_back(part);
  // One part's card would lie over the next that is wanted.
  const bool several = more.size() > 1;
  select_these(std::move(more), several);
}

void Desk::toggle(std::string_view part) {
  if (!selects(part)) return add(part);
  std::vector<std::string> fewer = selection;
  std::erase(fewer, part);
  const bool several = fewer.size() > 1;
  select_these(std::move(fewer), several);
}

bool Desk::held(std::string_view part) const {
  return std::any_of(holds.begin(), holds.end(), [&](const Hold& h) { return h.part == part; });
}

void Desk::hold(int source, std::string_view part) {
  for (const Hold& h : holds)
    if (h.source == source) return;
  const bool already = held(part);
  if (!already && !carry_out({PressPart{std::string(part), true}})) return;
  holds.push_back({source, std::string(part)});
}

void Desk::release(int source) {
  for (size_t i = 0; i < holds.size(); ++i) {
    if (holds[i].source != source) continue;
    const std::string part = holds[i].part;
    holds.erase(holds.begin() + long(i));
    if (!held(part) && board().find(part)) carry_out({PressPart{part, false}});
    return;
  }
}

void Desk::release_all() {
  while (!holds.empty()) release(holds.back().source);
}

void Desk::work(const Part& part) {
  const std::string name = part.name;
  if (is_supply(part)) {
    carry_out({SwitchSupply{name, !is_on(part)}});
    return;
  }
  for (size_t i = 0; i < part.kind->values.size(); ++i) {
    const ValueSpec& v = part.kind->values[i];
    if (v.use != Use::kPosition) continue;
    const int next = int(part.values[i]) + 1;
    carry_out({SlidePart{name, next > int(v.maximum) ? int(v.minimum) : next}});
    return;
  }
}

void Desk::turn_selected(int quarters) {
  if (selection.empty()) return;
  const Result<Edit> edit = turn_parts(board(), selection, quarters);
  edit ? void(act(*edit)) : refuse(edit.error());
}

void Desk::remove_selected() {
  if (selection.empty()) return;
  std::erase_if(holds, [&](const Hold& h) { return selects(h.part); });
  carry_out(remove_parts(selection));
}

void Desk::nudge_selected(int dx, int dy) {
  if (selection.empty()) return;
  const Result<Edit> edit = nudge_parts(board(), selection, dx, dy);
  edit ? void(act(*edit)) : refuse(edit.error());
}

Result<std::vector<std::string>> Desk::paste(std::string_view text) {
  std::vector<std::string> names;
  const Result<Edit> edit = paste_parts(board(), text, catalogue());
  if (!edit) return edit.error();
  if (const Batch* batch = std::get_if<Batch>(&edit->act); batch && batch->edits.empty()) {
    return names;
  }
  if (const Result<Applied> done = act(*edit); !done) return done.error();
  names_of(*edit, names);
  select_these(names, false);  // no card in the way of the next thing
  return names;
}

Result<std::vector<std::string>> Desk::duplicate_selected() {
  if (selection.empty()) return std::vector<std::string>{};
  Result<std::vector<std::string>> names = paste(copy_parts(board(), selection));
  if (names && names->empty()) {
    tell("bench.no-room");
    message.refused = true;
  }
  return names;
}

void Desk::use(std::unique_ptr<Tool> next) {
  tool = std::move(next);
  ++view_revision;
}

void Desk::mark(std::string_view kind, std::string_view name, std::string_view lead, const Box& box) {
  Widget w;
  size_t n = 0;
  const auto put = [&](std::string_view words) {
    const size_t room = sizeof w.id - 1 - n, take = std::min(room, words.size());
    std::memcpy(w.id + n, words.data(), take);
    n += take;
  };
  put(kind);
  if (!name.empty()) put("."), put(name);
  if (!lead.empty()) put("."), put(lead);
  w.id[n] = 0;
  const ImVec2 size = box.size();
  w.x = box.min.x, w.y = box.min.y, w.w = size.x, w.h = size.y;
  widgets.push_back(w);
}

double next_wire_colour(const Board& board, Hole from, Hole to) {
  const PartKind* kind = catalogue().find("jumper-wire");
  if (kind == nullptr) return 0;
  const int value = value_index(*kind, "colour");
  if (value < 0) return 0;
  const auto& options = kind->values[size_t(value)].options;
  const auto option = [&](std::string_view word) {
    for (size_t i = 0; i < options.size(); ++i)
      if (options[i] == word) return double(i);
    return 0.0;
  };
  for (Hole hole : {from, to}) {
    if (!hole.valid() || !board.has(hole)) continue;
    const HolePlace place = place_of(board.layout_of(hole), hole.index);
    if (!place.on_rail) continue;
    return option(place.rail == Rail::kTopPlus || place.rail == Rail::kBottomPlus ? "red" : "black");
  }
  static constexpr std::string_view kOthers[] = {"yellow", "green", "blue", "orange", "white", "violet"};
  size_t wires = 0;
  for (const Part& part : board.parts) {
    if (part.kind != kind) continue;
    const std::string_view colour = options[std::min(size_t(part.values[size_t(value)]), options.size() - 1)];
    wires += colour != "red" && colour != "black";
  }
  return option(kOthers[wires % std::size(kOthers)]);
}

}  // namespace tiepoint
