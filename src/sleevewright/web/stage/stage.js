/* A stage's page beside its entry: forms that are signed, photos, presets of a new set, and
   what the answers bring along (sizes under the readings, the next move).

   Hooks: <form data-json="/api/…" data-cylinder data-stage>: its named inputs as one object;
          <form data-attach="/api/…/attachments">: one file with a caption;
          <form data-bring="/api/unsent">: the file that a device saved of what waits on it;
          <button data-preset data-stations data-directions> in a form of a new set;
          <button data-show-lands>: the places of the set to be marked as ports;
          <form data-add-port>: a port is named, which is told like any other value. */

import { begunSet } from "../static/bench/happenings.js";
import { newId } from "../static/bench/ids.js";
import { keepOrSay } from "../static/bench/unkept.js";

const REFUSED = "The bench does not answer; nothing was signed. Press again when it does.";

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.matches("form[data-json]")) {
    event.preventDefault();
    post(form).catch(() => say(form, REFUSED));
  } else if (form.matches("form[data-attach]")) {
    event.preventDefault();
    attach(form).catch(() => say(form, "The bench does not answer; nothing was attached."));
  } else if (form.matches("form[data-bring]")) {
    event.preventDefault();
    bringFile(form).catch(() => say(form, "The bench does not answer; nothing was taken in."));
  } else if (form.matches("form[data-add-port]") && window.sleevewright?.outbox) {
    event.preventDefault();
    name(form, form.querySelector('input:not([type="hidden"])').value.trim());
  }
});

document.addEventListener("click", (event) => {
  const preset = event.target.closest?.("[data-preset]");
  if (preset) choose(preset);
  const lands = event.target.closest?.("[data-show-lands]");
  if (lands) showLands(lands.form);
});

document.addEventListener("change", (event) => {
  if (event.target.matches("[data-gauge], [data-master]")) carry(event.target.form);
  if (event.target.matches("[data-set-on]")) zeroAt(event.target);
});

/* The focus waits on the next reading, so that a gauge can begin at once. */
document.addEventListener("bench:ready", () => {
  if (document.activeElement !== document.body || window.location.hash) return;
  const open = 'table[data-set] input[data-cell]:not([data-zero])';
  const empty = [...document.querySelectorAll(open)].filter((one) => one.value === "");
  const set = begunSet();
  const next = empty.find((one) => one.dataset.cell.startsWith(`set/${set}/`)) ?? empty[0];
  next?.focus({ preventScroll: true });
});

/* A fit that was chosen on the picture stands in its field, and is told by one more press. */
document.addEventListener("bench:ready", () => {
  const taken = new URL(window.location.href).searchParams.get("take");
  const field = document.querySelector('input[data-cell="fit.wanted"]');
  if (!taken || !field) return;
  field.value = taken;
  const keep = document.createElement("button");
  keep.type = "button";
  keep.className = "press keep-taken";
  keep.textContent = `Keep ${taken}`;
  keep.addEventListener("click", () => {
    /* As if it had been typed and left: the field itself judges it and tells it. */
    for (const kind of ["input", "change"]) field.dispatchEvent(new Event(kind, { bubbles: true }));
    keep.remove();
  });
  field.addEventListener("change", () => keep.remove());
  field.closest("[data-field]").append(keep);
  const address = new URL(window.location.href);
  address.searchParams.delete("take");
  window.history.replaceState(null, "", address);
  keep.focus();
});

document.addEventListener("bench:told", () => {
  for (const figure of document.querySelectorAll("[data-echo-figure].blank")) {
    figure.classList.replace("blank", "measured");
  }
});

document.addEventListener("bench:answers", (event) => bring(event.detail.part));

/* What was kept by the bench is shown as moments at once. */
document.addEventListener("bench:record", ({ detail }) => {
  if (detail.kind !== "event" || !document.querySelector("[data-moments]")) return;
  const { stage } = document.querySelector("main[data-bench]").dataset;
  if (detail.body.stage === stage) moment(detail.body);
});

document.addEventListener("click", (event) => {
  const press = event.target.closest?.("[data-happened]");
  if (press) press.blur();
});

function say(form, text) {
  form.querySelector("[data-said]").textContent = text;
}

async function post(form) {
  const body = { cylinder: Number(form.dataset.cylinder), stage: form.dataset.stage };
  for (const [name, value] of new FormData(form)) body[name] = String(value);
  say(form, "Being written.");
  const answer = await fetch(form.dataset.json, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
  await end(form, answer);
}

async function attach(form) {
  const file = form.querySelector('input[type="file"]').files[0];
  if (!file) return say(form, "Choose a file first.");
  const { cylinder, stage, attach: path } = form.dataset;
  const body = new FormData(form);
  body.set("cylinder", cylinder);
  body.set("stage", stage);
  say(form, "Being written.");
  const answer = await fetch(path, { method: "POST", body });
  return end(form, answer);
}

/* What waits on another device, saved there as a file. */
async function bringFile(form) {
  const file = form.querySelector('input[type="file"]').files[0];
  if (!file) return say(form, "Choose a file first.");
  say(form, "Being written.");
  const answer = await fetch(form.dataset.bring, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: await file.text(),
  });
  const told = await answer.json().catch(() => ({}));
  if (!answer.ok) return say(form, told.error ?? told.text ?? `The bench answered ${answer.status}.`);
  const held = told.held.map((one) => ` ${one.job}, ${one.what}: ${one.text}`);
  const apart = told.apart ? ` ${told.apart} of another bench passed over.` : "";
  const left = held.length ? ` ${held.length} held back:${held.join("")}` : "";
  return say(form, `${told.kept} kept, ${told.new} of them new.${apart}${left}`);
}

