// The bench told in data, for the page to put into words: what stands on the board, where every lead sits, what each part does.
// Pure functions of the session; nothing here draws.
#pragma once

#include "engine/session/session.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

// Members of the answer to {"do":"words"}; written into an open object.
void write_words(PageJson& out, const Session& session);
// Members of the answer to {"do":"joined","hole":...}: the clips that are one piece of metal with the hole, and the leads in them.
void write_joined(PageJson& out, const Session& session, Hole hole);
// "parts": name -> {"current", "voltage", "power", "brightness", "state"}, SI; null where there is no reading.
void write_readings(PageJson& out, const Session& session);
// "kinds": every kind of part that can be placed: leads, values, reach.
// "found": [{"kind", "values": those that are not the standard ones, as texts}].
void write_found(PageJson& out, std::span<const Part> parts);
void write_catalogue(PageJson& out, const Catalogue& catalogue);
// One object with the error's code and place.
void write_error(PageJson& out, const Error& error);

}  // namespace tiepoint
