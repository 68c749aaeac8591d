package ohmprint.json;

import java.util.List;
import ohmprint.app.library.AddToLibrary;
import ohmprint.app.library.Comparison;
import ohmprint.app.library.ReadLibrary.EntryDetail;
import ohmprint.app.library.Spread;
import ohmprint.library.Entry;
import ohmprint.library.ImportResult;
import ohmprint.library.LibraryHealth;
import ohmprint.library.Link;
import ohmprint.library.Similarity;

/** What the library holds and what is made of it. */
public final class LibraryJson {
    private LibraryJson() {}

    /** A measurement as lists show it. */
    public static JsonObject entry(Entry e) {
        return new JsonObject()
                .put("id", e.id())
                .put("label", e.label())
                .put("measured_at", e.measuredAt())
                .put("maker", e.maker())
                .put("model", e.model())
                .put("serial", e.serial())
                .put("transducer", e.transducer())
                .put("ohm_at_1khz", e.ohmAt1kHz())
                .put("parallel_with_input", e.parallelWithInput())
                .put("route", e.route())
                .put("verdict", e.verdict())
                .put(
                        "findings",
                        e.findings().isEmpty()
                                ? List.of()
                                : List.of(e.findings().split(" ", -1)))
                .put("operator", e.operator())
                .put("note", e.note())
                .put("added_at", e.addedAt())
                .put("superseded_by", e.supersededBy())
                .put("sha256", e.sha256());
    }

    /** The same with the bench that it was measured on. */
    public static JsonObject entryWithBench(Entry e) {
        return entry(e).put("loads", e.loads()).put("input", e.input());
    }

    /** One measurement with its links; the curve is the document that was added. */
    public static JsonObject detail(EntryDetail detail) {
        return entryWithBench(detail.entry())
                .list("links", detail.links(), LibraryJson::link)
                .raw("curve", detail.document().strip());
    }

    /** A link between two measurements. */
    public static JsonObject link(Link link) {
        return new JsonObject()
                .put("kind", link.kind().word())
                .put("from", link.from())
                .put("to", link.to())
                .put("words", link.words())
                .put("by", link.by())
                .put("at", link.at());
    }

    /** A measurement that resembles a curve. */
    public static JsonObject similarity(Similarity like) {
        return entry(like.entry())
                .put("distance", like.distance())
                .put("difference_percent", like.differencePercent())
                .put("bands", like.bands());
    }

    /** What became of a result that was to be added. */
    public static JsonObject added(AddToLibrary.Outcome added) {
        return new JsonObject()
                .put("id", added.id())
                .put("label", added.label())
                .put("new", added.fresh())
                .put("source", added.source())
                .put("notes", added.notes());
    }

    /** Curves laid over each other. */
    public static JsonObject comparison(Comparison comparison) {
        return new JsonObject()
                .list(
                        "curves",
                        comparison.curves(),
                        curve -> new JsonObject()
                                .put("name", curve.name())
                                .put("label", curve.measurement().microphone().label()))
                .list("differences", comparison.differences(), LibraryJson::difference);
    }

    /** Where one curve differs from the first. */
    public static JsonObject difference(Comparison.Difference d) {
        return new JsonObject()
                .put("label", d.label())
                .put("bands_compared", d.bands().size())
                .put("bands_that_differ", d.count())
                .put("assumed", d.assumed())
                .put("warning", d.different())
                .list(
                        "ranges",
                        d.ranges(),
                        r -> band(
                                new JsonObject()
                                        .put("from_hz", r.fromHz())
                                        .put("to_hz", r.toHz())
                                        .put("bands", r.bands()),
                                r.largest()))
                .list("bands", d.bands(), b -> band(new JsonObject(), b).put("differs", b.differs()));
    }

    private static JsonObject band(JsonObject json, Comparison.Difference.Band b) {
        return json.put("frequency_hz", b.hz())
                .put("difference_percent", b.percent())
                .put("difference_low_percent", b.lowPercent())
                .put("difference_high_percent", b.highPercent());
    }

    /** How the units of a model differ. */
    public static JsonObject spread(Spread spread) {
        return new JsonObject()
                .put("maker", spread.maker())
                .put("model", spread.model())
                .list(
                        "units",
                        spread.units(),
                        unit -> new JsonObject().put("id", unit.id()).put("label", unit.label()))
                .list(
                        "bands",
                        spread.bands(),
                        b -> new JsonObject()
                                .put("frequency_hz", b.hz())
                                .put("units", b.units())
                                .put("low_ohm", b.low())
                                .put("median_ohm", b.median())
                                .put("high_ohm", b.high()))
                .put("notes", spread.notes());
    }

    /** What came of taking in a bundle. */
    public static JsonObject imported(ImportResult result) {
        return new JsonObject()
                .put("added", result.added())
                .put("known", result.known())
                .put("links", result.links())
                .put("specifications", result.specifications())
                .put("conflicts", result.conflicts());
    }

    /** Whether a library is damaged. */
    public static JsonObject health(LibraryHealth health) {
        return new JsonObject()
                .put("library", health.library())
                .put("measurements", health.measurements())
                .put("problems", health.problems());
    }
}
