// Words for error messages: numbers, quantities and names as a person would read them.
#pragma once

#include <string>
#include <string_view>

namespace tiepoint {

// Up to nine significant digits: for messages, not for files.
std::string number_text(double value);
// "4.7 kΩ": a number with an SI prefix and its unit; "4700" when there is no unit.
std::string quantity_text(double value, std::string_view unit);
// In quotation marks, cut at about 40 characters, never inside one.
std::string in_quotes(std::string_view text);
// A part's name as it is; whatever could not be one, or would be hard to see, is quoted.
std::string shown_name(std::string_view name);
// Whole and valid UTF-8?
bool is_utf8(std::string_view text);

}  // namespace tiepoint
