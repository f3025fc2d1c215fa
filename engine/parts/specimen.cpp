#include "engine/parts/specimen.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kShortResistance = 0.5;  // [ohm] of silicon that has melted together (own choice)
constexpr double kLedSpread = 0.1;        // [V]
constexpr double kWireSpread = 0.1;       // [ohm]
constexpr double kOffsetSpread = 7e-3;    // [V] of an amplifier
constexpr double kThresholdSpread = 5e-3; // [V] of a comparator
constexpr double kCeramic = 0.10, kElectrolytic = 0.20;

bool breaks_lead(const Defect& d) { return d.kind == Defect::Kind::kOpen || d.kind == Defect::Kind::kWorn; }

// Evenly in -1..1 from the seed, the name and the specimen (FNV-1a, then mixed); of several alike in one part each has its own.
double drawn(const Board& board, const Part& part, size_t among = 0) {
  uint64_t hash = 1469598103934665603ull ^ board.realism.seed;
  const auto add = [&](uint64_t byte) { hash = (hash ^ byte) * 1099511628211ull; };
  for (const char c : part.name) add(uint8_t(c));
  for (int shift = 0; shift < 32; shift += 8) add(uint64_t(part.specimen) >> shift & 0xFF);
  if (among > 0) add(among);
  hash ^= hash >> 31, hash *= 0x9E3779B97F4A7C15ull, hash ^= hash >> 29;
  return double(hash >> 11) / double(1ull << 52) - 1;
}

// The last band's tolerance, "5 %".
double tolerance_of(const Part& part) {
  const int index = value_index(*part.kind, "tolerance");
  if (index < 0) return 0;
  const ValueSpec& spec = part.kind->values[size_t(index)];
  const std::string_view word = spec.options.empty() ? std::string_view{} : spec.options[size_t(part.values[size_t(index)])];
  return parse_value(word.substr(0, word.find(' '))).value_or(0) / 100;
}

void scale(Part& part, std::string_view key, double factor) {
  const int index = value_index(*part.kind, key);
  if (index >= 0) part.values[size_t(index)] *= factor;
}

// Values that are not what the part says.
Part real_part(const Board& board, const Part& part) {
  Part real = part;
  const Body body = type_of(part).body;
  if (board.realism.spread) {
    const double draw = drawn(board, part);
    if (body == Body::kAxialResistor) scale(real, "resistance", 1 + tolerance_of(part) * draw);
    if (body == Body::kDiscCapacitor) scale(real, "capacitance", 1 + kCeramic * draw);
    if (body == Body::kCanCapacitor) scale(real, "capacitance", 1 + kElectrolytic * draw);
  }
  const Defect& d = part.defect;
  if (d.kind == Defect::Kind::kOffValue) scale(real, "resistance", d.amount);
  if (d.kind == Defect::Kind::kRunDown) {
    double& charge = real.values[size_t(value_index(*part.kind, "charge"))];
    charge = std::min(charge, d.amount);
  }
  if (d.kind == Defect::Kind::kStuck)
    for (size_t v = 0; v < part.values.size(); ++v)
      if (part.kind->values[v].use != Use::kValue) {
        real.values[v] = d.amount;
        break;
      }
  return real;
}

void spread_elements(const Board& board, const Part& part, ElementList& list, size_t from) {
  const PartType& type = type_of(part);
  const double draw = drawn(board, part);
  for (size_t e = from; e < list.entries.size(); ++e) {
    double* p = &list.parameters[size_t(list.entries[e].first_parameter)];
    // I = IS exp(v / (n VT)): another forward voltage at the same current is another IS.
    if (list.entries[e].kind == ElementKind::kDiode && type.group == "light")
      p[0] *= std::exp(-kLedSpread * draw / (p[1] * p[3]));
    constexpr int kOffset = 3, kComparatorOffset = 0;  // op_amp.cpp, comparator.cpp
    if (list.entries[e].kind == ElementKind::kOpAmp) p[kOffset] = kOffsetSpread * drawn(board, part, e - from);
    if (list.entries[e].kind == ElementKind::kComparator) p[kComparatorOffset] = kThresholdSpread * drawn(board, part, e - from);
    if (list.entries[e].kind == ElementKind::kResistor && type.conductor) p[0] += kWireSpread * (1 + draw) / 2;
  }
}

}  // namespace

void real_elements(const Board& board, const Part& part, ElementList& out) {
  const PartType& type = type_of(part);
  if (!part.defect && !board.realism.spread) return type.elements(board, part, out);
  const size_t from = out.entries.size(), from_terminal = out.terminals.size();
  type.elements(board, real_part(board, part), out);
  if (board.realism.spread) spread_elements(board, part, out, from);
  const Defect& d = part.defect;
  if (breaks_lead(d)) {  // what met the lead meets an inner node, and a resistance lies between
    const int inside = int(part.leads.size()) + type.inner_nodes;
    for (size_t t = from_terminal; t < out.terminals.size(); ++t)
      if (out.terminals[t] == d.lead) out.terminals[t] = inside;
    out.add(ElementKind::kResistor, {d.lead, inside},
            {d.kind == Defect::Kind::kOpen ? kOpenResistance : std::max(d.amount, 1e-3)});
  } else if (d.kind == Defect::Kind::kShorted) {
    out.add(ElementKind::kResistor, {d.lead, d.other}, {kShortResistance});
  }
}

int real_inner_nodes(const Part& part) { return type_of(part).inner_nodes + breaks_lead(part.defect); }

Board as_it_looks(const Board& board, bool also_dead) {
  Board out = board;
  out.realism.spread = false;
  for (Part& part : out.parts)
    if (part.defect.hidden || also_dead) part.defect = {};
  for (Breadboard& breadboard : out.breadboards)
    for (Crack& crack : breadboard.cracks)
      if (crack == Crack::kHidden) crack = Crack::kNone;
  return out;
}

bool has_secrets(const Board& board) {
  return board.realism.spread || hides_crack(board) ||
         std::any_of(board.parts.begin(), board.parts.end(), [](const Part& p) { return bool(p.defect); });
}

}  // namespace tiepoint
