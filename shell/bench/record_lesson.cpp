#include "shell/bench/record_lesson.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "engine/circuit/wiring.h"
#include "engine/file/json.h"
#include "engine/file/json_node.h"
#include "engine/file/lesson_file.h"
#include "engine/lesson/check.h"
#include "engine/lesson/nets.h"
#include "engine/lesson/tester.h"
#include "engine/logic/truth.h"
#include "engine/parts/part_type.h"
#include "shell/words/words.h"

namespace tiepoint {
namespace {

constexpr size_t kMostInputs = 4;   // longer truth tables are no lesson
constexpr double kTolerance = 0.2;  // of a current, either way: the next value of the E12 series still passes

bool is_instrument(const PartKind& kind) {
  const std::string_view group = static_cast<const PartType&>(kind).group;
  return kind.touches || group == "instruments";
}
bool has_role(const Part& part) {
  return static_cast<const PartType&>(*part.kind).body != Body::kWire && !is_instrument(*part.kind);
}

// To two digits: a window that somebody reads and changes.
double rounded(double value) {
  const double unit = std::pow(10, std::floor(std::log10(value)) - 1);
  return std::round(value / unit) * unit;
}

// A check as JSON, with its id so that it can be left out.
struct Draft {
  std::string id, json;
};

class Recorder {
 public:
  explicit Recorder(const Board& board) : board_(board), wiring_(wire_up(board)), tester_(board) {}

  Result<std::string> record() {
    for (size_t i = 0; i < board_.parts.size(); ++i)
      if (has_role(board_.parts[i])) roles_.push_back(int(i));
    if (roles_.size() > size_t(kMostRoles))
      return Error{
          .code = Code::kTooMany, .found = std::to_string(roles_.size()) + " parts", .expected = std::to_string(kMostRoles)};
    ask_outputs();
    if (!any_works_) return Error{.code = Code::kBadValue, .found = "this board", .expected = "one on which something works"};
    ask_shape();
    add("sound", "\"check\":\"no-faults\"", say("lesson.record.sound"));
    return without_what_fails();
  }

 private:
  std::string name(int part) const { return json_text(board_.parts[size_t(part)].name); }

  void add(const std::string& id, const std::string& ask, std::string_view fail) {
    drafts_.push_back({id, "{\"id\":" + json_text(id) + "," + ask + ",\"fail\":" + json_text(fail) + "}"});
  }

  void ask_outputs() {
    const TruthTable table = truth_table(board_);
    const bool two_positions = std::all_of(table.inputs.begin(), table.inputs.end(), [&](const TruthInput& in) {
      return in.positions == 2 && in.name == board_.parts[size_t(in.part)].name;
    });
    const bool tabled = !table.inputs.empty() && table.inputs.size() <= kMostInputs && two_positions && !table.sampled;
    for (size_t out = 0; out < table.outputs.size(); ++out) {
      const TruthOutput& output = table.outputs[out];
      any_works_ = any_works_ || output.periodic;  // its shape and soundness can be asked
      if (output.remembers || output.periodic) continue;
      const auto row =
          std::find_if(table.rows.begin(), table.rows.end(), [&](const TruthRow& r) { return r.seen[out] == Seen::kOn; });
      if (row == table.rows.end()) continue;
      any_works_ = true;
      if (tabled)
        ask_truth(table, out);
      else if (table.inputs.empty())
        add("works-" + output.name, "\"check\":\"state\",\"part\":" + name(output.part) + ",\"is\":\"works\"",
            say("lesson.record.works", {{"part", output.name}}));
      if (tabled || table.inputs.empty()) ask_current(table, *row, output);
    }
  }

  void ask_truth(const TruthTable& table, size_t out) {
    std::string inputs, works;
    for (const TruthInput& input : table.inputs) inputs += (inputs.empty() ? "" : ",") + name(input.part);
    for (const TruthRow& row : table.rows) {
      if (row.seen[out] != Seen::kOn) continue;
      std::string bits;
      for (const int at : row.at) bits += at ? '1' : '0';
      works += (works.empty() ? "\"" : ",\"") + bits + "\"";
    }
    const TruthOutput& output = table.outputs[out];
    add("when-" + output.name,
        "\"check\":\"truth\",\"inputs\":[" + inputs + "],\"output\":" + name(output.part) + ",\"works\":[" + works + "]",
        say("lesson.record.when", {{"part", output.name}}));
  }

  void ask_current(const TruthTable& table, const TruthRow& row, const TruthOutput& output) {
    Arrangement at;
    std::string when;
    for (size_t i = 0; i < table.inputs.size(); ++i) {
      const TruthInput& input = table.inputs[i];
      const ValueSpec& spec = board_.parts[size_t(input.part)].kind->values[size_t(input.value)];
      at.puts.push_back({input.part, input.value, double(row.at[i])});
      const std::string position = input.momentary        ? (row.at[i] ? "down" : "up")
                                   : spec.options.empty() ? ""
                                                          : std::string(spec.options[size_t(row.at[i])]);
      if (position.empty()) return;
      when += (when.empty() ? "" : ",") + name(input.part) + ":" + json_text(position);
    }
    const double current = std::fabs(tester_.readings(at).parts[size_t(output.part)].current);
    if (!(current > 1e-6)) return;
    add("current-" + output.name,
        "\"check\":\"reading\",\"part\":" + name(output.part) + ",\"what\":\"current\",\"magnitude\":true,\"between\":[" +
            json_number(rounded(current * (1 - kTolerance))) + "," + json_number(rounded(current * (1 + kTolerance))) + "]" +
            (when.empty() ? "" : ",\"when\":{" + when + "}"),
        say("lesson.record.current", {{"part", output.name}}));
  }

