package ohmprint.app.workspace;

import java.util.List;
import ohmprint.app.record.TakeSpectrum;

/**
 * What a recording shows by itself.
 *
 * @param file its name
 * @param seconds its length
 * @param peakDbfs highest sample, dBFS
 * @param noiseDbfs level of the silence before the sound, dBFS; NaN without one
 * @param findings what was noticed
 * @param spectrum levels per band
 */
public record InspectionView(
        String file,
        double seconds,
        double peakDbfs,
        double noiseDbfs,
        List<FindingView> findings,
        TakeSpectrum spectrum) {}
