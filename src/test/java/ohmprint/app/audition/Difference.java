package ohmprint.app.audition;

import java.util.Arrays;
import ohmprint.dsp.RealFourier;
import ohmprint.impedance.FrequencyBands;

/** Two records within a band: level of the difference in dB, and the greatest difference of third octaves in dB. */
record Difference(double residualDb, double levelDb) {
    static Difference of(double[] x, double[] truth, double rate, double lowHz, double highHz) {
        RealFourier fourier = RealFourier.ofLength(RealFourier.lengthFor(truth.length));
        double[] a = Arrays.copyOf(x, fourier.length());
        double[] b = Arrays.copyOf(truth, fourier.length());
        fourier.forward(a);
        fourier.forward(b);
        double off = 0;
        double all = 0;
        double worst = 0;
        FrequencyBands bands = FrequencyBands.within(3, lowHz, highHz);
        for (int band = 0; band < bands.size(); band++) {
            int from = (int) Math.ceil(bands.lowerEdge(band) * fourier.length() / rate);
            int to = (int) Math.ceil(bands.upperEdge(band) * fourier.length() / rate);
            double powerA = 0;
            double powerB = 0;
            for (int i = from; i < to; i++) {
                powerA += square(fourier.re(a, i), fourier.im(a, i));
                powerB += square(fourier.re(b, i), fourier.im(b, i));
                off += square(fourier.re(a, i) - fourier.re(b, i), fourier.im(a, i) - fourier.im(b, i));
            }
            all += powerB;
            worst = Math.max(worst, Math.abs(10 * Math.log10(powerA / powerB)));
        }
        return new Difference(10 * Math.log10(off / all), worst);
    }

    private static double square(double re, double im) {
        return re * re + im * im;
    }
}
