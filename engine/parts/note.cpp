// A note: a slip of paper with a few words (the part's label), lying on the mat or on the board, with a pointer to a hole where
// one is wanted. The circuit knows nothing of it.
#include <array>

#include "engine/parts/families.h"

namespace tiepoint {
namespace {

constexpr std::array<LeadSpec, 1> kLeads = {{{.name = "pointer"}}};

void elements(const Board&, const Part&, ElementList&) {}
Ratings ratings(const Part&) { return {}; }
void read(const Part&, const LeadNumbers&, PartNumbers&) {}

}  // namespace

constexpr PartType kNote = {
    {.key = "note",
     .prefix = "N",
     .leads = kLeads,
     .footprint = {.seat = Seat::kMat, .reach_min = 0, .reach_max = 0, .body_length = 7, .body_width = 2},
     .values = {},
     .touches = true},
    "wires",
    Body::kNote,
    elements,
    0,
    ratings,
    read,
    -1,
    "note label text paper sign name write"};

}  // namespace tiepoint
