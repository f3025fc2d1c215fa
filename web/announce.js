// What the page says aloud, through two live regions that stand empty in the page from the start.
// Polite messages wait half a second and then go out as one; numbers that run are never announced, only changes of state.
import {say, word} from './words.js';

const kQuiet = 500; // ms
/** A hole cursor on the move is told where it comes to rest. */
const kRest = 150; // ms

/** States that call for a hand on the switch. */
const kDanger = new Set(['too-bright', 'too-hot', 'over-voltage', 'at-limit', 'overloaded', 'being-charged', 'broken']);
/** Kinds whose ordinary states are worth saying: what one looks at while pressing. */
const kSpoken = new Set(['light']);

export class Announcer {
  /** @param {HTMLElement} status role=status @param {HTMLElement} alert role=alert */
  constructor(status, alert) {
    this.status = status;
    this.alert = alert;
    /** @type {string[]} */
    this.waiting = [];
    /** @type {Map<string, string>} state last heard of each part */
    this.states = new Map();
    /** @type {Map<string, string>} states that changed since the last message went out */
    this.changed = new Map();
    this.timer = 0;
    this.hole = '';   // where the hole cursor stood when last looked
    this.heard = 0;   // number of the bench's last message
    /** @type {?(hole: string) => string} due: the hole is to be told */
    this.place = null;
  }

  /** @param {string} message */
  say(message) {
    if (!this.waiting.includes(message)) this.waiting.push(message);
    this.start();
  }

  /**
   * What the bench itself tells, and where its hole cursor has come to; true when something was said.
   * @param {import('./types.js').Words} words @param {boolean} aloud the hand is on the bench @param {(hole: string) => string} place says what is at a hole
   */
  hear({message, cursor = ''}, aloud, place) {
    const told = message.number > this.heard && message.text !== '', came = cursor !== this.hole;
    this.heard = message.number;
    this.hole = cursor;
    if (!aloud) return false;
    if (told) this.say(message.text);
    if (came && cursor) {
      this.place = place;
      clearTimeout(this.timer);
      this.timer = window.setTimeout(() => this.flush(), kRest);
    }
    return told;
  }

  /** Takes the states without a word: a board was opened. @param {import('./types.js').Part[]} parts */
  forget(parts) {
    this.changed.clear();
    this.states = new Map(parts.map((part) => [part.name, part.reading.state]));
  }

  /** Says what changed since the last look. @param {import('./types.js').Part[]} parts */
  follow(parts) {
    /** @type {Map<string, string>} */
    const now = new Map();
    for (const part of parts) {
      const {state} = part.reading;
      const before = this.states.get(part.name);
      now.set(part.name, state);
      if (before === undefined || before === state) continue;
      if (kDanger.has(state)) this.shout(say(`say.danger.${state}`, {part: part.name}));
      else if (kSpoken.has(part.group) || kDanger.has(before)) this.change(part.name, state);
    }
    this.states = now;
  }

  /** @param {string} part @param {string} state */
  change(part, state) {
    this.changed.set(part, state);
    this.start();
  }

  /** @param {string} message */
  shout(message) {
    this.alert.textContent = message;
    clearTimeout(this.alertTimer);
    this.alertTimer = setTimeout(() => (this.alert.textContent = ''), 10000);
  }

  start() {
    if (!this.timer) this.timer = window.setTimeout(() => this.flush(), kQuiet);
  }

  flush() {
    this.timer = 0;
    const states = [...this.changed].map(([part, state]) => say('say.state', {part, state: word('state', state)}));
    if (this.place && this.hole) this.waiting.push(this.place(this.hole));
    this.place = null;
    this.status.textContent = [...this.waiting, ...(states.length ? [`${states.join(', ')}.`] : [])].join(' ');
    this.waiting = [];
    this.changed.clear();
  }
}
