// tiepoint grade: a class of boards judged by one lesson. Every board is one row; a file that cannot be read is a row with its
// error.
#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <thread>

#include "engine/file/hand_in.h"
#include "engine/file/variants.h"
#include "engine/parts/marking.h"
#include "engine/parts/part_type.h"
#include "shell/cli/command.h"
#include "shell/cli/json_out.h"
#include "shell/marks/marks.h"
#include "shell/words/words.h"

namespace tiepoint::cli {
namespace {

constexpr char kHelp[] =
    "usage: tiepoint grade LESSON BOARD... [--csv|--json] [--threads N] [--no-header]\n"
    "\n"
    "Judges boards (*.board.json, *.hand-in.json, or folders of them) by the checks that a lesson sets for a finished board:\n"
    "one row for each. Beside NAME.board.json a NAME.progress.json may stand: its hints, answers and time go into the row, "
    "and\n"
    "of a lesson that varies its seed tells by which case the board is judged; a hand-in file holds both.\n"
    "Boards that are the same circuit with all parts, or all but one, in the same holes are told (\"like\", \"evidence\"), "
    "unless\n"
    "they stand like the lesson's own outline.\n"
    "  --csv         a table to open as a sheet; --no-header leaves its first line out, for tables that are put together\n"
    "  --json        one JSON array\n"
    "  --threads N   as many at a time; all cores without it\n"
    "Exit status: 0 all pass, 1 some board does not or cannot be read, 2 bad usage or bad lesson.\n";

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
    if (const std::string name = it->path().string(); name.ends_with(".board.json") || name.ends_with(".hand-in.json"))
      found.push_back(name);
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

std::string content_of(const std::string& path) {
  const Result<std::string> content = read_file(path);
  return content ? *content : std::string();
}

// NAME.progress.json beside NAME.board.json; "" when there is none.
std::string progress_beside(const std::string& board_file) {
  constexpr std::string_view kEnd = ".board.json";
  if (!board_file.ends_with(kEnd)) return {};
  const std::string path = board_file.substr(0, board_file.size() - kEnd.size()) + ".progress.json";
  std::error_code none;
  return std::filesystem::exists(path, none) ? content_of(path) : std::string();
}

Mark grade_one(const Rubric& rubric, const std::string& file) {
  const Result<std::string> content = read_file(file);
  if (content) return mark(rubric, file, *content, progress_beside(file));
  Mark out;
  out.file = file;
  out.error = text(content.error());
  out.words = say("lesson.grade.bad-file");
  return out;
}

void print_csv(const std::vector<Mark>& rows, bool header) {
  if (header) std::fputs(marks_csv_head().c_str(), stdout);
  for (const Mark& row : rows) std::fputs(mark_csv(row, rows).c_str(), stdout);
}

void print_json(const std::vector<Mark>& rows) {
  JsonOut out;
  out.begin_array();
  for (const Mark& row : rows) {
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
    if (row.drawn_of > 1) out.member("case", row.drawn + 1);
    if (row.like >= 0) {
      out.member("like", rows[size_t(row.like)].file);
      out.member("evidence", row.evidence);
    }
    if (!row.error.empty()) out.member("error", row.error);
    out.end_object();
  }
  out.end_array();
  std::puts(out.text().c_str());
}

void print_text(const std::vector<Mark>& rows) {
  for (const Mark& row : rows) {
    const std::string_view verdict = say(row.passed ? "lesson.grade.passed" : "lesson.grade.failed");
    std::printf("%-6s %3d/%-3d %s\n", std::string(verdict).c_str(), row.checks_passed, row.checks, row.file.c_str());
    if (!row.words.empty()) std::printf("       %s\n", row.words.c_str());
    if (!row.error.empty()) std::printf("       %s\n", row.error.c_str());
    if (row.like < 0) continue;
    const std::string& file = rows[size_t(row.like)].file;
    std::printf("       %s\n", say("lesson.grade.like", {{"file", file}, {"evidence", row.evidence}}).c_str());
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
  const Result<std::string> lesson = read_file(request->lesson);
  const Result<Rubric> rubric = lesson ? read_rubric(*lesson, catalogue()) : Result<Rubric>(lesson.error());
  if (!rubric) return fail(request->lesson, rubric.error(), request->json);

  std::vector<Mark> rows(request->files.size());
  std::atomic<size_t> next = 0;
  const auto work = [&] {
    for (size_t i = next++; i < rows.size(); i = next++) rows[i] = grade_one(*rubric, request->files[i]);
  };
  std::vector<std::thread> helpers;
  for (unsigned t = 1; t < std::min<size_t>(request->threads, rows.size()); ++t) helpers.emplace_back(work);
  work();
  for (std::thread& helper : helpers) helper.join();
  mark_alike(*rubric, rows, [&](size_t row) -> std::optional<Board> {
    Result<HandIn> hand_in = read_hand_in(content_of(request->files[row]), "", *rubric);
    if (!hand_in) return std::nullopt;
    return std::move(hand_in).value().board;
  });

  if (request->csv)
    print_csv(rows, request->header);
  else if (request->json)
    print_json(rows);
  else
    print_text(rows);
  return std::all_of(rows.begin(), rows.end(), [](const Mark& row) { return row.passed && row.error.empty(); }) ? 0 : 1;
}

}  // namespace tiepoint::cli
