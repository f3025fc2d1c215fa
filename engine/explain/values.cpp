#include "engine/explain/values.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

constexpr double kDecade = 1.0, kMoreDecades = 0.15, kUnlikely = 0.5, kUnusual = 0.3;
constexpr double kCells = 1.2, kEachCell = 0.03, kSomeFit = 0.4, kRating = 0.9;
// A resistor between these is what one meets in front of an LED on 3 to 9 V; outside it the resistor is the odd one, inside it
// the supply is. (Common practice, no source.)
constexpr double kUsualLeast = 100, kUsualMost = 2200;  // [ohm]

class Search {
 public:
  Search(const Scene& scene, const Circuit& circuit, const std::vector<StrainAt>& strains, const std::vector<Positions>& positions)
      : scene_(scene), board_(*scene.board), circuit_(circuit), strains_(strains), positions_(positions), before_(total(strains)) {}

  std::vector<ValueRepair> run() {
    mark_near();
    bool weak = false, strong = false;
    for (const StrainAt& s : strains_) {
      weak = weak || s.strain == Strain::kFaint || s.strain == Strain::kNeverOn;
      strong = strong || !(s.strain == Strain::kFaint || s.strain == Strain::kNeverOn);
    }
    for (size_t p = 0; p < board_.parts.size(); ++p) {
      const Role role = scene_.parts[p].role;
      if (role == Role::kResistor && near_[p]) try_resistor(int(p), weak, strong);
      if (role == Role::kSupply) try_options(int(p), "cells", weak, strong);
      if (role == Role::kCapacitor) try_rating(int(p));
    }
    std::stable_sort(out_.begin(), out_.end(), [](const ValueRepair& a, const ValueRepair& b) { return a.score() < b.score(); });
    return std::move(out_);
  }

 private:
  // Parts in the same branch as a strained one: joined to it without passing a supply's net.
  void mark_near() {
    const Wiring& wiring = *scene_.wiring;
    near_.assign(board_.parts.size(), 0);
    std::vector<char> reached(size_t(wiring.net_count), 0), fed(size_t(wiring.net_count), 0);
    const auto net = [&](int lead) { return size_t(wiring.net_of_strip[size_t(scene_.strip_of_lead[size_t(lead)])]); };
    for (const ScenePart& part : scene_.parts)
      if (part.role == Role::kSupply)
        for (int k = 0; k < part.lead_count; ++k) fed[net(part.first_lead + k)] = 1;
    for (const StrainAt& s : strains_)
      if (s.part >= 0) near_[size_t(s.part)] = 1;
    for (bool more = true; more;) {
      more = false;
      for (size_t p = 0; p < scene_.parts.size(); ++p) {
        const ScenePart& part = scene_.parts[p];
        if (part.role == Role::kSupply || part.role == Role::kWire) continue;
        bool touched = near_[p] != 0;
        for (int k = 0; k < part.lead_count; ++k) touched = touched || reached[net(part.first_lead + k)];
        if (!touched) continue;
        if (!near_[p]) near_[p] = 1, more = true;
        for (int k = 0; k < part.lead_count; ++k) {
          const size_t n = net(part.first_lead + k);
          if (!fed[n] && !reached[n]) reached[n] = 1, more = true;
        }
      }
    }
  }

  void consider(ValueRepair repair) {
    Board changed = board_;
    changed.parts[size_t(repair.part)].values[size_t(repair.value)] = repair.to;
    Circuit circuit = circuit_;
    if (!refresh_values(circuit, changed, repair.part)) circuit = extract(changed, *scene_.wiring);
    const Trial trial = try_positions(changed, *scene_.wiring, std::move(circuit), scene_, positions_);
    repair.strain = total(strains(changed, trial));
    if (repair.strain < before_ - 0.01) out_.push_back(repair);
  }

  void try_resistor(int p, bool weak, bool strong) {
    const Part& part = board_.parts[size_t(p)];
    const int index = value_index(*part.kind, "resistance");
    if (index < 0) return;
    const ValueSpec& spec = part.kind->values[size_t(index)];
    const double now = part.values[size_t(index)];
    for (int sign : {-1, 1})
      for (int decades = 1; decades <= 4; ++decades) {
        // A lamp too weak may also be one that a resistor beside it robs.
        const bool beside = sign > 0 && !strong;
        if ((sign < 0 && !weak) || (beside && (!weak || decades > 2))) continue;
        const double to = now * std::pow(10.0, sign * decades);
        if (to < std::max(spec.minimum, 1.0) || to > spec.maximum) continue;
        const bool usual = sign < 0 ? now <= kUsualMost : now >= kUsualLeast;
        consider({p, index, to, sign < 0 ? FindingKind::kResistorTooLarge : FindingKind::kResistorTooSmall,
                  kDecade + kMoreDecades * (decades - 1) + (usual ? kUnlikely : 0) + (sign < 0 && to > kUsualMost ? kUnusual : 0) + (beside ? kUnlikely / 2 : 0)});
      }
  }

  void try_options(int p, std::string_view key, bool weak, bool strong) {
    const Part& part = board_.parts[size_t(p)];
    const int index = value_index(*part.kind, key);
    if (index < 0) return;
    const ValueSpec& spec = part.kind->values[size_t(index)];
    const int now = int(part.values[size_t(index)]);
    for (int to = int(spec.minimum); to <= int(spec.maximum); ++to) {
      if (to == now || (to > now ? !weak : !strong)) continue;
      consider({p, index, double(to), to > now ? FindingKind::kSupplyTooLow : FindingKind::kSupplyTooHigh,
                kCells + kEachCell * std::abs(to - now) + (to < now && some_fit() ? kSomeFit : 0)});
    }
  }

  // Does the supply suit a load as it is?
  bool some_fit() const {
    for (size_t p = 0; p < board_.parts.size(); ++p)
      if (is_load(board_.parts[p]) && std::none_of(strains_.begin(), strains_.end(), [&](const StrainAt& s) { return s.part == int(p); })) return true;
    return false;
  }

  void try_rating(int p) {
    const Part& part = board_.parts[size_t(p)];
    const int index = value_index(*part.kind, "rating");
    const bool strained = std::any_of(strains_.begin(), strains_.end(),
                                      [&](const StrainAt& s) { return s.part == p && s.strain == Strain::kOverVoltage; });
    if (index < 0 || !strained) return;
    const ValueSpec& spec = part.kind->values[size_t(index)];
    for (int to = int(part.values[size_t(index)]) + 1; to <= int(spec.maximum); ++to)
      consider({p, index, double(to), FindingKind::kPartOverVoltage, kRating + 0.02 * to});
  }

  const Scene& scene_;
  const Board& board_;
  const Circuit& circuit_;
  const std::vector<StrainAt>& strains_;
  const std::vector<Positions>& positions_;
  double before_;
  std::vector<char> near_;
  std::vector<ValueRepair> out_;
};

}  // namespace

std::vector<ValueRepair> find_value_repairs(const Scene& scene, const Circuit& circuit, const std::vector<StrainAt>& strains,
                                            const std::vector<Positions>& positions) {
  return Search(scene, circuit, strains, positions).run();
}

}  // namespace tiepoint
