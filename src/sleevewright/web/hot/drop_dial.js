/* The dial: sixty seconds, those for lining up solid, those in which it may grip hatched. */

const SPACE = spaceOfPictures();
const MIDDLE = 320;
const ROUND = 60;

/* The name space of drawings, as the browser itself has it: no address stands in a file. */
function spaceOfPictures() {
  const host = document.createElement("template");
  host.innerHTML = "<svg></svg>";
  return host.content.firstChild.namespaceURI;
}

function point(radius, seconds) {
  const angle = (2 * Math.PI * seconds) / ROUND;
  return `${(MIDDLE + radius * Math.sin(angle)).toFixed(1)} ${(MIDDLE - radius * Math.cos(angle)).toFixed(1)}`;
}

function ring(inner, outer, from, to) {
  const end = Math.min(to, from + ROUND - 0.01);
  const large = end - from > ROUND / 2 ? 1 : 0;
  return `M${point(outer, from)}A${outer} ${outer} 0 ${large} 1 ${point(outer, end)}`
    + `L${point(inner, end)}A${inner} ${inner} 0 ${large} 0 ${point(inner, from)}Z`;
}

function made(name, attributes, text = "") {
  const one = document.createElementNS(SPACE, name);
  for (const [key, value] of Object.entries(attributes)) one.setAttribute(key, value);
  one.textContent = text;
  return one;
}

export class Dial {
  constructor(host, { lineUp, expected, latest }) {
    this.lineUp = lineUp ?? 0;
    this.svg = made("svg", { viewBox: "0 0 640 640", role: "img", class: "dial" });
    const defs = made("defs", {});
    const hatch = made("pattern", {
      id: "may-grip", width: 8, height: 8, patternUnits: "userSpaceOnUse",
      patternTransform: "rotate(45)",
    });
    hatch.append(made("path", { d: "M0 0v8", class: "hatching" }));
    defs.append(hatch);
    this.svg.append(defs);
    const until = Math.min(ROUND, latest ?? ROUND);
    if (until > this.lineUp) this.path(ring(222, 262, this.lineUp, until), "may");
    this.past = this.path("", "past");
    this.left = this.path("", "left");
    this.blocks = [-3, -2, -1].map((at) => this.path(ring(212, 270, at + 0.1, at + 0.9), "close"));
    for (let at = 0; at < ROUND; at += 1) {
      const [width, to] = at % 10 === 0 ? ["tick ten", 300] : at % 5 === 0 ? ["tick five", 292] : ["tick", 283];
      this.path(`M${point(274, at)}L${point(to, at)}`, width);
    }
    if (expected && expected < ROUND) this.mark(expected, true);
    if (latest && latest < ROUND) this.mark(latest, true);
    if (lineUp) this.mark(lineUp, false);
    this.hand = this.path("", "hand");
    this.figure = made("text", { class: "fig", x: MIDDLE, y: 442, "text-anchor": "middle" });
    this.svg.append(this.figure);
    host.replaceChildren(this.svg);
    this.rest();
  }

  path(d, name) {
    const one = made("path", { d, class: name });
    this.svg.append(one);
    return one;
  }

  mark(at, hasLine) {
    if (hasLine) this.path(`M${point(210, at)}L${point(270, at)}`, "at");
    const [x, y] = point(186, at).split(" ").map(Number);
    this.svg.append(made("text", { class: "fig small", x, y: y + 12, "text-anchor": "middle" }, String(at)));
  }

  show(figure, label) {
    this.figure.textContent = figure;
    this.figure.classList.toggle("two", String(figure).length > 1);
    this.svg.setAttribute("aria-label", label);
  }

  rest() {
    this.left.setAttribute("d", this.lineUp ? ring(212, 270, 0, this.lineUp) : "");
    this.past.setAttribute("d", "");
    this.hand.setAttribute("d", "");
    for (const block of this.blocks) block.classList.add("away");
    this.show(this.lineUp || "", "Seconds for lining up");
  }

  count({ left, figure, blocks }) {
    this.rest();
    this.left.setAttribute("d", "");
    this.blocks.forEach((block, at) => {
      block.classList.remove("away");
      block.classList.toggle("closed", at < blocks);
    });
    if (left <= 3) this.hand.setAttribute("d", `M${point(196, -left)}L${point(306, -left)}`);
    this.show(figure, `In on the beep in ${figure} seconds`);
  }

  run(elapsed, { figure, isYours }) {
    for (const block of this.blocks) block.classList.add("away");
    this.past.setAttribute("d", elapsed > 0.1 && this.lineUp ? ring(222, 262, 0, Math.min(elapsed, this.lineUp)) : "");
    this.left.setAttribute("d", isYours ? ring(212, 270, elapsed, this.lineUp) : "");
    this.hand.setAttribute("d", `M${point(196, elapsed)}L${point(306, elapsed)}`);
    this.show(figure, isYours ? `${figure} seconds left before it may grip` : `${figure} seconds since the beep; it may have gripped`);
  }
}
