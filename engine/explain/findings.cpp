#include "engine/explain/findings.h"

#include <algorithm>
#include <cmath>

#include "engine/explain/condition.h"
#include "engine/explain/outlook.h"
#include "engine/explain/places.h"
#include "engine/explain/repairs.h"
#include "engine/explain/trial.h"
#include "engine/explain/values.h"

namespace tiepoint {
namespace {

// A board of `kLarge` parts and more is looked at within the time of a few solutions.
constexpr size_t kLarge = 36;
struct Budget {
  int positions;  // settings of the switches that are tried
  int tried;      // repairs that are settled by the solver
  int ahead;      // first movements followed by a second one, in thought
  int sideways;   // movements tried on a board whose structure is in order
  int slips;      // common slips thought of besides, when no single movement is enough
};
constexpr Budget kSmallBoard = {16, 16, 32, 64, 28}, kLargeBoard = {4, 6, 6, 24, 0}, kRestlessBoard = {8, 8, 24, 64, 28};
constexpr double kCommonSlip = 1.2;    // effort of the commonest slips at most
constexpr double kOwnFlaw = 0.4;       // what already has a flaw is thought of sooner
constexpr double kClear = 4;           // a repair this much better than the next needs no solver
constexpr size_t kPatience = 3;        // so many times more are settled while none of them works
constexpr double kUnsatisfied = 1.99;  // flaws or strain left by what should have been the repair
constexpr size_t kSeconds = 3;         // second movements that are kept of each first one,
constexpr double kAlmostAsGood = 1;    // when they are this close to the best
constexpr double kOddMovement = 1.9;   // effort that two common slips together hardly need
constexpr int kMostNamed = 8;          // explanations put into words before the most different ones are kept
constexpr int kMostRootCauses = 3;     // looked for behind each other

bool mild(const Scene& scene, const FlawAt& flaw) {
  // Of a board that goes on changing the trial cannot say that it works without this wire.
  if (scene.may_beat && (flaw.flaw == Flaw::kIdleWire || flaw.flaw == Flaw::kInAir)) return false;
  if (flaw.flaw == Flaw::kLooseEnd || flaw.flaw == Flaw::kIdleWire || flaw.flaw == Flaw::kSpareWire) return true;
  return flaw.flaw == Flaw::kInAir && scene.parts[size_t(flaw.part)].role == Role::kWire;
}

// The board after some edits, thought through as far as the judge needs it.
struct Imagined {
  Imagined(const Board& from, const std::vector<Edit>& edits) : board(from) {
    for (const Edit& edit : edits) fits = fits && apply(board, edit).ok();
    if (!fits) return;
    wiring = wire_up(board);
    scene = make_scene(board, wiring);
  }
  Imagined(const Imagined&) = delete;  // the scene points into it
  Board board;
  bool fits = true;
  Wiring wiring;
  Scene scene;
};

class Detective {
 public:
  Detective(const Observed& bench, const FindingOptions& options, int depth)
      : bench_(bench), board_(bench.board), options_(options), depth_(depth), scene_(make_scene(bench.board, bench.wiring)),
        budget_(bench.board.parts.size() >= kLarge ? kLargeBoard : scene_.may_beat || scene_.chips ? kRestlessBoard : kSmallBoard), judge_(scene_), names_(board_, bench.wiring, scene_) {}

  std::vector<Finding> run() {
    if (board_.parts.empty()) {
      add(FindingKind::kNoPart);
      return std::move(out_);
    }
    base_cost_ = judge_.cost({}, &flaws_);
    if (scene_.supplies == 0) {
      add(FindingKind::kNoSupply);
      return std::move(out_);
    }
    const bool all_mild = std::all_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) { return mild(scene_, f); });
    if (!all_mild) {
      report_structure();
      if (harmless()) soften();
    } else {
      run_trial();
      if (int(trial_.positions.size()) == budget_.positions && !strains(board_, trial_).empty()) {  // look at the other settings too
        trial_ = try_positions(board_, bench_.wiring, bench_.circuit, scene_, positions_to_try(scene_, kSmallBoard.positions));
      }
      strains_ = strains(board_, trial_);
      if (!strains_.empty()) report_strains();
      if (!strains_.empty() && out_.empty()) try_movements();
      if (!strains_.empty() && out_.empty())
        for (const StrainAt& strain : strains_) report_strain(strain);
    }
    if (out_.empty()) report_works();
    if (all_mild) report_mild();
    report_silenced();
    if (int(out_.size()) > options_.most) out_.resize(size_t(options_.most));
    return std::move(out_);
  }

