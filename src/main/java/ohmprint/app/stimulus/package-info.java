/**
 * The sound for a session, written as a file that any player can play.
 *
 * <p>A file holds silence, one or more copies of one sound with silence between them, and silence again; or, to be played
 * in a loop, one copy with the silence that belongs between two. The copies are equal to the last bit, so that a take tells
 * by their distance how far the clocks of player and recorder are apart, and nothing but the file itself is needed to find
 * them in a take: no clicks or markers are added.
 *
 * <p>In use:
 *
 * <pre>{@code
 * WriteStimulus.run(StimulusRequest.of(file, StimulusRequest.Sound.SWEEP));
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.stimulus;
