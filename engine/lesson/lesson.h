// Lesson: what a `*.lesson.json` file holds, as plain values. Steps with a text, a question, checks and hints; what the parts
// box offers; the board to start from and the author's own build.
//
// A lesson speaks of roles ("Lamp", "Left button"), never of part names or holes: which part of a learner's board plays a role
// is found out when a board is judged (check.h), so that every right build counts. Texts are Markdown.
#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/edit.h"

namespace tiepoint {

inline constexpr int kMostRoles = 24;
inline constexpr int kMostSteps = 60;
inline constexpr int kHintDepths = 3;  // where to look, what is wrong, what to do

// From `low` to `high`, both included.
struct Window {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool holds(double value) const { return value >= low && value <= high; }  // false for NaN
};

// Which parts: of one of these kinds, with each of these values within its window.
struct PartFilter {
  std::vector<const PartKind*> kinds;
  struct Value {
    std::string key;
    Window window;  // of the value, SI units or the index of an option
  };
  std::vector<Value> values;
  bool fits(const Part& part) const;
};

struct Role {
  std::string name;
  PartFilter filter;
  bool flip = false;  // a switch that stays may be mounted either way round: its two positions may be exchanged
};

// A value of a role's part put to something. An empty key is what a hand moves: a button, a slide, a supply's switch.
struct RoleSetting {
  int role = 0;
  std::string key;
  double value = 0;
};

// How a board is put before it is looked at. All buttons are up, all supplies on, all else as the learner left it; then `set`.
struct Situation {
  std::vector<RoleSetting> set;
  struct Operation {
    double time = 0;  // [s] after everything was plugged in
    std::vector<RoleSetting> set;
  };
  std::vector<Operation> operations;  // times do not fall
  double look = 0;                    // [s] 0: the settled state; else the state so long after everything was plugged in, empty
};

// A role's lead, any lead of it (empty `lead`), or a hole.
struct LeadPoint {
  int role = -1;
  std::string lead;
  std::string hole;
};

enum class Quantity : unsigned char {
  kVoltage,
  kCurrent,
  kPower,
  kBrightness,
  kFrequency,
  kSpeed,
  kAngle,
  kTemperature,
  kShown
};
std::string_view key(Quantity quantity);   // "voltage"
std::string_view unit(Quantity quantity);  // "V"; "" of brightness and of what a display shows

// A number read from a board: a quantity of a role's part, or the voltage between two points.
struct Term {
  int role = -1;
  Quantity quantity = Quantity::kCurrent;
  LeadPoint at, against;  // role < 0
  std::string_view unit() const { return role < 0 ? "V" : tiepoint::unit(quantity); }
};

// ---- What a board can be asked. Each looks at behaviour or at what is joined, none at where a part sits.

// The part's state is one of these: "lit", "dark" …, or "works" and "rests" for whatever lights, sounds or moves.
struct StateCheck {
  int role = 0;
  std::vector<std::string> states;
};
// A number in a window; with `over`, the quotient of two. `magnitude`: without its sign, for parts that may stand either way
// round.
struct ReadingCheck {
  Term term;
  Window window;
  bool magnitude = false;
  struct Over {
    Term term;
    Situation situation;
  };
  std::optional<Over> over;
};
// The output works at these settings of the inputs and at no other. works[i][k] is '0' (up, first position) or '1' of input k.
struct TruthCheck {
  std::vector<int> inputs;
  int output = 0;
  std::vector<std::string> works;
};
// What a quantity does in time, from `from` to `from + span` after everything was plugged in. Rise: the time from 10 % to 90 %
// of the way between the lowest and the highest value; fall: back from 90 % to 10 %.
struct WaveCheck {
  Term term;
  double from = 0, span = 1;                                     // [s]
  std::optional<Window> frequency, duty, rise, fall, low, high;  // [Hz], share, [s], [s], the term's unit
};
struct JoinedCheck {
  LeadPoint a, b;
  bool joined = true;  // by metal: strips, rails, wires
};
// A meter stands at this function, across the part's leads or in line with it, or with its probes at two points.
struct MeasuredCheck {
  std::string function;
  enum class Where : unsigned char { kAcross, kThrough, kBetween } where = Where::kAcross;
  int role = -1;
  LeadPoint a, b;
  std::optional<Window> shown;
};
// So many such parts are on the board; at most 0 forbids them.
struct PartsCheck {
  PartFilter filter;
  int at_least = 0, at_most = 100000;
};
// All in one chain, or all side by side, meters looked through.
struct ChainCheck {
  std::vector<int> roles;
  bool series = true;
};
// The parts' leads meet as in this pattern of nets: one net for each name, different nets for different names. Meters are
// looked through. No lead name: the part joins two nets, whichever way round.
struct ShapeCheck {
  struct End {
    int role = 0;
    std::string lead;  // "": one of the two sides of the part
    int net = 0;       // index into `nets`
  };
  std::vector<std::string> nets;
  std::vector<End> ends;  // the two sides of a part follow one another
};
// No finding says that something is wrong (engine/explain).
struct FaultCheck {
  std::vector<std::string> except;  // keys of findings that do not count
};

struct Check {
  std::string id;
  std::variant<StateCheck, ReadingCheck, TruthCheck, WaveCheck, JoinedCheck, MeasuredCheck, PartsCheck, ChainCheck, ShapeCheck,
               FaultCheck>
      ask;
  Situation situation;
  std::string fail;                // what to tell a learner when it fails
  std::vector<std::string> hints;  // by depth, at most kHintDepths
  std::string tag;                 // misconception that a failure points to, "" for none
  double points = 1;
};

// ---- Steps

enum class StepKind : unsigned char { kRead, kBuild, kPredict, kObserve, kMeasure, kExplain, kHunt, kFree };
std::string_view key(StepKind kind);  // "read"
std::optional<StepKind> step_kind(std::string_view key);

struct Choice {
  std::string id, text;
  bool right = false;
  std::string reply;  // told once the answer counts
  std::string tag;    // what someone may believe who chooses this
};

// Choices, or else a number in a window.
struct Question {
  std::string ask;
  std::vector<Choice> choices;
  Window window;
  std::string unit;
  std::string right_reply, wrong_reply;  // of numbers
};

// A fault hidden on a board: the edits that make it.
struct HiddenFault {
  std::string id;
  std::vector<Edit> edits;
  std::string reveal;  // what it was
  std::string tag;
};

struct Step {
  std::string id;
  StepKind kind = StepKind::kRead;
  std::string title, text;
  std::optional<Question> question;
  std::vector<Check> checks;
  std::vector<std::string> hints;   // by depth; those of a failing check come first
  std::optional<Board> board;       // laid out when the step begins; kHunt: the sound board that the faults go into
  std::vector<HiddenFault> faults;  // kHunt: one of them is chosen by the learner's seed
  bool optional = false;
  bool hand_in = true;  // its checks count for a finished board
  int shift = 0;        // columns by which hidden_board moves what it gives
};

// What the parts box offers.
struct BoxEntry {
  const PartKind* kind = nullptr;
  int count = 0;  // 0: as many as wanted
  std::vector<PartFilter::Value> values;
};

// A number that the text states, held against the author's own build.
struct Claim {
  std::string says;         // as it stands in the text
  std::vector<Edit> edits;  // made on the author's build first
  Check check;
};

struct Lesson {
  std::string id, title, goal;
  int minutes = 0;
  std::vector<std::string> curriculum, misconceptions, cautions;
  std::vector<Role> roles;
  std::vector<BoxEntry> box;
  std::optional<Board> start, outline;  // outline: the author's own build
  std::vector<Step> steps;
  std::vector<std::string> done;  // ids of the steps that make the lesson complete; none given: all that are not optional
  std::vector<Claim> claims;
  // What a learner's seed has drawn; 0 of 1 case when the lesson is the same for everybody.
  int case_index = 0, case_count = 1;
  int shift = 0;  // columns by which all boards are moved along

  int step_index(std::string_view step_id) const;  // -1 when there is none
  bool needs(const Step& step) const;              // is it among those that make the lesson complete?
};

// How much is shown to whoever takes the lesson.
enum class Help : unsigned char {
  kOutline,  // the author's build as an outline on the board
  kParts,    // the parts box holds what is needed
  kGoal,     // the goal alone; the parts box holds everything
};
std::string_view key(Help help);  // "outline", "parts", "goal"
std::optional<Help> help_level(std::string_view key);

// The board a hunt begins with: the step's board with the fault that `seed` draws. `which` receives its index.
Result<Board> hidden_board(const Step& step, uint32_t seed, int* which = nullptr);

// Do these words stand in the goal, a caution, or a step's text, question or reply? Line ends count as blanks.
bool text_contains(const Lesson& lesson, std::string_view words);

}  // namespace tiepoint
