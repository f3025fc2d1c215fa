#include "engine/readings/readings.h"

#include <algorithm>

namespace tiepoint {
namespace {

// Numbers of one node; all unknown where there is no node or no zero to measure against.
struct NodeNumbers {
  double voltage = kNoReading;
  double rate = kNoReading;
};

// Which nodes can be read: those in a group that has a zero.
struct Groups {
  std::vector<int> of_node;
  std::vector<char> has_zero;  // per group
};

Groups find_groups(const Circuit& circuit) {
  Groups groups;
  int count = 0;
  groups.of_node = galvanic_groups(circuit, &count);
  groups.has_zero.assign(size_t(count), 0);
  for (NodeIndex node : circuit.references) groups.has_zero[size_t(groups.of_node[size_t(node)])] = 1;
  return groups;
}

class Taker {
 public:
  Taker(const Board& board, const Wiring& wiring, const Circuit& circuit, const Solution& solution)
      : board_(board), wiring_(wiring), circuit_(circuit), solution_(solution), groups_(find_groups(circuit)) {
    usable_ = solution.ok() && solution.node_voltage.size() == size_t(circuit.node_count) &&
              solution.terminal_current.size() == circuit.terminals.size();
  }

  Readings take() {
    Readings out;
    out.time = solution_.time;
    out.statistics = solution_.statistics;
    out.error = solution_.error;
    read_strips(out);
    read_nets(out);
    read_parts(out);
    return out;
  }

 private:
  bool readable(NodeIndex node) const {
    return usable_ && node >= 0 && groups_.has_zero[size_t(groups_.of_node[size_t(node)])];
  }

  NodeNumbers at(NodeIndex node) const {
    if (!readable(node)) return {};
    const bool has_rate = solution_.voltage_rate.size() == solution_.node_voltage.size();
    return {solution_.node_voltage[size_t(node)], has_rate ? solution_.voltage_rate[size_t(node)] : 0};
  }

  void read_strips(Readings& out) const {
    out.strip_voltage.assign(circuit_.node_of_piece.size(), kNoReading);
    out.strip_island.assign(circuit_.node_of_piece.size(), -1);
    for (size_t strip = 0; strip < out.strip_voltage.size(); ++strip) {
      const NodeIndex node = circuit_.node_of_piece[strip];
      if (node < 0) continue;
      out.strip_voltage[strip] = at(node).voltage;
      out.strip_island[strip] = groups_.of_node[size_t(node)];
    }
  }

  void read_nets(Readings& out) const {
    out.net_voltage.assign(size_t(wiring_.net_count), kNoReading);
    out.net_spread.assign(size_t(wiring_.net_count), kNoReading);
    for (size_t net = 0; net < out.net_voltage.size(); ++net) {
      double sum = 0, low = 0, high = 0;
      int count = 0;
      for (StripIndex strip : wiring_.strips_of_net[net]) {
        const double v = out.strip_voltage[size_t(strip)];
        if (!has_reading(v)) continue;
        low = count == 0 ? v : std::min(low, v);
        high = count == 0 ? v : std::max(high, v);
        sum += v;
        ++count;
      }
      if (count == 0) continue;
      out.net_voltage[net] = sum / count;
      out.net_spread[net] = high - low;
    }
  }

  // The current into a lead is the sum over the element terminals that meet there; 0 for a lead that no element uses.
  double lead_current(int part, int lead) const {
    double sum = 0;
    for (int terminal : circuit_.lead_terminals(part, lead)) sum += solution_.terminal_current[size_t(terminal)];
    return sum;
  }

  // The inner state of the part's elements; none where there is no solution.
  void look_inside(int part, std::vector<ElementInside>& inside) const {
    inside.clear();
    if (!usable_ || solution_.state.size() != circuit_.elements.size()) return;
    for (int e = circuit_.first_element_of_part[size_t(part)]; e < circuit_.first_element_of_part[size_t(part) + 1]; ++e) {
      const ElementState& s = solution_.state[size_t(e)];
      inside.push_back({.own = std::span(solution_.own).subspan(size_t(s.first_own), size_t(s.own_count)),
                        .mode = s.mode,
                        .mode_age = solution_.time - s.mode_since,
                        .lasted = {s.lasted[0], s.lasted[1]}});
    }
  }

  // A dead part shows what a meter finds at it, and nothing works in it.
  static void show_broken(PartReading& reading) {
    reading.state = State::kBroken;
    reading.brightness = 0;
    reading.lights = {};
  }

  void read_parts(Readings& out) const {
    out.parts.resize(board_.parts.size());
    std::vector<double> rates;
    std::vector<ElementInside> inside;
    for (size_t p = 0; p < board_.parts.size(); ++p) {
      PartReading& reading = out.parts[p];
      const std::span<const StripIndex> strips = wiring_.strip_of_lead[p];
      reading.lead_voltage.assign(strips.size(), kNoReading);
      reading.lead_current.assign(strips.size(), kNoReading);
      rates.assign(strips.size(), kNoReading);
      for (size_t lead = 0; lead < strips.size(); ++lead) {
        const NodeIndex node = circuit_.node_of_lead[size_t(circuit_.first_lead_of_part[p]) + lead];
        if (!readable(node)) continue;
        reading.lead_voltage[lead] = at(node).voltage;
        reading.lead_current[lead] = lead_current(int(p), int(lead));
        rates[lead] = at(node).rate;
      }
      look_inside(int(p), inside);
      const LeadNumbers leads{reading.lead_voltage, reading.lead_current, rates, inside};
      type_of(board_.parts[p]).read(board_.parts[p], leads, reading);
      if (board_.parts[p].defect && !board_.parts[p].defect.hidden) show_broken(reading);
    }
  }

  const Board& board_;
  const Wiring& wiring_;
  const Circuit& circuit_;
  const Solution& solution_;
  Groups groups_;
  bool usable_ = false;
};

}  // namespace

Readings take_readings(const Board& board, const Wiring& wiring, const Circuit& circuit, const Solution& solution) {
  return Taker(board, wiring, circuit, solution).take();
}

double voltage_at(const Board& board, const Wiring& wiring, const Readings& readings, Hole hole) {
  const PieceIndex strip = piece_of(board, wiring, hole);
  return strip < 0 || size_t(strip) >= readings.strip_voltage.size() ? kNoReading : readings.strip_voltage[size_t(strip)];
}

}  // namespace tiepoint
