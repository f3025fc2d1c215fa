#include "shell/bench/page_words.h"

#include <algorithm>
#include <span>
#include <string>
#include <vector>

#include "engine/file/json.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

std::string_view word(Use use) {
  switch (use) {
    case Use::kValue: return "value";
    case Use::kMomentary: return "momentary";
    case Use::kPosition: return "position";
  }
  return "value";
}

std::string_view word(Seat seat) {
  switch (seat) {
    case Seat::kFlexible: return "flexible";
    case Seat::kRigid: return "rigid";
    case Seat::kMat: return "mat";
  }
  return "flexible";
}

// "9.2 mA"; null when there is no reading.
void quantity(PageJson& out, std::string_view name, double value, std::string_view unit) {
  out.key(name);
  has_reading(value) ? out.value(say_quantity(value, unit)) : out.null();
}

void write_value_spec(PageJson& out, const ValueSpec& spec) {
  out.member("key", spec.key).member("unit", spec.unit).member("use", word(spec.use));
  out.member("minimum", spec.minimum).member("maximum", spec.maximum).member("series", spec.series);
  if (spec.options.empty()) return;
  out.key("options").array();
  for (const std::string_view option : spec.options) out.value(option);
  out.end_array();
}

// As the trade writes it: capacitances in microfarad at most, "1000 µF".
std::string written(double value, std::string_view unit) {
  if (unit == "F" && value >= 1e-3) return decimal(value * 1e6) + " µF";
  return say_marking(value, unit);
}

void write_value(PageJson& out, const ValueSpec& spec, double value) {
  out.object();
  write_value_spec(out, spec);
  out.member("number", value);
  if (spec.options.empty()) {
    out.member("text", written(value, spec.unit));
  } else {
    const size_t index = static_cast<size_t>(std::clamp(value, 0.0, double(spec.options.size() - 1)));
    out.member("text", spec.options[index]);
  }
  out.end_object();
}

void write_lead(PageJson& out, const Session& session, int part_index, int lead) {
  const Board& board = session.board();
  const Part& part = board.parts[part_index];
  const Wiring& wiring = session.wiring();
  const StripIndex strip = wiring.strip_of_lead[part_index][lead];
  out.object().member("name", part.kind->leads[lead].name).member("hole", board.name_of(part.leads[lead]));
  out.member("net", wiring.net_of_strip[strip]);
  const PartReading& reading = session.readings().parts[part_index];
  if (lead < static_cast<int>(reading.lead_current.size())) out.member("current", reading.lead_current[lead]);
  if (lead < static_cast<int>(reading.lead_voltage.size())) out.member("voltage", reading.lead_voltage[lead]);
  out.end_object();
}

void write_reading(PageJson& out, const PartReading& reading) {
  out.object().member("state", key(reading.state));
  out.member("current", reading.current).member("voltage", reading.voltage).member("power", reading.power);
  out.member("brightness", reading.brightness);
  quantity(out, "currentText", reading.current, "A");
  quantity(out, "voltageText", reading.voltage, "V");
  quantity(out, "powerText", reading.power, "W");
  out.member("temperature", reading.temperature).member("worn", reading.worn);
  if (has_reading(reading.charge)) {  // a battery
    out.member("charge", reading.charge).member("runTime", reading.run_time);
  }
  if (!reading.shown_unit.empty()) quantity(out, "shownText", reading.shown, reading.shown_unit);  // an instrument's display
  out.end_object();
}

// The tolerance is one of the words "5 %", ...; as a fraction.
double tolerance_of(const Part& part) {
  const int index = value_index(*part.kind, "tolerance");
  if (index < 0 || part.kind->values[size_t(index)].options.empty()) return value_of(part, "tolerance", 0.05);
  const std::string_view word = part.kind->values[size_t(index)].options[size_t(part.values[size_t(index)])];
  return parse_value(word.substr(0, word.find(' '))).value_or(5) / 100;
}

