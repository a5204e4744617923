/* The seconds of a drop: what is shown at a moment. Times are seconds of performance.now();
   a clock that is set meanwhile changes nothing. */

export const COUNT_IN = 10;
export const LONGEST_BACK = 300; /* seconds after which a drop is not taken up again */
const WORDS = { 10: "ten", 5: "five", 3: "three", 2: "two", 1: "one" };
const MARKS = [5, 3, 2, 1];
const EVERY = 10; /* seconds between two marks once it may have gripped */

/* Before the beep: what is left, whole; blocks of the last three that are closed. */
export function countAt(begun, now) {
  const left = COUNT_IN - (now - begun);
  const figure = Math.max(0, Math.ceil(left - 1e-9));
  const blocks = Math.min(3, Math.max(0, 4 - figure));
  return { left, figure, blocks, isIn: left <= 1e-9 };
}

/* After the beep: seconds left of those for lining up, then seconds since the beep. */
export function secondsAt(elapsed, lineUp) {
  const left = (lineUp ?? 0) - elapsed;
  const isYours = left > 1e-9;
  return { figure: isYours ? Math.ceil(left - 1e-9) : Math.floor(elapsed + 1e-9), isYours };
}

/* What is spoken between two moments, the newest last: [moment, words] of each mark. */
export function spokenBetween(from, to, { lineUp, isCounting }) {
  const said = [];
  const add = (at, words) => at > from && at <= to && said.push([at, words]);
  if (isCounting) {
    for (const [left, words] of Object.entries(WORDS)) add(COUNT_IN - Number(left), words);
  } else {
    for (const left of MARKS) if (lineUp && left < lineUp) add(lineUp - left, String(left));
    if (lineUp) add(lineUp, "may grip now");
    const first = Math.floor(Math.max(from, lineUp ?? 0) / EVERY) * EVERY;
    for (let at = first; at <= to; at += EVERY) if (at > (lineUp ?? 0)) add(at, String(at));
  }
  return said.sort(([one], [other]) => one - other);
}

/* What a pedal tells next: in the order in which they come, each once. */
export function nextOf(given, hasPorts) {
  const order = hasPorts ? ["clocked", "seated", "gripped"] : ["seated", "gripped"];
  const last = Math.max(-1, ...order.map((what, at) => (what in given ? at : -1)));
  return order[last + 1] ?? null;
}
