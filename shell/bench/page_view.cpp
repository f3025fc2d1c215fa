#include "shell/bench/page_view.h"

#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/bench/bench.h"

namespace tiepoint {

using namespace page;

Status view_command(Bench& bench, const Json& request, PageJson& out) {
  const Result<bool> fit = truth_of(request, "fit", false);
  if (!fit) return fit.error();
  double factor = 1;
  if (find(request, "zoom")) {
    const Result<double> zoom = number_of(request, "zoom");
    if (!zoom) return zoom.error();
    factor = *zoom;
  }
  if (factor < 0.01 || factor > 100)
    return Error{.code = Code::kBadValue, .found = decimal(factor), .expected = "0.01 to 100", .pointer = "/zoom"};
  ViewOptions view = bench.view();
  if (const Status s = take_option(request, "underBoard", view.under_board); !s) return s.error();
  if (const Status s = take_option(request, "levels", view.levels); !s) return s.error();
  if (const Status s = take_option(request, "flow", view.flow); !s) return s.error();
  if (const Status s = take_option(request, "hill", view.hill); !s) return s.error();
  if (find(request, "pace")) {
    const Result<double> pace = number_of(request, "pace");
    if (!pace) return pace.error();
    if (*pace < 0 || *pace > 1)
      return Error{.code = Code::kBadValue, .found = decimal(*pace), .expected = "0 to 1", .pointer = "/pace"};
    view.time_scale = *pace;
  }
  std::optional<std::string> near;
  if (find(request, "near")) {
    const Result<std::string> name = text_of(request, "near");
    if (!name) return name.error();
    near = *name;
  }
  bool bounce = bench.session().bounce(), read_only = bench.read_only();
  if (const Status s = take_option(request, "bounce", bounce); !s) return s.error();
  if (const Status s = take_option(request, "readOnly", read_only); !s) return s.error();
  if (near.has_value() && !bench.look_at(*near))
    return Error{.code = Code::kBadValue, .found = std::string(*near), .expected = "a part or a hole of this board", .pointer = "/near"};
  bench.session().set_bounce(bounce);
  bench.set_read_only(read_only);
  bench.set_view(view);
  if (factor != 1) bench.zoom(float(factor));
  if (*fit) bench.zoom_fit();
  const Signs& signs = bench.desk().signs;
  out.member("flags", double(signs.flags.size() + signs.flagged.size()));
  out.member("underBoard", view.under_board)
      .member("levels", view.levels)
      .member("flow", view.flow)
      .member("hill", view.hill)
      .member("pace", view.time_scale);
  out.member("bounce", bounce).member("readOnly", read_only).member("inHand", bench.in_hand());
  return done();
}

Status step_command(Bench& bench, const Json& request, PageJson& out) {
  if (find(request, "seconds")) {
    const Result<double> seconds = number_of(request, "seconds");
    if (!seconds) return seconds.error();
    if (!(*seconds >= 1e-6 && *seconds <= 1))
      return Error{.code = Code::kBadValue, .found = decimal(*seconds), .expected = "0.000001 to 1", .pointer = "/seconds"};
    ViewOptions view = bench.view();
    view.step = *seconds;
    bench.set_view(view);
  }
  out.member("stepped", bench.step_time()).member("time", bench.session().time());
  return done();
}

void write_sounds(PageJson& out, const Session& session, double pace) {
  out.key("sounds").array();
  for (size_t k = 0; k < session.readings().parts.size() && pace > 0; ++k) {
    const PartReading& reading = session.readings().parts[k];
    const Part& part = session.board().parts[k];
    if (!has_reading(reading.frequency) || (reading.state != State::kSounding && type_of(part).body != Body::kMeter)) continue;
    out.object()
        .member("part", part.name)
        .member("kind", part.kind->key)
        .member("frequency", pace * reading.frequency)
        .member("power", reading.power);
    out.end_object();
  }
  out.end_array();
}

}  // namespace tiepoint
