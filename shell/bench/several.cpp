#include "shell/bench/several.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <vector>

#include "engine/file/json.h"
#include "shell/bench/pose.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

constexpr int kRailReach = 6;     // holes that a lead goes aside along its rail for a free one
constexpr int kWidestGap = 4;     // steps over the widest gap between holes that one nudge crosses
constexpr int kFarColumns = 130, kFarRows = 36;  // how far off a place for a copy is looked for
constexpr int kMostTrials = 400;  // places tried on the board itself; the rest is ruled out by their holes
constexpr double kBetween = 1;    // hole steps between two bodies on the mat

struct Point {
  bool seated = false, on_rail = false;
  int x = 0, y = 0;
};

// A part off its board: its leads as points of the mat.
struct Loose {
  Part part;
  std::vector<Point> leads;
};

bool on_rail(const Board& board, Hole hole) { return place_of(board.layout_of(hole), hole.index).on_rail; }

Loose loose(const Board& board, const Part& part) {
  Loose out{part, {}};
  for (const Hole hole : part.leads) {
    if (!board.has(hole)) {
      out.leads.push_back({});
      continue;
    }
    const MatPoint at = board.mat_of(hole);
    out.leads.push_back({true, on_rail(board, hole), int(std::lround(at.x)), int(std::lround(at.y))});
  }
  return out;
}

// Do leads in rails and leads in terminal strips move together?
bool mixed(const std::vector<Loose>& parts) {
  bool rail = false, strip = false;
  for (const Loose& one : parts)
    for (const Point& p : one.leads)
      if (p.seated) (p.on_rail ? rail : strip) = true;
  return rail && strip;
}

bool only_on_mat(const std::vector<Loose>& parts) {
  return std::all_of(parts.begin(), parts.end(), [](const Loose& one) { return one.part.kind->footprint.seat == Seat::kMat; });
}

// Which holes, and which terminal strips, of a board are in use.
class Room {
 public:
  explicit Room(const Board& board) : board_(board) {
    for (const Breadboard& b : board.breadboards) {
      holes_.emplace_back(size_t(layout(b.layout).hole_count()));
      strips_.emplace_back(size_t(layout(b.layout).columns + 1) * 2);
    }
    for (const Part& part : board.parts) {
      if (!part.kind->touches)
        for (const Hole hole : part.leads) take(hole);
      for (const Hole hole : covered_holes(board, part)) holes_[hole.breadboard][hole.index] = true;
    }
  }
  const Board& board() const { return board_; }
  bool free(Hole hole) const { return board_.has(hole) && !holes_[hole.breadboard][hole.index]; }
  bool strip_free(Hole hole) const {
    const HolePlace place = place_of(board_.layout_of(hole), hole.index);
    return place.on_rail || !strips_[hole.breadboard][strip(place)];
  }
  void take(Hole hole) {
    if (!board_.has(hole)) return;
    holes_[hole.breadboard][hole.index] = true;
    const HolePlace place = place_of(board_.layout_of(hole), hole.index);
    if (!place.on_rail) strips_[hole.breadboard][strip(place)] = true;
  }

 private:
  static size_t strip(const HolePlace& place) { return size_t(place.column) * 2 + (place.row >= kRowsPerColumn / 2 ? 1 : 0); }
  const Board& board_;
  std::vector<std::vector<bool>> holes_, strips_;
};

struct Step {
  int dx = 0, dy = 0;
  bool keep_rails = false;
};

// The hole a lead takes after the step; invalid when there is none. `claimed` are those that leads moved with it took.
Hole landed(const Room& room, const Point& from, const Step& step, const std::vector<Hole>& claimed) {
  const Board& board = room.board();
  if (!from.on_rail || (step.dy != 0 && !step.keep_rails)) {
    const Hole hole = board.hole_at({from.x + step.dx, from.y + step.dy});
    return hole.valid() && step.keep_rails && on_rail(board, hole) ? Hole{} : hole;
  }
  const int ahead = step.dx < 0 ? -1 : 1;
  for (int aside = 0; aside <= kRailReach; ++aside)
    for (const int way : {ahead, -ahead}) {
      const Hole hole = board.hole_at({from.x + step.dx + way * aside, from.y});
      if (hole.valid() && on_rail(board, hole) && room.free(hole) && std::find(claimed.begin(), claimed.end(), hole) == claimed.end())
        return hole;
    }
  return {};
}

