/* From what was keyed, sent by a gauge or dictated to a value: right, or refused with what
   would be taken; never another value. The bench reads the text once more by its own
   parser, and that one rules; this one answers in the same tick, with the same numbers.

   read(text, {dimension, unit, nominalNm, entry, lastDigits, hundredth}) answers
     {ok: true, value, unit, isSigned, doubt, plain}   SI; temperatures in kelvin
     {ok: false, text}                                 why not, and what is taken
   `entry` is of readings of a set: size, deviation or last-digits; without one there is no
   set. `hundredth` is "mm" where a hundredth can only be 0.01 mm. */

import { typed } from "./gaugetext.js";
import { keyed } from "./keyed.js";
import { Refused } from "./refused.js";
import { isASize, plainReading, refuseGroups, sizeUnit } from "./setreading.js";
import { written } from "./spoken.js";
import { symbolsOf, tidy, unitNamed, unitsNamed } from "./units.js";

const NUMBER = /^([+-]?)\s*(\d[\d.,]*|[.,]\d[\d.,]*)(e[+-]?\d+)?\s*(.*)$/i;
const TIMES_TEN = /(?<=[\d.,])\s*[x×·*]\s*10\s*\^?\s*([+-]?\d+)/gi;
const DOUBT = /±|\+\s*\/\s*-|\+\s*-/;
const BRACKET = /^\(([^()]*)\)\s*([^()]*)$/;
const GROUPED = /^[1-9]\d{0,2},\d{3}$/;
const LONGEST = 100;
const BLANKS = new Set(["", "-", "\u2013", "\u2014"]);
const NEVER_THOUSANDS = new Set(["mm", "cm", "m", "in"]);
const SIZE_UNIT_OF = { thou: "in", tenths: "in", µm: "mm" };
const SIZE_BAND = [0.5, 2.0];
const LARGEST_DEVIATION = 0.2;
const LARGEST_EXPANSION = 2e-4;
const NO_PERCENT = new Set(["length", "temperature", "temperature difference"]);
const NEVER_NEGATIVE = new Set([
  "mass", "time", "density", "volume", "heat capacity", "specific heat", "conductivity",
]);
const EXAMPLES = {
  length: "63.50 mm, 2.480 in, 3.5 thou or 5 µm",
  temperature: "180 C, 355 F or 453 K",
  "temperature difference": "20 K or 36 F",
  mass: "2.3 kg, 450 g or 5 lb",
  pressure: "12 MPa or 15000 psi",
  time: "5 s or 20 min",
  angle: "90 deg",
  volume: "175 cc",
  torque: "12 N m or 471 lb ft",
  force: "2.2 kN or 500 lbf",
  ratio: "0.15",
  fraction: "0.7 or 70 %",
};
/* Words that are said but can be taken in two ways. */
const TWO_WAYS = {
  length: {
    hundredth: "Hundredths are 0.01 mm in one shop and 0.01 in in another.",
    hundredths: "Hundredths are 0.01 mm in one shop and 0.01 in in another.",
    mil: "A mil is 0.001 in to some and a millimetre to others; write thou or mm.",
    mils: "A mil is 0.001 in to some and a millimetre to others; write thou or mm.",
  },
  temperature: {
    "°": "Which degrees? Write C or F behind the number.",
    deg: "Which degrees? Write C or F behind the number.",
    degrees: "Which degrees? Write C or F behind the number.",
  },
};

export function read(text, asked = {}) {
  const usual = { dimension: "length", unit: "", nominalNm: null, entry: "", hundredth: "" };
  const wanted = { ...usual, ...asked };
  wanted.nominal = wanted.nominalNm === null ? null : wanted.nominalNm * 1e-9;
  try {
    return { ok: true, ...parsed(text, wanted) };
  } catch (trouble) {
    if (!(trouble instanceof Refused)) throw trouble;
    return { ok: false, text: `${trouble.message} ${taken(wanted)}`.trim() };
  }
}

/* What a field takes, in words. */
export function taken(wanted = {}) {
  const { dimension = "length", unit = "", nominalNm = null, entry = "" } = wanted;
  const example = EXAMPLES[dimension] ?? symbolsOf(dimension).join(", ");
  if (entry === "last-digits") return "Taken are the last digits, as they show on the gauge.";
  if (nominalNm !== null && unit) return `Taken is +0.5 or -0.5 (${unit}), or a whole size.`;
  return example ? `Taken is ${example}.` : "";
}

function parsed(text, wanted) {
  if (text.length > LONGEST) throw new Refused("That is too long; a value with its unit is short.");
  const plain = tidy(wanted.entry ? ofASet(text, wanted) : written(keyed(text), wanted));
  if (BLANKS.has(plain)) throw new Refused("Nothing stands here.");
  const [valueText, doubtText] = parted(plain.replace(TIMES_TEN, "e$1"));
  const said = numbered(valueText);
  const doubted = doubtText === null ? null : numbered(doubtText);
  if (doubted && !said.word && doubted.word !== "%") said.word = doubted.word;
  const meant = unitMeant(said, wanted);
  const value = valued(said, meant, wanted);
  if (wanted.entry) refuseGroups(keyed(text), meant.symbol);
  const doubt = doubted ? doubtOf(doubted, meant, value, wanted) : null;
  return { value, unit: meant.symbol, isSigned: said.isSigned, doubt, plain };
}

/* A reading of a set: out of what a gauge puts around it, then as the set is entered. */
function ofASet(text, wanted) {
  const number = typed(keyed(text));
  let plain = keyed(written(number, wanted));
  /* Some gauges put a sign before everything, sizes too. */
  if (number !== keyed(text) && isASize(plain, wanted)) plain = plain.slice(1);
  return plainReading(plain, wanted, unitIn);
}

