/* A text that cannot be taken; the message says why. */

export class Refused extends Error {}
