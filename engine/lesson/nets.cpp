#include "engine/lesson/nets.h"

#include <algorithm>
#include <numeric>

namespace tiepoint {
namespace {

int root_of(std::vector<int>& parent, int i) {
  while (parent[size_t(i)] != i) i = parent[size_t(i)] = parent[size_t(parent[size_t(i)])];
  return i;
}
void join(std::vector<int>& parent, int a, int b) { parent[size_t(root_of(parent, a))] = root_of(parent, b); }

bool measures_current(const Part& part) {
  const int value = value_index(*part.kind, "function");
  if (!part.kind->touches || value < 0) return false;
  const auto options = part.kind->values[size_t(value)].options;
  const auto index = size_t(part.values[size_t(value)]);
  return index < options.size() && options[index] == "amperes";
}

}  // namespace

Nets::Nets(const Board& board, const Wiring& wiring) : board_(board), wiring_(wiring), root_(size_t(wiring.net_count)) {
  std::iota(root_.begin(), root_.end(), 0);
  for (size_t p = 0; p < board.parts.size(); ++p)
    if (measures_current(board.parts[p])) join(root_, of(int(p), 0), of(int(p), 1));
  for (size_t net = 0; net < root_.size(); ++net) root_[net] = root_of(root_, int(net));

  // Chains: where exactly two parts meet that each join two nets, they are neighbours.
  std::vector<std::vector<int>> on_net(root_.size());
  std::vector<char> two_sided(board.parts.size(), 0);
  for (size_t p = 0; p < board.parts.size(); ++p) {
    if (board.parts[p].kind->conductor || board.parts[p].kind->touches) continue;
    const std::vector<int> nets = of(int(p));
    two_sided[p] = nets.size() == 2;
    if (nets.size() > 1)
      for (const int net : nets) on_net[size_t(net)].push_back(int(p));
  }
  chain_.resize(board.parts.size());
  std::iota(chain_.begin(), chain_.end(), 0);
  for (const std::vector<int>& parts : on_net)
    if (parts.size() == 2 && two_sided[size_t(parts[0])] && two_sided[size_t(parts[1])]) join(chain_, parts[0], parts[1]);
  for (size_t p = 0; p < chain_.size(); ++p) chain_[p] = root_of(chain_, int(p));
}

int Nets::of(int part, int lead) const {
  const StripIndex strip = wiring_.strip_of_lead[size_t(part)][size_t(lead)];
  return root_[size_t(wiring_.net_of_strip[size_t(strip)])];
}

std::vector<int> Nets::of(int part) const {
  std::vector<int> nets;
  for (size_t lead = 0; lead < board_.parts[size_t(part)].leads.size(); ++lead) nets.push_back(of(part, int(lead)));
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  return nets;
}

bool Nets::series(std::span<const int> parts) const {
  return std::all_of(parts.begin(), parts.end(), [&](int p) { return chain_[size_t(p)] == chain_[size_t(parts.front())]; });
}

bool Nets::parallel(std::span<const int> parts) const {
  const std::vector<int> nets = of(parts.front());
  return nets.size() == 2 && std::all_of(parts.begin(), parts.end(), [&](int p) { return of(p) == nets; });
}

bool Nets::fits(const ShapeCheck& shape, std::span<const int> part_of_role) const {
  std::vector<int> net(shape.nets.size(), -1);
  return place(shape, part_of_role, 0, net);
}

// Backtracking over the ends in order; net[k] is the net found for the k-th name, -1: none yet.
bool Nets::place(const ShapeCheck& shape, std::span<const int> part_of_role, size_t end, std::vector<int>& net) const {
  if (end == shape.ends.size()) return true;
  const auto put = [&](int name, int where) {
    if (net[size_t(name)] >= 0) return net[size_t(name)] == where;
    if (std::find(net.begin(), net.end(), where) != net.end()) return false;  // different names, different nets
    net[size_t(name)] = where;
    return true;
  };
  const ShapeCheck::End& first = shape.ends[end];
  const int part = part_of_role[size_t(first.role)];
  const std::vector<int> before = net;
  if (!first.lead.empty()) {
    const int lead = lead_index(*board_.parts[size_t(part)].kind, first.lead);
    if (lead >= 0 && put(first.net, of(part, lead)) && place(shape, part_of_role, end + 1, net)) return true;
    net = before;
    return false;
  }
  const std::vector<int> sides = of(part);
  if (sides.size() != 2) return false;
  for (int turned = 0; turned < 2; ++turned) {
    if (put(first.net, sides[size_t(turned)]) && put(shape.ends[end + 1].net, sides[size_t(1 - turned)]) &&
        place(shape, part_of_role, end + 2, net))
      return true;
    net = before;
  }
  return false;
}

}  // namespace tiepoint
