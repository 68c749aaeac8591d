/**
 * The validation study: many invented sessions whose truth is known, put through the solvers and through the whole of
 * {@code measure}, and what came out as a page with tables and plots.
 *
 * <p>It lives among the tests because it needs what no user needs: circuits, chance and truth. {@code scripts/validate}
 * runs it; a test runs a small cut of it. A cell is one combination of circuit, loads, drift, noise and route. Everything
 * that is drawn follows from a cell's name and the number of the session, so a cell gives the same figures on every
 * machine and in whatever company it is run.
 *
 * <p>Figures of a cell: the share of the stated 95 % intervals that hold the truth, the root mean square of the relative
 * error of |Z| over the least that is possible (Cramér–Rao, with the priors as information), over what the planner foretells,
 * and the mean error.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.study;
