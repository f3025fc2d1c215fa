// A small set of kinds of our own for the tests of the document, so that they do not depend on the catalogue, and a source of
// random edits over them.
#pragma once

#include <array>
#include <random>
#include <string>
#include <vector>

#include "engine/board/board.h"
#include "engine/board/edit.h"

namespace tiepoint::small {

inline constexpr std::array<LeadSpec, 2> kTwoLeads = {{{.name = "1"}, {.name = "2"}}};
inline constexpr std::array<LeadSpec, 2> kPoles = {{{.name = "+"}, {.name = "-"}}};
inline constexpr std::array<LeadSpec, 3> kThreeLeads = {{{.name = "e"}, {.name = "b"}, {.name = "c"}}};
inline constexpr std::array<LeadSpec, 4> kButtonLeads = {
    {{.name = "1"}, {.name = "2", .dy = 3}, {.name = "3", .dx = 2}, {.name = "4", .dx = 2, .dy = 3}}};
inline constexpr std::array<LeadSpec, 3> kSlideLeads = {{{.name = "1"}, {.name = "common", .dx = 1}, {.name = "2", .dx = 2}}};
// Eight pins in two rows across the centre gap; pin 1 lower left, counted anticlockwise.
inline constexpr std::array<LeadSpec, 8> kChipLeads = {{{.name = "1"},
                                                        {.name = "2", .dx = 1},
                                                        {.name = "3", .dx = 2},
                                                        {.name = "4", .dx = 3},
                                                        {.name = "5", .dx = 3, .dy = -3},
                                                        {.name = "6", .dx = 2, .dy = -3},
                                                        {.name = "7", .dx = 1, .dy = -3},
                                                        {.name = "8", .dx = 0, .dy = -3}}};

inline constexpr std::array<std::string_view, 3> kColours = {"red", "green", "blue"};
inline constexpr std::array<std::string_view, 2> kPositions = {"left", "right"};
inline constexpr std::array<ValueSpec, 2> kResistorValues = {
    {{.key = "resistance", .unit = "Ω", .standard = 330, .minimum = 0.1, .maximum = 22e6},
     {.key = "colour", .unit = "", .standard = 1, .maximum = 2, .options = kColours}}};
inline constexpr std::array<ValueSpec, 1> kPressed = {{{.key = "pressed", .unit = "", .maximum = 1, .use = Use::kMomentary}}};
inline constexpr std::array<ValueSpec, 1> kPosition = {
    {{.key = "position", .unit = "", .maximum = 1, .options = kPositions, .use = Use::kPosition}}};
inline constexpr std::array<ValueSpec, 1> kOn = {
    {{.key = "on", .unit = "", .standard = 1, .maximum = 1, .use = Use::kPosition}}};

inline constexpr PartKind kWire = {.key = "jumper-wire",
                                   .prefix = "W",
                                   .leads = kTwoLeads,
                                   .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 80},
                                   .conductor = true};
inline constexpr PartKind kResistor = {
    .key = "resistor",
    .prefix = "R",
    .leads = kTwoLeads,
    .footprint = {.seat = Seat::kFlexible, .reach_min = 4, .reach_max = 16, .body_length = 2.5, .body_width = 1},
    .values = kResistorValues};
inline constexpr PartKind kTriple = {.key = "triple",
                                     .prefix = "Q",
                                     .leads = kThreeLeads,
                                     .footprint = {.seat = Seat::kFlexible, .reach_min = 1, .reach_max = 3}};
inline constexpr PartKind kButton = {.key = "push-button",
                                     .prefix = "S",
                                     .leads = kButtonLeads,
                                     .footprint = {.seat = Seat::kRigid, .body_length = 2.4, .body_width = 2.4},
                                     .values = kPressed};
inline constexpr PartKind kSlide = {
    .key = "slide", .prefix = "S", .leads = kSlideLeads, .footprint = {.seat = Seat::kRigid}, .values = kPosition};
inline constexpr PartKind kChip = {.key = "chip",
                                   .prefix = "U",
                                   .leads = kChipLeads,
                                   .footprint = {.seat = Seat::kRigid, .body_length = 4, .body_width = 2.5}};
inline constexpr PartKind kSupply = {
    .key = "supply", .prefix = "PS", .leads = kPoles, .footprint = {.seat = Seat::kMat}, .values = kOn};

inline constexpr std::array<const PartKind*, 7> kKinds = {&kWire, &kResistor, &kTriple, &kButton, &kSlide, &kChip, &kSupply};
inline constexpr Catalogue kCatalogue = {kKinds};

inline Hole hole(const Board& board, std::string_view name) {
  const Result<Hole> found = board.hole(name);
  return found ? *found : Hole{};
}

inline Part part(const Board& board, const PartKind& kind, std::string name, const std::vector<std::string>& holes,
                 int turn = 0) {
  Part out = make_part(kind);
  out.name = std::move(name);
  out.turn = turn;
  for (size_t lead = 0; lead < holes.size() && lead < out.leads.size(); ++lead) out.leads[lead] = hole(board, holes[lead]);
  return out;
}

inline Result<Applied> place(Board& board, const PartKind& kind, std::string name, const std::vector<std::string>& holes,
                             int turn = 0) {
  return apply(board, Edit{PlacePart{part(board, kind, std::move(name), holes, turn)}});
}

