// Fault hunts for the page: what can be hidden, hiding it, showing it.
#pragma once

#include "shell/bench/bench.h"
#include "shell/bench/page_json.h"
#include "shell/bench/page_request.h"

namespace tiepoint {

// "faults": [{"part": "R1", or "rail": "top+", "what": "open"|"worn"|"off-value"|"run-down"|"stuck"|"cracked", "times": of an off value}].
void write_faults(PageJson& out, const Board& board);
// Hides `count` faults that follow from `seed`, or the one at index `fault` of write_faults beside those that are hidden; as one
// step. Errors: kMissingKey, kWrongType, kBadValue.
Status hide_command(Bench& bench, const page::Json& request);

}  // namespace tiepoint
