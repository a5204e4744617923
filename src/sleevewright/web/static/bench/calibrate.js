/* How large a millimetre is on this screen: a bank card (85.60 by 53.98 mm, ISO/IEC 7810
   ID-1) is laid on it and a box is made as wide. What is pressed often is then 20 mm.

   Hooks: <section data-calibrate> with <div data-card tabindex="0">, presses
   [data-press="wider"], [data-press="narrower"], [data-press="keep-card"],
   [data-press="forget-card"] and an <output data-card-says>. A press on the edge of the box
   sets its width; arrow keys change it by one pixel, with shift by ten. */

export const CARD = { width: 85.6, height: 53.98 }; /* mm */
export const TOUCH = 20; /* mm */
const KEPT = "sleevewright-px-per-mm";
const USUAL = 96 / 25.4;
const [LEAST, MOST] = [1.5, 20]; /* px a mm between which a screen is believed */
/* px; nothing that is pressed gets smaller by a calibration */
const SMALLEST = { "--touch": 56, "--touch-least": 52, "--touch-next": 84 };

export function pxPerMm() {
  try {
    const kept = Number(window.localStorage.getItem(KEPT));
    return kept >= LEAST && kept <= MOST ? kept : null;
  } catch {
    return null;
  }
}

/* On every page: the sizes of what is pressed follow this device. */
export function applyTouch(root = document.documentElement) {
  const scale = pxPerMm();
  root.toggleAttribute("data-calibrated", scale !== null);
  if (scale === null) {
    for (const size of ["--px-per-mm", ...Object.keys(SMALLEST)]) root.style.removeProperty(size);
    return;
  }
  root.style.setProperty("--px-per-mm", String(scale));
  for (const [size, smallest] of Object.entries(SMALLEST)) {
    root.style.setProperty(size, `${Math.max(smallest, Math.round(TOUCH * scale))}px`);
  }
}

export function keepScale(scale) {
  if (!(scale >= LEAST && scale <= MOST)) return false;
  window.localStorage.setItem(KEPT, String(scale));
  applyTouch();
  return true;
}

export function forgetScale() {
  window.localStorage.removeItem(KEPT);
  applyTouch();
}

export function bindCalibration(section) {
  const card = section.querySelector("[data-card]");
  const says = section.querySelector("[data-card-says]");
  let width = Math.round((pxPerMm() ?? USUAL) * CARD.width);

  function show() {
    width = Math.min(Math.max(width, LEAST * CARD.width), MOST * CARD.width);
    card.style.width = `${width}px`;
    card.style.height = `${(width * CARD.height) / CARD.width}px`;
    const scale = width / CARD.width;
    const words = `${Math.round(width)} px wide, ${scale.toFixed(2)} px a mm`;
    if (says) says.textContent = words;
    card.setAttribute("aria-valuetext", words);
    card.setAttribute("aria-valuenow", String(Math.round(width)));
  }

  function change(by) {
    width += by;
    show();
  }

  card.setAttribute("role", "slider");
  card.setAttribute("aria-valuemin", String(Math.round(LEAST * CARD.width)));
  card.setAttribute("aria-valuemax", String(Math.round(MOST * CARD.width)));
  if (!card.hasAttribute("aria-label")) card.setAttribute("aria-label", "Width of the card");
  card.addEventListener("keydown", (event) => {
    const way = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    change(way * (event.shiftKey ? 10 : 1));
  });
  card.parentElement.addEventListener("pointerdown", (event) => {
    const left = card.getBoundingClientRect().left;
    if (event.target.closest("button") || event.clientX - left < 50) return;
    width = event.clientX - left;
    show();
  });
  section.addEventListener("click", (event) => {
    const press = event.target.closest("[data-press]")?.dataset.press;
    if (press === "wider") change(2);
    else if (press === "narrower") change(-2);
    else if (press === "keep-card" && says) {
      const isKept = keepScale(width / CARD.width);
      says.textContent = isKept ? "Kept for this device." : "No screen is that fine or coarse.";
    } else if (press === "forget-card") {
      forgetScale();
      width = Math.round(USUAL * CARD.width);
      show();
    }
  });
  show();
}
