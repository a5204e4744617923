/* The cells of a page: what was told for each, by whom it was replaced, and how that shows.

   The value of a cell is what nobody replaced. Two such that differ are a conflict: both
   are shown with a press for each, and no clock decides between them. */

import { growFor } from "./rows.js";

const STATES = { waiting: "waiting", kept: "kept", held: "held", conflict: "two values", refused: "not kept" };

export class Cells {
  constructor(main) {
    this.main = main;
    this.all = new Map();
    this.bind(document);
  }

  /* Take in the inputs below a root; the page's own attributes say what stands. */
  bind(root) {
    for (const element of root.querySelectorAll("[data-cell]")) {
      const cell = this.of(element, true);
      if (cell.elements.includes(element)) continue;
      cell.elements.push(element);
      if (cell.told.size === 0) for (const one of toldOn(element)) cell.told.set(one.id, one);
      const early = earlyText(element);
      this.show(cell);
      if (early) askAbout(element, early);
    }
  }

  /* The cell of an element, or of {cylinder, cell} as a record names it. */
  of(where, isMade = false) {
    const isElement = where instanceof Element;
    const name = isElement ? where.dataset.cell : where.cell;
    const own = isElement ? where.dataset.cylinder : where.cylinder;
    const cylinder = Number(own ?? this.main.dataset.cylinder ?? 1);
    const key = `${cylinder}/${name}`;
    if (!this.all.has(key) && isMade) {
      this.all.set(key, { key, name, cylinder, elements: [], told: new Map() });
    }
    return this.all.get(key);
  }

  /* What a record or an entry of this device tells; the same id twice changes its state. */
  tell({ id, body, device = "", state = "kept", text = "" }) {
    growFor(this, body);
    const cell = this.of(body);
    if (!cell) return null;
    const before = cell.told.get(id);
    if (before?.state === "kept" && state === "waiting") return cell;
    const told = { id, text: body.text ?? "", by: device, replaces: body.replaces ?? [], state };
    cell.told.set(id, { ...told, reason: text });
    this.show(cell);
    return cell;
  }

  forget(id, body) {
    const cell = this.of(body);
    if (!cell?.told.delete(id)) return;
    this.show(cell);
  }

  show(cell) {
    const [stands, held] = [heads(cell), heldOf(cell)];
    const texts = new Set(stands.map((one) => one.text));
    const state = stateOf(stands, held, texts);
    const text = held?.text ?? (texts.size === 1 ? stands[0].text : "");
    for (const element of cell.elements) {
      element.dataset.told = texts.size === 1 ? stands[0].text : "";
      element.dataset.toldIds = stands.map((one) => one.id).join(" ");
      if (!isBeingKeyed(element)) setText(element, text);
      if (state === "held") element.setAttribute("aria-invalid", "true");
      else if (element.dataset.refused === undefined) element.removeAttribute("aria-invalid");
      const output = outputOf(element);
      if (output) showState(output, state, state === "conflict" ? stands : []);
      if (held && element.dataset.refused === undefined) say(element, held.reason, "held");
      else if (messageFor(element)?.dataset.why === "held") unsay(element);
    }
  }
}

/* What was keyed while the page was still coming: nobody listened, not even to Enter, so two
   readings may stand there as one. It is neither lost nor told, but shown and asked about. */
function earlyText(element) {
  const isText = element.matches("input:not([type=checkbox], [type=radio]), textarea");
  return isText && element.value !== element.defaultValue ? element.value : "";
}

function askAbout(element, text) {
  element.value = text;
  element.dataset.dirty = "";
  element.dataset.refused = text;
  element.setAttribute("aria-invalid", "true");
  say(element, "Keyed before the page was ready: key it again, or Enter if it stands right.", "early");
  if (element === document.activeElement) element.select();
}

