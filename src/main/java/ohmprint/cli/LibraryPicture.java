package ohmprint.cli;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Locale;
import java.util.function.Function;
import ohmprint.app.BadInputException;
import ohmprint.app.library.PictureKind;
import ohmprint.app.library.WholeFile;
import picocli.CommandLine.Model.OptionSpec;

/** {@code --picture} and {@code --dark}. */
final class LibraryPicture {
    private LibraryPicture() {}

    static OptionSpec option() {
        return CommandText.value("--picture", "FILE", "Write a picture, .svg or .png.");
    }

    static OptionSpec dark() {
        return CommandText.flag("--dark", "The picture for a dim room.");
    }

    /** Writes the picture if one was asked for. */
    static void write(Options options, Function<PictureKind, byte[]> drawing)
            throws UsageException, BadInputException, IOException {
        Path file = options.path("--picture", "the path of a file that ends in .svg or .png");
        if (file == null) {
            if (options.has("--dark")) {
                throw new UsageException("--dark is for a picture; name its file with --picture");
            }
            return;
        }
        String name = file.toString().toLowerCase(Locale.ROOT);
        if (!name.endsWith(".svg") && !name.endsWith(".png")) {
            throw new UsageException("--picture is " + file + "; give a file that ends in .svg or .png");
        }
        WholeFile.replace(file, drawing.apply(new PictureKind(name.endsWith(".svg"), options.has("--dark"))));
    }
}
