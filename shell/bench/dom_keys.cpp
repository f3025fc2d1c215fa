#include "shell/bench/dom_keys.h"

namespace tiepoint {

namespace {

struct Row {
  std::string_view code;
  ImGuiKey key;
};

// W3C UI Events KeyboardEvent code values, https://www.w3.org/TR/uievents-code/
constexpr Row kRows[] = {
    {"Tab", ImGuiKey_Tab},
    {"ArrowLeft", ImGuiKey_LeftArrow},
    {"ArrowRight", ImGuiKey_RightArrow},
    {"ArrowUp", ImGuiKey_UpArrow},
    {"ArrowDown", ImGuiKey_DownArrow},
    {"PageUp", ImGuiKey_PageUp},
    {"PageDown", ImGuiKey_PageDown},
    {"Home", ImGuiKey_Home},
    {"End", ImGuiKey_End},
    {"Insert", ImGuiKey_Insert},
    {"Delete", ImGuiKey_Delete},
    {"Backspace", ImGuiKey_Backspace},
    {"Space", ImGuiKey_Space},
    {"Enter", ImGuiKey_Enter},
    {"Escape", ImGuiKey_Escape},
    {"ControlLeft", ImGuiKey_LeftCtrl},
    {"ShiftLeft", ImGuiKey_LeftShift},
    {"AltLeft", ImGuiKey_LeftAlt},
    {"MetaLeft", ImGuiKey_LeftSuper},
    {"ControlRight", ImGuiKey_RightCtrl},
    {"ShiftRight", ImGuiKey_RightShift},
    {"AltRight", ImGuiKey_RightAlt},
    {"MetaRight", ImGuiKey_RightSuper},
    {"ContextMenu", ImGuiKey_Menu},
    {"Quote", ImGuiKey_Apostrophe},
    {"Comma", ImGuiKey_Comma},
    {"Minus", ImGuiKey_Minus},
    {"Period", ImGuiKey_Period},
    {"Slash", ImGuiKey_Slash},
    {"Semicolon", ImGuiKey_Semicolon},
    {"Equal", ImGuiKey_Equal},
    {"BracketLeft", ImGuiKey_LeftBracket},
    {"Backslash", ImGuiKey_Backslash},
    {"BracketRight", ImGuiKey_RightBracket},
    {"Backquote", ImGuiKey_GraveAccent},
    {"NumpadDecimal", ImGuiKey_KeypadDecimal},
    {"NumpadDivide", ImGuiKey_KeypadDivide},
    {"NumpadMultiply", ImGuiKey_KeypadMultiply},
    {"NumpadSubtract", ImGuiKey_KeypadSubtract},
    {"NumpadAdd", ImGuiKey_KeypadAdd},
    {"NumpadEnter", ImGuiKey_KeypadEnter},
    {"NumpadEqual", ImGuiKey_KeypadEqual},
};

// The `index`-th key after `first` in a run of ImGuiKey values.
ImGuiKey nth(ImGuiKey first, int index) { return static_cast<ImGuiKey>(first + index); }

bool digit(char c) { return c >= '0' && c <= '9'; }

}  // namespace

ImGuiKey key_from_dom(std::string_view code, std::string_view key) {
  if (key.size() == 1) {
    const char c = key[0];
    if (c >= 'a' && c <= 'z') return nth(ImGuiKey_A, c - 'a');
    if (c >= 'A' && c <= 'Z') return nth(ImGuiKey_A, c - 'A');
  }
  for (const Row& row : kRows)
    if (row.code == code) return row.key;
  if (code.size() == 4 && code.starts_with("Key") && code[3] >= 'A' && code[3] <= 'Z') return nth(ImGuiKey_A, code[3] - 'A');
  if (code.size() == 6 && code.starts_with("Digit") && digit(code[5])) return nth(ImGuiKey_0, code[5] - '0');
  if (code.size() == 7 && code.starts_with("Numpad") && digit(code[6])) return nth(ImGuiKey_Keypad0, code[6] - '0');
  if (code.size() == 2 && code[0] == 'F' && code[1] >= '1' && code[1] <= '9') return nth(ImGuiKey_F1, code[1] - '1');
  if (code.size() == 3 && code[0] == 'F' && code[1] == '1' && code[2] >= '0' && code[2] <= '2') return nth(ImGuiKey_F10, code[2] - '0');
  // Keys without a place, as on-screen keyboards send them, carry their name in `key`.
  if (code.empty() && !key.empty() && key != code) return key_from_dom(key, "");
  return ImGuiKey_None;
}

}  // namespace tiepoint