 private:
  void add(FindingKind kind) { out_.push_back(make_finding(kind)); }
  Place place(int part, int lead = -1, bool with = false) const { return names_.place(part, lead, with); }
  std::string name_of(int part) const { return board_.parts[size_t(part)].name; }

  // ---- structure

  const Taken& taken() {
    if (taken_.holes.empty()) taken_ = taken_holes(board_);
    return taken_;
  }

  void run_trial() {
    if (trial_.positions.empty()) trial_ = try_positions(board_, bench_.wiring, bench_.circuit, scene_, positions_to_try(scene_, budget_.positions));
  }

  // Only parts that are neither load, switch nor supply are idle, and everything works without them.
  bool harmless() {
    for (const FlawAt& f : flaws_) {
      const Role role = scene_.parts[size_t(f.part)].role;
      if (role == Role::kLoad || role == Role::kSwitch || role == Role::kSupply || f.flaw == Flaw::kUnlimited) return false;
    }
    run_trial();
    return strains(board_, trial_).empty();
  }
  void soften() {
    for (Finding& f : out_)
      if (f.severity == Severity::kFault) f.severity = Severity::kWarning;
    report_works();
  }

  struct Judged {
    Candidate candidate;
    std::vector<Edit> edits;
    double strain = 0;
    std::vector<Edit> second = {};  // what would follow, when one movement is not enough
    double score() const { return candidate.score() + strain; }
  };

  void report_structure() {
    std::vector<Candidate> candidates = find_repairs(scene_, judge_, flaws_);
    std::vector<Judged> judged;
    for (Candidate& c : candidates) {
      if (int(judged.size()) >= std::max(budget_.tried, options_.alternatives + 1) + budget_.ahead) break;
      if (!judged.empty() && c.score() > judged[0].candidate.score() + 12) break;
      std::vector<Edit> edits = edits_for(scene_, c, taken());
      if (edits.empty()) continue;
      judged.push_back({std::move(c), std::move(edits)});
    }
    if (judged.empty()) {
      judged = pairs_of_slips();
      std::erase_if(judged, [&](const Judged& j) { return j.candidate.cost >= base_cost_; });
    }
    if (judged.empty()) return report_unrepaired();
    bool looked_ahead = depth_ > 0;
    for (int settled = 0; settled < 2; ++settled) {
      if (!looked_ahead && unsatisfied(judged[0])) {  // no single movement is enough: at once, or as the solver sees it
        look_ahead(judged, std::min(judged.size(), size_t(budget_.ahead)) + add_common_slips(judged));
        looked_ahead = true;
      } else if (settled == 1) {
        break;
      }
      if (options_.try_on_circuit) settle_by_solver(judged);
    }
    std::vector<Finding> named;
    for (const Judged& j : judged) {
      if (!named.empty() && j.score() > judged[0].score() + 3) break;
      if (named.size() > size_t(kMostNamed)) break;
      Finding f = finding_for(j);
      if (same_as_earlier(named, f)) continue;
      if (!named.empty()) f.instead_of = 0;
      named.push_back(std::move(f));
    }
    // What mends a board that does not work is no idle wire.
    if (named[0].kind == FindingKind::kWireIdle) named[0].severity = Severity::kFault;
    vary(named);
    if (int(named.size()) > options_.alternatives + 1) named.resize(size_t(options_.alternatives + 1));
    for (Finding& f : named) out_.push_back(std::move(f));
    if (judged[0].strain + remaining(judged[0]) > 1.99 && depth_ + 1 < kMostRootCauses) look_behind(judged[0].edits);
  }

