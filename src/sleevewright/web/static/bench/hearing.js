/* Hears what other devices tell of a job, within moments: one stream a tab, closed while
   the tab is hidden, resumed by number; where streams do not come through, a long poll.

   Events (CustomEvent on the hearing):
     record  detail the record: {number, id, device, n, received, kind, version, body}
     store   detail {store, last}: what the bench says of itself at the beginning
     missing detail {device: count}: said by a long poll only */

const AGAIN = 1500; /* ms until a broken stream is opened again */
const WAIT = 20; /* s that a long poll waits for something new */
const FAILURES = 2; /* streams that never opened before polling is tried */
const POLLS = 10; /* polls until a stream is tried again */

export class Hearing extends EventTarget {
  constructor(job, after, { mode = "stream" } = {}) {
    super();
    this.path = `/api/jobs/${encodeURIComponent(job)}`;
    this.last = after;
    this.mode = mode;
    this.failures = 0;
    this.source = null;
    this.poll = null;
  }

  start() {
    document.addEventListener("visibilitychange", () => this.turn());
    window.addEventListener("pagehide", () => this.close());
    window.addEventListener("pageshow", () => this.turn());
    this.turn();
  }

  turn() {
    if (document.hidden) this.close();
    else if (!this.source && !this.poll) this.open();
  }

  close() {
    window.clearTimeout(this.timer);
    this.source?.close();
    this.poll?.abort();
    this.source = null;
    this.poll = null;
  }

  later() {
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.turn(), AGAIN);
  }

  open() {
    if (this.mode === "poll" || this.failures >= FAILURES) this.polling(POLLS);
    else this.streaming();
  }

  streaming() {
    const source = new EventSource(`${this.path}/stream?after=${this.last}`);
    this.source = source;
    source.addEventListener("store", (event) => {
      this.failures = 0;
      const told = JSON.parse(event.data);
      this.say("store", told);
      if (told.last >= this.last) return;
      /* Restored from a backup: its numbers are given anew, and heard anew from there. */
      this.last = told.last;
      this.close();
      this.later();
    });
    source.addEventListener("message", (event) => this.hear(JSON.parse(event.data)));
    source.addEventListener("error", () => {
      /* Opened again by our own hand: the address then names the last number heard. */
      if (this.source !== source) return;
      this.failures += 1;
      this.close();
      this.later();
    });
  }

  async polling(polls) {
    const stop = new AbortController();
    this.poll = stop;
    try {
      for (let count = 0; count < polls || this.mode === "poll"; count += 1) {
        const address = `${this.path}/records?after=${this.last}&wait=${WAIT}`;
        const answer = await fetch(address, { signal: stop.signal });
        if (!answer.ok) throw new Error(`the bench answered ${answer.status}`);
        const told = await answer.json();
        this.say("store", { store: told.store, last: {} });
        this.say("missing", told.missing ?? {});
        if (told.last < this.last) this.last = told.last;
        for (const record of told.records) this.hear(record);
      }
      this.failures = 0;
    } catch {
      /* tried again below, unless the tab was hidden */
    }
    if (this.poll !== stop) return;
    this.poll = null;
    this.later();
  }

  hear(record) {
    if (record.number <= this.last) return;
    this.last = record.number;
    this.say("record", record);
  }

  say(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }
}
