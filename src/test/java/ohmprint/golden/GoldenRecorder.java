package ohmprint.golden;

import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/** Puts what the program puts out in the place of what is stored; {@code scripts/golden} starts it. */
public final class GoldenRecorder {
    private GoldenRecorder() {}

    /**
     * Records the parts that are named, or all, and prints what that changed.
     *
     * @param args names of parts
     */
    public static void main(String[] args) throws Exception {
        Set<String> wanted = new TreeSet<>(Arrays.asList(args));
        Arrays.stream(GoldenPart.values()).map(GoldenPart::folder).forEach(wanted::remove);
        if (!wanted.isEmpty()) {
            System.err.println("there is no part " + String.join(", ", wanted) + "; there are "
                    + Arrays.stream(GoldenPart.values()).map(GoldenPart::folder).toList());
            System.exit(2);
        }
        for (GoldenPart part : GoldenPart.values()) {
            if (args.length == 0 || Arrays.asList(args).contains(part.folder())) {
                long begin = System.nanoTime();
                GoldenOutputs outputs = part.outputs();
                List<String> changes = outputs.record();
                System.out.printf(
                        "%s: %d outputs, %d changed, %.1f s%n",
                        part.folder(), outputs.size(), changes.size(), (System.nanoTime() - begin) * 1e-9);
                changes.forEach(change -> System.out.println("  " + change));
            }
        }
        System.exit(0);
    }
}
