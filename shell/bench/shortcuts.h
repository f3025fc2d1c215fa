// Every key and gesture of the bench in one table. The keyboard works from it and the page shows it as a list, so the list cannot tell of
// a key that does nothing, nor leave one out.
#pragma once

#include <imgui.h>

#include <initializer_list>
#include <span>
#include <string_view>
#include <vector>

namespace tiepoint {

class Desk;

enum ChordModifier { kPlainKey = 0, kWithShift = 1, kWithCommand = 2, kWithAlt = 4 };  // command: Ctrl, on a Mac ⌘

struct Chord {
  int modifiers = kPlainKey;
  ImGuiKey key = ImGuiKey_None;
  std::string_view name;  // word "key.<name>", or as it stands
};

enum class Reach {
  kPressed,  // act runs when one of the chords is pressed
  kEveryFrame,  // act looks at the keys itself: what is held or typed
  kPage,     // the page listens for it
  kGesture,  // of a mouse or a finger
};

struct Shortcut {
  std::string_view group;        // words "shortcut.group.<group>"
  std::string_view id;           // words "shortcut.<id>": what it does; "shortcut.how.<id>": how, where the chords do not say it
  Reach reach = Reach::kPressed;
  std::vector<Chord> chords;
  void (*act)(Desk& desk, int chord) = nullptr;  // with the index of the chord
  bool repeats = false;          // while the key is held
};

std::span<const Shortcut> shortcuts();

}  // namespace tiepoint
