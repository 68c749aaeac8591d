package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import ohmprint.curve.Finding;
import ohmprint.curve.FindingCode;
import ohmprint.curve.Microphone;
import ohmprint.signal.HumLines;
import ohmprint.signal.TakeIndicators;

/** What each take shows by itself, in words. */
public final class TakeFindings {
    /** Mains hum worth a word: its level over that of the sounding part, dB. */
    private static final double HUM_AUDIBLE_DB = -60;

    private static final double SPEECHLESS_DBFS = -60;

    private TakeFindings() {}

    /** Findings about all takes, in their order. */
    public static List<Finding> of(List<TakeInspection> takes, Microphone microphone) {
        List<Finding> out = new ArrayList<>();
        for (TakeInspection t : takes) {
            String file = t.take().file();
            clipping(out, file, t.indicators(), "");
            if (t.reference() != null) {
                clipping(out, file, t.reference(), " on its reference channel");
            }
            dropouts(out, file, t.indicators());
            level(out, file, t.indicators());
            hum(out, file, t);
            ratedLoad(out, file, t, microphone);
        }
        silence(out, takes);
        return out;
    }

    private static void clipping(List<Finding> out, String file, TakeIndicators seen, String where) {
        seen.clipping()
                .ifPresent(c -> out.add(new Finding(
                        FindingCode.CLIPPED, file, c.inWords() + where + "; lower the level and record it again")));
    }

    private static void dropouts(List<Finding> out, String file, TakeIndicators seen) {
        if (!seen.dropouts().isEmpty()) {
            out.add(new Finding(
                    FindingCode.DROPOUT,
                    file,
                    String.format(
                            Locale.ROOT,
                            "stands still for %.1f ms in all, first at %.3f s; record it again with a larger buffer",
                            seen.dropoutMilliseconds(),
                            seen.dropouts().get(0).startFrame() / seen.sampleRate())));
        }
    }

    private static void level(List<Finding> out, String file, TakeIndicators seen) {
        double peakDb = 20 * Math.log10(seen.peak());
        if (peakDb < SPEECHLESS_DBFS) {
            out.add(new Finding(
                    FindingCode.LOW_SNR,
                    file,
                    seen.peak() == 0
                            ? "is silent; check the channel and the cable and record it again"
                            : String.format(
                                    Locale.ROOT,
                                    "peaks at %.1f dBFS only; raise the gain by about %.0f dB and record it again",
                                    peakDb,
                                    -12 - peakDb)));
        }
    }

    /** Takes without silence before the sound, in one finding if it is all of them. */
    private static void silence(List<Finding> out, List<TakeInspection> takes) {
        List<TakeInspection> without =
                takes.stream().filter(t -> t.floor() == null).toList();
        String advice = " no silent lead-in of 0.3 s or more, so the noise is judged by the scatter alone; leave half a"
                + " second of silence before the sound";
        if (without.size() == takes.size()) {
            out.add(new Finding(FindingCode.LOW_SNR, null, "the takes have" + advice));
        } else {
            without.forEach(
                    t -> out.add(new Finding(FindingCode.LOW_SNR, t.take().file(), "has" + advice)));
        }
    }

    private static void hum(List<Finding> out, String file, TakeInspection t) {
        HumLines hum = t.hum();
        if (hum == null || hum.lines().isEmpty()) {
            return;
        }
        double sounding = 20 * Math.log10(t.indicators().rms());
        double power = hum.lines().stream()
                .mapToDouble(l -> Math.pow(10, l.levelDbfs() / 10))
                .sum();
        double level = 10 * Math.log10(power);
        if (level - sounding < HUM_AUDIBLE_DB) {
            return;
        }
        String lines = hum.lines().stream()
                .sorted((a, b) -> Double.compare(b.levelDbfs(), a.levelDbfs()))
                .limit(4)
                .map(l -> String.format(Locale.ROOT, "%.1f Hz", l.hz()))
                .collect(Collectors.joining(", "));
        out.add(new Finding(
                FindingCode.HUM,
                file,
                String.format(
                        Locale.ROOT,
                        "hum at %.0f dBFS (%s); what lies next to it weighs little: move microphone and cable away"
                                + " from transformers",
                        level,
                        lines)));
    }

    private static void ratedLoad(List<Finding> out, String file, TakeInspection t, Microphone microphone) {
        Double least = microphone.ratedMinimumLoadOhm();
        double ohm = t.take().load().ohm();
        if (least != null && ohm < least) {
            out.add(new Finding(FindingCode.RATED_LOAD, file, "its " + RatedLoad.below(ohm, least)));
        }
    }
}
