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
    private static final double DRAWINGS_HIGH = 116;

    private static final int SIDE_BY_SIDE = 3;

    /** The two sizes of type, in points. */
    private static final double NORMAL = 8.6;

    private static final double DENSE = 7.3;
    /** Width of a sheet between its margins, in points. */
    private static final double WIDTH = 543;

    private SheetLayout() {}

    /** What stands together on one sheet of an episode. */
    private record Block(EpisodeView episode, List<ScaleView> scales, boolean first, boolean last) {
        double height(double type) {
            double line = type * 1.32;
            double height = 6 + (scales.size() + 1) * 4.0 + line;
            for (ScaleView scale : scales) {
                ScaleView.Summary s = scale.summary();
                height += line
                        * Math.max(
                                lines(scale.name(), type, 0.35),
                                Math.max(
                                        Math.max(lines(s.score(), type, 0.12), lines(s.when(), type, 0.17)),
                                        lines(s.verdict(), type, 0.23)));
            }
            if (first) {
                height += type * 2.6 + line * lines(String.join(" \u00b7 ", episode.facts()), type, 1);
                for (String sentence : episode.sentences()) {
                    height += 3 + line * lines(sentence, type, 0.96);
                }
            }
            if (last) {
                height += episode.grips().isEmpty() ? 0 : (2 + episode.latestGrips().size()) * (line + 3) + 4;
                for (String text : episode.due()) {
                    height += line * lines(text, type, 1);
                }
                for (String text : episode.notes()) {
                    height += line * lines(text, type, 1);
                }
            }
            return height;
        }

        /** How many lines a text takes in a column of that share of the width; a letter is about half as wide as its size. */
        private static int lines(String text, double type, double share) {
            return Math.max(1, (int) Math.ceil((text.length() + 3) * type * 0.52 / (WIDTH * share)));
        }
    }

    /** A scale of an episode. */
    private record Place(String anchor, String instrument, String scale) {}

    private record Sheet(List<Block> blocks) {
        boolean takes(Block block) {
            return blocks.isEmpty()
                    || episodes() < MOST_EPISODES
                            && scales() + block.scales().size() <= MOST_SCALES
                            && height(DENSE) + block.height(DENSE) <= SHEET - ABOVE_AND_BELOW;
        }

        private int episodes() {
            return blocks.size();
        }

        private int scales() {
            return blocks.stream().mapToInt(b -> b.scales().size()).sum();
        }

        double height(double type) {
            return blocks.stream().mapToDouble(b -> b.height(type)).sum();
        }

        double room(double type) {
            return SHEET - ABOVE_AND_BELOW - height(type);
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
        boolean dense = sheets.stream().anyMatch(s -> s.room(NORMAL) < DRAWINGS_HIGH * wanted(s));
        Set<Place> printed = new HashSet<>();
        sheets.forEach(sheet -> draw(sheet, dense ? DENSE : NORMAL, printed));
        List<EpisodeView> laidOut = new ArrayList<>();
        for (EpisodeView episode : episodes) {
            laidOut.add(laidOut(episode, sheets, patient, byLine, printed));
        }
        return new PatientView(patient, sheet(1, sheets.size(), byLine), dense, laidOut);
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
                .mapToInt(b -> rows((int) b.scales().stream().filter(SheetLayout::drawn).count()))
                .sum();
    }

    private static int rows(int drawings) {
        return (drawings + SIDE_BY_SIDE - 1) / SIDE_BY_SIDE;
    }

    private static boolean drawn(ScaleView scale) {
        return scale.main() && scale.drawing().isPresent();
    }

    /** Gives room to a row of each episode in turn, as long as there is any. */
    private static void draw(Sheet sheet, double type, Set<Place> printed) {
        double room = sheet.room(type);
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
                        .map(s -> s.withPrinted(printed.contains(new Place(episode.anchor(), s.instrument(), s.scale()))))
                        .toList());
    }

    private static String mark(String patient, int sheet, int of, String byLine) {
        return "Patient " + patient + sheet(sheet, of, byLine);
    }

    private static String sheet(int sheet, int of, String byLine) {
        return (of == 1 ? "" : ", sheet " + sheet + " of " + of) + ", " + byLine;
    }
}
