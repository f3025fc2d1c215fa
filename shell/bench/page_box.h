// Commands of the page about the parts box and the hill: looking for parts, taking one into the hand, the steps of a path.
#pragma once

#include "shell/bench/page_json.h"
#include "shell/bench/page_request.h"

namespace tiepoint {

class Bench;

// {"do": "find"}: see page_api.h.
Status find_command(Bench& bench, const page::Json& request, PageJson& out);
// {"do": "hill"}: the voltage along a path, step by step.
Status hill_command(Bench& bench, const page::Json& request, PageJson& out);
Status take_command(Bench& bench, const page::Json& request);

}  // namespace tiepoint
