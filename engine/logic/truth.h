// Truth table of any board: what each lamp, motor or sounder does at every position of the switches, found with the real solver.
//
// Inputs are the contacts a hand moves and knobs that have positions. A row is the settled state at one setting of all inputs.
// Where what is seen depends on what was before (a latch, a counter) or never settles (a flasher), the table says so instead
// of giving a wrong answer.
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"
#include "engine/logic/expression.h"
#include "engine/parts/part_type.h"

namespace tiepoint {

struct TruthInput {
  int part = 0;         // index into board.parts
  int value = 0;        // index into the part's values
  std::string name;     // "S1"; "SW1.3" for one of several contacts of a part
  int positions = 2;
  bool momentary = false;
};

enum class Seen : unsigned char { kOff, kOn, kPeriodic, kUnknown };

struct TruthOutput {
  int part = 0;
  std::string name;
  bool remembers = false;  // what it does depends on earlier positions; its column shows the settled state from rest
  bool periodic = false;   // at some setting it never settles
};

struct TruthRow {
  std::vector<int> at;          // at[input], a position
  std::vector<Seen> seen;       // seen[output]
  std::vector<State> state;     // state[output]
};

struct TruthTable {
  std::vector<TruthInput> inputs;
  std::vector<TruthOutput> outputs;
  std::vector<TruthRow> rows;   // all settings, the last input changing fastest; or a sample of them
  bool sampled = false;         // more than kMostLogicInputs inputs: rest, each input alone, and seeded random settings
};

TruthTable truth_table(const Board& board);

// The smallest expression for one output, over the table's two-position inputs, in their order. Nothing when the table is
// sampled, an input has more than two positions, or the output is periodic or remembers.
struct OutputLogic {
  bool known = false;
  Expression expression;
};
OutputLogic logic_of(const TruthTable& table, int output);

// A part that does something to see or hear, and whether it does.
bool is_output(const Part& part);
bool is_on(State state);

}  // namespace tiepoint
