// What moves when current flows: motors, the servo, relay and solenoid.
#include <algorithm>
#include <cmath>

#include "engine/parts/marking.h"
#include "shell/bench/draw_kinds.h"

namespace tiepoint::kit {
namespace {

constexpr Across kPolished[] = {{-1, -0.46f}, {-0.78f, -0.06f}, {-0.48f, 0.42f}, {-0.24f, 0.28f}, {0.15f, 0.0f}, {0.6f, -0.2f}, {0.85f, -0.1f}, {1, -0.52f}};

void solder_tags(Paint& paint, const Pose& pose, float s) {
  for (int i = 0; i < pose.count; ++i) {
    const ImVec2 at = pose.root[i];
    paint.fill(rounded(at - ImVec2{0.18f * s, 0}, {0.26f * s, 0.15f * s}, 0.05f * s), {at - ImVec2{0, 0.15f * s}, at + ImVec2{0, 0.15f * s}, {{0, shade(rgb(theme::kBrass), 0.4f)}, {1, rgb(theme::kBrassDark)}}});
  }
}

}  // namespace

void draw_motor(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const float x0 = -1.55f, x1 = 3.3f, r = 1.62f;
  paint.shadow(Box{f.at(x0, -r), f.at(x1, r)}, 0.3f * s, 0.55f * s, {0, 0.26f * s}, 0.55f);
  solder_tags(paint, pose, s);
  // The can with its end cap of nylon, two flats top and bottom.
  const ImU32 steel = rgb(theme::kSteel), nylon = rgb(theme::kNylon);
  const Station can[] = {{f.at(x0, 0), 0.90f * r * s, steel}, {f.at(x0 + 0.12f, 0), r * s, steel}, {f.at(2.5f, 0), r * s, steel},
                         {f.at(2.501f, 0), 0.98f * r * s, nylon}, {f.at(3.15f, 0), 0.96f * r * s, nylon}, {f.at(x1, 0), 0.84f * r * s, nylon}};
  paint.body(can, kPolished);
  paint.fill(f.box(2.42f, -r, 2.52f, r, 0.02f), theme::fade(rgb(theme::kBlack), 0.28f));
  for (float y : {-0.78f, 0.78f}) paint.fill(f.box(0.1f, y - 0.16f, 1.3f, y + 0.16f, 0.14f), rgb(0x2F3538, 0.75f));
  if (!look.in_box) letter(paint, f, 0.5f, 0, 0.56f, 2.6f, rgb(0x2E3538), part.name);
  // Boss, shaft, and a small propeller seen from the front so that one sees it turn.
  const ImVec2 hub = f.at(-2.35f, 0);
  const Station shaft[] = {{f.at(x0 + 0.02f, 0), 0.48f * s, steel}, {f.at(x0 - 0.30f, 0), 0.44f * s, steel}, {f.at(x0 - 0.301f, 0), 0.14f * s, steel}, {hub, 0.14f * s, steel}};
  paint.body(shaft, kPolished);
  const float speed = look.reading && has_reading(look.reading->speed) ? std::fabs(float(look.reading->speed)) : 0;
  const float blur = std::clamp(speed / 400, 0.0f, 1.0f), blade = 1.45f * s;
  if (blur > 0.05f) paint.fill(circle(hub, blade), rgb(theme::kKnob, 0.22f * blur));
  paint.shadow(hub + ImVec2{0, 0.14f * s}, {blade * 0.7f, blade * 0.7f}, blade * 0.7f, {1, 0}, 0.3f * s, 0.25f);
  for (int i = 0; i < 3; ++i) {
    const float a = look.turned + kPi * 2 * float(i) / 3;
    const ImVec2 d = {std::sin(a), -std::cos(a)}, side = across(d);
    const ImVec2 tip = hub + d * (blade * 0.62f);
    // One blade is painted, so that slow turning shows.
    const ImU32 c = rgb(i == 0 ? theme::kSelect : theme::kKnob, 1 - 0.45f * blur);
    Outline leaf = rounded(tip, {blade * 0.40f, blade * 0.27f}, blade * 0.25f, d);
    paint.fill(leaf, {tip - side * (blade * 0.27f), tip + side * (blade * 0.27f), {{0, shade(c, 0.30f)}, {1, shade(c, -0.28f)}}});
    paint.line(hub, tip, 0.26f * s, shade(c, -0.12f));
  }
  paint.fill(circle(hub, 0.34f * s), {hub - ImVec2{0.1f * s, 0.34f * s}, hub + ImVec2{0.1f * s, 0.34f * s}, {{0, rgb(0xF6F3EA)}, {1, rgb(0x9C978B)}}});
}

void draw_vibrator(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const float s = pose.scale;
  const float speed = look.reading && has_reading(look.reading->speed) ? std::fabs(float(look.reading->speed)) : 0;
  const bool shakes = speed > 20;
  const ImVec2 jolt = shakes ? ImVec2{std::cos(look.turned), std::sin(look.turned)} * (0.05f * s) : ImVec2{};
  const ImVec2 m = pose.centre + ImVec2{-0.15f * s, 0} + jolt;
  const float r = 1.48f * s;
  paint.shadow(m, {r, r}, r, {1, 0}, 0.4f * s, 0.5f);
  const ImU32 steel = rgb(theme::kSteel);
  // Flat tail to the leads, then the pressed can.
  paint.fill(rounded({m + ImVec2{0.9f * s, -0.5f * s}, m + ImVec2{1.95f * s, 0.5f * s}}, 0.1f * s), rgb(0xC98F45));
  paint.fill(circle(m, r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(steel, 0.45f)}, {0.5f, steel}, {1, shade(steel, -0.42f)}}});
  paint.fill(circle(m, 0.88f * r), {m - ImVec2{0.4f * r, r}, m + ImVec2{0.4f * r, r}, {{0, shade(steel, 0.62f)}, {0.45f, shade(steel, 0.18f)}, {1, shade(steel, -0.18f)}}});
  // The lopsided weight inside, as if the lid were glass: it is what shakes.
  Outline weight;
  weight.add(m), weight.arc(m, 0.70f * r, 0.70f * r, look.turned - 0.75f, look.turned + 0.75f);
  paint.fill(weight, rgb(0x4A5155, 0.85f));
  paint.fill(circle(m, 0.16f * r), rgb(0x30363A));
  if (shakes)
    for (int i = 1; i <= 2; ++i)
      for (float e : {-1.0f, 1.0f}) {
        Outline arc;
        arc.arc(m, r + (0.10f + 0.24f * float(i)) * s, r + (0.10f + 0.24f * float(i)) * s, e > 0 ? -0.9f - kPi / 2 + kPi * 0.25f : kPi / 2 + 0.5f, e > 0 ? -0.1f - kPi * 0.25f : kPi + 0.3f);
        paint.path({arc.p, size_t(arc.n)}, std::max(0.07f * s, 1.0f), rgb(theme::kSelect, 0.75f - 0.25f * float(i)));
      }
  fitted(paint, m + ImVec2{0, -0.42f * r}, 0.5f, 0.42f * s, 1.2f * r, rgb(0x2C3235), look.in_box ? std::string_view{} : std::string_view(part.name), Weight::kStrong);
}

