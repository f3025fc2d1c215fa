// Findings for the page: members of the answer to {"do":"findings"}, written into an open object.
#pragma once

#include "engine/session/session.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

// "works"; "findings": [{"kind", "severity", "nudge", "pointer", "repair" (sentences), "parts": [names], "holes": [names],
// "misconception", "edits": [edit, ...] in the order of applying them, "insteadOf": index or null}], best first.
void write_findings(PageJson& out, const Session& session);

// "answer": key, "text": sentence, "press": [names], "steps": [{"part", "in", "out", "voltage", "current", "text"}], for one part.
void write_why(PageJson& out, const Session& session, const Part& part);

}  // namespace tiepoint
