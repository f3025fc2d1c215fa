#include "shell/bench/page_box.h"

#include <algorithm>

#include "shell/bench/bench.h"
#include "shell/bench/find_parts.h"
#include "shell/bench/page_words.h"

namespace tiepoint {

using namespace page;

Status find_command(Bench& bench, const Json& request, PageJson& out) {
  const Result<std::string> text = optional_text(request, "text");
  if (!text) return text.error();
  if (!find(request, "show")) return write_found(out, find_parts(*text, bench.desk().recent)), done();
  const Result<bool> show = truth_of(request, "show", true);
  if (!show) return show.error();
  const Result<double> at = number_of(request, "at", 0);
  if (!at) return at.error();
  if (!*show) return bench.end_search(), done();
  bench.search(*text, int(std::clamp(*at, 0.0, 1000.0)));
  write_found(out, bench.desk().search.found);
  return done();
}

Status hill_command(Bench& bench, const Json& request, PageJson& out) {
  const Result<std::string> name = optional_text(request, "part");
  if (!name) return name.error();
  const Session& session = bench.session();
  const Board& board = session.board();
  Hill& hill = bench.desk().hill;
  if (!name->empty()) {
    const Part* part = board.find(*name);
    if (!part) return Error{.code = Code::kUnknownPart, .part = *name};
    if (!takes_a_step(*part))
      return Error{.code = Code::kBadValue,
                   .part = *name,
                   .found = *name,
                   .expected = "a part that current goes through",
                   .pointer = "/part"};
    hill.choose(board, *name);
  }
  const std::vector<HillStep>& steps = hill.steps(session);
  out.member("part", hill.part()).key("choices").array();
  for (const Part& part : board.parts)
    if (takes_a_step(part)) out.value(part.name);
  out.end_array().key("steps").array();
  for (const HillStep& step : steps) {
    const Part* part = board.find(step.part);
    if (!part) continue;
    out.object().member("part", part->name).member("kind", part->kind->key).member("flat", is_flat(board, step));
    out.member("before", step.before).member("after", step.after).member("current", step.current);
    if (const PartReading* reading = bench.desk().reading_of(*part)) out.member("state", key(reading->state));
    out.end_object();
  }
  out.end_array();
  return done();
}

Status take_command(Bench& bench, const Json& request) {
  const Result<std::string> key = text_of(request, "kind");
  if (!key) return key.error();
  const PartKind* kind = catalogue().find(*key);
  if (!kind) return Error{.code = Code::kUnknownKind, .found = *key};
  Part part = make_part(*kind);
  if (const Status status = read_values(request, bench.session().board().free_name(kind->prefix), part); !status)
    return status.error();
  bench.take_up(part);
  return done();
}

}  // namespace tiepoint
