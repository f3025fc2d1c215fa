// tiepoint solve: a board file or a circuit file, settled or after a stretch of time.
#include <algorithm>
#include <cmath>
#include <cstdio>

#include "engine/file/circuit_file.h"
#include "engine/file/json.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint solve FILE [--set NAME=POSITION[@TIME]]... [--for TIME] [--no-bounce] [--json]\n"
    "\n"
    "FILE is a board (*.board.json) or a circuit (*.circuit.json); - reads standard input.\n"
    "  --set S1=down      hold a button (down, up), put a switch (its position or option), a supply (on, off);\n"
    "        R1.resistance=470 sets a value. With @TIME it happens at that time of --for: --set S1=up@1.5s\n"
    "  --for 0.5s         let that much time pass, everything empty at the start; without it: the settled state\n"
    "  --no-bounce        contacts make and break once, as no real one does\n"
    "  --json             one JSON object, SI units, null where there is no reading\n";

struct Request {
  std::string file;
  std::vector<std::string> settings;
  double duration = -1;  // [s], < 0: settled
  bool json = false;
  bool bounce = true;
};

Result<Request> read_request(const Arguments& arguments) {
  Request request;
  for (size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    const bool takes_value = word == "--set" || word == "--for";
    if (takes_value && i + 1 >= arguments.size())
      return Error{.code = Code::kUsage, .found = word + " stands alone", .expected = "a value after it"};
    if (word == "--json") {
      request.json = true;
    } else if (word == "--no-bounce") {
      request.bounce = false;
    } else if (word == "--set") {
      request.settings.push_back(arguments[++i]);
    } else if (word == "--for") {
      const Result<double> duration = read_quantity(arguments[++i], "s");
      if (!duration) return duration.error();
      request.duration = *duration;
    } else if (word.size() > 1 && word[0] == '-') {
      return Error{.code = Code::kUsage, .found = "unknown option " + word, .expected = "--set, --for, --no-bounce or --json"};
    } else if (request.file.empty()) {
      request.file = word;
    } else {
      return Error{.code = Code::kUsage, .found = "a second file " + word, .expected = "one file"};
    }
  }
  if (request.file.empty()) return Error{.code = Code::kUsage, .found = "no file", .expected = "a board or circuit file"};
  return request;
}

void write_statistics(JsonOut& out, const SolverStatistics& s, const std::optional<Error>& error) {
  out.key("solver");
  out.begin_object();
  out.member("converged", !error);
  out.member("method", s.method);
  out.member("iterations", s.iterations);
  out.member("residual", error ? kNoReading : s.residual);
  out.member("power_imbalance", error ? kNoReading : s.power_imbalance);
  out.member("islands", s.islands);
  out.member("unknowns", s.unknowns);
  out.member("steps", s.steps);
  out.member("rejected_steps", s.rejected_steps);
  if (error) {
    out.member("error", text(*error));
    out.member("code", key(error->code));
    if (!error->part.empty()) out.member("part", error->part);
    if (!error->found.empty()) out.member("at", error->found);
  }
  out.end_object();
}

void write_part(JsonOut& out, const Board& board, const Part& part, const PartReading& reading) {
  out.key(part.name);
  out.begin_object();
  out.member("kind", part.kind->key);
  out.member("state", key(reading.state));
  out.member("voltage", reading.voltage);
  out.member("current", reading.current);
  out.member("power", reading.power);
  if (has_reading(reading.temperature)) out.member("temperature", reading.temperature);
  if (reading.worn > 0) out.member("worn", reading.worn);
  if (part.defect && !part.defect.hidden) {
    out.member("defect", key(part.defect.kind));
    if (part.defect.unit) out.member("bore", part.defect.bore), out.member("rating", part.defect.rating), out.member("over_for", part.defect.seconds);
  }
  if (part.kind->prefix == "LED") out.member("brightness", reading.brightness);
  if (has_reading(reading.charge)) out.member("charge", reading.charge), out.member("run_time", reading.run_time);
  out.key("leads");
  out.begin_object();
  for (size_t lead = 0; lead < part.leads.size(); ++lead) {
    out.key(part.kind->leads[lead].name);
    out.begin_object();
    out.key("hole");
    part.leads[lead].valid() ? out.value(board.name_of(part.leads[lead])) : out.value(kNoReading);
    out.member("voltage", reading.lead_voltage[lead]);
    out.member("current", reading.lead_current[lead]);
    out.end_object();
  }
  out.end_object();
  out.end_object();
}

