#include "engine/board/board.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/board/words.h"

namespace tiepoint {
namespace {

// Distances on the grid are roots of whole numbers; anything closer than this is the same.
constexpr double kSame = 1e-9;  // hole steps

// A body seen from above: a rectangle about its centre, its length along the unit vector (ux, uy). Hole steps on the mat.
struct BodyBox {
  MatPoint centre;
  double ux = 1, uy = 0;
  double half_length = 0, half_width = 0;

  bool covers(MatPoint point) const {
    const double dx = point.x - centre.x, dy = point.y - centre.y;
    return std::abs(dx * ux + dy * uy) < half_length - kSame && std::abs(dy * ux - dx * uy) < half_width - kSame;
  }
};

bool stands_clear(const Footprint& footprint) { return footprint.body_length <= 0 || footprint.body_width <= 0; }

// Flexible parts lie between their first and last lead; rigid ones about the middle of the rectangle their pins span.
std::optional<BodyBox> body_of(const Board& board, const Part& part) {
  const Footprint& footprint = part.kind->footprint;
  if (footprint.seat == Seat::kMat || stands_clear(footprint) || part.leads.empty()) return std::nullopt;
  for (const Hole hole : part.leads)
    if (!board.has(hole)) return std::nullopt;
  BodyBox body{.half_length = footprint.body_length / 2, .half_width = footprint.body_width / 2};
  if (footprint.seat == Seat::kFlexible) {
    const MatPoint a = board.mat_of(part.leads.front()), b = board.mat_of(part.leads.back());
    const double distance = std::hypot(b.x - a.x, b.y - a.y);
    if (distance < kSame) return std::nullopt;
    body.centre = {(a.x + b.x) / 2, (a.y + b.y) / 2};
    body.ux = (b.x - a.x) / distance;
    body.uy = (b.y - a.y) / distance;
    return body;
  }
  MatPoint low = board.mat_of(part.leads[0]), high = low;
  for (const Hole hole : part.leads) {
    const MatPoint at = board.mat_of(hole);
    low = {std::min(low.x, at.x), std::min(low.y, at.y)};
    high = {std::max(high.x, at.x), std::max(high.y, at.y)};
  }
  body.centre = {(low.x + high.x) / 2, (low.y + high.y) / 2};
  if (part.turn % 2 != 0) {
    body.ux = 0;
    body.uy = 1;
  }
  return body;
}

bool has_lead_in(const Part& part, Hole hole) {
  return std::find(part.leads.begin(), part.leads.end(), hole) != part.leads.end();
}

bool covers(const Board& board, const Part& part, const BodyBox& body, Hole hole) {
  return body.covers(board.mat_of(hole)) && !has_lead_in(part, hole);
}

std::string lead_name(const Part& part, size_t lead) {
  return lead < part.kind->leads.size() ? std::string(part.kind->leads[lead].name) : std::to_string(lead + 1);
}

Error seat_error(Code code, const Board& board, const Part& part, size_t lead) {
  return {.code = code, .part = part.name, .lead = lead_name(part, lead), .hole = board.name_of(part.leads[lead])};
}

// Every hole exists, none is taken twice (probes may touch each other in one).
Status check_holes(const Board& board, const Part& part) {
  for (size_t lead = 0; lead < part.leads.size(); ++lead) {
    const Hole hole = part.leads[lead];
    if (!hole.valid()) continue;
    if (!board.has(hole)) {
      Error error = seat_error(Code::kUnknownHole, board, part, lead);
      const bool on_board = hole.breadboard < board.breadboards.size();
      error.found = "number " + std::to_string(hole.index) + " on breadboard " + std::to_string(hole.breadboard + 1);
      error.expected = on_board ? hole_range(board.layout_of(hole)) : "one on a breadboard that is there";
      return error;
    }
    for (size_t other = 0; other < lead && !part.kind->touches; ++other)
      if (part.leads[other] == hole) return seat_error(Code::kSameHoleTwice, board, part, lead);
  }
  return done();
}

Status check_reach(const Board& board, const Part& part) {
  const Footprint& footprint = part.kind->footprint;
  for (size_t lead = 1; lead < part.leads.size(); ++lead) {
    if (!part.leads[lead - 1].valid() || !part.leads[lead].valid()) continue;
    const MatPoint a = board.mat_of(part.leads[lead - 1]), b = board.mat_of(part.leads[lead]);
    const double distance = std::hypot(b.x - a.x, b.y - a.y);
    if (distance >= footprint.reach_min - kSame && distance <= footprint.reach_max + kSame) continue;
    Error error = seat_error(Code::kOutOfReach, board, part, lead);
    error.found = number_text(std::round(distance * 10) / 10);
    error.expected = number_text(footprint.reach_min) + " to " + number_text(footprint.reach_max);
    return error;
  }
  return done();
}

Status check_pattern(const Board& board, const Part& part) {
  const Hole anchor = part.leads.empty() ? Hole{} : part.leads[0];
  const Result<std::vector<Hole>> holes = rigid_holes(board, *part.kind, anchor, part.turn);
  if (!holes) {
    Error error = holes.error();
    error.part = part.name;
    return error;
  }
  for (size_t lead = 0; lead < part.leads.size(); ++lead)
    if (part.leads[lead] != (*holes)[lead]) return seat_error(Code::kOffBoard, board, part, lead);
  return done();
}

// Two parts that must not be in each other's way.
Status check_pair(const Board& board, const Part& part, const std::optional<BodyBox>& body, const Part& other) {
  const bool one_touches = part.kind->touches || other.kind->touches;
  for (size_t lead = 0; lead < part.leads.size() && !one_touches; ++lead) {
    if (!part.leads[lead].valid() || !has_lead_in(other, part.leads[lead])) continue;
    Error error = seat_error(Code::kHoleOccupied, board, part, lead);
    error.found = other.name;
    return error;
  }
  if (body)
    for (const Hole hole : other.leads)
      if (board.has(hole) && covers(board, part, *body, hole))
        return Error{.code = Code::kBodyOnLead, .part = part.name, .hole = board.name_of(hole), .found = other.name};
  if (stands_clear(other.kind->footprint)) return done();
  const std::optional<BodyBox> other_body = body_of(board, other);
  if (!other_body) return done();
  for (size_t lead = 0; lead < part.leads.size(); ++lead) {
    if (!part.leads[lead].valid() || !covers(board, other, *other_body, part.leads[lead])) continue;
    Error error = seat_error(Code::kHoleCovered, board, part, lead);
    error.found = other.name;
    return error;
  }
  // An axial part may be bent over another body; two rigid bodies cannot stand in one place.
  if (body && part.kind->footprint.seat == Seat::kRigid && other.kind->footprint.seat == Seat::kRigid)
    for (const Hole hole : covered_holes(board, part))
      if (covers(board, other, *other_body, hole))
        return Error{.code = Code::kHoleCovered, .part = part.name, .hole = board.name_of(hole), .found = other.name};
  return done();
}

struct GridBox {
  GridPoint low, high;
};

// The grid points a breadboard takes on the mat, rails included.
GridBox box_of(const Breadboard& breadboard) {
  const Layout& kind = layout(breadboard.layout);
  const GridPoint last = grid_of(kind, kind.columns * kRowsPerColumn - 1);
  GridBox box{breadboard.origin, {breadboard.origin.x + last.x, breadboard.origin.y + last.y}};
  if (kind.rail_holes > 0) {
    box.low.y = breadboard.origin.y + grid_of(kind, kind.columns * kRowsPerColumn).y;
    box.high.y = breadboard.origin.y + grid_of(kind, kind.hole_count() - 1).y;
  }
  return box;
}

}  // namespace

bool Part::operator==(const Part& other) const {
  const bool same_kind = kind == other.kind || (kind && other.kind && kind->key == other.kind->key);
  return same_kind && name == other.name && leads == other.leads && turn == other.turn && mat == other.mat &&
         values == other.values && bends == other.bends && label == other.label && specimen == other.specimen &&
         defect == other.defect;
}

const Part* Board::find(std::string_view name) const {
  for (const Part& part : parts)
    if (part.name == name) return &part;
  return nullptr;
}

const Part* Board::find(PartId id) const {
  const int index = index_of(id);
  return index < 0 ? nullptr : &parts[static_cast<size_t>(index)];
}

int Board::index_of(PartId id) const {
  if (!id) return -1;
  for (size_t i = 0; i < parts.size(); ++i)
    if (parts[i].id == id) return static_cast<int>(i);
  return -1;
}

bool Board::has(Hole hole) const {
  return hole.valid() && hole.breadboard < breadboards.size() && hole.index < layout_of(hole).hole_count();
}

Result<Hole> Board::hole(std::string_view name) const {
  size_t breadboard = 0;
  std::string_view rest = name;
  if (const size_t colon = name.find(':'); colon != std::string_view::npos) {
    const std::string_view number = name.substr(0, colon);
    breadboard =
        number.size() == 1 && number[0] >= '1' && number[0] <= '9' ? static_cast<size_t>(number[0] - '1') : breadboards.size();
    if (breadboard >= breadboards.size())
      return Error{.code = Code::kUnknownHole,
                   .found = in_quotes(name),
                   .expected = "a breadboard from 1: to " + std::to_string(breadboards.size()) + ":"};
    rest = name.substr(colon + 1);
  }
  const Result<int> index = parse_hole(layout(breadboards[breadboard].layout), rest);
  if (!index) {
    Error error = index.error();
    error.found = in_quotes(name);
    return error;
  }
  return Hole{static_cast<uint8_t>(breadboard), static_cast<uint16_t>(*index)};
}

std::string Board::name_of(Hole hole) const { return has(hole) ? hole_name(layout_of(hole), hole) : std::string(); }

MatPoint Board::mat_of(Hole hole) const {
  if (!has(hole)) return {};
  const GridPoint origin = breadboards[hole.breadboard].origin;
  const GridPoint grid = grid_of(layout_of(hole), hole.index);
  return {static_cast<double>(origin.x + grid.x), static_cast<double>(origin.y + grid.y)};
}

Hole Board::hole_at(GridPoint mat_point) const {
  for (size_t i = 0; i < breadboards.size(); ++i) {
    const GridPoint origin = breadboards[i].origin;
    const int index = index_at(layout(breadboards[i].layout), {mat_point.x - origin.x, mat_point.y - origin.y});
    if (index >= 0) return {static_cast<uint8_t>(i), static_cast<uint16_t>(index)};
  }
  return {};
}

RailCuts Breadboard::cuts_from(Crack least) const {
  RailCuts out;
  if (tiepoint::layout(layout).rail_holes == 0) return out;
  if (split_rails) return kAllRailsCut;
  for (size_t rail = 0; rail < cracks.size(); ++rail)
    if (cracks[rail] >= least) out.rails |= uint8_t(1u << rail);
  return out;
}

bool hides_crack(const Board& board) {
  return std::any_of(board.breadboards.begin(), board.breadboards.end(), [](const Breadboard& b) { return b.cuts() != b.true_cuts(); });
}

bool has_hidden(const Board& board) {
  return hides_crack(board) || std::any_of(board.parts.begin(), board.parts.end(), [](const Part& part) { return part.defect.hidden; });
}

std::vector<Hole> Board::clip_of(Hole hole) const {
  std::vector<Hole> clip;
  if (!has(hole)) return clip;
  const Layout& kind = layout_of(hole);
  const RailCuts cuts = breadboards[hole.breadboard].cuts();
  const int strip = strip_of(kind, cuts, hole.index);
  for (int index = 0; index < kind.hole_count(); ++index)
    if (strip_of(kind, cuts, index) == strip) clip.push_back({hole.breadboard, static_cast<uint16_t>(index)});
  return clip;
}

std::string Board::free_name(std::string_view prefix) const {
  // Among n parts at most n numbers are taken, so one of 1..n+1 is free.
  std::vector<bool> taken(parts.size() + 2, false);
  for (const Part& part : parts) {
    const std::string_view name = part.name;
    if (name.size() <= prefix.size() || name.substr(0, prefix.size()) != prefix || name[prefix.size()] == '0') continue;
    size_t number = 0;
    for (const char c : name.substr(prefix.size())) {
      number = c >= '0' && c <= '9' ? number * 10 + static_cast<size_t>(c - '0') : taken.size();
      if (number >= taken.size()) break;
    }
    if (number < taken.size()) taken[number] = true;
  }
  size_t number = 1;
  while (taken[number]) ++number;
  return std::string(prefix) + std::to_string(number);
}

Board::Seated Board::lead_in(Hole hole) const {
  Seated touching;
  if (!hole.valid()) return touching;
  for (const Part& part : parts)
    for (size_t lead = 0; lead < part.leads.size(); ++lead) {
      if (part.leads[lead] != hole) continue;
      if (!part.kind->touches) return {part.id, static_cast<int>(lead)};
      if (!touching.part) touching = {part.id, static_cast<int>(lead)};
    }
  return touching;
}

PartId Board::body_over(Hole hole) const {
  if (!has(hole)) return {};
  for (const Part& part : parts) {
    const std::optional<BodyBox> body = body_of(*this, part);
    if (body && covers(*this, part, *body, hole)) return part.id;
  }
  return {};
}

int value_index(const PartKind& kind, std::string_view key) {
  for (size_t i = 0; i < kind.values.size(); ++i)
    if (kind.values[i].key == key) return static_cast<int>(i);
  return -1;
}

int lead_index(const PartKind& kind, std::string_view name) {
  for (size_t i = 0; i < kind.leads.size(); ++i)
    if (kind.leads[i].name == name) return static_cast<int>(i);
  return -1;
}

double value_of(const Part& part, std::string_view key, double otherwise) {
  const int index = value_index(*part.kind, key);
  return index < 0 ? otherwise : part.values[static_cast<size_t>(index)];
}

Part make_part(const PartKind& kind) {
  Part part;
  part.kind = &kind;
  part.leads.resize(kind.leads.size());
  for (const ValueSpec& value : kind.values) part.values.push_back(value.standard);
  return part;
}

Status check_value(const PartKind& kind, int index, double value) {
  const ValueSpec& spec = kind.values[static_cast<size_t>(index)];
  const bool whole = std::isfinite(value) && value == std::floor(value);
  if (!spec.options.empty()) {
    if (whole && value >= 0 && value < static_cast<double>(spec.options.size())) return done();
    std::string words;
    for (const std::string_view option : spec.options) words += (words.empty() ? "" : ", ") + std::string(option);
    return Error{.code = Code::kBadValue, .found = "option number " + number_text(value), .expected = "one of " + words};
  }
  const bool in_range = std::isfinite(value) && value >= spec.minimum && value <= spec.maximum;
  if (in_range && (whole || spec.use != Use::kMomentary)) return done();
  return Error{.code = Code::kBadValue,
               .found = std::string(spec.key) + " of " + quantity_text(value, spec.unit),
               .expected = quantity_text(spec.minimum, spec.unit) + " to " + quantity_text(spec.maximum, spec.unit)};
}

GridPoint turned(GridPoint step, int quarters) {
  // A quarter turn clockwise takes right to down and, with y downwards, down to left: (x, y) -> (-y, x).
  for (int quarter = 0; quarter < (quarters % 4 + 4) % 4; ++quarter) step = {-step.y, step.x};
  return step;
}

Result<std::vector<Hole>> rigid_holes(const Board& board, const PartKind& kind, Hole anchor, int turn) {
  const auto off_board = [&](size_t lead) {
    return Error{.code = Code::kOffBoard, .lead = std::string(kind.leads[lead].name), .hole = board.name_of(anchor)};
  };
  if (kind.leads.empty()) return std::vector<Hole>{};
  if (!board.has(anchor)) return off_board(0);
  const MatPoint from = board.mat_of(anchor);
  std::vector<Hole> holes;
  for (size_t lead = 0; lead < kind.leads.size(); ++lead) {
    const LeadSpec& spec = kind.leads[lead];
    const GridPoint step = turned({spec.dx - kind.leads[0].dx, spec.dy - kind.leads[0].dy}, turn);
    holes.push_back(board.hole_at({static_cast<int>(from.x) + step.x, static_cast<int>(from.y) + step.y}));
    if (!holes.back().valid()) return off_board(lead);
  }
  return holes;
}

std::vector<Hole> covered_holes(const Board& board, const Part& part) {
  std::vector<Hole> holes;
  const std::optional<BodyBox> body = body_of(board, part);
  if (!body) return holes;
  const double span = std::hypot(body->half_length, body->half_width);
  const auto first = [&](double middle) { return static_cast<int>(std::floor(middle - span)); };
  const auto last = [&](double middle) { return static_cast<int>(std::ceil(middle + span)); };
  for (int y = first(body->centre.y); y <= last(body->centre.y); ++y)
    for (int x = first(body->centre.x); x <= last(body->centre.x); ++x) {
      const Hole hole = board.hole_at({x, y});
      if (hole.valid() && covers(board, part, *body, hole)) holes.push_back(hole);
    }
  return holes;
}

Status check_seat(const Board& board, const Part& part) {
  if (const Status status = check_holes(board, part); !status) return status;
  const Seat seat = part.kind->footprint.seat;
  if (seat == Seat::kRigid)
    if (const Status status = check_pattern(board, part); !status) return status;
  if (seat == Seat::kFlexible)
    if (const Status status = check_reach(board, part); !status) return status;
  const std::optional<BodyBox> body = body_of(board, part);
  for (const Part& other : board.parts) {
    if (part.id && other.id == part.id) continue;
    if (const Status status = check_pair(board, part, body, other); !status) return status;
  }
  return done();
}

Status check_breadboards(const std::vector<Breadboard>& breadboards) {
  const std::string range = "1 to " + std::to_string(kMaxBreadboards) + " breadboards";
  if (breadboards.empty()) return Error{.code = Code::kBadValue, .found = "no breadboard", .expected = range};
  if (breadboards.size() > kMaxBreadboards)
    return Error{.code = Code::kTooMany, .found = std::to_string(breadboards.size()) + " breadboards", .expected = range};
  for (size_t i = 0; i < breadboards.size(); ++i) {
    const std::string number = std::to_string(i + 1);
    const GridPoint at = breadboards[i].origin;
    if (at.x < -kMatReach || at.x > kMatReach || at.y < -kMatReach || at.y > kMatReach)
      return Error{.code = Code::kBadValue,
                   .found = "breadboard " + number + " at " + std::to_string(at.x) + ", " + std::to_string(at.y),
                   .expected = "a place within " + number_text(kMatReach) + " holes of the middle of the mat"};
    const GridBox box = box_of(breadboards[i]);
    for (size_t j = 0; j < i; ++j) {
      const GridBox other = box_of(breadboards[j]);
      if (box.low.x <= other.high.x && other.low.x <= box.high.x && box.low.y <= other.high.y && other.low.y <= box.high.y)
        return Error{.code = Code::kBadValue,
                     .found = "breadboard " + number + " over breadboard " + std::to_string(j + 1),
                     .expected = "breadboards side by side"};
    }
  }
  return done();
}

}  // namespace tiepoint
