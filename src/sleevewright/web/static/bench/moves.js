/* Where the focus goes: to the next empty cell after a reading, by arrows inside a grid. */

const WORDS = "textarea, [type=date], [type=time]";

export function isOpen(element) {
  return element.isConnected && !element.disabled && !element.readOnly && element.checkVisibility();
}

/* A cell that a reading can be typed into by a gauge. */
export function takesReadings(element) {
  if (!(element instanceof HTMLInputElement) || element.matches(WORDS)) return false;
  if (["checkbox", "radio"].includes(element.type)) return false;
  return Boolean(element.dataset.dimension ?? element.closest("table[data-set]"));
}

function isEmpty(element) {
  if (element.type === "checkbox" || element.type === "radio") return false;
  return element.value.trim() === "" && element.getAttribute("aria-invalid") !== "true";
}

function cellsIn(root) {
  return [...root.querySelectorAll("[data-cell]")].filter(isOpen);
}

/* In a grid the next empty place of that grid and no other cell: what a gauge sends after
   the last one must not fall into a temperature. Elsewhere the next empty field below. */
export function nextEmpty(element, { isGauge = false } = {}) {
  const grid = element.closest("table[data-set]");
  const all = cellsIn(grid ?? document);
  const at = all.indexOf(element);
  const after = all.slice(at + 1);
  const order = grid ? [...after, ...all.slice(0, Math.max(at, 0))] : after;
  return order.find((one) => isEmpty(one) && !(isGauge && isZero(one))) ?? null;
}

/* A zero check is gone to by hand: one reading too many must not become one. */
function isZero(element) {
  return element.dataset.zero !== undefined;
}

export function firstEmptyReading() {
  const isWanted = (one) => one.closest("table[data-set]") && isEmpty(one) && !isZero(one);
  return cellsIn(document).find(isWanted) ?? null;
}

/* Arrows walk a grid; left and right only where the caret has nothing left to walk over. */
export function byArrow(element, key) {
  const grid = element.closest("table[data-set]");
  if (!grid) return null;
  const steps = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };
  const step = steps[key];
  if (!step || (step[1] !== 0 && !caretIsAtEnd(element, step[1]))) return null;
  const rows = [...grid.rows].filter((row) => row.querySelector("[data-cell]"));
  const here = element.closest("tr");
  const column = element.closest("td, th").cellIndex;
  if (step[1] !== 0) {
    const row = cellsIn(here);
    return row[row.indexOf(element) + step[1]] ?? null;
  }
  for (let at = rows.indexOf(here) + step[0]; rows[at]; at += step[0]) {
    const found = rows[at].cells[column]?.querySelector("[data-cell]");
    if (found && isOpen(found)) return found;
  }
  return null;
}

function caretIsAtEnd(element, direction) {
  if (element.selectionStart === null || element.selectionStart === undefined) return true;
  const isAll = element.selectionEnd - element.selectionStart === element.value.length;
  if (isAll) return true;
  return direction < 0 ? element.selectionStart === 0 : element.selectionEnd === element.value.length;
}
