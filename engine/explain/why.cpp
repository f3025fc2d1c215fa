#include "engine/explain/why.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "engine/explain/condition.h"
#include "engine/explain/trial.h"
#include "engine/solver/simulation.h"

namespace tiepoint {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// Lengths of the way's pieces: metal hardly counts, an unpressed contact counts more than any detour.
constexpr double kMetal = 0.01, kPiece = 1, kPress = 100;

// The strips and inner nodes of a board as a graph of pieces of way.
class Map {
 public:
  struct Piece { int from, to; double length; int part, terminal_in, terminal_out, control, position; };

  Map(const Board& board, const Wiring& wiring) : scene_(make_scene(board, wiring)) {
    for (const Scene::Metal& m : scene_.metal) both(m.a, m.b, kMetal, m.part);
    for (const SceneLink& link : scene_.links) add(link);
  }

  const Scene& scene() const { return scene_; }
  int point(int terminal) const {
    return terminal < scene_.lead_count ? scene_.strip_of_lead[size_t(terminal)]
                                        : scene_.wiring->strip_count + terminal - scene_.lead_count;
  }

  // The shortest way from plus through `load` to minus, as indices into pieces(); empty when there is none.
  std::vector<int> way(int load, const SceneLink** from = nullptr) const {
    std::vector<int> best;
    double shortest = kInfinite;
    for (const SceneLink& source : scene_.links) {
      if (source.link != Link::kSource) continue;
      for (size_t k = 0; k < pieces_.size(); ++k) {
        const Piece& through = pieces_[k];
        if (through.part != load || through.length < kPiece) continue;
        const int plus = point(source.a), minus = point(source.b);
        double first = 0, second = 0;
        std::vector<int> there = shortest_way(plus, through.from, minus, through.to, first);
        std::vector<int> back = shortest_way(through.to, minus, plus, through.from, second);
        if (first + second >= shortest) continue;
        shortest = first + second;
        if (from) *from = &source;
        best = std::move(there);
        best.push_back(int(k));
        best.insert(best.end(), back.begin(), back.end());
      }
    }
    return best;
  }
  const std::vector<Piece>& pieces() const { return pieces_; }

 private:
  void one(int a, int b, double length, int part, int control = -1, int position = 0) {
    pieces_.push_back({point(a), point(b), length, part, a, b, control, position});
  }
  void both(int a, int b, double length, int part, int control = -1, int position = 0) {
    one(a, b, length, part, control, position);
    one(b, a, length, part, control, position);
  }
  void add(const SceneLink& link) {
    switch (link.link) {
      case Link::kOhmic: return both(link.a, link.b, kPiece, link.part);
      case Link::kJunction: return one(link.a, link.b, kPiece, link.part);
      case Link::kActive:
        one(link.a, link.b, kPiece, link.part);
        if (link.both_ways) one(link.b, link.a, kPiece, link.part);
        return;
      case Link::kStore: case Link::kSource: return;
      case Link::kContact: break;
    }
    const SceneControl& control = scene_.controls[size_t(link.control)];
    if (link.closed_at >> control.now & 1u) return both(link.a, link.b, kPiece, link.part);
    int position = 0;
    while (position < control.positions && !(link.closed_at >> position & 1u)) ++position;
    both(link.a, link.b, kPress, link.part, link.control, position);
  }

  // Dijkstra, not touching the points `off` and `off_too`.
  std::vector<int> shortest_way(int from, int to, int off, int off_too, double& length) const {
    const size_t points = size_t(scene_.wiring->strip_count + scene_.inner_count);
    std::vector<double> distance(points, kInfinite);
    std::vector<int> by(points, -1);
    std::priority_queue<std::pair<double, int>, std::vector<std::pair<double, int>>, std::greater<>> open;
    distance[size_t(from)] = 0;
    open.push({0, from});
    while (!open.empty()) {
      const auto [d, at] = open.top();
      open.pop();
      if (d > distance[size_t(at)]) continue;
      if (at == to) break;
      for (size_t k = 0; k < pieces_.size(); ++k) {
        const Piece& piece = pieces_[k];
        if (piece.from != at || piece.to == off || piece.to == off_too) continue;
        if (d + piece.length >= distance[size_t(piece.to)]) continue;
        distance[size_t(piece.to)] = d + piece.length;
        by[size_t(piece.to)] = int(k);
        open.push({d + piece.length, piece.to});
      }
    }
    length = distance[size_t(to)];
    std::vector<int> out;
    if (length == kInfinite) return out;
    for (int at = to; at != from; at = pieces_[size_t(by[size_t(at)])].from) out.push_back(by[size_t(at)]);
    std::reverse(out.begin(), out.end());
    return out;
  }

