/**
 * GoldenOutputs of the whole program that are held constant: {@code fixtures/golden/program} stores them, {@code GoldenTest} compares
 * them, {@code scripts/golden} records them anew. Each part goes through the doors alone, the command line and the addresses
 * of the page, so that what lies behind them may change its shape.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.golden;
