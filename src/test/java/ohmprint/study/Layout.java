package ohmprint.study;

/** How the bins of a cell lie in the bands. */
enum Layout {
    /** Twelve bins in one twelfth-octave band of every octave, so that a session costs little and spans the whole range. */
    SPREAD,
    /** Bins at even distances in all twelfth-octave bands of one decade, as the planner counts them. */
    EVEN
}
