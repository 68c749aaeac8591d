/** The command line: parses options, calls a use case, prints its outcome and sets the exit code. */
@org.jspecify.annotations.NullMarked
package ohmprint.cli;
