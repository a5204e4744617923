/* What was told on this device and is waiting: kept here until the bench says that it has
   committed it, and the last 500 for a while longer, in case the bench is restored from a
   backup that lacks them.

   An entry: {id, job, n, kind, version, body, state, order, since, text?, number?, at?}
   States:   waiting  not acknowledged
             held     refused by the bench with `text`; stays until put right or given up
             kept     acknowledged under `number`
             apart    belongs to another bench than the one that answers now
   Events (CustomEvent on the outbox, in every tab of the device):
             change   detail {entries: [entry as it is now, ...]} */

import { newId, newName } from "./ids.js";
import { openStorage } from "./storage.js";

const KEPT_ON = 500; /* acknowledged entries that stay on the device */
const CHANNEL = "sleevewright-outbox";
const VERSION = 1; /* format of the bodies that are written today */

export async function openOutbox(name = "sleevewright") {
  const storage = await openStorage(name);
  const device = await storage.change(async (tx) => {
    const known = await tx.fact("device");
    if (known) return known;
    const made = `d-${newName(10)}`;
    await tx.setFact("device", made);
    return made;
  });
  return new Outbox(storage, device, name);
}

export class Outbox extends EventTarget {
  constructor(storage, device, name) {
    super();
    this.storage = storage;
    this.device = device;
    this.isMemory = storage.isMemory;
    this.hasAsked = false;
    this.channel = new BroadcastChannel(`${CHANNEL}-${name}`);
    this.channel.onmessage = (event) => this.tell(event.data);
  }

  tell(entries) {
    this.dispatchEvent(new CustomEvent("change", { detail: { entries } }));
  }

  changed(entries) {
    if (entries.length === 0) return;
    this.tell(entries);
    this.channel.postMessage(entries);
  }

  /* Keep what was told; `id` is made by the caller, who goes on in the same tick. */
  async put({ id, job, kind, body }) {
    this.askToStay();
    const entry = await this.storage.change(async (tx) => {
      const n = await next(tx, `n/${job}`);
      const order = await next(tx, "order");
      const made = {
        id, job, n, kind, version: VERSION, body, order, state: "waiting", since: Date.now(),
      };
      await tx.keep(made);
      return made;
    });
    this.changed([entry]);
    return entry;
  }

  /* Asked once there is something to keep: some browsers ask the person. */
  askToStay() {
    if (this.isMemory || this.hasAsked) return;
    this.hasAsked = true;
    navigator.storage?.persist?.().catch(() => false);
  }

  /* The oldest of what waits, in the order of the telling. */
  async waiting(most = Infinity) {
    const found = await this.storage.look((tx) => tx.entries("waiting"));
    return inOrder(found).slice(0, most);
  }

  async held() {
    return inOrder(await this.storage.look((tx) => tx.entries("held")));
  }

  async apart() {
    return inOrder(await this.storage.look((tx) => tx.entries("apart")));
  }

  counts() {
    return this.storage.look(async (tx) => ({
      waiting: await tx.count("waiting"),
      held: await tx.count("held"),
      apart: await tx.count("apart"),
    }));
  }

  /* What the bench answered to a lot. An id that it did not name goes on waiting. */
  async answered(answers) {
    const changed = await this.storage.change(async (tx) => {
      const seen = [];
      for (const answer of answers) {
        const entry = await tx.entry(answer.id);
        if (!entry || entry.state === "kept") continue;
        if (answer.state === "kept") {
          const number = answer.number ?? 0;
          Object.assign(entry, { state: "kept", number, at: await next(tx, "kept"), text: "" });
          await raise(tx, `last/${entry.job}`, number);
        } else if (answer.state === "held") {
          Object.assign(entry, { state: "held", text: answer.text ?? "" });
        } else continue;
        await tx.keep(entry);
        seen.push(entry);
      }
      await trim(tx);
      return seen;
    });
    this.changed(changed);
    return changed;
  }

  /* A held entry put right: another id and text in the same place of the device's count. */
  async correct(id, changes) {
    const [old, made] = await this.storage.change(async (tx) => {
      const entry = await tx.entry(id);
      if (!entry || entry.state !== "held") return [];
      const body = { ...entry.body, ...changes };
      const fresh = { ...entry, id: changes.id ?? newId(), body, state: "waiting", text: "" };
      delete fresh.body.id;
      await tx.drop(id);
      await tx.keep(fresh);
      return [entry, fresh];
    });
    if (made) this.changed([{ ...old, state: "gone" }, made]);
    return made;
  }

