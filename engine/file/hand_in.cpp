#include "engine/file/hand_in.h"

#include <utility>

#include "engine/file/json_node.h"
#include "engine/file/lesson_json.h"
#include "engine/file/part_json.h"

namespace tiepoint {
namespace {

Status read_progress_into(const JsonNode& node, const Rubric& rubric, HandIn& out) {
  out.lesson = &rubric.of(seed_of_progress(node));
  Result<Progress> progress = read_progress(node, *out.lesson);
  if (!progress) return progress.error();
  out.progress = std::move(progress).value();
  return done();
}

}  // namespace

Result<HandIn> read_hand_in(std::string_view board, std::string_view progress, const Rubric& rubric) {
  const Result<JsonText> json = JsonText::parse(board);
  if (!json) return json.error();
  const JsonNode root = json->root();
  const auto kind = root.find("tiepoint");
  const bool both = kind && kind->is(JsonNode::Type::kText) && kind->text() == "hand-in";
  HandIn out;
  out.lesson = &rubric.of(0);
  if (both) {
    if (const Status status = check_lesson_format(root, "hand-in"); !status) return status.error();
    if (const Status status = check_keys(root, {"tiepoint", "version", "board", "progress"}); !status) return status.error();
  }
  const Result<JsonNode> board_node = both ? need(root, "board") : Result<JsonNode>(root);
  if (!board_node) return board_node.error();
  Result<Board> read = read_board(*board_node, *rubric.catalogue);
  if (!read) return read.error();
  out.board = std::move(read).value();
  if (both) {
    if (const auto node = root.find("progress"))
      if (const Status status = read_progress_into(*node, rubric, out); !status) return status.error();
  } else if (!progress.empty()) {
    const Result<JsonText> beside = JsonText::parse(progress);
    if (!beside) return beside.error();
    if (const Status status = read_progress_into(beside->root(), rubric, out); !status) return status.error();
  }
  return out;
}

}  // namespace tiepoint
