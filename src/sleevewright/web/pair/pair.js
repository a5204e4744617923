/* Pairing: the code from the QR code's address, this device's own key, and a look each few
   seconds whether the bench's screen is still right. */

import { openOutbox } from "../static/bench/outbox.js";

const LOOK = 4000; /* ms between two looks */
const main = document.querySelector("main[data-mark]");
const form = document.querySelector("form[data-pair]");

async function state() {
  try {
    const answer = await fetch("/pair/state", { cache: "no-store" });
    return answer.ok ? await answer.json() : {};
  } catch {
    return {};
  }
}

/* The code stands behind the hash of the address, which is never sent anywhere. */
function fillIn() {
  const found = /^#code=(\d{4,12})$/.exec(window.location.hash);
  if (!found) return;
  form.elements.code.value = found[1];
  window.history.replaceState(null, "", window.location.pathname + window.location.search);
  form.elements.name.focus();
}

/* Records of this device carry a key of its own making; it is paired under the same. */
async function ownKey() {
  try {
    form.elements.device.value = (await openOutbox()).device;
  } catch {
    form.elements.device.value = ""; /* the bench makes one up */
  }
}

/* A page that was opened by a link from elsewhere comes without the cookie. */
async function goOnIfPaired() {
  if ((await state()).paired) window.location.replace(form.elements.back.value);
}

async function look() {
  const told = await state();
  const isTyped = document.activeElement?.tagName === "INPUT";
  if (told.mark !== undefined && told.mark !== main.dataset.mark && !isTyped) {
    window.location.reload();
  }
}

if (form) {
  fillIn();
  ownKey();
  goOnIfPaired();
} else if (main.dataset.own === "yes" && main.dataset.mark) {
  window.setInterval(look, LOOK);
}
