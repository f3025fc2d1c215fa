// Mouse, pen and fingers on the canvas, passed on to the module: buttons, moves, the wheel, and two fingers as one gesture.

const MOVE = 0, DOWN = 1, UP = 2, LEAVE = 3, CANCEL = 4;
const SOURCE = {mouse: 0, touch: 1, pen: 2};
const BUTTON = [0, 2, 1, 3, 4];  // DOM left, middle, right, back, forward

export class Pointers {
  /** @param {import('./host.js').Host} host */
  constructor(host) {
    this.host = host;
    this.touches = /** @type {Map<number, {x: number, y: number}>} */ (new Map());
    this.pinching = false;
    this.buttons = 0;
    this.listen();
  }

  /** @param {{clientX: number, clientY: number}} event */
  place(event) {
    const box = this.host.canvas.getBoundingClientRect();
    return {x: event.clientX - box.left, y: event.clientY - box.top};
  }

  /** @param {number} kind @param {PointerEvent} event @param {number} [button] */
  send(kind, event, button = -1) {
    const {x, y} = this.place(event);
    this.host.m._ui_pointer(kind, SOURCE[/** @type {'mouse'} */ (event.pointerType)] ?? 0, button, x, y);
    this.host.kick();
  }

  listen() {
    const on = this.host.listener(this.host.canvas);
    this.host.canvas.style.touchAction = 'none';
    on('pointerdown', (event) => {
      try {
        this.host.canvas.setPointerCapture(event.pointerId);
      } catch { /* a pointer that is gone already */ }
      if (event.pointerType === 'touch') return this.touchDown(event);
      this.buttons = event.buttons;
      this.send(DOWN, event, BUTTON[event.button]);
    });
    on('pointermove', (event) => {
      if (event.pointerType === 'touch') return this.touchMove(event);
      // A second button of a mouse comes and goes as a move.
      if (event.button >= 0 && event.buttons !== this.buttons) {
        const pressed = event.buttons > this.buttons;
        this.buttons = event.buttons;
        return this.send(pressed ? DOWN : UP, event, BUTTON[event.button]);
      }
      this.send(MOVE, event);
    });
    on('pointerup', (event) => {
      if (event.pointerType === 'touch') return this.touchUp(event);
      this.buttons = event.buttons;
      this.send(UP, event, BUTTON[event.button]);
    });
    on('pointercancel', (event) => {
      this.touches.delete(event.pointerId);
      if (this.touches.size === 0) this.pinching = false;
      this.buttons = 0;
      this.send(CANCEL, event);
    });
    on('pointerleave', (event) => {
      if (event.pointerType !== 'touch' && event.buttons === 0) this.send(LEAVE, event);
    });
    on('contextmenu', (event) => event.preventDefault());
    on('wheel', (event) => this.wheel(event), {passive: false});
  }

  /** @param {PointerEvent} event */
  touchDown(event) {
    this.touches.set(event.pointerId, this.place(event));
    if (this.touches.size === 1) return this.send(DOWN, event, 0);
    if (!this.pinching) this.send(CANCEL, event);
    this.pinching = true;
  }

  /** @param {PointerEvent} event */
  touchMove(event) {
    if (!this.touches.has(event.pointerId)) return;
    if (!this.pinching) {
      this.touches.set(event.pointerId, this.place(event));
      return this.send(MOVE, event);
    }
    const before = this.span();
    this.touches.set(event.pointerId, this.place(event));
    const after = this.span();
    if (!before || !after) return;  // one finger of two is left: it does nothing more
    const scale = before.length > 1 && after.length > 1 ? after.length / before.length : 1;
    this.host.m._ui_gesture(after.x, after.y, scale, after.x - before.x, after.y - before.y);
    this.host.kick();
  }

  /** @param {PointerEvent} event */
  touchUp(event) {
    if (!this.touches.delete(event.pointerId)) return;
    if (!this.pinching) this.send(UP, event, 0);
    if (this.touches.size === 0) this.pinching = false;
  }

  /** Centre and distance of the first two fingers. */
  span() {
    const [a, b] = this.touches.values();
    if (!a || !b) return null;
    return {x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, length: Math.hypot(a.x - b.x, a.y - b.y)};
  }

  /** @param {WheelEvent} event */
  wheel(event) {
    event.preventDefault();
    const {x, y} = this.place(event);
    if (event.ctrlKey) {  // so the browser reports a pinch on a trackpad
      this.host.m._ui_gesture(x, y, Math.exp(-event.deltaY * 0.01), 0, 0);
    } else {
      const unit = [1 / 100, 1 / 3, 10][event.deltaMode] ?? 1 / 100;
      this.host.m._ui_pointer(MOVE, SOURCE.mouse, -1, x, y);
      this.host.m._ui_wheel(-event.deltaX * unit, -event.deltaY * unit);
    }
    this.host.kick();
  }
}
