// tiepoint grade: a class of boards judged by one lesson. Every board is one row; a file that cannot be read is a row with its
// error.
#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <map>
#include <thread>

#include "engine/file/json.h"
#include "engine/file/lesson_file.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/words/lesson_words.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint grade LESSON BOARD... [--csv|--json] [--threads N] [--no-header]\n"
    "\n"
    "Judges boards (*.board.json, or folders of them) by the checks that a lesson sets for a finished board: one row for "
    "each.\n"
    "Beside NAME.board.json a NAME.progress.json may stand: its hints, answers and time go into the row.\n"
    "Boards whose parts all stand alike are told (\"like\"), unless they stand like the lesson's own outline.\n"
    "  --csv         a table to open as a sheet; --no-header leaves its first line out, for tables that are put together\n"
    "  --json        one JSON array\n"
    "  --threads N   as many at a time; all cores without it\n"
    "Exit status: 0 all pass, 1 some board does not or cannot be read, 2 bad usage or bad lesson.\n";

struct Row {
  std::string file, error, failed, words, tags, like;
  bool passed = false;
  int checks = 0, checks_passed = 0;
  double points = 0, most_points = 0;
  bool has_progress = false;
  int hints = 0, tries = 0, predictions = 0, predictions_right = 0;
  double seconds = 0;
  std::string fingerprint;
};

struct Request {
  std::string lesson;
  std::vector<std::string> files;
  bool csv = false, json = false, header = true;
  unsigned threads = std::max(1u, std::thread::hardware_concurrency());
};

// A folder stands for the boards in it, in the order of their names.
void add_files(const std::string& path, std::vector<std::string>& files) {
  std::error_code error;
  if (!std::filesystem::is_directory(path, error)) {
    files.push_back(path);
    return;
  }
  std::vector<std::string> found;
  for (auto it = std::filesystem::directory_iterator(path, error); !error && it != std::filesystem::directory_iterator();
       it.increment(error))
    if (it->path().string().ends_with(".board.json")) found.push_back(it->path().string());
  std::sort(found.begin(), found.end());
  files.insert(files.end(), found.begin(), found.end());
}

Result<Request> read_request(const Arguments& arguments) {
  Request request;
  for (size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--csv")
      request.csv = true;
    else if (word == "--json")
      request.json = true;
    else if (word == "--no-header")
      request.header = false;
    else if (word == "--threads") {
      const std::optional<double> count = i + 1 < arguments.size() ? parse_value(arguments[++i]) : std::nullopt;
      if (!count || *count < 1 || *count > 256 || *count != std::floor(*count))
        return usage_error("--threads without a number", "1 to 256");
      request.threads = unsigned(*count);
    } else if (word.size() > 1 && word[0] == '-')
      return usage_error("unknown option " + word, "--csv, --json, --threads or --no-header");
    else if (request.lesson.empty())
      request.lesson = word;
    else
      add_files(word, request.files);
  }
  if (request.lesson.empty()) return usage_error("no file", "a lesson file and board files");
  if (request.files.empty()) return usage_error("no board", "board files or a folder of them");
  if (request.csv && request.json) return usage_error("both --csv and --json", "one of them");
  return request;
}

// What stands where, however it is named, coloured, or moved along the board.
std::string fingerprint(const Board& board) {
  double left = 1e9;
  for (const Part& part : board.parts)
    for (const Hole hole : part.leads)
      if (hole.valid()) left = std::min(left, board.mat_of(hole).x);
  std::vector<std::string> lines;
  for (const Part& part : board.parts) {
    std::string line(part.kind->key);
    for (const Hole hole : part.leads) {
      const MatPoint at = hole.valid() ? board.mat_of(hole) : MatPoint{-1e6, 0};
      line += " " + std::to_string(int(std::lround(at.x - left))) + "," + std::to_string(int(std::lround(at.y)));
    }
    for (size_t v = 0; v < part.values.size(); ++v)
      if (part.kind->values[v].use == Use::kValue && !part.kind->conductor) line += " " + std::to_string(part.values[v]);
    lines.push_back(std::move(line));
  }
  std::sort(lines.begin(), lines.end());
  std::string all;
  for (const std::string& line : lines) all += line + "\n";
  return all;
}

