/* The hand over the fits: one range moves it through every strip, and the figures of that fit
   are looked up. Nothing is reckoned here.

   Hooks: [data-choose] the page, data-start the place of the hand at first, data-seconds the
          address of the second wave; [data-curve] a strip with [data-figure], [data-band],
          [data-verdict]; input[type=range] the hand; [data-step] a press for one step;
          [data-fit] the fit in figures; [data-take] the press that carries it to the stage. */

const page = document.querySelector("[data-choose]");
const range = document.getElementById("fit");
const table = JSON.parse(document.getElementById("places").value);
const start = Number(page.dataset.start);
const take = document.querySelector("[data-take]");
const said = document.querySelector("[data-fit]");
let asked = 0; /* the next frame draws the newest place; those between are skipped */

/* The left and right end of the scale in the units of a drawing, by its width. */
function reach(drawing) {
  const [, , width] = drawing.getAttribute("viewBox").split(" ").map(Number);
  return width === table.broad.width ? table.broad : table.slim;
}

function place() {
  return Number(range.value);
}

function draw() {
  asked = 0;
  const at = place();
  const fit = table.fits[at];
  for (const hand of document.querySelectorAll(".drawing .hand")) {
    const ends = reach(hand.ownerSVGElement);
    const each = (ends.right - ends.left) / (table.fits.length - 1);
    hand.setAttribute("transform", `translate(${((at - start) * each).toFixed(2)} 0)`);
  }
  for (const [id, places] of Object.entries(table.curves)) show(id, places[at]);
  said.textContent = fit;
  range.setAttribute("aria-valuetext", `${fit} ${table.unit}, diametral`);
  if (!take) return; /* the bore is cut: there is nothing to take */
  const address = new URL(take.href);
  address.searchParams.set(take.dataset.take, `${fit} ${table.unit}`);
  take.href = address.href;
}

function show(id, [figure, band, style, word]) {
  const strip = document.querySelector(`[data-curve="${CSS.escape(id)}"]`);
  if (!strip) return;
  strip.querySelector("[data-figure]").textContent = figure;
  strip.querySelector("[data-band]").textContent = band;
  const verdict = strip.querySelector("[data-verdict]");
  verdict.textContent = word;
  verdict.className = `verdict-now ${style}`;
}

function schedule() {
  asked ||= requestAnimationFrame(draw);
}

/* The second wave: seconds take longer than the closed forms, and come when they are there. */
async function wave() {
  const holder = document.querySelector("[data-wave]");
  const words = holder.querySelector(".working");
  let told;
  try {
    const answer = await fetch(page.dataset.seconds);
    told = await answer.json();
  } catch {
    words.textContent = "The bench did not answer for the seconds; open this page again.";
    return;
  }
  if (!told.html) {
    words.textContent = told.says;
    return;
  }
  holder.innerHTML = told.html;
  Object.assign(table.curves, told.curves);
  draw();
}

range.addEventListener("input", schedule);
for (const press of document.querySelectorAll("[data-step]")) {
  press.addEventListener("click", () => {
    range.value = String(place() + Number(press.dataset.step));
    schedule();
  });
}
draw();
wave();
