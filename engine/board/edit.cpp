#include "engine/board/edit.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/board/words.h"

namespace tiepoint {
namespace {

// ---- checks of single fields ----

Status check_name(const Board& board, std::string_view name, PartId owner) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto plain = [&](char c) { return letter(c) || (c >= '0' && c <= '9') || c == '-' || c == '_'; };
  if (name.empty() || name.size() > kLongestName || !letter(name[0]) || !std::all_of(name.begin(), name.end(), plain))
    return Error{.code = Code::kBadName,
                 .found = in_quotes(name),
                 .expected = "1 to " + std::to_string(kLongestName) + " letters, digits, - or _, a letter first"};
  const Part* other = board.find(name);
  if (other && other->id != owner)
    return Error{.code = Code::kNameTaken, .part = std::string(name), .found = std::string(name)};
  return done();
}

Status check_text(std::string_view text) {
  if (text.size() <= kLongestText && is_utf8(text)) return done();
  return Error{.code = Code::kBadValue,
               .found = text.size() > kLongestText ? "a text of " + std::to_string(text.size()) + " bytes" : in_quotes(text),
               .expected = "at most " + std::to_string(kLongestText) + " bytes of UTF-8"};
}

Status check_mat(MatPoint point) {
  if (std::abs(point.x) <= kMatReach && std::abs(point.y) <= kMatReach) return done();  // false for NaN
  return Error{.code = Code::kBadValue,
               .found = number_text(point.x) + ", " + number_text(point.y),
               .expected = "a place on the mat, at most " + number_text(kMatReach) + " holes from its middle"};
}

Status check_bends(const Part& part, const std::vector<MatPoint>& bends) {
  if (bends.empty()) return done();
  if (!part.kind->conductor)
    return Error{.code = Code::kBadValue,
                 .part = part.name,
                 .found = part.name,
                 .expected = "a wire, nothing else is bent along a route"};
  if (bends.size() > kMaxBends)
    return Error{.code = Code::kTooMany,
                 .part = part.name,
                 .found = std::to_string(bends.size()) + " bends",
                 .expected = std::to_string(kMaxBends) + " bends"};
  for (const MatPoint bend : bends)
    if (const Status status = check_mat(bend); !status) return status;
  return done();
}

Error with_part(Error error, std::string_view part) {
  error.part = part;
  return error;
}

std::string names_of(std::span<const LeadSpec> leads) {
  std::string out;
  for (const LeadSpec& lead : leads) out += (out.empty() ? "" : ", ") + std::string(lead.name);
  return out.empty() ? "no leads" : out;
}

std::string names_of(std::span<const ValueSpec> values) {
  std::string out;
  for (const ValueSpec& value : values) out += (out.empty() ? "" : ", ") + std::string(value.key);
  return out.empty() ? "no values" : out;
}

Error lead_error(const Part& part, int lead) {
  return {.code = Code::kUnknownLead,
          .part = part.name,
          .found = "number " + std::to_string(lead + 1),
          .expected = names_of(part.kind->leads)};
}

// ---- helpers of several edits ----

// The part an edit is about, null when the board has none of that name.
Part* find_part(Board& board, std::string_view name) { return const_cast<Part*>(board.find(name)); }
Error no_part(std::string_view name) { return {.code = Code::kUnknownPart, .part = shown_name(name)}; }

// Puts a part into the state `after`, which differs only in its seat; the inverse is the move back.
Result<Applied> reseat(const Board& board, Part& part, Part after) {
  if (const Status status = check_seat(board, after); !status) return status.error();
  if (const Status status = check_mat(after.mat); !status) return with_part(status.error(), part.name);
  if (const Status status = check_bends(part, after.bends); !status) return with_part(status.error(), part.name);
  Applied applied{.part = part.name, .structural = part.leads != after.leads};
  applied.inverse.act = MovePart{part.name, part.leads, part.turn, part.mat, part.bends};
  part = std::move(after);
  return applied;
}

// All pins of a rigid part, lead 0 in `anchor`.
Status seat_rigid(const Board& board, Part& part, Hole anchor) {
  Result<std::vector<Hole>> holes = rigid_holes(board, *part.kind, anchor, part.turn);
  if (!holes) return with_part(holes.error(), part.name);
  part.leads = std::move(holes).value();
  return done();
}

// The step by which all leads move alike; none when they do not, or one of them is in the air.
std::optional<MatPoint> common_step(const Board& board, const std::vector<Hole>& from, const std::vector<Hole>& to) {
  std::optional<MatPoint> step;
  for (size_t lead = 0; lead < from.size(); ++lead) {
    if (!board.has(from[lead]) || !board.has(to[lead])) return std::nullopt;
    const MatPoint a = board.mat_of(from[lead]), b = board.mat_of(to[lead]);
    const MatPoint moved{b.x - a.x, b.y - a.y};
    if (step && !(*step == moved)) return std::nullopt;
    step = moved;
  }
  return step;
}

// Sets value number `index`; the inverse sets it back.
Result<Applied> set_value(Part& part, int index, double value) {
  if (const Status status = check_value(*part.kind, index, value); !status) return with_part(status.error(), part.name);
  const ValueSpec& spec = part.kind->values[static_cast<size_t>(index)];
  double& place = part.values[static_cast<size_t>(index)];
  Applied applied{.part = part.name, .structural = false, .momentary = spec.use == Use::kMomentary};
  applied.inverse.act = SetValue{part.name, std::string(spec.key), place};
  place = value;
  return applied;
}

int first_of(const PartKind& kind, Use use) {
  for (size_t i = 0; i < kind.values.size(); ++i)
    if (kind.values[i].use == use) return static_cast<int>(i);
  return -1;
}

Result<Applied> set_hand(Board& board, std::string_view name, int (*which)(const PartKind&), double value) {
  Part* part = find_part(board, name);
  if (!part) return no_part(name);
  const int index = which(*part->kind);
  if (index < 0) return Error{.code = Code::kNotASwitch, .part = part->name};
  return set_value(*part, index, value);
}

// ---- place ----

Status complete_leads(const Board& board, Part& part) {
  if (part.leads.size() > part.kind->leads.size()) return lead_error(part, static_cast<int>(part.leads.size()) - 1);
  part.leads.resize(part.kind->leads.size());
  part.turn = part.kind->footprint.seat == Seat::kRigid ? (part.turn % 4 + 4) % 4 : 0;
  if (part.kind->footprint.seat != Seat::kMat) part.mat = {};
  if (part.kind->footprint.seat == Seat::kRigid && !part.leads.empty()) return seat_rigid(board, part, part.leads[0]);
  return done();
}

Status complete_values(Part& part) {
  if (part.values.empty()) part.values = make_part(*part.kind).values;
  if (part.values.size() != part.kind->values.size())
    return Error{.code = Code::kUnknownValue,
                 .part = part.name,
                 .found = "number " + std::to_string(part.values.size()),
                 .expected = names_of(part.kind->values)};
  for (size_t i = 0; i < part.values.size(); ++i)
    if (const Status status = check_value(*part.kind, static_cast<int>(i), part.values[i]); !status)
      return with_part(status.error(), part.name);
  return done();
}

Status check_defect(const Part& part, const Defect& defect) {
  const auto fail = [&](double found, std::string expected) -> Status {
    return Error{.code = Code::kBadValue, .part = part.name, .found = "defect " + std::string(key(defect.kind)) + " " + number_text(found), .expected = std::move(expected)};
  };
  const int leads = int(part.kind->leads.size());
  if (defect.lead < 0 || defect.lead >= leads) return fail(defect.lead, "one of the leads");
  if (!std::isfinite(defect.amount) || !std::isfinite(defect.bore) || !std::isfinite(defect.rating) || !std::isfinite(defect.seconds))
    return fail(defect.amount, "finite numbers");
  switch (defect.kind) {
    case Defect::Kind::kShorted:
      return defect.other >= 0 && defect.other < leads && defect.other != defect.lead ? done() : fail(defect.other, "another of the leads");
    case Defect::Kind::kWorn: return defect.amount >= 0 && defect.amount <= 1e9 ? done() : fail(defect.amount, "0 to 1e9 ohm");
    case Defect::Kind::kOffValue:
      if (value_index(*part.kind, "resistance") < 0) return fail(defect.amount, "a part with a resistance");
      return defect.amount >= 1e-6 && defect.amount <= 1e6 ? done() : fail(defect.amount, "a factor from 1e-6 to 1e6");
    case Defect::Kind::kRunDown:
      if (value_index(*part.kind, "charge") < 0) return fail(defect.amount, "a battery");
      return defect.amount >= 0 && defect.amount <= 1 ? done() : fail(defect.amount, "0 to 1");
    case Defect::Kind::kStuck: {
      const auto control = std::find_if(part.kind->values.begin(), part.kind->values.end(), [](const ValueSpec& v) { return v.use != Use::kValue; });
      if (control == part.kind->values.end()) return fail(defect.amount, "a part that a hand moves");
      return defect.amount == std::floor(defect.amount) ? check_value(*part.kind, int(control - part.kind->values.begin()), defect.amount)
                                                        : fail(defect.amount, "a position");
    }
    default: return done();
  }
}

Status check_placed(const Board& board, const Part& part) {
  if (const Status status = check_seat(board, part); !status) return status;
  if (const Status status = check_mat(part.mat); !status) return with_part(status.error(), part.name);
  if (const Status status = check_bends(part, part.bends); !status) return with_part(status.error(), part.name);
  if (const Status status = check_text(part.label); !status) return with_part(status.error(), part.name);
  if (part.defect) return check_defect(part, part.defect);
  return done();
}

Result<Applied> act(Board& board, const PlacePart& edit) {
  Part part = edit.part;
  if (!part.kind) return Error{.code = Code::kUnknownKind, .part = part.name, .found = "\"\""};
  if (board.parts.size() >= kMaxParts)
    return Error{.code = Code::kTooMany,
                 .part = part.name,
                 .found = std::to_string(board.parts.size() + 1) + " parts",
                 .expected = std::to_string(kMaxParts) + " parts"};
  if (part.name.empty()) part.name = board.free_name(part.kind->prefix);
  if (board.find(part.id)) part.id = {};
  if (const Status status = check_name(board, part.name, {}); !status) return status.error();
  if (const Status status = complete_leads(board, part); !status) return status.error();
  if (const Status status = complete_values(part); !status) return status.error();
  if (const Status status = check_placed(board, part); !status) return status.error();
  if (!part.id) {
    for (const Part& other : board.parts) part.id = std::max(part.id, other.id);
    ++part.id.value;
  }
  Applied applied{.part = part.name};
  applied.inverse.act = RemovePart{part.name};
  const bool at_end = edit.index < 0 || edit.index > static_cast<int>(board.parts.size());
  board.parts.insert(at_end ? board.parts.end() : board.parts.begin() + edit.index, std::move(part));
  return applied;
}

Result<Applied> act(Board& board, const RemovePart& edit) {
  const Part* part = board.find(edit.part);
  if (!part) return no_part(edit.part);
  const auto index = part - board.parts.data();
  Applied applied{.part = part->name};
  applied.inverse.act = PlacePart{*part, static_cast<int>(index)};
  board.parts.erase(board.parts.begin() + index);
  return applied;
}

// ---- move, turn, seat ----

// The part as it would stand after the move, the other parts not asked.
Result<Part> moved(const Board& board, const Part& part, const MovePart& edit) {
  if (edit.leads.size() > part.leads.size()) return lead_error(part, static_cast<int>(edit.leads.size()) - 1);
  Part after = part;
  if (!edit.leads.empty()) {
    after.leads = edit.leads;
    after.leads.resize(part.leads.size());
  }
  const Seat seat = part.kind->footprint.seat;
  if (seat == Seat::kMat) after.mat = edit.mat;
  if (seat == Seat::kRigid) {
    after.turn = (edit.turn % 4 + 4) % 4;
    if (!after.leads.empty())
      if (const Status status = seat_rigid(board, after, after.leads[0]); !status) return status.error();
  }
  if (edit.bends) {
    after.bends = *edit.bends;
  } else if (const std::optional<MatPoint> step = common_step(board, part.leads, after.leads)) {
    for (MatPoint& bend : after.bends) bend = {bend.x + step->x, bend.y + step->y};
  }
  return after;
}

Result<Applied> act(Board& board, const MovePart& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  Result<Part> after = moved(board, *part, edit);
  if (!after) return after.error();
  return reseat(board, *part, std::move(after).value());
}

Result<Applied> act(Board& board, const SeatLead& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  if (edit.lead < 0 || edit.lead >= static_cast<int>(part->leads.size())) return lead_error(*part, edit.lead);
  const auto lead = static_cast<size_t>(edit.lead);
  Part after = *part;
  after.leads[lead] = edit.hole;
  if (part->kind->footprint.seat == Seat::kRigid) {
    const Error off_board{.code = Code::kOffBoard, .part = part->name, .lead = std::string(part->kind->leads[lead].name)};
    if (!board.has(edit.hole)) return off_board;
    const MatPoint to = board.mat_of(edit.hole), pin = board.mat_of(part->leads[lead]), first = board.mat_of(part->leads[0]);
    const Hole anchor = board.hole_at({static_cast<int>(to.x - pin.x + first.x), static_cast<int>(to.y - pin.y + first.y)});
    if (const Status status = seat_rigid(board, after, anchor); !status) return status.error();
  }
  return reseat(board, *part, std::move(after));
}

// The hole of lead 0 that keeps the middle of the pins in place while the part turns. When length and width differ by an odd
// number of steps the middle falls between grid points; it then moves half a step down and right on the way to an odd turn
// and back again on the way to an even one, so that four turns end where they began.
Hole turned_anchor(const Board& board, const Part& part, int quarters) {
  GridPoint low{1 << 20, 1 << 20}, high{-(1 << 20), -(1 << 20)}, low_step = low;
  for (size_t lead = 0; lead < part.leads.size(); ++lead) {
    const MatPoint at = board.mat_of(part.leads[lead]);
    const GridPoint pin{static_cast<int>(at.x), static_cast<int>(at.y)};
    low = {std::min(low.x, pin.x), std::min(low.y, pin.y)};
    high = {std::max(high.x, pin.x), std::max(high.y, pin.y)};
    const LeadSpec& spec = part.kind->leads[lead];
    const LeadSpec& first = part.kind->leads[0];
    const GridPoint step = turned({spec.dx - first.dx, spec.dy - first.dy}, part.turn + quarters);
    low_step = {std::min(low_step.x, step.x), std::min(low_step.y, step.y)};
  }
  GridPoint size{high.x - low.x, high.y - low.y};
  GridPoint twice_middle{low.x + high.x, low.y + high.y};
  if (quarters % 2 != 0) {
    const int shift = (size.x + size.y) % 2 == 0 ? 0 : part.turn % 2 == 0 ? 1 : -1;
    twice_middle = {twice_middle.x + shift, twice_middle.y + shift};
    size = {size.y, size.x};
  }
  return board.hole_at({(twice_middle.x - size.x) / 2 - low_step.x, (twice_middle.y - size.y) / 2 - low_step.y});
}

// New holes of a flexible part: ends swapped at two quarters, swung about lead 0 otherwise. False when there is no such place.
bool swing(const Board& board, Part& part, int quarters) {
  if (part.leads.size() < 2) return false;
  if (quarters == 2) {
    std::reverse(part.leads.begin(), part.leads.end());
    std::reverse(part.bends.begin(), part.bends.end());
    return true;
  }
  if (!part.leads[0].valid()) return false;
  const MatPoint pivot = board.mat_of(part.leads[0]);
  bool moved = false;
  for (size_t lead = 1; lead < part.leads.size(); ++lead) {
    if (!part.leads[lead].valid()) continue;
    const MatPoint at = board.mat_of(part.leads[lead]);
    const GridPoint step = turned({static_cast<int>(at.x - pivot.x), static_cast<int>(at.y - pivot.y)}, quarters);
    part.leads[lead] = board.hole_at({static_cast<int>(pivot.x) + step.x, static_cast<int>(pivot.y) + step.y});
    if (!part.leads[lead].valid()) return false;
    moved = true;
  }
  part.bends.clear();
  return moved;
}

Result<Applied> act(Board& board, const TurnPart& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  const int quarters = (edit.quarters % 4 + 4) % 4;
  const Error cannot{.code = Code::kCannotTurn, .part = part->name};
  const Seat seat = part->kind->footprint.seat;
  if (seat == Seat::kMat || part->leads.empty()) return cannot;
  Part after = *part;
  if (seat == Seat::kRigid) {
    after.turn = (part->turn + quarters) % 4;
    if (!seat_rigid(board, after, turned_anchor(board, *part, quarters))) return cannot;
  } else if (quarters != 0 && !swing(board, after, quarters)) {
    return cannot;
  }
  return reseat(board, *part, std::move(after));
}

// ---- values and words ----

Result<Applied> act(Board& board, const SetValue& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  const int index = value_index(*part->kind, edit.key);
  if (index < 0)
    return Error{.code = Code::kUnknownValue,
                 .part = part->name,
                 .found = in_quotes(edit.key),
                 .expected = names_of(part->kind->values)};
  return set_value(*part, index, edit.value);
}

Result<Applied> act(Board& board, const PressPart& edit) {
  return set_hand(
      board, edit.part, [](const PartKind& kind) { return first_of(kind, Use::kMomentary); }, edit.down ? 1 : 0);
}

Result<Applied> act(Board& board, const SlidePart& edit) {
  return set_hand(
      board, edit.part, [](const PartKind& kind) { return first_of(kind, Use::kPosition); }, edit.position);
}

Result<Applied> act(Board& board, const SwitchSupply& edit) {
  return set_hand(
      board, edit.part, [](const PartKind& kind) { return value_index(kind, "on"); }, edit.on ? 1 : 0);
}

Result<Applied> act(Board& board, const RenamePart& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  if (const Status status = check_name(board, edit.name, part->id); !status) return with_part(status.error(), part->name);
  Applied applied{.part = edit.name, .structural = false};
  applied.inverse.act = RenamePart{edit.name, part->name};
  part->name = edit.name;
  return applied;
}

Result<Applied> act(Board& board, const LabelPart& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  if (const Status status = check_text(edit.label); !status) return with_part(status.error(), part->name);
  Applied applied{.part = part->name, .structural = false};
  applied.inverse.act = LabelPart{part->name, part->label};
  part->label = edit.label;
  return applied;
}

Result<Applied> act(Board& board, const RouteWire& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  if (const Status status = check_bends(*part, edit.bends); !status) return with_part(status.error(), part->name);
  Applied applied{.part = part->name, .structural = false};
  applied.inverse.act = RouteWire{part->name, part->bends};
  part->bends = edit.bends;
  return applied;
}

Result<Applied> act(Board& board, const SetTitle& edit) {
  if (const Status status = check_text(edit.title); !status) return status.error();
  Applied applied{.structural = false};
  applied.inverse.act = SetTitle{board.title};
  board.title = edit.title;
  return applied;
}

// ---- specimens ----

Result<Applied> act(Board& board, const SetDefect& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  if (edit.defect)
    if (const Status status = check_defect(*part, edit.defect); !status) return status.error();
  Applied applied{.part = part->name, .structural = true, .momentary = edit.by_use};
  applied.inverse.act = SetDefect{part->name, part->defect, part->specimen};
  part->defect = edit.defect;
  if (edit.specimen >= 0) part->specimen = std::min(edit.specimen, kMostSpecimens);
  return applied;
}

Result<Applied> act(Board& board, const ReplacePart& edit) {
  Part* part = find_part(board, edit.part);
  if (!part) return no_part(edit.part);
  return act(board, SetDefect{part->name, {}, (part->specimen + 1) % kMostSpecimens});
}

Result<Applied> act(Board& board, const SetRealism& edit) {
  Applied applied{.structural = board.realism.spread != edit.realism.spread || board.realism.seed != edit.realism.seed};
  applied.inverse.act = SetRealism{board.realism};
  board.realism = edit.realism;
  return applied;
}

Result<Applied> act(Board& board, const SetHunt& edit) {
  if (edit.entries.size() > kLongestHunt)
    return Error{.code = Code::kTooMany, .found = std::to_string(edit.entries.size()) + " entries", .expected = std::to_string(kLongestHunt)};
  for (const HuntEntry& entry : edit.entries)
    if (const Status status = check_text(entry.text); !status) return status.error();
  Applied applied{.structural = false};
  applied.inverse.act = SetHunt{board.hunt};
  board.hunt = edit.entries;
  return applied;
}

// ---- the whole board ----

// Leads keep the name of their hole, whose index may differ on another layout.
Result<Applied> act(Board& board, const SetBreadboards& edit) {
  if (const Status status = check_breadboards(edit.breadboards); !status) return status.error();
  Board after = board;
  after.breadboards = edit.breadboards;
  for (Part& part : after.parts)
    for (size_t lead = 0; lead < part.leads.size(); ++lead) {
      Hole& hole = part.leads[lead];
      if (!hole.valid()) continue;
      const HolePlace place = place_of(board.layout_of(hole), hole.index);
      const int index = hole.breadboard < after.breadboards.size() ? tiepoint::index_of(after.layout_of(hole), place) : -1;
      if (index < 0)
        return Error{.code = Code::kOffBoard,
                     .part = part.name,
                     .lead = std::string(part.kind->leads[lead].name),
                     .hole = board.name_of(hole)};
      hole.index = static_cast<uint16_t>(index);
    }
  for (const Part& part : after.parts)
    if (const Status status = check_seat(after, part); !status) return status.error();
  Applied applied;
  applied.inverse.act = SetBreadboards{board.breadboards};
  board = std::move(after);
  return applied;
}

// All parts leave their holes before the first takes its new ones.
Result<Applied> move_at_once(Board& board, const Batch& batch) {
  Board after = board;
  for (const Edit& edit : batch.edits) {
    const MovePart& move = std::get<MovePart>(edit.act);
    Part* part = find_part(after, move.part);
    if (!part) return no_part(move.part);
    Result<Part> there = moved(after, *part, move);
    if (!there) return there.error();
    *part = std::move(there).value();
  }
  Batch inverse;
  Applied all{.structural = false};
  for (const Edit& edit : batch.edits) {
    const Part& from = *board.find(std::get<MovePart>(edit.act).part);
    Part& to = *find_part(after, from.name);
    Result<Applied> one = reseat(after, to, to);
    if (!one) return one.error();
    all.structural = all.structural || from.leads != to.leads;
    inverse.edits.push_back({MovePart{from.name, from.leads, from.turn, from.mat, from.bends}});
  }
  all.inverse.act = std::move(inverse);
  board = std::move(after);
  return all;
}

Result<Applied> act(Board& board, const Batch& batch) {
  if (moves_at_once(batch)) return move_at_once(board, batch);
  Board after = board;  // worked on, so that a failure half way leaves nothing behind
  Batch inverse;
  Applied all{.structural = false, .momentary = !batch.edits.empty()};
  for (const Edit& edit : batch.edits) {
    Result<Applied> one = apply(after, edit);
    if (!one) return one.error();
    all.part = inverse.edits.empty() || all.part == one->part ? one->part : std::string();
    all.structural = all.structural || one->structural;
    all.momentary = all.momentary && one->momentary;
    inverse.edits.push_back(std::move(one.value().inverse));
  }
  std::reverse(inverse.edits.begin(), inverse.edits.end());
  all.inverse.act = std::move(inverse);
  board = std::move(after);
  return all;
}

}  // namespace

bool moves_at_once(const Batch& batch) {
  if (batch.edits.size() < 2) return false;
  std::set<std::string_view> names;
  return std::all_of(batch.edits.begin(), batch.edits.end(), [&](const Edit& edit) {
    const MovePart* move = std::get_if<MovePart>(&edit.act);
    return move && names.insert(move->part).second;
  });
}

Result<Applied> apply(Board& board, const Edit& edit) {
  return std::visit([&](const auto& one) { return act(board, one); }, edit.act);
}

Status check(const Board& board, const Edit& edit) {
  Board copy = board;
  const Result<Applied> result = apply(copy, edit);
  if (!result) return result.error();
  return done();
}

}  // namespace tiepoint
