// What the commands of the terminal program share.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/edit.h"
#include "engine/error.h"
#include "engine/lesson/lesson.h"

namespace tiepoint::cli {

using Arguments = std::vector<std::string>;

int explain(const Arguments& arguments);
int solve(const Arguments& arguments);
int truth(const Arguments& arguments);
int hunt(const Arguments& arguments);
int parts(const Arguments& arguments);
int lesson(const Arguments& arguments);
int grade(const Arguments& arguments);
int compare(const Arguments& arguments);
int size(const Arguments& arguments);

// The whole text of a file ("-": standard input). Errors: kFileAccess, kTooLarge (refused without reading it all).
Result<std::string> read_file(const std::string& path);

// The lesson in a file.
Result<Lesson> read_lesson_file(const std::string& path);

// Prints "tiepoint: FILE: sentence" (or the error as JSON on standard output) and gives the exit status 2.
int fail(const std::string& file, const Error& error, bool json);

// Words of a command line that do not fit.
Error usage_error(std::string found, std::string expected);

// A duration or value with an SI prefix and optional unit: "0.5s", "200ms", "1.5". Errors: kUsage.
Result<double> read_quantity(std::string_view text, std::string_view unit);

// One word of --set: "S1=down", "S1=up@0.5s", "PS1=off", "R1.resistance=470".
struct Setting {
  Edit edit;
  double time = 0;        // [s] when it happens
  bool timed = false;     // an "@time" was given
};
Result<Setting> read_setting(std::string_view word, const Board& board);

}  // namespace tiepoint::cli
