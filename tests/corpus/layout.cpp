// Lays a recipe out from left to right (or right to left): each part next to the one before where its net allows, otherwise a
// little further on with a wire back; rails by wires or directly; bridges where the fed rails do not reach.
#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "engine/board/edit.h"
#include "engine/circuit/wiring.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "tests/corpus/base.h"

namespace tiepoint::corpus {
namespace {

std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> out;
  size_t at = 0;
  while (at < line.size()) {
    while (at < line.size() && line[at] == ' ') ++at;
    size_t end = line.find(' ', at);
    if (end == std::string_view::npos) end = line.size();
    if (end > at) out.emplace_back(line.substr(at, end - at));
    at = end;
  }
  return out;
}

struct Item {
  std::string name;
  const PartType* type = nullptr;
  std::vector<std::pair<std::string, std::string>> values;
  std::vector<std::string> nets;
};

std::vector<Item> items_of(const Recipe& recipe, Random& random) {
  std::vector<Item> out;
  std::string_view rest = recipe.parts;
  while (!rest.empty()) {
    const size_t end = rest.find('\n');
    const std::vector<std::string> words = words_of(rest.substr(0, end));
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
    if (words.size() < 3) continue;
    Item item{.name = words[0], .type = static_cast<const PartType*>(catalogue().find(words[1]))};
    size_t k = 2;
    for (; k < words.size() && words[k] != ":"; ++k) {
      const size_t equals = words[k].find('=');
      std::vector<std::string> choices;
      std::string all = words[k].substr(equals + 1);
      for (size_t from = 0; from <= all.size();) {
        const size_t bar = std::min(all.find('|', from), all.size());
        choices.push_back(all.substr(from, bar - from));
        from = bar + 1;
      }
      std::string chosen = random.pick(choices);
      std::replace(chosen.begin(), chosen.end(), '_', ' ');
      item.values.push_back({words[k].substr(0, equals), chosen});
    }
    for (++k; k < words.size(); ++k) item.nets.push_back(words[k]);
    out.push_back(std::move(item));
  }
  return out;
}

bool is_rail(const std::string& net) { return net == "+" || net == "-"; }

class Layouter {
 public:
  Layouter(const Recipe& recipe, Random& random) : random_(random), items_(items_of(recipe, random)) {
    board_.title = std::string(recipe.name);
    const int draw = random.below(10);
    board_.breadboards[0].layout = draw < 6 || items_.size() > 14 ? (items_.size() > 10 ? LayoutKind::k830 : LayoutKind::k400) : LayoutKind::k830;
    board_.breadboards[0].split_rails = board_.breadboards[0].layout == LayoutKind::k830 && random.chance(0.5);
    kind_ = &layout(board_.breadboards[0].layout);
    backwards_ = random.chance(0.3);
    top_first_ = random.chance(0.75);
    both_halves_ = random.chance(0.4);
    cursor_[0] = cursor_[1] = random.between(1, 4);
  }

  std::optional<Board> run() {
    for (const Item& item : items_)
      if (!place(item)) return std::nullopt;
    return board_;
  }

 private:
  int column(int x) const { return backwards_ ? kind_->columns + 1 - x : x; }
  Hole hole(int x, int row) const {
    const int c = column(x);
    if (c < 1 || c > kind_->columns) return {};
    return Hole{0, uint16_t((c - 1) * kRowsPerColumn + row)};
  }
  StripIndex strip(Hole h) const { return strip_of(*kind_, board_.breadboards[0].cuts(), h.index); }
  bool is_free(Hole h) const { return h.valid() && !board_.lead_in(h).part && !board_.body_over(h); }
  bool put(Part part) { return apply(board_, Edit{PlacePart{std::move(part)}}).ok(); }

  Part fresh(const Item& item) {
    Part part = make_part(*item.type);
    part.name = item.name;
    for (const auto& [key, word] : item.values) {
      const int index = value_index(*item.type, key);
      const ValueSpec& spec = item.type->values[size_t(index)];
      double value = -1;
      for (size_t k = 0; k < spec.options.size(); ++k)
        if (spec.options[k] == word) value = double(k);
      if (spec.options.empty()) value = parse_value(word).value_or(-1);
      part.values[size_t(index)] = value;
    }
    return part;
  }

  bool place(const Item& item) {
    if (item.type->reference_lead >= 0) return place_supply(item);
    if (item.type->footprint.seat == Seat::kRigid) return place_rigid(item);
    return place_two_leads(item);
  }

  // ---- rails

  std::vector<Hole> rail_holes(Rail rail) const {
    std::vector<Hole> out;
    for (int k = 0; k < kind_->rail_holes; ++k)
      out.push_back({0, uint16_t(kind_->columns * kRowsPerColumn + int(rail) * kind_->rail_holes + k)});
    return out;
  }
  Rail rail_for(const std::string& net, bool top) const {
    return net == "+" ? (top ? Rail::kTopPlus : Rail::kBottomPlus) : (top ? Rail::kTopMinus : Rail::kBottomMinus);
  }

