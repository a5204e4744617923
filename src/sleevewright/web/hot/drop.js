/* The drop screen: before, ready, count-in, seconds, stuck, after, and what to do if it stops.

   Hooks: #drop the figures; [data-shows] states in which a part is seen; [data-press] and
   [data-happens] presses; [data-dial]; [data-lost] says that the link is away. Nothing is
   fetched after the start: all modules are here before the page can be pressed. */

import { openOutbox } from "../static/bench/outbox.js";
import { Sender } from "../static/bench/sender.js";
import { Status } from "../static/bench/status.js";
import { Awake } from "./drop_awake.js";
import { bindAfter } from "./drop_after.js";
import { LONGEST_BACK, countAt, nextOf, secondsAt, spokenBetween } from "./drop_clock.js";
import { Dial } from "./drop_dial.js";
import { Sounds } from "./drop_sounds.js";
import { DropTold } from "./drop_told.js";

const BOUNCE = 0.3; /* seconds in which a pedal that types twice counts once */
const PEDAL = "sleevewright-pedal";
const SAVED = "sleevewright-drop";
const QUIET = new Set(["Tab", "Shift", "Control", "Alt", "Meta", "CapsLock"]);

const figures = JSON.parse(document.getElementById("drop").value);
const main = document.querySelector("[data-drop]");
const one = (name) => main.querySelector(`[data-${name}]`);
const name = `${SAVED}/${main.dataset.job}/${main.dataset.cylinder}`;
const outbox = await openOutbox();
const sender = new Sender(outbox);
const told = new DropTold(main, outbox, figures.heads);
const dial = new Dial(one("dial"), figures);
const sounds = new Sounds();
const awake = new Awake(one("video"));
const opened = seconds();
const origin = Date.now() - opened * 1000; /* taken once: a clock set later moves nothing */

let state = "before";
let begun = 0; /* the count-in */
let isFreed = false; /* what stopped went in after all */
let isPast = false; /* a sleeve that stopped is past the middle */
let entry = null; /* the beep, on the clock of the page */
let given = {};
let heard = 0;
let lastKey = -1;
let isLost = false;

function seconds() {
  return performance.now() / 1000;
}

function epochOf(moment) {
  return origin + moment * 1000;
}

function to(next) {
  state = next;
  main.dataset.state = next;
  for (const part of main.querySelectorAll("[data-shows]")) {
    part.hidden = !part.dataset.shows.split(" ").includes(next);
  }
  one(next === "stuck" ? "small" : "watch").append(one("dial"));
  document.activeElement?.blur?.();
}

function ready() {
  sounds.open();
  awake.hold().then((way) => {
    one("awake").textContent = way === "none"
      ? "This browser lets nothing keep the screen on: touch it before the start." : "The screen stays on.";
  });
  document.documentElement.requestFullscreen?.().catch(() => undefined);
  const open = [...main.querySelectorAll("[data-dry]:not(:checked)")];
  one("unticked").textContent = open.length
    ? `Not ticked: ${open.map((box) => box.nextElementSibling.firstChild.textContent.trim()).join("; ")}.` : "";
  to("ready");
}

function start(way) {
  begun = seconds();
  heard = -1;
  one("begun-by").textContent = { pedal: "the pedal", key: "a key", helper: "a helper" }[way];
  main.dataset.way = way;
  sounds.open();
  sounds.countIn(begun, begun);
  say("In on the beep.", "Then turn to the mark, push to the flange, keep it down. Nothing to press.");
  to("count");
  draw();
}

function callOff() {
  sounds.hush();
  dial.rest();
  to("ready");
}

function say(words, small) {
  const place = one("say");
  if (place.dataset.words === words) return;
  place.dataset.words = words;
  const under = document.createElement("small");
  under.textContent = small;
  place.replaceChildren(words, under);
}

function goIn(moment) {
  entry = moment;
  given = {};
  heard = 0;
  one("in-at").textContent = new Date(epochOf(entry)).toTimeString().slice(0, 8);
  to("seconds");
  save();
  told.happened("in", epochOf(entry), 0, main.dataset.way);
}

