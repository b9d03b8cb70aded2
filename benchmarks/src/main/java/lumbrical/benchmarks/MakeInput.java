package lumbrical.benchmarks;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;

/** Makes the input files, invented, the same at every run. */
final class MakeInput {
    private static final String[] SIDES = {"right", "left"};

    private MakeInput() {}

    /** {@code rows} sittings of one 11-item form in 15 columns; 2 % of the items open. */
    static Path narrow(Path folder, int rows) {
        return plain(folder.resolve("narrow-" + rows + ".csv"), rows, "entered online at the desk by a volunteer");
    }

    /** The same sittings with a comma in each remark, so that every row has a quoted cell. */
    static Path quoted(Path folder, int rows) {
        return plain(folder.resolve("quoted-" + rows + ".csv"), rows, "\"entered online, at the desk by a volunteer\"");
    }

    private static Path plain(Path file, int rows, String remark) {
        if (Files.exists(file)) {
            return file;
        }
        Random random = new Random(1);
        write(file, out -> {
            out.append("patient,completed_on,side,remark");
            for (int i = 1; i <= 11; i++) {
                out.append(",quickdash_" + i);
            }
            out.append('\n');
            StringBuilder row = new StringBuilder();
            for (int r = 0; r < rows; r++) {
                row.setLength(0);
                row.append("REG-2015-")
                        .append(100_000_000L + r)
                        .append(',')
                        .append(day(random))
                        .append(',')
                        .append(side(random))
                        .append(',')
                        .append(remark);
                for (int i = 0; i < 11; i++) {
                    row.append(',').append(random.nextInt(50) == 0 ? "" : String.valueOf(1 + random.nextInt(5)));
                }
                out.append(row.append('\n'));
            }
        });
        return file;
    }

    /** {@code rows} rows of one response each, so an eleventh as many sittings of one 11-item form; 2 % of the responses blank. */
    static Path longRows(Path folder, int rows) {
        Path file = folder.resolve("long-" + rows + ".csv");
        if (Files.exists(file)) {
            return file;
        }
        Random random = new Random(7);
        write(file, out -> {
            out.append("patient,completed_on,side,instrument,item,response\n");
            for (int s = 0; s < rows / 11; s++) {
                String sitting =
                        "REG-2015-" + (100_000_000L + s) + "," + day(random) + "," + side(random) + ",quickdash,";
                for (int i = 1; i <= 11; i++) {
                    String response = random.nextInt(50) == 0 ? "" : String.valueOf(1 + random.nextInt(5));
                    out.append(sitting + i + "," + response + "\n");
                }
            }
        });
        return file;
    }

    /** A workbook of {@code rows} sittings of one 11-item form in 20 columns. */
    static Path workbook(Path folder, int rows) throws IOException {
        Path file = folder.resolve("narrow-" + rows + ".xlsx");
        if (Files.exists(file)) {
            return file;
        }
        Random random = new Random(4);
        try (SXSSFWorkbook book = new SXSSFWorkbook(100);
                OutputStream out = Files.newOutputStream(file)) {
            Sheet sheet = book.createSheet("Responses");
            List<String> headings = new ArrayList<>(List.of("patient", "completed_on", "side", "remark"));
            for (int i = 1; i <= 11; i++) {
                headings.add("quickdash_" + i);
            }
            for (int i = 1; i <= 5; i++) {
                headings.add("own column " + i);
            }
            Row head = sheet.createRow(0);
            for (int c = 0; c < headings.size(); c++) {
                head.createCell(c).setCellValue(headings.get(c));
            }
            for (int r = 0; r < rows; r++) {
                Row row = sheet.createRow(r + 1);
                row.createCell(0).setCellValue("REG-" + r);
                row.createCell(1).setCellValue(day(random).toString());
                row.createCell(2).setCellValue(side(random));
                row.createCell(3).setCellValue("on paper");
                for (int c = 4; c < headings.size(); c++) {
                    row.createCell(c).setCellValue(1 + random.nextInt(5));
                }
            }
            book.write(out);
        }
        return file;
    }

