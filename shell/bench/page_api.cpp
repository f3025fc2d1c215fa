#include "shell/bench/page_api.h"

#include <rapidjson/document.h>
#include <rapidjson/error/en.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "engine/explain/hunt.h"
#include "engine/file/json.h"
#include "engine/file/scope_csv.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/bench/bench.h"
#include "shell/bench/boards.h"
#include "shell/bench/draw_scope.h"
#include "shell/bench/pose.h"
#include "shell/bench/page_box.h"
#include "shell/bench/page_findings.h"
#include "shell/bench/page_hunt.h"
#include "shell/bench/page_json.h"
#include "shell/bench/page_lesson.h"
#include "shell/bench/page_request.h"
#include "shell/bench/page_scope.h"
#include "shell/bench/page_size.h"
#include "shell/bench/page_truth.h"
#include "shell/bench/page_view.h"
#include "shell/bench/page_words.h"
#include "shell/bench/several.h"
#include "shell/bench/shortcuts.h"
#include "shell/bench/tool.h"

namespace tiepoint {
namespace {

using namespace page;

// A request holds at most one board file, as escaped text.
constexpr size_t kLongestRequest = 4 * kLargestFile;
constexpr int kDeepest = 64;  // nested objects and arrays of a request

struct Request {
  Bench& bench;
  const Json& json;
  PageJson& out;

