// Key names: W3C UI Events code and key values, https://www.w3.org/TR/uievents-code/ and https://www.w3.org/TR/uievents-key/
#include "shell/bench/dom_keys.h"

#include "gtest/gtest.h"

namespace tiepoint {
namespace {

TEST(DomKeys, LettersGoByTheirCapOnEveryKeyboard) {
  EXPECT_EQ(key_from_dom("KeyZ", "z"), ImGuiKey_Z);
  EXPECT_EQ(key_from_dom("KeyY", "z"), ImGuiKey_Z);  // QWERTZ
  EXPECT_EQ(key_from_dom("KeyQ", "A"), ImGuiKey_A);  // AZERTY, with Shift
}

TEST(DomKeys, LettersOfOtherScriptsGoByTheirPlace) { EXPECT_EQ(key_from_dom("KeyZ", "я"), ImGuiKey_Z); }

TEST(DomKeys, OtherKeysGoByTheirPlace) {
  EXPECT_EQ(key_from_dom("ArrowLeft", "ArrowLeft"), ImGuiKey_LeftArrow);
  EXPECT_EQ(key_from_dom("BracketLeft", "["), ImGuiKey_LeftBracket);
  EXPECT_EQ(key_from_dom("Digit7", "7"), ImGuiKey_7);
  EXPECT_EQ(key_from_dom("Digit7", "/"), ImGuiKey_7);
  EXPECT_EQ(key_from_dom("Numpad0", "0"), ImGuiKey_Keypad0);
  EXPECT_EQ(key_from_dom("Numpad9", "9"), ImGuiKey_Keypad9);
  EXPECT_EQ(key_from_dom("F1", "F1"), ImGuiKey_F1);
  EXPECT_EQ(key_from_dom("F9", "F9"), ImGuiKey_F9);
  EXPECT_EQ(key_from_dom("F12", "F12"), ImGuiKey_F12);
  EXPECT_EQ(key_from_dom("MetaRight", "Meta"), ImGuiKey_RightSuper);
  EXPECT_EQ(key_from_dom("Space", " "), ImGuiKey_Space);
}

TEST(DomKeys, OnScreenKeyboardsSendNoPlace) {
  EXPECT_EQ(key_from_dom("", "Enter"), ImGuiKey_Enter);
  EXPECT_EQ(key_from_dom("", "Backspace"), ImGuiKey_Backspace);
}

TEST(DomKeys, UnknownKeysAreNone) {
  EXPECT_EQ(key_from_dom("", ""), ImGuiKey_None);
  EXPECT_EQ(key_from_dom("AudioVolumeUp", "AudioVolumeUp"), ImGuiKey_None);
  EXPECT_EQ(key_from_dom("F13", "F13"), ImGuiKey_None);
  EXPECT_EQ(key_from_dom("Dead", "Dead"), ImGuiKey_None);
}

}  // namespace
}  // namespace tiepoint
