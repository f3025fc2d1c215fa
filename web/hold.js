// A button that is held: down while the pointer, Space or Enter is down. Assistive technology that can only click toggles it.

/** @param {HTMLButtonElement} button @param {(down: boolean) => void} press @param {() => boolean} isDown */
export function makeHold(button, press, isDown) {
  let held = false;
  const set = (/** @type {boolean} */ down) => {
    if (held === down) return;
    held = down;
    press(down);
  };
  button.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    button.setPointerCapture(event.pointerId);
    set(true);
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture', 'blur']) button.addEventListener(end, () => set(false));
  button.addEventListener('contextmenu', (event) => event.preventDefault());  // a long touch is a hold here
  button.addEventListener('keydown', (event) => {
    if (event.key !== ' ' && event.key !== 'Enter') return;
    event.preventDefault();
    if (!event.repeat) set(true);
  });
  button.addEventListener('keyup', (event) => {
    if (event.key === ' ' || event.key === 'Enter') set(false);
  });
  // detail 0: neither pointer nor (the keys above prevent it) keyboard
  button.addEventListener('click', (event) => {
    if (event.detail === 0) press(!isDown());
  });
  document.addEventListener('visibilitychange', () => document.hidden && set(false));
}
