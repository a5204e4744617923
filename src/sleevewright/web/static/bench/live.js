/* A stage page while others work on the same job: what they tell comes into the cells
   within moments, and the answers are fetched anew once readings are kept. */

import { Hearing } from "./hearing.js";

const PATIENCE = 10_000; /* ms until an answer is given up, and again until it is asked anew */
const PAUSE = 250; /* ms without news before the answers are fetched */

export class Live {
  constructor(main, cells, sender) {
    Object.assign(this, { main, cells, sender });
    this.timer = 0;
    this.asking = null;
  }

  start() {
    const { job, last = "0", hearing = "stream" } = this.main.dataset;
    this.hearing = new Hearing(job, Number(last), { mode: hearing });
    this.hearing.addEventListener("record", (event) => this.hear(event.detail));
    this.hearing.addEventListener("store", ({ detail }) => {
      const number = typeof detail.last === "number" ? { [job]: detail.last } : {};
      this.sender.meet(detail.store, number);
    });
    this.hearing.start();
    document.addEventListener("bench:kept", () => this.later());
  }

  hear(record) {
    if (record.kind === "value") {
      const { id, body, device } = record;
      this.cells.tell({ id, body, device, state: "kept" });
    }
    document.dispatchEvent(new CustomEvent("bench:record", { detail: record }));
    this.later();
  }

  later() {
    window.clearTimeout(this.timer);
    this.timer = window.setTimeout(() => this.refresh(), PAUSE);
  }

  /* An older question is given up for a newer one: its answer never takes the place of the
     newer, and a bench that does not answer keeps no more than one connection busy. */
  async refresh() {
    const part = document.querySelector('[data-part="answers"]');
    if (!part) return;
    this.asking?.abort();
    const asking = new AbortController();
    this.asking = asking;
    const patience = window.setTimeout(() => asking.abort(), PATIENCE);
    const address = new URL(window.location.href);
    address.searchParams.set("part", "answers");
    address.hash = "";
    try {
      const headers = { Accept: "text/html" };
      const answer = await fetch(address, { headers, signal: asking.signal });
      if (!answer.ok) throw new Error(`the bench answered ${answer.status}`);
      const html = await answer.text();
      if (asking === this.asking) swap(part, html);
    } catch {
      if (asking !== this.asking) return;
      part.toggleAttribute("data-stale", true);
      this.timer = window.setTimeout(() => this.refresh(), PATIENCE);
    } finally {
      window.clearTimeout(patience);
    }
  }
}

/* What was open stays open, and the focus stays where it was. */
function swap(part, html) {
  const opened = [...part.querySelectorAll("details")].map((one) => one.open);
  const focused = part.contains(document.activeElement) ? document.activeElement.id : "";
  const holder = document.createElement("template");
  holder.innerHTML = html;
  const own = holder.content.querySelector('[data-part="answers"]');
  part.replaceChildren(...(own ?? holder.content).childNodes);
  const fresh = [...part.querySelectorAll("details")];
  if (fresh.length === opened.length) fresh.forEach((one, at) => (one.open ||= opened[at]));
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  part.toggleAttribute("data-stale", false);
  document.dispatchEvent(new CustomEvent("bench:answers", { detail: { part } }));
}
