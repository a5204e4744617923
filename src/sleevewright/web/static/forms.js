/* Forms that write: sent as JSON, refused beside the field, then the page as it is now. */

const SILENT = "The bench does not answer. Nothing was changed; press again when it is back.";
const KEPT_PLACE = "sleevewright-place";

function told(form) {
  const entries = [...new FormData(form)];
  for (const shared of document.querySelectorAll("[data-with-all]")) {
    entries.push([shared.name, shared.value]);
  }
  return Object.fromEntries(entries);
}

export async function send(form, address) {
  const said = form.querySelector(".said-so");
  said.textContent = "";
  for (const field of form.querySelectorAll("[aria-invalid]")) field.removeAttribute("aria-invalid");
  let answer;
  let words;
  try {
    answer = await fetch(address, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(told(form)),
    });
    words = await answer.json();
  } catch {
    said.textContent = SILENT;
    return null;
  }
  if (answer.ok) return words;
  said.textContent = words.text ?? words.error ?? SILENT;
  const field = form.querySelector("input:not([type=hidden]), select");
  if (field) {
    field.setAttribute("aria-invalid", "true");
    field.focus();
  }
  return null;
}

/* The page anew at the place where the person was; a hash alone would load nothing. */
function anew(href) {
  window.sessionStorage.setItem(KEPT_PLACE, String(window.scrollY));
  const here = window.location.pathname + window.location.search;
  const there = (href ?? here).split("#")[0];
  if (there === here) window.location.reload();
  else window.location.assign(href);
}

async function onSubmit(event) {
  const form = event.target.closest("form[data-write]");
  if (!form) return;
  event.preventDefault();
  const address = event.submitter?.getAttribute("formaction") ?? form.getAttribute("action");
  const presses = [...form.querySelectorAll("button")];
  for (const press of presses) press.disabled = true;
  const words = await send(form, address);
  for (const press of presses) press.disabled = false;
  if (words) anew(words.href);
}

function start() {
  for (const press of document.querySelectorAll("form[data-write] button[disabled]")) {
    press.disabled = false;
  }
  const place = Number(window.sessionStorage.getItem(KEPT_PLACE));
  window.sessionStorage.removeItem(KEPT_PLACE);
  if (place) window.addEventListener("load", () => goBack(place), { once: true });
}

/* After the browser has done what it does by itself when a page is loaded anew. */
function goBack(place) {
  window.requestAnimationFrame(() => window.scrollTo(0, place));
}

document.addEventListener("submit", onSubmit);
start();
