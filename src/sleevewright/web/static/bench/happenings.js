/* What happens at a moment, and sets of readings that are begun: both wait in the outbox
   like values and are never lost by a bench that is away.

   Hooks: <button data-happened="wipe" [data-stage="ready"] [data-result="clean"]>
          <form data-begin-set data-stage="parent"> with named inputs: feature, instrument,
          nominal, unit, stations and directions (texts with ; between them), entry, … ;
          part_temperature and gauge_temperature; an input named instruments holds JSON.
   Events on document: "bench:began" {set, entry} when a set is in the outbox; when the bench
   has kept it the page is loaded anew, unless the event was cancelled. What the device could
   not keep is said beside the press. */

import { newId, newName } from "./ids.js";
import { keepOrSay } from "./unkept.js";

const LISTS = new Set(["stations", "directions"]);
const READ_AS_JSON = new Set(["instruments", "blank"]);
const WHOLE = new Set(["last_digits", "cylinder"]);

export class Happenings {
  constructor(main, outbox) {
    Object.assign(this, { main, outbox });
  }

  start() {
    document.addEventListener("click", (event) => {
      const press = event.target.closest?.("[data-happened]");
      if (press) this.happened(press);
    });
    document.addEventListener("submit", (event) => {
      if (!event.target.matches("form[data-begin-set]")) return;
      event.preventDefault();
      this.begin(event.target);
    });
  }

  common(element) {
    const { cylinder, stage, person } = this.main.dataset;
    const body = {
      cylinder: Number(element.dataset.cylinder ?? cylinder ?? 1),
      stage: element.dataset.stage ?? stage,
      said: new Date().toISOString(),
    };
    if (person) body.person = person;
    return body;
  }

  async happened(press) {
    const body = { ...this.common(press), what: press.dataset.happened, at: now() };
    for (const key of ["result", "text"]) if (press.dataset[key]) body[key] = press.dataset[key];
    const entry = { id: newId(), job: this.main.dataset.job, kind: "event", body };
    await keepOrSay(press, () => this.outbox.put(entry), "press it again.");
  }

  async begin(form) {
    const body = { ...this.common(form), set: newName(6) };
    for (const [name, said] of new FormData(form)) {
      const text = String(said).trim();
      if (text === "") continue;
      if (LISTS.has(name)) body[name] = text.split(";").map((one) => one.trim()).filter(Boolean);
      else if (READ_AS_JSON.has(name)) body[name] = JSON.parse(text);
      else if (WHOLE.has(name)) body[name] = Number(text);
      else body[name] = text;
    }
    if (await this.isRefused(form, body)) return;
    const id = newId();
    const told = { id, job: this.main.dataset.job, kind: "set", body };
    const entry = await keepOrSay(form, () => this.outbox.put(told), "begin the set again.");
    if (!entry) return;
    const detail = { set: body.set, entry };
    const event = new CustomEvent("bench:began", { detail, cancelable: true });
    if (!document.dispatchEvent(event)) return;
    this.outbox.addEventListener("change", ({ detail: { entries } }) => {
      if (!entries.some((one) => one.id === id && one.state === "kept")) return;
      remember(body.set);
      window.location.reload();
    });
  }

  /* A bench that answers says at once what cannot be; one that is away is not waited for. */
  async isRefused(form, body) {
    const place = form.querySelector("[data-refused]");
    if (!place) return false;
    const path = `/api/jobs/${encodeURIComponent(this.main.dataset.job)}/sets/check`;
    const answer = await fetch(path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ body }),
      signal: AbortSignal.timeout(PATIENCE),
    }).catch(() => null);
    const told = answer?.status === 422 ? await answer.json().catch(() => ({})) : {};
    place.hidden = !told.error;
    place.textContent = told.error ?? "";
    const field = told.field ? form.elements[told.field] : null;
    for (const one of form.elements) one.removeAttribute?.("aria-invalid");
    if (field instanceof HTMLElement) {
      field.setAttribute("aria-invalid", "true");
      field.focus();
    }
    return Boolean(told.error);
  }
}

const PATIENCE = 4000;
const BEGUN = "bench-set-begun";

/* The set that was just begun is the one that is read next, whatever else is empty. */
function remember(set) {
  try {
    window.sessionStorage.setItem(BEGUN, set);
  } catch {
    /* without it the first empty cell of the page is next */
  }
}

export function begunSet() {
  try {
    const set = window.sessionStorage.getItem(BEGUN);
    window.sessionStorage.removeItem(BEGUN);
    return set;
  } catch {
    return null;
  }
}

function now() {
  return new Date().toISOString();
}
