/* Words and figures, both ways: what a device's dictation typed becomes figures, a value
   becomes the words it is read back in. Words that leave anything open are no figures.
   The same words come to the same figures as in the bench's own reader of dictation. */

import { keyed } from "./keyed.js";

const NAMES = (
  "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
  + "fifteen sixteen seventeen eighteen nineteen twenty"
).split(" ");
const NUMBERS = new Map(NAMES.map((word, value) => [word, whole(value)]));
for (const [word, value] of [["nought", 0], ["nothing", 0], ["a", 1], ["an", 1]]) {
  NUMBERS.set(word, whole(value));
}
const PARTS = new Map([["half", [1n, 2n]], ["quarter", [1n, 4n]]]);
const DIGITS = new Map(NAMES.slice(0, 10).map((word, value) => [word, String(value)]));
DIGITS.set("oh", "0").set("nought", "0");
const PLUS = ["plus", "over", "above"];
const MINUS = ["minus", "negative", "under", "below"];
const SIGNS = new Map([["+", "+"], ["-", "-"]]);
for (const word of PLUS) SIGNS.set(word, "+");
for (const word of MINUS) SIGNS.set(word, "-");
const UNITS = new Map([
  ...named("tenths", "tenth tenths"),
  ...named("thou", "thou thous thousandth thousandths"),
  ...named("µm", "micron microns µm um"),
  ...named("in", "inch inches in"),
  ...named("mm", "millimetre millimetres millimeter millimeters mm"),
  ...named("hundredths", "hundredth hundredths"),
]);
const SPOKEN = new Set([
  ...NUMBERS.keys(), ...PARTS.keys(), "point", ...PLUS, ...MINUS, "hundredth", "hundredths",
]);
SPOKEN.delete("a");
SPOKEN.delete("an");
/* Ten of a thousandth, or a tenth of one: nobody can hear which. */
const TEN_OR_TENTH = /\bten[\s-]thousandth/i;
const WORD = /[^\s\d.,+-][^\s\d,]*|[+-]|\d+(?:[.,]\d+)?|[.,]\d+|\S/gu;

function named(unit, words) {
  return words.split(" ").map((word) => [word, unit]);
}

/* Ten of a thousandth, or a tenth of one: nobody can hear which. */
const TENS = /\bten[\s-]thousandth/i;

/* Fractions are [numerator, denominator] of whole numbers without end. */
function whole(value) {
  return [BigInt(value), 1n];
}

function sum([n, d], [m, e]) {
  return [n * e + m * d, d * e];
}

/* "two tenths over" as "+2 tenths"; the text itself where it holds no such words. */
export function written(text, { hundredth = "" } = {}) {
  const tokens = keyed(text).toLowerCase().replaceAll("-", " - ").match(WORD) ?? [];
  if (!tokens.some((token) => SPOKEN.has(token)) || TENS.test(keyed(text))) return text;
  const said = readWords(joined(tokens));
  if (!said) return text;
  let { number, unit } = said;
  if (unit === "hundredths") {
    if (hundredth !== "mm") return text;
    [number, unit] = [[number[0], number[1] * 100n], "mm"];
  }
  return `${said.sign}${decimalOf(number)} ${unit}`.trim();
}

/* Without the hyphens of three-and-a-half; a hyphen in front is a sign. */
function joined(tokens) {
  return tokens.filter((token, place) => {
    const before = tokens[place - 1];
    return token !== "-" || place === 0 || PLUS.includes(before) || MINUS.includes(before);
  });
}

function readWords(tokens) {
  const signed = signOf(tokens);
  if (!signed) return null;
  let { rest } = signed;
  let [total, unit, before] = [whole(0), "", ""];
  while (rest.length > 0) {
    const [number, taken] = numberIn(rest);
    if (!number) return null;
    rest = rest.slice(taken);
    const here = UNITS.get(rest[0]) ?? "";
    if (here) rest = rest.slice(1);
    if (!before && !unit && total[0] === 0n) {
      const [part, more] = here ? partIn(rest, false) : [null, 0];
      [total, unit, before] = [part ? sum(number, part) : number, here, here || "-"];
      rest = rest.slice(more);
    } else if (unit === "thou" && here === "tenths") {
      total = sum(total, [number[0], number[1] * 10n]);
      before = here;
      if (rest.length > 0) return null;
    } else return null;
    if (rest[0] === "and") {
      rest = rest.slice(1);
      if (rest.length === 0) return null;
    }
  }
  return before ? { sign: signed.sign, number: total, unit } : null;
}