  const Session& session() const { return bench.session(); }
  const Board& board() const { return bench.session().board(); }
};

// Deeper nesting than any request has would only exhaust the stack of whoever walks it.
bool too_deep(std::string_view json) {
  int depth = 0;
  bool in_text = false;
  for (size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_text) {
      if (c == '\\') ++i;
      if (c == '"') in_text = false;
    } else if (c == '"') {
      in_text = true;
    } else if (c == '{' || c == '[') {
      if (++depth > kDeepest) return true;
    } else if (c == '}' || c == ']') {
      --depth;
    }
  }
  return false;
}

Result<const Part*> part_of(const Request& request) {
  const Result<std::string> name = text_of(request.json, "part");
  if (!name) return name.error();
  const Part* part = request.board().find(*name);
  if (!part) return Error{.code = Code::kUnknownPart, .part = *name};
  return part;
}

constexpr double kBetween = 1.5;  // hole steps between two bodies on the mat

// A free place on the mat for a body: above the boards, to the right of what stands there already.
MatPoint free_place(const Board& board, const Part& part) {
  const ImVec2 half = mat_half(part);
  double top = board_plate(board.breadboards.front()).min.y, right = board_plate(board.breadboards.front()).min.x;
  for (const Breadboard& breadboard : board.breadboards) {
    top = std::min(top, board_plate(breadboard).min.y);
    right = std::min(right, board_plate(breadboard).min.x);
  }
  for (const Part& other : board.parts)
    if (other.kind->footprint.seat == Seat::kMat) right = std::max(right, other.mat.x + double(mat_half(other).x) + kBetween);
  return {right + double(half.x) + 0.5, top - 0.5 - double(half.y)};
}

Status done_with(Request& request, const Result<Applied>& applied) {
  if (!applied) return applied.error();
  request.out.member("part", applied->part);
  return done();
}

// --- the commands ---

Status do_edit(Request& request) {
  const Json* edit = find(request.json, "edit");
  if (!edit) return missing("edit");
  if (!edit->IsObject()) return wrong_type("edit", "an object");
  const Result<Edit> read = read_edit(text_of_json(*edit), request.board(), catalogue());
  if (!read) return read.error();
  return done_with(request, request.bench.act(*read));
}

Result<Part> read_part(const Request& request) {
  const Result<std::string> key = text_of(request.json, "kind");
  if (!key) return key.error();
  const PartKind* kind = catalogue().find(*key);
  if (!kind) return Error{.code = Code::kUnknownKind, .found = *key};
  Part part = make_part(*kind);
  const std::string name = request.board().free_name(kind->prefix);
  Result<std::vector<Hole>> holes = read_holes(request.json, request.board(), *kind, name);
  if (!holes) return holes.error();
  part.leads = std::move(holes).value();
  if (find(request.json, "turn")) {
    const Result<double> turn = number_of(request.json, "turn");
    if (!turn) return turn.error();
    part.turn = int(std::fmod(*turn, 4));
  }
  if (const Status status = read_values(request.json, name, part); !status) return status.error();
  if (kind->footprint.seat == Seat::kMat) part.mat = free_place(request.board(), part);
  return part;
}

Status do_place(Request& request) {
  Result<Part> part = read_part(request);
  if (!part) return part.error();
  return done_with(request, request.bench.act({PlacePart{std::move(part).value()}}));
}

constexpr int kLongestMove = 200;  // [holes]

Status do_move(Request& request) {
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  if (const Json* by = find(request.json, "by")) {
    const auto is_step = [](const Json& one) { return one.IsInt() && std::abs(one.GetInt()) <= kLongestMove; };
    if (!by->IsArray() || by->Size() != 2 || !is_step((*by)[0]) || !is_step((*by)[1])) return wrong_type("by", "two whole numbers of holes");
    const Result<Edit> edit = nudge_parts(request.board(), std::vector<std::string>{(*part)->name}, (*by)[0].GetInt(), (*by)[1].GetInt());
    return edit ? done_with(request, request.bench.act(*edit)) : Status(edit.error());
  }
  Result<std::vector<Hole>> holes = read_holes(request.json, request.board(), *(*part)->kind, (*part)->name);
  if (!holes) return holes.error();
  int turn = (*part)->turn;
  if (find(request.json, "turn")) {
    const Result<double> given = number_of(request.json, "turn");
    if (!given) return given.error();
    turn = int(std::fmod(*given, 4));
  }
  return done_with(request, request.bench.act({MovePart{(*part)->name, std::move(holes).value(), turn, (*part)->mat}}));
}

Status do_set(Request& request) {
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  const Result<std::string> key = text_of(request.json, "key");
  if (!key) return key.error();
  const PartKind& kind = *(*part)->kind;
  const int index = value_index(kind, *key);
  if (index < 0) return unknown_value(kind, (*part)->name, *key);
  const Json* text = find(request.json, "text");
  const Json* given = text ? text : find(request.json, "number");
  if (!given) return missing("text");
  Result<double> value = read_value(kind.values[size_t(index)], *given);
  if (!value) {
    Error error = value.error();
    error.part = (*part)->name;
    return error;
  }
  return done_with(request, request.bench.act({SetValue{(*part)->name, *key, *value}}));
}

Status do_press(Request& request) {
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  const Result<bool> down = truth_of(request.json, "down", true);
  if (!down) return down.error();
  return done_with(request, request.bench.act({PressPart{(*part)->name, *down}}));
}

Status do_undo(Request& request) {
  if (!request.bench.undo()) return Error{.code = request.bench.read_only() ? Code::kReadOnly : Code::kNothingToUndo};
  return done();
}

Status do_redo(Request& request) {
  if (!request.bench.redo()) return Error{.code = request.bench.read_only() ? Code::kReadOnly : Code::kNothingToRedo};
  return done();
}

Result<LayoutKind> layout_in(const Json& request) {
  const Result<std::string> name = text_of(request, "layout");
  if (!name) return name.error();
  const Layout* found = find_layout(*name);
  if (!found) return Error{.code = Code::kBadValue, .found = "\"" + *name + "\"", .expected = "one of 830, 400, 170", .pointer = "/layout"};
  return found->kind;
}

Status do_new(Request& request) {
  if (request.bench.read_only()) return Error{.code = Code::kReadOnly};
  Board board;
  if (find(request.json, "layout")) {
    const Result<LayoutKind> layout = layout_in(request.json);
    if (!layout) return layout.error();
    board.breadboards[0].layout = *layout;
  }
  const Result<bool> split = truth_of(request.json, "splitRails", false);
  if (!split) return split.error();
  board.breadboards[0].split_rails = *split;
  request.bench.load(std::move(board));
  return done();
}

// One more breadboard beside those on the mat, or the last one away.
Status do_breadboard(Request& request) {
  const Result<bool> away = truth_of(request.json, "away", false);
  if (!away) return away.error();
  const Result<bool> split = truth_of(request.json, "splitRails", false);
  if (!split) return split.error();
  const Result<LayoutKind> layout = *away ? Result<LayoutKind>(LayoutKind::k400) : layout_in(request.json);
  if (!layout) return layout.error();
  const Result<Edit> edit = *away ? drop_breadboard(request.board()) : add_breadboard(request.board(), *layout, *split);
  if (!edit) return edit.error();
  const Result<Applied> done = request.bench.act(*edit);
  if (done) request.bench.zoom_fit();
  return done_with(request, done);
}

Status do_load(Request& request) {
  if (request.bench.read_only()) return Error{.code = Code::kReadOnly};
  const Json* object = find(request.json, "board");
  const Json* text = find(request.json, "text");
  if (!object && !text) return missing("text");
  if (!object && !text->IsString()) return wrong_type("text", "a text");
  Result<Board> board = read_board(object ? text_of_json(*object) : std::string(view(*text)), catalogue());
  if (!board) return board.error();
  const Result<bool> own = truth_of(request.json, "own", false);
  if (!own) return own.error();
  request.bench.load(std::move(board).value());
  if (*own) request.bench.desk().remember_kinds();
  return done();
}

Status do_board(Request& request) {
  request.out.member("text", write_board(request.board()));
  return done();
}

Status do_words(Request& request) {
  write_words(request.out, request.session());
  request.out.member("selected", request.bench.selected()).member("searching", request.bench.desk().search.open).member("hill", request.bench.view().hill);
  request.out.key("selection").array();
  for (const std::string& name : request.bench.selection()) request.out.value(name);
  request.out.end_array();
  const Desk& desk = request.bench.desk();
  if (desk.cursor_shown && desk.board().has(desk.cursor)) request.out.member("cursor", desk.board().name_of(desk.cursor));
  request.out.key("message").object().member("number", desk.message.number).member("text", sentence(text(desk.message))).end_object();
  return done();
}

Status do_readings(Request& request) {
  write_readings(request.out, request.session());
  return done();
}

Status do_catalogue(Request& request) {
  write_catalogue(request.out, catalogue());
  return done();
}

Result<Hole> hole_of(const Request& request) {
  const Result<std::string> name = text_of(request.json, "hole");
  if (!name) return name.error();
  return request.board().hole(trimmed(*name));
}

Status do_joined(Request& request) {
  const Result<Hole> hole = hole_of(request);
  if (!hole) return hole.error();
  write_joined(request.out, request.session(), *hole);
  return done();
}

Status do_find(Request& request) { return find_command(request.bench, request.json, request.out); }
Status do_take(Request& request) { return take_command(request.bench, request.json); }

Status do_hill(Request& request) { return hill_command(request.bench, request.json, request.out); }

Status do_select(Request& request) {
  const Result<bool> all = truth_of(request.json, "all", false), toggle = truth_of(request.json, "toggle", false);
  if (!all) return all.error();
  if (!toggle) return toggle.error();
  std::vector<std::string> names;
  if (*all) {
    for (const Part& part : request.board().parts) names.push_back(part.name);
  } else if (const Json* list = find(request.json, "parts")) {
    if (!list->IsArray()) return wrong_type("parts", "a list of names");
    for (const Json& one : list->GetArray()) {
      if (!one.IsString()) return wrong_type("parts", "a list of names");
      if (std::find(names.begin(), names.end(), view(one)) == names.end()) names.emplace_back(view(one));
    }
  } else {
    const Result<std::string> name = text_of(request.json, "part");
    if (!name) return name.error();
    if (!name->empty()) names.push_back(*name);
  }
  for (const std::string& name : names)
    if (!request.board().find(name)) return Error{.code = Code::kUnknownPart, .part = name};
  if (*toggle && names.size() == 1)
    request.bench.toggle(names.front());
  else
    request.bench.select_these(std::move(names));
  return done();
}

void write_names(Request& request, std::span<const std::string> names) {
  request.out.key("parts").array();
  for (const std::string& name : names) request.out.value(name);
  request.out.end_array();
}

Status do_copy(Request& request) {
  request.out.member("text", request.bench.copy());
  return done();
}

Status do_duplicate(Request& request) {
  const Result<std::vector<std::string>> names = request.bench.duplicate();
  if (!names) return names.error();
  write_names(request, *names);
  return done();
}

Status do_paste(Request& request) {
  const Result<std::string> text = text_of(request.json, "text");
  if (!text) return text.error();
  const Result<std::vector<std::string>> names = request.bench.paste(*text);
  if (!names) return names.error();
  write_names(request, *names);
  return done();
}

Status do_turn(Request& request) {
  const Result<double> quarters = find(request.json, "quarters") ? number_of(request.json, "quarters") : Result<double>(1);
  if (!quarters) return quarters.error();
  const Result<Edit> edit = turn_parts(request.board(), request.bench.selection(), int(std::fmod(*quarters, 4)));
  if (!edit) return edit.error();
  return done_with(request, request.bench.act(*edit));
}

Status do_remove(Request& request) {
  if (request.bench.read_only()) return Error{.code = Code::kReadOnly};
  const std::vector<std::string> names = request.bench.selection();
  request.bench.remove_selected();
  write_names(request, names);
  return done();
}

void write_chord(PageJson& out, const Chord& chord) {
  out.array();
  if (chord.modifiers & kWithCommand) out.value("command");
  if (chord.modifiers & kWithAlt) out.value("alt");
  if (chord.modifiers & kWithShift) out.value("shift");
  out.value(chord.name).end_array();
}

Status do_shortcuts(Request& request) {
  request.out.key("shortcuts").array();
  for (const Shortcut& row : shortcuts()) {
    request.out.object().member("group", row.group).member("id", row.id).member("page", row.reach == Reach::kPage);
    request.out.key("chords").array();
    for (const Chord& chord : row.chords) write_chord(request.out, chord);
    request.out.end_array().end_object();
  }
  request.out.end_array();
  return done();
}

Status do_view(Request& request) { return view_command(request.bench, request.json, request.out); }
Status do_step(Request& request) { return step_command(request.bench, request.json, request.out); }

Status do_sounds(Request& request) {
  write_sounds(request.out, request.session(), request.bench.view().time_scale);
  return done();
}

Status do_truth(Request& request) {
  write_truth(request.out, request.board());
  return done();
}

// The id under which the bench records the thing that is asked for.
Result<std::string> widget_of(const Request& request) {
  if (find(request.json, "widget")) return text_of(request.json, "widget");
  if (find(request.json, "box")) {
    const Result<std::string> key = text_of(request.json, "box");
    if (!key) return key.error();
    if (!catalogue().find(*key)) return Error{.code = Code::kUnknownKind, .found = *key};
    return "box." + *key;
  }
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  if (!find(request.json, "lead")) return "part." + (*part)->name;
  const Result<std::string> name = text_of(request.json, "lead");
  if (!name) return name.error();
  if (lead_index(*(*part)->kind, *name) >= 0) return "lead." + (*part)->name + "." + *name;
  std::string expected;
  for (const LeadSpec& spec : (*part)->kind->leads) expected += (expected.empty() ? "" : ", ") + std::string(spec.name);
  return Error{.code = Code::kUnknownLead, .part = (*part)->name, .found = *name, .expected = std::move(expected)};
}

Status point_of_hole(Request& request) {
  const Result<Hole> hole = hole_of(request);
  if (!hole) return hole.error();
  const std::optional<ImVec2> at = request.bench.screen_of(request.board().name_of(*hole));
  request.out.member("found", at.has_value());
  if (at) request.out.member("x", double(at->x)).member("y", double(at->y)).member("w", 0.0).member("h", 0.0);
  return done();
}

Status do_point(Request& request) {
  if (find(request.json, "hole")) return point_of_hole(request);
  const Result<std::string> id = widget_of(request);
  if (!id) return id.error();
  for (const Widget& widget : request.bench.widgets()) {
    if (widget.id != *id) continue;
    request.out.member("found", true).member("x", double(widget.x + widget.w / 2)).member("y", double(widget.y + widget.h / 2));
    request.out.member("w", double(widget.w)).member("h", double(widget.h));
    return done();
  }
  request.out.member("found", false);
  return done();
}

Status do_vector(Request& request) {
  request.out.member("svg", request.bench.vector_picture());
  return done();
}

Status do_findings(Request& request) {
  write_findings(request.out, request.session());
  return done();
}

Status do_signs(Request& request) { return set_signs(request.json, request.bench); }

Status do_faults(Request& request) { return write_faults(request.out, request.board()), done(); }
Status do_hide(Request& request) { return hide_command(request.bench, request.json); }

Status do_reveal(Request& request) {
  if (!has_hidden(request.board())) return done();
  return done_with(request, request.bench.act(Edit{Batch{reveal_defects(request.board())}}));
}

Status do_why(Request& request) {
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  const Result<bool> show = truth_of(request.json, "show", false);
  if (!show) return show.error();
  Signs way = write_why(request.out, request.session(), **part);
  if (*show) request.bench.point_at(std::move(way));
  return done();
}

// What a scope has on its screen; or one of: arm it for a single picture, fit it to its signals, tell it as a table.
Status do_scope(Request& request) {
  const Result<const Part*> part = part_of(request);
  if (!part) return part.error();
  const Scope* scope = request.session().scope((*part)->id);
  if (!scope) return Error{.code = Code::kUnknownPart, .part = (*part)->name};
  bool arm = false, fit = false, table = false;
  if (const Status s = take_option(request.json, "arm", arm); !s) return s.error();
  if (const Status s = take_option(request.json, "fit", fit); !s) return s.error();
  if (const Status s = take_option(request.json, "csv", table); !s) return s.error();
  if (arm) request.bench.session().arm((*part)->id);
  if (fit) {
    const std::optional<Edit> edit = fit_scope(**part, *scope);
    request.out.member("fitted", edit.has_value());
    return edit ? done_with(request, request.bench.act(*edit)) : done();
  }
  if (table) {
    request.out.member("text", scope_csv(*scope));
    return done();
  }
  double columns = 300;
  if (find(request.json, "columns")) {
    const Result<double> given = number_of(request.json, "columns");
    if (!given) return given.error();
    if (*given < 1 || *given > 4000) return Error{.code = Code::kBadValue, .found = decimal(*given), .expected = "1 to 4000", .pointer = "/columns"};
    columns = *given;
  }
  write_scope(request.out, *scope, int(columns));
  return done();
}

Status do_size(Request& request) { return size_command(request.json, request.out); }
Status do_lesson(Request& request) { return lesson_command(request.bench, request.json, request.out); }

struct Command {
  std::string_view name;
  Status (*act)(Request&);
};
constexpr std::array kCommands = {
    Command{"edit", do_edit},     Command{"place", do_place},   Command{"move", do_move},         Command{"set", do_set},
    Command{"press", do_press},   Command{"undo", do_undo},     Command{"redo", do_redo},         Command{"new", do_new},
    Command{"load", do_load},     Command{"board", do_board},   Command{"words", do_words},       Command{"readings", do_readings},
    Command{"catalogue", do_catalogue}, Command{"joined", do_joined}, Command{"select", do_select}, Command{"view", do_view}, Command{"step", do_step},
    Command{"point", do_point},   Command{"truth", do_truth},         Command{"findings", do_findings},
    Command{"signs", do_signs},   Command{"hide", do_hide}, Command{"faults", do_faults},     Command{"reveal", do_reveal},
    Command{"why", do_why},       Command{"scope", do_scope},       Command{"sounds", do_sounds},
    Command{"copy", do_copy},     Command{"paste", do_paste},       Command{"duplicate", do_duplicate},
    Command{"lesson", do_lesson}, Command{"size", do_size},     Command{"vector", do_vector}, Command{"breadboard", do_breadboard},
    Command{"find", do_find},     Command{"take", do_take},     Command{"hill", do_hill},
    Command{"turn", do_turn},     Command{"remove", do_remove}, Command{"shortcuts", do_shortcuts},
};

Status act(Request& request) {
  const Result<std::string> name = text_of(request.json, "do");
  if (!name) return name.error();
  for (const Command& command : kCommands)
    if (command.name == *name) return command.act(request);
  std::string expected;
  for (const Command& command : kCommands) expected += (expected.empty() ? "" : ", ") + std::string(command.name);
  return Error{.code = Code::kBadValue, .found = "\"" + name->substr(0, 60) + "\"", .expected = "one of " + expected, .pointer = "/do"};
}

std::string refusal(const Error& error) {
  PageJson out;
  out.object().member("ok", false).key("error");
  write_error(out, error);
  out.end_object();
  return out.text();
}

}  // namespace

