/* The units that are known, and how a word finds its own: the same table, the same defining
   factors and the same order of arithmetic as the bench's parser, so that both come to the
   same last bit. A test compares the two word by word. */

const INCH = 0.0254;
const POUND = 0.45359237;
const POUND_FORCE = POUND * 9.80665;
const FAHRENHEIT = 5.0 / 9.0;
const BTU = 1055.05585262;
const DEGREE = 3.141592653589793 / 180.0;

const LENGTHS = [
  ["in", INCH, "\"|''|inch|inches"],
  ["thou", INCH / 1000.0, "thous|thousandth|thousandths"],
  ["tenths", INCH / 10000.0, "tenth"],
  ["mm", 1e-3, "millimetre|millimetres|millimeter|millimeters"],
  ["µm", 1e-6, "micron|microns|micrometre|micrometres|micrometer|micrometers"],
  ["µin", INCH / 1e6, "microinch|microinches|micro-inch"],
  ["cm", 1e-2, "centimetre|centimetres|centimeter|centimeters"],
  ["m", 1.0, "metre|metres|meter|meters"],
];
const TEMPERATURES = [
  ["°C", 1.0, "C|degC|deg C|degrees C|celsius", 273.15],
  ["°F", FAHRENHEIT, "F|degF|deg F|degrees F|fahrenheit", 459.67],
  ["K", 1.0, "kelvin", 0.0],
];
const TABLE = {
  length: LENGTHS,
  temperature: TEMPERATURES,
  "temperature difference": TEMPERATURES.map(([symbol, factor, words]) => [symbol, factor, words]),
  mass: [
    ["kg", 1.0, "kilogram|kilograms|kilo|kilos"],
    ["g", 1e-3, "gram|grams"],
    ["lb", POUND, "lbs|pound|pounds"],
    ["oz", POUND / 16.0, "ounce|ounces"],
  ],
  pressure: [
    ["Pa", 1.0, "N/m²"],
    ["kPa", 1e3, ""],
    ["MPa", 1e6, "N/mm²"],
    ["GPa", 1e9, "kN/mm²"],
    ["bar", 1e5, ""],
    ["psi", POUND_FORCE / INCH ** 2, "lbf/in²"],
    ["ksi", (1e3 * POUND_FORCE) / INCH ** 2, ""],
    ["Msi", (1e6 * POUND_FORCE) / INCH ** 2, "Mpsi"],
  ],
  force: [
    ["N", 1.0, "newton|newtons"],
    ["kN", 1e3, ""],
    ["lbf", POUND_FORCE, ""],
  ],
  torque: [
    ["N·m", 1.0, "Nm|N-m"],
    ["lb·ft", 12.0 * POUND_FORCE * INCH, "lbf ft|ft lb|ft lbf|ft-lb|lb-ft|lbft"],
    ["lb·in", POUND_FORCE * INCH, "lbf in|in lb|in lbf|in-lb|lb-in"],
  ],
  time: [
    ["s", 1.0, "sec|secs|second|seconds"],
    ["min", 60.0, "mins|minute|minutes"],
    ["h", 3600.0, "hr|hrs|hour|hours"],
  ],
  angle: [
    ["°", DEGREE, "deg|degs|degree|degrees"],
    ["rad", 1.0, "radian|radians"],
  ],
  expansion: [
    ["1/K", 1.0, "/K|per K|1/C|/C|per C|/degC|m/m K|m/m/K"],
    ["1/°F", 1.0 / FAHRENHEIT, "/F|per F|/degF|in/in F|in/in/F"],
    ["ppm/K", 1e-6, "ppm/C|ppm per K|ppm per C|µm/m K|µm/m/K|µm/mK|µm/m C|µm/m/C"],
    ["ppm/°F", 1e-6 / FAHRENHEIT, "ppm per F|µin/in F|µin/in/F"],
  ],
  "expansion slope": [
    ["1/K²", 1.0, "/K²|per K²"],
    ["ppm/K²", 1e-6, ""],
    ["ppm/°F²", 1e-6 / FAHRENHEIT ** 2, ""],
  ],
  "heat capacity": [
    ["J/K", 1.0, "J/C"],
    ["kJ/K", 1e3, "kJ/C"],
    ["Btu/°F", BTU / FAHRENHEIT, ""],
  ],
  "specific heat": [
    ["J/(kg·K)", 1.0, "J/kgK|J/kg/K|J/kg C"],
    ["kJ/(kg·K)", 1e3, "kJ/kgK|kJ/kg/K|J/g K|J/gK"],
    ["Btu/(lb·°F)", BTU / (POUND * FAHRENHEIT), "Btu/lb/F|Btu/lbF"],
  ],
  conductivity: [
    ["W/(m·K)", 1.0, "W/mK|W/m/K|W/m C"],
    ["Btu/(h·ft·°F)", BTU / (3600.0 * 12.0 * INCH * FAHRENHEIT), "Btu/h/ft/F|Btu/hr ft F"],
  ],
  density: [
    ["kg/m³", 1.0, ""],
    ["g/cm³", 1e3, "g/cc|kg/l|kg/dm³"],
    ["lb/in³", POUND / INCH ** 3, "lb/cu in"],
  ],
  volume: [
    ["cc", 1e-6, "cm³|ml|ccm"],
    ["in³", INCH ** 3, "cu in|cubic inch|cubic inches"],
    ["l", 1e-3, "litre|litres|liter|liters"],
    ["mm³", 1e-9, ""],
    ["m³", 1.0, ""],
  ],
  "angle per length": [
    ["rad/m", 1.0, ""],
    ["° per 10 thou", DEGREE / (INCH / 100.0), "deg per 10 thou"],
    ["° per 0.25 mm", DEGREE / 2.5e-4, "deg per 0.25 mm"],
    ["°/thou", DEGREE / (INCH / 1000.0), "deg/thou"],
    ["°/mm", DEGREE / 1e-3, "deg/mm"],
  ],
  "turning speed": [
    ["rpm", 1.0 / 60.0, "rev/min|turns/min|1/min"],
    ["Hz", 1.0, "1/s|rev/s"],
  ],
  speed: [
    ["m/min", 1.0 / 60.0, ""],
    ["ft/min", 12.0 * INCH / 60.0, "sfpm|sfm|fpm"],
    ["mm/min", 1e-3 / 60.0, ""],
    ["in/min", INCH / 60.0, "ipm"],
    ["m/s", 1.0, ""],
  ],
  power: [
    ["W", 1.0, "watt|watts"],
    ["kW", 1e3, ""],
    ["hp", 550.0 * 12.0 * INCH * POUND_FORCE, "horsepower"],
  ],
  "volume per time": [
    ["cc/min", 1e-6 / 60.0, "cm³/min"],
    ["in³/min", INCH ** 3 / 60.0, ""],
    ["m³/s", 1.0, ""],
  ],
  "length per force": [
    ["µm/N", 1e-6, ""],
    ["m/N", 1.0, ""],
    ["thou/lbf", INCH / 1000.0 / POUND_FORCE, "thou/lb"],
  ],
  ratio: [
    ["1", 1.0, ""],
    ["thou/in", 1e-3, "thou per in|thou per inch"],
    ["µm/mm", 1e-3, "µm per mm|mm/m"],
  ],
  fraction: [
    ["1", 1.0, ""],
    ["%", 1e-2, "percent|per cent|pct"],
  ],
  rate: [
    ["/min", 1.0 / 60.0, "per min"],
    ["/s", 1.0, "per s"],
  ],
  area: [
    ["mm²", 1e-6, "mm2|sq mm"],
    ["cm²", 1e-4, "cm2|sq cm"],
    ["in²", INCH ** 2, "in2|sq in"],
    ["m²", 1.0, "m2"],
  ],
  "area times angle": [
    ["mm²·°", 1e-6 * DEGREE, "mm2 deg"],
    ["in²·°", INCH ** 2 * DEGREE, "in2 deg"],
    ["m²·rad", 1.0, ""],
  ],
  "time by length": [
    ["s/m", 1.0, "s mm2/cm3"],
    ["s·cm²/cm³", 100.0, "s cm2/cm3"],
  ],
};

