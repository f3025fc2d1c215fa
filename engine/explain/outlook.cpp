#include "engine/explain/outlook.h"

#include <algorithm>
#include <cmath>

#include "engine/explain/values.h"

namespace tiepoint {
namespace {

constexpr double kMisfit = 50;                             // the edits do not fit the board
constexpr double kSecondFault = 0.6;                       // on top, for a value that is wrong besides
constexpr double kDisturbed = 0.6;                         // on top, for each load that works now and changes its ways
constexpr double kDarkened = 1;                            // on top, for each load that works now and no longer does
constexpr double kSomeUnruled = 0.35, kAllUnruled = 0.1;   // on top, for lamps that no switch rules on a board with switches
constexpr double kPutOut = 0.25;                           // on top, for each load that goes out when a button is pressed

}  // namespace

double unruled(const Board& board, const Trial& trial) {
  const int on = always_on(board, trial), loads = int(std::count_if(board.parts.begin(), board.parts.end(), is_load));
  return on == 0 ? 0 : on < loads ? kSomeUnruled : kAllUnruled;
}

double Outlook::strain_after(const std::vector<Edit>& edits, const std::vector<Edit>& second) const {
  Board changed = board_;
  for (const std::vector<Edit>* list : {&edits, &second})
    for (const Edit& edit : *list)
      if (!apply(changed, edit)) return kMisfit;
  const Wiring wiring = wire_up(changed);
  const Scene scene = make_scene(changed, wiring);
  const Circuit circuit = extract(changed, wiring);
  const Trial trial = try_positions(changed, wiring, circuit, scene, positions_to_try(scene, positions_));
  const std::vector<StrainAt> left = strains(changed, trial);
  double sum = total(left);
  // A wrong value besides is a second fault of its own, no argument against this movement.
  if (sum > kSecondFault && values_) {
    const std::vector<ValueRepair> repairs = find_value_repairs(scene, circuit, left, trial.positions);
    if (!repairs.empty()) sum = std::min(sum, repairs[0].score() + kSecondFault);
  }
  sum += unruled(changed, trial) + kPutOut * put_out_by_a_press(changed, scene, trial);
  for (const Part& part : board_.parts)
    if (is_load(part)) sum += disturbed(part.name, changed, trial) ? kDisturbed : darkened(part.name, changed, trial) ? kDarkened : 0;
  return sum;
}

// Of a board that may beat no strain says that a lamp stays dark: one that lights now, however brightly, should not go out for good.
bool Outlook::darkened(const std::string& name, const Board& changed, const Trial& after) const {
  if (!after.may_beat) return false;
  const auto lights = [&](const Board& board, const Trial& trial) {
    const Part* part = board.find(name);
    return part && std::any_of(trial.readings.begin(), trial.readings.end(), [&](const Readings& r) {
      return r.error || works(r.parts[size_t(board.index_of(part->id))]);
    });
  };
  return lights(board_, now_) && !lights(changed, after);
}

// A load that can be switched now and behaves otherwise after the change: a repair seldom does that.
bool Outlook::disturbed(const std::string& name, const Board& changed, const Trial& after) const {
  const Part *was = board_.find(name), *is = changed.find(name);
  if (!was || !is || now_.readings.size() != after.readings.size()) return false;
  const size_t a = size_t(board_.index_of(was->id)), b = size_t(changed.index_of(is->id));
  bool works_now = false, differs = false;
  for (size_t k = 0; k < after.readings.size(); ++k) {
    if (now_.readings[k].error || after.readings[k].error || now_.positions[k].at != after.positions[k].at) return false;
    const PartReading &x = now_.readings[k].parts[a], &y = after.readings[k].parts[b];
    if (x.state == State::kTooBright) return false;
    works_now = works_now || works(x);
    differs = differs || works(x) != works(y) || (works(x) && std::abs(x.brightness - y.brightness) > 0.05 * x.brightness);
  }
  return works_now && differs;
}

}  // namespace tiepoint