// Colour bands as printed on the body, for kinds that carry them.
void write_bands(PageJson& out, const Part& part) {
  if (type_of(part).body != Body::kAxialResistor) return;
  const std::vector<Band> bands = bands_for(value_of(part, "resistance"), tolerance_of(part));
  if (bands.empty()) return;
  out.key("bands").array();
  for (const Band band : bands) out.value(name(band));
  out.end_array();
}

// The figures printed on the body, for kinds that carry them.
void write_code(PageJson& out, const Part& part) {
  const Body body = type_of(part).body;
  if (body != Body::kDiscCapacitor && body != Body::kInductor && body != Body::kTrimmer) return;
  for (size_t i = 0; i < part.values.size(); ++i) {
    const double unit = digit_code_unit(part.kind->values[i].unit);
    if (unit == 0) continue;
    if (const std::string code = digit_code(part.values[i], unit); !code.empty()) out.member("code", code);
    return;
  }
}

void write_part(PageJson& out, const Session& session, int index) {
  const Part& part = session.board().parts[index];
  const PartType& type = type_of(part);
  out.object().member("name", part.name).member("kind", type.key).member("group", type.group);
  out.member("seat", word(type.footprint.seat)).member("turn", part.turn).member("wire", type.conductor);
  out.member("supply", type.reference_lead >= 0).member("label", part.label);
  out.key("leads").array();
  for (int lead = 0; lead < static_cast<int>(part.leads.size()); ++lead) write_lead(out, session, index, lead);
  out.end_array().key("values").array();
  for (size_t i = 0; i < part.values.size(); ++i) write_value(out, type.values[i], part.values[i]);
  out.end_array();
  write_bands(out, part);
  write_code(out, part);
  out.key("reading");
  write_reading(out, session.readings().parts[index]);
  out.end_object();
}

// nets[net] = the leads on it, as [index into parts, index into its leads].
void write_nets(PageJson& out, const Wiring& wiring) {
  out.key("nets").array();
  for (size_t net = 0; net < wiring.strips_of_net.size(); ++net) {
    out.array();
    for (const StripIndex strip : wiring.strips_of_net[net])
      for (const LeadRef& at : wiring.leads_on_strip[strip]) out.array().value(at.part).value(at.lead).end_array();
    out.end_array();
  }
  out.end_array();
}

void write_breadboard(PageJson& out, const Breadboard& one) {
  out.object().member("layout", layout(one.layout).name).member("splitRails", one.split_rails).key("cracked").array();
  for (size_t rail = 0; rail < kRailNames.size(); ++rail)
    if (!one.split_rails && one.cuts().has(static_cast<Rail>(rail))) out.value(kRailNames[rail]);
  out.end_array().end_object();
}

void write_step(PageJson& out, std::string_view name, const Edit* edit, const Board& board) {
  out.key(name);
  edit ? out.raw(write_edit(*edit, board)) : out.null();
}

}  // namespace

void write_error(PageJson& out, const Error& error) {
  out.object().member("code", key(error.code)).member("text", text(error));
  const std::pair<std::string_view, std::string> places[] = {{"part", error.part}, {"lead", error.lead}, {"hole", error.hole}, {"found", said_in_language(error.found)},
                                                             {"expected", said_in_language(error.expected)}, {"pointer", error.pointer}};
  for (const auto& [name, content] : places)
    if (!content.empty()) out.member(name, content);
  if (error.line > 0) out.member("line", error.line).member("column", error.column);
  out.end_object();
}

