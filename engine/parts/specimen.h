// The part as it really is: its catalogue model with what is wrong with this one specimen, and with the spread a real box of
// parts has. The circuit is extracted from these; whoever reasons about how a board is meant uses PartType::elements, the part
// as it says on it.
//
// Spread, drawn from the board's seed, the part's name and its specimen number, evenly within:
//   resistor       the tolerance that its last band tells (IEC 60062)
//   capacitor      10 % ceramic, 20 % electrolytic (letters K and M of IEC 60062, the usual ones; common practice, no source)
//   LED            forward voltage 0.1 V to either side of the typical one (the sheets tell typical and largest only: own choice)
//   LM358          input offset of each amplifier up to 7 mV either way (TI SLOS068E: the largest)
//   LM393          of each comparator up to 5 mV either way (TI, the largest at 25 C, from memory)
//   jumper wire    up to 0.1 ohm more contact resistance (spring contacts age; common practice, no source)
#pragma once

#include "engine/parts/part_type.h"

namespace tiepoint {

void real_elements(const Board& board, const Part& part, ElementList& out);
int real_inner_nodes(const Part& part);

// The same board as it looks: hidden defects, hidden cracks and spread taken away; of the parts that died `also_dead` ones too.
Board as_it_looks(const Board& board, bool also_dead = false);
// Is anything on it other than it looks, or dead?
bool has_secrets(const Board& board);

}  // namespace tiepoint
