// Reads what a request of the page holds: members with their types, and what a person has written: values and holes. Errors
// carry the place in the request.
#pragma once

#include <rapidjson/document.h>

#include <string>
#include <string_view>
#include <vector>

#include "engine/board/board.h"
#include "engine/error.h"

namespace tiepoint::page {

using Json = rapidjson::Value;

std::string_view view(const Json& text);
std::string text_of_json(const Json& json);
std::string_view trimmed(std::string_view text);

Error wrong_type(std::string_view name, std::string_view expected);
Error missing(std::string_view name);
Error unknown_value(const PartKind& kind, std::string_view part, std::string_view found);

const Json* find(const Json& object, const char* name);  // null when it is not there
// Errors: kMissingKey, kWrongType.
Result<std::string> text_of(const Json& object, const char* name);
Result<std::string> optional_text(const Json& object, const char* name);  // "" when it is not given
Result<double> number_of(const Json& object, const char* name);
Result<double> number_of(const Json& object, const char* name, double otherwise);
Result<bool> truth_of(const Json& object, const char* name, bool otherwise);
Status take_option(const Json& object, const char* name, bool& option);  // changed when it is named

// "4k7", "100 nF", "104", "yellow violet red gold", "green", or a number. Errors: kBadValue.
Result<double> read_value(const ValueSpec& spec, const Json& json);
// The request's "values" into a part called `name`, as read_value reads them.
Status read_values(const Json& request, std::string_view name, Part& part);
// The request's "holes": one for every lead; of rigid parts only the first. An empty name lifts a lead out, where that makes
// sense.
Result<std::vector<Hole>> read_holes(const Json& request, const Board& board, const PartKind& kind, std::string_view part);

}  // namespace tiepoint::page