  // Of what else it might be, another sort of trouble says more than the same sort once more next to it: the best of each sort first.
  static void vary(std::vector<Finding>& named) {
    // The second stays: it is the next best, whatever its sort.
    for (size_t k = 2; k < named.size(); ++k) {
      const auto fresh = std::find_if(named.begin() + long(k), named.end(), [&](const Finding& f) {
        return std::none_of(named.begin(), named.begin() + long(k), [&](const Finding& n) { return n.kind == f.kind; });
      });
      if (fresh == named.end()) return;
      std::rotate(named.begin() + long(k), fresh, fresh + 1);
    }
  }

  // Two movements that mean the same trouble at the same place (either of two leads may be the one to move).
  static bool same_as_earlier(const std::vector<Finding>& named, const Finding& f) {
    const auto culprits = [](const Finding& x) {
      std::vector<std::pair<PartId, int>> out;
      for (const Place& p : x.places)
        if (!p.with) out.push_back({p.part, p.lead});
      std::sort(out.begin(), out.end());
      return out;
    };
    return std::any_of(named.begin(), named.end(), [&](const Finding& n) { return n.kind == f.kind && culprits(n) == culprits(f); });
  }

  bool flawed(int part) const {
    return std::any_of(flaws_.begin(), flaws_.end(), [&](const FlawAt& f) { return f.part == part; });
  }

  // Of two common slips each may hide what mending the other does: the likeliest slips are worth a thought even where they alone mend
  // nothing. They are put behind the movements that will be looked at anyway; returns how many.
  size_t add_common_slips(std::vector<Judged>& judged) {
    if (budget_.slips == 0) return 0;
    std::vector<Candidate> slips = find_repairs(scene_, judge_, flaws_, true);
    std::erase_if(slips, [](const Candidate& c) { return c.effort > kCommonSlip; });
    const auto unlikely = [&](const Candidate& c) { return c.effort - (flawed(c.part) ? kOwnFlaw : 0); };
    std::stable_sort(slips.begin(), slips.end(), [&](const Candidate& a, const Candidate& b) { return unlikely(a) < unlikely(b); });
    const size_t at = std::min(judged.size(), size_t(budget_.ahead));
    const auto same = [](const Candidate& a, const Candidate& b) {
      return a.movement == b.movement && a.part == b.part && a.lead == b.lead && a.from == b.from && a.to == b.to && a.steps == b.steps;
    };
    size_t added = 0;
    for (Candidate& slip : slips) {
      if (int(added) >= budget_.slips) break;
      const auto known = std::find_if(judged.begin(), judged.end(), [&](const Judged& j) { return same(j.candidate, slip); });
      if (known != judged.end() && size_t(known - judged.begin()) < at + added) continue;
      if (known != judged.end()) {
        std::rotate(judged.begin() + long(at + added), known, known + 1);
      } else {
        std::vector<Edit> edits = edits_for(scene_, slip, taken());
        if (edits.empty()) continue;
        judged.insert(judged.begin() + long(at + added), {std::move(slip), std::move(edits)});
      }
      ++added;
    }
    return added;
  }

  // Where no single movement helps at all: common slips of which two together would.
  std::vector<Judged> pairs_of_slips() {
    std::vector<Judged> out;
    if (depth_ > 0) return out;
    look_ahead(out, add_common_slips(out));
    std::erase_if(out, [](const Judged& j) { return j.second.empty(); });
    return out;
  }

  // When no single movement is enough there are two faults or more. Then the first movement is judged by how well the board could
  // be after a second one, not by how much it mends alone.
  void look_ahead(std::vector<Judged>& judged, size_t most) {
    std::vector<Judged> ahead;
    for (size_t k = 0; k < most; ++k) {
      Judged& j = judged[k];
      const Imagined changed(board_, j.edits);
      if (changed.fits) follow(j, changed, ahead);
      if (j.second.empty()) ahead.push_back(std::move(j));
    }
    std::stable_sort(ahead.begin(), ahead.end(), [](const Judged& x, const Judged& y) { return x.score() < y.score(); });
    judged.erase(judged.begin(), judged.begin() + long(most));
    judged.insert(judged.begin(), std::make_move_iterator(ahead.begin()), std::make_move_iterator(ahead.end()));
  }