  /* A held entry given up: its place in the count is told, so that no gap stays. */
  async giveUp(id, reason) {
    const [old, made] = await this.storage.change(async (tx) => {
      const entry = await tx.entry(id);
      if (!entry || entry.state === "kept") return [];
      const body = { cylinder: entry.body.cylinder ?? 0, reason };
      const fresh = { ...entry, id: newId(), kind: "given-up", body, state: "waiting", text: "" };
      await tx.drop(id);
      await tx.keep(fresh);
      return [entry, fresh];
    });
    if (made) this.changed([{ ...old, state: "gone" }, made]);
    return made;
  }

  /* The bench names its store and the last number of each job. A lower number than this
     device was once told, or a store that it does not know, is one restored from a backup:
     what was acknowledged waits again. Of a store of another origin, `isSame(job)` says
     whether a job is the same one; what is another's is set apart and never sent. */
  async met(store, last = {}, isSame = async () => false) {
    const known = await this.storage.look(async (tx) => ({
      store: await tx.fact("store"),
      jobs: [...new Set((await tx.entries()).map((one) => one.job))],
    }));
    const isNew = Boolean(known.store) && Boolean(store) && known.store !== store;
    const isRestored = isNew && originOf(known.store) === originOf(store);
    const same = {};
    if (isNew) for (const job of known.jobs) same[job] = isRestored || (await isSame(job));
    const changed = await this.storage.change(async (tx) => {
      const seen = [];
      const again = new Set();
      for (const [job, number] of Object.entries(last)) {
        if (number < ((await tx.fact(`last/${job}`)) ?? 0)) again.add(job);
        await tx.setFact(`last/${job}`, number);
      }
      if (again.size > 0 || isNew) {
        for (const entry of await tx.entries()) {
          const state = stateIn(entry, isNew ? same[entry.job] : again.has(entry.job), isNew);
          if (state === entry.state) continue;
          Object.assign(entry, { state, since: Date.now() });
          await tx.keep(entry);
          seen.push(entry);
        }
      }
      if (store) await tx.setFact("store", store);
      return seen;
    });
    this.changed(changed);
    return changed;
  }

  fact(key) {
    return this.storage.look((tx) => tx.fact(key));
  }

  setFact(key, value) {
    return this.storage.change((tx) => tx.setFact(key, value));
  }

  /* One tab sends at a time; a tab that went away gives its turn up after a while. */
  takeLease(tab, milliseconds) {
    return this.storage.change(async (tx) => {
      const lease = await tx.fact("lease");
      const now = Date.now();
      const isFree = !lease || lease.tab === tab || lease.until < now;
      /* A clock that was set back must not keep everybody from sending. */
      const isOdd = lease && lease.until > now + 10 * milliseconds;
      if (!isFree && !isOdd) return false;
      await tx.setFact("lease", { tab, until: now + milliseconds });
      return true;
    });
  }

  endLease(tab) {
    return this.storage.change(async (tx) => {
      const lease = await tx.fact("lease");
      if (lease?.tab === tab) await tx.setFact("lease", { tab, until: 0 });
    });
  }
}

/* A store that was restored counts the restorings behind its name: "k3f9-2". */
function originOf(store) {
  return store.replace(/-\d+$/, "");
}

function inOrder(entries) {
  return entries.sort((one, other) => one.order - other.order);
}

async function next(tx, key) {
  const count = ((await tx.fact(key)) ?? 0) + 1;
  await tx.setFact(key, count);
  return count;
}

async function raise(tx, key, number) {
  if (number > ((await tx.fact(key)) ?? 0)) await tx.setFact(key, number);
}

async function trim(tx) {
  const over = (await tx.count("kept")) - KEPT_ON;
  if (over <= 0) return;
  const kept = (await tx.entries("kept")).sort((one, other) => one.at - other.at);
  for (const entry of kept.slice(0, over)) await tx.drop(entry.id);
}

/* What becomes of an entry when a store is met that was restored, or another's. */
function stateIn(entry, isThere, isNew) {
  if (isNew && !isThere) return "apart";
  if (entry.state === "kept" && isThere) return "waiting";
  if (entry.state === "apart" && isThere) return "waiting";
  return entry.state;
}