  // Two-sided parts that stand either way round are told by their two nets, all else lead by lead.
  void ask_shape() {
    const Nets nets(board_, wiring_);
    std::string all;
    for (const int role : roles_) {
      const Part& part = board_.parts[size_t(role)];
      if (!std::all_of(part.leads.begin(), part.leads.end(), [](Hole hole) { return hole.valid(); })) continue;
      const std::vector<int> sides = nets.of(role);
      const bool either_way = std::any_of(part.kind->values.begin(), part.kind->values.end(),
                                          [](const ValueSpec& v) { return v.use == Use::kMomentary; }) ||
                              std::all_of(part.kind->leads.begin(), part.kind->leads.end(),
                                          [](const LeadSpec& l) { return l.name[0] >= '0' && l.name[0] <= '9'; });
      std::string ends;
      if (sides.size() == 2 && either_way) {
        ends = "[" + net_name(sides[0]) + "," + net_name(sides[1]) + "]";
      } else {
        for (size_t lead = 0; lead < part.leads.size(); ++lead)
          ends +=
              (ends.empty() ? "{" : ",") + json_text(part.kind->leads[lead].name) + ":" + net_name(nets.of(role, int(lead)));
        ends += "}";
      }
      all += (all.empty() ? "" : ",") + name(role) + ":" + ends;
    }
    if (!all.empty()) add("shape", "\"check\":\"shape\",\"nets\":{" + all + "}", say("lesson.record.shape"));
  }

  std::string net_name(int net) {
    const auto [at, fresh] = net_names_.try_emplace(net, "n" + std::to_string(net_names_.size() + 1));
    return json_text(at->second);
  }

  // The board has to pass its own checks: those that it cannot be asked go.
  Result<std::string> without_what_fails() {
    for (;;) {
      const std::string text = write();
      const Result<Lesson> lesson = read_lesson(text, catalogue());
      if (!lesson) return lesson.error();
      const Verdict verdict = judge_step(*lesson, 1, board_);
      const int failed = verdict.first_failed();
      if (failed < 0) return text;
      drafts_.erase(drafts_.begin() + failed);
      if (drafts_.empty()) return Error{.code = Code::kBadValue, .found = "this board", .expected = "one that can be judged"};
    }
  }

  std::string write() const {
    std::string roles, box, checks;
    std::vector<std::string_view> kinds;
    for (const int role : roles_)
      roles += (roles.empty() ? "" : ",") + name(role) + ":{\"kind\":" + json_text(board_.parts[size_t(role)].kind->key) + "}";
    for (const Part& part : board_.parts)
      if (std::find(kinds.begin(), kinds.end(), part.kind->key) == kinds.end()) kinds.push_back(part.kind->key);
    for (const std::string_view kind : kinds) box += (box.empty() ? "" : ",") + ("{\"kind\":" + json_text(kind) + "}");
    for (const Draft& draft : drafts_) checks += (checks.empty() ? "" : ",") + draft.json;
    const std::string title = board_.title.empty() ? std::string(say("lesson.record.title")) : board_.title;
    const auto step = [](std::string_view id, std::string_view kind, std::string_view words, std::string_view more) {
      const std::string key = "lesson.record.step." + std::string(id);
      return "{\"id\":" + json_text(id) + ",\"kind\":" + json_text(kind) + ",\"title\":" + json_text(words) +
             ",\"text\":" + json_text(say(key)) + std::string(more) + "}";
    };
    return "{\"tiepoint\":\"lesson\",\"version\":1,\"id\":\"recorded\",\"title\":" + json_text(title) +
           ",\"goal\":" + json_text(say("lesson.record.goal")) + ",\"minutes\":20,\"cautions\":[" +
           json_text(say("lesson.record.caution")) + "],\"roles\":{" + roles + "},\"box\":[" + box +
           "],\"outline\":" + write_board(board_) + ",\"steps\":[" + step("question", "read", title, "") + "," +
           step("build", "build", say("lesson.kind.build"), ",\"checks\":[" + checks + "]") + "," +
           step("own-board", "free", say("lesson.kind.free"), "") + "]}";
  }

  const Board& board_;
  Wiring wiring_;
  Tester tester_;
  std::vector<int> roles_;  // index into board.parts
  std::vector<Draft> drafts_;
  std::map<int, std::string> net_names_;
  bool any_works_ = false;
};

}  // namespace

Result<std::string> record_lesson(const Board& board) { return Recorder(board).record(); }

}  // namespace tiepoint