Status land(const Room& room, const Loose& from, const Step& step, std::vector<Hole>& claimed, Part& out) {
  const Board& board = room.board();
  std::optional<GridPoint> common;
  bool alike = true;
  for (size_t lead = 0; lead < from.leads.size(); ++lead) {
    const Point& at = from.leads[lead];
    out.leads[lead] = {};
    if (!at.seated) continue;
    const Hole hole = landed(room, at, step, claimed);
    if (!hole.valid())
      return Error{.code = Code::kOffBoard, .part = from.part.name, .lead = std::string(from.part.kind->leads[lead].name)};
    claimed.push_back(hole);
    out.leads[lead] = hole;
    const MatPoint to = board.mat_of(hole);
    const GridPoint moved{int(std::lround(to.x)) - at.x, int(std::lround(to.y)) - at.y};
    alike = alike && (!common || *common == moved);
    common = moved;
  }
  // A wire of which one end went another way than the other takes a course of its own.
  if (!alike) out.bends.clear();
  if (alike && common)
    for (MatPoint& bend : out.bends) bend = {bend.x + common->x, bend.y + common->y};
  return done();
}

Result<std::vector<Loose>> all_loose(const Board& board, Names names) {
  std::vector<Loose> out;
  for (const std::string& name : names) {
    const Part* part = board.find(name);
    if (!part) return Error{.code = Code::kUnknownPart, .part = name};
    out.push_back(loose(board, *part));
  }
  return out;
}

Board without(const Board& board, Names names) {
  Board rest = board;
  std::erase_if(rest.parts, [&](const Part& part) { return std::find(names.begin(), names.end(), part.name) != names.end(); });
  return rest;
}

// ---- pasting ----

bool bodies_meet(const Part& a, const Part& b) {
  const ImVec2 p = mat_half(a), q = mat_half(b);
  return std::abs(a.mat.x - b.mat.x) < double(p.x + q.x) + kBetween && std::abs(a.mat.y - b.mat.y) < double(p.y + q.y) + kBetween;
}

// A place on the mat to the right of whatever lies there already.
void lay_down(const Board& board, Part& part) {
  const auto blocked = [&] {
    return std::any_of(board.parts.begin(), board.parts.end(), [&](const Part& other) {
      return other.kind->footprint.seat == Seat::kMat && bodies_meet(part, other);
    });
  };
  part.mat = beside_boards(board, part, part.mat);
  const MatPoint start = part.mat;
  for (int step = 1; step <= kFarColumns && blocked(); ++step) part.mat = beside_boards(board, part, {start.x + step, start.y});
}

// Its plugs go into their very holes if all of these are free, else they lie on the mat.
void plug_in(const Room& room, const Loose& from, bool here, Part& out) {
  bool free = here;
  for (size_t lead = 0; lead < from.leads.size(); ++lead) {
    const Point& at = from.leads[lead];
    out.leads[lead] = at.seated ? room.board().hole_at({at.x, at.y}) : Hole{};
    free = free && (!at.seated || room.free(out.leads[lead]));
  }
  if (!free) out.leads.assign(from.leads.size(), Hole{});
}

// How far a copy keeps from what stands there already: out of the columns it reaches across, out of its strips, or just out of its holes.
enum class Apart { kColumns, kStrips, kHoles };

