/**
 * Text files that people write, read strictly: a subset of YAML with the place of every value.
 *
 * <p>A file is one mapping in UTF-8. {@link ohmprint.yaml.Section} is a mapping with the keys that it may hold; each
 * getter returns the value or null, and what is wrong goes to {@link ohmprint.yaml.Problems}: an unknown key (with
 * the one that was probably meant), a key given twice, a value of the wrong kind, a number that can be read in two ways.
 * All that can be found are reported together in one {@link ohmprint.yaml.ManifestException}, a line each: {@code
 * file:line: what, and what to do}. Tags and aliases are refused: nothing is turned into objects, and a short text cannot
 * stand for an endless one.
 *
 * <p>The parser is SnakeYAML's, for YAML 1.1. An engine for YAML 1.2 by the same authors (snakeyaml-engine 2.9) was tried:
 * of 60 000 session manifests with one to three random changes 2 200 came out otherwise, more than half of them accepted
 * where they are refused now, a sixth read as something else, the rest refused in other words or at another line. A
 * file that was written for one version must read the same in the next. What would reopen this: a new version of the
 * manifest, which may state its own rules.
 *
 * <p>Nothing here knows what the keys mean.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.nio.file.Files;
 * import java.util.List;
 *
 * Problems problems = new Problems("room.yaml");
 * Section room = Section.root(Files.readString(file), List.of("name", "temperature_c"), problems);
 * Double celsius = room.number("temperature_c", "°C", "a temperature in degrees Celsius");
 * problems.throwIfAny(); // all of them, each with its line and what to do
 * }</pre>
 */
@org.jspecify.annotations.NullMarked
package ohmprint.yaml;
