package ohmprint.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;

/** Rows in columns as wide as their widest cell, no wider than a limit. */
final class TextTable {
    private static final int WIDEST = 34;
    private static final String GAP = "  ";

    private final List<List<String>> rows = new ArrayList<>();

    TextTable(String... head) {
        row(head);
    }

    /** Adds a row. */
    void row(String... cells) {
        List<String> row = new ArrayList<>();
        for (String cell : cells) {
            String line = OneLine.of(cell);
            row.add(line.length() > WIDEST ? line.substring(0, WIDEST - 1) + "…" : line);
        }
        rows.add(row);
    }

    void print(PrintWriter out) {
        int columns = rows.get(0).size();
        int[] width = new int[columns];
        for (List<String> row : rows) {
            for (int i = 0; i < columns; i++) {
                width[i] = Math.max(width[i], row.get(i).length());
            }
        }
        for (List<String> row : rows) {
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < columns; i++) {
                String cell = row.get(i);
                line.append(cell).append(" ".repeat(width[i] - cell.length())).append(GAP);
            }
            out.println(line.toString().stripTrailing());
        }
    }
}
