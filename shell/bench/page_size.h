// "Which value?" for the page (engine/logic/values.h, sizing.h).
//   {"do": "size"}       -> questions: [{"key", "fields": [{"key", "unit", "standard": as it is written, "" for none, "must":
//   true}],
//                           "colours": of the LED, if it has any}]
//   {"do": "size", "of": "divider", "given": {"supply": "9 V", …}, "colour": "red", "series": 12}
//                        -> formula, rows: [{"text", "nearest"}]. Errors of a field have "/given/KEY" as pointer.
#pragma once

#include <rapidjson/document.h>

#include "engine/error.h"
#include "shell/bench/page_json.h"

namespace tiepoint {

Status size_command(const rapidjson::Value& request, PageJson& out);

}  // namespace tiepoint