void write_words(PageJson& out, const Session& session) {
  const Board& board = session.board();
  out.member("title", board.title).member("spared", board.realism.spared).member("spread", board.realism.spread).member("time", session.time()).member("atRest", session.at_rest());
  out.key("revision").object().member("board", session.board_revision()).member("readings", session.readings_revision());
  out.end_object().key("breadboards").array();
  for (const Breadboard& one : board.breadboards)
    write_breadboard(out, one);
  out.end_array();
  out.member("hidden", has_hidden(board));
  out.key("hunt").array();
  for (const HuntEntry& one : board.hunt) out.object().member("what", key(one.kind)).member("text", one.text).end_object();
  out.end_array();
  write_step(out, "undo", session.journal().next_undo(), board);
  write_step(out, "redo", session.journal().next_redo(), board);
  out.key("parts").array();
  for (int i = 0; i < static_cast<int>(board.parts.size()); ++i) write_part(out, session, i);
  out.end_array();
  write_nets(out, session.wiring());
  if (session.readings().error) write_error(out.key("problem"), *session.readings().error);
}

void write_joined(PageJson& out, const Session& session, Hole hole) {
  const Board& board = session.board();
  const Wiring& wiring = session.wiring();
  out.member("hole", board.name_of(hole)).key("clip").array();
  for (const Hole other : board.clip_of(hole)) out.value(board.name_of(other));
  out.end_array();
  if (const Part* over = board.find(board.body_over(hole))) out.member("under", over->name);
  out.key("strips").array();
  const std::span<const StripIndex> strips = wiring.strips_of_net[net_of(board, wiring, hole)];
  for (const StripIndex strip : strips) {
    const std::vector<Hole> holes = holes_of(board, wiring, strip);
    if (holes.empty()) continue;
    out.array();
    for (const Hole other : holes) out.value(board.name_of(other));
    out.end_array();
  }
  out.end_array().key("leads").array();
  for (const StripIndex strip : strips)
    for (const LeadRef& at : wiring.leads_on_strip[strip]) {
      const Part& part = board.parts[at.part];
      out.object().member("part", part.name).member("lead", part.kind->leads[at.lead].name);
      out.member("hole", board.name_of(part.leads[at.lead])).end_object();
    }
  const double voltage = voltage_at(board, wiring, session.readings(), hole);
  out.end_array().member("voltage", voltage);
  quantity(out, "voltageText", voltage, "V");
}

void write_readings(PageJson& out, const Session& session) {
  out.member("time", session.time()).key("parts").object();
  for (size_t i = 0; i < session.board().parts.size(); ++i) {
    out.key(session.board().parts[i].name);
    write_reading(out, session.readings().parts[i]);
  }
  out.end_object();
}

void write_found(PageJson& out, std::span<const Part> parts) {
  out.key("found").array();
  for (const Part& part : parts) {
    const Part standard = make_part(*part.kind);
    out.object().member("kind", part.kind->key).key("values").object();
    for (size_t i = 0; i < part.values.size(); ++i) {
      const ValueSpec& spec = part.kind->values[i];
      if (part.values[i] == standard.values[i]) continue;
      out.member(spec.key, spec.options.empty() ? written(part.values[i], spec.unit) : std::string(spec.options[size_t(part.values[i])]));
    }
    out.end_object().end_object();
  }
  out.end_array();
}

void write_catalogue(PageJson& out, const Catalogue& catalogue) {
  out.key("kinds").array();
  for (const PartKind* kind : catalogue.kinds) {
    const PartType& type = static_cast<const PartType&>(*kind);
    out.object().member("key", type.key).member("prefix", type.prefix).member("group", type.group);
    out.member("seat", word(type.footprint.seat)).member("wire", type.conductor);
    out.member("reachMin", type.footprint.reach_min).member("reachMax", type.footprint.reach_max);
    out.key("leads").array();
    for (const LeadSpec& lead : type.leads) out.object().member("name", lead.name).member("dx", lead.dx).member("dy", lead.dy).end_object();
    out.end_array().key("values").array();
    for (const ValueSpec& spec : type.values) write_value(out, spec, spec.standard);
    out.end_array().end_object();
  }
  out.end_array();
}

}  // namespace tiepoint
