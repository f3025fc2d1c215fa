// What use takes from the batteries of a session: charge and energy are added up while time passes, and their voltage and resistance
// follow in steps too small to see.
#include <algorithm>
#include <cmath>
#include <variant>

#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace tiepoint {
namespace {

constexpr double kStep = 1.0 / 2048;  // share of the charge between two changes: 0.015 % of the voltage
constexpr double kReached = 1e-9;     // of a step: as good as there
constexpr std::string_view kChargeKey = "charge";
constexpr double kOther = -1;  // no charge a document can have: the cells are others

}  // namespace

// Batteries keep what is left in them for as long as the document's own charge stays as it was.
void Session::find_batteries() {
  for (Battery& battery : batteries_) battery.index = -1;
  for (size_t p = 0; p < board().parts.size(); ++p) {
    const Part& part = board().parts[p];
    const PartType& type = type_of(part);
    if (!type.capacity) continue;
    auto at = std::find_if(batteries_.begin(), batteries_.end(), [&](const Battery& b) { return b.part == part.id; });
    if (at == batteries_.end()) at = batteries_.insert(at, {.part = part.id, .document = kOther});
    at->index = int(p);
    at->value = value_index(type, kChargeKey);
    at->capacity = type.capacity(part);
    const double charge = part.values[size_t(at->value)];
    if (charge != at->document) at->document = at->left = charge, at->energy = 0;
    used_.parts[p].values[size_t(at->value)] = at->left;
  }
}

// Setting a charge, though it be the same as before, puts in other cells.
void Session::use_again(const Edit& edit) {
  if (const Batch* batch = std::get_if<Batch>(&edit.act))
    for (const Edit& one : batch->edits) use_again(one);
  const SetValue* set = std::get_if<SetValue>(&edit.act);
  const ReplacePart* replace = std::get_if<ReplacePart>(&edit.act);
  if (!replace && (!set || set->key != kChargeKey)) return;
  const Part* part = board().find(replace ? replace->part : set->part);
  for (Battery& battery : batteries_)
    if (part && battery.part == part->id) battery.document = kOther;
}

void Session::count_batteries() {
  std::vector<int> elements;
  for (Battery& battery : batteries_) {
    if (battery.index < 0) continue;
    battery.element = circuit().first_element_of_part[size_t(battery.index)];
    battery.counted = {};
    elements.push_back(battery.element);
  }
  list_warm(elements);
  list_lights(elements);
  simulation_.count(elements);
  look_at_lights();
}

void Session::draw_counted() {
  for (Battery& battery : batteries_) {
    if (battery.index < 0) continue;
    const Simulation::Delivered now = simulation_.delivered(battery.element);
    battery.left = std::max(0.0, battery.left - std::max(0.0, now.charge - battery.counted.charge) / battery.capacity);
    battery.energy += now.energy - battery.counted.energy;
    battery.counted = now;
  }
}

// At rest nothing changes but the charge.
void Session::draw_steadily(double seconds) {
  for (Battery& battery : batteries_) {
    if (battery.index < 0) continue;
    const PartReading& reading = readings_.parts[size_t(battery.index)];
    if (!has_reading(reading.current) || !has_reading(reading.power)) continue;
    battery.left = std::max(0.0, battery.left - std::max(0.0, reading.current) * seconds / battery.capacity);
    battery.energy -= reading.power * seconds;
  }
}

double Session::wear_due() const {
  double due = heat_due();
  for (const Battery& battery : batteries_) {
    if (battery.index < 0 || battery.left <= 0) continue;
    const double current = readings_.parts[size_t(battery.index)].current;
    if (!(current > 0)) continue;
    const double applied = used_.parts[size_t(battery.index)].values[size_t(battery.value)];
    const double until = std::min(battery.left, std::max(0.0, kStep - (applied - battery.left)));
    due = std::min(due, until * battery.capacity / current);
  }
  return due;
}

// Brings the voltage of those that have run down by a step to where their charge is. True when there were any.
bool Session::wear() {
  Circuit circuit;
  bool any = false;
  for (const Battery& battery : batteries_) {
    if (battery.index < 0) continue;
    double& applied = used_.parts[size_t(battery.index)].values[size_t(battery.value)];
    const bool flat = battery.left <= kReached * kStep;
    if (applied - battery.left < (1 - kReached) * kStep && !(flat && applied > 0)) continue;
    if (!any) circuit = simulation_.circuit();
    any = true;
    applied = flat ? 0 : battery.left;
    (void)refresh_values(circuit, used_, battery.index);  // a charge is no change of structure
  }
  if (!any) return false;
  simulation_.set_parameters(circuit.parameters);
  attend();
  return true;
}

double Session::energy_drawn(PartId part) const {
  for (const Battery& battery : batteries_)
    if (battery.part == part) return battery.energy;
  return 0;
}

}  // namespace tiepoint