void add_tag(std::string& tags, const std::string& tag) {
  if (!tag.empty() && (" " + tags + " ").find(" " + tag + " ") == std::string::npos) tags += (tags.empty() ? "" : " ") + tag;
}

void add_progress(const Lesson& lesson, const std::string& board_file, Row& row) {
  constexpr std::string_view kEnd = ".board.json";
  if (!board_file.ends_with(kEnd)) return;
  const std::string path = board_file.substr(0, board_file.size() - kEnd.size()) + ".progress.json";
  std::error_code none;
  if (!std::filesystem::exists(path, none)) return;
  const Result<std::string> content = read_file(path);
  const Result<Progress> progress = content ? read_progress(*content, lesson) : Result<Progress>(content.error());
  if (!progress) {
    row.error = text(progress.error());
    return;
  }
  row.has_progress = true;
  for (size_t i = 0; i < progress->steps.size(); ++i) {
    const StepProgress& step = progress->steps[i];
    row.hints += step.hints;
    row.tries += step.tries;
    row.seconds += step.seconds;
    for (const std::string& tag : step.tags) add_tag(row.tags, tag);
    if (lesson.steps[i].kind != StepKind::kPredict || step.answers == 0) continue;
    ++row.predictions;
    row.predictions_right += step.right;
  }
}

Row grade_one(const Lesson& lesson, const std::string& file) {
  Row row;
  row.file = file;
  const Result<std::string> content = read_file(file);
  const Result<Board> board = content ? read_board(*content, catalogue()) : Result<Board>(content.error());
  if (!board) {
    row.error = text(board.error());
    row.words = say("lesson.grade.bad-file");
    return row;
  }
  const Verdict verdict = judge_hand_in(lesson, *board);
  row.passed = verdict.passed();
  row.points = verdict.points;
  row.most_points = verdict.most_points;
  row.checks = int(verdict.outcomes.size());
  for (size_t k = 0; k < verdict.outcomes.size(); ++k) {
    row.checks_passed += verdict.outcomes[k].passed();
    if (!verdict.outcomes[k].passed()) add_tag(row.tags, verdict.checks[k]->tag);
  }
  if (const int failed = verdict.first_failed(); failed >= 0) {
    const Outcome& outcome = verdict.outcomes[size_t(failed)];
    row.failed = verdict.checks[size_t(failed)]->id;
    row.words = say("lesson.grade.failing", {{"fail", verdict.checks[size_t(failed)]->fail},
                                             {"reason", words_of(lesson, *board, outcome)},
                                             {"case", case_words(*board, outcome)}});
    if (outcome.finding) add_tag(row.tags, std::string(outcome.finding->misconception));
  }
  add_progress(lesson, file, row);
  row.fingerprint = fingerprint(*board);
  return row;
}

void mark_alike(const Lesson& lesson, std::vector<Row>& rows) {
  const std::string own = lesson.outline ? fingerprint(*lesson.outline) : std::string();
  std::map<std::string, size_t> first;
  for (size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].fingerprint.empty() || rows[i].fingerprint == own) continue;
    const auto [found, is_new] = first.emplace(std::move(rows[i].fingerprint), i);
    if (!is_new) rows[i].like = rows[found->second].file;
  }
}