  // Adds what may follow this first movement, which is left as it is when nothing helps.
  void follow(Judged& j, const Imagined& changed, std::vector<Judged>& ahead) {
    Judge judge(changed.scene);
    std::vector<FlawAt> left;
    const double cost = judge.cost({}, &left);
    const std::vector<Candidate> next = find_repairs(changed.scene, judge, left);
    j.candidate.cost = cost;
    size_t found = 0;
    for (const Candidate& c : next) {
      if (found == kSeconds || c.score() >= cost || c.score() > next[0].score() + kAlmostAsGood) break;
      std::vector<Edit> second = edits_for(changed.scene, c, taken_holes(changed.board));
      if (second.empty() || in_vain(second, c.cost)) continue;
      ahead.push_back(j);
      ahead.back().candidate.cost = c.score();
      ahead.back().second = std::move(second);
      ++found;
    }
    if (found > 0) j.second = ahead.back().second;
  }

  // Is the board as good after the second movement alone?
  bool in_vain(const std::vector<Edit>& second, double cost_of_both) const {
    const Imagined changed(board_, second);
    return changed.fits && Judge(changed.scene).cost({}) <= cost_of_both + 0.01;
  }

  // Strain can only add to a score, so whatever stands behind the best settled one cannot overtake it.
  void settle_by_solver(std::vector<Judged>& judged) {
    if (judged.size() < 2 || judged[1].candidate.score() > judged[0].candidate.score() + kClear) return;
    run_trial();
    double best = 1e9;
    size_t settled = 0;
    const size_t most = std::min(judged.size(), size_t(budget_.tried) * kPatience);
    for (; settled < most; ++settled) {
      if (settled >= size_t(budget_.tried) && best < judged[0].candidate.cost + kClear) break;
      Judged& j = judged[settled];
      if (j.candidate.score() > best) break;
      j.strain = outlook().strain_after(j.edits, j.second);
      best = std::min(best, j.score());
    }
    std::stable_sort(judged.begin(), judged.begin() + long(settled), [](const Judged& x, const Judged& y) { return x.score() < y.score(); });
  }

  // Of two faults one may hide what the other is called: then it is named on the board where the one behind it is mended.
  FindingKind name_of_trouble(const Judged& j) {
    const FindingKind kind = name_trouble(scene_, judge_, j.candidate, flaws_);
    if ((kind != FindingKind::kWireIdle && kind != FindingKind::kWireAmiss) || j.second.empty()) return kind;
    const Imagined changed(board_, j.second);
    Candidate c = j.candidate;
    c.part = changed.board.index_of(board_.parts[size_t(c.part)].id);
    if (!changed.fits || c.part < 0) return kind;
    Judge judge(changed.scene);
    std::vector<FlawAt> flaws;
    judge.cost({}, &flaws);
    return name_trouble(changed.scene, judge, c, flaws);
  }

