#include "engine/circuit/wiring.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace tiepoint {
namespace {

// Union-find with path halving; the smaller index becomes the root, so a net's root is its first strip whatever the order of
// the parts.
class Joiner {
 public:
  explicit Joiner(int count) : parent_(size_t(count)) { std::iota(parent_.begin(), parent_.end(), 0); }

  int root(int i) {
    while (parent_[size_t(i)] != i) {
      parent_[size_t(i)] = parent_[size_t(parent_[size_t(i)])];
      i = parent_[size_t(i)];
    }
    return i;
  }

  void join(int a, int b) {
    a = root(a);
    b = root(b);
    if (a > b) std::swap(a, b);
    parent_[size_t(b)] = a;
  }

 private:
  std::vector<int> parent_;
};

void number_clips(const Board& board, Wiring& wiring) {
  wiring.first_strip.reserve(board.breadboards.size());
  for (const Breadboard& breadboard : board.breadboards) {
    wiring.first_strip.push_back(wiring.clip_count);
    wiring.clip_count += strip_count(layout(breadboard.layout), breadboard.cuts());
  }
  wiring.strip_count = wiring.clip_count;
}

// A lead in the air ends in a strip of its own, numbered after the clips.
void seat_leads(const Board& board, Wiring& wiring) {
  wiring.strip_of_lead.first.reserve(board.parts.size() + 1);
  for (const Part& part : board.parts) {
    for (Hole hole : part.leads)
      wiring.strip_of_lead.items.push_back(board.has(hole) ? strip_of(board, wiring, hole) : wiring.strip_count++);
    wiring.strip_of_lead.close_row();
  }
}

// Joins the strips of a part's leads that are one piece of metal: all of a wire's, a button's pairs.
void join_leads(const Part& part, std::span<const StripIndex> strips, Joiner& joiner) {
  for (size_t lead = 1; lead < strips.size(); ++lead) {
    if (part.kind->conductor) {
      joiner.join(strips[0], strips[lead]);
      continue;
    }
    const int piece = part.kind->leads[lead].joined;
    for (size_t other = 0; piece >= 0 && other < lead; ++other)
      if (part.kind->leads[other].joined == piece) joiner.join(strips[other], strips[lead]);
  }
}

// Nets in the order of their first strip.
void number_nets(Joiner& joiner, Wiring& wiring) {
  wiring.net_of_strip.resize(size_t(wiring.strip_count));
  for (int strip = 0; strip < wiring.strip_count; ++strip) {
    const int root = joiner.root(strip);
    wiring.net_of_strip[size_t(strip)] = root == strip ? wiring.net_count++ : wiring.net_of_strip[size_t(root)];
  }
  wiring.strips_of_net = sort_into_rows<StripIndex>(
      wiring.net_count, wiring.strip_count, [&](int strip) { return wiring.net_of_strip[size_t(strip)]; },
      [](int strip) { return strip; });
}

void list_leads(Wiring& wiring) {
  std::vector<LeadRef> leads;
  leads.reserve(wiring.strip_of_lead.items.size());
  for (size_t part = 0; part < wiring.strip_of_lead.size(); ++part)
    for (size_t lead = 0; lead < wiring.strip_of_lead[part].size(); ++lead) leads.push_back({int(part), int(lead)});
  wiring.leads_on_strip = sort_into_rows<LeadRef>(
      wiring.strip_count, int(leads.size()), [&](int i) { return wiring.strip_of_lead.items[size_t(i)]; },
      [&](int i) { return leads[size_t(i)]; });
}

struct ClipPlace {
  int breadboard = 0;
  int local = 0;  // strip number within the breadboard
};

ClipPlace clip_place(const Wiring& wiring, StripIndex strip) {
  int breadboard = int(wiring.first_strip.size()) - 1;
  while (breadboard > 0 && wiring.first_strip[size_t(breadboard)] > strip) --breadboard;
  return {breadboard, strip - wiring.first_strip[size_t(breadboard)]};
}

std::string rail_name(const Breadboard& breadboard, int local) {
  static constexpr std::string_view kHalves[] = {"", " left", " right"};
  const RailHalf at = rail_of_strip(layout(breadboard.layout), breadboard.cuts(), local);
  return std::string(kRailNames[size_t(at.rail)]) + std::string(kHalves[at.half + 1]);
}

}  // namespace

