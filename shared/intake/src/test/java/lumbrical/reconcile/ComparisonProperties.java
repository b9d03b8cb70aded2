package lumbrical.reconcile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import net.jqwik.api.constraints.Size;

/** What must hold of any two tables. Responses 0 stand for a blank. */
class ComparisonProperties {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    private static final String HEADER =
            "patient,completed_on,side,uram_1,uram_2,uram_3,uram_4,uram_5,uram_6,uram_7,uram_8,uram_9";

    private static Comparison compare(List<String> one, List<String> two) throws IOException {
        Path folder = Files.createTempDirectory("reconcile");
        try {
            Path first = Files.write(folder.resolve("first.csv"), one);
            Path second = Files.write(folder.resolve("second.csv"), two);
            try {
                return Comparison.of(read(first), read(second), CATALOGUE, new ScoringOptions(false, false), p -> {});
            } finally {
                Files.delete(first);
                Files.delete(second);
            }
        } finally {
            Files.delete(folder);
        }
    }

    private static EnteredTable read(Path file) {
        return EnteredTable.read(
                new Input(file, Optional.empty()), CATALOGUE, ReadOptions.asOf(LocalDate.parse("2026-11-25")), p -> {});
    }

    private static List<String> table(List<List<Integer>> rows) {
        List<String> lines = new ArrayList<>(List.of(HEADER));
        for (int i = 0; i < rows.size(); i++) {
            StringBuilder line = new StringBuilder("P" + i + ",2026-01-02,left");
            rows.get(i).forEach(r -> line.append(',').append(r == 0 ? "" : String.valueOf(r - 1)));
            lines.add(line.toString());
        }
        return lines;
    }

    @Property(tries = 60)
    void theOrderOfTheTablesOnlySwapsTheSides(
            @ForAll @Size(min = 1, max = 4) List<@Size(9) List<@IntRange(max = 5) Integer>> one,
            @ForAll @Size(min = 1, max = 4) List<@Size(9) List<@IntRange(max = 5) Integer>> two)
            throws IOException {
        Comparison ab = compare(table(one), table(two));
        Comparison ba = compare(table(two), table(one));
        assertEquals(ab.fields(), ba.fields());
        assertEquals(ab.differing(), ba.differing());
        assertEquals(ab.onlyInFirst(), ba.onlyInSecond());
        assertEquals(
                ab.differences().stream()
                        .map(d -> d.column() + d.first() + "|" + d.second())
                        .sorted()
                        .toList(),
                ba.differences().stream()
                        .map(d -> d.column() + d.second() + "|" + d.first())
                        .sorted()
                        .toList());
        int expected = 0;
        int filled = 0;
        for (int i = 0; i < Math.min(one.size(), two.size()); i++) {
            for (int k = 0; k < 9; k++) {
                expected += one.get(i).get(k).equals(two.get(i).get(k)) ? 0 : 1;
                filled += one.get(i).get(k) == 0 && two.get(i).get(k) == 0 ? 0 : 1;
            }
        }
        assertEquals(expected, ab.differing(), "counted without the program");
        assertEquals(filled, ab.fields());
    }

    @Property(tries = 40)
    void theOrderOfRowsDoesNotMatterAndATableAgreesWithItself(
            @ForAll @Size(min = 1, max = 5) List<@Size(9) List<@IntRange(max = 5) Integer>> rows, @ForAll long seed)
            throws IOException {
        List<String> lines = table(rows);
        List<String> body = new ArrayList<>(lines.subList(1, lines.size()));
        Collections.shuffle(body, new Random(seed));
        body.add(0, HEADER);
        Comparison same = compare(lines, body);
        assertTrue(same.differences().isEmpty());
        assertEquals(rows.size(), same.paired());
        List<AgreedTable.Row> agreed = AgreedTable.rows(same, same.differences());
        for (int i = 0; i < rows.size(); i++) {
            for (int k = 0; k < 9; k++) {
                int response = rows.get(i).get(k);
                assertEquals(
                        response == 0 ? "" : String.valueOf(response - 1),
                        agreed.get(i).cells().getOrDefault("uram_" + (k + 1), ""));
            }
        }
    }
}
