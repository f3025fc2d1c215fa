// The truth table of the board for the page: members of the answer to {"do":"truth"}, written into an open object.
#pragma once

#include "engine/board/board.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

// "sampled"; "inputs": [{"name", "positions": [words of the positions, "" for down/up]}]; "rows": [{"at": [...], "seen": ["on"|"off"|
// "periodic"|"unknown"], "state": [...]}]; "outputs": [{"name", "remembers", "periodic", "terms": [[{"input", "plain"}]] or null}].
// Terms are the smallest sum of products: outer list "or", inner list "and"; an empty inner list is always, an empty outer never.
void write_truth(PageJson& out, const Board& board);

}  // namespace tiepoint
