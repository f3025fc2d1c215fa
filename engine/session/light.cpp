// What an eye sees of lights that flicker: their brightness is the mean over the time it takes in as one, from the charge that
// has gone through them (fusion of flicker: some 50 to 90 Hz, after Ferry and Porter, from memory; Talbot-Plateau law: above it
// the mean is what is seen).
#include <algorithm>

#include "engine/parts/led.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace tiepoint {

void Session::list_lights(std::vector<int>& elements) {
  lights_.clear();
  for (size_t p = 0; p < board().parts.size(); ++p) {
    if (!glows_with_current(type_of(board().parts[p]))) continue;
    for (int e = circuit().first_element_of_part[p]; e < circuit().first_element_of_part[p + 1]; ++e) {
      if (circuit().elements[size_t(e)].kind != ElementKind::kDiode) continue;
      lights_.push_back({int(p), e});
      elements.push_back(e);
    }
  }
  light_looks_.clear();  // the count begins anew
}

void Session::look_at_lights() {
  if (lights_.empty()) return;
  LightLook look{simulation_.time(), {}};
  // The oldest that is of no account any more makes room: nothing is taken from the heap once warm.
  while (light_looks_.size() > 1 && light_looks_[1].time <= look.time - eye_) {
    look.charge.swap(light_looks_.front().charge);
    light_looks_.erase(light_looks_.begin());
  }
  look.charge.clear();
  for (const Light& light : lights_) look.charge.push_back(-simulation_.delivered(light.element).charge);
  light_looks_.push_back(std::move(look));
}

void Session::show_lights() {
  if (eye_ <= 0 || lights_.empty() || light_looks_.size() < 2 || simulation_.at_rest() || readings_.error) return;
  const LightLook &first = light_looks_.front(), &last = light_looks_.back();
  const double seconds = last.time - first.time;
  if (!(seconds > 0)) return;
  std::vector<double> mean;
  for (size_t k = 0; k < lights_.size();) {
    const int p = lights_[k].part;
    const Part& part = used_.parts[size_t(p)];
    PartReading& reading = readings_.parts[size_t(p)];
    mean.assign(part.leads.size(), 0);
    for (; k < lights_.size() && lights_[k].part == p; ++k) {
      const double current = (last.charge[k] - first.charge[k]) / seconds;
      const int terminal = circuit().elements[size_t(lights_[k].element)].first_terminal;
      for (size_t lead = 0; lead < mean.size(); ++lead)
        for (const int t : circuit().lead_terminals(p, int(lead)))
          mean[lead] += t == terminal ? current : t == terminal + 1 ? -current : 0;
    }
    if (part.defect && !part.defect.hidden) continue;
    const std::vector<double> none(mean.size(), 0);
    PartNumbers seen;
    type_of(part).read(part, {.voltage = none, .current = mean, .voltage_rate = none}, seen);
    reading.brightness = seen.brightness;
    reading.lights = seen.lights;
    // What is dark on the whole may be so for a reason that the numbers of this instant tell.
    if (seen.state != State::kDark || reading.state != State::kReversed) reading.state = seen.state;
  }
}

}  // namespace tiepoint
