// What the document needs to know of a kind of part: its leads, its footprint and its values. Electrical meaning is added in
// engine/parts; a Board and its Edits see only this.
#pragma once

#include <span>
#include <string_view>

namespace tiepoint {

enum class Seat : unsigned char {
  kFlexible,  // each lead goes into its own hole within reach (resistor, LED, wire)
  kRigid,     // the pins keep their pattern (button, chip); the hole of pin 0 and the turn fix all others
  kMat,       // the body lies on the mat, its leads fly to any hole (supply, battery pack, motor)
};

struct LeadSpec {
  std::string_view name;   // unique within the kind, as written in files: "anode", "1", "+"
  int dx = 0, dy = 0;      // rigid footprints: hole steps from lead 0 at turn 0
  int joined = -1;         // leads with the same number >= 0 are one piece of metal inside the part
};

struct Footprint {
  Seat seat = Seat::kFlexible;
  double reach_min = 1, reach_max = 1;    // flexible: distance between the two leads, hole steps
  double body_length = 0, body_width = 0; // hole steps; the body covers holes whose centre is inside it. 0: stands clear
};

enum class Use : unsigned char {
  kValue,      // set with the inspector: a resistance, a colour
  kMomentary,  // held by a hand: 1 while pressed, back to 0 when released; never an undo step of its own
  kPosition,   // stays where it is put: a slide, a switch of a supply
};

struct ValueSpec {
  std::string_view key;                       // as written in files: "resistance"
  std::string_view unit;                      // SI unit, "" for none
  double standard = 0;                        // the default
  double minimum = 0, maximum = 0;            // inclusive, in the SI unit
  std::span<const std::string_view> options;  // when not empty the value is an index into these words
  Use use = Use::kValue;
  int series = 0;                             // E-series offered by the inspector (12, 24), 0 for none
};

struct PartKind {
  std::string_view key;      // "push-button"
  std::string_view prefix;   // reference prefix, "S"
  std::span<const LeadSpec> leads;
  Footprint footprint;
  std::span<const ValueSpec> values;
  bool conductor = false;    // joins its leads by metal (jumper wire): one net
  bool touches = false;      // its leads are probes held against metal: they take no hole, and a hole with a lead in it has room for them
};

// The kinds a Board may hold. A view of static data.
struct Catalogue {
  std::span<const PartKind* const> kinds;
  const PartKind* find(std::string_view key) const {
    for (const PartKind* kind : kinds)
      if (kind->key == key) return kind;
    return nullptr;
  }
};

}  // namespace tiepoint
