#include "tests/random/boards.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "engine/board/edit.h"
#include "engine/parts/part_type.h"
#include "tests/corpus/random.h"

namespace tiepoint::random_boards {
namespace {

using corpus::Random;

constexpr int kTries = 30;  // to seat one part

double unit(Random& random) { return double(random.next() >> 11) * 0x1.0p-53; }

double any_value(const ValueSpec& spec, Random& random) {
  if (!spec.options.empty()) return random.below(int(spec.options.size()));
  if (random.chance(0.1)) return random.chance(0.5) ? spec.minimum : spec.maximum;
  if (spec.use != Use::kValue) return std::round(spec.minimum + unit(random) * (spec.maximum - spec.minimum));
  if (spec.minimum > 0 && spec.maximum > 20 * spec.minimum)
    return spec.minimum * std::pow(spec.maximum / spec.minimum, unit(random));
  return spec.minimum + unit(random) * (spec.maximum - spec.minimum);
}

class Builder {
 public:
  explicit Builder(uint64_t seed) : random_(seed) {
    Breadboard& b = board_.breadboards[0];
    b.layout = random_.chance(0.7) ? LayoutKind::k400 : random_.chance(0.5) ? LayoutKind::k830 : LayoutKind::k170;
    b.split_rails = random_.chance(0.3);
    layout_ = &layout(b.layout);
    width_ = std::min(layout_->columns, random_.between(4, 16));
  }

  Board build() {
    const int parts = 2 + int(unit(random_) * unit(random_) * 28);
    add("jumper-wire", random_.below(5));
    if (random_.chance(0.9)) add_supply();
    // Paper is nothing to the solver.
    std::vector<const PartKind*> kinds;
    for (const PartKind* kind : catalogue().kinds)
      if (kind->key != "note") kinds.push_back(kind);
    for (int k = 0; k < parts; ++k) seat(*kinds[size_t(random_.below(int(kinds.size())))]);
    return std::move(board_);
  }

 private:
  Hole any_hole() {
    if (layout_->rail_holes > 0 && random_.chance(0.25)) {
      const int rail = random_.below(4), k = random_.below(std::min(layout_->rail_holes, width_));
      return {0, uint16_t(layout_->columns * kRowsPerColumn + rail * layout_->rail_holes + k)};
    }
    return {0, uint16_t(random_.below(width_) * kRowsPerColumn + random_.below(kRowsPerColumn))};
  }

  void add(std::string_view key, int count) {
    for (int k = 0; k < count; ++k) seat(*catalogue().find(key));
  }

  void add_supply() {
    std::vector<const PartKind*> supplies;
    for (const PartKind* kind : catalogue().kinds)
      if (static_cast<const PartType*>(kind)->reference_lead >= 0) supplies.push_back(kind);
    seat(*random_.pick(supplies));
  }

  void seat(const PartKind& kind) {
    Part part = make_part(kind);
    for (size_t k = 0; k < kind.values.size(); ++k)
      if (random_.chance(0.6)) {
        const double value = any_value(kind.values[k], random_);
        if (check_value(kind, int(k), value).ok()) part.values[k] = value;
      }
    for (int attempt = 0; attempt < kTries; ++attempt) {
      for (Hole& lead : part.leads) lead = random_.chance(0.03) ? Hole{} : any_hole();
      part.mat = {unit(random_) * 30, -8};
      if (kind.footprint.seat == Seat::kRigid) {
        part.turn = random_.below(4);
        // Rows e and f are where most patterns fit; any other hole is tried as often.
        if (random_.chance(0.5)) part.leads[0] = {0, uint16_t(random_.below(width_) * kRowsPerColumn + random_.between(4, 5))};
        const Result<std::vector<Hole>> holes = rigid_holes(board_, kind, part.leads[0], part.turn);
        if (!holes) continue;
        part.leads = *holes;
      }
      if (apply(board_, Edit{PlacePart{part}}).ok()) return;
    }
  }

  Board board_;
  Random random_;
  const Layout* layout_ = nullptr;
  int width_ = 0;
};

}  // namespace

Board draw(uint64_t seed) { return Builder(seed).build(); }

}  // namespace tiepoint::random_boards