  Finding finding_for(const Judged& j) {
    const Candidate& c = j.candidate;
    Finding f = make_finding(name_of_trouble(j));
    f.repair = j.edits;
    f.effort = c.effort;
    names_.name_places(f, c);
    if (c.movement == Movement::kShift)
      if (const auto* move = std::get_if<MovePart>(&j.edits[0].act)) {
        tell(f, "lead", names_.lead_name(c.part, 0));
        tell(f, "hole", board_.name_of(board_.parts[size_t(c.part)].leads[0]));
        tell(f, "target", board_.name_of(move->leads[0]));
        tell(f, "here", names_.strip_name(scene_.strip_of_lead[size_t(scene_.lead_index(c.part, 0))]));
        tell(f, "there", names_.strip_name(c.change.moves[0].strip));
      }
    if (c.movement == Movement::kSeat)
      if (const auto* seat = std::get_if<SeatLead>(&j.edits[0].act)) tell(f, "target", board_.name_of(seat->hole));
    std::vector<FlawAt> after;
    judge_.cost(c.change, &after);
    names_.name_sufferers(f, c, flaws_, after);
    if (c.movement == Movement::kToResistor)
      for (const StrainAt& s : strains_)
        if (s.strain == Strain::kTooBright) {
          f.places.push_back(place(s.part));
          tell(f, "other", name_of(s.part));
        }
    if (c.movement == Movement::kAddWire)
      if (const auto* wire = std::get_if<PlacePart>(&j.edits[0].act)) {
        tell(f, "hole", board_.name_of(wire->part.leads[0]));
        tell(f, "target", board_.name_of(wire->part.leads[1]));
      }
    return f;
  }

  // Nothing small helps: the flaws themselves are what can be said.
  void report_unrepaired() {
    for (const FlawAt& flaw : flaws_) {
      if (mild(scene_, flaw)) continue;
      FindingKind kind = FindingKind::kUnfinished;
      switch (flaw.flaw) {
        case Flaw::kShort: kind = FindingKind::kSupplyShorted; break;
        case Flaw::kPressShort: kind = FindingKind::kPressShorts; break;
        case Flaw::kUnlimited: kind = FindingKind::kLedUnlimited; break;
        case Flaw::kInAir: kind = FindingKind::kLeadInAir; break;
        case Flaw::kOneNet: kind = FindingKind::kSameStrip; break;
        case Flaw::kOff: kind = FindingKind::kSupplyOff; break;
        default: break;
      }
      Finding f = make_finding(kind);
      f.places.push_back(place(flaw.part, flaw.lead));
      tell(f, "part", name_of(flaw.part));
      if (flaw.lead >= 0) tell(f, "lead", names_.lead_name(flaw.part, flaw.lead));
      out_.push_back(std::move(f));
      if (int(out_.size()) >= options_.most) break;
    }
  }

  bool unsatisfied(const Judged& j) { return j.strain > kUnsatisfied || remaining(j) > kUnsatisfied || j.candidate.effort > kOddMovement; }

  // Flaws that the first repair leaves.
  double remaining(const Judged& j) {
    std::vector<FlawAt> after;
    judge_.cost(j.candidate.change, &after);
    double sum = 0;
    for (const FlawAt& f : after) sum += mild(scene_, f) ? 0 : f.weight;
    return sum;
  }

  // What would still be wrong after the first repair: a second cause, found on the repaired board.
  void look_behind(const std::vector<Edit>& repair) {
    Board changed = board_;
    for (const Edit& edit : repair)
      if (!apply(changed, edit)) return;
    const Wiring wiring = wire_up(changed);
    const Circuit circuit = extract(changed, wiring);
    const Readings none;
    FindingOptions options = options_;
    options.alternatives = 0;
    std::vector<Finding> more = Detective({changed, wiring, circuit, none}, options, depth_ + 1).run();
    for (Finding& f : more) {
      if (f.severity == Severity::kNote) continue;
      f.instead_of = -1;
      if (!f.repair.empty() && !check(board_, Edit{Batch{f.repair}})) f.repair.clear();
      std::erase_if(f.places, [&](const Place& p) { return p.part && !board_.find(p.part); });
      out_.push_back(std::move(f));
    }
  }

  // ---- strains

  void report_strains() {
    const std::vector<ValueRepair> repairs = find_value_repairs(scene_, bench_.circuit, strains_, trial_.positions);
    for (size_t k = 0; k < repairs.size() && int(out_.size()) <= options_.alternatives; ++k) {
      if (k > 0 && repairs[k].score() > repairs[0].score() + 3) break;
      Finding f = finding_for(repairs[k]);
      if (same_as_earlier(out_, f)) continue;
      if (!out_.empty()) f.instead_of = 0;
      out_.push_back(std::move(f));
    }
  }

