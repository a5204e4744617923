/* Names that a device makes up by itself. Plain http on the shop's network is no secure
   context, so there is no randomUUID; getRandomValues is there everywhere. */

const LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"; /* none that are taken for another */

/* 128 random bits as 32 hexadecimal digits: the id of one entry. */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/* A short name of a device, a tab or a set of readings. */
export function newName(length = 8) {
  const bytes = crypto.getRandomValues(new Uint8Array(length * 2));
  const pairs = Array.from({ length }, (_, at) => bytes[2 * at] * 256 + bytes[2 * at + 1]);
  return pairs.map((pair) => LETTERS[pair % LETTERS.length]).join("");
}