Wiring wire_up(const Board& board) {
  Wiring wiring;
  number_clips(board, wiring);
  seat_leads(board, wiring);
  Joiner joiner(wiring.strip_count);
  for (size_t part = 0; part < board.parts.size(); ++part)
    join_leads(board.parts[part], std::as_const(wiring.strip_of_lead)[part], joiner);
  number_nets(joiner, wiring);
  list_leads(wiring);
  return wiring;
}

StripIndex strip_of(const Board& board, const Wiring& wiring, Hole hole) {
  if (!board.has(hole)) return -1;
  const Breadboard& breadboard = board.breadboards[hole.breadboard];
  return wiring.first_strip[hole.breadboard] + strip_of(layout(breadboard.layout), breadboard.cuts(), hole.index);
}

std::vector<StripIndex> cracked_strips(const Board& board, const Wiring& wiring) {
  std::vector<StripIndex> out;
  for (size_t b = 0; b < board.breadboards.size(); ++b)
    for (size_t rail = 0; rail < board.breadboards[b].cracks.size(); ++rail) {
      const Breadboard& breadboard = board.breadboards[b];
      const int local = strip_of_rail(layout(breadboard.layout), breadboard.cuts(), static_cast<Rail>(rail), 0);
      if (local >= 0 && breadboard.hides_crack(static_cast<Rail>(rail))) out.push_back(wiring.first_strip[b] + local);
    }
  return out;
}

PieceIndex piece_of(const Board& board, const Wiring& wiring, Hole hole) {
  const StripIndex strip = strip_of(board, wiring, hole);
  if (strip < 0) return strip;
  const Layout& plan = board.layout_of(hole);
  const HolePlace place = place_of(plan, hole.index);
  if (!place.on_rail || place.rail_hole <= rail_cut(plan) || !board.breadboards[hole.breadboard].hides_crack(place.rail)) return strip;
  const std::vector<StripIndex> cracked = cracked_strips(board, wiring);
  return wiring.strip_count + int(std::find(cracked.begin(), cracked.end(), strip) - cracked.begin());
}

NetIndex net_of(const Board& board, const Wiring& wiring, Hole hole) {
  const StripIndex strip = strip_of(board, wiring, hole);
  return strip < 0 ? -1 : wiring.net_of_strip[size_t(strip)];
}

bool joined(const Board& board, const Wiring& wiring, Hole a, Hole b) {
  const NetIndex net = net_of(board, wiring, a);
  return net >= 0 && net == net_of(board, wiring, b);
}

std::vector<Hole> holes_of(const Board& board, const Wiring& wiring, StripIndex strip) {
  if (strip < 0 || strip >= wiring.clip_count) return {};
  const ClipPlace place = clip_place(wiring, strip);
  const Breadboard& breadboard = board.breadboards[size_t(place.breadboard)];
  const Layout& plan = layout(breadboard.layout);
  // A terminal strip's five holes follow one another; rails come after all of them (layout.h).
  const int terminal_holes = plan.columns * kRowsPerColumn;
  const bool rail = place.local >= 2 * plan.columns;
  const int begin = rail ? terminal_holes : place.local * (kRowsPerColumn / 2);
  const int end = rail ? plan.hole_count() : begin + kRowsPerColumn / 2;
  std::vector<Hole> holes;
  for (int index = begin; index < end; ++index)
    if (strip_of(plan, breadboard.cuts(), index) == place.local)
      holes.push_back({uint8_t(place.breadboard), uint16_t(index)});
  return holes;
}

std::string place_name(const Board& board, const Wiring& wiring, StripIndex strip) {
  if (strip < 0 || strip >= wiring.strip_count) return "";
  if (strip >= wiring.clip_count) {
    const std::span<const LeadRef> leads = wiring.leads_on_strip[size_t(strip)];
    if (leads.empty()) return "";
    const Part& part = board.parts[size_t(leads[0].part)];
    return part.name + "." + std::string(part.kind->leads[size_t(leads[0].lead)].name);
  }
  const ClipPlace place = clip_place(wiring, strip);
  const Breadboard& breadboard = board.breadboards[size_t(place.breadboard)];
  std::string name = place.breadboard == 0 ? "" : std::to_string(place.breadboard + 1) + ":";
  const int terminal_strips = 2 * layout(breadboard.layout).columns;
  if (place.local >= terminal_strips) return name + rail_name(breadboard, place.local);
  return name + (place.local % 2 == 0 ? "a" : "f") + std::to_string(place.local / 2 + 1);
}

}  // namespace tiepoint
