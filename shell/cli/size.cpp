// tiepoint size: which resistor belongs in line with a part?
#include <cstdio>

#include "engine/board/words.h"
#include "engine/logic/sizing.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint size --current 10mA [--supply 5V] [--part KIND[,KEY=VALUE]... | --drop 2V] [--series 24] [--json]\n"
    "\n"
    "Which resistor makes this current flow through a part in line with it? The exact value, the nearest of an E series and "
    "its\n"
    "neighbours, each with the current and the power that come of it.\n"
    "  --part led,colour=blue   by the part's own curve (led without it)\n"
    "  --drop 1.6V              a part that keeps this voltage whatever flows\n"
    "Exit status: 0 done, 1 the supply is too low, 2 bad usage.\n";

Result<Part> read_part_words(const std::string& words) {
  const std::string kind_word = words.substr(0, words.find(','));
  const PartKind* kind = catalogue().find(kind_word);
  if (!kind) return Error{.code = Code::kUnknownKind, .found = "'" + kind_word + "'"};
  if (kind->leads.size() != 2) return usage_error("'" + kind_word + "' in line", "a part with two leads");
  Board board;
  Part part = make_part(*kind);
  part.name = "X1";
  board.parts.push_back(part);
  for (size_t at = words.find(','); at != std::string::npos;) {
    const size_t next = words.find(',', at + 1);
    const Result<Setting> setting =
        read_setting("X1." + words.substr(at + 1, next == std::string::npos ? next : next - at - 1), board);
    if (!setting) return setting.error();
    const Result<Applied> applied = apply(board, setting->edit);
    if (!applied) return applied.error();
    at = next;
  }
  return board.parts[0];
}

struct Request {
  SizingRequest sizing;
  std::string part = "led";
  bool has_current = false, has_drop = false, json = false;
};

Result<Request> read_request(const Arguments& arguments) {
  Request request;
  for (size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--json") {
      request.json = true;
      continue;
    }
    if (word != "--supply" && word != "--current" && word != "--drop" && word != "--part" && word != "--series")
      return usage_error("'" + word + "'", "--current, --supply, --part, --drop, --series or --json");
    if (i + 1 >= arguments.size()) return usage_error(word + " stands alone", "a value after it");
    const std::string& value = arguments[++i];
    if (word == "--part") {
      request.part = value;
      continue;
    }
    const Result<double> number = read_quantity(value, word == "--current" ? "A" : word == "--series" ? "" : "V");
    if (!number) return number.error();
    if (word == "--current") request.sizing.current = *number, request.has_current = true;
    if (word == "--supply") request.sizing.supply = *number;
    if (word == "--drop") request.sizing.drop = *number, request.has_drop = true;
    if (word == "--series") request.sizing.series = int(*number);
  }
  if (!request.has_current) return usage_error("no current", "--current and a value, such as 10mA");
  return request;
}

void print_text(const Request& request, const Sizing& sizing) {
  const std::string supply = say_quantity(request.sizing.supply, "V"), drop = say_quantity(sizing.exact.voltage, "V");
  const std::string current = say_quantity(request.sizing.current, "A"), exact = say_quantity(sizing.exact.resistance, "Ω");
  std::puts(say("size.exact", {{"supply", supply}, {"drop", drop}, {"current", current}, {"resistance", exact}}).c_str());
  for (size_t k = 0; k < sizing.members.size(); ++k) {
    const SizedResistor& one = sizing.members[k];
    const std::string value = say_quantity(one.resistance, "Ω"), flows = say_quantity(one.current, "A"),
                      power = say_quantity(one.power, "W");
    std::puts(say(int(k) == sizing.nearest ? "size.nearest" : "size.member",
                  {{"resistance", value}, {"current", flows}, {"power", power}})
                  .c_str());
  }
}

void put(JsonOut& out, const SizedResistor& one) {
  out.begin_object();
  out.member("resistance", one.resistance);
  out.member("current", one.current);
  out.member("voltage", one.voltage);
  out.member("power", one.power);
  out.end_object();
}

void print_json(const Sizing& sizing) {
  JsonOut out;
  out.begin_object();
  out.key("exact");
  put(out, sizing.exact);
  out.member("nearest", sizing.nearest);
  out.key("members");
  out.begin_array();
  for (const SizedResistor& one : sizing.members) put(out, one);
  out.end_array();
  out.end_object();
  std::puts(out.text().c_str());
}

}  // namespace

int size(const Arguments& arguments) {
  for (const std::string& word : arguments) {
    if (word != "--help" && word != "-h") continue;
    std::fputs(kHelp, stdout);
    return 0;
  }
  Result<Request> request = read_request(arguments);
  if (!request) return fail("size", request.error(), false);
  const Result<Part> part = read_part_words(request->part);
  if (!part) return fail("size", part.error(), request->json);
  if (!request->has_drop) request.value().sizing.part = &part.value();
  if (e_series(request->sizing.series).empty())
    return fail("size", usage_error("series " + std::to_string(request->sizing.series), "3, 6, 12, 24, 48 or 96"), request->json);
  const Result<Sizing> sizing = size_resistor(request->sizing);
  if (!sizing) {
    (void)fail("size", sizing.error(), request->json);
    return 1;
  }
  request->json ? print_json(*sizing) : print_text(*request, *sizing);
  return 0;
}

}  // namespace tiepoint::cli
