/* What waits on this device, what was held back and why, and both as a file to carry.

   Hook: <section data-unsent>, filled here; data-unsent="when-needed" shows itself only
   while something is held back, belongs to another bench, or waits for more than a minute;
   a <details> around it is opened then. */

import { taken } from "./reading.js";

const LONG = 60_000; /* ms */
const LOOK = 5000; /* ms between looks at the clock */

export class Unsent {
  constructor(outbox, host) {
    Object.assign(this, { outbox, host });
  }

  start() {
    this.outbox.addEventListener("change", () => this.later());
    window.setInterval(() => this.later(), LOOK);
    this.host.addEventListener("click", (event) => this.onClick(event));
    this.host.addEventListener("submit", (event) => this.onSubmit(event));
    return this.show();
  }

  later() {
    if (this.timer) return;
    this.timer = window.setTimeout(() => {
      this.timer = 0;
      if (!this.host.contains(document.activeElement)
        || document.activeElement.tagName !== "INPUT") this.show();
    }, 150);
  }

  async show() {
    const [waiting, held, apart] = await Promise.all([
      this.outbox.waiting(), this.outbox.held(), this.outbox.apart(),
    ]);
    const list = element("ul", { className: "unsent" });
    list.append(
      ...held.map((one) => heldRow(one)),
      ...waiting.map((one) => plainRow(one, "waits")),
      ...apart.map((one) => plainRow(one, "belongs to another bench; it is not sent to this one")),
    );
    const none = element("p", { textContent: "Nothing waits on this device." });
    const presses = element("p", { className: "presses" });
    presses.append(press("export-json", "Save as a file"), press("export-text", "Save as text"));
    const isEmpty = list.children.length === 0;
    const isLong = waiting.length > 0 && Date.now() - waiting[0].since > LONG;
    const isNeeded = isLong || this.outbox.isMemory || held.length + apart.length > 0;
    if (this.host.dataset.unsent === "when-needed") this.host.hidden = !isNeeded;
    const folded = this.host.closest("details");
    if (folded && isNeeded && !this.wasNeeded) folded.open = true;
    this.wasNeeded = isNeeded;
    this.host.replaceChildren(...(isEmpty ? [none] : [list, presses]));
  }

  async onClick(event) {
    const row = event.target.closest("[data-id]");
    const wanted = event.target.closest("[data-press]")?.dataset.press;
    if (wanted === "export-json") await exportAs(this.outbox, "json");
    else if (wanted === "export-text") await exportAs(this.outbox, "text");
    else if (wanted === "give-up" && row) await this.outbox.giveUp(row.dataset.id, "given up");
  }

  async onSubmit(event) {
    const row = event.target.closest("[data-id]");
    if (!row) return;
    event.preventDefault();
    const text = row.querySelector("input").value.trim();
    if (text === "") return;
    row.querySelector("input").blur();
    await this.outbox.correct(row.dataset.id, { text });
    await this.show();
  }
}

function element(name, properties = {}) {
  return Object.assign(document.createElement(name), properties);
}

function press(name, words, type = "button") {
  const made = element("button", { type, className: "press", textContent: words });
  if (type === "button") made.dataset.press = name;
  return made;
}

/* One entry in words: job, cell and text as they were told. */
export function worded({ job, kind, body }) {
  if (kind === "value") return `${job}, ${body.cell}: ${body.text === "" ? "taken back" : body.text}`;
  if (kind === "set") return `${job}, readings of ${body.feature ?? body.set} begun`;
  if (kind === "given-up") return `${job}, a reading given up`;
  return `${job}, ${body.what ?? kind}`;
}

function plainRow(entry, words) {
  return element("li", { textContent: `${worded(entry)} (${words})` });
}

function heldRow(entry) {
  const row = element("li", { className: "held" });
  row.dataset.id = entry.id;
  row.append(element("p", { textContent: worded(entry) }));
  row.append(element("p", { className: "message", textContent: entry.text || taken() }));
  if (entry.kind === "value") {
    const form = element("form", { className: "presses" });
    const input = element("input", { value: entry.body.text ?? "", autocomplete: "off" });
    input.setAttribute("aria-label", `Put right: ${worded(entry)}`);
    form.append(input, press("correct", "Put right", "submit"), press("give-up", "Give up"));
    row.append(form);
  } else row.append(press("give-up", "Give up"));
  return row;
}

/* Everything that the bench has not got: as JSON, which the page of a job on the bench's own
   screen takes in and `sleevewright import` too, or as text. */
export async function exportAs(outbox, kind) {
  const [waiting, held, apart] = await Promise.all([
    outbox.waiting(), outbox.held(), outbox.apart(),
  ]);
  const entries = [...waiting, ...held, ...apart];
  const wire = entries.map(({ id, job, n, kind: what, version, body, state, text }) => ({
    id, job, n, kind: what, version, body, state, text: text ?? "",
  }));
  const store = (await outbox.fact("store")) ?? "";
  const document_ = { format: "sleevewright-unsent", device: outbox.device, store, entries: wire };
  const lines = entries.map((one) => `${one.body.said ?? ""}  ${worded(one)}  (${one.state})`);
  const text = kind === "json" ? JSON.stringify(document_, null, 1) : `${lines.join("\n")}\n`;
  const type = kind === "json" ? "application/json" : "text/plain";
  const address = URL.createObjectURL(new Blob([text], { type }));
  const name = `waiting-${outbox.device}.${kind === "json" ? "json" : "txt"}`;
  const link = element("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  window.setTimeout(() => URL.revokeObjectURL(address), 10_000);
  return text;
}
