package lumbrical.report.page;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Lays a patient out on A4 sheets: at most three episodes and twelve scales on each, with as many drawings of main scales as there is
 * room for. Heights are estimated in points, rather too high than too low, for the type that the style sheet prints in.
 */
final class SheetLayout {
    static final int MOST_EPISODES = 3;
    static final int MOST_SCALES = 12;

    /** Height of A4 without its margins of 9 mm, and what stands above and below on every sheet. */
    private static final double SHEET = 790;

    private static final double ABOVE_AND_BELOW = 58;
    /** A row of drawings with its captions; as many stand side by side. */
    private static final double DRAWINGS_HIGH = 118;

    private static final int SIDE_BY_SIDE = 3;

    /** A letter of running text is about so wide, in its own size. */
    private static final double LETTER = 0.47;

    /**
     * How a sheet is set; the code is its class in the style sheet, which says the same.
     */
    enum Setting {
        NORMAL("", 8.6, 1.25),
        DENSE(" dense", 7.3, 1.25),
        TIGHT(" tight", 7.05, 1.13);

        private final String code;
        /** Size of type in points. */
        private final double type;
        /** Height of a line, in points. */
        private final double line;

        Setting(String code, double type, double leading) {
            this.code = code;
            this.type = type;
            this.line = type * leading;
        }

        String code() {
            return code;
        }

        /** How many lines a text takes in a column of that share of the width. */
        private int lines(String text, double share) {
            double letters = 3 + text.codePoints().mapToDouble(Setting::width).sum();
            return Math.max(1, (int) Math.ceil(letters * type * LETTER / (WIDTH * share)));
        }

        private static double width(int letter) {
            if (letter >= 0x2E80) {
                return 2.2;
            }
            return Character.isUpperCase(letter) ? 1.4 : 1;
        }
    }

    /** Width of a sheet between its margins, in points. */
    private static final double WIDTH = 543;

    private SheetLayout() {}

    /** What stands together on one sheet of an episode. */
    private record Block(EpisodeView episode, List<ScaleView> scales, boolean first, boolean last) {
        double height(Setting set) {
            double height = 6 + scales.size() * 3.5 + set.line + 4;
            for (ScaleView scale : scales) {
                ScaleView.Summary s = scale.summary();
                int lines = Math.max(
                        Math.max(set.lines(scale.name(), 0.32), set.lines(s.score(), 0.12)),
                        Math.max(set.lines(s.when(), 0.17), set.lines(s.verdict(), 0.29)));
                height += set.line * lines;
            }
            if (first) {
                height += set.type * 1.6 + 10 + set.line * set.lines(String.join(" \u00b7 ", episode.facts()), 1);
                for (String sentence : episode.sentences()) {
                    height += 2 + set.line * set.lines(sentence, 0.97);
                }
            }
            if (last) {
                height += episode.grips().isEmpty()
                        ? 0
                        : (2 + episode.latestGrips().size()) * (set.line + 3) + 4;
                for (String text : episode.due()) {
                    height += set.line * set.lines(text, 0.97);
                }
                for (String text : episode.notes()) {
                    height += set.line * set.lines(text, 0.97) + 2;
                }
            }
            return height;
        }
    }

    /** A scale of an episode. */
    private record Place(String anchor, String instrument, String scale) {}

    private record Sheet(List<Block> blocks) {
        boolean takes(Block block) {
            return blocks.isEmpty()
                    || episodes() < MOST_EPISODES
                            && scales() + block.scales().size() <= MOST_SCALES
                            && height(Setting.TIGHT) + block.height(Setting.TIGHT) <= SHEET - ABOVE_AND_BELOW;
        }

        private int episodes() {
            return blocks.size();
        }

        private int scales() {
            return blocks.stream().mapToInt(b -> b.scales().size()).sum();
        }

        double height(Setting set) {
            return blocks.stream().mapToDouble(b -> b.height(set)).sum();
        }

        double room(Setting set) {
            return SHEET - ABOVE_AND_BELOW - height(set);
        }
    }