std::string answer_to(std::string_view json, const std::function<Status(const rapidjson::Value&, PageJson&)>& answer) {
  if (json.size() > kLongestRequest)
    return refusal({.code = Code::kTooLarge, .found = std::to_string(json.size() >> 20) + " MB", .expected = std::to_string(kLargestFile >> 20) + " MB"});
  if (too_deep(json)) return refusal({.code = Code::kBadJson, .found = "nested too deeply"});
  rapidjson::Document document;
  // The flags of engine/file/json_node.cpp: the module then carries one parser.
  document.Parse<rapidjson::kParseIterativeFlag | rapidjson::kParseFullPrecisionFlag | rapidjson::kParseValidateEncodingFlag>(json.data(), json.size());
  if (document.HasParseError())
    return refusal({.code = Code::kBadJson, .found = std::string(rapidjson::GetParseError_En(document.GetParseError()))});
  if (!document.IsObject()) return refusal({.code = Code::kWrongType, .found = "something else", .expected = "an object"});
  PageJson out;
  out.object().member("ok", true);
  if (const Status status = answer(document, out); !status) return refusal(status.error());
  out.end_object();
  return out.text();
}

std::string call(Bench& bench, std::string_view json) {
  return answer_to(json, [&](const rapidjson::Value& asked, PageJson& out) {
    Request request{bench, asked, out};
    return act(request);
  });
}

}  // namespace tiepoint
