#include "engine/lesson/check.h"

#include <algorithm>
#include <array>
#include <numeric>

#include "engine/lesson/examiner.h"

namespace tiepoint {
namespace {

constexpr long kMostCastings = 20000;  // thought of; then the best so far counts

constexpr std::array kReasonKeys = {
#define X(id, key) std::string_view(key),
    TIEPOINT_REASONS(X)
#undef X
};

bool called_like(const Part& part, const Role& role) {
  std::string name;
  for (const char c : role.name)
    if (c != ' ') name += c;
  return part.name == name;
}

bool may_flip(const Role& role, const Part& part) {
  if (!role.flip) return false;
  for (const ValueSpec& spec : part.kind->values)
    if (spec.use != Use::kValue) return spec.use == Use::kPosition && spec.maximum == 1;
  return false;
}

// Who is who is told by how the parts are joined before it is told by what they do.
bool tells_places(const Check& check) {
  return std::holds_alternative<ShapeCheck>(check.ask) || std::holds_alternative<ChainCheck>(check.ask) ||
         std::holds_alternative<JoinedCheck>(check.ask);
}
constexpr int kPlaceWeight = 3;

// Tries the castings one after another and keeps the best.
class Director {
 public:
  Director(const Lesson& lesson, std::span<const Check* const> checks, Examiner& examiner)
      : lesson_(lesson), checks_(checks), examiner_(examiner) {
    const size_t count = lesson.roles.size();
    casting_.part.assign(count, -1);
    casting_.flipped.assign(count, 0);
    best_ = casting_;
    taken_.assign(examiner.board().parts.size(), 0);
    std::vector<char> used(count, 0);
    for (const Check* check : checks)
      for (const int role : roles_of(*check)) used[size_t(role)] = 1;
    for (size_t role = 0; role < count; ++role) (used[role] ? asked_ : others_).push_back(int(role));
    candidates_.resize(count);
    for (size_t role = 0; role < count; ++role) find_candidates(int(role));
    for (const Check* check : checks) weights_.push_back(tells_places(*check) ? kPlaceWeight : 1);
    all_ = std::accumulate(weights_.begin(), weights_.end(), 0);
  }

  Casting find() {
    cast(0);
    // Roles that no check speaks of take what is left over.
    std::fill(taken_.begin(), taken_.end(), 0);
    for (const int part : best_.part)
      if (part >= 0) taken_[size_t(part)] = 1;
    for (const int role : others_)
      for (const int part : candidates_[size_t(role)])
        if (best_.part[size_t(role)] < 0 && !taken_[size_t(part)]) best_.part[size_t(role)] = part, taken_[size_t(part)] = 1;
    return best_;
  }

 private:
  void find_candidates(int role) {
    const std::vector<Part>& parts = examiner_.board().parts;
    std::vector<int>& list = candidates_[size_t(role)];
    for (size_t p = 0; p < parts.size(); ++p)
      if (lesson_.roles[size_t(role)].filter.fits(parts[p])) list.push_back(int(p));
    std::stable_partition(list.begin(), list.end(),
                          [&](int p) { return called_like(parts[size_t(p)], lesson_.roles[size_t(role)]); });
  }

  void cast(size_t index) {
    if (complete_ || tried_ >= kMostCastings) return;
    if (index == asked_.size()) return weigh();
    const int role = asked_[index];
    bool any = false;
    for (const int part : candidates_[size_t(role)]) {
      if (taken_[size_t(part)]) continue;
      any = true;
      taken_[size_t(part)] = 1;
      casting_.part[size_t(role)] = part;
      const int ways = may_flip(lesson_.roles[size_t(role)], examiner_.board().parts[size_t(part)]) ? 2 : 1;
      for (int way = 0; way < ways; ++way) {
        casting_.flipped[size_t(role)] = char(way);
        cast(index + 1);
      }
      casting_.flipped[size_t(role)] = 0;
      casting_.part[size_t(role)] = -1;
      taken_[size_t(part)] = 0;
    }
    if (!any) cast(index + 1);
  }

  void weigh() {
    ++tried_;
    int passed = 0, left = all_;
    for (size_t k = 0; k < checks_.size() && passed + left > most_; ++k) {
      left -= weights_[k];
      if (examiner_.ask(*checks_[k], casting_).passed()) passed += weights_[k];
    }
    if (passed <= most_) return;
    most_ = passed;
    best_ = casting_;
    complete_ = passed == all_;
  }

