/* The map of the ports: an edge, a corner or a whole port is moved by finger, mouse or keys.
   The bench computes what a move comes to; what is told goes through the page's own cells,
   so that it is kept, sent and taken back like anything that was keyed.

   Hooks: main[data-moved] where a move is asked; [data-closeup] one port large, with
          data-port, data-wide (m across the drawing), data-step (m), data-way (1 or -1) and
          data-outside; [data-handle] with data-place, data-x and data-y in hundredths;
          path.moved its outline; [data-figures]; [data-moving] what is being told;
          [data-question] with [data-replace] and [data-leave]; [data-undo]. */

const IDLE = 900; /* ms after the last arrow key until what was moved is told */
const STILL = 4; /* px: a touch that moves less than this moves nothing */
const SNAP = 5; /* px: nearer than this a roof or floor takes the depth of another */
const OUT = 0.5; /* how much of its own size a handle stands off its edge */
const AWAY = "The bench does not answer. Nothing was moved; type the size instead.";

const main = document.querySelector("main[data-moved]");
let at = null; /* what is being moved: {handle, right, down, from, answer} */
let timer = 0;
let isAsking = false;
const moves = []; /* how many cells each move told, the last one last */

const closeup = () => document.querySelector("[data-closeup]");
const status = () => document.querySelector("[data-moving]");
const sign = (place, low, high) => (place.includes(low) ? -1 : place.includes(high) ? 1 : 0);

function lay(places = {}) {
  for (const handle of document.querySelectorAll("[data-handle]")) {
    const { place, x, y } = handle.dataset;
    const [left, top] = places[handle.dataset.handle] ?? [Number(x), Number(y)];
    handle.style.left = `${left}%`;
    handle.style.top = `${top}%`;
    const across = -0.5 + OUT * sign(place, "left", "right");
    const down = -0.5 + OUT * sign(place, "roof", "floor");
    handle.style.transform = `translate(${across * 100}%, ${down * 100}%)`;
    handle.classList.add("placed");
  }
}

function begin(handle) {
  if (at?.handle === handle.dataset.handle) return;
  cancel();
  at = { handle: handle.dataset.handle, right: 0, down: 0, answer: null };
  handle.classList.add("moving");
}

/* Back to what stands: the drawing as it came is drawn again by the bench's own figures. */
function cancel() {
  window.clearTimeout(timer);
  if (!at) return;
  const back = at.standing;
  at = null;
  for (const one of document.querySelectorAll(".handle.moving")) one.classList.remove("moving");
  document.querySelector("[data-question]")?.setAttribute("hidden", "");
  if (back) draw(back);
  if (status()) status().textContent = "";
}

function draw({ path, handles, figures }) {
  const place = closeup();
  place?.querySelector("path.moved")?.setAttribute("d", path);
  lay(handles);
  if (place && figures) place.querySelector("[data-figures]").innerHTML = figures;
}

function standing() {
  const place = closeup();
  return {
    path: place.querySelector("path.moved").getAttribute("d"),
    handles: {},
    figures: place.querySelector("[data-figures]").innerHTML,
  };
}

/* One question at a time; while it is on its way the newest move waits. */
async function ask() {
  if (isAsking || !at) return;
  isAsking = true;
  const moved = at;
  const { right, down, handle } = moved;
  moved.standing ??= standing();
  try {
    const place = closeup();
    const answer = await fetch(main.dataset.moved, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({
        port: place.dataset.port, handle, right, down, outside: "outside" in place.dataset,
      }),
    });
    const told = await answer.json();
    if (!answer.ok) throw new Error(told.error ?? told.text ?? AWAY);
    if (at !== moved) return;
    moved.answer = { ...told, right, down };
    if (told.refused) status().textContent = told.refused;
    else {
      draw(told);
      status().textContent = `${told.said.join(", ") || "Outline"}${moved.like ?? ""}`;
    }
  } catch (trouble) {
    if (at === moved) {
      cancel();
      status().textContent = trouble instanceof TypeError ? AWAY : trouble.message;
    }
  } finally {
    isAsking = false;
  }
  if (at && (at.right !== at.answer?.right || at.down !== at.answer?.down)) await ask();
}

/* The move is over: it is told at once, or asked about where it would replace a reading. */
async function settle() {
  window.clearTimeout(timer);
  const moved = at;
  if (!moved) return;
  if (moved.right === 0 && moved.down === 0) return cancel();
  await ask();
  while (isAsking || !window.sleevewright?.entry) {
    await new Promise((done) => setTimeout(done, 20));
  }
  if (at !== moved || !moved.answer) return;
  if (moved.answer.refused) {
    const why = moved.answer.refused;
    cancel();
    status().textContent = why;
  } else if (moved.answer.read.length > 0) {
    status().textContent = `${moved.answer.read.join("; ")}: replace?`;
    const question = document.querySelector("[data-question]");
    question.removeAttribute("hidden");
    question.querySelector("[data-leave]").focus();
  } else tell();
}