void draw_servo(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const ImU32 blue = rgb(theme::kServo);
  paint.shadow(Box{f.at(-3.0f, -1.3f), f.at(3.2f, 1.3f)}, 0.2f * s, 0.5f * s, {0, 0.26f * s}, 0.55f);
  // Ears with their screw holes, the case on them, the plug of three wires at the right.
  block(paint, f, -3.35f, -1.02f, 3.35f, 1.02f, 0.14f, shade(blue, -0.12f));
  for (float e : {-3.08f, 3.08f}) paint.fill(circle(f.at(e, 0), 0.18f * s), rgb(0x101A2A));
  block(paint, f, -2.74f, -1.36f, 2.74f, 1.36f, 0.20f, blue);
  static constexpr uint32_t kWires[] = {theme::kMinusWire, theme::kPlusWire, 0xE0A526};
  for (int i = 0; i < pose.count && i < 3; ++i) paint.line(f.at(2.6f, 0.28f * float(i - 1)), pose.root[i], 0.2f * s, rgb(kWires[i]));
  paint.fill(f.box(2.44f, -0.55f, 2.80f, 0.55f, 0.08f), rgb(0x20242A));
  const Outline label = f.box(0.05f, -0.82f, 2.3f, 0.82f, 0.10f);
  paint.fill(label, downwards(label, {{0, rgb(0xF6F3EA)}, {1, rgb(0xDDD8CB)}}));
  const bool known = look.reading && has_reading(look.reading->angle);
  const double angle = known ? look.reading->angle : 0;
  letter(paint, f, 1.17f, look.in_box ? 0.0f : -0.30f, 0.5f, 2.0f, rgb(0x2E3538), look.in_box ? std::string_view("180°") : std::string_view(part.name));
  if (!look.in_box) letter(paint, f, 1.17f, 0.34f, 0.46f, 2.0f, rgb(0x5A5F61), fixed_text(angle * 180 / double(kPi), 0) + "°", Weight::kBody);
  // The turret, a faint scale of the travel, and the horn.
  const Horn horn = servo_horn(pose, angle);
  const ImVec2 m = horn.shaft, d = unit(horn.tip - m);
  paint.fill(circle(m, 1.12f * s), {m - ImVec2{0, 1.1f * s}, m + ImVec2{0, 1.1f * s}, {{0, shade(blue, 0.30f)}, {1, shade(blue, -0.25f)}}});
  for (int i = -2; i <= 2; ++i) {
    const float a = float(i) * kPi / 4;
    const ImVec2 w = {std::sin(a), -std::cos(a)};
    paint.line(m + w * (0.90f * s), m + w * (1.06f * s), std::max(0.06f * s, 0.9f), rgb(0xD8E4F4, 0.8f));
  }
  const ImVec2 course[] = {m - d * (0.5f * s), horn.tip};
  paint.path_shadow(course, 0.26f * s, 0.2f * s, {0, 0.2f * s}, 0.5f);
  const ImU32 nylon = rgb(theme::kNylon);
  static constexpr Across kMatt[] = {{-1, -0.25f}, {-0.5f, 0.2f}, {0.3f, 0}, {1, -0.3f}};
  const Station arm[] = {{m - d * (0.62f * s), 0.20f * s, nylon}, {m - d * (0.5f * s), 0.36f * s, nylon}, {m, 0.44f * s, nylon}, {lerp(m, horn.tip, 0.9f), 0.26f * s, nylon}, {horn.tip, 0.14f * s, nylon}};
  paint.body(arm, kMatt);
  for (float t : {0.5f, 0.68f, 0.86f}) paint.fill(circle(lerp(m, horn.tip, t), 0.08f * s), rgb(0x6C6A62));
  screw(paint, m, 0.26f * s, float(angle) + 0.8f);
}

