/* Is what was keyed for a cell believable? Right, refused with what would be taken, or
   asked: read it again, and the reading that two agree on is taken.

   judge(element, text) answers
     {ok: true, reading}            reading is null where the cell holds words
     {ok: false, text}              refused
     {ok: "ask", text, reading}     taken only when it is said again */

import { isFramed, typed } from "./gaugetext.js";
import { keyed } from "./keyed.js";
import { read, taken } from "./reading.js";
import { heads } from "./cells.js";

const NANO = 1e9;
const DOUBTS = 3; /* a repeat that differs by more of them is asked for again */
const MOST_TAKEN = 1.25; /* of what a pass was asked; a bar springs back */
const NEAR = 0.1; /* of a turn of the dial */
const SAME = 0.25; /* of a turn: another reading that agrees */
const LEAST_SLIP = 0.2e-3; /* m between a slip of the point and what may be wear */
const NEAR_SLIP = 0.06;
const SLIPS = [
  [10.0, "A decimal place out: is the point in the right place?"],
  [25.4, "25.4 times the others: was it read in µm for thou?"],
  [100.0, "A hundred times the others: is the point in the right place?"],
];
/* A worn bore may differ by a turn from one depth to another: there each depth for itself. */
const [WORN, FOUND] = ["as-found-bore", "found"];
/* Each pass makes the bore larger, by a turn and more, and the last is a tenth of the first. */
const CUT = "parent-pass";
const BLANKS = new Set(["", "-", "\u2013", "\u2014"]);
const METRIC = new Set(["µm", "mm", "cm", "m"]);

/* An attribute of the cell, or of the grid that it stands in. */
export function asked(element, name) {
  const own = element.dataset[name];
  if (own !== undefined) return own;
  return element.closest("table[data-set]")?.dataset[name];
}

function number(element, name) {
  const said = asked(element, name);
  return said === undefined || said === "" ? null : Number(said);
}

export function wantedOf(element) {
  const grid = element.closest("table[data-set]");
  const unit = asked(element, "unit") ?? "";
  const system = element.closest("[data-units]")?.dataset.units;
  const isMetric = unit ? METRIC.has(unit) : system === "metric";
  /* What shows where nothing should, and readings around zero, as of a sweep. */
  const isZero = element.dataset.zero !== undefined || asked(element, "aroundZero") !== undefined;
  return {
    dimension: asked(element, "dimension") ?? (grid ? "length" : ""),
    unit,
    nominalNm: isZero ? null : number(element, "nominalNm"),
    entry: grid && !isZero ? (asked(element, "entry") ?? "size") : "",
    lastDigits: number(element, "lastDigits"),
    sign: asked(element, "sign") ?? "",
    hundredth: isMetric ? "mm" : "",
  };
}

/* A zero check is told as its number alone; what a gauge puts around it is left off. */
export function plainZero(element, text) {
  if (element.dataset.zero === undefined || !isFramed(keyed(text))) return text;
  try {
    return typed(keyed(text));
  } catch {
    return text; /* refused as it stands */
  }
}

export function readingOf(element, text) {
  const wanted = wantedOf(element);
  return wanted.dimension ? read(text, wanted) : null;
}

export function judge(element, text, cells) {
  const isGrid = Boolean(element.closest("table[data-set]"));
  /* A dash in a grid says that nothing is read there. */
  if (isGrid && BLANKS.has(text)) return { ok: true, reading: null };
  const reading = readingOf(element, text);
  if (reading === null) return { ok: true, reading: null };
  if (!reading.ok) return { ok: false, text: reading.text };
  const far = outside(element, reading) || turned(element, reading, cells)
    || slipped(element, reading, cells);
  if (far) return { ok: false, text: far };
  const doubtful = differs(element, reading, cells) || overtakes(element, reading, cells);
  if (!doubtful) return { ok: true, reading };
  return isAgreed(element, reading) ? { ok: true, reading } : { ok: "ask", text: doubtful, reading };
}

/* The span of a field is told in SI; its words are the page's. */
function outside(element, reading) {
  const [low, high] = [number(element, "low"), number(element, "high")];
  const room = 1e-9 * Math.max(Math.abs(low ?? 0), Math.abs(high ?? 0));
  const isBelow = low !== null && reading.value < low - room;
  const isAbove = high !== null && reading.value > high + room;
  if (!isBelow && !isAbove && !isFarOff(element, reading)) return "";
  const allowed = asked(element, "allowed");
  const words = allowed ? `Allowed is ${allowed}.` : taken(wantedOf(element));
  return `${reading.plain} is outside of what can be here. ${words}`;
}

/* A reading of a set lies not far from the set's nominal. */
function isFarOff(element, reading) {
  const { nominalNm } = wantedOf(element);
  const most = number(element, "mostOffNm");
  if (nominalNm === null || most === null) return false;
  return Math.abs(reading.value * NANO - nominalNm) > most + 0.5;
}

function standing(element, cells) {
  const stands = heads(cells.of(element)).filter((one) => one.text !== "");
  return stands.length === 1 ? readingOf(element, stands[0].text) : null;
}

