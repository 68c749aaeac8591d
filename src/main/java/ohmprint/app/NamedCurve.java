package ohmprint.app;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import ohmprint.exchange.CurveFormat;
import ohmprint.exchange.CurveJson;
import ohmprint.exchange.ExchangeException;
import ohmprint.impedance.ImpedanceCurve;
import ohmprint.impedance.Measurement;

/**
 * A measurement that a user names: the one way in which use cases read what {@code CURVE} stands for.
 *
 * @param name where it was found, for messages
 * @param measurement what it holds
 */
public record NamedCurve(String name, Measurement measurement) {
    /** Where it is in the folder of a session. */
    public static final String IN_A_SESSION = "result/" + CurveFormat.JSON.file();

    private static final List<String> IN_A_FOLDER = List.of(CurveFormat.JSON.file(), IN_A_SESSION);

    /**
     * Reads a curve.
     *
     * @param reference a {@code curve.json}, the folder of a result, a session's folder with the folder {@code result}, or
     *     {@code library:} and the identifier of a measurement in the library
     * @throws BadInputException if there is none, or it cannot be understood
     * @throws IOException if a file cannot be read
     */
    public static NamedCurve of(String reference) throws BadInputException, IOException {
        Optional<NamedCurve> kept = LibraryReference.read(reference);
        if (kept.isPresent()) {
            return kept.get();
        }
        Path file = file(path(reference));
        Measurement measurement;
        try {
            measurement = CurveJson.read(CurveJson.text(file), file.toString());
        } catch (ExchangeException e) {
            throw new BadInputException(String.valueOf(e.getMessage()), e);
        }
        if (measurement.curve().side() == ImpedanceCurve.Side.INPUT) {
            throw new BadInputException(
                    file + " holds the impedance of a preamplifier's input, not of a microphone; name"
                            + " its curve.csv under input: {curve: …} of a session.yaml");
        }
        return new NamedCurve(file.toString(), measurement);
    }

    /**
     * The file that a reference to files stands for.
     *
     * @throws BadInputException if there is none
     */
    public static Path file(String reference) throws BadInputException {
        return file(path(reference));
    }

    private static Path path(String reference) throws BadInputException {
        try {
            return Path.of(reference);
        } catch (InvalidPathException e) {
            throw new BadInputException(
                    reference + " cannot be a path here; give a curve.json or the folder of a result");
        }
    }

    private static Path file(Path path) throws BadInputException {
        if (!Files.isDirectory(path)) {
            if (!Files.exists(path)) {
                throw new BadInputException(path + " is not there; give a curve.json or the folder of a result");
            }
            return path;
        }
        for (String name : IN_A_FOLDER) {
            if (Files.isRegularFile(path.resolve(name))) {
                return path.resolve(name);
            }
        }
        throw new BadInputException(
                path + " holds no curve.json, nor does its folder result; name the folder of a result");
    }
}
