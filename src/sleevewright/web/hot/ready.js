/* The live page of a heat: the time of a reading, the count down, and what is known when the
   bench is away.

   Hooks: [data-heat] with data-went-in, when the casting went in, and data-now, both by the
          bench's clock, ISO; [data-minutes] and [data-come] shown once it is nought; [data-again] with data-left, seconds until then as the page was made; [data-stand] with
          data-fresh-left, seconds until its reading is no proof any more; [data-away] shown while
          the bench does not answer; [data-skew] where this device's clock is off; [data-gauge-again] leads to the next empty reading. */

import { growFor } from "../static/bench/rows.js";

const LOG = /^heat\.log\/(\d+)\/(body|flange|casting|oven)$/;
const LONGEST = 12 * 60; /* minutes in the oven that are taken by themselves */
const BACK = 30; /* minutes within which out and in again is the same heat */
const MOST = 6 * 60; /* minutes after which it is another */
const LATER = 0.2; /* minutes: another device pressed it after this one */
const EVERY = 1000; /* ms between two looks at the clock */
const STALE = "stale: gauge again";
const STALE_NOTE = "A reading that is older than 5 minutes is no proof at the drop.";
const SPREAD = 16; /* rows among which each device has one while the bench is away */
const SKEW = 20; /* s that a device's clock may be off before it is said */
const MOST_ROWS = 98;

let made = performance.now(); /* when the answers on the page came */
let pressed = null; /* performance.now of oven-in that was pressed here, while it counts */
let left = null; /* performance.now of the last press out */
let isAway = false;
let isAlone = false; /* a row of this device stands ready */

const main = document.querySelector("main[data-bench]");

/* Minutes until now of what the bench told, by its own clock: two devices seldom go alike. */
function minutesOf(key) {
  const told = document.querySelector("[data-heat]")?.dataset ?? {};
  return (Date.parse(told.now ?? "") - Date.parse(told[key] ?? "")) / 60_000 + since() / 60;
}

/* Minutes since the casting went in; a press of this device counts at once and needs no clock. */
function minutesIn() {
  return pressed === null ? minutesOf("wentIn") : (performance.now() - pressed) / 60_000;
}

/* Back within half an hour, or pressed again after a reading, the same heat goes on. */
function putIn() {
  const told = document.querySelector("[data-heat]")?.dataset ?? {};
  const isBack = left === null ? minutesOf("left") < BACK : performance.now() - left < BACK * 60_000;
  const isOut = left !== null || Boolean(told.left);
  const goesOn = minutesIn() < MOST && (isOut ? isBack : Boolean(told.read));
  if (!goesOn) pressed = performance.now();
  left = null;
}

/* The device's own clock may be set while the page is open; the count goes by this one. */
function since() {
  return (performance.now() - made) / 1000;
}

function tick() {
  const minutes = document.querySelector("[data-minutes]");
  if (minutes?.dataset.left) {
    const left = Number(minutes.dataset.left) - since();
    write(minutes, String(Math.max(0, Math.round(left / 60))));
    const come = document.querySelector("[data-come]");
    if (come) come.hidden = left > 0;
  }
  const again = document.querySelector("[data-again]");
  if (again?.dataset.left && Number(again.dataset.left) - since() <= 0) {
    again.className = "said";
    write(again, "now");
  }
  const stand = document.querySelector("[data-stand]");
  if (!stand?.dataset.freshLeft) return;
  const isStale = Number(stand.dataset.freshLeft) - since() < 0;
  const pane = stand.closest(".stand");
  if (!isStale || pane.classList.contains("outed") || pane.classList.contains("stale")) return;
  write(stand, STALE);
  write(document.querySelector("[data-stand-note]"), STALE_NOTE);
  pane.className = "pane stand stale";
}

