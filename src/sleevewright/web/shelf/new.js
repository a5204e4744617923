/* Taking a job in: the form as one object, or a job file as it is. */

document.addEventListener("submit", (event) => {
  const form = event.target;
  event.preventDefault();
  const work = form.matches("[data-new]") ? open(form) : bring(form);
  work.catch(() => say(form, "The bench does not answer; nothing was taken in."));
});

function say(form, text) {
  const place = form.querySelector("[data-said]");
  place.hidden = false;
  place.textContent = text;
}

async function open(form) {
  const body = Object.fromEntries(new FormData(form));
  body.cylinders = Number(body.cylinders) || 1;
  await send(form, form.dataset.new, body);
}

async function bring(form) {
  const file = form.querySelector('input[type="file"]').files[0];
  if (!file) return say(form, "Choose a file first.");
  return send(form, form.dataset.file, { name: file.name, text: await file.text() });
}

async function send(form, path, body) {
  const answer = await fetch(path, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
  const told = await answer.json().catch(() => ({}));
  if (answer.ok && told.href) window.location.assign(told.href);
  else say(form, told.error ?? told.text ?? `The bench answered ${answer.status}.`);
}
