/**
 * Files and folders that are written whole, and whether a file is still the one that was read.
 *
 * <p>What appears gets its name in one step: it is written under a hidden name {@code .ohmprint-UUID} in the same folder
 * and then renamed. A link is followed, so that it stays and what it points at is replaced. A program that is killed
 * leaves its hidden name behind, which {@link ohmprint.files.Leftovers} removes later; nothing else is ever removed.
 *
 * <p>Several files cannot be replaced in one step on the file systems that people have: {@link
 * ohmprint.files.AtomicFolder} says what holds instead.
 *
 * <p>In use:
 *
 * <pre>{@code
 * import java.nio.charset.StandardCharsets;
 *
 * AtomicFile.replace(file, "whole or not at all".getBytes(StandardCharsets.UTF_8));
 * }</pre>
 */
@NullMarked
package ohmprint.files;

import org.jspecify.annotations.NullMarked;
