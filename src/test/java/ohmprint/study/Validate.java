package ohmprint.study;

import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** The program of {@code scripts/validate}. */
public final class Validate {
    private static final Path PAGE = Path.of("src/site/markdown/validation");

    private Validate() {}

    /**
     * Runs the study and writes its page. Exit codes: 0 when all requirements are met, 1 when not, 2 for an option that is
     * not known.
     *
     * @param args {@code --quick} for a cut of a few seconds, {@code --only WORDS} for the cells and kinds whose name holds
     *     all of the words between commas, {@code --out DIR} for another folder
     */
    public static void main(String[] args) throws Exception {
        PrintStream err = new PrintStream(System.err, true, StandardCharsets.UTF_8);
        boolean quick = false;
        String only = null;
        Path out = PAGE;
        for (int i = 0; i < args.length; i++) {
            if (args[i].equals("--quick")) {
                quick = true;
            } else if (args[i].equals("--only") && i + 1 < args.length) {
                only = args[++i];
            } else if (args[i].equals("--out") && i + 1 < args.length) {
                out = Path.of(args[++i]);
            } else {
                err.println("validate: " + args[i] + " is not known; use --quick, --only WORDS, --out DIR, or nothing");
                System.exit(2);
            }
        }
        if ((quick || only != null) && out.equals(PAGE)) {
            err.println("validate: a cut does not replace the page in " + PAGE + "; add --out DIR");
            System.exit(2);
        }
        StudyPlan plan = quick ? StudyPlan.quick() : StudyPlan.whole();
        plan = only == null ? plan : plan.only(List.of(only.split(",")));
        if (plan.cells().isEmpty()
                && plan.references().isEmpty()
                && plan.followUps().isEmpty()
                && plan.kinds().isEmpty()) {
            err.println("validate: no cell and no kind of session is called " + only + "; names are those of the page");
            System.exit(2);
        }
        Path work = Files.createTempDirectory("ohmprint-validate");
        Study study;
        long begun = System.nanoTime();
        try {
            study = Study.run(plan, work, new Tenths(err)::at);
        } finally {
            WholeSession.delete(work);
        }
        new StudyPage(study).write(out);
        // A cut has too few sessions to judge by.
        List<Requirement> failed = quick
                ? List.of()
                : Requirement.of(study).stream()
                        .filter(r -> !r.failing().isEmpty())
                        .toList();
        for (Requirement requirement : failed) {
            err.println("not met: " + requirement.words().replace("\\", ""));
            requirement.failing().forEach(name -> err.println("    " + name));
        }
        err.printf("%.0f s; page in %s%n", (System.nanoTime() - begun) / 1e9, out);
        System.exit(failed.isEmpty() ? 0 : 1);
    }

    /** A line for every tenth of the work. */
    private static final class Tenths {
        private final PrintStream err;
        private int tenths;

        Tenths(PrintStream err) {
            this.err = err;
        }

        synchronized void at(double share) {
            int now = (int) (10 * share);
            if (now > tenths) {
                tenths = now;
                err.println("validating: " + 10 * tenths + " %");
            }
        }
    }
}
