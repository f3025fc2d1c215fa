// How often does the bench name the true fault? Draws working boards, spoils each with one known fault, and asks.
//   corpus [--count N] [--seed N] [--pairs N] [--json] [--show CLASS]
// Exit 0 when every figure is reached, 1 when one falls short, 2 on bad usage.
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <map>
#include <set>
#include <string>

#include "engine/circuit/circuit.h"
#include "engine/explain/findings.h"
#include "engine/explain/trial.h"
#include "engine/file/json.h"
#include "engine/solver/simulation.h"
#include "tests/corpus/base.h"
#include "tests/corpus/mutate.h"

namespace tiepoint::corpus {
namespace {

constexpr int kMostPositions = 64;

// What the loads and capacitors do at every position of the switches: the board's truth table as text, one letter each.
std::string truth_of(const Board& board) {
  const Trial trial = try_board(board, kMostPositions);
  std::map<std::string, std::string> rows;
  for (const Readings& readings : trial.readings)
    for (size_t p = 0; p < board.parts.size(); ++p) {
      const Part& part = board.parts[p];
      const PartReading* r = readings.error ? nullptr : &readings.parts[p];
      if (is_load(part)) rows[part.name] += !r ? '?' : works(*r) ? 'L' : r->state == State::kFaint ? 'f' : 'd';
      if (type_of(part).group != "storage") continue;
      const bool polar = has_reading(type_of(part).ratings(part).reverse_voltage);  // the others may stand either way
      rows[part.name] += !r ? '?' : r->voltage > 0.5 || (!polar && r->voltage < -0.5) ? '+' : r->voltage < -0.5 ? '-' : '0';
    }
  std::string out;
  for (const auto& [name, row] : rows) out += name + ":" + row + " ";
  if (!strains(board, trial).empty()) out += "strained";
  return out;
}

// Is it a whole board, judged by the solver alone: every load can be made to work, every switch matters, nothing is strained, and
// every part carries current (or holds charge) at some position? Then whatever was done to it, it works: perhaps as another design.
bool is_whole(const Board& board) {
  constexpr double kCarries = 1e-6;  // [A]
  const Trial trial = try_board(board, kMostPositions);
  if (!strains(board, trial).empty()) return false;
  for (size_t p = 0; p < board.parts.size(); ++p) {
    bool used = false;
    for (const Hole h : board.parts[p].leads)
      if (!h.valid()) return false;
    for (const Readings& r : trial.readings) {
      if (r.error) return false;
      for (const double i : r.parts[p].lead_current) used = used || std::abs(i) > kCarries;
      used = used || (type_of(board.parts[p]).group == "storage" && std::abs(r.parts[p].voltage) > 0.5);
    }
    // A wire between rails may feed one that nothing uses yet.
    if (!used && !board.parts[p].kind->conductor) return false;
    if (!used) {
      for (const Hole h : board.parts[p].leads)
        if (!place_of(board.layout_of(h), h.index).on_rail) return false;
    }
  }
  return true;
}

std::vector<Finding> look(const Board& board, double* seconds = nullptr) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  const Readings readings = take_readings(board, wiring, circuit, solve_operating_point(circuit));
  const std::clock_t start = std::clock();  // processor time: other work on the machine does not count
  std::vector<Finding> out = findings({board, wiring, circuit, readings});
  if (seconds) *seconds = double(std::clock() - start) / CLOCKS_PER_SEC;
  return out;
}

Board draw_board(const Recipe& recipe, Random& random) {
  for (;;)
    if (std::optional<Board> board = lay_out(recipe, random)) return *board;
}

// Does the finding name the fault: its class, and its place among the culprits?
bool names(const Board& board, const Finding& f, const Fault& fault) {
  if (f.kind != fault.kind) return false;
  const Wiring wiring = wire_up(board);
  for (const Place& p : f.places) {
    if (p.with) continue;
    const Part* part = p.part ? board.find(p.part) : nullptr;
    if (part && !fault.part.empty() && (part->name == fault.part || part->name == fault.also)) {
      if (fault.lead < 0 || p.lead < 0 || p.lead == fault.lead) return true;
    }
    for (const Hole h : fault.between) {
      const StripIndex strip = p.strip;
      if (strip >= 0 && wiring.net_of_strip[size_t(strip)] == net_of(board, wiring, h)) return true;
    }
  }
  return false;
}

struct Tally {
  int drawn = 0, base_alarms = 0;
  int broken = 0, first = 0, third = 0, restored = 0;
  int working = 0, said_works = 0, another = 0, another_said = 0;
  int pairs = 0, pairs_restored = 0;
  double seconds = 0, slowest = 0;
  std::map<std::string, std::map<std::string, int>> confusion;
  std::map<std::string, int> per_class, per_class_first, per_class_restored;
  std::set<std::string> recipes;
};

bool mend(Board& board, const Finding& f) {
  if (f.repair.empty()) return false;
  return apply(board, Edit{Batch{f.repair}}).ok();
}

struct Drawn { Board base, spoiled; Fault fault; };

std::optional<Drawn> draw(FindingKind kind, Random& random) {
  for (int attempt = 0; attempt < 400; ++attempt) {
    Board base = draw_board(random.pick(recipes()), random);
    Board spoiled = base;
    if (std::optional<Fault> fault = spoil(spoiled, kind, random)) return Drawn{std::move(base), std::move(spoiled), *fault};
  }
  return std::nullopt;
}

void print_case(const Drawn& d, const std::vector<Finding>& found, const char* why) {
  std::printf("---- %s: %s, truth %s %s lead %d\n", why, d.base.title.c_str(), std::string(key(d.fault.kind)).c_str(), d.fault.part.c_str(), d.fault.lead);
  for (const Hole h : d.fault.between) std::printf("  between %s\n", d.base.name_of(h).c_str());
  for (const Finding& f : found) {
    std::printf("  %s %s:", std::string(key(f.severity)).c_str(), std::string(key(f.kind)).c_str());
    for (const Place& p : f.places) {
      const Part* part = p.part ? d.spoiled.find(p.part) : nullptr;
      std::printf(" %s%s.%d@%s", p.with ? "~" : "", part ? part->name.c_str() : "-", p.lead, d.spoiled.name_of(p.hole).c_str());
    }
    std::printf(" effort %.2f\n", f.effort);
    for (const Edit& e : f.repair) std::printf("      %s\n", write_edit(e, d.spoiled).c_str());
  }
  for (const Part& part : d.spoiled.parts) {
    std::printf("    %s", part.name.c_str());
    for (const Hole h : part.leads) std::printf(" %s", d.spoiled.name_of(h).c_str());
    for (double v : part.values) std::printf(" %g", v);
    std::printf("\n");
  }
  std::printf("  base %s\n  now  %s\n", truth_of(d.base).c_str(), truth_of(d.spoiled).c_str());
}

void one(const Drawn& d, Tally& tally, const std::string& show) {
  const std::string name(key(d.fault.kind));
  const std::string truth = truth_of(d.base), now = truth_of(d.spoiled);
  ++tally.drawn;
  tally.recipes.insert(d.base.title);
  if (const std::vector<Finding> base = look(d.base); any_fault(base) || truth.find("strained") != std::string::npos) {
    ++tally.base_alarms;
    if (show == "base") print_case({d.base, d.base, {}}, base, "base board with a fault");
  }
  double seconds = 0;
  const std::vector<Finding> found = look(d.spoiled, &seconds);
  tally.seconds += seconds;
  if (show == "slow" && seconds > 0.05) std::printf("%s %s %.1f ms\n", d.base.title.c_str(), name.c_str(), seconds * 1e3);
  tally.slowest = std::max(tally.slowest, seconds);
  if (now == truth) {
    ++tally.working;
    if (any_fault(found)) {
      if (show == "working") print_case(d, found, "works, but a fault is told");
    } else {
      ++tally.said_works;
    }
    return;
  }
  if (is_whole(d.spoiled)) {
    ++tally.another;
    tally.another_said += !any_fault(found);
    if (any_fault(found) && show == "another") print_case(d, found, "another whole board, but a fault is told");
    return;
  }
  ++tally.broken;
  ++tally.per_class[name];
  const std::string said = found.empty() ? "nothing" : std::string(key(found[0].kind));
  const bool first = !found.empty() && names(d.spoiled, found[0], d.fault);
  bool third = first;
  int rank = 0;
  for (const Finding& f : found) {
    if (f.severity == Severity::kNote || rank >= 3) continue;
    ++rank;
    third = third || names(d.spoiled, f, d.fault);
  }
  tally.first += first;
  tally.third += third;
  tally.per_class_first[name] += first;
  ++tally.confusion[name][first ? name : said == name ? said + " elsewhere" : said];
  Board mended = d.spoiled;
  if (!third && show == "third") print_case(d, found, "not among the first three");
  const bool restored = !found.empty() && mend(mended, found[0]) && truth_of(mended) == truth;
  tally.restored += restored;
  tally.per_class_restored[name] += restored;
  if (show == name || show == "all") {
    if (!first) print_case(d, found, "not named first");
    else if (!restored) print_case(d, found, "named, not restored");
  }
}

// A second fault of another kind, one that breaks the board by itself, on top of the first.
std::optional<Fault> spoil_further(const Drawn& d, Board& board, const std::string& truth, Random& random) {
  for (int attempt = 0; attempt < 60; ++attempt) {
    Board alone = d.base;
    const std::optional<Fault> second = spoil(alone, random.pick(fault_classes()), random);
    if (!second || truth_of(alone) == truth || is_whole(alone)) continue;
    Board both = board;
    bool fits = true;
    for (const Edit& edit : second->edits) fits = fits && apply(both, edit).ok();
    if (!fits || truth_of(both) == truth || is_whole(both)) continue;  // one undoes the other
    board = std::move(both);
    return second;
  }
  return std::nullopt;
}

void pair(const Drawn& d, Tally& tally, Random& random, const std::string& show) {
  const std::string truth = truth_of(d.base);
  if (truth_of(d.spoiled) == truth || is_whole(d.spoiled)) return;
  Board spoiled = d.spoiled;
  const std::optional<Fault> second = spoil_further(d, spoiled, truth, random);
  if (!second) return;
  ++tally.pairs;
  Board board = spoiled;
  std::string said;
  for (int look_again = 0; look_again < 5; ++look_again) {
    const std::vector<Finding> found = look(board);
    if (found.empty() || found[0].severity == Severity::kNote) break;
    said += std::string(key(found[0].kind)) + " ";
    if (!mend(board, found[0])) break;
  }
  const bool restored = truth_of(board) == truth;
  tally.pairs_restored += restored;
  if (!restored && show == "pairs") {
    std::printf("==== pair %s + %s; repaired: %s\n", std::string(key(d.fault.kind)).c_str(), std::string(key(second->kind)).c_str(), said.c_str());
    print_case({d.base, spoiled, d.fault}, look(spoiled), "pair");
    print_case({d.base, board, *second}, look(board), "and after the repairs");
  }
}

// Seven buttons that each light two lamps, on a full board: 59 parts.
Board large_board(Random& random) {
  Board board;
  board.breadboards[0].layout = LayoutKind::k830;
  const auto put = [&](std::string_view kind, std::initializer_list<std::string> holes, double value = -1) {
    Part part = make_part(*catalogue().find(kind));
    part.leads.clear();
    for (const std::string& hole : holes) part.leads.push_back(*board.hole(hole));
    if (value >= 0) part.values[0] = value;
    if (!apply(board, Edit{PlacePart{part}})) std::fprintf(stderr, "corpus: a %s does not fit\n", std::string(kind).c_str());
  };
  put("usb-supply", {"top+1", "top-1"});
  put("jumper-wire", {"top+50", "bottom+50"});
  put("jumper-wire", {"top-50", "bottom-50"});
  for (int slot = 0; slot < 7; ++slot) {
    const int x = 1 + slot * 9;
    const auto at = [&](char row, int dx) { return row + std::to_string(x + dx); };
    const std::string rail = std::to_string(3 + slot * 6);
    const std::string next_rail = std::to_string(7 + slot * 6);
    put("push-button", {at('e', 0)});
    put("jumper-wire", {at('a', 0), "top+" + rail});
    const double ohms = random.chance(0.5) ? 330 : 470;
    for (const bool lower : {false, true}) {
      const char row = lower ? 'h' : 'c', end = lower ? 'j' : 'a';
      put("resistor", {at(row, 2), at(row, 6)}, ohms);
      put("led", {at(row == 'c' ? 'b' : 'i', 6), at(row == 'c' ? 'b' : 'i', 7)});
      put("jumper-wire", {at(end, 7), (lower ? "bottom-" : "top-") + next_rail});
    }
  }
  return board;
}

void time_large(int count, uint64_t seed) {
  std::vector<double> whole, spoiled;
  double parts = 0;
  for (int k = 0; k < count; ++k) {
    Random random(seed * 7919 + uint64_t(k));
    Board board = large_board(random);
    parts += double(board.parts.size()) / count;
    double seconds = 0;
    look(board, &seconds);
    whole.push_back(seconds);
    for (int attempt = 0; attempt < 20; ++attempt)
      if (spoil(board, random.pick(fault_classes()), random)) break;
    look(board, &seconds);
    spoiled.push_back(seconds);
  }
  const auto median = [](std::vector<double>& v) { std::sort(v.begin(), v.end()); return v[v.size() / 2]; };
  const double a = median(whole), b = median(spoiled);
  std::printf("%d boards of %.0f parts: one look %.2f ms (working), %.2f ms (with a fault), slowest %.2f ms  (5 ms)\n", count, parts, a * 1e3,
              b * 1e3, spoiled.back() * 1e3);
}

double percent(int part, int whole) { return whole ? 100.0 * part / whole : 100; }

void print(const Tally& t, bool json, int count, uint64_t seed) {
  const double mean = t.drawn ? t.seconds / t.drawn : 0;
  if (json) {
    std::printf("{\"count\": %d, \"seed\": %llu, \"classes\": %d, \"base_boards\": %d, \"broken\": %d, \"first_percent\": %.2f, "
                "\"third_percent\": %.2f, \"restored_percent\": %.2f, \"working\": %d, \"said_works_percent\": %.2f, \"another_design\": %d, \"another_said_works_percent\": %.2f, "
                "\"base_alarms\": %d, \"pairs\": %d, \"pairs_restored_percent\": %.2f, \"mean_seconds\": %.3g, \"slowest_seconds\": %.3g, "
                "\"confusion\": {",
                count, static_cast<unsigned long long>(seed), int(t.per_class.size()), int(t.recipes.size()), t.broken, percent(t.first, t.broken),
                percent(t.third, t.broken), percent(t.restored, t.broken), t.working, percent(t.said_works, t.working), t.another, percent(t.another_said, t.another), t.base_alarms,
                t.pairs, percent(t.pairs_restored, t.pairs), mean, t.slowest);
    const char* comma = "";
    for (const auto& [truth, row] : t.confusion) {
      std::printf("%s\"%s\": {", comma, truth.c_str());
      const char* inner = "";
      for (const auto& [said, n] : row) std::printf("%s\"%s\": %d", inner, said.c_str(), n), inner = ", ";
      std::printf("}");
      comma = ", ";
    }
    std::printf("}}\n");
    return;
  }
  std::printf("%-20s %6s %8s %9s  told instead\n", "true fault", "boards", "first", "restored");
  for (const auto& [name, n] : t.per_class) {
    std::printf("%-20s %6d %7.1f%% %8.1f%% ", name.c_str(), n, percent(t.per_class_first.at(name), n), percent(t.per_class_restored.at(name), n));
    for (const auto& [said, k] : t.confusion.at(name))
      if (said != name) std::printf(" %s %d;", said.c_str(), k);
    std::printf("\n");
  }
  std::printf("\n%d boards from %d recipes, %d fault classes, seed %llu\n", t.drawn, int(t.recipes.size()), int(t.per_class.size()),
              static_cast<unsigned long long>(seed));
  std::printf("broken boards               %6d\n", t.broken);
  std::printf("true fault told first       %6.2f %%  (98 %% wanted)\n", percent(t.first, t.broken));
  std::printf("  among the first three     %6.2f %%  (99.8 %%)\n", percent(t.third, t.broken));
  std::printf("first repair restores       %6.2f %%  (97 %%)\n", percent(t.restored, t.broken));
  std::printf("spoiled but still working   %6d, told so %.2f %%  (100 %%)\n", t.working, percent(t.said_works, t.working));
  std::printf("spoiled into another design %6d, told that it works %.2f %%  (100 %%)\n", t.another, percent(t.another_said, t.another));
  std::printf("faults on working boards    %6d  (0)\n", t.base_alarms);
  std::printf("two faults at once          %6d, restored %.2f %%  (95 %%)\n", t.pairs, percent(t.pairs_restored, t.pairs));
  std::printf("time of one look            %6.2f ms mean, %.2f ms slowest\n", mean * 1e3, t.slowest * 1e3);
}

bool reached(const Tally& t) {
  return percent(t.first, t.broken) >= 98 && percent(t.third, t.broken) >= 99.8 && percent(t.restored, t.broken) >= 97 &&
         t.said_works == t.working && t.another_said == t.another && t.base_alarms == 0 && percent(t.pairs_restored, t.pairs) >= 95;
}

int run(int count, uint64_t seed, int pairs, bool json, const std::string& show) {
  Tally tally;
  for (int k = 0; k < count; ++k) {
    Random random(seed * 1000003 + uint64_t(k));
    const FindingKind kind = fault_classes()[size_t(k) % fault_classes().size()];
    const std::optional<Drawn> d = draw(kind, random);
    if (!d) continue;
    one(*d, tally, show);
    if (k < pairs) pair(*d, tally, random, show);
  }
  print(tally, json, count, seed);
  return reached(tally) ? 0 : 1;
}

}  // namespace
}  // namespace tiepoint::corpus

int main(int count, char** words) {
  int boards = 5000, pairs = -1;
  uint64_t seed = 1;
  bool json = false, timed = false;
  std::string show;
  for (int k = 1; k < count; ++k) {
    const std::string word = words[k];
    const bool more = k + 1 < count;
    if (word == "--json") json = true;
    else if (word == "--time") timed = true;
    else if (word == "--count" && more) boards = std::atoi(words[++k]);
    else if (word == "--seed" && more) seed = std::strtoull(words[++k], nullptr, 10);
    else if (word == "--pairs" && more) pairs = std::atoi(words[++k]);
    else if (word == "--show" && more) show = words[++k];
    else return std::fprintf(stderr, "usage: corpus [--count N] [--seed N] [--pairs N] [--time] [--show CLASS|base|working|another|pairs|all] [--json]\n"), 2;
  }
  if (timed) return tiepoint::corpus::time_large(std::min(boards, 100), seed), 0;
  if (boards < 1) return std::fprintf(stderr, "corpus: --count wants at least 1\n"), 2;
  return tiepoint::corpus::run(boards, seed, pairs < 0 ? std::min(1000, boards) : pairs, json, show);
}
