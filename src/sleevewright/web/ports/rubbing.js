/* Reading a rubbing: the scan is kept first, then read on the bench; this page asks how far it
   is until it is done, and then shows it. Nothing is reckoned here.

   Hooks: main[data-rubbing] the address of the job, data-cylinder, data-stage;
          form[data-read] the sheet; form[data-keep] the windows that were read, by their key. */

const main = document.querySelector("[data-rubbing]");
const { rubbing: job, cylinder, stage } = main.dataset;
const PAUSE = 300;

document.addEventListener("submit", (event) => {
  const form = event.target;
  event.preventDefault();
  const work = form.matches("[data-read]") ? read(form) : keep(form);
  work.catch((error) => say(form, error.told ?? "The bench does not answer; try again."));
});

function say(form, text) {
  const place = form.querySelector("[data-said]");
  place.hidden = !text;
  place.textContent = text;
  if (text) place.scrollIntoView({ block: "nearest" });
}

/* The answer of the bench as data; its refusal as an error that has its words. */
async function ask(path, options) {
  const answer = await fetch(path, options);
  const told = await answer.json().catch(() => ({}));
  if (answer.ok) return told;
  throw Object.assign(new Error("refused"), { status: answer.status, told: told.error ?? told.text ?? `The bench answered ${answer.status}.` });
}

function post(path, body) {
  return ask(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
}

const GONE = "What is known of this reading is gone: the bench was started anew, or others were read since. The scan is kept with the job; press again to read it.";
const handedIn = new WeakMap();

/* Keep a file with the job, once however often it is read; the number of its record. */
async function handIn(file, caption) {
  if (handedIn.has(file)) return handedIn.get(file);
  const body = new FormData();
  body.set("file", file);
  body.set("caption", caption);
  body.set("cylinder", cylinder);
  body.set("stage", stage);
  const { number } = await ask(`${job}/attachments`, { method: "POST", body });
  handedIn.set(file, number);
  return number;
}

async function read(form) {
  say(form, "");
  const texts = Object.fromEntries(new FormData(form));
  let scan = Number(texts.scan) || 0;
  delete texts.scan;
  const [first, other] = ["scan-file", "second-file"].map((id) => document.getElementById(id).files[0]);
  if (!first && !scan) return say(form, "Choose a scan first.");
  show(form, 0, "keeping the scan");
  if (first) scan = await handIn(first, `rubbing, ${first.name}`).catch((error) => stop(form, error));
  const second = other ? await handIn(other, `second rubbing, ${other.name}`).catch((error) => stop(form, error)) : 0;
  const begun = await post(`${job}/rubbings`, { cylinder: Number(cylinder), stage, scan, second, texts }).catch((error) => stop(form, error));
  const refused = await wait(form, `${job}/rubbings/${begun.key}`).catch((error) => stop(form, error));
  if (refused) return stop(form, { told: refused }, false);
  const address = new URL(window.location.href);
  address.search = new URLSearchParams({ ...texts, scan, read: begun.key });
  return window.location.assign(address);
}

/* Ask until it is done; the reason where it was refused. */
async function wait(form, path) {
  for (;;) {
    const told = await ask(path).catch((error) => {
      throw error.status === 404 ? Object.assign(error, { told: GONE }) : error;
    });
    show(form, told.share, told.words);
    if (told.done) return told.refused;
    await new Promise((go) => setTimeout(go, PAUSE));
  }
}

function show(form, share, words) {
  const going = form.querySelector("[data-going]");
  going.hidden = false;
  going.querySelector("[data-progress]").value = share;
  going.querySelector("[data-words]").textContent = words;
}

function stop(form, error, isThrown = true) {
  form.querySelector("[data-going]").hidden = true;
  if (isThrown) throw error;
  say(form, error.told);
}

async function keep(form) {
  const names = [...form.querySelectorAll("[data-name]")].map((one) => one.value);
  const map = form.querySelector("[name=map]").value;
  const told = await post(`${job}/rubbings/${form.dataset.keep}/keep`, { cylinder: Number(cylinder), map, names });
  window.location.assign(told.href);
}
