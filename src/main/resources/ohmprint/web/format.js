// Numbers to words: units, prefixes, and no more digits than the uncertainty leaves.

const THIN = "\u202f";
const MINUS = "\u2212";

/** A number with a fixed count of decimals, with a true minus. */
export function fixed(value, decimals) {
  if (value === null || value === undefined || !Number.isFinite(value)) return "unknown";
  const text = value.toFixed(decimals);
  return Number(text) < 0 ? MINUS + text.slice(1) : text.replace("-", "");
}

/** By digits, made once: making one takes longer than using it. */
const FORMATS = new Map();

/** A number to so many significant digits, without an exponent and without idle zeros. */
export function significant(value, digits = 3) {
  if (value === null || value === undefined || !Number.isFinite(value)) return "unknown";
  if (!FORMATS.has(digits)) FORMATS.set(digits, new Intl.NumberFormat("en", { maximumSignificantDigits: digits, useGrouping: false }));
  return FORMATS.get(digits).format(Number(value.toPrecision(digits))).replace("-", MINUS);
}

/** Ohms with prefix: 330 Ω, 4.7 kΩ, no resistor. */
export function ohms(value, digits = 3) {
  if (value === "open" || value === Infinity) return "no resistor";
  if (value === "unknown" || value === null || value === undefined) return "unknown";
  const big = Math.abs(value);
  if (big >= 1e6) return `${significant(value / 1e6, digits)}${THIN}MΩ`;
  if (big >= 1e3) return `${significant(value / 1e3, digits)}${THIN}kΩ`;
  return `${significant(value, digits)}${THIN}Ω`;
}

/** Ohms as a field shows them, to be edited: plain digits or the word. */
export const ohmsField = (value) => (typeof value === "number" ? String(value) : value ?? "");

/** A frequency: 50 Hz, 1.26 kHz. */
export function hertz(value, digits = 3) {
  return value >= 1000 ? `${significant(value / 1000, digits)}${THIN}kHz` : `${significant(value, digits)}${THIN}Hz`;
}

/** How many decimals an uncertainty leaves: two significant digits of it. */
export function decimals(uncertainty) {
  if (!(uncertainty > 0) || !Number.isFinite(uncertainty)) return 1;
  return Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(uncertainty))));
}

/** Value with its 95 % uncertainty: "312.4 ± 1.8 Ω". */
export function plusMinus(value, u95, unit) {
  if (value === null || value === undefined) return "unknown";
  const gap = unit === "°" ? "" : THIN;
  if (u95 === null || u95 === undefined) return `${significant(value, 4)}${gap}${unit}`;
  const places = decimals(u95);
  return `${fixed(value, places)} ± ${fixed(u95, places)}${gap}${unit}`;
}

/** An impedance of a band in words, whatever is known of it. */
export function bandOhms(bands, i) {
  if (bands.status[i] === "interval") return `between ${ohms(bands.magnitude_low_ohm[i])} and ${ohms(bands.magnitude_high_ohm[i])}`;
  if (bands.magnitude_ohm[i] === null) return "not determined";
  return plusMinus(bands.magnitude_ohm[i], bands.magnitude_u95_ohm[i], "Ω");
}

/** Decibels with sign when `signed`. */
export function decibels(value, places = 1, unit = "dB", signed = false) {
  if (value === null || value === undefined) return "unknown";
  return `${signed && value > 0 ? "+" : ""}${fixed(value, places)}${THIN}${unit}`;
}

/** Percent. */
export const percent = (value, digits = 2) => (value === null || value === undefined ? "unknown" : `${significant(value, digits)}${THIN}%`);

/** Seconds as 4.2 s or 3 min 20 s. */
export function seconds(value) {
  if (value === null || value === undefined) return "unknown length";
  if (value < 60) return `${significant(value, 2)}${THIN}s`;
  return `${Math.floor(value / 60)}${THIN}min ${Math.round(value % 60)}${THIN}s`;
}

/** Date and time of day in the browser's zone, unmistakable: 2031-05-04 14:07. */
export function dateTime(iso) {
  if (!iso) return "unknown time";
  const t = new Date(iso);
  if (Number.isNaN(t.getTime())) return String(iso);
  const two = (n) => String(n).padStart(2, "0");
  return `${t.getFullYear()}-${two(t.getMonth() + 1)}-${two(t.getDate())} ${two(t.getHours())}:${two(t.getMinutes())}`;
}

/** Only the time of day. */
export const timeOfDay = (iso) => (iso ? dateTime(iso).split(" ")[1] ?? "" : "");

/** How microphones turn sound into a voltage: what a session says, and the words for it. */
export const TRANSDUCERS = [["moving-coil", "moving coil"], ["ribbon", "ribbon"], ["condenser", "condenser"], ["other", "other"]];

/** The words for one of them; null for none. */
export const transducer = (said) => (said ? TRANSDUCERS.find(([one]) => one === said)?.[1] ?? said : null);

/** "1 take", "3 takes". */
export const count = (n, one, many = one + "s") => `${n} ${n === 1 ? one : many}`;

/** A sentence of the program with minus signs before its numbers instead of hyphens; names of files stay as they are. */
export const withMinus = (sentence) => sentence.replace(/(^|[\s(])-(?=\d)/g, `$1${MINUS}`);