    /** The patient on as few sheets as that takes. */
    static PatientView of(String patient, List<EpisodeView> episodes, String byLine) {
        List<Sheet> sheets = new ArrayList<>();
        for (EpisodeView episode : episodes) {
            for (Block block : blocks(episode)) {
                if (sheets.isEmpty() || !sheets.get(sheets.size() - 1).takes(block)) {
                    sheets.add(new Sheet(new ArrayList<>()));
                }
                sheets.get(sheets.size() - 1).blocks().add(block);
            }
        }
        Setting set = setting(sheets);
        Set<Place> printed = new HashSet<>();
        sheets.forEach(sheet -> draw(sheet, set, printed));
        List<EpisodeView> laidOut = new ArrayList<>();
        for (EpisodeView episode : episodes) {
            laidOut.add(laidOut(episode, sheets, patient, byLine, printed));
        }
        return new PatientView(patient, sheet(1, sheets.size(), byLine), set.code(), laidOut);
    }

    /** The largest type in which every sheet holds its drawings; else the larger of the small ones in which it holds its text. */
    private static Setting setting(List<Sheet> sheets) {
        if (sheets.stream().allMatch(s -> s.room(Setting.NORMAL) >= DRAWINGS_HIGH * wanted(s))) {
            return Setting.NORMAL;
        }
        return sheets.stream().allMatch(s -> s.room(Setting.DENSE) >= 0) ? Setting.DENSE : Setting.TIGHT;
    }

    /** Twelve scales to a sheet at most. */
    private static List<Block> blocks(EpisodeView episode) {
        List<Block> blocks = new ArrayList<>();
        List<ScaleView> scales = episode.scales();
        for (int from = 0; from == 0 || from < scales.size(); from += MOST_SCALES) {
            int to = Math.min(scales.size(), from + MOST_SCALES);
            blocks.add(new Block(episode, scales.subList(from, to), from == 0, to == scales.size()));
        }
        return blocks;
    }

    /** Rows of drawings that a sheet would have with all of its main scales. */
    private static int wanted(Sheet sheet) {
        return sheet.blocks().stream()
                .mapToInt(b -> rows(
                        (int) b.scales().stream().filter(SheetLayout::drawn).count()))
                .sum();
    }

    private static int rows(int drawings) {
        return (drawings + SIDE_BY_SIDE - 1) / SIDE_BY_SIDE;
    }

    private static boolean drawn(ScaleView scale) {
        return scale.main() && scale.drawing().isPresent();
    }

    /** Gives room to a row of each episode in turn, as long as there is any. */
    private static void draw(Sheet sheet, Setting set, Set<Place> printed) {
        double room = sheet.room(set);
        for (int row = 0; room >= DRAWINGS_HIGH; row++) {
            boolean more = false;
            for (int i = sheet.blocks().size() - 1; i >= 0; i--) { // the latest episode first
                Block block = sheet.blocks().get(i);
                List<ScaleView> inRow = block.scales().stream()
                        .filter(SheetLayout::drawn)
                        .skip((long) row * SIDE_BY_SIDE)
                        .limit(SIDE_BY_SIDE)
                        .toList();
                if (!inRow.isEmpty() && room >= DRAWINGS_HIGH) {
                    inRow.forEach(s -> printed.add(new Place(block.episode().anchor(), s.instrument(), s.scale())));
                    room -= DRAWINGS_HIGH;
                    more = true;
                }
            }
            if (!more) {
                return;
            }
        }
    }

    private static EpisodeView laidOut(
            EpisodeView episode, List<Sheet> sheets, String patient, String byLine, Set<Place> printed) {
        String before = "";
        List<EpisodeView.Part> parts = new ArrayList<>();
        for (int i = 0; i < sheets.size(); i++) {
            for (int j = 0; j < sheets.get(i).blocks().size(); j++) {
                Block block = sheets.get(i).blocks().get(j);
                if (block.episode().anchor().equals(episode.anchor())) {
                    String mark = i > 0 && j == 0 ? mark(patient, i + 1, sheets.size(), byLine) : "";
                    before = block.first() ? mark : before;
                    parts.add(new EpisodeView.Part(block.first() ? "" : mark, block.scales()));
                }
            }
        }
        return episode.laidOut(
                before,
                parts,
                episode.scales().stream()
                        .map(s ->
                                s.withPrinted(printed.contains(new Place(episode.anchor(), s.instrument(), s.scale()))))
                        .toList());
    }

    private static String mark(String patient, int sheet, int of, String byLine) {
        return "Patient " + patient + sheet(sheet, of, byLine);
    }

    private static String sheet(int sheet, int of, String byLine) {
        return (of == 1 ? "" : ", sheet " + sheet + " of " + of) + ", " + byLine;
    }
}
