/**
 * Use cases: what a user can ask the program to do. Each has a package with the name of its command, and there one class
 * that takes a plain request and returns a plain outcome.
 *
 * <p>A use case reads and writes files and leaves behind either a complete result or nothing. It prints nothing and knows
 * no command line and no page. Here stands what all of them share: the error of bad input, the progress of slow work, a
 * curve named by a file or by its place in the library, the version.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app;
