/* Entry of values on a page of the bench: every `[data-cell]` is bound here.

   HOOKS, as the templates write them
   <main data-bench data-job="J-31" data-cylinder="1" data-stage="parent" data-store="…"
         data-last="17" [data-person="p1"] [data-wedge='["regex with (?<reading>…)", …]'] [data-wedge-between="50"]>
   A field     <div data-field><label>… <input data-cell="casting.mass" data-dimension="mass">
               <output data-state></output></div>      label, input, output in one data-field,
               fieldset or td (else in one parent). Also select, textarea, input of type
               date, checkbox (value = the text told when ticked, else "yes"; data-off = the
               text told when not, else taken back) and radio (one data-cell, several values).
   A grid      <table data-set="k3f9" data-nominal-nm data-unit data-entry data-last-digits
               data-turn-nm [data-turn-words] data-doubt-nm> with one input in each td:
               <input data-cell="set/k3f9/0/1">; a zero check has data-zero as well.
   Attributes of a cell (of a grid: once on its table)
     data-cylinder     0 for the whole job; else that of the main
     data-told         text that stands;  data-told-ids  ids of the values that stand
     data-conflict     JSON [{"id","text","by"}] where several stand; then no data-told
     data-dimension    name of the dimension; without it the text is words (grids: length)
     data-unit         unit of a bare number; with a nominal, of deviations
     data-nominal-nm   what a signed number deviates from
     data-low, -high   span in SI (temperatures kelvin);  data-allowed  the span in words
     data-around-zero  readings have no nominal: a bare number is in the unit of the set
     data-most-off-nm  how far from the nominal a reading is believed
     data-doubt-nm     a repeat that differs by more than three of them is asked for again
     data-turn-nm      one turn of the dial;  data-turn-words  "a 0.5 mm dial"
     data-kind         measured | typed | chosen | assumed;  data-instrument  its name
   Elsewhere   [data-echo] with [data-echo-figure], -unit, -words, -size: the last reading
               [data-press="take-back"]: takes the last one back (made here: data-choose)
               [data-waiting]: status line (start.js);  [data-unsent]: what waits (unsent.js)
               [data-part="answers"]: swapped after kept readings (live.js)
   Written here: output[data-state] = "" | waiting | kept | held | conflict; aria-invalid;
               [data-message] beside the field or below the grid.
   EVENTS on document: "bench:told" {id, body, state}, "bench:kept" {entries},
               "bench:refused" {cell, text}, "bench:switch" {job} (may be cancelled). */

import { asked, judge, plainZero, wantedOf } from "./checks.js";
import { heads, heldOf, say, setText, showUnkept, textOf, unsay } from "./cells.js";
import { newId } from "./ids.js";
import { byArrow, firstEmptyReading, isOpen, nextEmpty, takesReadings } from "./moves.js";
import { echoed } from "./echo.js";
import { beep, buzz } from "./sounds.js";

const IN_PARTS = new Set(["date", "time", "month", "datetime-local"]);
const NOWHERE = "No cell waits for a reading.";

export class Entry {
  constructor(main, outbox, cells) {
    Object.assign(this, { main, outbox, cells });
    this.current = null;
    this.done = []; /* what was told on this page, for taking back */
    this.pending = new Set();
  }

  start() {
    document.addEventListener("focusin", (event) => this.onFocus(event.target));
    document.addEventListener("focusout", (event) => this.onLeave(event.target));
    document.addEventListener("input", (event) => this.onInput(event.target));
    document.addEventListener("change", (event) => this.onChange(event.target));
    document.addEventListener("keydown", (event) => this.onKey(event));
    document.addEventListener("click", (event) => this.onClick(event));
    window.addEventListener("beforeunload", (event) => {
      if (this.pending.size > 0) event.preventDefault();
    });
    this.outbox.addEventListener("change", (event) => this.onOutbox(event.detail.entries));
  }

  onFocus(element) {
    if (!element.matches?.("[data-cell]")) return;
    this.current = element;
    if (takesReadings(element)) element.select();
  }

  onInput(element) {
    if (!element.matches("[data-cell]")) return;
    element.dataset.dirty = "";
    if (element.dataset.refused !== undefined) {
      delete element.dataset.refused;
      element.removeAttribute("aria-invalid");
      unsay(element);
    }
  }