  bool place_supply(const Item& item) {
    Part part = fresh(item);
    const std::vector<Hole> plus = rail_holes(rail_for("+", top_first_)), minus = rail_holes(rail_for("-", top_first_));
    const int k = random_.below(std::min(8, kind_->rail_holes));
    const int at = backwards_ ? kind_->rail_holes - 1 - k : k;
    part.leads = {plus[size_t(at)], minus[size_t(std::clamp(at + random_.between(-1, 1), 0, kind_->rail_holes - 1))]};
    part.mat = {random_.chance(0.5) ? 5.0 : 20.0, top_first_ ? -9.0 : 20.0};
    fed_.push_back(strip(part.leads[0]));
    fed_.push_back(strip(part.leads[1]));
    return put(std::move(part));
  }

  bool is_fed(StripIndex s) const { return std::find(fed_.begin(), fed_.end(), s) != fed_.end(); }

  bool wire(Hole a, Hole b) {
    Part part = make_part(*catalogue().find("jumper-wire"));
    part.leads = {a, b};
    return put(std::move(part));
  }

  // Wire from a fed rail of the same sign; through the middle of a split rail, or from the other side of the board.
  bool feed(Rail rail, StripIndex wanted) {
    if (is_fed(wanted)) return true;
    const std::vector<Hole> own = rail_holes(rail);
    std::vector<Hole> from, to;
    for (const Hole h : own) {
      if (strip(h) == wanted && is_free(h)) to.push_back(h);
      if (is_fed(strip(h)) && is_free(h)) from.push_back(h);
    }
    if (from.empty()) {
      const Rail opposite = static_cast<Rail>((int(rail) + 2) % 4);
      for (const Hole h : rail_holes(opposite))
        if (is_fed(strip(h)) && is_free(h)) from.push_back(h);
    }
    if (from.empty() || to.empty()) return false;
    std::pair<Hole, Hole> best{};
    double nearest = 1e9;
    const int skip = random_.below(3);
    for (const Hole a : from)
      for (const Hole b : to) {
        const MatPoint pa = board_.mat_of(a), pb = board_.mat_of(b);
        const double size = std::abs(std::hypot(pa.x - pb.x, pa.y - pb.y) - skip);
        if (size < nearest) nearest = size, best = {a, b};
      }
    if (!wire(best.first, best.second)) return false;
    fed_.push_back(wanted);
    return true;
  }

  // A free rail hole near this place, on a fed rail (fed now if need be).
  Hole rail_hole_near(const std::string& net, Hole near) {
    const MatPoint at = board_.mat_of(near);
    bool top = at.y < 6;
    if (!is_fed_somewhere(rail_for(net, top)) && random_.chance(0.5)) top = !top;
    const Rail rail = rail_for(net, top);
    std::vector<std::pair<double, Hole>> holes;
    for (const Hole h : rail_holes(rail))
      if (is_free(h)) holes.push_back({std::abs(board_.mat_of(h).x - at.x) + (is_fed(strip(h)) ? 0 : 3), h});
    std::sort(holes.begin(), holes.end());
    if (holes.empty()) return {};
    const Hole chosen = holes[size_t(random_.below(std::min<int>(3, int(holes.size()))))].second;
    if (!feed(rail, strip(chosen)) || !is_free(chosen)) return {};
    return chosen;
  }
  bool is_fed_somewhere(Rail rail) const {
    for (const Hole h : rail_holes(rail))
      if (is_fed(strip(h))) return true;
    return false;
  }

  // ---- nets

  Hole free_in(StripIndex s) {
    std::vector<Hole> holes;
    for (int k = 0; k < kind_->columns * kRowsPerColumn; ++k) {
      const Hole h{0, uint16_t(k)};
      if (strip(h) == s && is_free(h)) holes.push_back(h);
    }
    return holes.empty() ? Hole{} : random_.pick(holes);
  }

  // Ties the strip that holds `h` to its net: to the rail, or to where the net already is.
  bool tie(const std::string& net, Hole h) {
    if (net == "nc") return true;
    const StripIndex own = strip(h);
    if (is_rail(net)) {
      std::vector<StripIndex>& tied = tied_[net];
      if (std::find(tied.begin(), tied.end(), own) != tied.end()) return true;
      const Hole from = free_in(own);
      if (!from.valid()) return false;
      const Hole rail = rail_hole_near(net, from);
      if (!rail.valid() || !wire(from, rail)) return false;
      tied.push_back(own);
      return true;
    }
    std::vector<StripIndex>& strips = strips_[net];
    if (std::find(strips.begin(), strips.end(), own) != strips.end()) return true;
    if (!strips.empty()) {
      const Hole from = free_in(own), to = free_in(strips.back());
      if (!from.valid() || !to.valid() || !wire(from, to)) return false;
    }
    strips.push_back(own);
    return true;
  }

  // May a part of this net start in column x of a half?
  bool starts_at(const std::string& net, int x, int half) const {
    const auto it = strips_.find(net);
    const Hole h = hole(x, half ? 5 : 0);
    return it != strips_.end() && h.valid() && std::find(it->second.begin(), it->second.end(), strip(h)) != it->second.end();
  }

