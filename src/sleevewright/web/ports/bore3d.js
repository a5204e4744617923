/* The bore in space.  Hooks: #bore what is drawn; [data-bore] where; [data-view] a place to
   look from; [data-turn] a turn about the axis; [data-lacks] said where nothing can be drawn;
   [data-told] what was done. */

const told = JSON.parse(document.getElementById("bore").value);
const place = document.querySelector("[data-bore]");
const lacks = document.querySelector("[data-lacks]");
const status = document.querySelector("[data-told]");
const views = [...document.querySelectorAll("[data-view]")];
const dark = window.matchMedia("(prefers-color-scheme: dark)");
const TURN = Math.PI / 6;
const WIDTHS = { solid: 9, dash: 6, dot: 6, longdashdot: 9 };
const STILL = { displayModeBar: false, displaylogo: false, scrollZoom: false, responsive: true };

let camera = { ...told.views[0] };

function inks() {
  const style = getComputedStyle(document.documentElement);
  const ink = (name) => style.getPropertyValue(name).trim();
  return { ink: ink("--ink"), rule: ink("--rule"), hair: ink("--hair"), sheet: ink("--sheet") };
}

function line(one, color, width, dash) {
  const { x, y, z } = one;
  return { type: "scatter3d", mode: "lines", x, y, z, connectgaps: false, hoverinfo: "skip",
    line: { color, width, dash } };
}

function traces() {
  const { ink, rule, hair } = inks();
  const wall = { type: "surface", ...told.wall, surfacecolor: told.wall.z, showscale: false,
    colorscale: [[0, hair], [1, hair]], opacity: 0.35, hoverinfo: "skip",
    lighting: { ambient: 0.9, diffuse: 0.2, specular: 0 },
    contours: { x: { highlight: false }, y: { highlight: false }, z: { highlight: false } } };
  const marks = told.marks.map((one) => ({ ...line(one, ink, 14, "solid"), mode: "lines+text",
    text: [one.name, ""], textposition: "top center", textfont: { color: ink, size: 14 } }));
  const names = { type: "scatter3d", mode: "text", ...told.names, hoverinfo: "skip",
    textfont: { color: ink, size: 18 } };
  return [wall, line(told.rims, rule, 4, "solid"),
    ...told.maps.map((one) => line(one, ink, WIDTHS[one.dash], one.dash)), ...marks, names];
}

function layout() {
  const bare = { visible: false };
  return { autosize: true, showlegend: false, margin: { l: 0, r: 0, t: 0, b: 0 },
    paper_bgcolor: inks().sheet, uirevision: "bore", font: { family: "sans-serif" },
    scene: { aspectmode: "data", xaxis: bare, yaxis: bare, zaxis: bare, dragmode: "orbit",
      hovermode: false, camera: seenFrom(camera) } };
}

function seenFrom({ eye, center, up }) {
  return { eye, center, up, projection: { type: "perspective" } };
}

function press(number) {
  views.forEach((one, at) => one.setAttribute("aria-pressed", String(at === number)));
}

async function look(next, words) {
  camera = next;
  await window.Plotly.relayout(place, { "scene.camera": seenFrom(camera) });
  status.textContent = words;
}

/* About the axis: eye and what is looked at go round together, a wall to the left goes on left. */
function turned({ eye, center, up }, by) {
  const [c, s] = [Math.cos(by), Math.sin(by)];
  const about = ({ x, y, z }) => ({ x: c * x - s * y, y: s * x + c * y, z });
  return { eye: about(eye), center: about(center), up: about(up) };
}

function canDraw() {
  const canvas = document.createElement("canvas");
  return Boolean(window.Plotly && (canvas.getContext("webgl2") || canvas.getContext("webgl")));
}

async function begin() {
  if (!canDraw()) {
    lacks.hidden = false;
    place.hidden = true;
    return;
  }
  await window.Plotly.newPlot(place, traces(), layout(), STILL);
  press(0);
  place.dataset.drawn = "yes";
  dark.addEventListener("change", () => window.Plotly.react(place, traces(), layout(), STILL));
  place.on("plotly_relayout", () => {
    const now = place.layout.scene.camera;
    camera = { eye: now.eye, center: now.center, up: now.up };
  });
}

views.forEach((one, number) => {
  one.addEventListener("click", async () => {
    press(number);
    await look({ ...told.views[number] }, one.textContent);
  });
});
for (const one of document.querySelectorAll("[data-turn]")) {
  one.addEventListener("click", async () => {
    press(-1);
    await look(turned(camera, Number(one.dataset.turn) * TURN), "Turned by 30° about its axis.");
  });
}
begin();