function toldOn(element) {
  const { told = "", toldIds = "", conflict = "" } = element.dataset;
  if (conflict) {
    return JSON.parse(conflict).map(({ id, text, by = "" }) => ({
      id, text, by, replaces: [], state: "kept",
    }));
  }
  const ids = toldIds.split(/[\s,]+/).filter(Boolean);
  return ids.map((id) => ({ id, text: told, by: "", replaces: [], state: "kept" }));
}

export function heads(cell) {
  const said = [...cell.told.values()].filter((one) => one.state !== "held");
  const replaced = new Set(said.flatMap((one) => one.replaces));
  return said.filter((one) => !replaced.has(one.id));
}

export function heldOf(cell) {
  return [...cell.told.values()].findLast((one) => one.state === "held");
}

function stateOf(stands, held, texts) {
  if (held) return "held";
  if (texts.size > 1) return "conflict";
  if (stands.some((one) => one.state === "waiting")) return "waiting";
  return stands.length > 0 && stands[0].text !== "" ? "kept" : "";
}

/* Where the person is just typing, nothing is written over. */
function isBeingKeyed(element) {
  return element === document.activeElement && element.dataset.dirty !== undefined;
}

export function textOf(element) {
  if (element.type === "checkbox") {
    const on = element.hasAttribute("value") ? element.value : "yes";
    return element.checked ? on : (element.dataset.off ?? "");
  }
  if (element.type === "radio") {
    const group = document.querySelectorAll(`[data-cell="${CSS.escape(element.dataset.cell)}"]`);
    return [...group].find((one) => one.checked)?.value ?? "";
  }
  return element.value;
}

export function setText(element, text) {
  delete element.dataset.dirty;
  if (element.type === "checkbox") {
    element.checked = text !== "" && text !== (element.dataset.off ?? "");
  } else if (element.type === "radio") element.checked = text !== "" && element.value === text;
  else if (element.value !== text) element.value = text;
}

export function fieldOf(element) {
  return element.closest("[data-field], fieldset, td") ?? element.parentElement;
}

export function outputOf(element) {
  return fieldOf(element).querySelector("output[data-state]");
}

function showState(output, state, rivals) {
  output.dataset.state = state;
  const words = STATES[state] ?? "";
  if (rivals.length === 0) {
    if (output.textContent !== words) output.textContent = words;
    return;
  }
  output.replaceChildren(
    `${words}: `,
    ...rivals.map(({ id, text, by }) => {
      const press = document.createElement("button");
      press.type = "button";
      press.className = "press";
      press.dataset.choose = id;
      press.textContent = text === "" ? "taken back" : text;
      press.setAttribute("aria-label", `Keep ${press.textContent}${by ? `, told on ${by}` : ""}`);
      return press;
    }),
  );
}

/* What stands in the cell is not what is kept: it was refused, and its reason is in sight. */
export function showUnkept(element) {
  const output = outputOf(element);
  if (output) showState(output, "refused", []);
  messageFor(element)?.scrollIntoView({ block: "nearest" });
}

/* The words beside a field: one place for each field, one for each grid of readings. */
export function messageFor(element, isMade = false) {
  const grid = element.closest("table[data-set]");
  const holder = grid ? grid.parentElement : fieldOf(element);
  let message = holder.querySelector(":scope > [data-message]");
  if (!message && isMade) {
    message = document.createElement("p");
    message.className = "message";
    message.dataset.message = "";
    message.setAttribute("role", "alert");
    if (grid) grid.after(message);
    else holder.append(message);
  }
  return message;
}

let made = 0;

export function say(element, text, why) {
  const message = messageFor(element, true);
  message.id ||= `message-${(made += 1)}`;
  message.dataset.why = why;
  message.hidden = false;
  if (message.textContent !== text) message.textContent = text;
  const described = new Set((element.getAttribute("aria-describedby") ?? "").split(" "));
  described.add(message.id);
  element.setAttribute("aria-describedby", [...described].join(" ").trim());
}

export function unsay(element) {
  const message = messageFor(element);
  if (!message || message.textContent === "") return;
  message.textContent = "";
  message.hidden = true;
  delete message.dataset.why;
}