  // ---- parts

  bool place_rigid(const Item& item) {
    Part part = fresh(item);
    if (item.type->leads[0].joined >= 0) {  // a button across the gap
      int x = std::max(cursor_[0], cursor_[1]) + random_.between(2, 4);  // nobody wires two neighbouring columns together
      if (starts_at(item.nets[0], cursor_[0], 0) && cursor_[1] < cursor_[0] && is_free(hole(cursor_[0], 4)) && random_.chance(0.6)) x = cursor_[0];
      const Hole anchor = backwards_ ? hole(x + 2, 4) : hole(x, 4);
      const Result<std::vector<Hole>> holes = rigid_holes(board_, *item.type, anchor, 0);
      if (!anchor.valid() || !holes) return false;
      part.leads = *holes;
      if (!put(std::move(part))) return false;
      cursor_[0] = cursor_[1] = x + 2;
      // Either leg of a pair will do.
      const int row0 = random_.chance(0.75) ? 4 : 5, row1 = random_.chance(0.75) ? 4 : 5;
      if (starts_at(item.nets[0], x, 0)) return tie(item.nets[1], hole(x + 2, row1));
      return tie(item.nets[0], hole(x, row0)) && tie(item.nets[1], hole(x + 2, row1));
    }
    if (item.type->leads.back().dy != 0) return place_chip(item, std::move(part));
    const int half = both_halves_ && random_.chance(0.5) ? 1 : 0;
    const int x = cursor_[half] + random_.between(2, 4), row = half * 5 + random_.between(1, 3);
    const Hole anchor = backwards_ ? hole(x + 2, row) : hole(x, row);
    const Result<std::vector<Hole>> holes = anchor.valid() ? rigid_holes(board_, *item.type, anchor, 0) : Result<std::vector<Hole>>(Error{});
    if (!holes) return false;
    part.leads = *holes;
    const std::vector<Hole> seats = part.leads;
    if (!put(std::move(part))) return false;
    cursor_[half] = x + 2;
    for (size_t k = 0; k < item.nets.size(); ++k)
      if (!tie(item.nets[k], seats[k])) return false;
    return true;
  }

  // Two rows of legs across the gap.
  bool place_chip(const Item& item, Part part) {
    const int width = int(item.type->leads.size()) / 2;
    const int x = std::max(cursor_[0], cursor_[1]) + random_.between(2, 4);
    const Hole anchor = hole(backwards_ ? x + width - 1 : x, 5);
    const Result<std::vector<Hole>> holes = anchor.valid() ? rigid_holes(board_, *item.type, anchor, 0) : Result<std::vector<Hole>>(Error{});
    if (!holes) return false;
    part.leads = *holes;
    const std::vector<Hole> seats = part.leads;
    if (!put(std::move(part))) return false;
    cursor_[0] = cursor_[1] = x + width - 1;
    for (size_t k = 0; k < item.nets.size(); ++k)
      if (!tie(item.nets[k], seats[k])) return false;
    return true;
  }

  bool place_two_leads(const Item& item) {
    const double least = item.type->footprint.reach_min;
    const int span = least >= 4 ? random_.between(4, 7) : random_.between(1, int(std::min(2.0, item.type->footprint.reach_max)));
    const int half = both_halves_ && random_.chance(0.4) ? 1 : 0;
    for (int attempt = 0; attempt < 12; ++attempt) {
      const int h = attempt < 6 ? half : 1 - half;
      int x = cursor_[h] + random_.between(2, 4);
      if (starts_at(item.nets[0], cursor_[h], h) && random_.chance(0.85)) x = cursor_[h];
      Part part = fresh(item);
      const int row = h * 5 + random_.below(5);
      part.leads = {hole(x, row), hole(x + span, h * 5 + (random_.chance(0.8) ? row - h * 5 : random_.below(5)))};
      // Sometimes straight into the rail.
      bool direct = false;
      if (is_rail(item.nets[1]) && random_.chance(0.2)) {
        const Hole rail = rail_hole_near(item.nets[1], part.leads[0]);
        if (rail.valid()) part.leads[1] = rail, direct = true;
      }
      if (!part.leads[0].valid() || !part.leads[1].valid() || !is_free(part.leads[0]) || !is_free(part.leads[1])) continue;
      const std::vector<Hole> seats = part.leads;
      if (!put(std::move(part))) continue;
      cursor_[h] = direct ? x : x + span;
      return tie(item.nets[0], seats[0]) && (direct || tie(item.nets[1], seats[1]));
    }
    return false;
  }

  Random& random_;
  std::vector<Item> items_;
  Board board_;
  const Layout* kind_ = nullptr;
  bool backwards_ = false, top_first_ = true, both_halves_ = false;
  int cursor_[2] = {1, 1};
  std::vector<StripIndex> fed_;
  std::map<std::string, std::vector<StripIndex>> strips_, tied_;
};

}  // namespace

std::optional<Board> lay_out(const Recipe& recipe, Random& random) { return Layouter(recipe, random).run(); }

}  // namespace tiepoint::corpus