/* The sign, from a word in front or behind; nothing where two contradict. */
function signOf(tokens) {
  const places = tokens.map((token, place) => (SIGNS.has(token) ? place : -1)).filter((at) => at >= 0);
  const found = new Set(places.map((place) => SIGNS.get(tokens[place])));
  if (found.size > 1 || places.some((at) => at !== 0 && at !== tokens.length - 1)) return null;
  const rest = tokens.filter((token) => !SIGNS.has(token));
  return { sign: [...found][0] ?? "", rest };
}

/* A number from words or digits at the start, and how many tokens it took. */
function numberIn(tokens) {
  const [start, taken] = wholeIn(tokens);
  if (start && tokens[taken] === "point") {
    const [digits, more] = digitsIn(tokens.slice(taken + 1));
    if (!digits) return [null, 0];
    return [sum(start, pointed(digits)), taken + 1 + more];
  }
  if (!start && tokens[0] === "point") {
    const [digits, more] = digitsIn(tokens.slice(1));
    return digits ? [pointed(digits), 1 + more] : [null, 0];
  }
  const [part, more] = partIn(tokens.slice(taken), !start);
  if (part) return [sum(start ?? whole(0), part), taken + more];
  return [start, taken];
}

function pointed(digits) {
  return [BigInt(digits), 10n ** BigInt(digits.length)];
}

/* A number word or digits; "a" counts only before a unit. */
function wholeIn([first, second]) {
  if (first === undefined) return [null, 0];
  if ((first === "a" || first === "an") && second && !UNITS.has(second)) return [null, 0];
  if (NUMBERS.has(first)) return [NUMBERS.get(first), 1];
  if (!/^\d*[.,]?\d+$/.test(first)) return [null, 0];
  const [before, after = ""] = first.split(/[.,]/);
  return [[BigInt(`${before}${after}` || "0"), 10n ** BigInt(after.length)], 1];
}

/* "half", "a half", "and a half", and "half a" before a unit. */
function partIn(tokens, isFirst) {
  let place = 0;
  if (!isFirst) {
    if (tokens[0] !== "and") return [null, 0];
    place = 1;
  }
  if (tokens[place] === "a" || tokens[place] === "one") place += 1;
  const part = PARTS.get(tokens[place]);
  if (!part) return [null, 0];
  place += 1;
  if (isFirst && (tokens[place] === "a" || tokens[place] === "an")) place += 1;
  return [part, place];
}

function digitsIn(tokens) {
  let [digits, taken] = ["", 0];
  for (const token of tokens) {
    if (DIGITS.has(token)) digits += DIGITS.get(token);
    else if (/^\d+$/.test(token)) digits += token;
    else break;
    taken += 1;
  }
  return [digits, taken];
}

function decimalOf([numerator, denominator]) {
  const start = numerator / denominator;
  let rest = numerator % denominator;
  let digits = "";
  while (rest > 0n && digits.length < 20) {
    rest *= 10n;
    digits += String(rest / denominator);
    rest %= denominator;
  }
  return digits ? `${start}.${digits}` : String(start);
}

const SPOKEN_UNITS = {
  in: ["inch", "inches"], thou: ["thou", "thou"], tenths: ["tenth", "tenths"],
  µm: ["micron", "microns"], mm: ["millimetre", "millimetres"], "°F": ["°F", "degrees Fahrenheit"],
  "°C": ["°C", "degrees Celsius"], lb: ["pound", "pounds"], kg: ["kilo", "kilos"],
};

/* A value as it is said aloud: "two tenths over", "three and a half thou under". */
export function wordsOf(figure, unit, { isDeviation = false } = {}) {
  const number = Number(figure.replace("\u2212", "-").replace(",", "."));
  if (!Number.isFinite(number)) return "";
  if (isDeviation && number === 0) return "on size";
  const plain = figure.replace(/^[+\-\u2212]/, "");
  const [one, many] = SPOKEN_UNITS[unit] ?? [unit, unit];
  const size = Math.abs(number);
  let said = `${plain} ${size === 1 ? one : many}`;
  if (size === 0.5) said = `half a ${one}`;
  else if (plain.endsWith(".5") && size < 100) said = `${plain.slice(0, -2)} and a half ${many}`;
  if (unit === "thou" && size < 1 && size !== 0.5 && /^0?\.\d$/.test(plain)) {
    const tenths = Math.round(size * 10);
    said = tenths === 1 ? "one tenth" : `${tenths} tenths`;
  }
  if (!isDeviation) return number < 0 ? `minus ${said}` : said;
  return `${said} ${number < 0 ? "under" : "over"}`;
}
