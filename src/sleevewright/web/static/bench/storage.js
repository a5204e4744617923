/* Where a device keeps what it was told: IndexedDB, written through to the disk. Where a
   browser refuses that, memory with the same calls, and `isMemory` to be told loudly.

   `change(work)` and `look(work)` run `work(tx)` in one transaction; changes are done one
   after the other in the order of the calls, also between the tabs of a device, and the
   promise is kept only when the change is durable. Inside, only calls of `tx` are awaited:
     tx.entry(id), tx.entries(state), tx.count(state), tx.keep(entry), tx.drop(id),
     tx.fact(key), tx.setFact(key, value) */

const ENTRIES = "entry"; /* what was told, by id */
const FACTS = "fact"; /* the device's own name and its counts */
const BOTH = [ENTRIES, FACTS];

export async function openStorage(name) {
  try {
    const base = await asked(opening(name));
    base.onversionchange = () => base.close();
    return new Disk(base);
  } catch {
    return new Memory();
  }
}

function opening(name) {
  const request = indexedDB.open(name, 1);
  request.onupgradeneeded = () => {
    const entries = request.result.createObjectStore(ENTRIES, { keyPath: "id" });
    entries.createIndex("state", "state");
    request.result.createObjectStore(FACTS);
  };
  return request;
}

function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("held open by an older page"));
  });
}

class Disk {
  constructor(base) {
    this.base = base;
    this.isMemory = false;
  }

  change(work) {
    return this.run("readwrite", work);
  }

  look(work) {
    return this.run("readonly", work);
  }

  run(mode, work) {
    const transaction = this.base.transaction(BOTH, mode, { durability: "strict" });
    const done = new Promise((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(transaction.error ?? new Error("not stored"));
    });
    const told = Promise.resolve(work(new DiskCalls(transaction))).catch((trouble) => {
      try {
        transaction.abort();
      } catch {
        /* it ended before the trouble came */
      }
      throw trouble;
    });
    return Promise.all([told, done]).then(([result]) => result);
  }
}

class DiskCalls {
  constructor(transaction) {
    this.kept = transaction.objectStore(ENTRIES);
    this.facts = transaction.objectStore(FACTS);
  }

  entry(id) {
    return asked(this.kept.get(id));
  }

  entries(state) {
    return asked(state ? this.kept.index("state").getAll(state) : this.kept.getAll());
  }

  count(state) {
    return asked(this.kept.index("state").count(state));
  }

  keep(entry) {
    return asked(this.kept.put(entry));
  }

  drop(id) {
    return asked(this.kept.delete(id));
  }

  fact(key) {
    return asked(this.facts.get(key));
  }

  setFact(key, value) {
    return asked(this.facts.put(value, key));
  }
}

class Memory {
  constructor() {
    this.isMemory = true;
    this.calls = new MemoryCalls();
    this.last = Promise.resolve();
  }

  change(work) {
    const done = this.last.then(() => work(this.calls));
    this.last = done.catch(() => undefined);
    return done;
  }

  look(work) {
    return this.change(work);
  }
}

class MemoryCalls {
  constructor() {
    this.kept = new Map();
    this.facts = new Map();
  }

  async entry(id) {
    return this.kept.get(id);
  }

  async entries(state) {
    return [...this.kept.values()].filter((one) => !state || one.state === state);
  }

  async count(state) {
    return (await this.entries(state)).length;
  }

  async keep(entry) {
    this.kept.set(entry.id, structuredClone(entry));
  }

  async drop(id) {
    this.kept.delete(id);
  }

  async fact(key) {
    return this.facts.get(key);
  }

  async setFact(key, value) {
    this.facts.set(key, value);
  }
}
