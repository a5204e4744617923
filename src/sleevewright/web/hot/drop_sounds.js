/* Beeps of the count-in, laid beforehand on the clock of the sound, so that a busy page is
   not late with them; and words, where the device has a voice of its own. */

import { say } from "../static/bench/speech.js";
import { COUNT_IN } from "./drop_clock.js";

const SHORT = 0.09;
const LONG = 0.8;

export const laid = []; /* moments of the beeps that were laid, for tests */

export class Sounds {
  constructor() {
    this.audio = null;
    this.sources = [];
  }

  /* Called by the press "Ready": a browser makes no sound before one. */
  open() {
    try {
      this.audio ??= new AudioContext();
      if (this.audio.state === "suspended") this.audio.resume().catch(() => undefined);
    } catch {
      this.audio = null;
    }
    return Boolean(this.audio);
  }

  countIn(begun, now) {
    laid.length = 0;
    for (let second = 0; second <= COUNT_IN; second += 1) {
      const isLast = second === COUNT_IN;
      laid.push(begun + second);
      this.beep(begun + second - now, isLast ? LONG : SHORT, isLast ? 1760 : 880);
    }
  }

  beep(delay, seconds, frequency) {
    if (!this.audio || delay < -0.05) return;
    try {
      const start = this.audio.currentTime + Math.max(0, delay);
      const source = new OscillatorNode(this.audio, { frequency, type: "square" });
      const volume = new GainNode(this.audio, { gain: 0 });
      volume.gain.setValueAtTime(0.5, start);
      volume.gain.setValueAtTime(0.5, start + seconds - 0.02);
      volume.gain.linearRampToValueAtTime(0, start + seconds);
      source.connect(volume).connect(this.audio.destination);
      source.start(start);
      source.stop(start + seconds);
      this.sources.push(source);
    } catch {
      /* a device without sound: the dial says the same */
    }
  }

  speak(words) {
    return say(words, true);
  }

  hush() {
    for (const source of this.sources) {
      try {
        source.stop();
      } catch {
        /* it has sounded */
      }
    }
    this.sources = [];
    laid.length = 0;
  }
}
