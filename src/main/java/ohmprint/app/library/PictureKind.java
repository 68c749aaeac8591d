package ohmprint.app.library;

/**
 * How a picture is wanted.
 *
 * @param svg SVG instead of PNG
 * @param dark light ink on a dark ground
 */
public record PictureKind(boolean svg, boolean dark) {}
