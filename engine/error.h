// Errors are values with a place: a code, one sentence from one list, and what it is about.
// The engine never throws, prints or aborts on input; it returns Result<T>.
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>

namespace tiepoint {

// The one list that binds a code to its key (stable, for translation and scripts) and its English sentence.
// {part} {lead} {hole} {found} {expected} are filled from the Error; an empty field prints as nothing.
#define TIEPOINT_ERRORS(X)                                                                                   \
  X(kUnknownHole, "unknown-hole", "there is no hole called {found}; expected {expected}")                    \
  X(kHoleOccupied, "hole-occupied", "hole {hole} already holds a lead of {found}")                           \
  X(kHoleCovered, "hole-covered", "hole {hole} is under the body of {found}")                                \
  X(kBodyOnLead, "body-on-lead", "the body of {part} would cover hole {hole}, where {found} is seated")      \
  X(kSameHoleTwice, "same-hole-twice", "two leads of {part} cannot share hole {hole}")                       \
  X(kOutOfReach, "out-of-reach", "the leads of {part} reach {expected} holes; these are {found} apart")      \
  X(kOffBoard, "off-board", "lead {lead} of {part} would be off the board")                                  \
  X(kUnknownPart, "unknown-part", "there is no part called {part} on the board")                             \
  X(kUnknownKind, "unknown-kind", "there is no kind of part called {found}")                                 \
  X(kUnknownLead, "unknown-lead", "{part} has no lead called {found}; it has {expected}")                    \
  X(kUnknownValue, "unknown-value", "{part} has no value called {found}; it has {expected}")                 \
  X(kNameTaken, "name-taken", "the name {found} is already in use")                                          \
  X(kBadName, "bad-name", "{found} cannot be a name; expected {expected}")                                   \
  X(kBadValue, "bad-value", "{found} does not fit here; expected {expected}")                                \
  X(kNotASwitch, "not-a-switch", "{part} has nothing to press, slide or switch")                             \
  X(kCannotTurn, "cannot-turn", "{part} cannot be turned there")                                             \
  X(kTooMany, "too-many", "{found} is more than the {expected} allowed")                                     \
  X(kNothingToUndo, "nothing-to-undo", "there is nothing to undo")                                           \
  X(kNothingToRedo, "nothing-to-redo", "there is nothing to redo")                                           \
  X(kReadOnly, "read-only", "this board is only for trying out: nothing on it can be changed")               \
  X(kSupplyLocked, "supply-locked", "{part} stays off until the question of the lesson is answered")         \
  X(kBadJson, "bad-json", "this is not valid JSON: {found}")                                                 \
  X(kWrongType, "wrong-type", "found {found}, expected {expected}")                                          \
  X(kMissingKey, "missing-key", "the entry {expected} is missing")                                           \
  X(kUnknownKey, "unknown-key", "{found} is not an entry known here; expected {expected}")                   \
  X(kWrongFile, "wrong-file", "this is {found}, expected {expected}")                                        \
  X(kNewerVersion, "newer-version", "this file is version {found}; this program reads up to {expected}")     \
  X(kTooLarge, "too-large", "the file is {found}, the most that is read is {expected}")                      \
  X(kNoSolution, "no-solution", "no steady state was found near {part} (node {found})")                      \
  X(kSourceLoop, "source-loop", "{part} and other ideal sources or shorts form a loop with no resistance")   \
  X(kStepTooSmall, "step-too-small", "time could not be advanced past {found} s near {part}")                \
  X(kFileAccess, "file-access", "cannot read {found}")                                                       \
  X(kUsage, "usage", "{found}; expected {expected}")

enum class Code {
#define X(id, key, sentence) id,
  TIEPOINT_ERRORS(X)
#undef X
};

// The stable key of a code, for example "hole-occupied".
std::string_view key(Code code);
// The English sentence with its {fields} still unfilled.
std::string_view sentence_template(Code code);

struct Error {
  Code code = Code::kBadValue;
  std::string part = {};      // the part's name, "R1"
  std::string lead = {};      // the lead's name, "anode"
  std::string hole = {};      // the hole's name, "e12"
  std::string found = {};     // what was there
  std::string expected = {};  // what would have been right
  std::string pointer = {};   // JSON pointer into the file, "/parts/3/leads/anode"
  int line = 0;               // 1-based position in the file, 0 when there is none
  int column = 0;
};

// One sentence in English, with the position in the file in front when there is one.
std::string text(const Error& error);

// A value or an Error. Reading the value of a failed result is a programming mistake (assert).
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}
  bool ok() const { return state_.index() == 0; }
  explicit operator bool() const { return ok(); }
  const T& value() const& { assert(ok()); return *std::get_if<0>(&state_); }
  T& value() & { assert(ok()); return *std::get_if<0>(&state_); }
  T&& value() && { assert(ok()); return std::move(*std::get_if<0>(&state_)); }
  const Error& error() const { assert(!ok()); return *std::get_if<1>(&state_); }
  const T& operator*() const& { return value(); }
  const T* operator->() const { return &value(); }

 private:
  std::variant<T, Error> state_;
};

struct Done {};
using Status = Result<Done>;
inline Status done() { return Status(Done{}); }

}  // namespace tiepoint
