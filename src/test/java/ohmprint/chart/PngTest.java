package ohmprint.chart;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.nio.ByteBuffer;
import java.util.Random;
import java.util.zip.Inflater;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Against the decoder of the Java runtime. */
class PngTest {
    @Test
    void anotherDecoderReadsBackEveryPixel() throws Exception {
        BufferedImage image = new BufferedImage(301, 207, BufferedImage.TYPE_INT_RGB);
        Random random = new Random(4);
        for (int y = 0; y < image.getHeight(); y++) {
            for (int x = 0; x < image.getWidth(); x++) {
                image.setRGB(x, y, random.nextInt(1 << 24));
            }
        }
        BufferedImage back = ImageIO.read(new ByteArrayInputStream(Png.encode(image)));

        assertThat(back.getWidth()).isEqualTo(301);
        assertThat(back.getHeight()).isEqualTo(207);
        for (int y = 0; y < image.getHeight(); y++) {
            for (int x = 0; x < image.getWidth(); x++) {
                assertThat(back.getRGB(x, y)).isEqualTo(image.getRGB(x, y));
            }
        }
    }

    /** RFC 1950: the decompressor of the runtime compares the checksum when it comes to the end. */
    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 5, 207, 3000})
    void theStreamIsWholeAndItsChecksumRight(int height) throws Exception {
        BufferedImage image = new BufferedImage(40, height, BufferedImage.TYPE_INT_RGB);
        Random random = new Random(height);
        for (int y = 0; y < height; y++) {
            for (int x = 0; x < 40; x++) {
                image.setRGB(x, y, random.nextInt(1 << 24));
            }
        }
        byte[] png = Png.encode(image);
        int at = 8 + 25;
        ByteBuffer bytes = ByteBuffer.wrap(png);
        Inflater inflater = new Inflater();
        inflater.setInput(png, at + 8, bytes.getInt(at));
        byte[] rows = new byte[height * 121 + 1];

        int n = 0;
        while (!inflater.finished() && !inflater.needsInput()) {
            n += inflater.inflate(rows, n, rows.length - n);
        }

        assertThat(inflater.finished()).isTrue();
        assertThat(inflater.getRemaining()).isZero();
        assertThat(n).isEqualTo(height * 121);
        assertThat(Integer.toUnsignedLong(inflater.getAdler()))
                .isEqualTo(Integer.toUnsignedLong(bytes.getInt(at + 4 + bytes.getInt(at))));
    }

    @Test
    void aPictureWithTransparencyIsRefused() {
        assertThatThrownBy(() -> Png.encode(new BufferedImage(2, 2, BufferedImage.TYPE_INT_ARGB)))
                .hasMessageContaining("INT_RGB");
    }
}
