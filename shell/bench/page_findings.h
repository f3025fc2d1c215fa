// Findings for the page: members of the answer to {"do":"findings"}, written into an open object.
#pragma once

#include "engine/session/session.h"
#include "shell/bench/bench.h"
#include "shell/bench/page_json.h"
#include "shell/bench/page_request.h"

namespace tiepoint {

// "works"; "findings": [{"kind", "severity", "nudge", "pointer", "repair" (sentences), "parts": [names], "holes": [names],
// "misconception", "edits": [edit, ...] in the order of applying them, "insteadOf": index or null}], best first.
void write_findings(PageJson& out, const Session& session);

// "answer": key, "text": sentence, "press": [names], "steps": [{"part", "in", "out", "voltage", "current", "text"}], for one part. Gives the
// way back as signs.
Signs write_why(PageJson& out, const Session& session, const Part& part);

// What the bench points at, from now on and instead of what it pointed at before: "holes" and "parts": flags, "edits": a repair shown before
// it is made. None of them: nothing is pointed at. Errors: of reading an edit or a hole, kUnknownPart, and why the repair cannot be made.
Status set_signs(const page::Json& request, Bench& bench);

}  // namespace tiepoint
