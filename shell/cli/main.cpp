// tiepoint: the engine on the command line. Exit status: 0 done, 1 the board or the answer falls short, 2 bad usage or bad
// file.
#include <cstdio>
#include <string_view>

#include "shell/cli/command.h"
#include "shell/words/languages.h"

namespace {

struct Command {
  std::string_view name;
  int (*run)(const tiepoint::cli::Arguments& arguments);
  const char* summary;
};

constexpr Command kCommands[] = {
    {"solve", tiepoint::cli::solve, "voltages, currents and part states of a board or circuit file"},
    {"explain", tiepoint::cli::explain, "what is wrong on a board and what would put it right; why a part works or not"},
    {"truth", tiepoint::cli::truth, "what every output does at each position of the switches"},
    {"hunt", tiepoint::cli::hunt, "hides defects in a board for a fault hunt, shows them, or prints the log"},
    {"parts", tiepoint::cli::parts, "the kinds of part in the box, with their leads, values and ratings"},
    {"lesson", tiepoint::cli::lesson, "is a lesson file in order; does a board do what a lesson asks for"},
    {"grade", tiepoint::cli::grade, "a class of boards judged by a lesson: one row for each"},
    {"compare", tiepoint::cli::compare, "are two boards the same circuit, or do they do the same"},
    {"size", tiepoint::cli::size, "which resistor belongs in line with a part"},
};

void print_usage(std::FILE* out) {
  std::fputs("usage: tiepoint COMMAND ...\n\n", out);
  for (const Command& command : kCommands) std::fprintf(out, "  %-8s %s\n", std::string(command.name).c_str(), command.summary);
  std::fputs(
      "\n--language de with any of them: what it says is said in that language (en, es, de, he), numbers with its decimal "
      "sign.\n",
      out);
  std::fputs("'tiepoint COMMAND --help' says more. Exit status: 0 done, 1 the board falls short, 2 bad usage or bad file.\n",
             out);
}

// Takes "--language de" out of the arguments; false when it names no language that is known.
bool take_language(tiepoint::cli::Arguments& arguments) {
  for (size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] != "--language") continue;
    if (i + 1 >= arguments.size() || !tiepoint::use_language(arguments[i + 1])) return false;
    arguments.erase(arguments.begin() + std::ptrdiff_t(i), arguments.begin() + std::ptrdiff_t(i) + 2);
    return true;
  }
  return true;
}

}  // namespace

int main(int count, char** words) {
  if (count < 2) {
    print_usage(stderr);
    return 2;
  }
  const std::string_view name = words[1];
  if (name == "--help" || name == "-h" || name == "help") {
    print_usage(stdout);
    return 0;
  }
  for (const Command& command : kCommands)
    if (command.name == name) {
      tiepoint::cli::Arguments arguments(words + 2, words + count);
      if (take_language(arguments)) return command.run(arguments);
      std::fputs("tiepoint: --language needs one of:", stderr);
      for (const std::string_view language : tiepoint::languages())
        std::fprintf(stderr, " %.*s", int(language.size()), language.data());
      std::fputs("\n", stderr);
      return 2;
    }
  std::fprintf(stderr, "tiepoint: there is no command '%s'\n", words[1]);
  print_usage(stderr);
  return 2;
}
