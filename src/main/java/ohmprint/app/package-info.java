/**
 * Use cases: what a user can ask the program to do, each as one class that takes a plain request and returns a plain
 * outcome.
 *
 * <p>A use case reads and writes files, decides which route the evidence allows, turns what solvers and scans report into
 * findings in words, and leaves behind either a complete result or nothing: files are written into a temporary folder
 * beside the target, which is renamed at the end. It prints nothing and knows no command line and no page.
 */
@org.jspecify.annotations.NullMarked
package ohmprint.app;
