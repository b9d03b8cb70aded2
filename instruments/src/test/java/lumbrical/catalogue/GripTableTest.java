package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The table of docs/grip-tasks.md and the tags of the definitions are the same. */
class GripTableTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    private record Row(String grip, String task, List<String> items, String why) {}

    private static List<Row> table() throws IOException {
        return Files.readAllLines(Path.of("..", "docs", "grip-tasks.md")).stream()
                .filter(line -> line.startsWith("| "))
                .skip(2)
                .map(line -> line.substring(2, line.length() - 2).split(" \\| "))
                .map(c -> new Row(c[0], c[1], Arrays.asList(c[2].split(", ")), c[3]))
                .toList();
    }

    @Test
    void everyTagStandsInTheTableWithItsReasonAndNoOther() throws IOException {
        Map<String, String> tags = new TreeMap<>();
        Map<String, String> untagged = new HashMap<>();
        for (Instrument instrument : CATALOGUE.all()) {
            for (Item item : instrument.facts().items()) {
                String name = instrument.id() + " " + item.id();
                item.grip()
                        .map(Grip::code)
                        .ifPresentOrElse(
                                g -> tags.put(name, g + ": " + item.topic()), () -> untagged.put(name, item.topic()));
            }
        }
        Map<String, String> said = new TreeMap<>();
        for (Row row : table()) {
            assertFalse(row.why().isBlank(), row::task);
            for (String name : row.items()) {
                if (row.grip().equals("none")) {
                    assertEquals(row.task(), untagged.get(name), name);
                } else {
                    said.put(name, row.grip() + ": " + row.task());
                }
            }
        }
        assertEquals(said, tags);
        assertTrue(tags.size() >= 40, tags.size() + " tags: was the catalogue read?");
    }

    /** Section 10 of the formats names these to be looked at again; none plainly is one grip. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "dash 16",
                "quickdash 5",
                "prwe 7",
                "prwhe 7",
                "fihoa 2",
                "cochin 6",
                "mhq bothhands_3",
                "uefi20 7",
                "uefi20 8",
                "uefi20 9",
                "uefi20 12",
                "uefi20 13",
                "uefi20 19",
                "fihoa 5",
                "fihoa 7",
                "fihoa 10",
                "uram 4",
                "cochin 3",
                "cochin 12",
                "bctq symptom_11"
            })
    void aTaskThatIsNoOneGripHasNoTagAndAReason(String name) throws IOException {
        assertTrue(
                table().stream()
                        .anyMatch(r -> r.grip().equals("none") && r.items().contains(name)),
                name);
    }

    /** Each hand alone, so that right and left can be told apart. */
    @Test
    void ourOwnTasksAreOneForEachGripAndAskedOfEachHand() {
        Instrument own = CATALOGUE.find("griptasks").orElseThrow();
        assertEquals(
                Arrays.stream(Grip.values()).map(Grip::code).sorted().toList(),
                own.facts().items().stream()
                        .map(i -> i.grip().orElseThrow().code())
                        .sorted()
                        .toList());
        own.facts().items().forEach(i -> {
            assertTrue(i.perHand());
            assertTrue(i.text().orElseThrow().endsWith("with this hand alone."), i.topic());
        });
    }
}
