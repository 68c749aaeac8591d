// What a plot over frequency is made of: lines with bands, brought onto one axis, and the ranges and marks of the axes.

/** Frequencies that the axis names. Source: the decades of IEC 61260-1, split as on the program's pictures. */
export const NAMED_HZ = [20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000];

/** How a frequency is named on the axis. */
export const axisHz = (hz) => (hz >= 1000 ? `${hz / 1000}k` : String(hz));

/** The line of a curve as the server tells it: |Z| with its 95 % band, bounds where nothing else is known. */
export function magnitudeLine(curve, more = {}) {
  const b = curve.bands;
  const ends = (i, sign) => {
    if (b.status[i] === "interval") return (sign < 0 ? b.magnitude_low_ohm : b.magnitude_high_ohm)[i];
    const u = b.magnitude_u95_ohm[i];
    return b.magnitude_ohm[i] === null || u === null ? null : b.magnitude_ohm[i] + sign * u;
  };
  return { label: curve.label, hz: b.frequency_hz, value: b.magnitude_ohm,
    low: b.frequency_hz.map((_, i) => ends(i, -1)), high: b.frequency_hz.map((_, i) => ends(i, 1)), ...more };
}

/** The phase of a curve with its 95 % band, degrees. */
export function phaseLine(curve, more = {}) {
  const b = curve.bands;
  const end = (i, sign) => (b.phase_deg[i] === null || b.phase_u95_deg[i] === null ? null : b.phase_deg[i] + sign * b.phase_u95_deg[i]);
  return { label: curve.label, hz: b.frequency_hz, value: b.phase_deg,
    low: b.phase_deg.map((_, i) => end(i, -1)), high: b.phase_deg.map((_, i) => end(i, 1)), ...more };
}

/** Neighbouring grids hold the same midband to many digits; this makes one key of it. */
const key = (hz) => hz.toPrecision(7);

/**
 * Lines on different grids side by side: `{hz, columns}`, each column as long as `hz`. A value that a line does not have at
 * a frequency of another is `undefined`, over which a plot draws on; `null` is a gap of the line itself.
 */
export function aligned(lines, parts) {
  const at = new Map();
  for (const line of lines) for (const hz of line.hz) if (!at.has(key(hz))) at.set(key(hz), hz);
  const hz = [...at.values()].sort((a, b) => a - b);
  const place = new Map(hz.map((f, i) => [key(f), i]));
  const columns = [];
  for (const line of lines) {
    for (const part of parts(line)) {
      const column = new Array(hz.length).fill(undefined);
      line.hz.forEach((f, i) => { column[place.get(key(f))] = part[i] ?? null; });
      columns.push(column);
    }
  }
  return { hz, columns };
}

/** Least and greatest of everything that lines show, or null when they show nothing. */
export function extent(lines) {
  let low = Infinity;
  let high = -Infinity;
  for (const line of lines) {
    for (const part of [line.value, line.low, line.high]) {
      for (const v of part ?? []) {
        if (v === null || v === undefined || !Number.isFinite(v)) continue;
        low = Math.min(low, v);
        high = Math.max(high, v);
      }
    }
  }
  return low <= high ? [low, high] : null;
}

/** The range of an axis in ohms: at least a factor of three, so that a flat curve looks flat. Logarithmic. */
export function logRange(lines) {
  const held = extent(lines.map((line) => ({
    value: (line.value ?? []).map((v) => (v > 0 ? v : null)),
    low: (line.low ?? []).map((v, i) => (v > 0 ? Math.max(v, (line.value?.[i] ?? v) / 10) : null)),
    high: line.high,
  })));
  if (!held) return [100, 1000];
  const middle = Math.sqrt(held[0] * held[1]);
  const ratio = Math.max(Math.sqrt(3), Math.sqrt(held[1] / held[0]) * 1.12);
  return [middle / ratio, middle * ratio];
}

/** The range of a linear axis that holds zero and everything, a little wider. */
export function linearRange(lines, least) {
  const held = extent(lines) ?? [-least, least];
  const room = Math.max(least, held[1], -held[0]) * 0.08;
  return [Math.min(-least, held[0]) - room, Math.max(least, held[1]) + room];
}

/** Values that a logarithmic axis names: 1, 2, 5 of each decade, or all digits where the range is short. */
export function logSplits(low, high) {
  const digits = high / low > 12 ? [1, 2, 5] : [1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9];
  const out = [];
  for (let decade = Math.floor(Math.log10(low)); decade <= Math.ceil(Math.log10(high)); decade++) {
    for (const digit of digits) {
      const v = Number((digit * 10 ** decade).toPrecision(3));
      if (v >= low && v <= high) out.push(v);
    }
  }
  return out;
}

/** The index of the frequency next to `hz` on a logarithmic scale. */
export function nearest(all, hz) {
  let best = 0;
  all.forEach((f, i) => {
    if (Math.abs(Math.log(f / hz)) < Math.abs(Math.log(all[best] / hz))) best = i;
  });
  return best;
}

/** How a curve differs from another, in percent of that, as a line; dots mark the bands that differ. */
export function differenceLine(difference, more) {
  const of = (key) => difference.bands.map((b) => b[key]);
  return { hz: of("frequency_hz"), value: of("difference_percent"), low: of("difference_low_percent"), high: of("difference_high_percent"), dots: of("differs"), ...more };
}
