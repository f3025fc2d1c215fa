// What a picture shows of a part's readings, in the steps an eye tells apart. The drawings get this and nothing else, so a part
// whose shown numbers stayed the same looks the same.
#pragma once

#include "engine/parts/part_type.h"
#include "shell/bench/draw.h"

namespace tiepoint {

PartNumbers shown_of(const Part& part, const PartNumbers& reading);
uint64_t key_of(const PartNumbers& shown);
// All that draw_part reads.
uint64_t key_of(const Camera& camera, const Part& part, const Pose& pose, const PartLook& look, float px);

}  // namespace tiepoint
