// Finding one's way in the bands of a curve.
import { nearest } from "./graph-lines.js";

/** Index of the band nearest to a frequency on a log scale; -1 without a curve. */
export const bandAt = (curve, hz) => (curve?.bands?.frequency_hz?.length ? nearest(curve.bands.frequency_hz, hz) : -1);
