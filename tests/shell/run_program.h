// The terminal program, run as a person would.
#pragma once

#include <cstdio>
#include <string>

namespace tiepoint {

struct ProgramRun {
  int status = -1;  // what it ended with
  std::string out;  // all it printed, errors too
};

inline ProgramRun run(const std::string& arguments) {
  ProgramRun result;
  std::FILE* pipe = popen((std::string(TIEPOINT_PROGRAM) + " " + arguments + " 2>&1").c_str(), "r");
  if (!pipe) return result;
  char block[4096];
  size_t got = 0;
  while ((got = fread(block, 1, sizeof block, pipe)) > 0) result.out.append(block, got);
  result.status = WEXITSTATUS(pclose(pipe));
  return result;
}

}  // namespace tiepoint
