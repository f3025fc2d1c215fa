// Jumper wire: solid copper, stripped at both ends.
//
//   R = length * awg_resistance(gauge) + two spring contacts
//
// Length: the straight way between its two holes plus 6 mm down each hole (stripping 5 to 8 mm: Robot Builder's Bonanza).
// Gauge 22 is what fits well; thicker than 20 spreads the springs, thinner than 26 sits loose (same source).
// A breadboard contact carries about 1 A (rating of a typical board at 5 V; read in an encyclopaedia, no maker's sheet found).

#include <array>
#include <cmath>

#include "engine/parts/families.h"
#include "engine/parts/marking.h"

namespace tiepoint {
namespace {

constexpr double kDownTheHoles = 2 * 6e-3;  // [m]
constexpr double kContactCurrent = 1.0;     // [A]

constexpr std::array<std::string_view, 10> kColours = {"red",    "black", "yellow", "green",  "blue",
                                                       "orange", "white", "brown",  "violet", "grey"};
constexpr std::array<std::string_view, 7> kGauges = {"20", "21", "22", "23", "24", "25", "26"};
constexpr int kFirstGauge = 20;

enum { kColour, kGauge };
constexpr std::array<ValueSpec, 2> kValues = {{
    {.key = "colour", .unit = "", .standard = 3, .minimum = 0, .maximum = double(kColours.size() - 1), .options = kColours},
    {.key = "gauge", .unit = "", .standard = 2, .minimum = 0, .maximum = double(kGauges.size() - 1), .options = kGauges},
}};
constexpr std::array<LeadSpec, 2> kLeads = {{{.name = "1"}, {.name = "2"}}};

double length(const Board& board, const Part& part) {
  if (!part.leads[0].valid() || !part.leads[1].valid()) return kDownTheHoles;
  const MatPoint a = board.mat_of(part.leads[0]), b = board.mat_of(part.leads[1]);
  const double dx = b.x - a.x, dy = b.y - a.y;
  return std::sqrt(dx * dx + dy * dy) * kPitch + kDownTheHoles;
}

void elements(const Board& board, const Part& part, ElementList& out) {
  const int gauge = kFirstGauge + int(part.values[kGauge]);
  out.add(ElementKind::kResistor, {0, 1}, {length(board, part) * awg_resistance(gauge) + kTwoContacts});
}

Ratings ratings(const Part&) { return {.current = kContactCurrent}; }

void read(const Part&, const LeadNumbers& leads, PartNumbers& out) {
  if (!read_two_leads(leads, out)) return;
  const double size = std::abs(out.current);
  out.state = size > kContactCurrent ? State::kOverloaded : size > kIdleCurrent ? State::kCarrying : State::kIdle;
}

}  // namespace

constexpr PartType kJumperWire = {{.key = "jumper-wire",
                                   .prefix = "W",
                                   .leads = kLeads,
                                   .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 120},
                                   .values = kValues,
                                   .conductor = true},
                                  "wires",
                                  Body::kWire,
                                  elements,
                                  0,
                                  ratings,
                                  read,
                                  -1,
                                  "wire jumper cable lead connection"};

}  // namespace tiepoint
