#include "engine/file/json.h"

#include "engine/board/words.h"
#include "engine/file/json_node.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

constexpr int kVersion = 1;

// Is it a board file of a version known here? Asked first: a newer file may well have entries unknown here.
Status check_format(const JsonNode& root) {
  const Result<JsonNode> format = need(root, "tiepoint");
  if (!format) return format.error();
  const Result<std::string> word = read_text(*format);
  if (!word) return word.error();
  if (*word != "board")
    return at(*format,
              {.code = Code::kWrongFile, .found = "a file of kind " + in_quotes(*word), .expected = "a board file, \"board\""});
  const Result<JsonNode> version = need(root, "version");
  if (!version) return version.error();
  const Result<double> number = read_number(*version);
  if (!number) return number.error();
  if (*number > kVersion)
    return at(*version, {.code = Code::kNewerVersion, .found = number_text(*number), .expected = std::to_string(kVersion)});
  const Result<int> whole = read_whole(*version, 1, kVersion);
  if (!whole) return whole.error();
  return done();
}

Status read_parts(const JsonNode& node, const Catalogue& catalogue, Board& board) {
  if (const Status status = expect_list(node); !status) return status;
  if (node.size() > kMaxParts)
    return at(node, {.code = Code::kTooMany,
                     .found = std::to_string(node.size()) + " parts",
                     .expected = std::to_string(kMaxParts) + " parts"});
  for (size_t i = 0; i < node.size(); ++i) {
    const JsonNode entry = node.item(i);
    Result<Part> part = read_part(entry, board, catalogue, PartObject::kInFile);
    if (!part) return part.error();
    Error error;
    if (part->name.empty()) {  // an edit would choose one, a file says what it means
      error = Error{
          .code = Code::kBadName, .found = in_quotes(""), .expected = "a name such as " + board.free_name(part->kind->prefix)};
    } else {
      const Result<Applied> applied = apply(board, Edit{PlacePart{*part}});
      if (applied) continue;
      error = applied.error();
    }
    error.pointer = pointer_of(entry, *part, error);
    return error;
  }
  return done();
}

}  // namespace

Result<Board> read_board(std::string_view text, const Catalogue& catalogue) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  return read_board(json->root(), catalogue);
}

Result<Board> read_board(const JsonNode& root, const Catalogue& catalogue) {
  if (const Status status = expect_object(root); !status) return status.error();
  if (const Status status = check_format(root); !status) return status.error();
  if (const Status status = check_keys(root, {"tiepoint", "version", "title", "breadboards", "parts", "realism", "hunt"}); !status)
    return status.error();

  Board board;
  if (const std::optional<JsonNode> title = root.find("title")) {
    const Result<std::string> words = read_text(*title);
    if (!words) return words.error();
    const Result<Applied> applied = apply(board, Edit{SetTitle{*words}});
    if (!applied) return at(*title, applied.error());
  }
  const Result<JsonNode> breadboards = need(root, "breadboards");
  if (!breadboards) return breadboards.error();
  Result<std::vector<Breadboard>> list = read_breadboards(*breadboards);
  if (!list) return list.error();
  board.breadboards = std::move(list).value();
  const Result<JsonNode> parts = need(root, "parts");
  if (!parts) return parts.error();
  if (const Status status = read_parts(*parts, catalogue, board); !status) return status.error();
  if (const std::optional<JsonNode> entry = root.find("realism")) {
    const Result<Realism> realism = read_realism(*entry);
    if (!realism) return realism.error();
    board.realism = *realism;
  }
  if (const std::optional<JsonNode> entry = root.find("hunt")) {
    Result<std::vector<HuntEntry>> hunt = read_hunt(*entry);
    if (!hunt) return hunt.error();
    const Result<Applied> applied = apply(board, Edit{SetHunt{std::move(hunt).value()}});
    if (!applied) return at(*entry, applied.error());
  }
  return board;
}

std::string write_board(const Board& board) {
  std::string out =
      "{\n\"tiepoint\":\"board\",\n\"version\":" + std::to_string(kVersion) + ",\n\"title\":" + json_text(board.title);
  out += ",\n\"breadboards\":[";
  for (size_t i = 0; i < board.breadboards.size(); ++i)
    out += (i > 0 ? ",\n " : "\n ") + write_breadboard(board.breadboards[i]);
  out += "\n],\n\"parts\":[";
  for (size_t i = 0; i < board.parts.size(); ++i) out += (i > 0 ? ",\n {" : "\n {") + write_part(board, board.parts[i]) + "}";
  out += "\n]";
  if (board.realism != Realism{}) out += ",\n\"realism\":" + write_realism(board.realism);
  if (!board.hunt.empty()) out += ",\n\"hunt\":" + write_hunt(board.hunt);
  return out + "\n}\n";
}

}  // namespace tiepoint
