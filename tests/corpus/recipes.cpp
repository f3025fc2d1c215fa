#include "tests/corpus/base.h"

namespace tiepoint::corpus {

// Every one of these works: each load can be lit, each switch matters, nothing is above its rating.
const std::vector<Recipe>& recipes() {
  static const std::vector<Recipe> kRecipes = {
      {"one-lamp", "PS1 usb-supply : + -\nR1 resistor resistance=220|330|470|1000 : + n1\nLED1 led colour=red|green|yellow|orange : n1 -\n"},
      {"resistor-behind", "PS1 usb-supply : + -\nLED1 led colour=red|blue|white : + n1\nR1 resistor resistance=220|330|470 : n1 -\n"},
      {"one-button",
       "PS1 usb-supply : + -\nR1 resistor resistance=220|330|470 : + n1\nS1 push-button : n1 n2\nLED1 led colour=red|green|orange : n2 -\n"},
      {"button-first",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nR1 resistor resistance=330|470|1000 : n1 n2\nLED1 led colour=red|yellow|blue : n2 -\n"},
      {"button-behind",
       "PS1 usb-supply : + -\nR1 resistor resistance=330|470 : + n1\nLED1 led colour=red|green : n1 n2\nS1 push-button : n2 -\n"},
      {"two-in-series",
       "PS1 usb-supply : + -\nR1 resistor resistance=220|330|470 : + n1\nS1 push-button : n1 n2\nS2 push-button : n2 n3\nLED1 led "
       "colour=red|orange : n3 -\n"},
      {"two-in-parallel",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nS2 push-button : + n1\nR1 resistor resistance=220|330|470 : n1 n2\nLED1 led "
       "colour=green|white : n2 -\n"},
      {"three-in-series",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nS2 push-button : n1 n2\nS3 push-button : n2 n3\nR1 resistor resistance=220|330|470 "
       ": n3 n4\nLED1 led colour=red|green : n4 -\n"},
      {"slide-lamp",
       "PS1 usb-supply : + -\nSW1 slide-switch : + n1 nc\nR1 resistor resistance=220|330|470 : n1 n2\nLED1 led colour=red|green : n2 -\n"},
      {"changeover",
       "PS1 usb-supply : + -\nSW1 slide-switch : n1 + n2\nR1 resistor resistance=330|470 : n1 n3\nLED1 led colour=red : n3 -\nR2 resistor "
       "resistance=330|470 : n2 n4\nLED2 led colour=green : n4 -\n"},
      {"two-lamps",
       "PS1 usb-supply : + -\nR1 resistor resistance=220|330|470 : + n1\nLED1 led colour=red : n1 -\nR2 resistor resistance=220|330 : + "
       "n2\nLED2 led colour=green|yellow : n2 -\n"},
      {"three-lamps-one-button",
       "PS1 usb-supply : + -\nS1 push-button : + n0\nR1 resistor resistance=330|470 : n0 n1\nLED1 led colour=red : n1 -\nR2 resistor "
       "resistance=330|470 : n0 n2\nLED2 led colour=yellow : n2 -\nR3 resistor resistance=330|470 : n0 n3\nLED3 led colour=green : n3 -\n"},
      {"lamps-in-series",
       "BAT1 battery-pack cells=4|5 : + -\nR1 resistor resistance=220|330 : + n1\nLED1 led colour=red : n1 n2\nLED2 led colour=red : n2 -\n"},
      {"guarded-lamp",
       "PS1 usb-supply : + -\nD1 diode type=1N4148|1N4007 : + n1\nS1 push-button : n1 n2\nR1 resistor resistance=220|330 : n2 n3\nLED1 led "
       "colour=red|orange : n3 -\n"},
      {"afterglow",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nC1 electrolytic-capacitor capacitance=100e-6|470e-6|1000e-6 rating=10_V|16_V|25_V : n1 "
       "-\nR1 resistor resistance=330|470|1000 : n1 n2\nLED1 led colour=red|green : n2 -\n"},
      {"battery-lamp",
       "BAT1 battery-pack cells=3 : + -\nS1 push-button : + n1\nR1 resistor resistance=150|220|330 : n1 n2\nLED1 led colour=red|orange : "
       "n2 -\n"},
      {"two-cells", "BAT1 battery-pack cells=2 : + -\nR1 resistor resistance=100|150|220 : + n1\nLED1 led colour=red : n1 -\n"},
      {"nine-volts",
       "BAT1 battery-pack cells=6 : + -\nSW1 slide-switch : nc + n1\nR1 resistor resistance=470|680|1000 : n1 n2\nLED1 led "
       "colour=red|blue : n2 n3\nLED2 led colour=red : n3 -\n"},
      {"own-buttons",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nR1 resistor resistance=330|470 : n1 n2\nLED1 led colour=red : n2 -\nS2 push-button : + "
       "n3\nR2 resistor resistance=330|470 : n3 n4\nLED2 led colour=green : n4 -\n"},
      {"two-way",
       "PS1 usb-supply : + -\nSW1 slide-switch : n1 + n2\nSW2 slide-switch : n1 n3 n2\nR1 resistor resistance=330|470 : n3 n4\nLED1 led "
       "colour=white|red : n4 -\n"},
      {"press-for-dark",
       "PS1 usb-supply : + -\nR1 resistor resistance=330|470 : + n1\nLED1 led colour=red|yellow : n1 -\nS1 push-button : n1 -\n"},
      {"and-or",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nS2 push-button : n1 n2\nS3 push-button : + n2\nR1 resistor resistance=330|470 : n2 "
       "n3\nLED1 led colour=red : n3 -\n"},
      {"diode-or",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nS2 push-button : + n2\nD1 diode : n1 n3\nD2 diode : n2 n3\nR1 resistor "
       "resistance=220|330 : n3 n4\nLED1 led colour=red : n4 -\n"},
      {"smoothed",
       "PS1 usb-supply : + -\nC1 ceramic-capacitor : + -\nR1 resistor resistance=330|470 : + n1\nS1 push-button : n1 n2\nLED1 led "
       "colour=red : n2 -\n"},
      {"five-lamps",
       "PS1 usb-supply : + -\nR1 resistor resistance=330 : + n1\nLED1 led colour=red : n1 -\nR2 resistor resistance=330 : + n2\nLED2 led "
       "colour=orange : n2 -\nR3 resistor resistance=330 : + n3\nLED3 led colour=yellow : n3 -\nR4 resistor resistance=330 : + n4\nLED4 led "
       "colour=green : n4 -\nR5 resistor resistance=220 : + n5\nLED5 led colour=blue : n5 -\n"},
      {"divider-lamp",
       "PS1 usb-supply : + -\nR1 resistor resistance=150|220 : + n1\nLED1 led colour=red : n1 -\nR2 resistor resistance=1000|2200 : n1 -\n"},
      {"pump-signal",
       "PS1 usb-supply : + -\nSW1 slide-switch : n1 + n2\nR1 resistor resistance=330 : n1 n3\nLED1 led colour=red : n3 -\nS1 push-button : n2 "
       "n4\nR2 resistor resistance=330 : n4 n5\nLED2 led colour=green : n5 -\n"},
      {"two-rows",
       "BAT1 battery-pack cells=6 : + -\nS1 push-button : + n0\nR1 resistor resistance=470|680 : n0 n1\nLED1 led colour=red : n1 n2\nLED2 led "
       "colour=red : n2 -\nR2 resistor resistance=470|680 : n0 n3\nLED3 led colour=green : n3 n4\nLED4 led colour=green : n4 -\n"},
      {"big-afterglow",
       "BAT1 battery-pack cells=6 : + -\nS1 push-button : + n1\nC1 electrolytic-capacitor capacitance=1000e-6 rating=16_V|25_V|35_V : n1 "
       "-\nR1 resistor resistance=680|1000 : n1 n2\nLED1 led colour=red : n2 -\nR2 resistor resistance=680|1000 : n1 n3\nLED2 led "
       "colour=white : n3 -\n"},
      {"harbour-wall",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nR1 resistor resistance=330 : n1 n2\nLED1 led colour=red : n2 -\nS2 push-button : + "
       "n3\nR2 resistor resistance=330 : n3 n4\nLED2 led colour=green : n4 -\nSW1 slide-switch : + n5 nc\nR3 resistor resistance=330 : n5 "
       "n6\nLED3 led colour=white : n6 -\nR4 resistor resistance=470 : + n7\nLED4 led colour=yellow : n7 -\n"},
      {"transistor-lamp",
       "PS1 usb-supply : + -\nS1 push-button : + n1\nR1 resistor resistance=4700|10000 : n1 n2\nQ1 2n3904 : - n2 n3\nR2 resistor "
       "resistance=330|470 : + n4\nLED1 led colour=red|green : n4 n3\n"},
      {"two-signals",
       "BAT1 battery-pack cells=4 : + -\nS1 push-button : + n1\nR1 resistor resistance=2200|4700 : n1 n2\nQ1 bc547 : n3 n2 -\nR2 resistor "
       "resistance=330|470 : + n4\nLED1 led colour=red : n4 n3\nR3 resistor resistance=470 : n1 n5\nLED2 led colour=green : n5 -\n"},
      {"and-chip",
       "PS1 usb-supply : + -\nU1 74hc08 : n1 n2 n3 - - nc - nc - - nc - - +\nS1 push-button : + n1\nR1 resistor resistance=10000 : n1 "
       "-\nS2 push-button : + n2\nR2 resistor resistance=10000 : n2 -\nR3 resistor resistance=470|1000 : n3 n4\nLED1 led colour=red : n4 "
       "-\n"},
      {"or-chip",
       "PS1 usb-supply : + -\nC1 ceramic-capacitor : + -\nU1 74hc32 : n1 n2 n3 - - nc - nc - - nc - - +\nS1 push-button : + n1\nR1 resistor "
       "resistance=10000 : n1 -\nS2 push-button : + n2\nR2 resistor resistance=10000 : n2 -\nR3 resistor resistance=470|1000 : n3 n4\nLED1 "
       "led colour=green : n4 -\n"},
      {"beacon",
       "PS1 usb-supply : + -\nU1 ne555 : - n1 n3 + nc n1 n2 +\nR1 resistor resistance=10000 : + n2\nR2 resistor resistance=47000 : n2 "
       "n1\nC1 electrolytic-capacitor capacitance=10e-6 : n1 -\nR3 resistor resistance=330|470 : n3 n4\nLED1 led colour=red : n4 -\n"},
  };
  return kRecipes;
}

}  // namespace tiepoint::corpus
