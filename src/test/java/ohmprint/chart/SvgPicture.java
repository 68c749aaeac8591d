package ohmprint.chart;

import java.awt.Font;
import java.awt.font.FontRenderContext;
import java.awt.geom.AffineTransform;
import java.awt.geom.Rectangle2D;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Element;
import org.w3c.dom.Node;
import org.w3c.dom.NodeList;
import org.xml.sax.InputSource;

/** An SVG taken apart: its texts with the room they take, and its paths. */
final class SvgPicture {
    private static final FontRenderContext CONTEXT = new FontRenderContext(null, true, true);
    private static final Pattern SIZE = Pattern.compile("font-size: (\\d+)px");
    private static final Pattern NUMBERS = Pattern.compile("-?\\d+(\\.\\d+)?");
    private final Element root;

    /** Text and the rectangle it fills, in units of the picture. */
    record Text(String words, Rectangle2D box) {}

    /** Path with its style and its points (moves and lines only). */
    record Path(String style, List<double[]> points) {}

    SvgPicture(String svg) throws Exception {
        root = DocumentBuilderFactory.newInstance()
                .newDocumentBuilder()
                .parse(new InputSource(new StringReader(svg)))
                .getDocumentElement();
    }

    List<Text> texts() {
        List<Text> texts = new ArrayList<>();
        for (Element e : elements("text")) {
            Matcher size = SIZE.matcher(e.getAttribute("style"));
            if (!size.find()) {
                throw new AssertionError("text without size: " + e.getTextContent());
            }
            Font font = TextPainter.plain(Float.parseFloat(size.group(1)));
            Rectangle2D bounds =
                    font.createGlyphVector(CONTEXT, e.getTextContent()).getVisualBounds();
            double wider = e.getAttribute("style").contains("bold") ? 1.1 : 1;
            Rectangle2D box = new Rectangle2D.Double(
                    Double.parseDouble(e.getAttribute("x")) + bounds.getX(),
                    Double.parseDouble(e.getAttribute("y")) + bounds.getY(),
                    bounds.getWidth() * wider,
                    bounds.getHeight());
            texts.add(new Text(
                    e.getTextContent(), transform(e).createTransformedShape(box).getBounds2D()));
        }
        return texts;
    }

    List<String> words() {
        return texts().stream().map(Text::words).toList();
    }

    String allWords() {
        return String.join(" ", words());
    }

    List<Path> paths() {
        List<Path> paths = new ArrayList<>();
        for (Element e : elements("path")) {
            List<double[]> points = new ArrayList<>();
            for (String pair : e.getAttribute("d").split("[MLZ]", -1)) {
                double[] xy = NUMBERS.matcher(pair)
                        .results()
                        .mapToDouble(m -> Double.parseDouble(m.group()))
                        .toArray();
                if (xy.length == 2) {
                    points.add(xy);
                }
            }
            String own = e.getAttribute("style");
            paths.add(new Path(own.isEmpty() ? ((Element) e.getParentNode()).getAttribute("style") : own, points));
        }
        return paths;
    }

    /** Horizontal place of the tick with this label: the middle of its text. */
    double xOf(String label) {
        return boxOf(label).getCenterX();
    }

    /** Upright place of the tick with this label. */
    double yOf(String label) {
        return boxOf(label).getCenterY();
    }

    private Rectangle2D boxOf(String label) {
        return texts().stream()
                .filter(t -> t.words().equals(label))
                .findFirst()
                .orElseThrow()
                .box();
    }

    private List<Element> elements(String name) {
        NodeList list = root.getElementsByTagName(name);
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < list.getLength(); i++) {
            elements.add((Element) list.item(i));
        }
        return elements;
    }

    private static AffineTransform transform(Node node) {
        AffineTransform all = new AffineTransform();
        for (Node n = node; n instanceof Element e; n = n.getParentNode()) {
            String text = e.getAttribute("transform");
            if (!text.isEmpty()) {
                double[] m = Arrays.stream(NUMBERS.matcher(text)
                                .results()
                                .map(r -> r.group())
                                .toArray(String[]::new))
                        .mapToDouble(Double::parseDouble)
                        .toArray();
                all.preConcatenate(
                        text.startsWith("matrix")
                                ? new AffineTransform(m)
                                : AffineTransform.getRotateInstance(Math.toRadians(m[0]), m[1], m[2]));
            }
        }
        return all;
    }
}
