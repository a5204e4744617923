/* What is kept for this device alone, as one section of a page of settings: how large a
   millimetre is, sounds, voice and keyboard, and what waits here.

   Hook: <section data-this-device></section>, filled here before anything is bound. */

import { canSpeak } from "./speech.js";

const SWITCHES = [
  ["sounds", "A beep for taken, a buzz for refused"],
  ["voice", "Each reading said aloud"],
  ["keyboard", "Keyboard on the screen in reading grids (off for a gauge that types)"],
];
const CARD_WORDS =
  "Lay a bank card on the screen, its left edge on the left edge of the box. Press where its "
  + "right edge lies, or use the arrow keys, until the box is as wide. What is pressed often is "
  + "then 20 mm on this screen.";

function made(name, properties = {}, ...children) {
  const { data = {}, ...plain } = properties;
  const element = Object.assign(document.createElement(name), plain);
  Object.assign(element.dataset, data);
  element.append(...children);
  return element;
}

function press(name, words) {
  return made("button", { type: "button", className: "press", textContent: words, data: { press: name } });
}

export function fillDevice(section) {
  const card = made("div", { tabIndex: 0, data: { card: "" } });
  const says = made("output", { data: { cardSays: "" } });
  const presses = made("p", { className: "presses" }, press("narrower", "Narrower"),
    press("wider", "Wider"), press("keep-card", "Keep"), press("forget-card", "Forget"));
  const calibration = made("div", { data: { calibrate: "" } },
    made("h3", { textContent: "Size of the screen" }), made("p", { textContent: CARD_WORDS }),
    made("div", { className: "card-room" }, card), says, presses);
  const switches = made("div", { className: "switches" },
    made("h3", { textContent: "While readings are keyed" }),
    ...SWITCHES.map(([name, words]) => made("label", {},
      made("input", { type: "checkbox", data: { switch: name } }), made("span", { textContent: words }))));
  const voice = made("p", { className: "note", textContent: canSpeak()
    ? "" : "This browser has no voice of its own on the device; nothing is said aloud." });
  const waits = made("div", {}, made("h3", { textContent: "Waiting on this device" }),
    made("div", { data: { unsent: "" } }));
  section.replaceChildren(made("h2", { textContent: "This device" }), calibration, switches, voice, waits);
}
