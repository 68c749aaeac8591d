package ohmprint.exchange;

import java.time.DateTimeException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import ohmprint.curve.Provenance;
import ohmprint.curve.Provenance.FileOrigin;
import ohmprint.curve.Provenance.TakeOrigin;

/** Reads the {@code provenance} object of a measurement. */
final class ProvenanceReader {
    private ProvenanceReader() {}

    static Provenance read(JsonPlace p) throws ExchangeException {
        p.withKeys("program_version", "computed_at", "input", "stimulus", "takes");
        Instant computedAt;
        try {
            computedAt = Instant.parse(p.text("computed_at"));
        } catch (DateTimeException e) {
            throw new ExchangeException(
                    p.place() + ".computed_at: \"" + p.text("computed_at")
                            + "\" is no time; write it like 2026-01-31T12:00:00Z",
                    e);
        }
        JsonPlace stimulus = p.at("stimulus");
        List<TakeOrigin> takes = new ArrayList<>();
        for (JsonPlace take : p.list("takes")) {
            takes.add(take(take));
        }
        return new Provenance(
                p.text("program_version"),
                computedAt,
                p.text("input"),
                takes,
                stimulus.isNull() ? null : file(stimulus.withKeys("file", "sha256")));
    }

    private static TakeOrigin take(JsonPlace p) throws ExchangeException {
        p.withKeys(
                List.of("clock_ppm"),
                "file",
                "sha256",
                "load_ohm",
                "load_tolerance_percent",
                "channel",
                "reference_channel",
                "delay_samples",
                "drift_db",
                "left_out");
        boolean open = "open".equals(p.at("load_ohm").node().textValue());
        return new TakeOrigin(
                file(p),
                open ? Double.POSITIVE_INFINITY : p.requiredNumber("load_ohm"),
                p.number("load_tolerance_percent"),
                p.integer("channel"),
                p.at("reference_channel").isNull() ? null : Integer.valueOf(p.integer("reference_channel")),
                p.number("delay_samples"),
                p.number("drift_db"),
                p.has("clock_ppm") ? p.requiredNumber("clock_ppm") : Double.NaN,
                p.flag("left_out"));
    }

    private static FileOrigin file(JsonPlace p) throws ExchangeException {
        return new FileOrigin(p.text("file"), p.text("sha256"));
    }
}
