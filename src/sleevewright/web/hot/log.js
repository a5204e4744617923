/* The file of a logger: kept with the job first, then looked at on the bench, then taken.
   Nothing is reckoned here.

   Hooks: main[data-log] the address of the job, data-cylinder, data-stage, data-back;
          form[data-hand-in] with a file; form[data-take] the record of the file that is taken. */

const main = document.querySelector("[data-log]");
const { log: job, cylinder, stage, back } = main.dataset;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("[data-hand-in], [data-take]")) return;
  event.preventDefault();
  const work = form.matches("[data-take]") ? take(form) : handIn(form);
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
  const words = told.error ?? told.text ?? `The bench answered ${answer.status}.`;
  throw Object.assign(new Error("refused"), { told: words });
}

async function handIn(form) {
  const file = form.querySelector("input[type=file]").files[0];
  if (!file) return say(form, "Choose a file first.");
  say(form, "The file is being kept.");
  const body = new FormData();
  for (const [name, value] of Object.entries({ file, cylinder, stage, kind: "log" })) body.set(name, value);
  body.set("caption", "file of a logger");
  const { number } = await ask(`${job}/attachments`, { method: "POST", body });
  window.location.assign(`?file=${number}`);
}

async function take(form) {
  say(form, "It is being taken.");
  const texts = Object.fromEntries(new FormData(document.getElementById("look-form")));
  delete texts.file;
  await ask(`${job}/logs`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ cylinder: Number(cylinder), stage, file: Number(form.dataset.take), texts }),
  });
  window.location.assign(back);
}
