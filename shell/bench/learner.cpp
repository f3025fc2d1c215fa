#include "shell/bench/learner.h"

#include <algorithm>

#include "engine/board/edit.h"
#include "engine/parts/part_type.h"
#include "shell/bench/bench.h"

namespace tiepoint {
namespace {

// A half board, or whatever the author built on.
Board empty_board(const Lesson& lesson) {
  Board board;
  if (lesson.outline)
    board.breadboards = lesson.outline->breadboards;
  else
    board.breadboards[0].layout = find_layout("400")->kind;
  return board;
}

}  // namespace

Learner::Learner(Bench& bench, Lesson lesson, Progress progress, std::optional<Board> board)
    : bench_(bench),
      lesson_(std::move(lesson)),
      progress_(std::move(progress)),
      own_(bench.session().board()),
      laid_out_(lesson_.steps.size()) {
  for (size_t i = 0; board && i <= size_t(progress_.step); ++i) laid_out_[i] = 1;
  if (!board) board = lesson_.start ? *lesson_.start : empty_board(lesson_);
  bench_.load(std::move(*board));
  arrange();
  begin_step();
}

void Learner::leave() {
  Desk& desk = bench_.desk();
  desk.lock_supplies(false);
  desk.offered.clear();
  desk.outline.reset();
  bench_.load(std::move(own_));
}

// What the bench offers and allows follows from the progress.
void Learner::arrange() {
  Desk& desk = bench_.desk();
  desk.offered.clear();
  if (progress_.help != Help::kGoal)
    for (const BoxEntry& entry : lesson_.box) desk.offered.push_back(entry.kind);
  desk.outline.reset();
  const bool building = step().kind != StepKind::kRead && step().kind != StepKind::kPredict && !step().board;
  if (progress_.help == Help::kOutline && building) desk.outline = lesson_.outline;
  desk.lock_supplies(!supply_allowed(lesson_, progress_));
  ++desk.view_revision;
}

void Learner::begin_step() {
  verdict_.reset();
  bench_.desk().pointed.clear();
  if (step().board && !laid_out_[size_t(progress_.step)] && !progress_.steps[size_t(progress_.step)].done) lay_out();
  entered_revision_ = bench_.session().board_revision();
}

void Learner::lay_out() {
  laid_out_[size_t(progress_.step)] = 1;
  Result<Board> hidden = step().board ? hidden_board(step(), progress_.seed)
                                      : Result<Board>(lesson_.start ? *lesson_.start : empty_board(lesson_));
  if (hidden) bench_.load(std::move(hidden).value());
  verdict_.reset();
}

Status Learner::tell(const ProgressEvent& event) {
  Result<Progress> next = after(lesson_, progress_, event);
  if (!next) return next.error();
  const int before = progress_.step;
  progress_ = std::move(next).value();
  if (progress_.step != before) begin_step();
  if (!std::holds_alternative<TimePassed>(event)) arrange();
  return done();
}

bool Learner::touched() const { return bench_.session().board_revision() != entered_revision_; }

Status Learner::go(int step) { return tell(WentTo{step}); }

bool Learner::verdict_is_of_this_board() const { return verdict_ && judged_revision_ == bench_.session().board_revision(); }

void Learner::judge() {
  if (verdict_is_of_this_board()) return;
  judged_revision_ = bench_.session().board_revision();
  judged_ = bench_.session().board();
  verdict_ = judge_step(lesson_, progress_.step, judged_);
}

const Verdict* Learner::look() {
  if (step().checks.empty()) return nullptr;
  judge();
  if (touched() && verdict_->passed() && !progress_.steps[size_t(progress_.step)].judged) (void)tell(judged(*verdict_));
  return verdict();
}

const Verdict* Learner::check_now() {
  if (step().checks.empty()) return nullptr;
  judge();
  (void)tell(judged(*verdict_));
  return verdict();
}

std::pair<int, std::string> Learner::hint_key() const {
  const int failed = verdict_ ? verdict_->first_failed() : -1;
  return {progress_.step, failed < 0 ? std::string() : verdict_->checks[size_t(failed)]->id};
}

Status Learner::ask_hint() {
  if (!step().checks.empty()) judge();
  int& depth = asked_[hint_key()];
  depth = std::min(depth + 1, kHintDepths);
  return tell(HintAsked{});
}

std::vector<std::string> Learner::hints() const {
  std::vector<std::string> said;
  const auto asked = asked_.find(hint_key());
  if (asked == asked_.end()) return said;
  const Verdict none;
  for (int depth = 0; depth < asked->second; ++depth) {
    const std::string_view hint = hint_for(lesson_, progress_.step, verdict_ ? *verdict_ : none, depth);
    if (!hint.empty() && (said.empty() || said.back() != hint)) said.emplace_back(hint);
  }
  return said;
}

bool Learner::more_hints() const {
  const auto asked = asked_.find(hint_key());
  const int depth = asked == asked_.end() ? 0 : asked->second;
  const int failing = verdict_ ? verdict_->first_failed() : -1;
  const std::vector<std::string>& own = failing >= 0 ? verdict_->checks[size_t(failing)]->hints : step().hints;
  return depth < int(own.empty() ? step().hints.size() : own.size());
}

const Outcome* Learner::failed(std::string_view check) const {
  if (!verdict_) return nullptr;
  for (size_t i = 0; i < verdict_->checks.size(); ++i)
    if (verdict_->checks[i]->id == check && !verdict_->outcomes[i].passed()) return &verdict_->outcomes[i];
  return nullptr;
}

bool Learner::show(std::string_view check) {
  const Outcome* outcome = failed(check);
  if (!outcome) return false;
  Desk& desk = bench_.desk();
  std::vector<std::string> parts;
  desk.pointed.clear();
  for (const Place& place : outcome->places) {
    const Part* part = bench_.session().board().find(place.part);
    if (part && std::find(parts.begin(), parts.end(), part->name) == parts.end()) parts.push_back(part->name);
    if (place.hole.valid()) desk.pointed.push_back(place.hole);
  }
  desk.select_these(std::move(parts), false);
  ++desk.view_revision;
  return true;
}

Status Learner::put_case(std::string_view check) {
  const Outcome* outcome = failed(check);
  if (!outcome || !verdict_is_of_this_board()) return done();
  for (const CaseSetting& setting : outcome->at) {
    const Part* part = bench_.session().board().find(judged_.parts[size_t(setting.part)].name);
    if (!part || part->values[size_t(setting.value)] == setting.position) continue;
    const ValueSpec& spec = part->kind->values[size_t(setting.value)];
    Edit edit{SetValue{part->name, std::string(spec.key), setting.position}};
    if (spec.use == Use::kMomentary)
      edit = {PressPart{part->name, setting.position != 0}};
    else if (is_supply(*part) && spec.key == "on")
      edit = {SwitchSupply{part->name, setting.position != 0}};
    else if (spec.use == Use::kPosition)
      edit = {SlidePart{part->name, int(setting.position)}};
    if (spec.use == Use::kMomentary && setting.position != 0) held_.push_back(part->name);
    if (const Result<Applied> applied = bench_.act(edit); !applied) return applied.error();
  }
  return done();
}

void Learner::let_go() {
  for (const std::string& part : held_)
    if (bench_.session().board().find(part)) (void)bench_.act({PressPart{part, false}});
  held_.clear();
}

}  // namespace tiepoint