  Scene scene_;
  std::vector<Piece> pieces_;
};

// Pieces of one part that follow each other make one step, from lead to lead.
std::vector<WhyStep> steps_of(const Board& board, const Map& map, const std::vector<int>& way) {
  std::vector<WhyStep> steps;
  const Scene& scene = map.scene();
  const auto lead = [&](int part, int terminal) {
    const ScenePart& p = scene.parts[size_t(part)];
    return terminal >= p.first_lead && terminal < p.first_lead + p.lead_count ? terminal - p.first_lead : -1;
  };
  for (size_t k = 0; k < way.size();) {
    const int part = map.pieces()[size_t(way[k])].part;
    const Part& owner = board.parts[size_t(part)];
    WhyStep step{.part = owner.id, .voltage = kNoReading, .current = kNoReading};
    size_t end = k;
    while (end < way.size() && map.pieces()[size_t(way[end])].part == part) ++end;
    step.lead_in = lead(part, map.pieces()[size_t(way[k])].terminal_in);
    step.lead_out = lead(part, map.pieces()[size_t(way[end - 1])].terminal_out);
    if (step.lead_in >= 0) step.hole_in = owner.leads[size_t(step.lead_in)];
    if (step.lead_out >= 0) step.hole_out = owner.leads[size_t(step.lead_out)];
    steps.push_back(step);
    k = end;
  }
  return steps;
}

std::vector<WhyPress> presses_of(const Board& board, const Map& map, const std::vector<int>& way) {
  std::vector<WhyPress> out;
  for (const int k : way) {
    const Map::Piece& piece = map.pieces()[size_t(k)];
    if (piece.control < 0) continue;
    const SceneControl& control = map.scene().controls[size_t(piece.control)];
    out.push_back({board.parts[size_t(control.part)].id, control.value, piece.position, control.momentary});
  }
  return out;
}

void fill_numbers(const Board& board, const Readings& readings, std::vector<WhyStep>& steps) {
  if (readings.error || readings.parts.size() != board.parts.size()) return;
  for (WhyStep& step : steps) {
    const int part = board.index_of(step.part);
    if (part < 0 || step.lead_in < 0) continue;
    const PartReading& r = readings.parts[size_t(part)];
    step.voltage = r.lead_voltage[size_t(step.lead_in)];
    // Legs of one piece share the current.
    const std::span<const LeadSpec> leads = board.parts[size_t(part)].kind->leads;
    step.current = 0;
    for (size_t k = 0; k < leads.size(); ++k)
      if (int(k) == step.lead_in || (leads[k].joined >= 0 && leads[k].joined == leads[size_t(step.lead_in)].joined))
        step.current += r.lead_current[k];
  }
}

Readings readings_with(Board board, const Wiring& wiring, const std::vector<WhyPress>& presses) {
  for (const WhyPress& press : presses) board.parts[size_t(board.index_of(press.part))].values[size_t(press.value)] = press.position;
  const Circuit circuit = extract(board, wiring);
  return take_readings(board, wiring, circuit, solve_operating_point(circuit));
}

const Finding* cause_of(const std::vector<Finding>& known, PartId part) {
  const Finding* first = nullptr;
  for (const Finding& f : known) {
    if (f.severity != Severity::kFault || f.instead_of >= 0) continue;
    if (!first) first = &f;
    const bool named = std::find(f.silenced.begin(), f.silenced.end(), part) != f.silenced.end();
    const bool own = std::any_of(f.places.begin(), f.places.end(), [&](const Place& p) { return p.part == part; });
    if (named || own) return &f;
  }
  return first;
}

// Where the way, as it runs on the repaired board, is interrupted on the board as it stands: behind which step.
int first_gap(const Board& board, const Wiring& wiring, const std::vector<WhyStep>& steps) {
  NetIndex before = -1;
  for (size_t k = 0; k < steps.size(); ++k) {
    const int part = board.index_of(steps[k].part);
    if (part < 0) return int(k) - 1;  // a wire that is not there yet
    const auto net = [&](int lead) { return wiring.net_of_strip[size_t(wiring.strip_of_lead[size_t(part)][size_t(lead)])]; };
    if (steps[k].lead_in < 0 || steps[k].lead_out < 0) return int(k) - 1;
    const NetIndex in = net(steps[k].lead_in);
    if (k > 0 && in != before) return int(k) - 1;
    before = net(steps[k].lead_out);
  }
  return int(steps.size()) - 1;
}

}  // namespace

std::string_view key(Why why) {
  switch (why) {
    case Why::kWorks: return "works";
    case Why::kWorksFaint: return "faint";
    case Why::kNeedsPress: return "needs-press";
    case Why::kStolen: return "stolen";
    case Why::kBroken: return "broken";
    case Why::kNoWay: return "no-way";
    case Why::kNoLoad: return "no-load";
  }
  return "";
}

