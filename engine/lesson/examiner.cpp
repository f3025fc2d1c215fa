#include "engine/lesson/examiner.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "engine/logic/truth.h"

namespace tiepoint {
namespace {

constexpr int kSamples = 1200;         // of a recorded quantity
constexpr double kSameCurrent = 0.02;  // an ammeter in line reads the part's current but for its own share

bool works(State state) {
  return is_on(state) || state == State::kSounding || state == State::kTurning || state == State::kPulled;
}

bool is_state(State state, std::string_view word) {
  if (word == "works") return works(state);
  if (word == "rests") return !works(state);  // what has no reading shows nothing either
  return key(state) == word;
}

template <class T>
void add(std::vector<int>& roles, const T& more) {
  for (const int role : more)
    if (role >= 0 && std::find(roles.begin(), roles.end(), role) == roles.end()) roles.push_back(role);
}

struct RolesOf {
  std::vector<int>& roles;
  void add_term(const Term& term) const { add(roles, std::initializer_list<int>{term.role, term.at.role, term.against.role}); }
  void add_situation(const Situation& situation) const {
    for (const RoleSetting& s : situation.set) add(roles, std::initializer_list<int>{s.role});
    for (const Situation::Operation& operation : situation.operations)
      for (const RoleSetting& s : operation.set) add(roles, std::initializer_list<int>{s.role});
  }
  void operator()(const StateCheck& ask) const { add(roles, std::initializer_list<int>{ask.role}); }
  void operator()(const ReadingCheck& ask) const {
    add_term(ask.term);
    if (ask.over) add_term(ask.over->term), add_situation(ask.over->situation);
  }
  void operator()(const TruthCheck& ask) const { add(roles, ask.inputs), add(roles, std::initializer_list<int>{ask.output}); }
  void operator()(const WaveCheck& ask) const { add_term(ask.term); }
  void operator()(const JoinedCheck& ask) const { add(roles, std::initializer_list<int>{ask.a.role, ask.b.role}); }
  void operator()(const MeasuredCheck& ask) const { add(roles, std::initializer_list<int>{ask.role, ask.a.role, ask.b.role}); }
  void operator()(const PartsCheck&) const {}
  void operator()(const ChainCheck& ask) const { add(roles, ask.roles); }
  void operator()(const ShapeCheck& ask) const {
    for (const ShapeCheck::End& end : ask.ends) add(roles, std::initializer_list<int>{end.role});
  }
  void operator()(const FaultCheck&) const {}
};

Outcome passed() {
  Outcome out;
  out.reason = Reason::kPassed;
  return out;
}

Outcome failed(Reason reason, std::vector<Place> places) {
  Outcome out;
  out.reason = reason;
  out.places = std::move(places);
  return out;
}

double quantity_of(const PartReading& reading, Quantity quantity) {
  switch (quantity) {
    case Quantity::kVoltage:
      return reading.voltage;
    case Quantity::kCurrent:
      return reading.current;
    case Quantity::kPower:
      return reading.power;
    case Quantity::kBrightness:
      return reading.brightness;
    case Quantity::kFrequency:
      return reading.frequency;
    case Quantity::kSpeed:
      return reading.speed;
    case Quantity::kAngle:
      return reading.angle;
    case Quantity::kTemperature:
      return reading.temperature;
    case Quantity::kShown:
      return reading.shown;
  }
  return kNoReading;
}

// [s] from 10 % to 90 % of the way, on the last such edge of the record; NaN when there is none.
double edge_time(std::span<const Sample> samples, Edge edge, double low, double high) {
  const double tenth = (high - low) / 10;
  const bool rises = edge == Edge::kRising;
  const std::vector<double> begins = crossings(samples, edge, rises ? low + tenth : high - tenth, tenth / 2);
  const std::vector<double> ends = crossings(samples, edge, rises ? high - tenth : low + tenth, tenth / 2);
  for (size_t k = ends.size(); k-- > 0;)
    for (size_t j = begins.size(); j-- > 0;)
      if (begins[j] <= ends[k]) return ends[k] - begins[j];
  return kNoReading;
}

}  // namespace

std::vector<int> roles_of(const Check& check) {
  std::vector<int> roles;
  const RolesOf gather{roles};
  std::visit(gather, check.ask);
  gather.add_situation(check.situation);
  return roles;
}

Examiner::Examiner(const Lesson& lesson, const Board& board)
    : lesson_(lesson), tester_(board), nets_(tester_.board(), tester_.wiring()) {}

const Outcome& Examiner::ask(const Check& check, const Casting& casting) {
  std::vector<int> players;
  for (const int role : roles_of(check)) players.push_back(casting.part[size_t(role)] * 2 + casting.flipped[size_t(role)]);
  std::pair<const Check*, std::vector<int>> question{&check, std::move(players)};
  if (const auto found = known_.find(question); found != known_.end()) return found->second;
  return known_.emplace(std::move(question), answer(check, casting)).first->second;
}

Outcome Examiner::answer(const Check& check, const Casting& casting) {
  for (const int role : roles_of(check)) {
    if (casting.part[size_t(role)] >= 0) continue;
    Outcome out;
    out.role = role;
    return out;
  }
  Arrangement at;
  Outcome out = arrange(check.situation, casting, at)
                    ? std::visit([&](const auto& ask) { return answer(ask, at, casting); }, check.ask)
                    : failed(Reason::kNoNumber, {});
  if (!out.passed() && out.at.empty()) tell_case(at, out);
  return out;
}

std::optional<Put> Examiner::put(const RoleSetting& setting, const Casting& casting) const {
  const int part = casting.part[size_t(setting.role)];
  const PartKind& kind = *board().parts[size_t(part)].kind;
  int value = value_index(kind, setting.key);
  for (size_t v = 0; setting.key.empty() && v < kind.values.size() && value < 0; ++v)
    if (kind.values[v].use != Use::kValue) value = int(v);
  if (value < 0) return std::nullopt;
  const bool turned = setting.key.empty() && casting.flipped[size_t(setting.role)];
  const double to = turned ? kind.values[size_t(value)].maximum - setting.value : setting.value;
  return Put{part, value, to};
}

bool Examiner::arrange(const Situation& situation, const Casting& casting, Arrangement& out) const {
  const auto all = [&](const std::vector<RoleSetting>& settings, std::vector<Put>& puts) {
    for (const RoleSetting& setting : settings) {
      const std::optional<Put> one = put(setting, casting);
      if (!one) return false;
      puts.push_back(*one);
    }
    std::sort(puts.begin(), puts.end());
    return true;
  };
  if (!all(situation.set, out.puts)) return false;
  for (const Situation::Operation& operation : situation.operations) {
    out.operations.push_back({operation.time, {}});
    if (!all(operation.set, out.operations.back().puts)) return false;
  }
  out.look = situation.look;
  return true;
}

void Examiner::tell_case(const Arrangement& arrangement, Outcome& out) const {
  for (const Put& put : arrangement.puts) out.at.push_back({put.part, put.value, put.to});
}

Place Examiner::place_of(int part) const { return {.part = board().parts[size_t(part)].id}; }

Place Examiner::place_of(const LeadPoint& point, const Casting& casting) const {
  if (point.role < 0) {
    const Result<Hole> hole = board().hole(point.hole);
    return {.hole = hole ? *hole : Hole{}};
  }
  const Part& part = board().parts[size_t(casting.part[size_t(point.role)])];
  const int lead = point.lead.empty() ? -1 : lead_index(*part.kind, point.lead);
  return {.part = part.id, .lead = lead, .hole = lead < 0 ? Hole{} : part.leads[size_t(lead)]};
}

double Examiner::voltage(const LeadPoint& point, const Casting& casting, const Board& board, const Wiring& wiring,
                         const Readings& readings) const {
  if (point.role < 0) {
    const Result<Hole> hole = board.hole(point.hole);
    return hole ? voltage_at(board, wiring, readings, *hole) : kNoReading;
  }
  const int part = casting.part[size_t(point.role)];
  const int lead = std::max(0, lead_index(*board.parts[size_t(part)].kind, point.lead));
  return readings.parts[size_t(part)].lead_voltage[size_t(lead)];
}

double Examiner::number(const Term& term, const Casting& casting, const Board& board, const Wiring& wiring,
                        const Readings& readings) const {
  if (term.role >= 0) return quantity_of(readings.parts[size_t(casting.part[size_t(term.role)])], term.quantity);
  return voltage(term.at, casting, board, wiring, readings) - voltage(term.against, casting, board, wiring, readings);
}

std::vector<int> Examiner::nets_of(const LeadPoint& point, const Casting& casting) const {
  if (point.role < 0) {
    const Result<Hole> hole = board().hole(point.hole);
    return hole ? std::vector<int>{net_of(board(), tester_.wiring(), *hole)} : std::vector<int>{};
  }
  const int part = casting.part[size_t(point.role)];
  std::vector<int> nets;
  for (size_t lead = 0; lead < board().parts[size_t(part)].leads.size(); ++lead)
    if (point.lead.empty() || board().parts[size_t(part)].kind->leads[lead].name == point.lead)
      nets.push_back(tester_.wiring().net_of_strip[size_t(tester_.wiring().strip_of_lead[size_t(part)][lead])]);
  return nets;
}

Outcome Examiner::answer(const StateCheck& ask, const Arrangement& at, const Casting& casting) {
  const int part = casting.part[size_t(ask.role)];
  const State state = tester_.readings(at).parts[size_t(part)].state;
  if (std::any_of(ask.states.begin(), ask.states.end(), [&](const std::string& word) { return is_state(state, word); }))
    return passed();
  Outcome out = failed(Reason::kWrongState, {place_of(part)});
  out.what = key(state);
  out.wanted = ask.states.front();
  return out;
}

Outcome Examiner::answer(const ReadingCheck& ask, const Arrangement& at, const Casting& casting) {
  double found = number(ask.term, casting, board(), tester_.wiring(), tester_.readings(at));
  if (ask.over) {
    Arrangement other;
    if (!arrange(ask.over->situation, casting, other)) return failed(Reason::kNoNumber, {});
    found /= number(ask.over->term, casting, board(), tester_.wiring(), tester_.readings(other));
  }
  if (ask.magnitude) found = std::abs(found);
  if (ask.window.holds(found)) return passed();
  std::vector<Place> places = ask.term.role >= 0
                                  ? std::vector<Place>{place_of(casting.part[size_t(ask.term.role)])}
                                  : std::vector<Place>{place_of(ask.term.at, casting), place_of(ask.term.against, casting)};
  Outcome out = failed(std::isfinite(found) ? Reason::kOutside : Reason::kNoNumber, std::move(places));
  out.found = found;
  out.expected = ask.window;
  out.unit = ask.over ? std::string_view() : ask.term.unit();
  out.what = ask.over ? "ratio" : key(ask.term.role < 0 ? Quantity::kVoltage : ask.term.quantity);
  return out;
}

Outcome Examiner::answer(const TruthCheck& ask, const Arrangement& at, const Casting& casting) {
  const size_t inputs = ask.inputs.size();
  for (uint32_t row = 0; row < (1u << inputs); ++row) {
    std::string setting(inputs, '0');
    Arrangement here = at;
    for (size_t i = 0; i < inputs; ++i) {
      if (row >> (inputs - 1 - i) & 1) setting[i] = '1';
      const std::optional<Put> one = put({ask.inputs[i], "", double(setting[i] - '0')}, casting);
      if (!one) return failed(Reason::kNoNumber, {place_of(casting.part[size_t(ask.inputs[i])])});
      here.puts.push_back(*one);
    }
    std::sort(here.puts.begin(), here.puts.end());
    const int output = casting.part[size_t(ask.output)];
    const State state = tester_.readings(here).parts[size_t(output)].state;
    const bool wanted = std::find(ask.works.begin(), ask.works.end(), setting) != ask.works.end();
    if (works(state) == wanted) continue;
    Outcome out = failed(Reason::kWrongState, {place_of(output)});
    for (const int input : ask.inputs) out.places.push_back(place_of(casting.part[size_t(input)]));
    out.what = key(state);
    out.wanted = wanted ? "works" : "rests";
    tell_case(here, out);
    return out;
  }
  return passed();
}

Outcome Examiner::answer(const WaveCheck& ask, const Arrangement& at, const Casting& casting) {
  const std::vector<Sample> samples = tester_.record(at, ask.from, ask.span, kSamples, [&](const Session& session) {
    return number(ask.term, casting, session.board(), session.wiring(), session.readings());
  });
  const Measured m = measure(samples);
  std::vector<Place> places = {ask.term.role >= 0 ? place_of(casting.part[size_t(ask.term.role)])
                                                  : place_of(ask.term.at, casting)};
  struct Fact {
    const std::optional<Window>& window;
    double found;
    std::string_view what, unit;
  };
  const std::string_view unit = ask.term.unit();
  const Fact facts[] = {
      {ask.low, m.low, "lowest", unit},
      {ask.high, m.high, "highest", unit},
      {ask.frequency, m.frequency, "frequency", "Hz"},
      {ask.duty, m.duty, "duty", ""},
      {ask.rise, ask.rise ? edge_time(samples, Edge::kRising, m.low, m.high) : kNoReading, "rise", "s"},
      {ask.fall, ask.fall ? edge_time(samples, Edge::kFalling, m.low, m.high) : kNoReading, "fall", "s"},
  };
  for (const Fact& fact : facts) {
    if (!fact.window || fact.window->holds(fact.found)) continue;
    Outcome out = failed(has_reading(fact.found) ? Reason::kOutside : Reason::kNoWave, std::move(places));
    out.found = fact.found;
    out.expected = *fact.window;
    out.what = fact.what;
    out.unit = fact.unit;
    return out;
  }
  return passed();
}

Outcome Examiner::answer(const JoinedCheck& ask, const Arrangement&, const Casting& casting) {
  const std::vector<int> a = nets_of(ask.a, casting), b = nets_of(ask.b, casting);
  const bool meet = std::any_of(a.begin(), a.end(), [&](int net) { return std::find(b.begin(), b.end(), net) != b.end(); });
  if (meet == ask.joined) return passed();
  return failed(meet ? Reason::kJoined : Reason::kNotJoined, {place_of(ask.a, casting), place_of(ask.b, casting)});
}

Outcome Examiner::answer(const MeasuredCheck& ask, const Arrangement& at, const Casting& casting) {
  const Readings& readings = tester_.readings(at);
  const auto probes_at = [&](int meter, const std::vector<int>& a, const std::vector<int>& b) {
    const auto has = [&](const std::vector<int>& nets, int lead) {
      const StripIndex strip = tester_.wiring().strip_of_lead[size_t(meter)][size_t(lead)];
      return std::find(nets.begin(), nets.end(), tester_.wiring().net_of_strip[size_t(strip)]) != nets.end();
    };
    return (has(a, 0) && has(b, 1)) || (has(a, 1) && has(b, 0));
  };
  Outcome out = failed(Reason::kNotMeasured, {});
  if (ask.role >= 0)
    out.places = {place_of(casting.part[size_t(ask.role)])};
  else
    out.places = {place_of(ask.a, casting), place_of(ask.b, casting)};
  for (size_t m = 0; m < board().parts.size(); ++m) {
    const Part& meter = board().parts[m];
    const int value = value_index(*meter.kind, "function");
    if (!meter.kind->touches || value < 0) continue;
    if (meter.kind->values[size_t(value)].options[size_t(meter.values[size_t(value)])] != ask.function) continue;
    bool there = false;
    if (ask.where == MeasuredCheck::Where::kBetween) {
      there = probes_at(int(m), nets_of(ask.a, casting), nets_of(ask.b, casting));
    } else if (ask.where == MeasuredCheck::Where::kAcross) {
      std::vector<int> nets = nets_of({ask.role, "", ""}, casting);
      std::sort(nets.begin(), nets.end());
      nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
      there = nets.size() == 2 && probes_at(int(m), {nets[0]}, {nets[1]});
    } else {
      const double through = readings.parts[size_t(casting.part[size_t(ask.role)])].current, shown = readings.parts[m].current;
      there =
          std::abs(through) > kIdleCurrent && std::abs(std::abs(through) - std::abs(shown)) <= kSameCurrent * std::abs(through);
    }
    if (!there) continue;
    const double shown = readings.parts[m].shown;
    if (!ask.shown || ask.shown->holds(std::abs(shown))) return passed();
    out.reason = has_reading(shown) ? Reason::kOutside : Reason::kNoNumber;
    out.places.push_back(place_of(int(m)));
    out.found = std::abs(shown);
    out.expected = *ask.shown;
    out.unit = readings.parts[m].shown_unit;
    out.what = "shown";
  }
  return out;
}

Outcome Examiner::answer(const PartsCheck& ask, const Arrangement&, const Casting&) {
  Outcome out = failed(Reason::kPassed, {});
  for (size_t p = 0; p < board().parts.size(); ++p)
    if (ask.filter.fits(board().parts[p])) out.places.push_back(place_of(int(p)));
  const int count = int(out.places.size());
  if (count >= ask.at_least && count <= ask.at_most) return passed();
  out.reason = count < ask.at_least ? Reason::kTooFew : Reason::kTooMany;
  out.found = count;
  out.expected = {double(ask.at_least), double(ask.at_most)};
  out.what = ask.filter.kinds.front()->key;
  return out;
}

Outcome Examiner::answer(const ChainCheck& ask, const Arrangement&, const Casting& casting) {
  std::vector<int> parts;
  std::vector<Place> places;
  for (const int role : ask.roles) {
    parts.push_back(casting.part[size_t(role)]);
    places.push_back(place_of(parts.back()));
  }
  if (ask.series ? nets_.series(parts) : nets_.parallel(parts)) return passed();
  return failed(ask.series ? Reason::kNotInSeries : Reason::kNotParallel, std::move(places));
}

Outcome Examiner::answer(const ShapeCheck& ask, const Arrangement&, const Casting& casting) {
  if (nets_.fits(ask, casting.part)) return passed();
  std::vector<Place> places;
  for (const ShapeCheck::End& end : ask.ends) {
    const Place place = place_of(casting.part[size_t(end.role)]);
    const bool known = std::any_of(places.begin(), places.end(), [&](const Place& p) { return p.part == place.part; });
    if (!known) places.push_back(place);
  }
  return failed(Reason::kOtherShape, std::move(places));
}

Outcome Examiner::answer(const FaultCheck& ask, const Arrangement& at, const Casting&) {
  auto known = findings_.find(at);
  if (known == findings_.end()) {
    // Other explanations of the same trouble are of no use here.
    const Board arranged = tester_.arranged(at.puts);
    const Circuit circuit = extract(arranged, tester_.wiring());
    const Observed bench{arranged, tester_.wiring(), circuit, tester_.readings(at)};
    known = findings_.emplace(at, findings(bench, {.alternatives = 0})).first;
  }
  for (const Finding& finding : known->second) {
    if (finding.severity != Severity::kFault) continue;
    if (std::find(ask.except.begin(), ask.except.end(), key(finding.kind)) != ask.except.end()) continue;
    Outcome out = failed(Reason::kFaulty, finding.places);
    out.finding = finding;
    return out;
  }
  return passed();
}

}  // namespace tiepoint
