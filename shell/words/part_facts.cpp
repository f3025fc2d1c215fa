#include "shell/words/part_facts.h"

#include <algorithm>
#include <string>

#include "engine/devices/model.h"
#include "shell/words/table.h"

namespace tiepoint {
namespace {

std::string_view fact(const std::string& key) {
  const WordsEntry* entry = find_entry(part_facts_table(), key);
  return entry ? entry->message : std::string_view();
}

}  // namespace

PartFacts part_facts(const PartType& type) {
  const std::string part = "part." + std::string(type.key);
  PartFacts facts{fact(part + ".model"), fact(part + ".source"), fact(part + ".limits"), {}};
  ElementList list;
  type.elements(Board{}, make_part(type), list);
  for (const ElementList::Entry& entry : list.entries) {
    const std::string_view name = model(entry.kind).name;
    if (std::any_of(facts.elements.begin(), facts.elements.end(), [&](const ElementFacts& e) { return e.name == name; })) continue;
    const std::string element = "element." + std::string(name);
    facts.elements.push_back({name, fact(element), fact(element + ".equation"), fact(element + ".source")});
  }
  return facts;
}

}  // namespace tiepoint
