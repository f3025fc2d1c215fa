// Buzzers and loudspeakers that are heard. A browser lets a page sound only after a hand has touched it; until then nothing is made.
import {el, icon} from './dom.js';
import {say} from './words.js';

const kLook = 40; // ms between looks at what sounds
const kLoudest = 0.12; // of full scale, of one part
const kLowest = 20; // Hz: below, an ear hears no tone
const kHighest = 18000;
const kRamp = 0.01; // s, so that nothing clicks
const kKey = 'tiepoint.sound';
const kHorn = 'M3 8v4h3l4 3.5V4.5L6 8z';
const kWaves = 'M12.5 8a2.8 2.8 0 0 1 0 4M14.5 6a5.6 5.6 0 0 1 0 8';
const kCross = 'M13 8l4 4M17 8l-4 4';

/** @typedef {{part: string, kind: string, frequency: number, power: ?number}} Heard */

/** How loud: a small loudspeaker with its power, what has its own oscillator always. @param {Heard} heard */
function loudness({kind, power}) {
  if (kind !== 'loudspeaker') return kLoudest;
  return kLoudest * Math.min(1, Math.sqrt(Math.max(0, power ?? 0) / 0.1) + 0.1);
}

export class Sound {
  /** @param {import('./bench.js').Bench} bench */
  constructor(bench) {
    this.bench = bench;
    /** @type {?AudioContext} */
    this.context = null;
    /** @type {Map<string, {tone: OscillatorNode, gain: GainNode}>} */
    this.voices = new Map();
    this.timer = 0;
    this.touched = false;
    this.on = this.remembered();
    this.node = el('button', {type: 'button', class: 'bar-button pill', id: 'sound', 'aria-label': say('bar.sound'), title: say('bar.sound.title')});
    this.show();
    this.node.addEventListener('click', () => this.toggle());
    const touch = () => {
      this.touched = true;
      this.look();
    };
    for (const kind of ['pointerup', 'keydown']) document.addEventListener(kind, touch, {capture: true, once: true});
    document.addEventListener('visibilitychange', () => this.look());
    bench.onChange((what) => {
      if ((what.readings || what.board || what.view) && !this.timer) this.timer = window.setTimeout(() => this.look(), kLook);
    });
  }

  remembered() {
    try {
      return localStorage.getItem(kKey) !== 'off';
    } catch {
      return true; // a frame without storage
    }
  }

  show() {
    this.node.setAttribute('aria-pressed', String(this.on));
    this.node.replaceChildren(icon(kHorn + (this.on ? kWaves : kCross)));
  }

  toggle() {
    this.on = !this.on;
    this.show();
    try {
      localStorage.setItem(kKey, this.on ? 'on' : 'off');
    } catch {
      // not remembered
    }
    this.look();
  }

  /** Brings the voices in line with what sounds now. */
  look() {
    clearTimeout(this.timer);
    this.timer = 0;
    const asleep = document.body.classList.contains('asleep'); // in another page's frame
    /** @type {Heard[]} */
    const all = this.on && this.touched && !asleep && !document.hidden ? this.bench.call({do: 'sounds'}).sounds ?? [] : [];
    const heard = all.filter(({frequency}) => frequency >= kLowest && frequency <= kHighest);
    for (const part of [...this.voices.keys()])
      if (!heard.some((one) => one.part === part)) this.stop(part);
    for (const one of heard) this.play(one);
  }

  /** @param {Heard} heard */
  play(heard) {
    this.context ??= new AudioContext();
    void this.context.resume();
    const now = this.context.currentTime;
    let voice = this.voices.get(heard.part);
    if (!voice) {
      const tone = new OscillatorNode(this.context, {type: heard.kind === 'meter' ? 'sine' : 'square', frequency: heard.frequency});
      const gain = new GainNode(this.context, {gain: 0});
      tone.connect(gain).connect(this.context.destination);
      tone.start();
      voice = {tone, gain};
      this.voices.set(heard.part, voice);
    }
    voice.tone.frequency.setTargetAtTime(heard.frequency, now, kRamp);
    voice.gain.gain.setTargetAtTime(loudness(heard), now, kRamp);
  }

  /** @param {string} part */
  stop(part) {
    const voice = this.voices.get(part);
    if (!voice || !this.context) return;
    this.voices.delete(part);
    voice.gain.gain.setTargetAtTime(0, this.context.currentTime, kRamp);
    voice.tone.stop(this.context.currentTime + 8 * kRamp);
  }

  /** For the tests: the pitches that play now [Hz]. */
  pitches() {
    return [...this.voices.values()].map(({tone}) => tone.frequency.value);
  }
}
