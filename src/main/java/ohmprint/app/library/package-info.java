/**
 * What a workshop does with its library: add results, list and find, compare curves, the spread of a model, likeness,
 * bundles for other workshops, and what a keeper needs.
 *
 * <p><strong>Difference of two curves.</strong> Both are brought onto the coarser grid, ln|Z| and its uncertainty
 * interpolated over ln f between neighbouring bands. In each band where both have a value,
 * {@code d = ln|Z₂| − ln|Z₁|} and {@code u² = u₁² + u₂²} when the two are independent. Where loads and input were the very
 * same, a cause among them that bears one name in both is the same error and only its difference counts:
 * {@code u² = o₁² + o₂² + ‖s₁ − s₂‖²} with the vectors s of what one standard deviation of each cause does to ln|Z|, with its
 * sign, and o the rest. This is done only when the user says so, because equal values in a session do not make equal
 * resistors, and only where both curves hold their causes. The degrees of freedom of u are those of Welch and Satterthwaite
 * (JCGM 100:2008, G.4.1). A band differs when its p-value {@code 2(1 − F(|d|/u))}, F that of Student's t, passes the Benjamini–Hochberg rule at 5 % over all bands: of the bands called different no more
 * than one in twenty is so by chance, also under the positive dependence that common causes bring. Source: Benjamini and
 * Hochberg 1995, J. R. Statist. Soc. B 57, 289; Benjamini and Yekutieli 2001, Ann. Statist. 29, 1165.
 *
 * <p><strong>Spread of a model.</strong> Of each unit the newest current measurement; in each band the median and the 5 %
 * and 95 % quantiles of ln|Z| at the plotting position p(n + 1) (type 6 of Hyndman and Fan 1996, Am. Stat. 50, 361), which
 * with fewer than 19 units are the least and the greatest value.
 *
 * <p><strong>Bundle.</strong> A zip file: {@code bundle.json} says what is in it, {@code measurements/ID/} holds
 * {@code curve.json}, {@code curve.csv} and, where there is a phase, {@code curve.s1p}, {@code specifications/} holds YAML, and
 * {@code SHA256SUMS} the checksum of every file. Nothing of it is unpacked onto the disk. A bundle is checked as a whole
 * before anything of it is taken in.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.util.Map;
 * import ohmprint.library.EntryList;
 * import ohmprint.library.Filter;
 *
 * LibraryConnection place = new LibraryConnection(file.toString(), Map.of());
 * EntryList entries = ReadLibrary.list(place, Filter.ofModel(null, "R-1"), 20);
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app.library;