// Nets that a lead touches; strips nobody uses are not listed.
std::vector<NetIndex> used_nets(const Wiring& wiring) {
  std::vector<NetIndex> nets;
  for (NetIndex net = 0; net < wiring.net_count; ++net) {
    const auto strips = wiring.strips_of_net[net];
    const bool used = std::any_of(strips.begin(), strips.end(), [&](StripIndex s) { return !wiring.leads_on_strip[s].empty(); });
    if (used) nets.push_back(net);
  }
  return nets;
}

void write_holes(JsonOut& out, const Board& board, const Wiring& wiring, std::span<const StripIndex> strips) {
  out.key("holes");
  out.begin_array();
  for (const StripIndex strip : strips)
    for (const Hole hole : holes_of(board, wiring, strip)) out.value(board.name_of(hole));
  out.end_array();
}

void write_net(JsonOut& out, const Session& session, NetIndex net) {
  const Wiring& wiring = session.wiring();
  const Readings& readings = session.readings();
  const auto strips = wiring.strips_of_net[net];
  out.begin_object();
  write_holes(out, session.board(), wiring, strips);
  out.member("voltage", readings.net_voltage[net]);
  out.member("spread", readings.net_spread[net]);
  out.member("island", readings.strip_island[strips.front()]);
  if (strips.size() > 1) {
    out.key("strips");
    out.begin_array();
    for (const StripIndex& strip : strips) {
      out.begin_object();
      write_holes(out, session.board(), wiring, {&strip, 1});
      out.member("voltage", readings.strip_voltage[strip]);
      out.end_object();
    }
    out.end_array();
  }
  out.end_object();
}

void print_board_json(const Request& request, const Session& session) {
  const Readings& readings = session.readings();
  JsonOut out;
  out.begin_object();
  out.member("file", request.file);
  out.member("title", session.board().title);
  out.key("time");
  request.duration < 0 ? out.value(kNoReading) : out.value(session.time());
  out.key("parts");
  out.begin_object();
  for (size_t i = 0; i < session.board().parts.size(); ++i)
    write_part(out, session.board(), session.board().parts[i], readings.parts[i]);
  out.end_object();
  out.key("nets");
  out.begin_array();
  for (const NetIndex net : used_nets(session.wiring())) write_net(out, session, net);
  out.end_array();
  out.key("probes");
  out.begin_object();
  out.end_object();
  write_statistics(out, readings.statistics, readings.error);
  out.end_object();
  std::puts(out.text().c_str());
}

std::string net_words(const Session& session, NetIndex net) {
  std::string words;
  for (const StripIndex strip : session.wiring().strips_of_net[net]) {
    if (session.wiring().leads_on_strip[strip].empty()) continue;
    words += (words.empty() ? "" : " ") + place_name(session.board(), session.wiring(), strip);
  }
  return words;
}

void print_board_text(const Session& session) {
  const Readings& readings = session.readings();
  std::printf("%-8s %-22s %-14s %12s %12s %12s\n", "part", "kind", "state", "voltage", "current", "power");
  for (size_t i = 0; i < session.board().parts.size(); ++i) {
    const Part& part = session.board().parts[i];
    const PartReading& r = readings.parts[i];
    std::printf("%-8s %-22s %-14s %12s %12s %12s\n", part.name.c_str(), std::string(part.kind->key).c_str(),
                std::string(key(r.state)).c_str(), engineering(r.voltage, "V").c_str(), engineering(r.current, "A").c_str(),
                engineering(r.power, "W").c_str());
  }
  std::printf("\n%12s  %s\n", "voltage", "joined places");
  for (const NetIndex net : used_nets(session.wiring()))
    std::printf("%12s  %s\n", engineering(readings.net_voltage[net], "V", 4).c_str(), net_words(session, net).c_str());
}

