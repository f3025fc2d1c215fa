// Trial: what the parts do on a (changed) board in all the positions its switches can take, found with the real solver; and what
// strains them. This is where volts come into the search for a fault.
#pragma once

#include <vector>

#include "engine/circuit/circuit.h"
#include "engine/explain/scene.h"
#include "engine/readings/readings.h"

namespace tiepoint {

struct Positions {            // one setting of every control
  std::vector<int> at;        // at[control]
};

// All settings when they are few, else: at rest, each control moved alone, all moved.
std::vector<Positions> positions_to_try(const Scene& scene, int most);

struct Trial {
  std::vector<int> part_of_control;
  bool may_beat = false;           // Scene::may_beat
  std::vector<Positions> positions;
  std::vector<Readings> readings;  // readings[k] settled at positions[k]
  // [A] of a board that may beat: no LED can ever get more than this, whatever the rest of the board does; empty for others.
  std::vector<double> most_current;
};

// Settles the board at each of the positions. `circuit` is the extract of the board; both are taken by value to be turned about.
Trial try_positions(Board board, const Wiring& wiring, Circuit circuit, const Scene& scene, std::vector<Positions> positions);
// The same for a changed board, from its parts alone (controls keep their order as long as no switch came or went).
Trial try_board(const Board& board, int most);

enum class Strain : unsigned char {
  kNeverOn,      // a load that works at no position
  kFaint,        // at its best too weak to see
  kTooBright,    // more than the rated current of a load
  kTooHot,       // more than the rated power or current
  kOverVoltage,
  kReversed,     // an electrolytic with the wrong polarity
  kOverloaded,   // a contact, wire or battery
  kAtLimit,      // a supply in its limit
  kBeingCharged, // a supply pushed back
  kNoEffect,     // a switch that changes nothing a load does
  kNoSolution,
};

struct StrainAt {
  Strain strain;
  int part = -1;
  int at = 0;          // index into Trial::positions
  double weight = 0;
  double value = 0;    // what it bears: [A], [W] or [V]
  double rating = 0;   // what it may bear, NaN when there is no such figure
};
std::vector<StrainAt> strains(const Board& board, const Trial& trial);
double total(const std::vector<StrainAt>& strains);
// Loads that work at every position although there are switches.
int always_on(const Board& board, const Trial& trial);
// Loads that work while no button is pressed and go out when one is, all else left alone: a press mostly wakes a lamp.
int put_out_by_a_press(const Board& board, const Scene& scene, const Trial& trial);

bool is_load(const Part& part);
// Does a load visibly work in this reading?
bool works(const PartReading& reading);

}  // namespace tiepoint