void draw_relay(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s, hx = pose.half.x / s, hy = pose.half.y / s;
  cast_shadow(paint, pose, look, 0.2f);
  block(paint, f, -hx, -hy, hx, hy, 0.22f, rgb(theme::kRelayCase));
  const ImU32 ink = rgb(0xEAF1FA);
  const bool pulled = look.reading && look.reading->state == State::kPulled;
  // Printed on the lid: the coil at the left, the contact at the right in the position it has, each wired to its own pins.
  const float w = std::max(0.09f * s, 1.0f);
  const auto pin = [&](int i) { return f.at(dot(pose.lead[i] - f.origin, f.u) / s, std::clamp(dot(pose.lead[i] - f.origin, f.v) / s, -hy + 0.3f, hy - 0.3f)); };
  for (int i = 0; i < pose.count; ++i) paint.fill(circle(pin(i), 0.13f * s), ink);
  if (pose.count >= 6) {
    const float x0 = dot(pose.lead[0] - f.origin, f.u) / s, xc = dot(pose.lead[1] - f.origin, f.u) / s, xn = dot(pose.lead[2] - f.origin, f.u) / s;
    const Outline coil = f.box(x0 - 0.26f, -0.72f, x0 + 0.66f, 0.72f, 0.04f);
    paint.line(pin(0), f.at(x0, 0.72f), w, ink), paint.line(pin(5), f.at(x0, -0.72f), w, ink);
    if (pulled) paint.fill(coil, rgb(theme::kSelect, 0.55f));
    paint.stroke(coil, w, ink);
    paint.line(f.at(x0 - 0.26f, 0.4f), f.at(x0 + 0.66f, -0.4f), w, ink);
    // A blade from the common pin to "no" below or "nc" above.
    const ImVec2 pivot = f.at(xc, 0), no = f.at(xn - 0.1f, 0.42f), nc = f.at(xn - 0.1f, -0.42f);
    paint.line(pin(1), pivot, w, ink), paint.line(pin(4), pivot, w, ink);
    paint.line(pin(2), no, w, ink), paint.line(pin(3), nc, w, ink);
    paint.line(pivot, pulled ? no : nc, w * 1.7f, rgb(theme::kSelect));
    paint.fill(circle(pivot, 0.13f * s), ink);
  }
  if (!look.in_box) letter(paint, f, -0.55f, 1.28f, 0.5f, 2.2f, ink, part.name);
  letter(paint, f, -0.55f, -1.28f, 0.46f, 2.2f, theme::fade(ink, 0.85f), "5 V", Weight::kStrong);
  sheen(paint, f.at(-hx * 0.4f, -hy * 0.72f), hx * 0.6f * s, hy * 0.3f * s, 0.16f);
}