function write(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/* The first figure of a row takes the time of the press, told like any other cell. */
function timed(body) {
  const told = LOG.exec(body.cell ?? "");
  if (!told || body.text === "") return;
  const field = main.querySelector(`[data-cell="heat.log/${told[1]}/minutes"]`);
  if (!field || field.value.trim() !== "") return;
  const minutes = minutesIn();
  if (!(minutes >= 0 && minutes <= LONGEST)) return; /* not known, or of another day: typed */
  window.sleevewright.entry.take(field, `${minutes.toFixed(1)} min`, { stays: true });
}

function lastRow() {
  return main.querySelector("tbody[data-grows]").lastElementChild;
}

/* While the bench is away another device may tell the same row: each takes one of its own, by its
   own name, and the empty rows before it are not shown. */
function ownRow() {
  const { cells, outbox } = window.sleevewright;
  const from = lastRow();
  const number = Number(from.querySelector("[data-cell]").dataset.cell.split("/")[1]);
  const own = placeOf(String(outbox.device));
  if (own === 0 || number + own > MOST_ROWS) return;
  const named = `heat.log/${number + own - 1}/body`;
  growFor(cells, { cell: named, cylinder: main.dataset.cylinder, text: "-" });
  for (let row = from; row !== lastRow(); row = row.nextElementSibling) {
    row.hidden = [...row.querySelectorAll("[data-cell]")].every((one) => one.value === "");
  }
}

/* A place among so many, by all letters of a name in their order. */
function placeOf(name) {
  return [...name].reduce((sum, one) => (sum * 31 + one.codePointAt(0)) % 65_521, 7) % SPREAD;
}

/* A row that was passed over is shown as soon as another device tells it. */
function showTold({ kind, body }) {
  const told = kind === "value" && LOG.exec(body.cell ?? "");
  const field = told && main.querySelector(`[data-cell="${body.cell}"]`);
  if (field) field.closest("tr").hidden = false;
}

/* Answers come within moments, so that a larger difference is this device's clock. */
function showSkew() {
  const place = document.querySelector("[data-skew]");
  const off = (Date.now() - Date.parse(document.querySelector("[data-heat]")?.dataset.now ?? "")) / 1000;
  if (!place || !(Math.abs(off) > SKEW)) return;
  const much = Math.abs(off) < 90 ? `${Math.abs(off).toFixed(0)} s` : `${(Math.abs(off) / 60).toFixed(0)} min`;
  place.querySelector("[data-skew-by]").textContent = `${much} ${off < 0 ? "behind" : "ahead of"}`;
  place.hidden = false;
}

function gauge() {
  const field = [...lastRow().querySelectorAll("[data-cell]")].find((one) => one.value === "");
  field?.focus();
  field?.scrollIntoView({ block: "center" });
}

function away(isUp) {
  isAway = !isUp;
  showAway();
  if (isAway) alone();
  else isAlone = false;
}

function alone() {
  if (!isAlone) ownRow();
  isAlone = true;
}

function showAway() {
  for (const one of document.querySelectorAll("[data-away]")) one.hidden = !isAway;
}

/* In a column of minutes a bare number is minutes; said before it is taken. */
function bareMinutes({ type, key, target }) {
  const isMinutes = target.matches?.('[data-cell^="heat.log/"][data-cell$="/minutes"]');
  if (!isMinutes || (type === "keydown" && key !== "Enter" && key !== "Tab")) return;
  if (/^\d+([.,]\d+)?$/.test(target.value.trim())) target.value = `${target.value.trim()} min`;
}

for (const type of ["keydown", "change", "focusout"]) {
  window.addEventListener(type, bareMinutes, { capture: true });
}
document.addEventListener("bench:told", ({ detail }) => timed(detail.body));
document.addEventListener("bench:answers", () => {
  made = performance.now();
  if (pressed !== null && minutesOf("wentIn") < minutesIn() - LATER) pressed = null;
  showAway();
  showSkew();
  tick();
});
document.addEventListener("bench:record", ({ detail }) => showTold(detail));
document.addEventListener("bench:ready", ({ detail }) => {
  detail.sender.addEventListener("said", (event) => away(event.detail.isUp));
});
document.addEventListener("click", (event) => {
  const press = event.target.closest?.("[data-happened]")?.dataset.happened;
  if (press === "out" || press === "taken-out") left = performance.now();
  if (press === "oven-in") putIn();
  if (event.target.closest?.("[data-gauge-again]")) gauge();
});
window.addEventListener("offline", alone);
window.setInterval(tick, EVERY);
tick();
