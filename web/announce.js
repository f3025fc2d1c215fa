// What the page says aloud, through two live regions that stand empty in the page from the start.
// Polite messages wait half a second and then go out as one; numbers that run are never announced, only changes of state.
import {say, word} from './words.js';

const kQuiet = 500; // ms

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
  }

  /** @param {string} message */
  say(message) {
    this.waiting.push(message);
    this.start();
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
    this.status.textContent = [...this.waiting, ...(states.length ? [`${states.join(', ')}.`] : [])].join(' ');
    this.waiting = [];
    this.changed.clear();
  }
}
