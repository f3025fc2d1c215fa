#include "shell/bench/vector.h"

#include <algorithm>
#include <cmath>

namespace tiepoint {
namespace {

constexpr float kUnits = 10;  // of the file in one CSS px

int units(float length) { return int(std::lround(length * kUnits)); }

void hex(std::string& out, ImU32 colour) {
  constexpr char kDigits[] = "0123456789abcdef";
  out += '#';
  for (const int shift : {IM_COL32_R_SHIFT, IM_COL32_G_SHIFT, IM_COL32_B_SHIFT}) {
    const unsigned channel = (colour >> shift) & 255;
    out += kDigits[channel >> 4];
    out += kDigits[channel & 15];
  }
}

// 0..255 as "0.5", in hundredths.
void share(std::string& out, unsigned alpha) {
  const unsigned hundredths = (alpha * 100 + 127) / 255;
  out += hundredths >= 100 ? "1" : "." + std::string(hundredths < 10 ? "0" : "") + std::to_string(hundredths);
}

unsigned alpha_of(ImU32 colour) { return (colour >> IM_COL32_A_SHIFT) & 255; }

void escaped(std::string& out, std::string_view words) {
  for (const char c : words) {
    if (c == '&') out += "&amp;";
    else if (c == '<') out += "&lt;";
    else out += c;
  }
}

}  // namespace

void Vector::number(int value) { out_ += std::to_string(value); }

void Vector::point(ImVec2 p) {
  number(units(p.x - seen_.min.x));
  out_ += ' ';
  number(units(p.y - seen_.min.y));
}

// Steps from point to point; those of less than a unit are left out.
void Vector::outline(std::span<const ImVec2> points, bool closed) {
  out_ += "d=\"M";
  point(points[0]);
  out_ += 'l';
  int x = units(points[0].x - seen_.min.x), y = units(points[0].y - seen_.min.y);
  bool first = true;
  for (const ImVec2 p : points.subspan(1)) {
    const int dx = units(p.x - seen_.min.x) - x, dy = units(p.y - seen_.min.y) - y;
    if (dx == 0 && dy == 0) continue;
    if (!first && dx >= 0) out_ += ' ';
    number(dx);
    if (dy >= 0) out_ += ' ';
    number(dy);
    x += dx, y += dy;
    first = false;
  }
  if (first) out_ += "0 0";
  out_ += closed ? "z\"" : "\"";
}

void Vector::paint(const char* what, ImU32 colour) {
  ((out_ += ' ') += what) += "=\"";
  hex(out_, colour);
  out_ += '"';
  if (alpha_of(colour) == 255) return;
  ((out_ += ' ') += what) += "-opacity=\"";
  share(out_, alpha_of(colour));
  out_ += '"';
}

void Vector::blurred(float blur) {
  const int deviation = std::max(units(blur / 2), 1);
  if (std::find(blurs_.begin(), blurs_.end(), deviation) == blurs_.end()) {
    blurs_.push_back(deviation);
    const std::string size = std::to_string(deviation);
    defs_ += "<filter id=\"b" + size + "\" x=\"-50%\" y=\"-50%\" width=\"200%\" height=\"200%\"><feGaussianBlur stdDeviation=\"" + size + "\"/></filter>\n";
  }
  out_ += " filter=\"url(#b" + std::to_string(deviation) + ")\"";
}

int Vector::stops(std::span<const Fill::Stop> list, float opacity) {
  for (const Fill::Stop& stop : list) {
    defs_ += "<stop offset=\"";
    share(defs_, unsigned(std::clamp(stop.at, 0.0f, 1.0f) * 255 + 0.5f));
    defs_ += "\" stop-color=\"";
    hex(defs_, stop.colour);
    const unsigned alpha = unsigned(float(alpha_of(stop.colour)) * opacity + 0.5f);
    if (alpha < 255) {
      defs_ += "\" stop-opacity=\"";
      share(defs_, alpha);
    }
    defs_ += "\"/>";
  }
  return ids_;
}

void Vector::clip(const Box& box) {
  const std::string id = std::to_string(++ids_);
  const auto at = [](const char* name, float value) { return std::string(" ") + name + "=\"" + std::to_string(units(value)) + "\""; };
  defs_ += "<clipPath id=\"k" + id + "\"><rect" + at("x", box.min.x - seen_.min.x) + at("y", box.min.y - seen_.min.y) + at("width", box.size().x) +
           at("height", box.size().y) + "/></clipPath>\n";
  out_ += "<g clip-path=\"url(#k" + id + ")\">\n";
}

void Vector::unclip() { out_ += "</g>\n"; }

void Vector::fill(const Outline& shape, const Fill& fill, float opacity) {
  if (shape.n < 3) return;
  int gradient = 0;
  if (fill.count > 1) {
    gradient = ++ids_;
    const auto at = [&](const char* name, float value) { defs_ += std::string(" ") + name + "=\"" + std::to_string(units(value)) + "\""; };
    defs_ += "<linearGradient id=\"g" + std::to_string(gradient) + "\" gradientUnits=\"userSpaceOnUse\"";
    at("x1", fill.from.x - seen_.min.x), at("y1", fill.from.y - seen_.min.y), at("x2", fill.to.x - seen_.min.x), at("y2", fill.to.y - seen_.min.y);
    defs_ += '>';
    stops({fill.stops, size_t(fill.count)}, opacity);
    defs_ += "</linearGradient>\n";
  }
  out_ += "<path ";
  outline({shape.p, size_t(shape.n)}, true);
  if (gradient) out_ += " fill=\"url(#g" + std::to_string(gradient) + ")\"";
  else paint("fill", theme::fade(fill.stops[0].colour, opacity));
  out_ += "/>\n";
}

void Vector::stroke(const Outline& shape, float width, ImU32 colour) {
  if (shape.n < 3) return;
  out_ += "<path ";
  outline({shape.p, size_t(shape.n)}, true);
  out_ += " fill=\"none\" stroke-width=\"";
  number(units(width));
  out_ += '"';
  paint("stroke", colour);
  out_ += "/>\n";
}

void Vector::line(std::span<const ImVec2> points, float width, ImU32 colour) {
  if (points.size() < 2 || alpha_of(colour) == 0) return;
  out_ += "<path class=\"r\" ";
  outline(points, false);
  out_ += " stroke-width=\"";
  number(std::max(units(width), 1));
  out_ += '"';
  paint("stroke", colour);
  out_ += "/>\n";
}

// Stretches of one colour, each in three strips: as the profile begins, where it is lightest, as it ends.
void Vector::body(std::span<const Station> s, std::span<const Across> profile, float opacity) {
  if (s.size() < 2 || profile.empty()) return;
  const auto side = [&](size_t i) {
    const ImVec2 before = s[i].p - s[i ? i - 1 : 0].p, after = s[i + 1 < s.size() ? i + 1 : i].p - s[i].p;
    return across(unit(unit(before) + unit(after)));
  };
  std::vector<ImVec2> shape;
  const auto strip = [&](size_t first, size_t last, float from, float to, float tone) {
    shape.clear();
    for (size_t i = first; i <= last; ++i) shape.push_back(s[i].p + side(i) * (s[i].radius * from));
    for (size_t i = last + 1; i > first; --i) shape.push_back(s[i - 1].p + side(i - 1) * (s[i - 1].radius * to));
    out_ += "<path ";
    outline(shape, true);
    paint("fill", theme::fade(theme::shade(s[first].colour, tone), opacity));
    out_ += "/>\n";
  };
  const Across* light = &*std::max_element(profile.begin(), profile.end(), [](const Across& a, const Across& b) { return a.shade < b.shade; });
  for (size_t first = 0; first + 1 < s.size();) {
    size_t last = first + 1;
    while (last + 1 < s.size() && s[last + 1].colour == s[first].colour && s[last].colour == s[first].colour) ++last;
    if (s[last].colour != s[first].colour && last > first + 1) --last;
    float mean = 0;
    for (const Across& column : profile) mean += column.shade / float(profile.size());
    strip(first, last, -1, 1, mean);
    if (profile.size() > 2 && light->shade > mean + 0.05f) {
      strip(first, last, std::max(light->at - 0.3f, -1.0f), std::min(light->at + 0.3f, 1.0f), light->shade * 0.8f);
      strip(first, last, 0.6f, 1, profile.back().shade * 0.8f);
    }
    first = last;
  }
}

void Vector::shadow(const Outline& shape, float blur, ImU32 colour) {
  out_ += "<path ";
  outline({shape.p, size_t(shape.n)}, true);
  paint("fill", colour);
  blurred(blur);
  out_ += "/>\n";
}

void Vector::line_shadow(std::span<const ImVec2> points, float width, float blur, ImU32 colour) {
  if (points.size() < 2) return;
  out_ += "<path class=\"r\" ";
  outline(points, false);
  out_ += " stroke-width=\"";
  number(units(width));
  out_ += '"';
  paint("stroke", colour);
  blurred(blur);
  out_ += "/>\n";
}

void Vector::glow(ImVec2 centre, float rx, float ry, std::span<const Fill::Stop> list, float opacity) {
  const std::string id = std::to_string(++ids_);
  defs_ += "<radialGradient id=\"g" + id + "\">";
  stops(list, opacity);
  defs_ += "</radialGradient>\n";
  const ImVec2 c = centre - seen_.min;
  out_ += "<ellipse cx=\"" + std::to_string(units(c.x)) + "\" cy=\"" + std::to_string(units(c.y)) + "\" rx=\"" + std::to_string(units(rx)) + "\" ry=\"" +
          std::to_string(units(ry)) + "\" fill=\"url(#g" + id + ")\"/>\n";
}

void Vector::hole(ImVec2 centre, float r, ImU32 rim, ImU32 mouth) {
  auto kind = std::find_if(holes_.begin(), holes_.end(), [&](const HoleKind& one) { return one.r == r && one.rim == rim && one.mouth == mouth; });
  if (kind == holes_.end()) {
    holes_.push_back({r, rim, mouth, ++ids_});
    kind = holes_.end() - 1;
    const auto square = [&](float half, ImU32 colour) {
      const std::string low = std::to_string(units(-half)), size = std::to_string(units(2 * half)), round = std::to_string(units(half * 0.35f));
      defs_ += "<rect x=\"" + low + "\" y=\"" + low + "\" width=\"" + size + "\" height=\"" + size + "\" rx=\"" + round + "\" fill=\"";
      hex(defs_, colour);
      defs_ += "\"/>";
    };
    defs_ += "<g id=\"h" + std::to_string(kind->id) + "\">";
    square(r * 1.42f, rim), square(r, mouth);
    defs_ += "</g>\n";
  }
  const ImVec2 c = centre - seen_.min;
  out_ += "<use xlink:href=\"#h" + std::to_string(kind->id) + "\" x=\"" + std::to_string(units(c.x)) + "\" y=\"" + std::to_string(units(c.y)) + "\"/>\n";
}

void Vector::text(ImVec2 left, float em, float width, ImU32 colour, std::string_view words, bool strong, bool upright) {
  const ImVec2 base = left - seen_.min + (upright ? ImVec2{em * 0.36f, 0} : ImVec2{0, em * 0.36f});
  const std::string x = std::to_string(units(base.x)), y = std::to_string(units(base.y));
  out_ += "<text x=\"" + x + "\" y=\"" + y + "\" font-size=\"" + std::to_string(units(em)) + "\" textLength=\"" + std::to_string(std::max(units(width), 1)) + "\"";
  if (strong) out_ += " font-weight=\"600\"";
  if (upright) out_ += " transform=\"rotate(-90 " + x + " " + y + ")\"";
  paint("fill", colour);
  out_ += '>';
  escaped(out_, words);
  out_ += "</text>\n";
}

std::string Vector::file() const {
  const ImVec2 size = seen_.size();
  const std::string w = std::to_string(int(size.x)), h = std::to_string(int(size.y));
  std::string out = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"" + w + "\" height=\"" + h +
                    "\" viewBox=\"0 0 " + std::to_string(units(size.x)) + " " + std::to_string(units(size.y)) + "\" font-family=\"Inter, sans-serif\">\n";
  out += "<style>.r{fill:none;stroke-linecap:round;stroke-linejoin:round}text{white-space:pre}</style>\n<defs>" + defs_ + "</defs>\n" + out_ + "</svg>\n";
  return out;
}

}  // namespace tiepoint
