/* Sends what waits on this device, all of it, again and again until the bench has
   committed it. The bench keeps what comes twice once, so a lost answer costs nothing.

   Events (CustomEvent on the sender):
     said   detail {text, isUp}: what the bench says about itself; "" while all is well */

import { newName } from "./ids.js";

export const AGAIN = 1500; /* ms until what waits is sent again */
export const PATIENCE = 4000; /* ms until an answer is given up */
const LOT = 200; /* entries of one delivery */
const LEASE = PATIENCE + 2500;
const LOCK = "sleevewright-sender";
const SILENT = "The bench does not answer; what was told is kept on this device.";
const UNREADABLE = new Set([400, 413, 422]); /* after anything else the same is sent again */

export class Sender extends EventTarget {
  constructor(outbox, { path = "/api/records" } = {}) {
    super();
    this.outbox = outbox;
    this.path = path;
    this.tab = newName(10);
    this.isBusy = false;
    this.isWanted = false;
    this.text = "";
    this.lot = LOT;
    this.learnt = new Set();
  }

  start() {
    this.timer = window.setInterval(() => this.kick(), AGAIN);
    window.addEventListener("online", () => this.kick());
    document.addEventListener("visibilitychange", () => document.hidden || this.kick());
    this.outbox.addEventListener("change", (event) => {
      if (event.detail.entries.some((one) => one.state === "waiting")) this.kick();
    });
    this.kick();
  }

  stop() {
    window.clearInterval(this.timer);
  }

  /* Send now, unless that is being done; then once more when it is through. */
  async kick() {
    this.isWanted = true;
    if (this.isBusy) return;
    this.isBusy = true;
    try {
      while (this.isWanted) {
        this.isWanted = false;
        await this.alone(() => this.deliver());
      }
    } catch (trouble) {
      this.say(`This browser cannot read what it kept: ${trouble.message}`, false);
    } finally {
      this.isBusy = false;
    }
  }

  /* Locks are for secure contexts only; on plain http a lease in the outbox does. */
  async alone(work) {
    if (navigator.locks) {
      await navigator.locks.request(LOCK, { ifAvailable: true }, (lock) => lock && work());
      return;
    }
    if (!(await this.outbox.takeLease(this.tab, LEASE))) return;
    try {
      await work();
    } finally {
      await this.outbox.endLease(this.tab);
    }
  }

  async deliver() {
    for (;;) {
      const entries = await this.outbox.waiting(this.lot);
      if (entries.length === 0) {
        if (this.text) this.say("", true);
        return;
      }
      if (!navigator.locks) await this.outbox.takeLease(this.tab, LEASE);
      if (!(await this.send(entries))) return;
    }
  }

  /* One delivery; true where the next may follow at once. */
  async send(entries) {
    let answer;
    let told = {};
    try {
      answer = await this.post(entries);
      told = await answer.json().catch(() => ({}));
    } catch {
      this.say(SILENT, false);
      return false;
    }
    if (answer.ok && Array.isArray(told.answers)) {
      await this.outbox.answered(told.answers);
      /* Where it cannot be asked whose store this is, the stream asks again: see meet. */
      if (!(await this.meet(told.store, told.last))) return false;
      /* A root that cannot be kept is asked for again by the next page. */
      this.learnRoots(entries).catch(() => {});
      this.lot = LOT;
      this.say("", true);
      return told.answers.length > 0;
    }
    const text = typeof told.text === "string" ? told.text : `The bench answered ${answer.status}.`;
    this.say(text, true);
    if (!UNREADABLE.has(answer.status)) return false;
    /* A delivery that cannot be read is sent one by one, so that one bad entry is found. */
    if (entries.length > 1) {
      this.lot = 1;
      return true;
    }
    await this.outbox.answered([{ id: entries[0].id, state: "held", text }]);
    return true;
  }

  async post(entries) {
    const body = JSON.stringify({
      device: this.outbox.device,
      store: (await this.outbox.fact("store")) ?? "",
      entries: entries.map(({ id, job, n, kind, version, body: told }) => ({
        id, job, n, kind, version, body: told,
      })),
    });
    return fetch(this.path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body,
      signal: AbortSignal.timeout(PATIENCE),
    });
  }

  /* What the page or a stream said of the store. A full device cannot keep it, and still sends. */
  async meet(store, last) {
    try {
      const changed = await this.outbox.met(store, last, (job) => this.isSameJob(job));
      if (changed.length > 0) this.kick();
      return true;
    } catch (trouble) {
      if (trouble instanceof Unanswered) {
        this.say(SILENT, false);
        window.setTimeout(() => this.meet(store, last), AGAIN);
        return false;
      }
      this.say(`This browser cannot keep what the bench told: ${trouble.message}`, true);
      return true;
    }
  }

  /* A job of an unknown store is the same one where its first record is the same. A bench
     that does not answer has not said that it is another one. */
  async isSameJob(job) {
    const known = await this.outbox.fact(`root/${job}`);
    if (!known) return false;
    const root = await rootOf(job);
    if (root === null) throw new Unanswered(job);
    return root === known;
  }

  /* Asked once a page for each job, beside the sending, which does not wait for it. */
  async learnRoots(entries) {
    for (const job of new Set(entries.map((one) => one.job))) {
      if (this.learnt.has(job)) continue;
      this.learnt.add(job);
      if (await this.outbox.fact(`root/${job}`)) continue;
      const root = await rootOf(job);
      if (root) await this.outbox.setFact(`root/${job}`, root);
    }
  }

  say(text, isUp) {
    this.text = text;
    this.isUp = isUp;
    this.dispatchEvent(new CustomEvent("said", { detail: { text, isUp } }));
  }
}

class Unanswered extends Error {}

/* Id of the first record of a job: the head of its stream is read, and no more of it. Empty
   where the bench has none, nothing where it does not answer. */
async function rootOf(job) {
  const stop = new AbortController();
  const timer = window.setTimeout(() => stop.abort(), PATIENCE);
  let text = "";
  try {
    const address = `/api/jobs/${encodeURIComponent(job)}/stream?after=0`;
    const answer = await fetch(address, { signal: stop.signal });
    if (!answer.ok) return answer.status === 404 ? "" : null;
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      text += value;
      const first = /^id: *1\r?\n(?:[^\n]+\n)*?data: *(\{.*\})\r?\n/m.exec(text);
      const other = /^data: *(\{.*\})\r?\nid: *1\r?\n/m.exec(text);
      if (first ?? other) return JSON.parse((first ?? other)[1]).id ?? "";
    }
  } catch {
    /* Given up: what was heard until then decides. */
  } finally {
    window.clearTimeout(timer);
    stop.abort();
  }
  return text ? "" : null;
}