const SPELLINGS = new Map([
  ["\u2212", "-"], ["\u2011", "-"], ["\u03bc", "µ"], ["\u00ba", "°"], ["\u02da", "°"],
  ["\u2103", "°C"], ["\u2109", "°F"], ["\u201d", '"'], ["\u201c", '"'], ["\u2033", '"'],
  ["\u22c5", "·"], ["\u2022", "·"], ["\u207b", "-"], ["\u00a0", " "], ["\u2009", " "],
  ["\u202f", " "], ["\u2007", " "], ["\u200a", " "], ["\u200b", ""], ["\ufeff", ""],
]);
const MEANINGLESS = new Map([
  ["·", " "], ["*", " "], ["µ", "u"], ["²", "2"], ["³", "3"], ["(", ""], [")", ""],
]);
const NEVER_FOLDED = new Set(["M", "G", "H", "S"]);

function translated(text, table) {
  return Array.from(text, (letter) => table.get(letter) ?? letter).join("");
}

/* One spelling for what keyboards and pages write in several ways: signs and spaces. */
export function tidy(text) {
  return translated(text, SPELLINGS).trim().split(/\s+/).join(" ");
}

function key(word) {
  const bare = translated(tidy(word), MEANINGLESS).replaceAll("° ", "°");
  const plain = bare.replaceAll("°C", "C").replaceAll("°F", "F").trim().split(/\s+/).join(" ");
  return plain.replaceAll(" /", "/").replaceAll("/ ", "/");
}

const BY_WORD = new Map();
const BY_LOWER = new Map();
export const UNITS = Object.entries(TABLE).flatMap(([dimension, rows]) =>
  rows.map(([symbol, factor, words, zero = 0.0]) => ({
    symbol, dimension, factor, zero, words: words ? words.split("|") : [],
  })),
);
for (const unit of UNITS) {
  for (const word of [unit.symbol, ...unit.words]) {
    for (const [spelling, table] of [[key(word), BY_WORD], [key(word).toLowerCase(), BY_LOWER]]) {
      if (!table.has(spelling)) table.set(spelling, []);
      if (!table.get(spelling).includes(unit)) table.get(spelling).push(unit);
    }
  }
}

function isEvenlyCased(word) {
  const capital = word.charAt(0).toUpperCase() + word.slice(1).toLowerCase();
  return [word.toLowerCase(), word.toUpperCase(), capital].includes(word);
}

/* Every unit that a word can mean, of whatever dimension. */
export function unitsNamed(word) {
  const named = key(word);
  const found = BY_WORD.get(named);
  if (found || NEVER_FOLDED.has(named) || !isEvenlyCased(named)) return found ?? [];
  return BY_LOWER.get(named.toLowerCase()) ?? [];
}

export function unitNamed(word, dimension) {
  return unitsNamed(word).find((one) => one.dimension === dimension) ?? null;
}

export function symbolsOf(dimension) {
  return (TABLE[dimension] ?? []).map(([symbol]) => symbol).filter((symbol) => symbol !== "1");
}