  /* Fired when a changed field is left, and by ticks and choices at once. What Enter told
     before it moved the focus is no longer marked, and is not told a second time. */
  onChange(element) {
    if (!element.matches("[data-cell]")) return;
    if (element.dataset.dirty === undefined && element.type !== "radio") return;
    if (IN_PARTS.has(element.type) && element === document.activeElement) return;
    this.take(element, textOf(element), { source: "keyed", stays: true });
  }

  /* A day is typed in parts, each of which changes the field: told when it is left. */
  onLeave(element) {
    if (!element.matches?.("[data-cell]") || !IN_PARTS.has(element.type)) return;
    if (element.dataset.dirty === undefined) return;
    this.take(element, element.value, { source: "keyed", stays: true });
  }

  onKey(event) {
    const { target, key } = event;
    if (!target.matches?.("[data-cell]") || event.isComposing) return;
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (key === "Escape") {
      delete target.dataset.asked;
      delete target.dataset.refused;
      this.restore(target);
      unsay(target);
    } else if (key === "Enter" && ["checkbox", "radio"].includes(target.type)) {
      event.preventDefault();
      this.goOn(target);
    } else if (key === "Tab" && target.dataset.dirty !== undefined && !event.shiftKey) {
      /* A refused text keeps the focus once; a second Tab lets go of it, untold. */
      if (target.dataset.refused === target.value) this.restore(target);
      else if (!this.take(target, target.value, { source: "keyed", stays: true })) {
        event.preventDefault();
      }
    } else {
      const next = byArrow(target, key);
      if (!next) return;
      event.preventDefault();
      next.focus();
    }
  }

  onClick(event) {
    const press = event.target.closest?.("[data-press], [data-choose]");
    if (!press) return;
    if (press.dataset.press === "take-back") this.takeBack(press.closest(".gridded, section.grid"));
    else if (press.dataset.choose) this.choose(press, press.dataset.choose);
  }

  /* The cell into which a figure goes that is typed anywhere on the page. */
  wanted() {
    const here = this.current;
    if (here && isOpen(here) && takesReadings(here)) {
      const isFree = here.value === "" || here.dataset.dirty !== undefined;
      if (isFree) return here;
      return here.closest("table[data-set]") ? nextEmpty(here, { isGauge: true }) : null;
    }
    return this.done.length > 0 ? null : firstEmptyReading();
  }

  /* A text for a cell: told, or refused with the focus kept. True where it was taken. */
  take(element, text, { source = "keyed", stays = false } = {}) {
    const cell = this.cells.of(element);
    const held = heldOf(cell);
    const stands = heads(cell);
    const said = plainZero(element, text.trim());
    const isSame = stands.length > 0
      ? new Set(stands.map((one) => one.text)).size === 1 && stands[0].text === said
      : said === "";
    if (isSame && !held) {
      setText(element, said);
      if (!stays) this.goOn(element, source);
      return true;
    }
    const verdict = said === "" ? { ok: true, reading: null } : judge(element, said, this.cells);
    if (verdict.ok !== true) return this.refuse(element, said, verdict);
    this.tell(element, cell, said, { source, reading: verdict.reading, held });
    if (!stays) this.goOn(element, source);
    return true;
  }

  refuse(element, text, { ok, text: why, reading }) {
    if (ok === "ask") element.dataset.asked = reading.value;
    element.dataset.dirty = "";
    element.value = text;
    element.dataset.refused = text;
    element.setAttribute("aria-invalid", "true");
    say(element, why, "refused");
    showUnkept(element);
    element.select?.();
    buzz();
    announce("bench:refused", { cell: element.dataset.cell, text: why });
    return false;
  }

  /* A reading that no cell waits for is not guessed into one. */
  nowhere() {
    buzz();
    announce("bench:refused", { cell: "", text: NOWHERE });
  }

  /* Mark the cell, then keep what was told: whoever moves the focus finds it told. */
  tell(element, cell, text, { source, reading = null, held = null }) {
    const id = newId();
    const stands = heads(cell);
    const body = {
      cylinder: cell.cylinder,
      cell: cell.name,
      text,
      source: reading && isSpoken(text, reading) ? "dictated" : source,
      said: new Date().toISOString(),
      replaces: stands.map((one) => one.id),
    };
    for (const key of ["kind", "instrument"]) if (asked(element, key)) body[key] = asked(element, key);
    if (this.main.dataset.person) body.person = this.main.dataset.person;
    for (const key of ["dirty", "refused", "asked"]) delete element.dataset[key];
    element.removeAttribute("aria-invalid");
    unsay(element);
    if (held) cell.told.delete(held.id);
    this.done.push({ id, element, before: stands.length === 1 ? stands[0].text : "" });
    this.keep({ id, body, held });
    setText(element, text);
    echoed(text, reading, wantedOf(element), element);
    return id;
  }

