#include "engine/explain/places.h"

#include <algorithm>

namespace tiepoint {

Place Places::place(int part, int lead, bool with) const {
  Place at{.part = board_.parts[size_t(part)].id, .lead = lead, .with = with};
  if (lead >= 0) {
    at.hole = board_.parts[size_t(part)].leads[size_t(lead)];
    at.strip = scene_.strip_of_lead[size_t(scene_.lead_index(part, lead))];
  }
  return at;
}
Place Places::strip_place(StripIndex strip, bool with) const {
  Place at{.strip = strip, .with = with};
  const std::vector<Hole> holes = holes_of(board_, wiring_, strip);
  if (!holes.empty()) at.hole = holes.front();
  return at;
}
// Leads other than `except` in a strip, as places; wires last.
std::vector<Place> Places::leads_in(StripIndex strip, int except_part, bool with) const {
  std::vector<Place> out;
  if (strip < 0) return out;
  for (bool wires : {false, true})
    for (const LeadRef ref : wiring_.leads_on_strip[size_t(strip)])
      if (ref.part != except_part && scene_.parts[size_t(ref.part)].role != Role::kInstrument &&
          (scene_.parts[size_t(ref.part)].role == Role::kWire) == wires)
        out.push_back(place(ref.part, ref.lead, with));
  return out;
}

void Places::name_places(Finding& f, const Candidate& c) const {
  switch (c.movement) {
    case Movement::kSeat: {
      f.places.push_back(place(c.part, c.lead));
      // When one lead sits alone on each side it is as likely that the other one slipped.
      std::vector<Place> others = leads_in(c.to, c.part, true);
      const bool alone = wiring_.leads_on_strip[size_t(c.from)].size() == 1 && others.size() == 1;
      if (alone) others[0].with = false;
      if (f.kind == FindingKind::kSameStrip) f.places.push_back(place(c.part, 1 - c.lead));
      if (f.kind == FindingKind::kButtonOnePair || f.kind == FindingKind::kSwitchEnds) {
        const int s = switch_between(scene_, c.from, c.to);
        f.places.insert(f.places.begin(), place(s));
        tell(f, "switch", name_of(s));
      }
      tell(f, "part", name_of(c.part));
      tell(f, "lead", lead_name(c.part, c.lead));
      tell(f, "hole", board_.name_of(board_.parts[size_t(c.part)].leads[size_t(c.lead)]));
      tell(f, "here", strip_name(c.from));
      tell(f, "there", strip_name(c.to));
      if (!others.empty()) tell(f, "other", board_.find(others[0].part)->name);
      f.places.insert(f.places.end(), others.begin(), others.end());
      if (f.kind == FindingKind::kRailUnfed || f.kind == FindingKind::kRailSplit) {
        std::vector<Place> same = leads_in(c.from, c.part, false);
        f.places.insert(f.places.begin() + 1, same.begin(), same.end());
        f.places.push_back(strip_place(c.from));
      }
      break;
    }
    case Movement::kAddWire:
      f.places.push_back(strip_place(c.from));
      f.places.push_back(strip_place(c.to));
      for (StripIndex strip : {c.from, c.to}) {
        const bool rail = f.kind == FindingKind::kRailUnfed || f.kind == FindingKind::kRailSplit;
        const std::vector<Place> leads = leads_in(strip, -1, !(rail && !fed(strip)));
        f.places.insert(f.places.end(), leads.begin(), leads.end());
      }
      tell(f, "here", strip_name(c.from));
      tell(f, "there", strip_name(c.to));
      break;
    default:
      f.places.push_back(place(c.part));
      tell(f, "part", name_of(c.part));
      if (f.kind == FindingKind::kWireAmiss) {
        tell(f, "here", strip_name(scene_.strip_of_lead[size_t(scene_.lead_index(c.part, 0))]));
        tell(f, "there", strip_name(scene_.strip_of_lead[size_t(scene_.lead_index(c.part, 1))]));
      }
      break;
  }
}

// Is this strip on a net with a lead of a supply?
bool Places::fed(StripIndex strip) const {
  for (size_t p = 0; p < scene_.parts.size(); ++p)
    if (scene_.parts[p].role == Role::kSupply)
      for (int k = 0; k < 2; ++k)
        if (wiring_.net_of_strip[size_t(scene_.strip_of_lead[size_t(scene_.parts[p].first_lead + k)])] ==
            wiring_.net_of_strip[size_t(strip)])
          return true;
  return false;
}

// Flaws that the change takes away name the parts that suffer.
void Places::name_sufferers(Finding& f, const Candidate& c, const std::vector<FlawAt>& before,
                            const std::vector<FlawAt>& after) const {
  for (const FlawAt& flaw : before) {
    const bool gone =
        std::none_of(after.begin(), after.end(), [&](const FlawAt& a) { return a.part == flaw.part && a.flaw == flaw.flaw; });
    if (!gone || flaw.part == c.part) continue;
    const Role role = scene_.parts[size_t(flaw.part)].role;
    const PartId id = board_.parts[size_t(flaw.part)].id;
    if (role == Role::kLoad && flaw.flaw != Flaw::kUnlimited &&
        std::find(f.silenced.begin(), f.silenced.end(), id) == f.silenced.end())
      f.silenced.push_back(id);
    const bool culprit = flaw.flaw == Flaw::kUnlimited || flaw.flaw == Flaw::kOneNet || flaw.flaw == Flaw::kShort ||
                         flaw.flaw == Flaw::kPressShort || flaw.flaw == Flaw::kFight;
    if (culprit && (c.movement == Movement::kRemove || c.movement == Movement::kToResistor)) {
      f.places.push_back(place(flaw.part, -1, false));
      tell(f, flaw.flaw == Flaw::kShort || flaw.flaw == Flaw::kPressShort ? "supply" : "other", name_of(flaw.part));
    }
  }
  if (!f.silenced.empty()) tell(f, "load", board_.find(f.silenced[0])->name);
}

std::string Places::lead_name(int part, int lead) const {
  return std::string(board_.parts[size_t(part)].kind->leads[size_t(lead)].name);
}
std::string Places::strip_name(StripIndex strip) const { return tiepoint::place_name(board_, wiring_, strip); }

}  // namespace tiepoint
