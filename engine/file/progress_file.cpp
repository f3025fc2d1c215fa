// Progress in a lesson, in and out.
#include "engine/board/words.h"
#include "engine/file/lesson_file.h"
#include "engine/file/lesson_json.h"

namespace tiepoint {
namespace {

Status read_step_progress(const JsonNode& node, StepProgress& out) {
  if (const Status status =
          check_keys(node, {"id", "done", "judged", "answer", "right", "answers", "tries", "hints", "tags", "seconds", "seen"});
      !status)
    return status;
  if (const Status status = read_flag(node, "done", out.done); !status) return status;
  if (const Status status = read_flag(node, "judged", out.judged); !status) return status;
  if (const Status status = read_flag(node, "right", out.right); !status) return status;
  if (const Status status = read_flag(node, "seen", out.seen); !status) return status;
  if (const Status status = read_words(node, "answer", out.answer); !status) return status;
  if (const Status status = read_words(node, "tags", out.tags); !status) return status;
  const std::pair<std::string_view, int*> counts[] = {{"answers", &out.answers}, {"tries", &out.tries}, {"hints", &out.hints}};
  for (const auto& [name, count] : counts) {
    const auto entry = node.find(name);
    if (!entry) continue;
    const Result<int> number = read_whole(*entry, 0, name == "hints" ? kHintDepths : 1000000);
    if (!number) return number.error();
    *count = *number;
  }
  if (const auto seconds = node.find("seconds")) {
    const Result<double> number = read_number(*seconds);
    if (!number) return number.error();
    if (!(*number >= 0))
      return at(*seconds, {.code = Code::kBadValue, .found = number_text(*number), .expected = "seconds gone by"});
    out.seconds = *number;
  }
  return done();
}

}  // namespace

Result<Progress> read_progress(std::string_view text, const Lesson& lesson) {
  const Result<JsonText> json = JsonText::parse(text);
  if (!json) return json.error();
  return read_progress(json->root(), lesson);
}

Result<Progress> read_progress(const JsonNode& root, const Lesson& lesson) {
  if (const Status status = expect_object(root); !status) return status.error();
  if (const Status status = check_lesson_format(root, "progress"); !status) return status.error();
  if (const Status status = check_keys(root, {"tiepoint", "version", "lesson", "help", "seed", "step", "steps"}); !status)
    return status.error();
  const Result<JsonNode> id = need(root, "lesson"), help = need(root, "help"), steps = need(root, "steps");
  if (!id) return id.error();
  if (!help) return help.error();
  if (!steps) return steps.error();
  const Result<std::string> name = read_text(*id), level = read_text(*help);
  if (!name) return name.error();
  if (!level) return level.error();
  const std::optional<Help> found = help_level(*level);
  if (!found) return at(*help, {.code = Code::kBadValue, .found = in_quotes(*level), .expected = "outline, parts or goal"});
  Progress progress = begin(lesson, *found);
  progress.lesson = *name;
  if (const auto seed = root.find("seed")) {
    const Result<int> number = read_whole(*seed, 0, 0x7FFFFFFF);
    if (!number) return number.error();
    progress.seed = uint32_t(*number);
  }
  if (const auto step = root.find("step")) {
    const Result<std::string> step_id = read_text(*step);
    if (!step_id) return step_id.error();
    progress.step = lesson.step_index(*step_id);
    if (progress.step < 0)
      return at(*step, {.code = Code::kBadValue, .found = in_quotes(*step_id), .expected = "the id of a step"});
  }
  if (const Status status = expect_list(*steps); !status) return status.error();
  for (size_t i = 0; i < steps->size(); ++i) {
    const JsonNode entry = steps->item(i);
    const Result<JsonNode> step_node = need(entry, "id");
    if (!step_node) return step_node.error();
    const Result<std::string> step_id = read_text(*step_node);
    if (!step_id) return step_id.error();
    const int index = lesson.step_index(*step_id);
    if (index < 0)
      return at(*step_node, {.code = Code::kBadValue, .found = in_quotes(*step_id), .expected = "the id of a step"});
    if (const Status status = read_step_progress(entry, progress.steps[size_t(index)]); !status) return status.error();
  }
  if (const Status status = belongs(lesson, progress); !status) return at(*id, status.error());
  return progress;
}

std::string write_progress(const Lesson& lesson, const Progress& progress) {
  const auto flag = [](bool is) { return std::string(is ? "true" : "false"); };
  std::string out = "{\n\"tiepoint\":\"progress\",\n\"version\":" + std::to_string(kLessonVersion) +
                    ",\n\"lesson\":" + json_text(progress.lesson) + ",\n\"help\":" + json_text(key(progress.help)) +
                    ",\n\"seed\":" + std::to_string(progress.seed) +
                    ",\n\"step\":" + json_text(lesson.steps[size_t(progress.step)].id) + ",\n\"steps\":[";
  for (size_t i = 0; i < progress.steps.size(); ++i) {
    const StepProgress& step = progress.steps[i];
    std::string tags;
    for (const std::string& tag : step.tags) tags += (tags.empty() ? "" : ",") + json_text(tag);
    out += (i > 0 ? ",\n {" : "\n {") + ("\"id\":" + json_text(lesson.steps[i].id)) + ",\"done\":" + flag(step.done) +
           ",\"judged\":" + flag(step.judged) + ",\"answer\":" + json_text(step.answer) + ",\"right\":" + flag(step.right) +
           ",\"answers\":" + std::to_string(step.answers) + ",\"tries\":" + std::to_string(step.tries) +
           ",\"hints\":" + std::to_string(step.hints) + ",\"tags\":[" + tags + "],\"seconds\":" + json_number(step.seconds) +
           ",\"seen\":" + flag(step.seen) + "}";
  }
  return out + "\n]\n}\n";
}

}  // namespace tiepoint