    /** {@code rows} sittings of six forms; 10 % of the items open. */
    static Path wide(Path folder, int rows) {
        Path file = folder.resolve("wide-" + rows + ".csv");
        if (Files.exists(file)) {
            return file;
        }
        Random random = new Random(2);
        List<String> columns = new ArrayList<>();
        List<Integer> low = new ArrayList<>();
        List<Integer> high = new ArrayList<>();
        add("dash", 30, 1, 5, columns, low, high);
        add("quickdash", 11, 1, 5, columns, low, high);
        add("prwe", 15, 0, 10, columns, low, high);
        add("cts6symptom", 6, 1, 5, columns, low, high);
        add("uram", 9, 0, 5, columns, low, high);
        add("fihoa", 10, 0, 3, columns, low, high);
        write(file, out -> {
            out.append("patient,completed_on,side,")
                    .append(String.join(",", columns))
                    .append('\n');
            StringBuilder row = new StringBuilder();
            for (int r = 0; r < rows; r++) {
                row.setLength(0);
                row.append('P')
                        .append(r)
                        .append(',')
                        .append(day(random))
                        .append(',')
                        .append(side(random));
                for (int i = 0; i < columns.size(); i++) {
                    row.append(',');
                    if (random.nextInt(10) != 0) {
                        row.append(low.get(i) + random.nextInt(high.get(i) - low.get(i) + 1));
                    }
                }
                out.append(row.append('\n'));
            }
        });
        return file;
    }

    private static void add(
            String form, int items, int from, int to, List<String> columns, List<Integer> low, List<Integer> high) {
        for (int i = 1; i <= items; i++) {
            columns.add(form + "_" + i);
            low.add(from);
            high.add(to);
        }
    }

    /** A clinic: {@code episodes} episodes with five sittings each. */
    static Path[] clinic(Path folder, int episodes) {
        Path responses = folder.resolve("clinic-" + episodes + "-responses.csv");
        Path list = folder.resolve("clinic-" + episodes + "-episodes.csv");
        if (Files.exists(responses)) {
            return new Path[] {responses, list};
        }
        Random random = new Random(3);
        int[] days = {-10, 42, 91, 183, 365};
        StringBuilder rows = new StringBuilder();
        write(list, out -> {
            out.append("patient,episode,treated_side,index_date,condition,forms\n");
            for (int e = 0; e < episodes; e++) {
                LocalDate index = LocalDate.of(2018, 1, 1).plusDays(random.nextInt(2000));
                String side = side(random);
                out.append("P" + e + ",E1," + side + "," + index + ",carpal tunnel,quickdash\n");
                for (int v = 0; v < days.length; v++) {
                    rows.append('P')
                            .append(e)
                            .append(',')
                            .append(index.plusDays(days[v]))
                            .append(',')
                            .append(side);
                    for (int i = 0; i < 11; i++) {
                        rows.append(',').append(Math.min(5, 1 + random.nextInt(6 - v)));
                    }
                    rows.append('\n');
                }
            }
        });
        write(responses, out -> {
            out.append("patient,completed_on,side");
            for (int i = 1; i <= 11; i++) {
                out.append(",quickdash_" + i);
            }
            out.append('\n').append(rows);
        });
        return new Path[] {responses, list};
    }