// RFC 4180; a cell that a sheet would take for a formula is led by an apostrophe.
std::string cell(std::string_view words) {
  std::string out = !words.empty() && std::string_view("=+-@\t").find(words[0]) != std::string_view::npos ? "'" : "";
  out += words;
  if (out.find_first_of(",\"\n\r") == std::string::npos) return out;
  std::string quoted = "\"";
  for (const char c : out) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string number_cell(double value) {
  char text[32];
  std::snprintf(text, sizeof text, "%.10g", value);
  return text;
}

void print_csv(const std::vector<Row>& rows, bool header) {
  if (header)
    std::puts(
        "file,passed,points,most_points,checks_passed,checks,first_failing_check,words,tags,hints,tries,predictions,"
        "predictions_right,seconds,like,error");
  for (const Row& row : rows) {
    std::string line = cell(row.file) + (row.passed ? ",yes," : ",no,") + number_cell(row.points) + "," +
                       number_cell(row.most_points) + "," + std::to_string(row.checks_passed) + "," +
                       std::to_string(row.checks) + "," + cell(row.failed) + "," + cell(row.words) + "," + cell(row.tags);
    if (row.has_progress)
      line += "," + std::to_string(row.hints) + "," + std::to_string(row.tries) + "," + std::to_string(row.predictions) + "," +
              std::to_string(row.predictions_right) + "," + number_cell(row.seconds);
    else
      line += ",,,,,";
    std::puts((line + "," + cell(row.like) + "," + cell(row.error)).c_str());
  }
}

void print_json(const std::vector<Row>& rows) {
  JsonOut out;
  out.begin_array();
  for (const Row& row : rows) {
    out.begin_object();
    out.member("file", row.file);
    out.member("passed", row.passed);
    out.member("points", row.points);
    out.member("mostPoints", row.most_points);
    out.member("checksPassed", row.checks_passed);
    out.member("checks", row.checks);
    if (!row.failed.empty()) out.member("firstFailingCheck", row.failed);
    if (!row.words.empty()) out.member("words", row.words);
    if (!row.tags.empty()) out.member("tags", row.tags);
    if (row.has_progress) {
      out.member("hints", row.hints);
      out.member("tries", row.tries);
      out.member("predictions", row.predictions);
      out.member("predictionsRight", row.predictions_right);
      out.member("seconds", row.seconds);
    }
    if (!row.like.empty()) out.member("like", row.like);
    if (!row.error.empty()) out.member("error", row.error);
    out.end_object();
  }
  out.end_array();
  std::puts(out.text().c_str());
}

void print_text(const std::vector<Row>& rows) {
  for (const Row& row : rows) {
    const std::string_view verdict = say(row.passed ? "lesson.grade.passed" : "lesson.grade.failed");
    std::printf("%-6s %3d/%-3d %s\n", std::string(verdict).c_str(), row.checks_passed, row.checks, row.file.c_str());
    if (!row.words.empty()) std::printf("       %s\n", row.words.c_str());
    if (!row.error.empty()) std::printf("       %s\n", row.error.c_str());
    if (!row.like.empty()) std::printf("       %s\n", say("lesson.grade.like", {{"file", row.like}}).c_str());
  }
}

}  // namespace

int grade(const Arguments& arguments) {
  for (const std::string& word : arguments) {
    if (word != "--help" && word != "-h") continue;
    std::fputs(kHelp, stdout);
    return 0;
  }
  const Result<Request> request = read_request(arguments);
  if (!request) return fail("grade", request.error(), false);
  const Result<Lesson> lesson = read_lesson_file(request->lesson);
  if (!lesson) return fail(request->lesson, lesson.error(), request->json);

  std::vector<Row> rows(request->files.size());
  std::atomic<size_t> next = 0;
  const auto work = [&] {
    for (size_t i = next++; i < rows.size(); i = next++) rows[i] = grade_one(*lesson, request->files[i]);
  };
  std::vector<std::thread> helpers;
  for (unsigned t = 1; t < std::min<size_t>(request->threads, rows.size()); ++t) helpers.emplace_back(work);
  work();
  for (std::thread& helper : helpers) helper.join();
  mark_alike(*lesson, rows);

  if (request->csv)
    print_csv(rows, request->header);
  else if (request->json)
    print_json(rows);
  else
    print_text(rows);
  return std::all_of(rows.begin(), rows.end(), [](const Row& row) { return row.passed && row.error.empty(); }) ? 0 : 1;
}

}  // namespace tiepoint::cli