  // The structure is in order, yet something does not work: settle every movement nearby by the solver.
  void try_movements() {
    std::vector<FlawAt> near = flaws_;
    for (const StrainAt& s : strains_)
      if (s.part >= 0) near.push_back({s.strain == Strain::kTooBright ? Flaw::kUnlimited : Flaw::kStuck, s.part});
    const double before = total(strains_) + unruled(board_, trial_);
    std::vector<Judged> judged;
    int tried = 0;
    std::vector<Candidate> candidates = find_repairs(scene_, judge_, near, true);
    std::stable_partition(candidates.begin(), candidates.end(), [](const Candidate& c) { return c.movement == Movement::kToResistor; });
    for (Candidate& c : candidates) {
      if (++tried > budget_.sideways) break;
      std::vector<Edit> edits = edits_for(scene_, c, taken());
      if (edits.empty()) continue;
      const double strain = outlook().strain_after(edits);
      if (strain < before - 1) judged.push_back({std::move(c), std::move(edits), strain});
    }
    if (judged.empty())
      for (Judged& j : pairs_of_slips()) {
        j.strain = outlook().strain_after(j.edits, j.second);
        if (j.strain < before - 1) judged.push_back(std::move(j));
      }
    std::stable_sort(judged.begin(), judged.end(), [](const Judged& a, const Judged& b) { return a.score() < b.score(); });
    for (const Judged& j : judged) {
      if (int(out_.size()) > options_.alternatives || j.score() > judged[0].score() + 3) break;
      Finding f = finding_for(j);
      if (same_as_earlier(out_, f)) continue;
      if (!out_.empty()) f.instead_of = 0;
      out_.push_back(std::move(f));
    }
  }

  // A board of few parts has time for a second thought about its values.
  Outlook outlook() const { return {board_, trial_, budget_.positions, budget_.tried == kSmallBoard.tried}; }

  Finding finding_for(const ValueRepair& r) const {
    const Part& part = board_.parts[size_t(r.part)];
    const ValueSpec& spec = part.kind->values[size_t(r.value)];
    Finding f = make_finding(r.kind);
    f.effort = r.effort;
    f.repair.push_back(Edit{SetValue{part.name, std::string(spec.key), r.to}});
    f.places.push_back(place(r.part));
    tell(f, "part", part.name);
    const auto tell_value = [&](std::string_view name, double value) {
      if (spec.options.empty()) tell(f, name, value, spec.unit);
      else tell(f, name, std::string(spec.options[size_t(value)]));
    };
    tell_value("now", part.values[size_t(r.value)]);
    tell_value("wanted", r.to);
    if (!strains_.empty()) tell_strain(f, strains_[0]);
    for (const StrainAt& s : strains_)
      if (s.strain == Strain::kNeverOn || s.strain == Strain::kFaint) f.silenced.push_back(board_.parts[size_t(s.part)].id);
    return f;
  }

  void tell_strain(Finding& f, const StrainAt& s) const {
    if (s.part < 0) return;
    const bool watts = s.strain == Strain::kTooHot && has_reading(type_of(board_.parts[size_t(s.part)]).ratings(board_.parts[size_t(s.part)]).power);
    const bool volts = s.strain == Strain::kOverVoltage || s.strain == Strain::kReversed;
    tell(f, "load", name_of(s.part));
    tell(f, "value", s.value, watts ? "W" : volts ? "V" : "A");
    tell(f, "rating", s.rating, watts ? "W" : volts ? "V" : "A");
  }

