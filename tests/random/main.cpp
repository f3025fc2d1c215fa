// How often a board built of anything, anyhow, is solved, and whether what is told of it obeys Kirchhoff's laws.
//   random_boards [--count N] [--seed N] [--settled] [--json] [--show SEED] [--board SEED] [--file FILE]
// Of each board: the operating point; then 20 ms from empty with everything switched on, unless --settled. --show prints a
// board's file, --board judges one board alone, --file one from a file (as it is left when it is made smaller).
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

#include "engine/explain/findings.h"
#include "engine/file/json.h"
#include "engine/session/session.h"
#include "tests/random/boards.h"
#include "tests/random/verdict.h"

namespace tiepoint::random_boards {
namespace {

struct Tally {
  int boards = 0, solved = 0, wrong = 0, unnamed = 0, stuck = 0, wrong_later = 0, unexplained = 0;
  long parts = 0, unknowns = 0, steps = 0, slow = 0;
  double worst_share = 0, seconds = 0, slowest = 0;
  std::map<std::string, int> methods;
};

double clock_now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

bool names_part(const Circuit& circuit, const Error& error) {
  for (const std::string& name : circuit.element_name)
    if (!error.part.empty() && name == error.part) return true;
  return false;
}

bool explained(const Session& session) {
  for (const Finding& f : findings({session.board(), session.wiring(), session.circuit(), session.readings()}))
    if (!f.places.empty()) return true;
  return false;
}

void one(const Board& board, const std::string& name, bool settled, Tally& t) {
  const Wiring wiring = wire_up(board);
  const Circuit circuit = extract(board, wiring);
  ++t.boards, t.parts += long(board.parts.size());
  const double start = clock_now();
  const Solution solution = solve_operating_point(circuit);
  const double took = clock_now() - start;
  t.seconds += took, t.slowest = std::max(t.slowest, took);
  t.unknowns += solution.statistics.unknowns;
  const Verdict v = judge(circuit, solution);
  if (v.solved) ++t.solved, ++t.methods[std::string(solution.statistics.method)];
  t.worst_share = std::max(t.worst_share, v.worst_share);
  const auto tell = [&](const char* what, const std::string& why) {
    std::fprintf(stderr, "%s: %s: %s\n", what, name.c_str(), why.c_str());
  };
  if (!v.solved) {
    tell("not solved", text(*solution.error));
    if (!names_part(circuit, *solution.error)) ++t.unnamed;
    Session session(board);
    if (!explained(session)) ++t.unexplained;
  }
  if (!v.wrong.empty()) ++t.wrong, tell("wrong", v.wrong);
  if (settled) return;

  Simulation simulation(circuit);
  simulation.start_from_initial_conditions();
  long steps = 100000;
  const double reached = simulation.advance(0.02, &steps);
  t.steps += 100000 - steps;
  const Solution& later = simulation.solution();
  const Verdict w = judge(circuit, later);
  if (!w.solved)
    ++t.stuck, tell("stuck", text(*later.error));
  else if (reached < 0.02)
    ++t.slow, tell("slow", "reached " + std::to_string(reached * 1e3) + " ms");
  if (!w.wrong.empty()) ++t.wrong_later, tell("wrong later", w.wrong);
}

}  // namespace
}  // namespace tiepoint::random_boards

int main(int count, char** words) {
  using namespace tiepoint;
  int boards = 20000;
  uint64_t seed = 1, show = 0, board = 0;
  bool json = false, settled = false;
  std::string file;
  for (int k = 1; k < count; ++k) {
    const std::string word = words[k];
    const bool more = k + 1 < count;
    if (word == "--json")
      json = true;
    else if (word == "--settled")
      settled = true;
    else if (word == "--count" && more)
      boards = std::atoi(words[++k]);
    else if (word == "--seed" && more)
      seed = std::strtoull(words[++k], nullptr, 10);
    else if (word == "--board" && more)
      board = std::strtoull(words[++k], nullptr, 10);
    else if (word == "--file" && more)
      file = words[++k];
    else if (word == "--show" && more)
      show = std::strtoull(words[++k], nullptr, 10);
    else
      return std::fprintf(stderr,
                          "usage: random_boards [--count N] [--seed N] [--settled] [--json] [--show SEED] [--board SEED] "
                          "[--file FILE]\n"),
             2;
  }
  if (show != 0) return std::printf("%s\n", write_board(random_boards::draw(show)).c_str()), 0;
  if (boards < 1) return std::fprintf(stderr, "random_boards: --count wants at least 1\n"), 2;
  random_boards::Tally t;
  const auto drawn = [&](uint64_t s) { random_boards::one(random_boards::draw(s), "seed " + std::to_string(s), settled, t); };
  if (!file.empty()) {
    std::ifstream in(file);
    std::stringstream words_of_it;
    words_of_it << in.rdbuf();
    const Result<Board> read = read_board(words_of_it.str(), catalogue());
    if (!read) return std::fprintf(stderr, "%s: %s\n", file.c_str(), text(read.error()).c_str()), 2;
    random_boards::one(*read, file, settled, t);
  } else if (board != 0) {
    drawn(board);
  } else {
    for (int k = 0; k < boards; ++k) drawn(seed * 1000003 + uint64_t(k));
  }
  const double percent = 100.0 * t.solved / t.boards;
  if (json) {
    std::printf(
        "{\"count\": %d, \"seed\": %llu, \"solved_percent\": %.3f, \"unsolved_without_a_part\": %d, "
        "\"unsolved_without_a_finding\": %d, \"wrong\": %d, "
        "\"stuck_in_time\": %d, \"slow_in_time\": %ld, \"wrong_in_time\": %d, \"worst_share\": %.3g, \"mean_us\": %.1f, "
        "\"slowest_ms\": %.2f}\n",
        t.boards, static_cast<unsigned long long>(seed), percent, t.unnamed, t.unexplained, t.wrong, t.stuck, t.slow,
        t.wrong_later, t.worst_share, t.seconds / t.boards * 1e6, t.slowest * 1e3);
  } else {
    std::printf("random boards               %8d  (seed %llu; %.1f parts, %.1f unknowns on average)\n", t.boards,
                static_cast<unsigned long long>(seed), double(t.parts) / t.boards, double(t.unknowns) / t.boards);
    std::printf("operating point solved      %8.3f %%  (99.99 %% wanted)\n", percent);
    for (const auto& [method, n] : t.methods) std::printf("  by %-22s %8d\n", method.c_str(), n);
    std::printf("  unsolved, no part named   %8d  (0)\n", t.unnamed);
    std::printf("  unsolved, no finding      %8d  (0)\n", t.unexplained);
    std::printf("against a law of Kirchhoff  %8d  (0)\n", t.wrong);
    std::printf("largest share of a node's current left over  %.2g\n", t.worst_share);
    std::printf("time of one                 %8.1f us mean, %.2f ms slowest\n", t.seconds / t.boards * 1e6, t.slowest * 1e3);
    if (!settled) {
      std::printf("20 ms from empty: stuck     %8d  (0)\n", t.stuck);
      std::printf("  more than 100,000 steps   %8ld\n", t.slow);
      std::printf("  against a law             %8d  (0)\n", t.wrong_later);
      std::printf("  steps                     %8.0f mean\n", double(t.steps) / t.boards);
    }
  }
  return percent >= 99.99 && t.unnamed + t.unexplained + t.wrong + t.stuck + t.wrong_later == 0 ? 0 : 1;
}