  const Lesson& lesson_;
  std::span<const Check* const> checks_;
  Examiner& examiner_;
  std::vector<int> asked_, others_;
  std::vector<std::vector<int>> candidates_;
  std::vector<char> taken_;
  Casting casting_, best_;
  std::vector<int> weights_;  // per check
  int most_ = -1, all_ = 0;
  bool complete_ = false;
  long tried_ = 0;
};

std::vector<const Check*> hand_in_checks(const Lesson& lesson) {
  std::vector<const Check*> checks;
  for (const Step& step : lesson.steps)
    if (step.hand_in)
      for (const Check& check : step.checks) checks.push_back(&check);
  return checks;
}

std::string_view at_depth(const std::vector<std::string>& hints, int depth) {
  return hints[size_t(std::clamp(depth, 0, int(hints.size()) - 1))];
}

}  // namespace

std::string_view key(Reason reason) { return kReasonKeys[size_t(reason)]; }

bool Verdict::passed() const { return first_failed() < 0; }

int Verdict::first_failed() const {
  const auto failed = std::find_if(outcomes.begin(), outcomes.end(), [](const Outcome& o) { return !o.passed(); });
  return failed == outcomes.end() ? -1 : int(failed - outcomes.begin());
}

Verdict judge(const Lesson& lesson, std::span<const Check* const> checks, const Board& board) {
  Examiner examiner(lesson, board);
  const Casting casting = Director(lesson, checks, examiner).find();
  Verdict verdict;
  verdict.part_of_role = casting.part;
  verdict.checks.assign(checks.begin(), checks.end());
  for (const Check* check : checks) {
    verdict.outcomes.push_back(examiner.ask(*check, casting));
    verdict.most_points += check->points;
    if (verdict.outcomes.back().passed()) verdict.points += check->points;
  }
  return verdict;
}

Verdict judge_step(const Lesson& lesson, int step, const Board& board) {
  std::vector<const Check*> checks;
  for (const Check& check : lesson.steps[size_t(step)].checks) checks.push_back(&check);
  return judge(lesson, checks, board);
}

Verdict judge_hand_in(const Lesson& lesson, const Board& board) { return judge(lesson, hand_in_checks(lesson), board); }

Result<std::vector<BrokenClaim>> check_claims(const Lesson& lesson) {
  std::vector<BrokenClaim> broken;
  const Board outline = lesson.outline.value_or(Board{});
  const std::vector<int> players = judge_hand_in(lesson, outline).part_of_role;
  for (size_t c = 0; c < lesson.claims.size(); ++c) {
    const Claim& claim = lesson.claims[c];
    Board board = outline;
    for (const Edit& edit : claim.edits) {
      const Result<Applied> applied = apply(board, edit);
      if (!applied) return applied.error();
    }
    // The same parts by name; for those that the edits took away, any that fits.
    Examiner examiner(lesson, board);
    Casting casting{std::vector<int>(lesson.roles.size(), -1), std::vector<char>(lesson.roles.size(), 0)};
    std::vector<char> taken(board.parts.size(), 0);
    const auto give = [&](size_t role, auto fits) {
      for (size_t p = 0; p < board.parts.size() && casting.part[role] < 0; ++p)
        if (!taken[p] && fits(board.parts[p])) casting.part[role] = int(p), taken[p] = 1;
    };
    for (size_t role = 0; role < players.size(); ++role)
      if (players[role] >= 0)
        give(role, [&](const Part& part) { return part.name == outline.parts[size_t(players[role])].name; });
    for (size_t role = 0; role < players.size(); ++role)
      give(role, [&](const Part& part) { return lesson.roles[role].filter.fits(part); });
    const Outcome outcome = examiner.ask(claim.check, casting);
    if (!outcome.passed()) broken.push_back({int(c), outcome});
  }
  return broken;
}

std::string_view hint_for(const Lesson& lesson, int step, const Verdict& verdict, int depth) {
  if (const int failed = verdict.first_failed(); failed >= 0) {
    const std::vector<std::string>& hints = verdict.checks[size_t(failed)]->hints;
    if (!hints.empty()) return at_depth(hints, depth);
  }
  const std::vector<std::string>& hints = lesson.steps[size_t(step)].hints;
  return hints.empty() ? std::string_view() : at_depth(hints, depth);
}

}  // namespace tiepoint
