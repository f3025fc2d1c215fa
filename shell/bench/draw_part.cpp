// Which drawing belongs to which body, and in what order they lie on each other.
#include <algorithm>
#include <cmath>

#include "shell/bench/draw.h"

namespace tiepoint {

std::string fixed_text(double value, int places) {
  double scale = 1;
  for (int i = 0; i < places; ++i) scale *= 10;
  long long whole = (long long)(std::fabs(value) * scale + 0.5);
  const bool negative = value < 0 && whole > 0;  // nothing is less than nothing by nothing
  std::string out;
  for (int i = 0; i < places || i == 0 || whole > 0; ++i) {
    if (i == places && places > 0) out.insert(out.begin(), '.');
    out.insert(out.begin(), char('0' + whole % 10));
    whole /= 10;
  }
  if (places > 0 && out.find('.') == std::string::npos) out.insert(0, "0.");
  return (negative ? "−" : "") + out;
}

std::string_view option_of(const Part& part, std::string_view key) {
  const int i = value_index(*part.kind, key);
  if (i < 0 || size_t(i) >= part.values.size()) return {};
  const auto& options = part.kind->values[size_t(i)].options;
  const int chosen = int(part.values[size_t(i)]);
  return chosen >= 0 && chosen < int(options.size()) ? options[size_t(chosen)] : std::string_view{};
}

Layer layer_of(const Part& part) {
  switch (type_of(part).body) {
    case Body::kWire: return Layer::kWire;
    case Body::kRoundLed:
    case Body::kSmallLed:
    case Body::kLed8mm:
    case Body::kLed10mm:
    case Body::kInfraredLed:
    case Body::kPhotodiode:
    case Body::kPhototransistor:
    case Body::kRgbLed:
    case Body::kTo92:
    case Body::kTo18:
    case Body::kTo220:
    case Body::kPhotoresistor:
    case Body::kThermistor:
    case Body::kResettableFuse:
    case Body::kTiltSwitch:
    case Body::kForceSensor:
    case Body::kFlexSensor:
    case Body::kDiscCapacitor:
    case Body::kCanCapacitor: return Layer::kStanding;
    default: return part.kind->footprint.seat == Seat::kMat ? Layer::kMat : Layer::kFlat;
  }
}

void draw_part(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, const PartLook& look) {
  switch (type_of(part).body) {
    case Body::kWire: return draw_wire(paint, camera, part, pose, look);
    case Body::kAxialResistor: return draw_resistor(paint, part, pose, look);
    case Body::kAxialDiode: return draw_diode(paint, part, pose, look);
    case Body::kRoundLed:
    case Body::kSmallLed:
    case Body::kLed8mm:
    case Body::kLed10mm:
    case Body::kInfraredLed:
    case Body::kPhotodiode:
    case Body::kPhototransistor: return draw_led(paint, part, pose, look);
    case Body::kDiscCapacitor: return draw_disc(paint, part, pose, look);
    case Body::kCanCapacitor: return draw_can(paint, part, pose, look);
    case Body::kTactButton: return draw_button(paint, part, pose, look);
    case Body::kSlideSwitch: return draw_slide(paint, part, pose, look);
    case Body::kOutlet: return draw_outlet(paint, part, pose, look);
    case Body::kBatteryPack: return draw_battery(paint, part, pose, look);
    case Body::kMeter: return draw_meter(paint, part, pose, look);
    default:
      if (!draw_kind(paint, part, pose, look)) draw_plain(paint, part, pose, look);
  }
}

void draw_outline(Paint& paint, const Camera& camera, const Part& part, const Pose& pose, ImU32 colour, float width) {
  const float s = pose.scale;
  if (type_of(part).body == Body::kWire) {
    // Twice the wire's width, under it.
    const std::span<const ImVec2> course = wire_course(paint, camera, part, pose);
    paint.path(course, 0.29f * s + 2 * width, colour);
    return;
  }
  const float grow = 0.14f * s + width / 2;
  paint.stroke(rounded(pose.centre, pose.half + ImVec2{grow, grow}, 0.34f * s, pose.axis), width, colour);
}

}  // namespace tiepoint
