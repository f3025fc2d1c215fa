// Session: the whole flow in one object. Takes Edits, gives Readings: Edit -> Board -> Wiring -> Circuit -> Simulation -> Readings.
// The bench, the page, the terminal program and lessons all stand on this.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "engine/board/journal.h"
#include "engine/circuit/circuit.h"
#include "engine/circuit/wiring.h"
#include "engine/readings/readings.h"
#include "engine/readings/scopes.h"
#include "engine/readings/thermal.h"
#include "engine/solver/simulation.h"

namespace tiepoint {

class Session {
 public:
  Session();
  explicit Session(Board board, SolverOptions options = {});

  const Board& board() const { return journal_.board(); }
  const Journal& journal() const { return journal_; }
  const Wiring& wiring() const { return wiring_; }
  const Circuit& circuit() const { return simulation_.circuit(); }
  const Readings& readings() const { return readings_; }

  // Every change of the board. An error leaves all as it was. Stored charge lives on across edits.
  Result<Applied> apply(const Edit& edit);
  Result<Applied> undo();
  Result<Applied> redo();
  // A new document; the journal starts afresh.
  void load(Board board);

  // [s] simulated since the document was opened, time at rest included.
  double time() const { return simulation_.time() + rested_; }
  // Advances simulated time by `seconds` within the step budget; returns the seconds actually gone by.
  double advance(double seconds, long max_steps = 20000);
  // Jumps to the settled state of the board as it stands.
  void settle();
  // Everything empty at time 0, as when the supplies are plugged in.
  void start_empty();
  // Whether contacts bounce when they are operated (they do, unless told otherwise). Never any part of the settled state. The bursts
  // follow from the part's name and how many times it has been operated since the start. Those of a relay and a reed too.
  void set_bounce(bool bounce);
  bool bounce() const { return bounce_; }
  // The board as use has left it: the document, but with the charge that is really left in its batteries. The document's own charge
  // is that of the cells when they were put in; setting it (to whatever value) puts in others.
  const Board& used_board() const { return used_; }
  // [J] that a battery has delivered since its cells were put in; 0 for all else.
  double energy_drawn(PartId part) const;
  // True when nothing will change until the next edit, but for batteries that run down and parts that heat: the caller may sleep until
  // `wear_due`. A part that dies of heat changes the document (its defect; no undo step) and the board's revision.
  bool at_rest() const { return simulation_.at_rest() && !scopes_->unsettled(time()); }
  // [s] until some battery has run down so far that its voltage has to follow, or a part that heats dies or looks hotter; infinite
  // when nothing of that will ever be.
  double wear_due() const;
  // The oscilloscope behind a part; null when it is none.
  const Scope* scope(PartId part) const { return scopes_->find(part); }
  // Lets an oscilloscope that takes single pictures take the next one.
  void arm(PartId part);

  // [s] of simulated time that an eye takes in as one: the brightness of what glows with its current is the mean over so long. Slow time
  // makes it shorter; 0, as at first: the instant counts. A circuit at rest, or just changed, shows what is.
  void set_eye(double seconds) { eye_ = seconds; }

  uint64_t board_revision() const { return board_revision_; }        // +1 with every change of the document
  uint64_t structure_revision() const { return structure_revision_; }  // +1 when the circuit was extracted anew
  uint64_t readings_revision() const { return readings_revision_; }  // +1 with every new snapshot

 private:
  void after(const Applied& applied);
  std::vector<int> changed_parts(const Applied& applied) const;
  void operate_contacts(Circuit& next, int part);
  Circuit circuit_of(const Board& board) const;
  void still_contacts();
  void rebuild();
  void snapshot();

  // A battery, and how far it has run down.
  struct Battery {
    PartId part;
    int index = -1;        // into board().parts; -1: taken off the board, perhaps to come back
    int element = 0;
    int value = 0;         // where its charge stands among the part's values
    double document = 1;   // its charge in the document
    double left = 1;       // share of the charge; that of used_board() follows in steps
    double capacity = 0;   // [C]
    double energy = 0;     // [J] delivered
    Simulation::Delivered counted;
  };
  void find_batteries();
  void use_again(const Edit& edit);
  void count_batteries();
  void attend();
  void draw_counted();
  void draw_steadily(double seconds);
  bool wear();
  double run(double seconds, long* left);
  double heat_due() const;
  void list_warm(std::vector<int>& elements);
  void heat_counted(double seconds);
  void count_warm();
  bool suffer();
  void apply_cut_outs();
  void show_heat();
  void list_lights(std::vector<int>& elements);
  void look_at_lights();
  void show_lights();

  // What glows with its current: its elements, and the charge that had gone through each at the last looks.
  struct Light {
    int part = -1;  // index into board().parts
    int element = 0;
  };
  struct LightLook {
    double time = 0;              // [s]
    std::vector<double> charge;   // [C] charge[light]
  };

  Journal journal_;
  SolverOptions options_;
  Board used_;
  std::vector<Battery> batteries_;
  Thermal thermal_;
  std::vector<char> warm_;               // per body of thermal_: its energy is counted
  std::vector<double> counted_energy_;   // [J] taken at the last look
  Wiring wiring_;
  Simulation simulation_;
  std::vector<Light> lights_;
  std::vector<LightLook> light_looks_;   // the oldest first; those the eye still remembers, and one before
  double eye_ = 0;                       // [s]
  double rested_ = 0;  // [s] gone by while nothing moved and the simulation's own clock stood still
  bool bounce_ = true;
  std::map<std::string, uint32_t, std::less<>> operations_;  // of each part's contacts since the start
  Readings readings_;
  std::unique_ptr<Scopes> scopes_ = std::make_unique<Scopes>();  // the simulation holds on to its address
  uint64_t board_revision_ = 1, structure_revision_ = 1, readings_revision_ = 1;
};

}  // namespace tiepoint
