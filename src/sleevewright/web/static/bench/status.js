/* The line that says what is still on this device, and what the bench says of itself. */

const LONG = 60_000; /* ms after which waiting is told as a warning */
const LOOK = 5000; /* ms between looks at the clock */

export class Status {
  constructor(outbox, sender, line) {
    Object.assign(this, { outbox, sender, line });
    this.bench = "";
    this.refused = "";
  }

  start() {
    this.outbox.addEventListener("change", () => this.later());
    this.sender.addEventListener("said", ({ detail }) => {
      this.bench = detail.text;
      this.later();
    });
    document.addEventListener("bench:refused", ({ detail }) => {
      /* Beside a field the words stand there; what has no field is told here. */
      this.refused = detail.cell ? "" : detail.text;
      this.later();
    });
    document.addEventListener("bench:told", () => (this.refused = ""));
    window.setInterval(() => this.show(), LOOK);
    return this.show();
  }

  later() {
    this.timer ??= window.setTimeout(() => {
      this.timer = undefined;
      this.show();
    }, 60);
  }

  async show() {
    const { waiting, held, apart } = await this.outbox.counts();
    const said = [this.refused];
    if (this.outbox.isMemory) {
      said.push("This browser keeps nothing on the device: what waits is lost when the page is "
        + "closed. Leave it open until nothing waits.");
    }
    if (waiting > 0) said.push(`${waiting} waiting on this device.`);
    if (held > 0) said.push(`${held} held back.`);
    if (apart > 0) said.push(`${apart} of another bench.`);
    if (waiting > 0 && this.bench) said.push(this.bench);
    const isLong = waiting > 0 && (await this.oldest()) > LONG;
    if (isLong) said.push("For more than a minute: save them as a file if the bench stays away.");
    const words = said.filter(Boolean).join(" ") || "Nothing waits on this device.";
    if (this.line.textContent !== words) this.line.textContent = words;
    this.line.dataset.count = String(waiting);
    this.line.dataset.held = String(held);
    this.line.toggleAttribute("data-warning", isLong || held > 0 || this.outbox.isMemory);
    this.line.toggleAttribute("data-loud", this.outbox.isMemory);
  }

  async oldest() {
    const [first] = await this.outbox.waiting(1);
    return first ? Date.now() - first.since : 0;
  }
}
