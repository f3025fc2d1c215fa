// Places and names: puts into a finding where a movement begins and ends, whom it frees, and what all of that is called.
#pragma once

#include <string>
#include <vector>

#include "engine/circuit/wiring.h"
#include "engine/explain/finding.h"
#include "engine/explain/judge.h"
#include "engine/explain/repairs.h"
#include "engine/explain/scene.h"

namespace tiepoint {

// Of one board, whose scene and wiring live longer than this.
class Places {
 public:
  Places(const Board& board, const Wiring& wiring, const Scene& scene) : board_(board), wiring_(wiring), scene_(scene) {}

  Place place(int part, int lead = -1, bool with = false) const;
  std::string lead_name(int part, int lead) const;
  std::string strip_name(StripIndex strip) const;

  // Where the movement takes place, the culprits first.
  void name_places(Finding& f, const Candidate& c) const;
  // Of the flaws before those that are gone after the movement: who suffers from them.
  void name_sufferers(Finding& f, const Candidate& c, const std::vector<FlawAt>& before, const std::vector<FlawAt>& after) const;

 private:
  std::string name_of(int part) const { return board_.parts[size_t(part)].name; }
  Place strip_place(StripIndex strip, bool with = false) const;
  std::vector<Place> leads_in(StripIndex strip, int except_part, bool with) const;
  bool fed(StripIndex strip) const;

  const Board& board_;
  const Wiring& wiring_;
  const Scene& scene_;
};

}  // namespace tiepoint
