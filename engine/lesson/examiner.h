// Examiner: asks one board the checks of a lesson, with the roles cast in one way or another. Within this folder only.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <vector>

#include "engine/explain/findings.h"
#include "engine/lesson/check.h"
#include "engine/lesson/nets.h"
#include "engine/lesson/tester.h"

namespace tiepoint {

// Which part plays each role, and which switches are taken the other way round.
struct Casting {
  std::vector<int> part;      // part[role], -1: none
  std::vector<char> flipped;  // flipped[role]
};

// Every role that a check speaks of, once each.
std::vector<int> roles_of(const Check& check);

class Examiner {
 public:
  Examiner(const Lesson& lesson, const Board& board);
  const Board& board() const { return tester_.board(); }
  const Outcome& ask(const Check& check, const Casting& casting);

 private:
  Outcome answer(const Check& check, const Casting& casting);
  std::optional<Put> put(const RoleSetting& setting, const Casting& casting) const;
  // False when a part that it needs is not there.
  bool arrange(const Situation& situation, const Casting& casting, Arrangement& out) const;
  double number(const Term& term, const Casting& casting, const Board& board, const Wiring& wiring,
                const Readings& readings) const;
  double voltage(const LeadPoint& point, const Casting& casting, const Board& board, const Wiring& wiring,
                 const Readings& readings) const;
  // The nets of a point: one, or all of the role's part.
  std::vector<int> nets_of(const LeadPoint& point, const Casting& casting) const;
  Place place_of(const LeadPoint& point, const Casting& casting) const;
  Place place_of(int part) const;
  void tell_case(const Arrangement& arrangement, Outcome& out) const;

  Outcome answer(const StateCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const ReadingCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const TruthCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const WaveCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const JoinedCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const MeasuredCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const PartsCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const ChainCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const ShapeCheck& ask, const Arrangement& at, const Casting& casting);
  Outcome answer(const FaultCheck& ask, const Arrangement& at, const Casting& casting);

  const Lesson& lesson_;
  Tester tester_;
  Nets nets_;
  std::map<Arrangement, std::vector<Finding>> findings_;  // looked for when first asked
  std::map<std::pair<const Check*, std::vector<int>>, Outcome> known_;
};

}  // namespace tiepoint
