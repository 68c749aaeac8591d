package ohmprint.cli;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.FileDescriptor;
import java.io.FileInputStream;
import java.io.FileOutputStream;
import java.io.InputStreamReader;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;
import java.nio.charset.CharsetEncoder;
import java.nio.charset.StandardCharsets;

/**
 * Standard output and standard error in a definite encoding: UTF-8 into files and pipes whatever the locale, and on a
 * terminal what that declares, with characters it lacks spelled out.
 */
final class StandardStreams {
    private StandardStreams() {}

    /** Standard output. */
    static PrintWriter out() {
        return writer(FileDescriptor.out, encoding(1, "stdout.encoding", "sun.stdout.encoding"));
    }

    /** Standard error. */
    static PrintWriter err() {
        return writer(FileDescriptor.err, encoding(2, "stderr.encoding", "sun.stderr.encoding"));
    }

    /** Standard input, in the encoding of the platform. */
    static BufferedReader in() {
        return new BufferedReader(
                new InputStreamReader(new FileInputStream(FileDescriptor.in), Charset.defaultCharset()));
    }

    private static PrintWriter writer(FileDescriptor target, Charset charset) {
        OutputStreamWriter bytes = new OutputStreamWriter(new FileOutputStream(target), charset);
        CharsetEncoder encoder = charset.newEncoder();
        BufferedWriter buffered = new BufferedWriter(bytes);
        return new PrintWriter(
                encoder.canEncode('Ω') && encoder.canEncode('∥') ? buffered : new SpelledOut(buffered, encoder));
    }

    /** The names of the properties differ between Java versions. */
    private static Charset encoding(int descriptor, String... properties) {
        if (Surroundings.isTerminal(descriptor)) {
            for (String property : properties) {
                String name = System.getProperty(property);
                if (name != null && Charset.isSupported(name)) {
                    return Charset.forName(name);
                }
            }
        }
        return StandardCharsets.UTF_8;
    }
}
