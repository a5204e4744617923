/* Numbers open where they stand: the basis is fetched and put under its row. Without this
   module each row is a plain link to the same page with that number open. */

const PARAMS = ["open", "more"];

/* The page's own address with one opened number changed, as the pressed link says it. */
function addressAfter(link, param) {
  const wanted = new URL(link.href);
  const address = new URL(window.location.href);
  const trail = wanted.searchParams.get(param);
  if (trail) address.searchParams.set(param, trail);
  else address.searchParams.delete(param);
  address.hash = wanted.hash;
  return address;
}

async function fetchBasis(link, param) {
  const address = new URL(link.href);
  for (const other of PARAMS) if (other !== param) address.searchParams.delete(other);
  address.searchParams.set("part", "basis");
  address.hash = "";
  const answer = await fetch(address, { headers: { Accept: "text/html" } });
  if (!answer.ok) throw new Error(`the bench answered ${answer.status}`);
  const holder = document.createElement("template");
  holder.innerHTML = await answer.text();
  return holder.content.querySelector(".basis");
}

function close(list) {
  for (const basis of list.querySelectorAll(".basis")) basis.remove();
  for (const item of list.querySelectorAll("li.open")) item.classList.remove("open");
  for (const row of list.querySelectorAll('[aria-expanded="true"][data-opens]')) {
    row.setAttribute("aria-expanded", "false");
  }
}

function remember(address) {
  window.history.replaceState(null, "", address);
}

async function openRow(row) {
  const param = row.dataset.opens;
  const list = row.closest("[data-list]");
  if (param === "more" && row.getAttribute("aria-expanded") === "true") {
    close(list);
    const address = new URL(window.location.href);
    address.searchParams.delete(param);
    remember(address);
    return;
  }
  const basis = await fetchBasis(row, param);
  close(list);
  const item = row.closest("li");
  item.append(basis);
  item.classList.add("open");
  row.setAttribute("aria-expanded", "true");
  remember(addressAfter(row, param));
}

/* An input of an opened number opens in its place, and the way back is in it. */
async function followTrail(link) {
  const param = link.dataset.trail;
  const old = link.closest(".basis");
  const basis = await fetchBasis(link, param);
  old.replaceWith(basis);
  basis.querySelector("h3").focus({ preventScroll: true });
  basis.scrollIntoView({ block: "nearest" });
  remember(addressAfter(link, param));
}

function step(row, offset) {
  const rows = [...row.closest("[data-list]").querySelectorAll("[data-opens]")].filter(
    (one) => one.checkVisibility(),
  );
  const next = rows[rows.indexOf(row) + offset];
  if (next) next.focus();
}

function onClick(event) {
  if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const stage = event.target.closest(".stages a");
  if (stage) stage.closest("details").open = false;
  const link = event.target.closest("a[data-opens], a[data-trail]");
  if (!link) return;
  event.preventDefault();
  const opened = link.dataset.opens ? openRow(link) : followTrail(link);
  opened.catch(() => window.location.assign(link.href));
}

function onKey(event) {
  const row = event.target.closest("a[data-opens]");
  if (event.key === "Escape") {
    const basis = event.target.closest(".basis");
    const owner = basis?.closest("li")?.querySelector("[data-opens]");
    if (owner) owner.focus();
    return;
  }
  if (!row) return;
  const offset = { ArrowDown: 1, ArrowUp: -1 }[event.key];
  if (offset) {
    event.preventDefault();
    step(row, offset);
  } else if (event.key === " ") {
    event.preventDefault();
    row.click();
  }
}

export function openNumbers(root) {
  root.addEventListener("click", onClick);
  root.addEventListener("keydown", onKey);
}
