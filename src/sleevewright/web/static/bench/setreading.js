/* How one reading of a set was keyed: whole sizes, deviations that are bare numbers, or the
   last digits only. The same rules as the bench's own, by whole numbers without end. Where
   a text can be read in two ways it is refused.

   plainReading(text, {entry, unit, nominalNm, lastDigits, sign}, unitIn) answers the text as the reader
   of values takes it (a sign means over the nominal), or throws Refused; `unitIn` is asked
   for the unit that a text names. */

import { Refused } from "./refused.js";

const NM = {
  in: 25_400_000n, thou: 25_400n, tenths: 2_540n, mm: 1_000_000n, µm: 1_000n,
  cm: 10_000_000n, m: 1_000_000_000n,
};
const SIZE_UNIT = { thou: "in", tenths: "in", µm: "mm" };
const FINE = new Set(["thou", "tenths", "µm"]);
const CLOSE = 3_000_000n; /* nm from the nominal within which a bare number may be a size */

/* Of what the keyed digits count through once: farther off, two sizes are not told apart. */
const SURE = [2n, 5n];
const GROUPS = /^[+-]?\s*[1-9]\d{0,2}\.\d{3}(?!\d)/;

/* Nobody reads a thousandth of these units: three digits behind a point may be thousands. */
export function refuseGroups(keyedText, unit) {
  if (!FINE.has(unit) || !GROUPS.test(keyedText)) return;
  throw new Refused("Is the point a decimal sign or a group of thousands? Write fewer digits.");
}

export function sizeUnit(unit) {
  return SIZE_UNIT[unit] ?? unit;
}

/* Whether a gauge's number with a plus is a whole size by the way the set is entered. */
export function isASize(plain, { entry, unit, nominalNm }) {
  if (entry !== "size" || !/^\+[\d.,]/.test(plain)) return false;
  if (nominalNm === null) return true;
  const word = plain.replace(/^[+0-9., ]+/, "") || sizeUnit(unit);
  const [digits, scale] = scaled(plain.slice(1));
  const size = digits * (NM[word] ?? 0n);
  const nominal = BigInt(nominalNm) * scale;
  return 2n * size >= nominal && 2n * nominal >= size;
}

export function plainReading(plain, wanted, unitIn) {
  const { entry, unit, nominalNm, lastDigits, sign } = wanted;
  if (nominalNm === null) return plain;
  if (entry === "deviation") return turned(asDeviation(plain, unit, BigInt(nominalNm), unitIn), sign);
  if (entry === "last-digits") return asLastDigits(plain, unit, BigInt(nominalNm), lastDigits);
  return turned(plain, sign);
}

/* Of a dial that runs backwards the sign is turned: what is taken is over the nominal. */
function turned(plain, sign) {
  if (sign !== "plus-smaller" || !/^[+-]/.test(plain)) return plain;
  return `${plain[0] === "+" ? "-" : "+"}${plain.slice(1)}`;
}

/* A number without a sign is over the nominal, unless it may as well be a whole size. */
function asDeviation(plain, unit, nominal, unitIn) {
  if (["+", "-", ""].includes(plain.slice(0, 1))) return plain;
  const found = /^([\d.,]+)\s*(.*)$/.exec(plain);
  if (!found) return plain;
  if (found[2]) return FINE.has(unitIn(plain)) ? `+${plain}` : plain;
  const [digits, scale] = scaled(plain);
  const off = digits * NM[sizeUnit(unit)] - nominal * scale;
  if (digits !== 0n && abs(off) <= CLOSE * scale) {
    throw new Refused(`It could be a deviation or a whole size. Write +${plain} for over the `
      + `nominal, or ${plain} ${sizeUnit(unit)} for the size.`);
  }
  return `+${plain}`;
}

/* The size whose last digits are those keyed and that lies nearest to the nominal. */
function asLastDigits(plain, unit, nominal, lastDigits) {
  if (!/^\d+$/.test(plain)) {
    if (/^[+-]/.test(plain)) {
      throw new Refused("In this set only the last digits are keyed, as they show on the gauge.");
    }
    return plain;
  }
  if (!lastDigits) throw new Refused("How many digits the gauge shows is not known here.");
  const scale = 10n ** BigInt(lastDigits); /* everything in parts of the last digit's place */
  const step = NM[sizeUnit(unit)];
  const turn = step * 10n ** BigInt(plain.length);
  const at = nominal * scale;
  const low = (at / turn) * turn + BigInt(plain) * step;
  let best = low - turn;
  for (const size of [low, low + turn]) if (abs(size - at) < abs(best - at)) best = size;
  if (abs(best - at) * SURE[1] > turn * SURE[0]) {
    throw new Refused(`Key ${plain.length + 1} digits, so that it is told which size is meant.`);
  }
  return `${decimal(best / step, lastDigits)} ${sizeUnit(unit)}`;
}

function decimal(count, places) {
  const sign = count < 0n ? "-" : "";
  const digits = String(count < 0n ? -count : count).padStart(places + 1, "0");
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

/* The number at the start of a text as digits and the power of ten that they are over. */
function scaled(text) {
  const [whole, part = ""] = (/^\d*[.,]?\d*/.exec(text)?.[0] ?? "").split(/[.,]/);
  return [BigInt(`${whole}${part}` || "0"), 10n ** BigInt(part.length)];
}

function abs(number) {
  return number < 0n ? -number : number;
}
