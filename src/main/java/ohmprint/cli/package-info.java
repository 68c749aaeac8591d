/**
 * The command line: parses options, calls a use case, prints its outcome and sets the exit code.
 *
 * <p>Exit codes are those of {@link ohmprint.cli.ExitCode}. Standard output carries results alone: a summary in words and
 * a small table, or with {@code --json} one JSON object and nothing else. Standard error carries findings, one line each
 * ({@code code: take: message}), usage errors, and a progress bar when the work lasts longer than a second and standard
 * error is a terminal.
 *
 * <p>Text is the same under every default locale: decimal points, no grouping. It is UTF-8, except on a terminal that
 * declares another encoding; characters which that lacks are spelled out, {@code Ω} as {@code ohm}. No colours, ever.
 *
 * <p>A {@link ohmprint.cli.Command} is one file: its options and arguments, each one {@link ohmprint.cli.Parameter} with
 * the {@link ohmprint.cli.ValueFormat} of its text, its words for a reader and its {@link ohmprint.json.JsonObject} for a program.
 * {@link ohmprint.cli.Grammar} makes the parser and the help of them, {@link ohmprint.cli.Options} reads what was given,
 * {@link ohmprint.cli.Shell} runs one and turns what went wrong into {@link ohmprint.cli.ErrorText}.
 *
 * <p>Nothing is computed here, and what a quick run does not need is not loaded: options are declared without
 * annotations, and the classes of the progress bar and of JSON are touched only when used.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.cli;