Path path_through(const Board& board, const Wiring& wiring, PartId id) {
  Path out;
  const int part = board.index_of(id);
  if (part < 0) return out;
  const Map map(board, wiring);
  const SceneLink* source = nullptr;
  const std::vector<int> way = map.way(part, &source);
  if (way.empty()) return out;
  const ScenePart& supply = map.scene().parts[size_t(source->part)];
  const auto lead = [&](int terminal) { return terminal < supply.first_lead + supply.lead_count ? terminal - supply.first_lead : -1; };
  out.source = board.parts[size_t(source->part)].id;
  out.plus = lead(source->a), out.minus = lead(source->b);
  out.steps = steps_of(board, map, way);
  return out;
}

Path path_through(const Board& board, const Wiring& wiring, const Readings& readings, PartId part) {
  const std::optional<Board> stands = with_closed_reeds(board, readings);
  return path_through(stands ? *stands : board, wiring, part);
}

std::vector<HillStep> hill_of(const Board& board, const Readings& readings, const Path& path) {
  std::vector<HillStep> out;
  const int source = board.index_of(path.source);
  if (path.steps.empty() || source < 0 || path.plus < 0 || path.minus < 0) return out;
  const bool usable = !readings.error && readings.parts.size() == board.parts.size();
  const auto volts = [&](int part, int lead) {
    return usable && part >= 0 && lead >= 0 ? readings.parts[size_t(part)].lead_voltage[size_t(lead)] : kNoReading;
  };
  const double zero = volts(source, path.minus);
  out.push_back({path.source, path.minus, path.plus, zero - zero, volts(source, path.plus) - zero,
                 usable ? -readings.parts[size_t(source)].lead_current[size_t(path.plus)] : kNoReading});
  std::vector<WhyStep> steps = path.steps;
  for (WhyStep& step : steps) step.current = kNoReading;
  fill_numbers(board, readings, steps);
  for (const WhyStep& step : steps) {
    const int part = board.index_of(step.part);
    out.push_back({step.part, step.lead_in, step.lead_out, volts(part, step.lead_in) - zero, volts(part, step.lead_out) - zero, step.current});
  }
  return out;
}

Explanation why(const Observed& bench, PartId id, const std::vector<Finding>& known) {
  if (const std::optional<Board> stands = with_closed_reeds(bench.board, bench.readings))
    return why({*stands, bench.wiring, extract(*stands, bench.wiring), bench.readings}, id, known);
  Explanation out{.part = id};
  const Board& board = bench.board;
  const int part = board.index_of(id);
  if (part < 0) return out;
  const Map map(board, bench.wiring);
  const std::vector<int> way = map.way(part);
  if (!way.empty()) {
    out.steps = steps_of(board, map, way);
    out.presses = presses_of(board, map, way);
    const Readings held = out.presses.empty() ? Readings{} : readings_with(board, bench.wiring, out.presses);
    const Readings& shown = out.presses.empty() ? bench.readings : held;
    const PartReading now = bench.readings.error ? PartReading{} : bench.readings.parts[size_t(part)];
    const PartReading then = shown.error || shown.parts.empty() ? PartReading{} : shown.parts[size_t(part)];
    const bool load = is_load(board.parts[size_t(part)]);
    fill_numbers(board, works(now) || out.presses.empty() ? bench.readings : shown, out.steps);
    if (works(now) || (!load && has_reading(now.current) && std::abs(now.current) > 1e-6)) {
      out.why = Why::kWorks;
      return out;
    }
    if (!out.presses.empty() && (works(then) || (!load && has_reading(then.current) && std::abs(then.current) > 1e-6))) {
      out.why = Why::kNeedsPress;
      return out;
    }
    out.why = then.state == State::kFaint || now.state == State::kFaint ? Why::kWorksFaint : Why::kStolen;
    if (const Finding* cause = cause_of(known, id)) out.cause = *cause;
    return out;
  }
  const Finding* cause = cause_of(known, id);
  if (!cause) return out;
  out.cause = *cause;
  if (cause->repair.empty()) return out;
  Board mended = board;
  for (const Edit& edit : cause->repair)
    if (!apply(mended, edit)) return out;
  const int there = mended.index_of(id);
  if (there < 0) return out;
  const Wiring wiring = wire_up(mended);
  const Map repaired(mended, wiring);
  const std::vector<int> as_meant = repaired.way(there);
  if (as_meant.empty()) return out;
  out.why = Why::kBroken;
  out.steps = steps_of(mended, repaired, as_meant);
  out.presses = presses_of(mended, repaired, as_meant);
  out.broken_after = first_gap(board, bench.wiring, out.steps);
  fill_numbers(board, bench.readings, out.steps);
  return out;
}

}  // namespace tiepoint