// Runs the board: settings without a time first, then time passes from setting to setting.
Status run_board(Session& session, const Request& request) {
  std::vector<Setting> timed;
  for (const std::string& word : request.settings) {
    Result<Setting> setting = read_setting(word, session.board());
    if (!setting) return setting.error();
    if (setting->timed) {
      if (request.duration < 0)
        return Error{.code = Code::kUsage, .found = word + " has a time", .expected = "--for with it"};
      timed.push_back(std::move(setting).value());
    } else if (Result<Applied> applied = session.apply(setting->edit); !applied) {
      return applied.error();
    }
  }
  if (request.duration < 0) {
    session.settle();
    return done();
  }
  session.start_empty();
  std::stable_sort(timed.begin(), timed.end(), [](const Setting& a, const Setting& b) { return a.time < b.time; });
  constexpr long kNoBudget = 1L << 30;
  for (const Setting& setting : timed) {
    if (setting.time > request.duration) break;
    session.advance(setting.time - session.time(), kNoBudget);
    if (session.readings().error) return done();
    if (Result<Applied> applied = session.apply(setting.edit); !applied) return applied.error();
  }
  session.advance(request.duration - session.time(), kNoBudget);
  return done();
}

int solve_board(const Request& request, Board board) {
  Session session(std::move(board));
  session.set_bounce(request.bounce);
  if (const Status status = run_board(session, request); !status) return fail(request.file, status.error(), request.json);
  request.json ? print_board_json(request, session) : print_board_text(session);
  if (!session.readings().error) return 0;
  std::fprintf(stderr, "tiepoint: %s: %s\n", request.file.c_str(), text(*session.readings().error).c_str());
  return 1;
}

// A circuit file's samples: samples[probe][k] at time[k].
struct Samples {
  std::vector<double> time;
  std::vector<std::vector<double>> values;
};

void take_sample(Samples& samples, const CircuitFile& file, const Solution& solution) {
  samples.time.push_back(solution.time);
  for (size_t i = 0; i < file.probes.size(); ++i)
    samples.values[i].push_back(value_of(file.probes[i], file.circuit, solution));
}

void print_circuit_json(const Request& request, const CircuitFile& file, const Solution& solution, const Samples& samples) {
  const bool over_time = samples.time.size() > 1;
  JsonOut out;
  out.begin_object();
  out.member("file", request.file);
  out.member("title", file.title);
  if (over_time) {
    out.key("time");
    out.begin_array();
    for (const double t : samples.time) out.value(t);
    out.end_array();
  }
  out.key("probes");
  out.begin_object();
  for (size_t i = 0; i < file.probes.size(); ++i) {
    out.key(file.probes[i].name);
    if (!over_time) {
      out.value(samples.values[i].empty() ? kNoReading : samples.values[i].back());
      continue;
    }
    out.begin_array();
    for (const double v : samples.values[i]) out.value(v);
    out.end_array();
  }
  out.end_object();
  out.key("parts");
  out.begin_object();
  for (size_t e = 0; e < file.circuit.elements.size(); ++e) {
    const int index = static_cast<int>(e);
    out.key(file.circuit.element_name[e]);
    out.begin_object();
    Probe probe{.of = Probe::Of::kElementCurrent, .element = index};
    out.member("current", value_of(probe, file.circuit, solution));
    const std::span<const NodeIndex> nodes = file.circuit.nodes(file.circuit.elements[e]);
    out.member("voltage", solution.node_voltage[nodes[0]] - solution.node_voltage[nodes[1]]);
    probe.of = Probe::Of::kElementPower;
    out.member("power", value_of(probe, file.circuit, solution));
    out.end_object();
  }
  out.end_object();
  out.key("nets");
  out.begin_array();
  for (NodeIndex node = 0; node < file.circuit.node_count; ++node) {
    out.begin_object();
    out.member("node", file.circuit.node_name[node]);
    out.key("holes");
    out.begin_array();
    out.end_array();
    out.member("voltage", solution.node_voltage[node]);
    out.end_object();
  }
  out.end_array();
  write_statistics(out, solution.statistics, solution.error);
  out.end_object();
  std::puts(out.text().c_str());
}

