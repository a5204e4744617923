/* What a gauge types around its number: channel, name, filling zeros, end mark. The same
   shapes as the bench's own; a status that says that there is no number is refused, and
   nothing is taken out of the middle of a text. */

import { Refused } from "./refused.js";

const VALUE = "(?<value>[+-]?\\d+(?:[.,]\\d+)?|[+-]?[.,]\\d+)";
const UNIT = '(?<unit>mm|in|inch|"|µm|um|I|M)?';
const UNITS = { mm: "mm", m: "mm", in: "in", inch: "in", '"': "in", i: "in", µm: "µm", um: "µm" };
const SHAPES = [
  new RegExp(`^(?:${VALUE})$`),
  new RegExp(`^(?:${VALUE})\\s*${UNIT}$`, "i"),
  /^\d{2}A(?<value>[+-]\d+[.,]\d+)$/,
  /^\d{2}A(?<value>[+-]\d+[.,]\d+)\s*(?<unit>mm|in|[IM])$/i,
  new RegExp(`^(?:[XYZ]|CH\\s?\\d{1,2}|VAL|DIM)\\s*[:=]?\\s*(?:${VALUE})\\s*${UNIT}$`, "i"),
  new RegExp(`^(?:${VALUE})\\s*${UNIT}\\s*[;#]$`, "i"),
];
const ERRORS = [
  /^\d{2}[B-Z]\d*.*$/,
  /^.*\b(?:ERR(?:OR)?|OVER(?:FLOW| RANGE)?|NO DATA|LOW BAT\w*)\b.*$/i,
  /^(?:-{2,}|\*+|\?+)$/,
];
const FRAMED = /^(?:\d{2}[A-Z].*|(?:CH\s?\d|VAL|DIM|[XYZ]\s*[:=]).*|.*[;#])$/;
const STATUS = /^(?:-{2,}|\*+|\?+|(?:ERR(?:OR)?|OVERFLOW|OVER RANGE|NO DATA|LOW BAT\w*))$/i;

/* Whether a text is one that only a gauge writes. */
export function isFramed(plain) {
  return FRAMED.test(plain) || STATUS.test(plain);
}

/* A text as it was keyed; of one that only a gauge writes, the number in it. */
export function typed(plain) {
  if (STATUS.test(plain)) throw noNumber();
  if (!FRAMED.test(plain)) return plain;
  if (ERRORS.some((pattern) => pattern.test(plain))) throw noNumber();
  for (const shape of SHAPES) {
    const found = shape.exec(plain)?.groups;
    if (!found) continue;
    const unit = UNITS[(found.unit ?? "").toLowerCase()] ?? "";
    return `${withoutZeros(found.value)} ${unit}`.trim();
  }
  throw new Refused("This is not a number as a gauge types it. Key the number alone.");
}

function noNumber() {
  return new Refused("The gauge has no number: look at its display and read again.");
}

/* The zeros that fill a display on the left say nothing. */
function withoutZeros(text) {
  const sign = /^[+-]/.exec(text)?.[0] ?? "";
  const digits = text.slice(sign.length).replace(/^0+/, "");
  return /^\d/.test(digits) ? `${sign}${digits}` : `${sign}0${digits}`;
}
