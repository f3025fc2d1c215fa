// Boards for the engine tests, written hole by hole. A seat that the board would refuse fails the test.
#pragma once

#include <gtest/gtest.h>

#include <initializer_list>
#include <string>
#include <utility>

#include "engine/board/board.h"
#include "engine/parts/part_type.h"

namespace tiepoint {

struct BoardBuilder {
  Board board;

  explicit BoardBuilder(LayoutKind kind = LayoutKind::k400, bool split_rails = false) {
    board.breadboards[0].layout = kind;
    board.breadboards[0].split_rails = split_rails;
  }

  // "" is a lead in the air. Rigid parts: the hole of lead 0 and the turn.
  BoardBuilder& add(std::string_view kind, std::string name, std::initializer_list<std::string_view> holes, int turn = 0) {
    const PartKind* found = catalogue().find(kind);
    if (!found) {
      ADD_FAILURE() << "no kind " << kind;
      return *this;
    }
    Part part = make_part(*found);
    part.name = std::move(name);
    part.id = PartId{uint32_t(board.parts.size()) + 1};
    part.turn = turn;
    size_t lead = 0;
    for (std::string_view hole : holes) {
      if (!hole.empty()) part.leads[lead] = at(hole);
      ++lead;
    }
    if (found->footprint.seat == Seat::kRigid && part.leads[0].valid()) {
      const Result<std::vector<Hole>> all = rigid_holes(board, *found, part.leads[0], turn);
      if (all) part.leads = *all;
    }
    const Status seat = check_seat(board, part);
    if (!seat.ok()) ADD_FAILURE() << part.name << ": " << text(seat.error());
    board.parts.push_back(std::move(part));
    return *this;
  }

  BoardBuilder& set(std::string_view key, double value) {
    Part& part = board.parts.back();
    const int index = value_index(*part.kind, key);
    if (index < 0) {
      ADD_FAILURE() << part.name << " has no value " << key;
      return *this;
    }
    const Status fits = check_value(*part.kind, index, value);
    if (!fits.ok()) ADD_FAILURE() << part.name << ": " << text(fits.error());
    part.values[size_t(index)] = value;
    return *this;
  }

  Hole at(std::string_view name) const {
    const Result<Hole> hole = board.hole(name);
    if (!hole) ADD_FAILURE() << "no hole " << name;
    return hole ? *hole : Hole{};
  }

  int part(std::string_view name) const {
    for (size_t p = 0; p < board.parts.size(); ++p)
      if (board.parts[p].name == name) return int(p);
    ADD_FAILURE() << "no part " << name;
    return 0;
  }
};

// Supply, resistor, button and LED in one loop, the first circuit anyone builds.
inline BoardBuilder one_button() {
  BoardBuilder b;
  b.add("usb-supply", "PS1", {"top+1", "top-1"});
  b.add("jumper-wire", "W1", {"top+2", "a5"});
  b.add("push-button", "S1", {"e5"});
  b.add("resistor", "R1", {"d7", "d12"});
  b.add("led", "LED1", {"c12", "c13"});
  b.add("jumper-wire", "W2", {"a13", "top-13"});
  return b;
}

}  // namespace tiepoint
