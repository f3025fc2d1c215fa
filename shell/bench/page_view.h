// Commands of the page about how the bench is seen and heard, and how time goes on it. Their members: page_api.h.
#pragma once

#include "engine/session/session.h"
#include "shell/bench/page_json.h"
#include "shell/bench/page_request.h"

namespace tiepoint {

class Bench;

// {"do": "view"}. All of it is read before any of it takes effect.
Status view_command(Bench& bench, const page::Json& request, PageJson& out);
// {"do": "step"}: one step of time, while time stands.
Status step_command(Bench& bench, const page::Json& request, PageJson& out);
// What an ear beside the bench hears: each part that sounds, its pitch [Hz] slowed down with time, its power [W].
void write_sounds(PageJson& out, const Session& session, double pace);

}  // namespace tiepoint
