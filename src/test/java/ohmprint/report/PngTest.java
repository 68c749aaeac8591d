package ohmprint.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.util.Random;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;

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

    @Test
    void aPictureWithTransparencyIsRefused() {
        assertThatThrownBy(() -> Png.encode(new BufferedImage(2, 2, BufferedImage.TYPE_INT_ARGB)))
                .hasMessageContaining("INT_RGB");
    }
}
