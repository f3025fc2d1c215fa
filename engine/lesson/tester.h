// Tester: one board put into many situations, each settled once and kept. Also what it does in time.
#pragma once

#include <compare>
#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "engine/board/board.h"
#include "engine/circuit/wiring.h"
#include "engine/readings/readings.h"
#include "engine/readings/trace.h"
#include "engine/session/session.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

// A value of a part, by indices.
struct Put {
  int part = 0, value = 0;
  double to = 0;
  auto operator<=>(const Put&) const = default;
};

struct TimedPut {
  double time = 0;  // [s]
  std::vector<Put> puts;
  bool operator<(const TimedPut& other) const { return std::tie(time, puts) < std::tie(other.time, other.puts); }
};

// A situation with the roles already cast.
struct Arrangement {
  std::vector<Put> puts;
  std::vector<TimedPut> operations;
  double look = 0;  // [s] 0: settled
  bool operator<(const Arrangement& other) const {
    return std::tie(look, puts, operations) < std::tie(other.look, other.puts, other.operations);
  }
};

class Tester {
 public:
  // The board is put to rest first: buttons up, supplies on.
  explicit Tester(const Board& board);

  const Board& board() const { return board_; }
  const Wiring& wiring() const { return wiring_; }
  const Readings& readings(const Arrangement& arrangement);
  Board arranged(const std::vector<Put>& puts) const;

  // What `value` gives at `count` instants of [from, from + span], everything empty at time 0. [s]
  template <class Value>
  std::vector<Sample> record(const Arrangement& arrangement, double from, double span, int count, Value value) {
    Runner runner(*this, arrangement);
    std::vector<Sample> samples;
    for (int k = 0; k <= count; ++k) {
      const double time = from + span * k / count;
      if (!runner.to(time)) break;
      samples.push_back({time, value(runner.session())});
    }
    return samples;
  }

 private:
  // A session that carries out the operations of an arrangement as time passes.
  class Runner {
   public:
    Runner(const Tester& tester, const Arrangement& arrangement);
    bool to(double time);  // false: the solver gave up
    const Session& session() const { return session_; }

   private:
    void operate(const std::vector<Put>& puts);
    const Arrangement& arrangement_;
    size_t next_ = 0;
    Session session_;
    double time_ = 0;
  };
  Readings settle(const std::vector<Put>& puts);

  Board board_;
  Wiring wiring_;
  std::optional<Simulation> simulation_;  // made when first settled
  std::map<Arrangement, Readings> known_;
};

}  // namespace tiepoint
