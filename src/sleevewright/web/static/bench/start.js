/* The one module that a page of the bench loads: sizes for this device, and where the page
   is about a job, its entry, outbox, sender and the news of other devices. */

import { applyTouch, bindCalibration } from "./calibrate.js";
import { Cells } from "./cells.js";
import { fillDevice } from "./device.js";
import { Entry } from "./entry.js";
import { Happenings } from "./happenings.js";
import { Live } from "./live.js";
import { openOutbox } from "./outbox.js";
import { Sender } from "./sender.js";
import { setSounds } from "./sounds.js";
import { setVoice } from "./speech.js";
import { Status } from "./status.js";
import { Unsent } from "./unsent.js";
import { Wedge, gaugesOf } from "./wedge.js";

const KEYBOARD = "sleevewright-keyboard"; /* "none": no keyboard on the screen */

applyTouch();
addStyle();
for (const section of document.querySelectorAll("[data-this-device]")) fillDevice(section);
for (const section of document.querySelectorAll("[data-calibrate]")) bindCalibration(section);
bindSwitches();

const main = document.querySelector("main[data-bench]");
const outbox = await openOutbox();
const sender = new Sender(outbox);
const status = new Status(outbox, sender, statusLine());
const bench = { outbox, sender, status, main };

if (main?.dataset.job) await work(main);
if (main && !document.querySelector("[data-unsent]")) addUnsent(main);
for (const host of document.querySelectorAll("[data-unsent]")) new Unsent(outbox, host).start();
window.sleevewright = bench;
document.documentElement.toggleAttribute("data-ready", true);
document.dispatchEvent(new CustomEvent("bench:ready", { detail: bench }));
await status.start();
/* Whose store this is comes before anything is sent; entry does not wait for it. */
if (main?.dataset.store) {
  const { store, job, last } = main.dataset;
  await sender.meet(store, job && last ? { [job]: Number(last) } : {});
}
sender.start();
bench.live?.start();

async function work(page) {
  const cells = new Cells(page);
  const entry = new Entry(page, outbox, cells);
  const own = [...(await outbox.waiting()), ...(await outbox.held())];
  entry.onOutbox(own, false);
  entry.start();
  new Wedge(entry, gaugesOf(page)).start();
  new Happenings(page, outbox).start();
  const live = new Live(page, cells, sender);
  noKeyboard();
  Object.assign(bench, { cells, entry, live });
}

function statusLine() {
  let line = document.querySelector("[data-waiting]");
  if (line) return line;
  line = document.createElement("p");
  line.className = "waiting";
  line.dataset.waiting = "";
  line.setAttribute("role", "status");
  (document.querySelector("main") ?? document.body).append(line);
  return line;
}

/* The list of what waits, where a page has no place for it; it shows itself when it must. */
function addUnsent(page) {
  const host = document.createElement("section");
  host.className = "pane unsent-pane";
  host.dataset.unsent = "when-needed";
  host.hidden = true;
  host.setAttribute("aria-label", "Waiting on this device");
  page.append(host);
}

function addStyle() {
  const link = document.createElement("link");
  link.rel = "stylesheet";
  link.href = new URL("entry.css", import.meta.url).href;
  if (!document.querySelector(`link[href$="bench/entry.css"]`)) document.head.append(link);
}

/* With a gauge that types, a keyboard on the screen only covers the work. */
function noKeyboard() {
  const isNone = stored(KEYBOARD) === "none";
  for (const cell of document.querySelectorAll("table[data-set] input[data-cell]")) {
    if (isNone) cell.inputMode = "none";
    else cell.removeAttribute("inputmode");
  }
}

function stored(key) {
  try {
    return window.localStorage.getItem(key);
  } catch {
    return null;
  }
}

/* Switches of this device: <input type="checkbox" data-switch="sounds|voice|keyboard">. */
function bindSwitches() {
  for (const one of document.querySelectorAll("[data-switch]")) {
    const { switch: name } = one.dataset;
    if (name === "sounds") one.checked = stored("sleevewright-sounds") !== "off";
    if (name === "voice") one.checked = stored("sleevewright-voice") === "on";
    if (name === "keyboard") one.checked = stored(KEYBOARD) !== "none";
    one.addEventListener("change", () => {
      if (name === "sounds") setSounds(one.checked);
      if (name === "voice") setVoice(one.checked);
      if (name === "keyboard") {
        window.localStorage.setItem(KEYBOARD, one.checked ? "shown" : "none");
        noKeyboard();
      }
    });
  }
}
