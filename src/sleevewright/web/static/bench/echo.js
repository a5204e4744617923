/* The last value, large, in figures and in words; and aloud where the voice is on. */

import { say } from "./speech.js";
import { wordsOf } from "./spoken.js";

const INCH = 0.0254;
const SET = ".gridded, section.grid";

/* Figures of a reading as a shop says it: a deviation where there is a nominal. Nothing is
   rounded off that was typed. */
export function figureOf(text, reading, { nominalNm = null, unit = "" } = {}) {
  if (!reading) return { figure: text, unit: "", isDeviation: false };
  if (nominalNm === null) {
    const found = /^([+-]?[\d.,]+(?:e[+-]?\d+)?)/i.exec(reading.plain);
    return { figure: found?.[1] ?? text, unit: reading.unit, isDeviation: false };
  }
  const isInch = ["thou", "tenths", "in"].includes(unit);
  const off = (reading.value - nominalNm * 1e-9) / (isInch ? INCH / 1000 : 1e-6);
  const digits = [isInch ? 1 : 0, 2, 3].find((count) => isWhole(off * 10 ** count)) ?? 3;
  const size = Math.abs(off).toFixed(digits);
  const sign = Number(size) === 0 ? "" : off < 0 ? "\u2212" : "+";
  return { figure: `${sign}${size}`, unit: isInch ? "thou" : "µm", isDeviation: true };
}

/* The whole size that a deviation comes to, with the digits that the job's units have. */
function sizeOf(reading, { nominalNm = null, unit = "" }) {
  if (!reading || nominalNm === null) return "";
  const isInch = ["thou", "tenths", "in"].includes(unit);
  const size = reading.value / (isInch ? INCH : 1e-3);
  const usual = isInch ? 4 : 3;
  const digits = [usual, usual + 1].find((count) => isWhole(size * 10 ** count)) ?? usual + 2;
  return size.toFixed(digits);
}

function isWhole(number) {
  return Math.abs(number - Math.round(number)) < 1e-4;
}

/* The echo of a set tells only of the readings of that set; any other tells of everything. */
export function echoed(text, reading, wanted, element = null) {
  const { figure, unit, isDeviation } = figureOf(text, reading, wanted);
  const words = reading ? wordsOf(figure, unit, { isDeviation }) : text;
  for (const echo of document.querySelectorAll("[data-echo]")) {
    const set = echo.closest(SET);
    if (set && element && !set.contains(element)) continue;
    write(echo, "[data-echo-figure]", figure);
    write(echo, "[data-echo-unit]", unit);
    write(echo, "[data-echo-words]", words);
    write(echo, "[data-echo-size]", sizeOf(reading, wanted));
  }
  say(words);
}

function write(echo, selector, text) {
  const place = echo.querySelector(selector);
  if (place) place.textContent = text;
}
