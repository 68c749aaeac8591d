package ohmprint.app.measure;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import ohmprint.dsp.HumLines;
import ohmprint.dsp.TakeIndicators;
import ohmprint.impedance.Finding;
import ohmprint.impedance.FindingCode.Wording;
import ohmprint.impedance.Microphone;

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
        seen.clipping().ifPresent(c -> out.add(Wording.FLAT_TOPS.of(file, c.inWords(), where)));
    }

    private static void dropouts(List<Finding> out, String file, TakeIndicators seen) {
        if (!seen.dropouts().isEmpty()) {
            out.add(Wording.STANDS_STILL.of(
                    file, seen.dropoutMilliseconds(), seen.dropouts().get(0).startFrame() / seen.sampleRate()));
        }
    }

    private static void level(List<Finding> out, String file, TakeIndicators seen) {
        double peakDb = 20 * Math.log10(seen.peak());
        if (peakDb < SPEECHLESS_DBFS) {
            out.add(seen.peak() == 0 ? Wording.SILENT.of(file) : Wording.QUIET.of(file, peakDb, -12 - peakDb));
        }
    }

    /** Takes without silence before the sound, in one finding if it is all of them. */
    private static void silence(List<Finding> out, List<TakeInspection> takes) {
        List<TakeInspection> without =
                takes.stream().filter(t -> t.floor() == null).toList();
        if (without.size() == takes.size()) {
            out.add(Wording.NO_LEAD_IN.of(null, "the takes have"));
        } else {
            without.forEach(t -> out.add(Wording.NO_LEAD_IN.of(t.take().file(), "has")));
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
        out.add(Wording.TONES.of(file, level, lines));
    }

    private static void ratedLoad(List<Finding> out, String file, TakeInspection t, Microphone microphone) {
        Double least = microphone.ratedMinimumLoadOhm();
        double ohm = t.take().load().ohm();
        if (least != null && ohm < least) {
            out.add(Wording.BELOW_RATED_LOAD.of(file, "its ", ohm, least));
        }
    }
}