/* A second reading of the same place that is not the first one. */
function differs(element, reading, cells) {
  const doubt = number(element, "doubtNm");
  const before = standing(element, cells);
  if (!doubt || !before?.ok) return "";
  const off = Math.abs(reading.value - before.value) * NANO;
  if (off <= DOUBTS * doubt) return "";
  return `${reading.plain} differs from ${before.plain}, read here before, by more than three `
    + "times its doubt. Read it again.";
}

/* A pass takes less than it was asked, and never less than nothing: what says otherwise is a
   slip of unit or sign more often than a cut. Nothing is held against a pass that was not asked. */
function overtakes(element, reading, cells) {
  const { pass, taken: took } = tookOf(element, reading, cells);
  if (took === null) return "";
  if (took < 0.0) {
    return `${reading.plain} would mean that pass ${pass} made the bore smaller. Read it again.`;
  }
  const start = passesOf(element);
  const cell = document.querySelector(`[data-cell="${start}/${pass}/asked"]`);
  const ask = cell && standing(cell, cells);
  const doubt = (DOUBTS * (number(element, "doubtNm") ?? 0)) / NANO;
  if (!ask?.ok || ask.value <= 0.0 || took <= MOST_TAKEN * ask.value + doubt) return "";
  const times = (took / ask.value).toFixed(2);
  return `${reading.plain} would mean that pass ${pass} took ${times} times what it was asked. `
    + "Is the unit right? Read it again.";
}

const TAKEN = /^((?:parent|piston)\.pass)\/(\d+)\/got$/;

function passesOf(element) {
  return TAKEN.exec(element.dataset.cell)?.[1] ?? "parent.pass";
}

/* Which pass a cell tells of and what that took: its own figure, or reading less reading. */
function tookOf(element, reading, cells) {
  const own = TAKEN.exec(element.dataset.cell);
  if (own) return { pass: own[2], taken: reading.value };
  const grid = element.closest(`table[data-feature="${CUT}"]`);
  const place = /\/(\d+)\/\d+$/.exec(element.dataset.cell);
  if (!grid || !place || element.dataset.zero !== undefined) return { taken: null };
  const row = element.closest("tr").previousElementSibling;
  const before = Number(place[1]) === 0 ? firstBefore(grid) : othersIn(row, element, cells)[0];
  if (before === undefined) return { taken: null };
  return { pass: Number(place[1]) + 1, taken: reading.value - before / NANO };
}

/* Where the bore stood before its first pass, in nanometres, as the page knows it. */
function firstBefore(grid) {
  return grid.dataset.beforeNm ? Number(grid.dataset.beforeNm) : undefined;
}

/* The dial went round once more than was counted: whole turns off every other reading. */
function turned(element, reading, cells) {
  const turn = number(element, "turnNm");
  const grid = element.closest("table[data-set]");
  if (!turn || !grid || element.dataset.zero !== undefined) return "";
  const { stage } = grid.closest("main[data-bench]").dataset;
  const isByRow = [WORN, CUT].includes(grid.dataset.feature) || stage === FOUND;
  const others = othersIn(isByRow ? element.closest("tr") : grid, element, cells);
  const here = reading.value * NANO;
  if (others.length === 0 || others.some((one) => Math.abs(here - one) <= SAME * turn)) return "";
  const turns = Math.round((here - nearest(others, here)) / turn);
  const off = here - turns * turn;
  if (turns === 0 || Math.abs(off - nearest(others, off)) > NEAR * turn) return "";
  const count = Math.abs(turns) === 1 ? "one whole turn" : `${Math.abs(turns)} whole turns`;
  const dial = asked(element, "turnWords") ?? "the dial";
  return `${reading.plain} is ${count} of ${dial} off. Read the small hand; if the others are `
    + "wrong, put them right first.";
}

/* What the other readings below a root say, in nanometres. */
function othersIn(root, element, cells) {
  const found = [];
  for (const other of root.querySelectorAll("[data-cell]")) {
    if (other === element || other.dataset.zero !== undefined) continue;
    const said = standing(other, cells);
    if (said?.ok) found.push(said.value * NANO);
  }
  return found;
}

/* A decimal place, or µm for thou: so many times as far from the nominal as the others. */
function slipped(element, reading, cells) {
  const grid = element.closest("table[data-set]");
  const { nominalNm } = wantedOf(element);
  if (!grid || nominalNm === null || grid.dataset.feature === CUT) return "";
  const others = othersIn(grid, element, cells);
  if (others.length < 2) return "";
  const off = (reading.value * NANO - nominalNm) / NANO;
  const middle = (median(others) - nominalNm) / NANO;
  if (Math.abs(off - middle) < LEAST_SLIP || middle === 0.0) return "";
  const found = SLIPS.find(([factor]) => Math.abs(off / middle / factor - 1.0) < NEAR_SLIP);
  return found ? `${reading.plain}: ${found[1]}` : "";
}

function median(values) {
  const sorted = [...values].sort((one, other) => one - other);
  const middle = Math.floor(sorted.length / 2);
  return sorted.length % 2 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

function nearest(values, here) {
  return values.reduce((one, other) => (Math.abs(other - here) < Math.abs(one - here) ? other : one));
}

/* Said twice: within its doubt of what was asked about just before. */
function isAgreed(element, reading) {
  if (element.dataset.asked === undefined) return false;
  const doubt = number(element, "doubtNm") ?? 0;
  return Math.abs(Number(element.dataset.asked) - reading.value) * NANO <= DOUBTS * doubt + 0.5;
}
