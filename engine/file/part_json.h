// The pieces that board files and edits have in common: a part, its values, holes, breadboards. Within this folder only.
#pragma once

#include <string>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/edit.h"
#include "engine/file/json_node.h"

namespace tiepoint {

// "c4" or, with the board's own words, an error with its place.
Result<Hole> read_hole(const JsonNode& node, const Board& board);
// {"1":"c4","2":"c9"}: a lead that is not named is in the air.
Result<std::vector<Hole>> read_leads(const JsonNode& node, const Board& board, const PartKind& kind, const std::string& part);
Result<MatPoint> read_point(const JsonNode& node);
Result<std::vector<MatPoint>> read_bends(const JsonNode& node);
Result<std::vector<Breadboard>> read_breadboards(const JsonNode& node);
// 330, "4k7", "red", true: whatever this value of the kind takes.
Result<double> read_value(const JsonNode& node, const PartKind& kind, int index, const std::string& part);
// A board as it stands in a file of its own, or inside another.
Result<Board> read_board(const JsonNode& node, const Catalogue& catalogue);
// One edit, about this board.
Result<Edit> read_edit(const JsonNode& node, const Board& board, const Catalogue& catalogue);
// A part object. In a file its name is a must; an edit may leave it out and have two more entries.
enum class PartObject { kInFile, kInEdit };
Result<Part> read_part(const JsonNode& node, const Board& board, const Catalogue& catalogue, PartObject where);
// Where in the part's object an error of placing it belongs.
std::string pointer_of(const JsonNode& node, const Part& part, const Error& error);

// What is wrong with a part; what is hidden stands sealed, so that whoever reads the file does not see it at once.
Result<Defect> read_defect(const JsonNode& node, const PartKind& kind);
Result<Defect> read_sealed(const JsonNode& node, const PartKind& kind, const std::string& part);
std::string write_defect(const PartKind& kind, const Defect& defect);
std::string seal_defect(const PartKind& kind, const Defect& defect, const std::string& part);
// The cracks in a breadboard's rails: {"cracked": "top+ bottom-"}, those that are hidden sealed.
Status read_cracks(const JsonNode& node, Breadboard& breadboard);
std::string write_cracks(const Breadboard& breadboard);
Result<Realism> read_realism(const JsonNode& node);
std::string write_realism(const Realism& realism);
Result<std::vector<HuntEntry>> read_hunt(const JsonNode& node);
std::string write_hunt(const std::vector<HuntEntry>& entries);

std::string write_leads(const Board& board, const PartKind& kind, const std::vector<Hole>& leads);
std::string write_point(MatPoint point);
std::string write_bends(const std::vector<MatPoint>& bends);
std::string write_breadboard(const Breadboard& breadboard);
std::string write_value(const ValueSpec& spec, double value);
// The entries of a part object, without its braces.
std::string write_part(const Board& board, const Part& part);

}  // namespace tiepoint