  void report_strain(const StrainAt& s) {
    FindingKind kind = FindingKind::kStaysDark;
    switch (s.strain) {
      case Strain::kTooBright: case Strain::kOverloaded: kind = FindingKind::kPartOverCurrent; break;
      case Strain::kTooHot: kind = FindingKind::kPartOverPower; break;
      case Strain::kOverVoltage: kind = FindingKind::kPartOverVoltage; break;
      case Strain::kReversed: kind = FindingKind::kCapacitorReversed; break;
      case Strain::kAtLimit: kind = FindingKind::kSupplyOverloaded; break;
      case Strain::kBeingCharged: kind = FindingKind::kSuppliesFight; break;
      case Strain::kNeverOn: kind = junctions_above_supply(s.part) ? FindingKind::kTooManyInSeries : FindingKind::kStaysDark; break;
      case Strain::kFaint: kind = FindingKind::kSupplyTooLow; break;
      case Strain::kNoEffect: kind = FindingKind::kSwitchIdle; break;
      case Strain::kNoSolution: return;
    }
    Finding f = make_finding(kind);
    if (kind == FindingKind::kStaysDark) f.severity = Severity::kFault;
    f.places.push_back(place(s.part));
    tell(f, "part", name_of(s.part));
    tell_strain(f, s);
    out_.push_back(std::move(f));
  }

  // Do the junctions in this part's branch take more than any supply gives?
  bool junctions_above_supply(int) const {
    double supply = 0, taken = 0;
    for (const SceneLink& link : scene_.links) {
      if (link.link == Link::kSource) supply = std::max(supply, link.value);
      if (link.link == Link::kJunction) taken += link.value;
    }
    return supply > 0 && taken > supply;
  }

  // ---- when nothing is wrong, and what else there is to say

  void report_works() {
    Finding f = make_finding(FindingKind::kWorks);
    int loads = 0;
    for (size_t p = 0; p < board_.parts.size(); ++p)
      if (is_load(board_.parts[p])) ++loads, f.places.push_back(place(int(p), -1, true));
    tell(f, "count", loads, "");
    out_.push_back(std::move(f));
  }

  void report_mild() {
    for (const FlawAt& flaw : flaws_) {
      if (flaw.flaw == Flaw::kSpareWire) continue;  // two ways to the same rail do no harm
      Finding f = make_finding(FindingKind::kWireIdle);
      f.places.push_back(place(flaw.part, flaw.lead));
      f.repair.push_back(Edit{RemovePart{name_of(flaw.part)}});
      tell(f, "part", name_of(flaw.part));
      if (!same_as_earlier(out_, f)) out_.push_back(std::move(f));
    }
  }

  void report_silenced() {
    if (depth_ > 0) return;
    std::vector<Finding> notes;
    for (size_t k = 0; k < out_.size(); ++k) {
      if (out_[k].instead_of >= 0) continue;
      for (const PartId id : out_[k].silenced) {
        Finding f = make_finding(FindingKind::kStaysDark);
        const int part = board_.index_of(id);
        if (part < 0) continue;
        f.places.push_back(place(part));
        tell(f, "part", name_of(part));
        tell(f, "cause", double(k), "");
        if (!same_as_earlier(notes, f)) notes.push_back(std::move(f));
      }
    }
    for (Finding& f : notes) out_.push_back(std::move(f));
  }

  const Observed bench_;
  const Board& board_;
  const FindingOptions options_;
  const int depth_;
  const Scene scene_;
  const Budget budget_;
  Judge judge_;
  const Places names_;
  Taken taken_;
  std::vector<FlawAt> flaws_;
  double base_cost_ = 0;
  Trial trial_;
  std::vector<StrainAt> strains_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> findings(const Observed& bench, const FindingOptions& options) {
  if (const std::optional<Board> stands = with_closed_reeds(bench.board, bench.readings))
    return findings({*stands, bench.wiring, extract(*stands, bench.wiring), bench.readings}, options);
  std::vector<Finding> out;
  if (needs_good_parts(bench)) {
    const Board good = with_good_parts(bench.board);
    const Circuit circuit = extract(good, bench.wiring);
    out = Detective({good, bench.wiring, circuit, bench.readings}, options, 0).run();
  } else {
    out = Detective(bench, options, 0).run();
  }
  add_conditions(bench, options, out);
  add_chip_notes(bench, options, out);
  return out;
}

bool any_fault(const std::vector<Finding>& list) {
  return std::any_of(list.begin(), list.end(), [](const Finding& f) { return f.severity == Severity::kFault; });
}

}  // namespace tiepoint