function save() {
  const kept = { at: epochOf(entry), given, state, way: main.dataset.way };
  try {
    window.sessionStorage.setItem(name, JSON.stringify(kept));
  } catch {
    /* without it a reload begins anew */
  }
}

/* A page that was loaded anew in mid drop goes on where the drop is. */
function takeUp() {
  try {
    const kept = JSON.parse(window.sessionStorage.getItem(name) ?? "null");
    const elapsed = kept ? (epochOf(seconds()) - kept.at) / 1000 : -1;
    if (elapsed < 0 || elapsed > LONGEST_BACK || kept.state === "after") return;
    entry = seconds() - elapsed;
    given = kept.given;
    heard = elapsed;
    main.dataset.way = kept.way;
    one("in-at").textContent = new Date(kept.at).toTimeString().slice(0, 8);
    to(kept.state === "stuck" ? "stuck" : "seconds");
    if (state === "stuck") hands();
    showGiven();
    draw();
  } catch {
    /* what cannot be read begins anew */
  }
}

function happens(what, way) {
  if (entry === null) return;
  const elapsed = seconds() - entry;
  given[what] = elapsed;
  told.happened(what, epochOf(entry), elapsed, way);
  if (what === "stuck") {
    to("stuck");
    hands();
  }
  if (what === "pulled-out") to("after");
  showGiven();
  save();
}

function showGiven() {
  for (const [what, at] of Object.entries(given)) {
    const place = main.querySelector(`[data-happens="${what}"] [data-at]`);
    if (place) place.textContent = at.toFixed(1);
  }
}

/* One sentence for the hands; the other case small under it. Until somebody says that it is past
   the middle it is taken as stopped early: then each second counts. */
function hands() {
  const { "stopped-early": early, "past-half": late, "iron-gripped": iron } = figures.cases;
  const other = late ?? iron;
  const first = ["In the first half: ", early?.do ?? "Pull it straight out. Now.", early?.why];
  const second = ["Past the middle: ", other?.do ?? "", other?.why];
  const [now, then] = isPast && other ? [second, first] : [first, second];
  one("hands").textContent = now[1];
  const lines = [["", now[2]], [`${then[0]}${then[1]} `, then[2]]];
  main.querySelector("[data-press=past] span").textContent = isPast ? "It is in the first half" : "It is past the middle";
  one("why").replaceChildren(...lines.filter(([, why]) => why).map(([lead, why]) => {
    const line = document.createElement("p");
    const bold = document.createElement("b");
    bold.textContent = lead;
    line.append(bold, `${why}.`);
    return line;
  }));
}

function draw() {
  const now = seconds();
  if (state === "count") {
    const at = countAt(begun, now);
    speak(now - begun, true);
    if (at.isIn) goIn(begun + 10);
    else dial.count(at);
  }
  if (entry !== null && state !== "count" && state !== "ready" && state !== "before") {
    const elapsed = now - entry;
    const at = secondsAt(elapsed, figures.lineUp);
    dial.run(elapsed, at);
    one("since").textContent = Math.floor(elapsed);
    if (state === "seconds") {
      if (at.isYours) say("seconds are yours. Turn to the mark, push it down.", promise());
      else say("may have gripped, keep it down", promise());
      speak(elapsed, false);
    }
  }
}

function promise() {
  const said = [];
  if (figures.lineUp) said.push(`19 in 20 stay free to ${figures.lineUp} s`);
  if (figures.expected) said.push(`likely grip at ${figures.expected} s`);
  if (figures.latest) said.push(`loose until ${figures.latest} s at the latest`);
  else if (figures.expected) said.push("some stay loose for minutes: keep it down");
  return said.length ? `${said.join("; ")}.` : "No seconds are known for this drop: these are since the beep.";
}

/* Of what a sleeping page missed only the newest is said, and nothing that is long past. */
function speak(moment, isCounting) {
  const marks = spokenBetween(heard, moment, { lineUp: figures.lineUp, isCounting });
  heard = moment;
  const last = marks.at(-1);
  if (last && moment - last[0] < 0.7) sounds.speak(last[1]);
}

function loop() {
  draw();
  requestAnimationFrame(loop);
}