    /**
     * A clinic for group results: {@code episodes} episodes, one patient in ten with both hands, five sittings each of seven forms with ten
     * scales and a rating of change; 2 % of the items open; seven conditions, seven procedures and six surgeons, one of each blank.
     */
    static Path[] groups(Path folder, int episodes) {
        Path responses = folder.resolve("groups-" + episodes + "-responses.csv");
        Path list = folder.resolve("groups-" + episodes + "-episodes.csv");
        if (Files.exists(responses)) {
            return new Path[] {responses, list};
        }
        Random random = new Random(5);
        List<String> columns = new ArrayList<>();
        List<Integer> low = new ArrayList<>();
        List<Integer> high = new ArrayList<>();
        add("quickdash", 11, 1, 5, columns, low, high);
        add("prwe", 15, 0, 10, columns, low, high);
        add("bctq_symptom", 11, 1, 5, columns, low, high);
        add("bctq_function", 8, 1, 5, columns, low, high);
        add("cts6symptom", 6, 1, 5, columns, low, high);
        add("uram", 9, 0, 5, columns, low, high);
        add("uefi20", 20, 0, 4, columns, low, high);
        String[] conditions = {
            "carpal tunnel",
            "trigger finger",
            "Dupuytren",
            "distal radius fracture",
            "thumb base osteoarthritis",
            "lateral epicondylitis",
            ""
        };
        String[] procedures = {"open release", "endoscopic release", "injection", "plate", "needle", "splint", ""};
        int[] days = {-10, 42, 91, 183, 365};
        write(
                list,
                rows -> write(responses, out -> {
                    rows.append("patient,episode,treated_side,index_date,condition,procedure,surgeon\n");
                    out.append("patient,completed_on,side,")
                            .append(String.join(",", columns))
                            .append(",sane_1,grc_1\n");
                    int patient = 0;
                    String side = side(random);
                    for (int e = 0; e < episodes; e++) {
                        boolean other = e > 0 && random.nextInt(10) == 0;
                        patient += other ? 0 : 1;
                        side = other ? (side.equals("right") ? "left" : "right") : side(random);
                        LocalDate index = LocalDate.of(2018, 1, 1).plusDays(random.nextInt(2000));
                        rows.append("P" + patient + ",E" + e + "," + side + "," + index + ","
                                + conditions[random.nextInt(conditions.length)] + ","
                                + procedures[random.nextInt(procedures.length)] + ",S" + random.nextInt(6) + "\n");
                        double severity = 0.4 + random.nextDouble() / 2;
                        double gain = 0.25 + 0.15 * random.nextGaussian();
                        for (int v = 0; v < days.length; v++) {
                            double level = between(0, 1, severity - gain * v / 4 + 0.06 * random.nextGaussian());
                            StringBuilder row = new StringBuilder();
                            row.append('P')
                                    .append(patient)
                                    .append(',')
                                    .append(index.plusDays(days[v]))
                                    .append(',')
                                    .append(side);
                            for (int i = 0; i < columns.size(); i++) {
                                row.append(',');
                                double from = columns.get(i).startsWith("uefi") ? 1 - level : level;
                                int width = high.get(i) - low.get(i);
                                double mark = low.get(i) + width * (from + 0.18 * random.nextGaussian());
                                if (random.nextInt(50) != 0) {
                                    row.append(Math.round(between(low.get(i), high.get(i), mark)));
                                }
                            }
                            row.append(',')
                                    .append(Math.round(100 * (1 - level)))
                                    .append(',');
                            if (v > 0) {
                                row.append(Math.round(
                                        between(-7, 7, 14 * (severity - level) + 2 * random.nextGaussian())));
                            }
                            out.append(row.append('\n'));
                        }
                    }
                }));
        return new Path[] {responses, list};
    }

    /**
     * A clinic as clinics are: {@code episodes} episodes with four sittings each of quickdash, prwe, bctq, uram and a rating from 0 to 100;
     * each of two more forms at half of the sittings, so five to seven at a time. Every item of a form that is given is answered but one in
     * fifty.
     */
    static Path[] visits(Path folder, int episodes) {
        Forms forms = new Forms();
        forms.add("quickdash", 11, 1, 5);
        forms.add("prwe", 15, 0, 10);
        forms.add("bctq_symptom", 11, 1, 5);
        forms.add("bctq_function", 8, 1, 5);
        forms.add("uram", 9, 0, 5);
        forms.add("sane", 1, 0, 100);
        forms.sometimes("cts6symptom", 6, 1, 5);
        forms.sometimes("uefi20", 20, 0, 4);
        return sittings(folder, "visits-" + episodes, episodes, forms);
    }

