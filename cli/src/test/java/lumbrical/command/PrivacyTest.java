package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Values that nobody asked to be written are planted in free-text columns, birth dates and years of birth, in rows that are well and in
 * rows with every kind of mistake; no byte that any command prints or writes may hold one. All data invented.
 */
class PrivacyTest {
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,birth_year,forms,share,family_name,born_on
            P1,E1,right,2023-02-03,female,1931,sane,yes,PLANTED~FAMILY,1931-07-19
            P1,E1,left,2023-02-03,female,1931,sane,yes,PLANTED~FAMILY,1931-07-19
            P2,E1,left,1905-02-03,male,1931,sane,yes,PLANTED~FAMILY,1931-07-19
            P3,E1,left,03.02.2023,male,19310,sane,yes,PLANTED~FAMILY,1931-07-19
            P4,E1,both,2023-02-03,male,PLANTED~YEAR,sane,yes,PLANTED~FAMILY,1931-07-19
            P5,E1,left,2023-02-03,male,PLANTED~YEAR,sain,perhaps,PLANTED~FAMILY,1931-07-19
            ,E1,left,2023-02-03,male,1931,sane,yes,PLANTED~FAMILY,1931-07-19
            P7,E1,left,2023-02-03,male,1931,sane,yes,PLANTED~FAMILY,1931-07-19,PLANTED~MORE
            """;
    private static final String RESPONSES =
            """
            patient,completed_on,side,sane_1,san_1,remark,birth_date
            P1,2023-02-01,right,40,,PLANTED~REMARK,1931-07-19
            P1,2023-05-06,right,999,,PLANTED~REMARK,1931-07-19
            P1,2023-05-07,right,,,PLANTED~REMARK,1931-07-19
            P1,2023-05-09,middle,50,,PLANTED~REMARK,1931-07-19
            P1,2023-05-09,middle,60,,PLANTED~REMARK,1931-07-19
            P2,1905-02-01,left,50,,PLANTED~REMARK,1931-07-19
            P9,2023-02-01,left,50,,PLANTED~REMARK,1931-07-19
            P1,2027-01-01,right,50,,PLANTED~REMARK,1931-07-19
            P1,,right,50,,PLANTED~REMARK,1931-07-19
            ,2023-04-01,left,50,,PLANTED~REMARK,1931-07-19
            P1,2023-02-08,right,50,,PLANTED~REMARK,1931-07-19,PLANTED~MORE
            """;
    private static final Pattern PLANTED =
            Pattern.compile("PLANTED|(?<![0-9A-Za-z])(1931|19310)(?![0-9A-Za-z])", Pattern.CASE_INSENSITIVE);

    @TempDir
    private Path folder;

    private Path in;
    private Path out;

    @BeforeEach
    void plant() throws IOException {
        in = Files.createDirectory(folder.resolve("in"));
        out = Files.createDirectory(folder.resolve("out"));
        Files.writeString(in.resolve("episodes.csv"), EPISODES);
        Files.writeString(in.resolve("responses.csv"), RESPONSES);
        Files.writeString(in.resolve("second.csv"), RESPONSES.replace(",40,", ",45,"));
        Files.writeString(
                in.resolve("long.csv"),
                """
                patient,completed_on,side,instrument,item,response,remark
                P1,2023-02-01,right,sane,1,40,PLANTED~REMARK
                P1,2023-03-01,right,sane,7,40,PLANTED~REMARK
                P1,2023-03-01,right,sain,1,40,PLANTED~REMARK
                P1,2023-05-06,right,sane,1,999,PLANTED~REMARK
                """);
    }

    /** Runs the words; {@code IN/} and {@code OUT/} stand for the folders. */
    private Run run(String words) {
        List<String> args = new ArrayList<>();
        for (String word : words.split(" ")) {
            args.add(word.replace("IN/", in + "/").replace("OUT/", out + "/"));
        }
        return Run.of(args);
    }

    /** Texts of all files written, workbooks by their parts. */
    private Map<String, String> written() throws IOException {
        Map<String, String> texts = new TreeMap<>();
        try (Stream<Path> tree = Files.walk(out)) {
            for (Path file : tree.filter(Files::isRegularFile).toList()) {
                byte[] bytes = Files.readAllBytes(file);
                String name = out.relativize(file).toString();
                texts.put(name, new String(bytes, StandardCharsets.UTF_8));
                if (name.endsWith(".xlsx")) {
                    addParts(name, bytes, texts);
                }
            }
        }
        return texts;
    }

    private static void addParts(String name, byte[] workbook, Map<String, String> texts) throws IOException {
        try (ZipInputStream parts = new ZipInputStream(new ByteArrayInputStream(workbook))) {
            for (ZipEntry part = parts.getNextEntry(); part != null; part = parts.getNextEntry()) {
                texts.put(name + "!" + part.getName(), new String(parts.readAllBytes(), StandardCharsets.UTF_8));
            }
        }
    }

    private static void assertClean(String where, String text) {
        PLANTED.matcher(text)
                .results()
                .findFirst()
                .ifPresent(found -> assertEquals(
                        "nothing planted",
                        text.substring(Math.max(0, found.start() - 60), Math.min(text.length(), found.end() + 20)),
                        where));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource({
        "1, 0, score IN/responses.csv",
        "1, 2, score IN/responses.csv --out OUT/s.csv --problems OUT/p.csv",
        "1, 1, score IN/long.csv --problems OUT/p.csv",
        "1, 8, track IN/responses.csv --episodes IN/episodes.csv --out OUT/b.xlsx --tables OUT/t --problems OUT/p.csv",
        "1, 2, check IN/responses.csv --episodes IN/episodes.csv --out OUT/c.xlsx --problems OUT/p.csv",
        "1, 1, check IN/responses.csv --out OUT/c.csv",
        "0, 1, check IN/responses.csv --suggest-columns OUT/m.csv",
        "1, 0, explain sane IN/responses.csv --patient P1",
        "1, 2, grip IN/responses.csv --out OUT/g.csv --problems OUT/p.csv",
        "1, 2, due IN/responses.csv --episodes IN/episodes.csv --out OUT/d.xlsx --all --problems OUT/p.csv",
        "1, 1, due IN/responses.csv --episodes IN/episodes.csv --out OUT/d.ics --all",
        "1, 0, due IN/responses.csv --episodes IN/episodes.csv",
        "1, 3, reconcile IN/responses.csv IN/second.csv --out OUT/a.csv --differences OUT/d.csv --problems OUT/p.csv"
    })
    void nothingPlantedIsPrintedOrWritten(int status, int files, String words) throws IOException {
        Run run = run(words + " --as-of 2026-11-25");
        assertEquals(status, run.status(), run.err());
        assertClean("stdout", run.out());
        assertClean("stderr", run.err());
        Map<String, String> texts = written();
        assertEquals(
                files, texts.keySet().stream().filter(n -> !n.contains("!")).count(), texts.keySet()::toString);
        texts.forEach(PrivacyTest::assertClean);
    }

    @ParameterizedTest
    @CsvSource({"fhir", "sdtm", "adam", "csv"})
    void nothingPlantedIsSubmitted(String as) throws IOException {
        Run run = run("submit IN/responses.csv --episodes IN/episodes.csv --as " + as
                + " --out OUT/up --throwaway-pseudonyms --accept-disclosure --problems OUT/p.csv --as-of 2026-11-25");
        assertEquals(1, run.status(), run.err());
        assertClean("stderr", run.err());
        Map<String, String> texts = written();
        assertTrue(texts.size() > 4, texts.keySet()::toString);
        texts.forEach(PrivacyTest::assertClean);
    }

    @Test
    void whatIsCarriedOnPurposeStandsInTheWorkbookAndNowhereElse() throws IOException {
        Run run = run("track IN/responses.csv --episodes IN/episodes.csv --out OUT/b.xlsx --problems OUT/p.csv"
                + " --carry family_name --as-of 2026-11-25");
        assertEquals(1, run.status(), run.err());
        assertClean("stderr", run.err());
        Map<String, String> texts = written();
        assertClean("problems", texts.get("p.csv"));
        assertTrue(
                texts.entrySet().stream()
                        .anyMatch(t ->
                                t.getKey().startsWith("b.xlsx!") && t.getValue().contains("PLANTED~FAMILY")),
                "this search finds what is there");
        assertFalse(texts.values().stream().anyMatch(t -> t.contains("1931-07-19")), "not carried");
    }

    /** What is meant for colleagues follows the user's mask; what is meant for a registry is the owner's until it is sent. */
    @Test
    void onlyTheOwnerMayReadARegistryFolderAndItsKey() throws IOException {
        if (!out.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            return;
        }
        run(
                "submit IN/responses.csv --episodes IN/episodes.csv --as fhir --out OUT/u --throwaway-pseudonyms --accept-disclosure --as-of 2026-11-25");
        Run written = run("track IN/responses.csv --episodes IN/episodes.csv --out OUT/b.xlsx --as-of 2026-11-25");
        assertEquals(1, written.status(), written.err());
        try (Stream<Path> tree = Files.walk(out.resolve("u"))) {
            List<Path> all = tree.toList();
            assertTrue(all.size() > 4, all::toString);
            for (Path each : all) {
                assertEquals(
                        Files.isDirectory(each) ? "rwx------" : "rw-------",
                        PosixFilePermissions.toString(Files.getPosixFilePermissions(each)),
                        each::toString);
            }
        }
        Path byHand = Files.createFile(out.resolve("by-hand"));
        assertEquals(Files.getPosixFilePermissions(byHand), Files.getPosixFilePermissions(out.resolve("b.xlsx")));
    }
}
