/* Beats of a stroke, to the eye and to the ear, that do not drift: the time of a beat is always
   reckoned from its number, never added to the time of the one before. Times are seconds of
   performance.now(); beat 0 is at the top of the stroke, beat 1 at its bottom, and so on. */

const MOST_NOTED = 1000;
const TICK = 0.03; /* seconds that a tick sounds */
const AHEAD = 0.4; /* seconds for which ticks are laid while the page is seen */
const AHEAD_HIDDEN = 2.5; /* a hidden page is called once a second at best */
const FORGET = 3.0; /* seconds without a tap after which tapping begins anew */
const TAPS = 8; /* the newest taps that count */
const FEWEST_TAPS = 3;

export const noted = { heard: [], drawn: [] }; /* the last beats, for tests */

export function note(list, entry) {
  list.push(entry);
  if (list.length > MOST_NOTED) list.shift();
}

export class Beats {
  constructor(start, cycles) {
    this.anchor = start;
    this.first = 0.0;
    this.half = 30.0 / cycles; /* seconds from one reversal to the next */
  }

  /* The number of a moment; whole at a reversal, even at the top. */
  number(now) {
    return this.first + (now - this.anchor) / this.half;
  }

  at(number) {
    return this.anchor + (number - this.first) * this.half;
  }

  /* Another rate from now on; the stroke goes on from where it is. */
  turn(now, cycles) {
    this.first = this.number(now);
    this.anchor = now;
    this.half = 30.0 / cycles;
  }

  /* Where the stones are: 0 at the top, 1 at the bottom, as a crank drives them. */
  place(now) {
    return (1.0 - Math.cos(Math.PI * this.number(now))) / 2.0;
  }
}

/* Full cycles a minute from the times of taps, one to a cycle: the slope of a straight line
   through all of them, so that one late tap hardly counts. Nothing from fewer than three. */
export function rateOf(taps) {
  const times = taps.slice(-TAPS);
  if (times.length < FEWEST_TAPS) return null;
  const middle = (times.length - 1) / 2.0;
  const mean = times.reduce((sum, one) => sum + one, 0.0) / times.length;
  let [above, below] = [0.0, 0.0];
  times.forEach((time, index) => {
    above += (index - middle) * (time - mean);
    below += (index - middle) ** 2;
  });
  return above > 0.0 ? (60.0 * below) / above : null;
}

/* Taps with a new one; after a pause they begin anew. */
export function withTap(taps, now) {
  const last = taps.at(-1);
  const kept = last === undefined || now - last > FORGET ? [] : taps;
  return [...kept, now].slice(-TAPS);
}

/* The place of a rate in a rising table: the nearest by ratio. */
export function nearest(rates, wanted) {
  let best = 0;
  rates.forEach((rate, index) => {
    const off = Math.abs(Math.log(rate / wanted));
    if (off < Math.abs(Math.log(rates[best] / wanted))) best = index;
  });
  return best;
}

/* The ticks: laid a little ahead on the clock of the sound, which is held to the clock of the
   page each time, so that neither runs away from the other. */
export class Ticks {
  constructor() {
    this.audio = null;
    this.out = null;
    this.laid = new Map();
    this.next = 0;
  }

  /* Called by the press that starts it: a browser makes no sound before one. */
  open(volume) {
    try {
      this.audio ??= new AudioContext();
      if (!this.out) {
        this.out = new GainNode(this.audio, { gain: volume });
        this.out.connect(this.audio.destination);
      }
      if (this.audio.state === "suspended") this.audio.resume().catch(() => undefined);
      return true;
    } catch {
      this.audio = null;
      return false;
    }
  }

  louder(volume) {
    if (this.out) this.out.gain.value = volume;
  }

  from(beats, now) {
    this.next = Math.ceil(beats.number(now) - 1e-9);
  }

  lay(beats, now, isHidden) {
    const until = now + (isHidden ? AHEAD_HIDDEN : AHEAD);
    for (; beats.at(this.next) < until; this.next += 1) {
      const time = beats.at(this.next);
      if (time < now - TICK) continue;
      note(noted.heard, { number: this.next, at: time });
      this.tick(this.next, time - now);
    }
    for (const number of this.laid.keys()) if (beats.at(number) < now - 1.0) this.laid.delete(number);
  }

  tick(number, delay) {
    if (!this.audio) return;
    const start = this.audio.currentTime + Math.max(0.0, delay);
    const frequency = number % 2 ? 880 : 1760;
    const source = new OscillatorNode(this.audio, { frequency, type: "square" });
    const shape = new GainNode(this.audio, { gain: 0.0 });
    shape.gain.setValueAtTime(0.5, start);
    shape.gain.exponentialRampToValueAtTime(0.001, start + TICK);
    source.connect(shape).connect(this.out);
    source.start(start);
    source.stop(start + TICK);
    this.laid.set(number, source);
  }

  /* What is laid but not yet heard is taken back: at a stop, and where the rate changes. */
  hush() {
    for (const source of this.laid.values()) {
      try {
        source.stop();
      } catch {
        /* it has sounded */
      }
    }
    this.laid.clear();
    const last = noted.heard;
    const now = performance.now() / 1000.0;
    while (last.length && last.at(-1).at > now) last.pop();
  }
}
