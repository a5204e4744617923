/* The live page of a heat: the time of a reading, the count down, and what is known when the
   bench is away.

   Hooks: [data-part="answers"][data-went-in] when the casting went in, ISO; [data-minutes] and
          [data-again] with data-left, seconds until then as the page was made; [data-stand] with
          data-fresh-left, seconds until its reading is no proof any more; [data-away] shown while
          the bench does not answer; [data-gauge-again] leads to the next empty reading. */

import { growFor } from "../static/bench/rows.js";

const LOG = /^heat\.log\/(\d+)\/(body|flange|casting|oven)$/;
const EVERY = 1000; /* ms between two looks at the clock */
const STALE = "stale: gauge again";
const STALE_NOTE = "A reading that is older than 5 minutes is no proof at the drop.";
const SPREAD = 4; /* devices that may tell a row each while the bench is away */

let made = performance.now(); /* when the answers on the page came */
let pressed = null; /* oven-in that was pressed here and is not yet in the answers */
let isAway = false;
let isAlone = false; /* a row of this device stands ready */

const main = document.querySelector("main[data-bench]");

function part() {
  return document.querySelector('[data-part="answers"]');
}

/* When the casting went in, by what is told; a press of this device counts at once. */
function wentIn() {
  const told = Date.parse(part()?.dataset.wentIn ?? "");
  return Number.isFinite(told) ? told : pressed;
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
  const start = wentIn();
  if (!field || field.value.trim() !== "" || start === null) return;
  const minutes = (Date.now() - start) / 60_000;
  if (minutes < 0 || minutes > 24 * 60) return; /* of another day: minutes are typed */
  window.sleevewright.entry.take(field, `${minutes.toFixed(1)} min`, { stays: true });
}

function lastRow() {
  return main.querySelector("tbody[data-grows]").lastElementChild;
}

/* While the bench is away another device may tell the same row: each takes one of its own. */
function ownRow() {
  const { cells, outbox } = window.sleevewright;
  const cell = lastRow().querySelector("[data-cell]");
  const number = Number(cell.dataset.cell.split("/")[1]);
  const own = [...outbox.device].reduce((sum, one) => sum + one.codePointAt(0), 0) % SPREAD;
  if (own === 0) return;
  const named = `heat.log/${number + own - 1}/body`;
  growFor(cells, { cell: named, cylinder: main.dataset.cylinder, text: "-" });
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

document.addEventListener("bench:told", ({ detail }) => timed(detail.body));
document.addEventListener("bench:answers", () => {
  made = performance.now();
  showAway();
  tick();
});
document.addEventListener("bench:ready", ({ detail }) => {
  detail.sender.addEventListener("said", (event) => away(event.detail.isUp));
});
document.addEventListener("bench:record", ({ detail }) => {
  if (detail.kind === "event" && detail.body.what === "oven-in") pressed = Date.parse(detail.body.at);
});
document.addEventListener("click", (event) => {
  if (event.target.closest?.('[data-happened="oven-in"]')) pressed = Date.now();
  if (event.target.closest?.("[data-gauge-again]")) gauge();
});
window.addEventListener("offline", alone);
window.setInterval(tick, EVERY);
tick();