void draw_solenoid(Paint& paint, const Part& part, const Pose& pose, const PartLook& look) {
  const Frame f(pose);
  const float s = f.s;
  const bool pulled = look.reading && look.reading->state == State::kPulled;
  paint.shadow(Box{f.at(-1.9f, -1.4f), f.at(3.3f, 1.4f)}, 0.2f * s, 0.5f * s, {0, 0.26f * s}, 0.55f);
  solder_tags(paint, pose, s);
  const ImU32 steel = rgb(theme::kSteel), copper = rgb(theme::kCopper);
  // The plunger with its spring and head; pulled in, the head stands at the frame.
  const float out = pulled ? 0.45f : 1.65f, x0 = -1.9f;
  const Station bolt[] = {{f.at(x0 - out - 0.3f, 0), 0.50f * s, steel}, {f.at(x0 - out, 0), 0.56f * s, steel}, {f.at(x0 - out + 0.02f, 0), 0.34f * s, shade(steel, -0.05f)}, {f.at(x0, 0), 0.34f * s, shade(steel, -0.05f)}};
  paint.body(bolt, kPolished);
  const int turns = 5;
  for (int i = 0; i < turns; ++i) {
    const float x = x0 - 0.06f - (out - 0.14f) * (float(i) + 0.5f) / turns;
    paint.line(f.at(x - 0.06f, -0.52f), f.at(x + 0.06f, 0.52f), std::max(0.10f * s, 1.0f), rgb(0x6E777A));
  }
  // Frame, and the coil inside it.
  block(paint, f, x0, -1.45f, 3.2f, 1.45f, 0.12f, shade(steel, -0.12f));
  paint.fill(f.box(x0 + 0.4f, -1.12f, 2.8f, 1.12f, 0.06f), rgb(0x23282B));
  const Station coil[] = {{f.at(x0 + 0.55f, 0), 1.06f * s, copper}, {f.at(2.65f, 0), 1.06f * s, copper}};
  static constexpr Across kWire[] = {{-1, -0.4f}, {-0.5f, 0.28f}, {-0.2f, 0.16f}, {0.4f, -0.1f}, {1, -0.5f}};
  paint.body(coil, kWire);
  for (int i = 0; i < 14; ++i) {
    const float x = x0 + 0.70f + 3.7f * float(i) / 13;
    paint.line(f.at(x, -1.02f), f.at(x, 1.02f), std::max(0.05f * s, 0.6f), theme::fade(rgb(0x4A2508), 0.45f));
  }
  if (look.in_box) return;
  const float em = 0.52f * s, width = paint.text_width(em, part.name, Weight::kStrong) / 2 + 0.2f * s;
  paint.fill(rounded(f.at(0.65f, 0), {width, 0.36f * s}, 0.12f * s), rgb(0xF6F0E2));
  paint.text(f.at(0.65f, 0), 0.5f, em, rgb(0x33291C), part.name, Weight::kStrong);
}

}  // namespace tiepoint::kit
