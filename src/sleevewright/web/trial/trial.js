/* A job without a name: planned again as it is typed, and kept on this device. */

import { openNumbers } from "../static/opening.js";

const PAUSE = 250; /* ms without a key before what was typed is sent */
const AGAIN = 2000; /* ms until a bench that did not answer is asked again */
const KEPT = "sleevewright-trial";

const form = document.querySelector("form.entries");
const state = document.querySelector("[data-state]");
const planned = document.querySelector(".trial");
let sent = 0; /* sequence number of the last request */
let applied = 0; /* of the newest answer that is shown */
let timer = 0;

function fields() {
  return [...form.querySelectorAll("input[id], select[id]")];
}

function entries() {
  const typed = {};
  for (const field of fields()) if (field.value.trim()) typed[field.name] = field.value;
  return typed;
}

function keep() {
  const kept = { units: form.dataset.units, entries: entries() };
  try {
    window.localStorage.setItem(KEPT, JSON.stringify(kept));
  } catch {
    /* a browser that keeps nothing: the address still carries the entries */
  }
}

function kept() {
  try {
    return JSON.parse(window.localStorage.getItem(KEPT) ?? "null");
  } catch {
    return null;
  }
}

function say(words) {
  if (state.textContent !== words) state.textContent = words;
}

function trail(name) {
  return new URL(window.location.href).searchParams.get(name) ?? "";
}

function schedule(pause) {
  window.clearTimeout(timer);
  timer = window.setTimeout(send, pause);
}

async function send() {
  sent += 1;
  const sequence = sent;
  const body = JSON.stringify({
    sequence,
    units: form.dataset.units,
    opened: trail("open"),
    more: trail("more"),
    entries: entries(),
  });
  let answer;
  try {
    answer = await fetch("/trial/plan", {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body,
    });
  } catch {
    if (sequence === sent) {
      say("The bench does not answer; what was typed is kept on this device.");
      markStale(true);
      schedule(AGAIN);
    }
    return;
  }
  const told = await answer.json();
  /* An answer to older entries never takes the place of a newer one. */
  if (typeof told.sequence !== "number") {
    say("The bench could not plan this; what was typed is kept on this device.");
    markStale(true);
  } else if (told.sequence > applied) {
    applied = told.sequence;
    show(told);
  }
}

function show(told) {
  showMessages(told.errors, told.others);
  if (!told.parts) {
    markStale(true);
    say("These numbers are from before the entry that cannot be taken.");
    return;
  }
  markStale(false);
  say("Planned from what stands here.");
  const focused = document.activeElement?.id;
  for (const [name, html] of Object.entries(told.parts)) replacePart(name, html);
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  for (const entry of form.querySelectorAll(".entry")) {
    entry.classList.toggle("wanted", entry.querySelector("[name]").name === told.next);
  }
  window.history.replaceState(null, "", told.address);
}

function replacePart(name, html) {
  const holder = document.querySelector(`[data-part="${name}"]`);
  const opened = [...holder.querySelectorAll("details")].map((one) => one.open);
  holder.innerHTML = html;
  const fresh = [...holder.querySelectorAll("details")];
  if (fresh.length === opened.length) fresh.forEach((one, at) => (one.open ||= opened[at]));
}

function showMessages(errors, others) {
  for (const field of fields()) {
    const message = document.getElementById(`${field.id}-message`);
    const text = errors[field.name] ?? "";
    message.textContent = text;
    message.hidden = !text;
    if (text) field.setAttribute("aria-invalid", "true");
    else field.removeAttribute("aria-invalid");
    const unit = field.tagName === "INPUT" ? `${field.id}-unit ` : "";
    field.setAttribute("aria-describedby", (unit + (text ? message.id : "")).trim());
  }
  const list = document.querySelector("[data-others]");
  list.replaceChildren(
    ...others.map((text) => {
      const item = document.createElement("li");
      item.textContent = text;
      return item;
    }),
  );
}

function markStale(stale) {
  planned.toggleAttribute("data-stale", stale);
}

/* Enter goes on to the next field, as on a sheet that is filled in. */
function onKey(event) {
  if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
  event.preventDefault();
  const all = fields().filter((one) => one.checkVisibility());
  const next = all[all.indexOf(event.target) + 1];
  if (next) next.focus();
  schedule(0);
}

/* The blue press that asks for a number leads into its field. */
function onClick(event) {
  const link = event.target.closest("a.next");
  const field = link?.hash && document.getElementById(link.hash.slice(1));
  if (!field || !form.contains(field)) return;
  event.preventDefault();
  field.closest("details")?.setAttribute("open", "");
  field.focus();
}

/* What was typed here before comes back, unless the address says something else. */
function restore() {
  const address = new URL(window.location.href);
  if (address.searchParams.has("empty")) {
    window.localStorage.removeItem(KEPT);
    window.history.replaceState(null, "", address.pathname);
    return;
  }
  if (Object.keys(entries()).length > 0) {
    keep();
    return;
  }
  const before = kept();
  if (!before || before.units !== form.dataset.units) {
    const pairs = Object.entries(before?.entries ?? {});
    if (pairs.length === 0) return;
    const wanted = new URLSearchParams({ ...before.entries, units: before.units });
    window.location.replace(`/trial?${wanted}`);
    return;
  }
  for (const field of fields()) field.value = before.entries[field.name] ?? "";
  if (Object.keys(before.entries).length > 0) send();
}

document.documentElement.toggleAttribute("data-live", true);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  schedule(0);
});
form.addEventListener("input", () => {
  keep();
  schedule(PAUSE);
});
form.addEventListener("keydown", onKey);
document.addEventListener("click", onClick);
openNumbers(document);
restore();
