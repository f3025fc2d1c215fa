// Hands on the bench: real mouse and touch events at real places. Where a hole or a part lies is asked from the bench; everything
// that happens goes through the browser's own input.
import {ask, frames} from './site.mjs';

/** The page's place of a hole, part, lead or compartment. @param {object} thing e.g. {hole: 'e12'} */
export async function placeOf(page, thing) {
  const answer = await ask(page, {do: 'point', ...thing});
  if (!answer.ok || !answer.found) throw new Error(`nothing to point at: ${JSON.stringify(thing)} ${JSON.stringify(answer)}`);
  const canvas = await page.locator('#bench').boundingBox();
  return {x: canvas.x + answer.x, y: canvas.y + answer.y};
}

/** A mouse: moves in steps as a hand does, so that every frame on the way sees it. */
export class Mouse {
  lift = 0;      // [CSS px] how far above the pointer a thing in the hand lies
  leadLift = 0;

  constructor(page) {
    this.page = page;
  }

  async to({x, y}) {
    await this.page.mouse.move(x, y, {steps: 5});
    await frames(this.page);
  }

  async down(at) {
    await this.to(at);
    await this.page.mouse.down();
    await frames(this.page);
  }

  async up() {
    await this.page.mouse.up();
    await frames(this.page, 3);
  }

  async drag(from, to) {
    await this.down(from);
    await this.to({x: (from.x + to.x) / 2, y: (from.y + to.y) / 2});
    await this.to(to);
    await this.up();
  }

  async click(at) {
    await this.down(at);
    await this.up();
  }
}

/** A finger, through the browser's own touch input. */
export class Finger {
  lift = 58;      // a part in the hand lies above the finger, in sight
  leadLift = 40;  // so does the end of a lead

  static async of(page) {
    const finger = new Finger();
    finger.page = page;
    finger.protocol = await page.context().newCDPSession(page);
    return finger;
  }

  async send(type, points) {
    await this.protocol.send('Input.dispatchTouchEvent', {type, touchPoints: points.map(({x, y}) => ({x, y, id: 1, radiusX: 4, radiusY: 4, force: 1}))});
    await frames(this.page);
  }

  async down(at) {
    this.at = at;
    await this.send('touchStart', [at]);
  }

  async to(at) {
    for (let step = 1; step <= 5; ++step) {
      const part = step / 5;
      await this.send('touchMove', [{x: this.at.x + (at.x - this.at.x) * part, y: this.at.y + (at.y - this.at.y) * part}]);
    }
    this.at = at;
  }

  async up() {
    await this.send('touchEnd', []);
    await frames(this.page, 2);
  }

  async drag(from, to) {
    await this.down(from);
    await this.to({x: (from.x + to.x) / 2, y: (from.y + to.y) / 2});
    await this.to(to);
    await this.up();
  }

  async click(at) {
    await this.down(at);
    await this.up();
  }
}
