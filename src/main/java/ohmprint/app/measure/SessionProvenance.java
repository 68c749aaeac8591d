package ohmprint.app.measure;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import ohmprint.app.Version;
import ohmprint.circuit.Dual;
import ohmprint.circuit.InputImpedance;
import ohmprint.circuit.StatedInput;
import ohmprint.files.Sha256;
import ohmprint.impedance.Provenance;
import ohmprint.session.Session;
import ohmprint.session.Take;
import org.jspecify.annotations.Nullable;

/**
 * Where a curve comes from: program, time, input, and each take with its load, its delay and its drift. The files are hashed beside
 * the measurement.
 */
final class SessionProvenance {
    private static final int BUFFER = 1 << 16;

    private final Session session;
    /** SHA-256 of the takes in their order, then of the stimulus file if there is one. */
    private final CompletableFuture<List<String>> fingerprints;

    /** Begins to hash the files of a session. */
    SessionProvenance(Session session) {
        this.session = session;
        List<Path> files =
                new ArrayList<>(session.takes().stream().map(session::path).toList());
        session.stimulusPath().ifPresent(files::add);
        fingerprints = CompletableFuture.supplyAsync(
                () -> files.stream().map(SessionProvenance::sha256).toList());
    }

    /**
     * The origin.
     *
     * @param subject what the session measures
     * @param seen what the takes hold
     * @param used the takes that the curve rests on
     * @throws IOException if a file cannot be read
     */
    Provenance of(DeviceUnderTest subject, AlignedSpectra seen, TakeSet used) throws IOException {
        List<String> hashes = hashes();
        List<Provenance.TakeOrigin> origins = new ArrayList<>();
        for (Take take : session.takes()) {
            AlignedSpectra.Figures figures = seen.of(take);
            origins.add(new Provenance.TakeOrigin(
                    new Provenance.FileOrigin(take.file(), hashes.get(origins.size())),
                    subject.ohm(take.load().ohm()),
                    take.load().isOpen() ? 0 : tolerance(take),
                    take.channel(),
                    take.referenceChannel(),
                    figures.delaySamples(),
                    figures.driftDb(),
                    figures.clockPpm(),
                    !used.holds(take)));
        }
        Provenance.@Nullable FileOrigin stimulus = null;
        if (session.stimulus() != null && session.stimulus().file() != null) {
            stimulus = new Provenance.FileOrigin(session.stimulus().file(), hashes.get(origins.size()));
        }
        return new Provenance(
                Version.current(),
                Instant.now().truncatedTo(ChronoUnit.SECONDS),
                subject == DeviceUnderTest.INPUT
                        ? generator(session.input())
                        : session.input().label(),
                origins,
                stimulus);
    }

    private List<String> hashes() throws IOException {
        try {
            return fingerprints.join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof UncheckedIOException u) {
                throw u.getCause();
            }
            throw e;
        }
    }

    private static String sha256(Path file) {
        MessageDigest digest = Sha256.begun();
        try (InputStream in = Files.newInputStream(file)) {
            byte[] buffer = new byte[(int) Math.min(BUFFER, Math.max(1, Files.size(file)))];
            for (int n; (n = in.read(buffer)) > 0; ) {
                digest.update(buffer, 0, n);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return HexFormat.of().formatHex(digest.digest());
    }

    private static String generator(InputImpedance dual) {
        return dual instanceof StatedInput stated
                ? DeviceUnderTest.ohms(Dual.ohm(stated.ohm())) + " ± " + stated.tolerancePercent() + " %"
                : dual.label();
    }

    private static double tolerance(Take take) {
        return take.load().isMeasured()
                ? 100 * take.load().relativeStandardUncertainty()
                : take.load().tolerancePercent();
    }
}
