// How much memory one Session of a board takes: what its objects ask of the allocator, counted here.
//   bench_memory [--json] [FILE.board.json]      examples/lamp-room.board.json when none is named
//
// "engine state" is what is held for as long as the board lies open, catalogue and words not counted; "at work" the most that is held at
// any moment while it runs, the scratch of a step included. Bytes as asked for: an allocator adds some 8 or 16 to each piece.
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <memory>
#include <new>
#include <sstream>
#include <string>

#include "engine/file/json.h"
#include "engine/parts/part_type.h"
#include "engine/session/session.h"

namespace {

constexpr size_t kHeader = 16;  // [byte] before each piece: its size
constexpr double kWanted = 256 * 1024;  // [byte]

struct Count {
  size_t held = 0, most = 0;  // [byte]
  long pieces = 0, asked = 0;
};
Count count;

void* take(size_t size) {
  char* at = static_cast<char*>(std::malloc(size + kHeader));
  if (!at) std::abort();
  std::memcpy(at, &size, sizeof size);
  count.held += size;
  if (count.held > count.most) count.most = count.held;
  ++count.pieces, ++count.asked;
  return at + kHeader;
}

void give_back(void* piece) {
  if (!piece) return;
  char* at = static_cast<char*>(piece) - kHeader;
  size_t size;
  std::memcpy(&size, at, sizeof size);
  count.held -= size;
  --count.pieces;
  std::free(at);
}

}  // namespace

void* operator new(size_t size) { return take(size); }
void* operator new[](size_t size) { return take(size); }
void operator delete(void* piece) noexcept { give_back(piece); }
void operator delete[](void* piece) noexcept { give_back(piece); }
void operator delete(void* piece, size_t) noexcept { give_back(piece); }
void operator delete[](void* piece, size_t) noexcept { give_back(piece); }

int main(int argc, char** argv) {
  using namespace tiepoint;
  bool json = false;
  std::string file = TIEPOINT_EXAMPLES "/lamp-room.board.json";
  for (int k = 1; k < argc; ++k) {
    if (!std::strcmp(argv[k], "--json")) json = true;
    else if (argv[k][0] != '-') file = argv[k];
    else return std::fprintf(stderr, "usage: bench_memory [--json] [FILE.board.json]\n"), 2;
  }
  std::ifstream in(file);
  std::stringstream text;
  text << in.rdbuf();
  Result<Board> read = read_board(text.str(), catalogue());
  if (!read) return std::fprintf(stderr, "bench_memory: %s: %s\n", file.c_str(), tiepoint::text(read.error()).c_str()), 2;
  const size_t parts = read->parts.size();
  { Session warm(*read); warm.advance(0.01); }  // whatever is made once for all boards

  const Count before = count;
  auto session = std::make_unique<Session>(*read);
  const Count built = count;
  count.most = count.held;
  double run = 0;
  while (run < 3) {
    const double gone = session->advance(1.0 / 60, 4000);
    if (gone <= 0) break;
    run += gone;
  }
  const Count ran = count;
  if (session->readings().error || run < 3) return std::fprintf(stderr, "bench_memory: the board does not run\n"), 1;
  const long steps = session->readings().statistics.steps;
  session.reset();
  if (count.held != before.held) return std::fprintf(stderr, "bench_memory: %zu bytes were not given back\n", count.held - before.held), 1;

  const double opened = double(built.held - before.held), state = double(ran.held - before.held), at_work = double(ran.most - before.held);
  if (json) {
    std::printf("{\"parts\": %zu, \"opened\": %.0f, \"state\": %.0f, \"at_work\": %.0f, \"wanted\": %.0f, \"pieces\": %ld, \"allocations_per_step\": %.1f}\n", parts,
                opened, state, at_work, kWanted, ran.pieces - before.pieces, double(ran.asked - built.asked) / double(steps));
  } else {
    std::printf("%zu parts, bytes asked for one Session\n", parts);
    std::printf("  %-24s %8.1f kB\n  %-24s %8.1f kB   (%.0f wanted) in %ld pieces\n  %-24s %8.1f kB\n", "just opened", opened / 1024, "engine state, 3 s run",
                state / 1024, kWanted / 1024, ran.pieces - before.pieces, "at work, at most", at_work / 1024);
    std::printf("  %-24s %8.1f\n", "allocations per step", double(ran.asked - built.asked) / double(steps));
  }
}
