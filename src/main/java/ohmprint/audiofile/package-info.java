/**
 * Sound files, read and written as streams: memory stays bounded however long a take is.
 *
 * <p>{@link ohmprint.audiofile.AudioFiles} opens any supported file, told apart by content and not by its name.
 *
 * <ul>
 *   <li>WAV: RIFF, RF64 and BW64; plain and extensible headers; integer samples of 1 to 32 bits in containers of 8
 *       (unsigned), 16, 24 or 32 bits; float samples of 32 or 64 bits; chunks of any size, kind and order around them.
 *   <li>AIFF and uncompressed AIFF-C: integer samples of 1 to 32 bits, float samples of 32 or 64 bits.
 *   <li>FLAC: samples of 4 to 32 bits, up to 8 channels, blocks of fixed or varying size, also where the header does not
 *       state a length; the sums of every block and the encoder's sum over all samples must be right.
 * </ul>
 *
 * <p>FLAC is decoded here and not by a library: the one that was used before (jflac-codec) loops for ever on some damaged
 * files, prints on standard output, replaces what is damaged by silence and reads no 32 bits. What would bring a library
 * back: one that is maintained, ends on every input and is exact.
 *
 * <p>Rates and channels outside {@link ohmprint.audiofile.FormatBounds} are refused in every kind of file.
 *
 * <p>An integer sample {@code v} of n bits becomes {@code v / 2^(n−1)} exactly. A sample narrower than its container
 * sits at the container's most significant end, and the bits below it are not looked at. Float samples are taken as
 * they are; NaN and infinity are refused with their position.
 *
 * <p>A frame is {@code blockAlign} bytes long: its samples come first, {@code ceil(n/8)} bytes each, spare bytes last. A
 * data length of 0 or 0xFFFFFFFF was left behind by a recorder that could not go back: the samples then run to the end
 * of the file, except for well-known chunks that end exactly there. A data length of 0 is believed when nothing but
 * chunks follow. Bytes beyond the last whole frame are no samples and are dropped. A file shorter than its header says is
 * refused unless asked for ({@link ohmprint.audiofile.WavReader#openTruncated}). A second data chunk is refused: joining two
 * recordings would put a step between them that is not in the sound. Whatever cannot be read exactly is refused with the
 * reason and a way out.
 *
 * <p>Sources: "Multimedia Programming Interface and Data Specifications 1.0" (1991) for RIFF and WAVE; EBU Tech 3306 and
 * ITU-R BS.2088 for RF64 and BW64; "Audio Interchange File Format AIFF-C" (draft, 1991); RFC 9639 for FLAC (all from memory).
 *
 * <p>This package knows nothing of sound cards, sessions, loads or spectra.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import ohmprint.dsp.SampleSource;
 *
 * try (SampleSource take = AudioFiles.open(file)) {
 *     double[][] block = new double[take.channels()][4096];
 *     int frames = take.read(block, 0, 4096);
 * }
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.audiofile;
