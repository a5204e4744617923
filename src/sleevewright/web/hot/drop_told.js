/* What is told of a drop: through the outbox, so that a bench that is away loses nothing.
   Each moment is the entry's moment plus seconds of performance.now(), and the seconds are
   told with it: "pedal 4.2". */

import { newId } from "../static/bench/ids.js";

export class DropTold {
  constructor(main, outbox, heads) {
    Object.assign(this, { main, outbox, heads });
  }

  common() {
    const { cylinder, person } = this.main.dataset;
    const body = { cylinder: Number(cylinder), said: new Date().toISOString() };
    return person ? { ...body, person } : body;
  }

  put(kind, body) {
    const id = newId();
    const entry = { id, job: this.main.dataset.job, kind, body: { ...this.common(), ...body } };
    return this.outbox.put(entry).then(() => id);
  }

  /* epoch: milliseconds of the entry; seconds: since then. */
  happened(what, epoch, seconds, way) {
    const at = new Date(epoch + seconds * 1000).toISOString();
    return this.put("event", { stage: "drop", what, at, result: `${way} ${seconds.toFixed(1)}` });
  }

  async value(cell, text) {
    const replaces = this.heads[cell] ?? [];
    const body = { cell, text, kind: "typed", source: "keyed", replaces };
    this.heads[cell] = [await this.put("value", body)];
  }
}
