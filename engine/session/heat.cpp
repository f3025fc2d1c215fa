// What heat does to the parts of a session: how warm they become while time passes, and what dies of it.
#include <algorithm>
#include <cmath>

#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace tiepoint {

namespace {
constexpr double kShortestPiece = 1e-4;  // [s] no look at the heat comes sooner after another
constexpr double kNearly = 1e-6;         // [K] as good as there
constexpr double kFade = 0.6;            // of its light an LED has lost when it dies of heat (own choice)
}  // namespace

double Session::heat_due() const { return std::max(thermal_.due(), kShortestPiece); }

// Elements whose energy is worth counting: those of parts that may get warm.
void Session::list_warm(std::vector<int>& elements) {
  warm_.assign(thermal_.bodies().size(), 0);
  counted_energy_.assign(thermal_.bodies().size(), 0);
  for (size_t k = 0; k < warm_.size(); ++k) {
    const Thermal::Body& body = thermal_.bodies()[k];
    if (!Thermal::is_warm(body) || type_of(board().parts[size_t(body.index)]).capacity) continue;
    warm_[k] = 1;
    for (int e = circuit().first_element_of_part[size_t(body.index)];
         e < circuit().first_element_of_part[size_t(body.index) + 1]; ++e)
      elements.push_back(e);
  }
}

// The mean power of the parts that are counted, over the seconds just gone.
void Session::heat_counted(double seconds) {
  for (size_t k = 0; k < warm_.size(); ++k) {
    if (!warm_[k]) continue;
    const int part = thermal_.bodies()[k].index;
    double energy = 0;
    for (int e = circuit().first_element_of_part[size_t(part)]; e < circuit().first_element_of_part[size_t(part) + 1]; ++e)
      energy -= simulation_.delivered(e).energy;
    thermal_.set_power(k, std::max(0.0, (energy - counted_energy_[k]) / seconds));
    counted_energy_[k] = energy;
  }
}

// A part that has become warm since the last count is counted from now on.
void Session::count_warm() {
  for (size_t k = 0; k < warm_.size(); ++k)
    if (!warm_[k] && Thermal::is_warm(thermal_.bodies()[k]) &&
        !type_of(board().parts[size_t(thermal_.bodies()[k].index)]).capacity)
      return count_batteries();
}

// What has got too hot cuts out or dies. True when the circuit is another now.
bool Session::suffer() {
  bool any = false;
  for (size_t k = 0; k < thermal_.bodies().size(); ++k) {
    Thermal::Body& body = thermal_.bodies()[k];
    const Part& part = board().parts[size_t(body.index)];
    if (body.heat.fate == Fate::kCutsOut) {
      const double now = kAirTemperature + body.rise;
      const bool cut = body.cut_out ? now > body.heat.limit + kNearly : now >= body.heat.destroyed - kNearly;
      if (cut != body.cut_out) body.cut_out = cut, any = true;
      continue;
    }
    if (!Thermal::is_dead(body) || part.defect) continue;
    if (board().realism.spared) continue;
    Defect died{.kind = body.heat.fate == Fate::kShorts ? Defect::Kind::kShorted : Defect::Kind::kOpen,
                .lead = body.heat.lead,
                .other = body.heat.other};
    if (body.is_over) died.bore = body.bore, died.rating = body.rating, died.unit = body.unit;
    died.seconds = body.over;
    if (journal_.apply(Edit{SetDefect{part.name, died, -1, true}})) any = true, ++board_revision_;
  }
  if (any) rebuild();
  return any;
}

// The document as heat has left it: what has cut out lets nothing in.
void Session::apply_cut_outs() {
  for (const Thermal::Body& body : thermal_.bodies())
    if (body.cut_out && !used_.parts[size_t(body.index)].defect)
      used_.parts[size_t(body.index)].defect = {.kind = Defect::Kind::kOpen, .lead = body.heat.lead, .hidden = true};
}

void Session::show_heat() {
  thermal_.show(readings_);
  for (const Thermal::Body& body : thermal_.bodies()) {
    PartReading& reading = readings_.parts[size_t(body.index)];
    if (body.damage > 0) reading.brightness *= 1 - kFade * std::min(1.0, body.damage);
    if (body.cut_out) reading.state = State::kTripped;
  }
}

}  // namespace tiepoint