// Two breadboards of different layouts, one above the other, columns aligned.
inline std::vector<Breadboard> two_breadboards() {
  return {{.layout = LayoutKind::k400}, {.layout = LayoutKind::k170, .origin = {4, 16}}};
}

// Every kind of edit, sensible and not: about half of them do not fit.
class RandomEdits {
 public:
  explicit RandomEdits(uint32_t seed) : random_(seed) {}

  Edit next(const Board& board) {
    switch (pick(20)) {
      case 0:
      case 1:
      case 2:
      case 3:
      case 4:
        return {place(board)};
      case 5:
      case 6:
        return {move(board)};
      case 7:
        return {TurnPart{name(board), pick(9) - 4}};
      case 8:
        return {SeatLead{name(board), pick(5) - 1, any_hole(board)}};
      case 9:
        return {RemovePart{name(board)}};
      case 10:
        return {SetValue{name(board), std::array{"resistance", "colour", "on", "position"}[static_cast<size_t>(pick(4))],
                         number()}};
      case 11:
        return {RenamePart{name(board), std::array{"R1", "lamp", "9x", "S-2"}[static_cast<size_t>(pick(4))]}};
      case 12:
        return {LabelPart{name(board), pick(5) == 0 ? std::string("\xC3\x28") : "fog bell \"Ω\"\n"}};
      case 13:
        return {RouteWire{name(board), bends()}};
      case 14:
        return {PressPart{name(board), pick(2) == 0}};
      case 15:
        return {SlidePart{name(board), pick(4) - 1}};
      case 16:
        return {SwitchSupply{name(board), pick(2) == 0}};
      case 17:
        return {breadboards()};
      case 18:
        return {SetTitle{pick(2) == 0 ? "Lamp room" : "Fog signal"}};
      default:
        return {batch(board)};
    }
  }

  int pick(int count) { return static_cast<int>(random_() % static_cast<uint32_t>(count)); }

 private:
  double number() {
    return std::array{0.0, 1.0, 2.0, 0.1, 4700.0, 1e9, -1.0, 0.30000000000000004, 1.0 / 3.0}[static_cast<size_t>(pick(9))];
  }
  std::string name(const Board& board) {
    return board.parts.empty() || pick(20) == 0
               ? "X9"
               : board.parts[static_cast<size_t>(pick(static_cast<int>(board.parts.size())))].name;
  }
  Hole any_hole(const Board& board) {
    if (pick(12) == 0) return {};
    const int breadboard = pick(static_cast<int>(board.breadboards.size()));
    const int count = layout(board.breadboards[static_cast<size_t>(breadboard)].layout).hole_count();
    return {static_cast<uint8_t>(breadboard), static_cast<uint16_t>(pick(count + (pick(30) == 0 ? 5 : 0)))};
  }
  std::vector<MatPoint> bends() {
    std::vector<MatPoint> out;
    for (int i = pick(4); i > 0; --i) out.push_back({number(), pick(2) == 0 ? 7.25 : 1.0 / 3.0});
    return out;
  }
  // A hole near the first for the second lead, so that many of the parts fit.
  std::vector<Hole> leads(const Board& board, const PartKind& kind) {
    std::vector<Hole> out{any_hole(board)};
    for (size_t lead = 1; lead < kind.leads.size(); ++lead) {
      const MatPoint last = board.mat_of(out.back());
      out.push_back(pick(3) == 0 ? any_hole(board)
                                 : board.hole_at({static_cast<int>(last.x) + pick(8), static_cast<int>(last.y) + pick(3)}));
    }
    return out;
  }
  PlacePart place(const Board& board) {
    const PartKind& kind = *kKinds[static_cast<size_t>(pick(static_cast<int>(kKinds.size())))];
    PlacePart edit{make_part(kind)};
    edit.part.leads = leads(board, kind);
    edit.part.turn = pick(4);
    edit.part.mat = {number(), 0.5};
    if (pick(3) == 0 && !edit.part.values.empty()) edit.part.values[0] = number();
    if (kind.conductor) edit.part.bends = bends();
    if (pick(5) == 0) edit.part.name = "lamp";
    if (pick(5) == 0) edit.index = pick(3);
    return edit;
  }
  MovePart move(const Board& board) {
    MovePart edit{.part = name(board), .turn = pick(4), .mat = {number(), 1.0 / 7.0}};
    const Part* part = board.find(edit.part);
    if (part && pick(3) != 0) edit.leads = leads(board, *part->kind);
    return edit;
  }
  SetBreadboards breadboards() {
    if (pick(2) == 0) return {two_breadboards()};
    return {{{.layout = std::array{LayoutKind::k830, LayoutKind::k400}[static_cast<size_t>(pick(2))],
              .split_rails = pick(2) == 0,
              .cracks = {Crack(pick(3)), Crack(pick(3))}}}};
  }
  Batch batch(const Board& board) {
    Batch out;
    Board after = board;
    for (int i = pick(4); i > 0; --i) {
      out.edits.push_back(next(after));
      const Result<Applied> applied = apply(after, out.edits.back());
      if (!applied && pick(4) != 0) out.edits.pop_back();
    }
    return out;
  }

  std::mt19937 random_;
};

}  // namespace tiepoint::small
