/* The page of the metronome: the bar, the ticks, the hand on the rate, the taps.

   Hooks: #rates the table of rates; [data-bar] what goes up and down, [data-end] its ends;
          [data-start] starts and stops; [data-step] a press for five per cent; [data-tap] a
          press at each top of the stroke, [data-tapped] what it tells; [data-volume];
          [data-cycles], [data-included], [data-line], [data-axis], [data-mean] figures. */

import { Beats, Ticks, nearest, note, noted, rateOf, withTap } from "../static/bench/metronome.js";

const REACH = 300; /* from end to end in the units of the drawing */
const FIVE_PER_CENT = 10; /* steps of the table */
const EVERY = 100; /* milliseconds between two layings of ticks */
const NAMES = ["cycles", "included", "line", "axis", "mean"];

const table = JSON.parse(document.getElementById("rates").value);
const bar = document.querySelector("[data-bar]");
const ends = [...document.querySelectorAll("[data-end]")];
const start = document.querySelector("[data-start]");
const words = document.querySelector("[data-start-words]");
const volume = document.querySelector("[data-volume]");
const tapped = document.querySelector("[data-tapped]");
const sound = document.querySelector("[data-sound]");
const still = window.matchMedia("(prefers-reduced-motion: reduce)");
const ticks = new Ticks();

let at = table.at;
let beats = null;
let timer = 0;
let seen = -1; /* number of the last reversal that was drawn */
let taps = [];
let awake = null;

/* A screen is kept awake where the browser allows it, which is not over plain http. */
async function wake() {
  try {
    awake = (await navigator.wakeLock?.request("screen")) ?? null;
  } catch {
    awake = null;
  }
  if (!beats) sleep();
}

function sleep() {
  awake?.release().catch(() => undefined);
  awake = null;
}

function seconds() {
  return performance.now() / 1000.0;
}

function show() {
  NAMES.forEach((name, column) => {
    document.querySelector(`[data-${name}]`).textContent = table.shown[at][column];
  });
}

function lay() {
  if (beats) ticks.lay(beats, seconds(), document.hidden);
}

function draw() {
  if (!beats) return;
  const now = seconds();
  const number = Math.floor(beats.number(now) + 1e-9);
  /* Without motion the mark only changes its end, at each reversal. */
  const place = still.matches ? number % 2 : beats.place(now);
  bar.setAttribute("transform", `translate(0 ${(place * REACH).toFixed(1)})`);
  if (number !== seen) {
    seen = number;
    note(noted.drawn, { number, at: now });
    ends.forEach((end, index) => end.classList.toggle("struck", index === number % 2));
  }
  requestAnimationFrame(draw);
}

function begin() {
  const hasSound = ticks.open(Number(volume.value));
  if (!hasSound) sound.textContent = "No sound on this device: follow the bar.";
  const now = seconds();
  beats = new Beats(now, table.cycles[at]);
  seen = -1;
  ticks.from(beats, now);
  timer = setInterval(lay, EVERY);
  lay();
  wake();
  requestAnimationFrame(draw);
}

function stop() {
  sleep();
  clearInterval(timer);
  ticks.hush();
  beats = null;
  for (const end of ends) end.classList.remove("struck");
}

function step(by) {
  at = Math.min(Math.max(at + by * FIVE_PER_CENT, 0), table.cycles.length - 1);
  show();
  if (!beats) return;
  const now = seconds();
  ticks.hush();
  beats.turn(now, table.cycles[at]);
  ticks.from(beats, now);
  lay();
}

function tap() {
  taps = withTap(taps, seconds());
  const rate = rateOf(taps);
  if (rate === null) {
    tapped.textContent = `Tap ${taps.length}; three tell the rate.`;
    return;
  }
  const included = table.shown[nearest(table.cycles, rate)][1];
  tapped.textContent = `You make ${Math.round(rate)} cycles a minute: ${included}° included.`;
}

start.addEventListener("click", () => {
  if (beats) stop();
  else begin();
  words.textContent = beats ? "Stop" : "Start";
  start.setAttribute("aria-pressed", String(Boolean(beats)));
});
for (const press of document.querySelectorAll("[data-step]")) {
  press.addEventListener("click", () => step(Number(press.dataset.step)));
}
/* At the touch and not at its end: a tap is a moment. A key comes as a click. */
const press = document.querySelector("[data-tap]");
press.addEventListener("pointerdown", tap);
press.addEventListener("click", (event) => {
  if (event.detail === 0) tap();
});
volume.addEventListener("input", () => ticks.louder(Number(volume.value)));
document.addEventListener("visibilitychange", lay);
