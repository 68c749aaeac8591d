package ohmprint.report;

/** A picture that stands for itself, in the one size of such pictures. */
interface WholePicture extends Chart {
    @Override
    default int width() {
        return Picture.WIDTH;
    }

    @Override
    default int height() {
        return Picture.HEIGHT;
    }
}
