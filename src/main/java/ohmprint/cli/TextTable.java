package ohmprint.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.List;

/** Rows in columns as wide as their widest cell. */
final class TextTable {
    private static final String GAP = "  ";

    private final String indent;
    private final int leftColumns;
    private final int widestLeft;
    private final List<String[]> rows = new ArrayList<>();

    private TextTable(String indent, int leftColumns, int widestLeft, String... head) {
        this.indent = indent;
        this.leftColumns = leftColumns;
        this.widestLeft = widestLeft;
        row(head);
    }

    /** A table of texts: columns aligned to the left, cells cut at 34 characters. */
    static TextTable ofTexts(String... head) {
        return new TextTable("", head.length, 34, head);
    }

    /** A table of numbers, indented: columns aligned to the right. */
    static TextTable ofNumbers(String... head) {
        return new TextTable(GAP, 0, 0, head);
    }

    /** The same with names in the first column, aligned to the left and cut at 40 characters. */
    static TextTable ofNamedNumbers(String... head) {
        return new TextTable(GAP, 1, 40, head);
    }

    /** Adds a row, which may be shorter than the head. */
    void row(String... cells) {
        String[] row = new String[cells.length];
        for (int i = 0; i < cells.length; i++) {
            String cell = TerminalText.oneLine(cells[i]);
            boolean cut = i < leftColumns && cell.length() > widestLeft;
            row[i] = cut ? cell.substring(0, widestLeft - 1) + "…" : cell;
        }
        rows.add(row);
    }

    /** True without a row below the head. */
    boolean isEmpty() {
        return rows.size() == 1;
    }

    void print(PrintWriter out) {
        int[] width = new int[rows.get(0).length];
        for (String[] row : rows) {
            for (int i = 0; i < row.length; i++) {
                width[i] = Math.max(width[i], row[i].length());
            }
        }
        for (String[] row : rows) {
            StringBuilder line = new StringBuilder(indent);
            for (int i = 0; i < row.length; i++) {
                String pad = " ".repeat(width[i] - row[i].length());
                line.append(i == 0 ? "" : GAP).append(i < leftColumns ? row[i] + pad : pad + row[i]);
            }
            out.println(line.toString().stripTrailing());
        }
    }
}
