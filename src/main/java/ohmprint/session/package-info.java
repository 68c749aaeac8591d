/**
 * A measurement session: a folder with {@code session.yaml} and its takes.
 *
 * <p>The manifest, version 1. Only the keys marked * are required; everything else may be left out.
 *
 * <pre>{@code
 * version: 1                                * format of this file
 * microphone:                               *
 *   label                                   * what the bench calls it
 *   maker, model, serial, notes               text
 *   transducer                                moving-coil | ribbon | condenser | other
 *   rated_impedance_ohm                       rated impedance in ohms
 *   rated_minimum_load_ohm                    smallest load in ohms that the maker allows
 * input:                                    * the recording input with its cable
 *   resistance_ohm                            ohms, or unknown; this or curve is required
 *   resistance_tolerance_percent              default 5
 *   capacitance_pf                            picofarads; default 0
 *   capacitance_tolerance_percent             default 20
 *   curve                                     CSV file of a measured input impedance, see InputCurve
 *   add_phantom_feeds                         true | false (default): the stated impedance lacks the phantom feed
 *                                             resistors, and they were connected
 * stimulus:                                   what was played; may be left out
 *   kind                                    * sweep | noise
 *   file                                      the file that was played
 * takes:                                    * two or more, with two or more different loads
 *   - file                                  * audio file
 *     load_ohm                              * ohms, or open
 *     load_tolerance_percent                  default 1; has no meaning for an open take
 *     load_u_ohm                              instead: standard uncertainty (k = 1) of a measured load in ohms
 *     channel                                 channel of the microphone, from 1; default 1
 *     reference_channel                       channel that hears the source but not the load
 *     note                                    text
 *     time                                    ISO 8601 with offset, such as 2031-05-04T16:20:00+02:00
 * level_drift_percent                         standard uncertainty of the level between takes
 * operator, workshop, notes                   text
 * }</pre>
 *
 * <p>The manifest of an input measurement has the same version and shape, but other parts:
 *
 * <pre>{@code
 * preamplifier:                             * in place of microphone
 *   label                                   * what the bench calls it
 *   maker, model, serial, notes               text
 * generator:                                * what feeds the resistors, in place of input
 *   resistance_ohm                          * its output impedance in ohms, or unknown
 *   resistance_tolerance_percent              default 5
 * takes:                                    * two or more, with two or more different resistors
 *   - file                                  * audio file
 *     series_ohm                            * ohms between generator and input, 0 for none
 *     series_tolerance_percent                default 1; has no meaning without a resistor
 *     series_u_ohm                            instead: standard uncertainty (k = 1) of a measured resistor in ohms
 *     channel, note, time                     as above
 * }</pre>
 *
 * <p>Files are named relative to the folder and lie inside it, so that a session can be moved as a whole; a symbolic link
 * inside the folder may point elsewhere.
 *
 * <p>Reading is strict. An unknown or repeated key, a value of the wrong kind, a missing file, fewer than two different
 * loads, a channel that the file does not have, or takes of different sample rates are errors; all that can be found are
 * reported together in one {@link ohmprint.yaml.ManifestException}, each with file and line. A load may be repeated
 * as long as the takes have two or more different loads between them: the repeat shows how far the level drifted. With
 * only one load, a repeat says nothing about the source impedance. A version 1 manifest stays readable for ever.
 *
 * <p>This package knows the files of a session but not how audio is stored: {@link ohmprint.session.AudioProbe} tells it
 * the channels and sample rate of a file. It knows nothing of estimation.
 *
 * <p>In use:
 *
 * <pre>{@code
 * Session session = SessionReader.readManifest(folder);
 * for (Take take : session.takes()) {
 *     double ohm = take.load().ohm();
 * }
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.session;
