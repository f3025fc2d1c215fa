#include "engine/explain/hunt.h"

#include <algorithm>
#include <array>

#include "engine/explain/trial.h"
#include "engine/parts/part_type.h"

namespace tiepoint {
namespace {

constexpr int kPositions = 16;                               // settings of the switches looked at
constexpr double kNoGrip = 1e6;                              // [ohm] of a clip that hardly touches
constexpr double kNearlyEmpty = 0.02;                        // share of the charge
constexpr std::array<double, 2> kOtherValues = {100, 1000};  // times: bands misread by as many decades

class Dice {  // a small generator (splitmix64), the same everywhere
 public:
  explicit Dice(uint64_t seed) : state_(seed) {}
  size_t below(size_t count) { return size_t(next() % count); }

 private:
  uint64_t next() {
    uint64_t z = state_ += 0x9E3779B97F4A7C15ull;
    z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9ull;
    z = (z ^ z >> 27) * 0x94D049BB133111EBull;
    return z ^ z >> 31;
  }
  uint64_t state_;
};

std::vector<Defect> offers(const Part& part) {
  const PartType& type = type_of(part);
  std::vector<Defect> out;
  const auto offer = [&](Defect defect) { defect.hidden = true, out.push_back(defect); };
  if (type.touches || part.defect || part.leads.size() < 2) return out;
  const int leads = int(part.leads.size());
  if (type.conductor) offer({.kind = Defect::Kind::kOpen});
  if (type.conductor || type.group == "resistors" || type.group == "light")
    offer({.kind = Defect::Kind::kWorn, .lead = leads - 1, .amount = kNoGrip});
  if (type.group == "light") offer({.kind = Defect::Kind::kOpen});
  if (value_index(type, "resistance") >= 0 && type.group == "resistors")
    for (const double times : kOtherValues) offer({.kind = Defect::Kind::kOffValue, .amount = times});
  if (type.capacity) offer({.kind = Defect::Kind::kRunDown, .amount = kNearlyEmpty});
  if (type.group == "switches") offer({.kind = Defect::Kind::kStuck, .amount = 0});
  return out;
}

bool same(const Board& board, const Trial& a, const Trial& b) {
  if (a.readings.size() != b.readings.size()) return false;
  for (size_t k = 0; k < a.readings.size(); ++k)
    for (size_t p = 0; p < board.parts.size(); ++p)
      if (is_load(board.parts[p]) && works(a.readings[k].parts[p]) != works(b.readings[k].parts[p])) return false;
  return true;
}

}  // namespace

std::vector<Fault> possible_faults(const Board& board) {
  std::vector<Fault> out;
  for (const Part& part : board.parts)
    for (const Defect& defect : offers(part)) out.push_back({.part = part.id, .defect = defect, .edit = {SetDefect{part.name, defect}}});
  for (size_t b = 0; b < board.breadboards.size(); ++b)
    for (size_t r = 0; r < board.breadboards[b].cracks.size(); ++r) {
      const Rail rail = static_cast<Rail>(r);
      if (layout(board.breadboards[b].layout).rail_holes == 0 || board.breadboards[b].true_cuts().has(rail)) continue;
      std::vector<Breadboard> breadboards = board.breadboards;
      breadboards[b].cracks[r] = Crack::kHidden;
      out.push_back({.breadboard = int(b), .rail = rail, .edit = {SetBreadboards{std::move(breadboards)}}});
    }
  return out;
}

std::vector<Edit> hide_defects(const Board& board, int count, uint32_t seed) {
  std::vector<Fault> all = possible_faults(board);
  Dice dice(seed);
  for (size_t k = all.size(); k > 1; --k) std::swap(all[k - 1], all[dice.below(k)]);
  const Trial good = try_board(board, kPositions);
  std::vector<Edit> edits;
  std::vector<PartId> taken;  // all rails together count as one
  for (const Fault& fault : all) {
    if (int(edits.size()) >= std::clamp(count, 1, kMostHidden)) break;
    if (std::find(taken.begin(), taken.end(), fault.part) != taken.end()) continue;
    Board changed = board;
    if (!apply(changed, fault.edit) || same(board, good, try_board(changed, kPositions))) continue;
    taken.push_back(fault.part);
    edits.push_back(fault.edit);
  }
  if (!edits.empty()) edits.push_back(Edit{SetHunt{}});
  return edits;
}

std::vector<Edit> reveal_defects(const Board& board) {
  std::vector<Edit> edits;
  for (const Part& part : board.parts) {
    if (!part.defect.hidden) continue;
    Defect shown = part.defect;
    shown.hidden = false;
    edits.push_back(Edit{SetDefect{part.name, shown}});
  }
  if (hides_crack(board)) {
    SetBreadboards found{board.breadboards};
    for (Breadboard& breadboard : found.breadboards)
      for (Crack& crack : breadboard.cracks)
        if (crack == Crack::kHidden) crack = Crack::kFound;
    edits.push_back(Edit{std::move(found)});
  }
  return edits;
}

}  // namespace tiepoint