bool keeps_apart(const Room& room, const Part& part, std::span<const Hole> holes, Apart apart) {
  const Board& board = room.board();
  for (const Hole hole : holes)
    if (!room.free(hole) || (apart != Apart::kHoles && !room.strip_free(hole))) return false;
  if (apart != Apart::kColumns || part.kind->footprint.seat != Seat::kFlexible || holes.size() != 2) return true;
  const MatPoint a = board.mat_of(holes[0]), b = board.mat_of(holes[1]);
  for (int x = int(std::min(a.x, b.x)) + 1; x < int(std::max(a.x, b.x)); ++x)
    for (const double y : {a.y, b.y})
      if (const Hole under = board.hole_at({x, int(y)}); under.valid() && !room.strip_free(under)) return false;
  return true;
}

// The parts as they would stand after the step; none when a hole is missing or taken.
std::optional<std::vector<Part>> seats(const Room& room, const std::vector<Loose>& parts, const Step& step, Apart apart) {
  std::vector<Part> out;
  std::vector<Hole> claimed;
  for (const Loose& one : parts) {
    Part part = one.part;
    if (part.kind->footprint.seat == Seat::kMat) {
      plug_in(room, one, step.dx == 0 && step.dy == 0, part);
    } else {
      const size_t first = claimed.size();
      if (!land(room, one, step, claimed, part)) return std::nullopt;
      if (!part.kind->touches && !keeps_apart(room, part, std::span(claimed).subspan(first), apart)) return std::nullopt;
    }
    out.push_back(std::move(part));
  }
  return out;
}

// Places them one after another; none when the board refuses one.
std::optional<Batch> placed(const Board& board, std::vector<Part> parts) {
  Batch batch;
  Board after = board;
  for (Part& part : parts) {
    part.id = {};
    if (after.find(part.name)) part.name = after.free_name(part.kind->prefix);
    if (part.kind->footprint.seat == Seat::kMat) lay_down(after, part);
    Edit edit{PlacePart{std::move(part)}};
    if (!apply(after, edit)) return std::nullopt;
    batch.edits.push_back(std::move(edit));
  }
  return batch;
}

std::vector<Step> nearest_steps() {
  std::vector<Step> steps;
  for (int dy = -kFarRows; dy <= kFarRows; ++dy)
    for (int dx = -kFarColumns; dx <= kFarColumns; ++dx) steps.push_back({dx, dy, true});
  // Along the columns rather than across; to the right rather than to the left.
  const auto cost = [](const Step& s) { return 4 * std::abs(s.dx) + 6 * std::abs(s.dy) + (s.dx < 0) + (s.dy < 0); };
  std::stable_sort(steps.begin(), steps.end(), [&](const Step& a, const Step& b) { return cost(a) < cost(b); });
  return steps;
}

}  // namespace

Edit as_one(std::vector<Edit> edits) {
  if (edits.size() == 1) return std::move(edits.front());
  return Edit{Batch{std::move(edits)}};
}

Result<Edit> shift_parts(const Board& board, Names names, int dx, int dy) {
  const Result<std::vector<Loose>> parts = all_loose(board, names);
  if (!parts) return parts.error();
  const Board rest = without(board, names);
  const Room room(rest);
  const bool alone = only_on_mat(*parts);
  const Step step{dx, dy, mixed(*parts)};
  std::vector<Edit> edits;
  std::vector<Hole> claimed;
  bool moved = false;
  for (const Loose& one : *parts) {
    Part to = one.part;
    const bool on_mat = to.kind->footprint.seat == Seat::kMat;
    if (!on_mat || !alone)
      if (const Status status = land(room, one, step, claimed, to); !status) return status.error();
    if (on_mat) to.mat = beside_boards(board, to, {to.mat.x + dx, to.mat.y + dy});
    moved = moved || to.leads != one.part.leads || !(to.mat == one.part.mat);
    MovePart move{to.name, to.leads, to.turn, to.mat};
    if (to.kind->conductor) move.bends = to.bends;
    edits.push_back({std::move(move)});
  }
  if (!moved && !parts->empty()) {
    const Part& first = parts->front().part;
    return Error{.code = Code::kOffBoard, .part = first.name, .lead = first.kind->leads.empty() ? "" : std::string(first.kind->leads[0].name)};
  }
  Edit edit = as_one(std::move(edits));
  if (const Status status = check(board, edit); !status) return status.error();
  return edit;
}