/* The unit that a length of its own names. */
function unitIn(text) {
  return parsed(text, { dimension: "length", unit: "", nominal: null, entry: "" }).unit;
}

function parted(body) {
  let text = body;
  const bracket = BRACKET.exec(body);
  if (bracket && DOUBT.test(bracket[1])) text = `${bracket[1]} ${bracket[2]}`;
  const parts = text.split(DOUBT).map((part) => part.trim());
  if (parts.length === 1) return [text, null];
  if (parts.length > 2 || parts.includes("")) {
    throw new Refused("Write the value, then ±, then its doubt.");
  }
  return parts;
}

function numbered(text) {
  const found = NUMBER.exec(text);
  if (!found) throw new Refused("No number stands at the start.");
  const [, sign, figures, power, word] = found;
  const digits = figures.replace(/[,.]+$/, "") || figures;
  const commas = digits.split(",").length - 1;
  const points = digits.split(".").length - 1;
  if (commas && points) throw new Refused("Both a comma and a point; thousands are not grouped.");
  if (commas + points > 1) throw new Refused("More than one decimal sign.");
  const number = Number(digits.replaceAll(",", ".") + (power ?? ""));
  if (!Number.isFinite(number)) throw new Refused("That is not a finite number.");
  const signed = sign === "-" ? -number : number;
  return { number: signed + 0.0, isSigned: sign !== "", digits, word: word.trim() };
}

function unitMeant(said, { dimension, unit: bare, nominal, entry }) {
  const unit = entry && nominal === null ? sizeUnit(bare) : bare;
  let meant = null;
  if (said.word) {
    meant = unitNamed(said.word, dimension);
    if (!meant) throw new Refused(unitHint(said.word, dimension));
  } else if (dimension === "ratio" || dimension === "fraction") {
    meant = unitNamed("1", dimension);
  } else if (!unit) {
    throw new Refused("No unit was given.");
  } else {
    meant = unitNamed(unit, dimension);
    const size = nominal !== null && !said.isSigned ? SIZE_UNIT_OF[meant?.symbol] : null;
    if (size) meant = unitNamed(size, dimension);
  }
  if (!meant) throw new Refused("The unit of this field is not known here.");
  if (GROUPED.test(said.digits) && !NEVER_THOUSANDS.has(meant.symbol)) {
    const [point, plain] = [said.digits.replace(",", "."), said.digits.replace(",", "")];
    throw new Refused(`Is the comma a decimal sign or a group? Write ${point} or ${plain}.`);
  }
  return meant;
}

function unitHint(word, dimension) {
  const known = TWO_WAYS[dimension]?.[word.toLowerCase()];
  if (known) return known;
  const other = unitsNamed(word)[0];
  if (other) return `${word} is a unit of ${other.dimension}, not of ${dimension}.`;
  if (/\d/.test(word)) return "More than one number; write one number with one unit.";
  return `The unit ${word.slice(0, 40)} is not known; known are ${symbolsOf(dimension).join(", ")}.`;
}

function valued(said, meant, wanted) {
  let value = (said.number + meant.zero) * meant.factor;
  if (wanted.nominal !== null && wanted.dimension === "length") {
    value = fromNominal(said, value, wanted.nominal);
  }
  const hint = rangeHint(value, wanted.dimension);
  if (hint) throw new Refused(hint);
  return value + 0.0;
}

/* A whole size, or nominal plus a signed deviation; never one taken for the other. */
function fromNominal(said, value, nominal) {
  if (said.isSigned) {
    if (Math.abs(value) > LARGEST_DEVIATION * Math.abs(nominal)) {
      throw new Refused("Too far from the nominal for a deviation.");
    }
    return nominal + value;
  }
  if (value === 0.0 && !said.word) return nominal;
  if (!(SIZE_BAND[0] * nominal <= value && value <= SIZE_BAND[1] * nominal)) {
    throw new Refused("Too far from the nominal for a whole size; a deviation needs its sign.");
  }
  return value;
}

function rangeHint(value, dimension) {
  if (!Number.isFinite(value)) return "That is not a finite number.";
  if (dimension === "temperature" && value <= 0.0) return "That is at or below absolute zero.";
  if (dimension === "fraction" && !(value >= 0.0 && value <= 1.0)) {
    return "A fraction lies between 0 and 1, or 0 % and 100 %.";
  }
  if (dimension === "expansion" && Math.abs(value) > LARGEST_EXPANSION) {
    return "No metal grows that much; was e-6 left off, or ppm/K meant?";
  }
  if (NEVER_NEGATIVE.has(dimension) && value < 0.0) return `A ${dimension} is never negative.`;
  return "";
}

function doubtOf(said, meant, value, { dimension }) {
  if (said.isSigned) throw new Refused("A doubt has no sign of its own.");
  if (said.word === "%" && meant.symbol !== "%") {
    if (NO_PERCENT.has(dimension)) throw new Refused("A percent of what?");
    return (Math.abs(value) * said.number) / 100.0;
  }
  if (!said.word) return said.number * meant.factor;
  const kind = dimension === "temperature" ? "temperature difference" : dimension;
  const found = unitNamed(said.word, kind);
  if (!found) throw new Refused(unitHint(said.word, kind));
  if (kind === "temperature difference" && found.factor !== meant.factor) {
    throw new Refused("Two different units; write value and doubt both in C or both in F.");
  }
  return said.number * found.factor;
}