std::string_view unit_of(const Probe& probe) {
  return probe.of == Probe::Of::kNodeVoltage ? "V" : probe.of == Probe::Of::kElementCurrent ? "A" : "W";
}

void print_circuit_text(const CircuitFile& file, const Samples& samples) {
  if (samples.time.size() <= 1) {
    for (size_t i = 0; i < file.probes.size(); ++i)
      std::printf("%-24s %s\n", file.probes[i].name.c_str(),
                  engineering(samples.values[i].empty() ? kNoReading : samples.values[i].back(), unit_of(file.probes[i]), 6).c_str());
    return;
  }
  std::printf("%14s", "time");
  for (const Probe& probe : file.probes) std::printf(" %16s", probe.name.c_str());
  for (size_t k = 0; k < samples.time.size(); ++k) {
    std::printf("\n%14s", engineering(samples.time[k], "s", 6).c_str());
    for (size_t i = 0; i < file.probes.size(); ++i)
      std::printf(" %16s", engineering(samples.values[i][k], unit_of(file.probes[i]), 6).c_str());
  }
  std::putchar('\n');
}

int solve_circuit(const Request& request, const CircuitFile& file) {
  if (!request.settings.empty())
    return fail(request.file, Error{.code = Code::kUsage, .found = "--set with a circuit file", .expected = "a board file"}, request.json);
  const double duration = request.duration >= 0 ? request.duration : file.duration;
  Simulation simulation(file.circuit, file.options);
  file.from_initial_conditions ? simulation.start_from_initial_conditions() : simulation.settle();
  Samples samples;
  samples.values.resize(file.probes.size());
  if (simulation.solution().ok()) take_sample(samples, file, simulation.solution());
  const double spacing = file.sample > 0 ? file.sample : duration / 200;
  const long count = duration > 0 ? std::lround(std::ceil(duration / spacing - 1e-9)) : 0;
  for (long k = 1; k <= count && simulation.solution().ok(); ++k) {
    simulation.advance(std::min(duration, static_cast<double>(k) * spacing), StepBudget{1L << 40});
    if (simulation.solution().ok()) take_sample(samples, file, simulation.solution());
  }
  const Solution& solution = simulation.solution();
  request.json ? print_circuit_json(request, file, solution, samples) : print_circuit_text(file, samples);
  if (solution.ok()) return 0;
  std::fprintf(stderr, "tiepoint: %s: %s\n", request.file.c_str(), text(*solution.error).c_str());
  return 1;
}

}  // namespace

int solve(const Arguments& arguments) {
  for (const std::string& word : arguments) {
    if (word == "--help" || word == "-h") {
      std::fputs(kHelp, stdout);
      return 0;
    }
  }
  const Result<Request> request = read_request(arguments);
  if (!request) return fail("solve", request.error(), false);
  const Result<std::string> content = read_file(request->file);
  if (!content) return fail(request->file, content.error(), request->json);
  Result<Board> board = read_board(*content, catalogue());
  if (board) return solve_board(*request, std::move(board).value());
  if (board.error().code != Code::kWrongFile) return fail(request->file, board.error(), request->json);
  const Result<CircuitFile> circuit = read_circuit(*content);
  if (!circuit) return fail(request->file, circuit.error(), request->json);
  return solve_circuit(*request, *circuit);
}

}  // namespace tiepoint::cli