Result<Edit> nudge_parts(const Board& board, Names names, int dx, int dy) {
  Result<Edit> first = shift_parts(board, names, dx, dy);
  // Only a missing hole is stepped over, never a taken one.
  for (int far = 2; far <= kWidestGap && !first && first.error().code == Code::kOffBoard; ++far) {
    Result<Edit> next = shift_parts(board, names, dx * far, dy * far);
    if (next || next.error().code != Code::kOffBoard) return next;
  }
  return first;
}

Edit remove_parts(Names names) {
  std::vector<Edit> edits;
  for (const std::string& name : names) edits.push_back({RemovePart{name}});
  return as_one(std::move(edits));
}

Result<Edit> turn_parts(const Board& board, Names names, int quarters) {
  std::vector<Edit> edits;
  Board after = board;
  for (const std::string& name : names) {
    const Part* part = after.find(name);
    if (!part) return Error{.code = Code::kUnknownPart, .part = name};
    // What lies on the mat has no way to be turned; among others it stays.
    if (part->kind->footprint.seat == Seat::kMat && names.size() > 1) continue;
    Edit edit{TurnPart{name, quarters}};
    if (part->kind->footprint.seat == Seat::kFlexible && !check(after, edit)) edit = {TurnPart{name, 2}};
    if (const Result<Applied> applied = apply(after, edit); !applied) {
      // The reason that counts is the one against a quarter turn.
      const Status why = check(after, {TurnPart{name, quarters}});
      return why ? applied.error() : why.error();
    }
    edits.push_back(std::move(edit));
  }
  if (edits.empty()) return Error{.code = Code::kCannotTurn, .part = names.empty() ? std::string() : names.front()};
  return as_one(std::move(edits));
}

std::string copy_parts(const Board& board, Names names) {
  Board clip;
  clip.breadboards = board.breadboards;
  for (const Part& part : board.parts) {
    if (std::find(names.begin(), names.end(), part.name) == names.end()) continue;
    Part copy = part;
    for (size_t i = 0; i < copy.values.size(); ++i)
      if (copy.kind->values[i].use == Use::kMomentary) copy.values[i] = copy.kind->values[i].standard;
    clip.parts.push_back(std::move(copy));
  }
  return write_board(clip);
}

Result<Edit> paste_parts(const Board& board, std::string_view text, const Catalogue& catalogue) {
  const Result<Board> clip = read_board(text, catalogue);
  if (!clip) return clip.error();
  std::vector<Loose> parts;
  for (const Part& part : clip->parts) parts.push_back(loose(*clip, part));
  if (parts.empty()) return Error{.code = Code::kBadValue, .found = "a board without parts", .expected = "at least one part"};
  const Room room(board);
  const std::vector<Step> steps = nearest_steps();
  // Cut and pasted: back to where they were.
  if (std::none_of(clip->parts.begin(), clip->parts.end(), [&](const Part& part) { return board.find(part.name) != nullptr; }))
    if (std::optional<std::vector<Part>> standing = seats(room, parts, {0, 0, true}, Apart::kHoles))
      if (std::optional<Batch> batch = placed(board, std::move(*standing))) return as_one(std::move(batch->edits));
  int trials = 0;
  for (const Apart apart : {Apart::kColumns, Apart::kStrips, Apart::kHoles})
    for (const Step& step : steps) {
      std::optional<std::vector<Part>> standing = seats(room, parts, step, apart);
      if (!standing) continue;
      if (std::optional<Batch> batch = placed(board, std::move(*standing))) return as_one(std::move(batch->edits));
      if (++trials >= kMostTrials) return Edit{Batch{}};
    }
  return Edit{Batch{}};
}

}  // namespace tiepoint