function tell() {
  const { entry } = window.sleevewright;
  const moved = at;
  at = null;
  document.querySelector("[data-question]")?.setAttribute("hidden", "");
  for (const one of document.querySelectorAll(".handle.moving")) one.classList.remove("moving");
  const before = entry.done.length;
  let isWhole = true;
  for (const [cell, text] of moved.answer.cells) {
    const element = document.querySelector(`[data-cell="${CSS.escape(cell)}"]`);
    if (!element) {
      isWhole = false;
      continue;
    }
    /* What was dragged was not between anvils: it is told as typed. */
    const { kind } = element.dataset;
    element.dataset.kind = kind === "chosen" ? kind : "typed";
    isWhole = entry.take(element, text, { source: "drag", stays: true }) && isWhole;
    element.dataset.kind = kind;
  }
  moves.push({ from: before, to: entry.done.length });
  const said = moved.answer.said.join(", ") || "the outline";
  status().textContent = isWhole
    ? `Told: ${said}.`
    : `Not all of it was taken: ${said}. Look at the fields below, or undo it.`;
  document.getElementById(`handle-${moved.handle}`)?.focus({ preventScroll: true });
}

function undo() {
  cancel();
  const entry = window.sleevewright?.entry;
  if (!entry) return;
  const count = entry.done.length;
  if (count === 0) {
    status().textContent = "Nothing was told on this page yet.";
    return;
  }
  const last = moves.at(-1);
  const many = last && last.to === count ? last.to - last.from : 1;
  if (last && last.to === count) moves.pop();
  const here = document.activeElement;
  for (let one = 0; one < many; one += 1) entry.takeBack();
  here?.focus({ preventScroll: true });
  status().textContent = "Taken back; what stood before stands again.";
}

function metres(pixels) {
  const place = closeup();
  const { width } = place.querySelector("svg").getBoundingClientRect();
  return (pixels / width) * Number(place.dataset.wide);
}

/* A roof or a floor that comes near one of another port takes its depth. */
function snapped(down) {
  const handle = document.getElementById(`handle-${at.handle}`);
  const near = JSON.parse(handle.dataset.snaps ?? "[]")
    .map(([depth, words]) => ({ depth, words, off: Math.abs(depth - down) }))
    .filter((one) => one.off < metres(SNAP))
    .sort((one, other) => one.off - other.off)[0];
  at.like = near ? `, as ${near.words}` : "";
  return near ? near.depth : down;
}

/* Only what the handle can do: a roof moves down and up, a side along the wall. */
function move(across, down) {
  const { handle } = at;
  const way = Number(closeup().dataset.way);
  at.right = handle === "roof" || handle === "floor" ? 0 : across * way;
  at.down = handle === "left" || handle === "right" ? 0 : down;
  ask();
}

document.addEventListener("pointerdown", (event) => {
  const handle = event.target.closest?.("[data-handle]");
  if (!handle || !event.isPrimary || event.button !== 0) return;
  begin(handle);
  window.clearTimeout(timer);
  at.from = [event.clientX, event.clientY];
  handle.setPointerCapture(event.pointerId);
});

document.addEventListener("pointermove", (event) => {
  if (!at?.from) return;
  const [x, y] = [event.clientX - at.from[0], event.clientY - at.from[1]];
  /* Near where it stands it snaps back to what was told. */
  if (Math.hypot(x, y) < STILL) move(0, 0);
  else if (at.handle === "roof" || at.handle === "floor") move(0, snapped(metres(y)));
  else move(metres(x), metres(y));
});

for (const end of ["pointerup", "pointercancel"]) {
  document.addEventListener(end, () => {
    if (!at?.from) return;
    at.from = null;
    if (end === "pointerup") settle();
    else cancel();
  });
}

const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

document.addEventListener("keydown", (event) => {
  const handle = event.target.closest?.("[data-handle]");
  if (!handle) return;
  if (event.key === "Escape") cancel();
  else if (event.key === "Enter" && at) {
    event.preventDefault();
    settle();
  } else if (KEYS[event.key]) {
    event.preventDefault();
    begin(handle);
    const step = Number(closeup().dataset.step) * (event.shiftKey ? 10 : 1);
    const way = Number(closeup().dataset.way);
    const [across, down] = KEYS[event.key];
    move(at.right * way + across * step, at.down + down * step);
    window.clearTimeout(timer);
    timer = window.setTimeout(settle, IDLE);
  }
});

document.addEventListener("click", (event) => {
  const press = event.target.closest?.("[data-replace], [data-leave], [data-undo]");
  if (!press) return;
  if ("undo" in press.dataset) undo();
  else if ("leave" in press.dataset) cancel();
  else if (at?.answer) tell();
});

/* The bench has drawn it anew; what is being moved at this moment goes on from there. */
document.addEventListener("bench:answers", () => {
  lay();
  if (!at || !closeup()) return;
  if (at.from) {
    at = null; /* the handle under the finger is another one now */
    status().textContent = "The map was drawn anew meanwhile: drag it again.";
    return;
  }
  at.standing = standing();
  at.answer = null;
  document.getElementById(`handle-${at.handle}`)?.classList.add("moving");
  window.clearTimeout(timer);
  timer = window.setTimeout(settle, IDLE);
  ask();
});

lay();
