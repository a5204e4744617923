/* One spelling for what keyboards, browsers and scripts write in many: digits, signs and
   spaces. Nothing of the value is touched; what could be a decimal sign as well as a group
   of thousands stays as it is. The same letters are bent as by the bench's own reader. */

const ONE_FOR_ONE = new Map();
for (const letter of "\u2212\u2010\u2011\u2012\u2013\ufe63\uff0d") ONE_FOR_ONE.set(letter, "-");
for (const letter of "\uff0b\ufe62\u207a") ONE_FOR_ONE.set(letter, "+");
for (const letter of "\uff0e\ufe52\u066b") ONE_FOR_ONE.set(letter, ".");
for (const letter of "\uff0c\ufe50") ONE_FOR_ONE.set(letter, ",");
for (const letter of "\u200e\u200f\u061c\u200b\ufeff\u2060\u2066\u2067\u2068\u2069\u202a\u202b\u202c") {
  ONE_FOR_ONE.set(letter, "");
}

export function keyed(text) {
  const plain = Array.from(text, (letter) => plainLetter(ONE_FOR_ONE.get(letter) ?? letter));
  return plain.join("").trim().split(/\s+/).join(" ");
}

function plainLetter(letter) {
  if (/^[\x00-\x7f]*$/.test(letter)) return letter;
  if (/\p{Nd}/u.test(letter)) return digitOf(letter);
  if (/\p{Zs}/u.test(letter)) return " ";
  if (letter >= "\uff01" && letter <= "\uff5e") return letter.normalize("NFKC");
  return letter;
}

/* Decimal digits stand in runs of ten, from zero. */
function digitOf(letter) {
  const code = letter.codePointAt(0);
  let start = code;
  while (/\p{Nd}/u.test(String.fromCodePoint(start - 1))) start -= 1;
  return String((code - start) % 10);
}
