/* Rows of cells that there are several of, as passes: an empty one always stands ready below
   those that were told, here and on every other device that hears of them.

   Hook: <tbody data-grows> whose rows hold cells named as parent.pass/3/asked. */

const NAMED = /^(.+)\/(\d+)\/([^/]+)$/;
const MOST = 99;
const OF_TELLING = ["conflict", "dirty", "refused", "asked"];

/* Add the rows up to the one after the cell that was told; the cells of each are bound. */
export function growFor(cells, { cell = "", cylinder, text = "" }) {
  const told = NAMED.exec(cell);
  if (!told || text === "") return;
  for (const body of document.querySelectorAll("tbody[data-grows]")) {
    const wanted = Math.min(Number(told[2]) + 1, MOST);
    for (let at = lastOf(body, told[1], cylinder); at && at < wanted; at += 1) {
      body.append(rowAfter(body.lastElementChild, at));
      cells.bind(body.lastElementChild);
    }
  }
}

/* Number of the last row of a table; nought where its rows are of something else. */
function lastOf(body, start, cylinder) {
  const cell = body.lastElementChild?.querySelector("[data-cell]");
  const own = cell && NAMED.exec(cell.dataset.cell);
  if (!own || own[1] !== start || Number(cell.dataset.cylinder) !== Number(cylinder)) return 0;
  return Number(own[2]);
}

function rowAfter(last, number) {
  const row = last.cloneNode(true);
  for (const one of row.querySelectorAll("[data-message], p.message")) one.remove();
  for (const one of row.querySelectorAll("th span")) one.textContent = String(number + 1);
  for (const one of row.querySelectorAll("output[data-state]")) {
    one.dataset.state = "";
    one.replaceChildren();
  }
  for (const one of row.querySelectorAll("[data-cell]")) empty(one, number);
  return row;
}

function empty(element, number) {
  const next = String(number + 1);
  const label = element.getAttribute("aria-label") ?? "";
  element.dataset.cell = element.dataset.cell.replace(NAMED, `$1/${next}/$3`);
  element.id = `r-${element.dataset.cell.toLowerCase().replace(/[^a-z0-9]+/g, "-")}`;
  element.setAttribute("aria-label", label.replace(` ${number},`, ` ${next},`));
  for (const key of OF_TELLING) delete element.dataset[key];
  for (const name of ["aria-invalid", "aria-describedby"]) element.removeAttribute(name);
  element.dataset.told = "";
  element.dataset.toldIds = "";
  for (const one of element.querySelectorAll("option[selected]")) one.removeAttribute("selected");
  if (element.type === "checkbox") element.checked = false;
  else if (element.matches("select")) element.selectedIndex = 0;
  else {
    element.defaultValue = "";
    element.value = "";
  }
}
