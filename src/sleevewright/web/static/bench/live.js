/* A stage page while others work on the same job: what they tell comes into the cells
   within moments, and the answers are fetched anew once readings are kept. */

import { Hearing } from "./hearing.js";

const PAUSE = 250; /* ms without news before the answers are fetched */

export class Live {
  constructor(main, cells, sender) {
    Object.assign(this, { main, cells, sender });
    this.timer = 0;
    this.sequence = 0;
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

  /* An answer to an older question never takes the place of a newer one. */
  async refresh() {
    const part = document.querySelector('[data-part="answers"]');
    if (!part) return;
    this.sequence += 1;
    const sequence = this.sequence;
    const address = new URL(window.location.href);
    address.searchParams.set("part", "answers");
    address.hash = "";
    try {
      const answer = await fetch(address, { headers: { Accept: "text/html" } });
      if (!answer.ok) throw new Error(`the bench answered ${answer.status}`);
      const html = await answer.text();
      if (sequence === this.sequence) swap(part, html);
    } catch {
      if (sequence === this.sequence) part.toggleAttribute("data-stale", true);
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
