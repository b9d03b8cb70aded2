package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Words of a command that cannot be: what is wrong and what to write instead, status 2, and nothing written. */
class RefusedOptionsTest {
    @TempDir
    private Path folder;

    @BeforeEach
    void write() throws IOException {
        Files.writeString(folder.resolve("r.csv"), "patient,completed_on,side,sane_1\nA,2025-01-09,right,50\n");
        Files.writeString(folder.resolve("e.csv"), "patient,episode,treated_side,index_date\nA,1,right,2025-01-10\n");
    }

    /** Words separated by blanks; R and E stand for the files, a folder's name is below the test's folder. */
    private Run run(String words) {
        List<String> args = new ArrayList<>();
        for (String word : words.strip().split(" +")) {
            args.add(word.replaceAll("^R$", folder.resolve("r.csv").toString())
                    .replaceAll("^E$", folder.resolve("e.csv").toString())
                    .replace("HERE", folder.toString()));
        }
        return Run.of(args);
    }

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> f.getFileName().toString()).sorted().toList();
        }
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '"',
            value = {
                "score R --as-of 2026-02-30 | --as-of 2026-02-30: write the date as 2026-03-09.",
                "score R --bad-responses guess | --bad-responses guess: write refuse or not-answered.",
                "score R --encoding klingon | --encoding klingon: not known. Use one such as windows-1252.",
                "score R --encoding ? | --encoding ?: not known. Use one such as windows-1252.",
                "score R --definitions HERE/none | --definitions HERE/none: there is no such folder.",
                "score R --definition quickdash | --definition quickdash: there is no such definition. Write an instrument's id, @ and a version, such as <id>@1.",
                "score R --definition nothing@1 | --definition nothing@1: there is no such definition. Write an instrument's id, @ and a version, such as <id>@1.",
                "score R --definition quickdash@9 | --definition quickdash@9: there is no such definition. Versions of quickdash are 1.",
                "score R --out HERE/s.html | --out s.html: this cannot be written here. Name a file that ends in .csv or .xlsx.",
                "score R --problems HERE/p.txt | --problems p.txt: this cannot be written here. Name a file that ends in .csv or .xlsx.",
                "score R --out HERE/s.csv --problems HERE/s.csv | --problems and --out name the same file. Give each a file of its own.",
                "score R --out R --overwrite | --out names a file that is read and would be lost. Name another.",
                "due R --episodes E --state sometimes | --state sometimes: write one of done, incomplete, closed, not-yet, open, late, missed.",
                "due R --episodes E --from 9.3.2026 | --from 9.3.2026: write the date as 2026-03-09.",
                "due R --episodes E --to tomorrow | --to tomorrow: write the date as 2026-03-09.",
                "due R --episodes E --next -1 | --next -1: write a whole number of days, such as 14.",
                "due R --episodes E --next two | --next two: write a whole number of days, such as 14.",
                "due R --episodes E --out HERE/d.txt | --out d.txt: this cannot be written here. Name a file that ends in .csv or .xlsx or .ics.",
                "explain sane R --patient A --on 9.1.2025 | --on 9.1.2025: write the date as 2026-03-09.",
                "explain sane R --patient A --out HERE/x.xlsx | --out x.xlsx: this is plain text. Name a file that ends in .txt.",
                "cohort R --episodes E --out HERE/c.xlsx --retest soon | --retest soon: write a whole number of days, such as 14.",
                "cohort R --episodes E --out HERE/c.xlsx --smallest-group 0 | --smallest-group 0: write a whole number from 1.",
                "cohort R --episodes E --out HERE/c.xlsx --compare sex | --compare sex: write a column and two of its values, such as --compare \"procedure=open release,endoscopic release\". A value that holds a comma stands in double quotes.",
                "cohort R --episodes E --out HERE/c.xlsx --by ward | --by 'ward': the episodes have no such column. Columns are patient, episode, treated_side, index_date.",
                "verify --dossier HERE/d.txt | --dossier d.txt: this cannot be written here. Name a file that ends in .html.",
                "submit --as csv --out HERE/up | No file of responses is named.",
                "submit R --episodes E --out HERE/up | --as is missing: write fhir, sdtm, adam or csv.",
                "submit R --episodes E --as csv --key-file HERE/k.json | --out is missing. Name the folder to write, such as --out upload.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/k.json --throwaway-pseudonyms | --key-file and --throwaway-pseudonyms exclude each other. Leave one of them out.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/k.json --site 1st | --site 1st: write a letter and at most 19 letters, digits or hyphens.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/k.json --study a/b | --study a/b: write a letter and at most 19 letters, digits or hyphens.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/k.json --k 0 | --k 0: write a whole number from 1, such as 5.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/up/k.json | k.json: the key file lies in the folder that is sent. Whoever has it can tell who is who: keep it elsewhere.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/none/k.json | k.json: its folder does not exist. Create the folder, or choose another.",
                "submit R --episodes E --as csv --out HERE/up --key-file E | --key-file names a file that is read and would be lost. Name another.",
                "submit R --episodes E --as csv --out HERE/up --key-file HERE/k.json --accept-disclosure --previous HERE | --previous HERE: this is no folder that submit wrote."
            })
    void whatCannotBeIsSaidAndNothingIsWritten(String words, String message) throws IOException {
        List<String> before = names();
        Run run = run(words);
        assertEquals(2, run.status(), run.err());
        String said = run.err().replace(folder.toString(), "HERE");
        assertEquals(message + System.lineSeparator() + "Nothing was written." + System.lineSeparator(), said);
        assertEquals("", run.out());
        assertEquals(before, names());
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            value = {
                "explain sane R | --patient is missing.",
                "score | No file or name is given where RESPONSES stands: CSV or XLSX files",
                "score R --colour | Unknown option: '--colour'",
                "verify now | 'now' is not understood here."
            })
    void aLineThatIsNotUnderstoodPointsToTheHelp(String words, String message) {
        Run run = run(words);
        assertEquals(2, run.status());
        assertTrue(run.err().startsWith(message), run.err());
        String command = words.split(" ")[0];
        assertTrue(run.err().contains("'lumbrical " + command + " --help' shows what is possible."), run.err());
        assertEquals("", run.out());
    }

    @Test
    void helpIsGivenInEveryWay() {
        Run help = run("score --help");
        assertEquals(0, help.status());
        assertTrue(help.out().startsWith("Usage: lumbrical score"), help.out());
        assertEquals(help, run("help score"));
        assertEquals(help, run("score -h"));
        assertEquals(run("--help"), run("help"));
        assertTrue(run("--help").out().contains("done, problems found (outputs written, problems listed)"));
    }

    @Test
    void onlyWithDebugIsATraceShown() {
        Run plain = run("score HERE/none.csv");
        assertEquals(2, plain.status());
        assertFalse(plain.err().contains("\tat "), plain.err());
        Run debug = run("score HERE/none.csv --debug");
        assertEquals(2, debug.status());
        assertTrue(debug.err().contains("\tat lumbrical."), debug.err());
    }
}