function keyed(event) {
  const isOwn = event.target.closest?.("input, textarea, select");
  if (event.repeat || QUIET.has(event.key) || isOwn || event.ctrlKey || event.metaKey) return;
  const press = event.target.closest?.("button, a, label");
  if (press && (event.key === "Enter" || event.key === " ")) return;
  if (!["before", "ready", "count", "seconds"].includes(state)) return;
  event.preventDefault();
  draw(); /* a count that has just ended is no longer called off */
  const now = seconds();
  if (now - lastKey < BOUNCE) return;
  lastKey = now;
  const way = event.code === pedal() ? "pedal" : "key";
  if (state === "before") learn(event.code);
  else if (state === "ready") start(way);
  else if (state === "count") callOff();
  else {
    const what = nextOf(given, figures.hasPorts);
    if (what) happens(what, way);
  }
}

function pedal() {
  try {
    return window.localStorage.getItem(PEDAL);
  } catch {
    return null;
  }
}

function learn(code) {
  try {
    window.localStorage.setItem(PEDAL, code);
    one("pedal").textContent = `The pedal is known: it types ${code}.`;
  } catch {
    one("pedal").textContent = "This browser cannot keep which key the pedal types; it works as any key.";
  }
}

function showAge() {
  const place = main.querySelector("[data-slip-age]");
  if (!place || figures.slipAge === null) return;
  const age = figures.slipAge + seconds() - opened;
  const minutes = Math.floor(age / 60);
  place.textContent = age > figures.stale
    ? `That was ${minutes} minutes ago: gauge it again.` : "Within the last two minutes.";
}

/* The casting cools from the moment that it is out of the oven. */
function showOut() {
  const place = main.querySelector("[data-out-age]");
  if (!place || figures.outAge === null) return;
  const age = Math.round(figures.outAge + seconds() - opened);
  place.textContent = age < 600
    ? `Out of the oven for ${age} s.` : "Out of the oven for more than ten minutes: heat it anew.";
}

const PRESSES = {
  ready, off: callOff,
  start: () => start("helper"),
  after: () => { to("after"); save(); after.fill(given); },
  freed: () => { isFreed = true; to("seconds"); save(); },
  recover: () => { to("tree"); after.ask("where"); },
  past: () => { isPast = !isPast; hands(); },
  which: () => { to("tree"); after.ask("where"); },
};

const after = bindAfter(main, figures, told, {
  entryEpoch: () => (entry === null ? null : epochOf(entry)),
  back: () => {
    if (entry === null) return to("before");
    /* What stopped goes on being stopped until it is said to be out or in. */
    return to("stuck" in given && !("pulled-out" in given) && !isFreed ? "stuck" : "after");
  },
});

main.addEventListener("click", (event) => {
  const press = event.target.closest("[data-press]");
  const happened = event.target.closest("[data-happens]");
  if (press) PRESSES[press.dataset.press]();
  if (happened) happens(happened.dataset.happens, "helper");
});
document.addEventListener("keydown", keyed);
document.addEventListener("visibilitychange", draw);
sender.addEventListener("said", ({ detail }) => {
  isLost = !detail.isUp;
  lost();
});
window.addEventListener("offline", () => { isLost = true; lost(); });
window.addEventListener("online", () => { isLost = false; lost(); });

function lost() {
  const line = one("lost");
  line.hidden = !isLost;
  line.textContent = isLost
    ? "The bench does not answer. The dial runs on; what is told is kept on this device." : "";
}

/* A bench that is away is noticed before there is anything to send. */
async function isThere() {
  if (["before", "ready"].includes(state)) return;
  const answer = await fetch("/hot/awake.webm", { method: "GET", cache: "no-store", signal: AbortSignal.timeout(4000) }).catch(() => null);
  isLost = !answer;
  lost();
}

setInterval(draw, 100);
setInterval(() => { showAge(); showOut(); }, 1000);
setInterval(isThere, 3000);
showAge();
showOut();
if (pedal()) one("pedal").textContent = `The pedal is known: it types ${pedal()}. Press it to try it.`;
takeUp();
loop();
document.documentElement.toggleAttribute("data-ready", true);
await new Status(outbox, sender, one("waiting")).start();
const { store, job, last } = main.dataset;
if (store) await sender.meet(store, job && last ? { [job]: Number(last) } : {});
sender.start();