async function end(form, answer) {
  if (answer.ok) {
    const told = await answer.json().catch(() => ({}));
    if (told.href) window.location.assign(told.href);
    else window.location.reload();
    return;
  }
  const told = await answer.json().catch(() => ({}));
  say(form, told.error ?? told.text ?? `The bench answered ${answer.status}.`);
}

/* A port that is named is told through the outbox, so that it is never lost. */
async function name(form, port) {
  if (port === "") return;
  const { outbox, main } = window.sleevewright;
  const where = port.replaceAll("%", "%25").replaceAll("/", "%2F");
  const id = newId();
  const body = {
    cylinder: Number(main.dataset.cylinder), cell: `port/${where}/name`, text: port,
    kind: "typed", source: "keyed", said: new Date().toISOString(),
  };
  outbox.addEventListener("change", ({ detail: { entries } }) => {
    if (entries.some((one) => one.id === id && one.state === "kept")) window.location.reload();
  });
  const told = { id, job: main.dataset.job, kind: "value", body };
  await keepOrSay(form, () => outbox.put(told), "name the port again.");
}

function choose(preset) {
  const { form } = preset;
  form.elements.stations.value = preset.dataset.stations;
  form.elements.directions.value = preset.dataset.directions;
  for (const one of form.querySelectorAll("[data-preset]")) {
    one.setAttribute("aria-pressed", String(one === preset));
  }
  const lands = form.querySelector("[data-lands]");
  if (lands && !lands.hidden) showLands(form);
}

/* A set carries its gauge, what that was set from, and the master that it was set on now. */
function carry(form) {
  const here = form.querySelector("[data-carried-here]");
  const chosen = [...form.querySelectorAll("[data-gauge], [data-master]")];
  const all = chosen.flatMap((one) => JSON.parse(one.selectedOptions[0]?.dataset.carried ?? "[]"));
  const names = all.map((one) => one.name);
  here.value = JSON.stringify(all.filter((one, at) => names.indexOf(one.name) === at));
}

/* On this sleeve, or on its flange, the dial stands at nought at that part's own size. */
function zeroAt(select) {
  const size = select.selectedOptions[0]?.dataset.nominal;
  if (size) select.form.elements.nominal.value = size;
}

function listed(text) {
  return text.split(";").map((one) => one.trim()).filter(Boolean);
}

function showLands(form) {
  const holder = form.querySelector("[data-lands]");
  const grid = holder.querySelector("[data-landgrid]");
  const stations = listed(form.elements.stations.value);
  const directions = listed(form.elements.directions.value);
  const rows = stations.map((station, s) => {
    const row = document.createElement("div");
    row.className = "landrow";
    row.append(...directions.map((direction, d) => landPress(form, station, direction, [s, d])));
    return row;
  });
  grid.replaceChildren(...rows);
  holder.hidden = false;
  keepLands(form);
}

function landPress(form, station, direction, place) {
  const press = document.createElement("button");
  press.type = "button";
  press.className = "press";
  press.textContent = `${station}, ${direction.replace(" deg", "°")}`;
  press.dataset.place = JSON.stringify(place);
  press.setAttribute("aria-pressed", "false");
  press.addEventListener("click", () => {
    press.setAttribute("aria-pressed", String(press.getAttribute("aria-pressed") !== "true"));
    keepLands(form);
  });
  return press;
}

function keepLands(form) {
  const marked = form.querySelectorAll('[data-landgrid] [aria-pressed="true"]');
  const places = [...marked].map((one) => JSON.parse(one.dataset.place));
  form.querySelector("[data-blank]").value = places.length ? JSON.stringify(places) : "";
}

function bring(part) {
  for (const one of part.querySelectorAll("[data-for]")) {
    const place = document.querySelector(`[data-size-of="${CSS.escape(one.dataset.for)}"]`);
    if (place && place.textContent !== one.value) place.textContent = one.value;
  }
  const next = part.querySelector("[data-next-words]");
  const link = document.querySelector("[data-next]");
  if (!next || !link) return;
  link.href = next.dataset.href;
  link.querySelector("[data-next-said]").textContent = next.value;
}

function moment(body) {
  const press = document.querySelector(
    `[data-happened="${CSS.escape(body.what)}"]${body.result ? `[data-result="${CSS.escape(body.result)}"]` : ""}`,
  );
  const list = document.querySelector("[data-moments]");
  list.querySelector(".note")?.remove();
  const line = document.createElement("li");
  const when = new Date(body.at ?? Date.now());
  const hour = document.createElement("span");
  hour.className = "fig";
  hour.textContent = when.toTimeString().slice(0, 8);
  line.append(hour, ` ${press?.textContent ?? body.what}`);
  list.append(line);
}
