/* Gauges and scanners that type. They are listened for on the whole page, wherever the
   focus is, and never press a button.

   In a cell their keys go in as typed ones do. With the focus on a button, a link or
   nothing, the first figure moves the focus into the cell that waits, before the key takes
   effect, so that no figure depends on how fast the keys came. In another text field a
   burst is told from a hand by the time between its keys; the field gets back what stood
   in it, and the reading goes to its cell.

   Blanking: a second terminator right behind a reading (CR and LF) is swallowed; after a
   reading was refused, keys that come sooner than a hand could answer the buzz are
   swallowed too, else the next place's reading would fall into the refused cell. */

import { isFramed } from "./gaugetext.js";
import { keyed } from "./keyed.js";

const BETWEEN = 50; /* ms between the keys of a burst; data-wedge-between on the main */
const BEFORE = 300; /* ms without a key before a burst in another field: else half a reading */
const LEAST = 3; /* keys of a burst */
const LONE = 150; /* ms in which a terminator alone means nothing */
const REACTION = 400; /* ms in which nobody has heard the buzz yet */
const TERMINATORS = new Set(["Enter", "Tab"]);
const FIRST = /^[0-9+\-.,~\u2212]$/;
const SWITCH = "~(?<job>[A-Za-z0-9][\\w.-]*)"; /* a job's ticket, as a scanner types it */
const READING = /^[+-]?[\d.,]+\s*[a-zµ"']*$/i;

/* What a text says: {job}, or {reading} without what this page's own patterns find around
   it. What gauges commonly write around a number is left to the reader of readings. */
export function cleaned(text, patterns = []) {
  const plain = keyed(text);
  const job = new RegExp(`^${SWITCH}$`).exec(plain)?.groups.job;
  if (job) return { job };
  for (const pattern of patterns) {
    const found = new RegExp(`^(?:${pattern})$`).exec(plain)?.groups;
    if (found?.reading !== undefined) return { reading: found.reading, isGauge: true };
  }
  return { reading: text.trim(), isGauge: isFramed(plain) };
}

/* What a page says of its gauges: patterns of its own, a slower wireless keyboard. */
export function gaugesOf(main) {
  const { wedge, wedgeBetween } = main.dataset;
  return {
    patterns: wedge ? JSON.parse(wedge) : [],
    between: Number(wedgeBetween) || BETWEEN,
  };
}

function isTyped(element) {
  if (element instanceof HTMLTextAreaElement || element.isContentEditable) return true;
  if (element instanceof HTMLSelectElement) return true;
  return element instanceof HTMLInputElement
    && !["checkbox", "radio", "button", "submit", "range", "file"].includes(element.type);
}

export class Wedge {
  /* `entry` has wanted(), take(element, text, {source}), nowhere(), restore(element) and
     switchTo(job). */
  constructor(entry, { patterns = [], between = BETWEEN } = {}) {
    this.entry = entry;
    this.patterns = patterns;
    this.between = between;
    this.lastKey = -Infinity;
    this.burst = null;
    this.space = null;
    this.quiet = 0; /* until then terminators alone mean nothing */
    this.blank = 0; /* until then every key is swallowed */
  }

  start() {
    window.addEventListener("keydown", (event) => this.onKey(event), true);
    window.addEventListener("keyup", (event) => this.onKeyUp(event), true);
    window.addEventListener("pointerdown", () => (this.blank = 0), true);
  }

  isQuick(time) {
    return Boolean(this.burst) && this.burst.count >= LEAST && time - this.burst.last < this.between;
  }

  onKey(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    const isKey = event.key.length === 1 || TERMINATORS.has(event.key);
    if (event.key.length > 1) this.space = null; /* a hand: a gauge goes on with a figure */
    if (!isKey) return;
    if (event.timeStamp < this.blank) {
      /* Swallowed as long as the burst goes on. */
      this.blank = Math.max(this.blank, event.timeStamp + LONE);
      swallow(event);
      return;
    }
    if (event.key.length === 1) this.onLetter(event);
    else this.onEnd(event);
  }

  onLetter(event) {
    const { target, timeStamp: time } = event;
    const goesOn = this.burst && time - this.burst.last < this.between;
    if (!goesOn) {
      const isClear = time - this.lastKey >= BEFORE;
      this.burst = { text: "", count: 0, field: target, before: target.value, isClear };
    }
    this.lastKey = time;
    if (this.space && time - this.space.time < this.between) this.space.isOfBurst = true;
    this.burst.text += event.key;
    this.burst.count += 1;
    this.burst.last = time;
    if (isTyped(target)) return;
    if (event.key === " ") return; /* a press by the space bar is judged when the key is let go */
    if (!FIRST.test(event.key)) {
      if (goesOn) swallow(event);
      return;
    }
    const wanted = this.entry.wanted();
    if (wanted) wanted.focus();
    else {
      this.burst.isLost = true;
      swallow(event);
    }
  }

  onEnd(event) {
    const { target, timeStamp: time } = event;
    const burst = this.burst;
    const isBurst = this.isQuick(time);
    this.burst = null;
    this.lastKey = -Infinity;
    if (target.matches?.("[data-cell]") && isTyped(target)) {
      this.inCell(event, isBurst);
      return;
    }
    if (!burst && time < this.quiet) {
      swallow(event);
      return;
    }
    if (burst?.isLost && !isBurst) this.entry.nowhere();
    /* In another field a burst behind other keys may be the end of a reading only. */
    if (!isBurst || (isTyped(target) && !burst.isClear)) return;
    const { job, reading, isGauge } = cleaned(burst.text, this.patterns);
    if (!job && !isGauge && !READING.test(keyed(reading))) return;
    swallow(event);
    if (isTyped(target)) restore(target, burst.before);
    this.quiet = time + LONE;
    if (job) this.entry.switchTo(job);
    else if (this.entry.wanted()) this.finish(this.entry.wanted(), burst.text, true, time);
    else this.entry.nowhere();
  }

  inCell(event, isBurst) {
    const { target, timeStamp: time } = event;
    if (target instanceof HTMLTextAreaElement && !isBurst) return;
    if (target.value.trim() === "" && time < this.quiet) {
      swallow(event);
      return;
    }
    if (event.key === "Tab" && !isBurst) return;
    if (event.shiftKey && event.key === "Tab") return;
    swallow(event);
    this.quiet = isBurst ? time + LONE : 0;
    this.finish(target, target.value, isBurst, time);
  }

  finish(element, text, isBurst, time) {
    const { job, reading, isGauge } = cleaned(text, this.patterns);
    if (job) {
      this.entry.restore(element);
      this.entry.switchTo(job);
      return;
    }
    const source = isBurst || isGauge ? "gauge" : "keyed";
    const isTaken = this.entry.take(element, reading, { source });
    if (!isTaken && isBurst) this.blank = time + REACTION;
  }

  /* A space that a gauge sends must not press the button that has the focus: the press
     waits a moment for a letter that came too soon behind it for a hand. */
  onKeyUp(event) {
    if (event.key !== " " || isTyped(event.target)) return;
    const press = event.target.closest?.("button, summary, input");
    if (!press) return;
    event.preventDefault();
    const space = { time: event.timeStamp };
    this.space = space;
    window.setTimeout(() => {
      if (!space.isOfBurst) press.click();
    }, this.between + 10);
  }
}

function swallow(event) {
  event.preventDefault();
  event.stopImmediatePropagation();
}

function restore(field, value) {
  if ("value" in field) field.value = value ?? "";
}
