#include "shell/bench/dial.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

constexpr float kTravel = 2.356194f;      // [rad] 135 degrees to either side: the 270 degrees of a common potentiometer
constexpr float kRotaryTravel = 1.047198f;  // [rad] five stops of 30 degrees

void put(Dial (&out)[kMostDials], int& n, const Part& part, const Pose& pose, std::string_view key, float x, float y, float r, float travel) {
  const int i = value_index(*part.kind, key);
  if (i < 0 || n >= kMostDials || size_t(i) >= part.values.size()) return;
  const ValueSpec& spec = part.kind->values[size_t(i)];
  Dial& d = out[n++];
  d.value = i;
  d.centre = pose.centre + pose.axis * (x * pose.scale) + across(pose.axis) * (y * pose.scale);
  d.radius = r * pose.scale;
  d.from = -travel, d.to = travel;
  d.angle = d.from + (d.to - d.from) * float(dial_share(spec, part.values[size_t(i)]));
}

}  // namespace

double dial_share(const ValueSpec& spec, double value) {
  if (spec.maximum <= spec.minimum) return 0;
  const bool decades = spec.unit == "Hz" && spec.minimum > 0;
  const double share = decades ? std::log(std::max(value, spec.minimum) / spec.minimum) / std::log(spec.maximum / spec.minimum)
                               : (value - spec.minimum) / (spec.maximum - spec.minimum);
  return std::clamp(share, 0.0, 1.0);
}

double dial_value(const ValueSpec& spec, double share) {
  share = std::clamp(share, 0.0, 1.0);
  if (spec.unit == "Hz" && spec.minimum > 0) return spec.minimum * std::pow(spec.maximum / spec.minimum, share);
  const double value = spec.minimum + share * (spec.maximum - spec.minimum);
  return spec.options.empty() ? value : std::round(value);
}

int dials_of(const Part& part, const Pose& pose, Dial (&out)[kMostDials]) {
  int n = 0;
  switch (type_of(part).body) {
    case Body::kPotentiometer: put(out, n, part, pose, "position", 0, -0.12f, 1.12f, kTravel); break;
    case Body::kTrimmer: put(out, n, part, pose, "position", 0, -0.08f, 0.74f, kTravel); break;
    case Body::kRotarySwitch: put(out, n, part, pose, "position", 0, -0.1f, 1.06f, kRotaryTravel); break;
    case Body::kBenchSupply:
      put(out, n, part, pose, "voltage", 1.05f, 1.12f, 0.62f, kTravel);
      put(out, n, part, pose, "limit", 2.75f, 1.12f, 0.62f, kTravel);
      break;
    case Body::kSignalSource:
      put(out, n, part, pose, "frequency", 0.35f, 1.20f, 0.58f, kTravel);
      put(out, n, part, pose, "amplitude", 1.80f, 1.20f, 0.58f, kTravel);
      put(out, n, part, pose, "offset", 3.25f, 1.20f, 0.58f, kTravel);
      break;
    default: break;
  }
  return n;
}

Horn servo_horn(const Pose& pose, double angle) {
  const float s = pose.scale, a = float(angle), arm = 1.75f * s;
  const ImVec2 shaft = pose.centre + ImVec2{-1.35f * s, 0};
  return {shaft, shaft + ImVec2{std::sin(a), -std::cos(a)} * arm};
}

Box dip_slider(const Part& part, const Pose& pose, int index) {
  const float s = pose.scale, middle = float(int(part.values.size()) - 1) / 2;
  const ImVec2 c = pose.centre + pose.axis * ((float(index) - middle) * s), up = across(pose.axis);
  const ImVec2 half = {(std::fabs(pose.axis.x) * 0.36f + std::fabs(up.x) * 0.95f) * s, (std::fabs(pose.axis.y) * 0.36f + std::fabs(up.y) * 0.95f) * s};
  return {c - half, c + half};
}

}  // namespace tiepoint