    /** {@code episodes} episodes with four sittings each of three forms with five scales: quickdash, prwe and a rating from 0 to 100. */
    static Path[] fiveScales(Path folder, int episodes) {
        Forms forms = new Forms();
        forms.add("quickdash", 11, 1, 5);
        forms.add("prwe", 15, 0, 10);
        forms.add("sane", 1, 0, 100);
        return sittings(folder, "five-scales-" + episodes, episodes, forms);
    }

    /** The item columns of the forms that are given together. */
    private static final class Forms {
        private final List<String> columns = new ArrayList<>();
        private final List<Integer> low = new ArrayList<>();
        private final List<Integer> high = new ArrayList<>();
        /** By column: -1 for a form given at every sitting, else the number of the form. */
        private final List<Integer> sometimes = new ArrayList<>();

        private int next;

        void add(String form, int items, int from, int to) {
            add(form, items, from, to, -1);
        }

        void sometimes(String form, int items, int from, int to) {
            add(form, items, from, to, next++);
        }

        private void add(String form, int items, int from, int to, int number) {
            MakeInput.add(form, items, from, to, columns, low, high);
            for (int i = 0; i < items; i++) {
                sometimes.add(number);
            }
        }
    }

    private static Path[] sittings(Path folder, String name, int episodes, Forms forms) {
        Path responses = folder.resolve(name + "-responses.csv");
        Path list = folder.resolve(name + "-episodes.csv");
        if (Files.exists(responses)) {
            return new Path[] {responses, list};
        }
        Random random = new Random(6);
        String[] conditions = {"carpal tunnel", "trigger finger", "Dupuytren", "distal radius fracture", ""};
        int[] days = {-10, 42, 91, 365};
        write(
                list,
                rows -> write(responses, out -> {
                    rows.append("patient,episode,treated_side,index_date,condition,surgeon\n");
                    out.append("patient,completed_on,side,")
                            .append(String.join(",", forms.columns))
                            .append('\n');
                    StringBuilder row = new StringBuilder();
                    for (int e = 0; e < episodes; e++) {
                        LocalDate index = LocalDate.of(2018, 1, 1).plusDays(random.nextInt(2000));
                        String side = side(random);
                        rows.append("P" + e + ",E1," + side + "," + index + ","
                                + conditions[random.nextInt(conditions.length)] + ",S" + random.nextInt(6) + "\n");
                        double level = 0.4 + random.nextDouble() / 2;
                        for (int day : days) {
                            row.setLength(0);
                            row.append('P').append(e).append(',');
                            row.append(index.plusDays(day)).append(',').append(side);
                            boolean[] given = new boolean[forms.next];
                            for (int i = 0; i < given.length; i++) {
                                given[i] = random.nextBoolean();
                            }
                            for (int i = 0; i < forms.columns.size(); i++) {
                                row.append(',');
                                int form = forms.sometimes.get(i);
                                int low = forms.low.get(i);
                                int high = forms.high.get(i);
                                double mark = low + (high - low) * (level + 0.18 * random.nextGaussian());
                                if ((form < 0 || given[form]) && random.nextInt(50) != 0) {
                                    row.append(Math.round(between(low, high, mark)));
                                }
                            }
                            out.append(row.append('\n'));
                            level = between(0, 1, level - 0.1 + 0.1 * random.nextGaussian());
                        }
                    }
                }));
        return new Path[] {responses, list};
    }

    private static double between(double low, double high, double value) {
        return Math.max(low, Math.min(high, value));
    }

    private static LocalDate day(Random random) {
        return LocalDate.of(2015, 1, 1).plusDays(random.nextInt(3_600));
    }

    private static String side(Random random) {
        return SIDES[random.nextInt(2)];
    }

    private interface Content {
        void to(Writer out) throws IOException;
    }

    private static void write(Path file, Content content) {
        try (BufferedWriter out = Files.newBufferedWriter(file)) {
            content.to(out);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