  /* Into the outbox; the tick does not wait for it. */
  keep({ id, body, held = null }) {
    this.cells.tell({ id, body, state: "waiting" });
    announce("bench:told", { id, body, state: "waiting" });
    const job = this.main.dataset.job;
    const put = async () => {
      const corrected = held && (await this.outbox.correct(held.id, { ...body, id }));
      if (!corrected) await this.outbox.put({ id, job, kind: "value", body });
    };
    const done = put().then(beep, (trouble) => {
      buzz();
      const reason = `This device could not keep it: ${trouble.message}. Tell it again.`;
      this.cells.tell({ id, body, state: "held", text: reason });
    });
    this.pending.add(done);
    done.finally(() => this.pending.delete(done));
  }

  goOn(element, source = "keyed") {
    const next = nextEmpty(element, { isGauge: source === "gauge" });
    if (next) {
      next.focus();
      return;
    }
    if (!element.closest("table[data-set]")) return;
    /* The grid is full: nothing that comes now may fall into its last cell. */
    this.current = null;
    element.blur();
    document.querySelector("[data-echo]")?.focus();
  }

  restore(element) {
    const cell = this.cells.of(element);
    const stands = heads(cell);
    setText(element, heldOf(cell)?.text ?? (stands.length === 1 ? stands[0].text : ""));
    if (!heldOf(cell)) element.removeAttribute("aria-invalid");
    this.cells.show(cell);
  }

  /* The last one told here, or in a set, is replaced by what stood before it, or by nothing. */
  takeBack(set = null) {
    const at = this.done.findLastIndex(({ element }) => !set || set.contains(element));
    if (at < 0) return;
    const [last] = this.done.splice(at, 1);
    const cell = this.cells.of(last.element);
    const told = cell.told.get(last.id);
    if (told?.state === "held") {
      cell.told.delete(last.id);
      this.outbox.giveUp(last.id, "taken back");
      this.cells.show(cell);
    } else {
      const body = {
        cylinder: cell.cylinder, cell: cell.name, text: last.before, source: "keyed",
        said: new Date().toISOString(), replaces: [last.id],
      };
      if (this.main.dataset.person) body.person = this.main.dataset.person;
      delete last.element.dataset.dirty;
      this.keep({ id: newId(), body });
    }
    echoed("", null, {}, last.element);
    last.element.focus();
  }

  /* Of two values that stand the person keeps one; it is told anew and replaces both. */
  choose(press, id) {
    const element = press.closest("[data-field], fieldset, td")?.querySelector("[data-cell]")
      ?? press.closest("output").parentElement.querySelector("[data-cell]");
    const cell = this.cells.of(element);
    const chosen = cell.told.get(id);
    if (!chosen) return;
    delete element.dataset.dirty;
    this.tell(element, cell, chosen.text, { source: "keyed" });
    element.focus();
  }

  /* `isNews` is false for what lay in the outbox when the page was opened. */
  onOutbox(entries, isNews = true) {
    const own = entries.filter((one) => one.job === this.main.dataset.job);
    for (const { id, kind, body, state, text } of own) {
      if (kind !== "value") continue;
      if (state === "gone") this.cells.forget(id, body);
      else if (state === "apart") continue;
      else {
        const cell = this.cells.tell({ id, body, state, text });
        if (state === "held" && cell && isNews) buzz();
      }
    }
    const kept = own.filter((one) => one.state === "kept");
    if (kept.length > 0) announce("bench:kept", { entries: kept });
  }

  async switchTo(job) {
    const event = announce("bench:switch", { job });
    if (event.defaultPrevented) return;
    await Promise.allSettled([...this.pending]);
    window.location.assign(`/jobs/${encodeURIComponent(job)}`);
  }
}

function isSpoken(text, reading) {
  return /[a-z]{3}.*\s/i.test(text) && reading.plain.toLowerCase() !== text.toLowerCase();
}

function announce(name, detail) {
  const event = new CustomEvent(name, { detail, cancelable: true });
  document.dispatchEvent(event);
  return event;
}
