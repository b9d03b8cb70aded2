package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.followup.Episode;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.apache.poi.ss.usermodel.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The table of episodes: section 3 of the formats. */
class EpisodeReaderTest {
    private static final String REQUIRED = "patient,episode,treated_side,index_date";

    @TempDir
    private Path folder;

    private EpisodeReader.Episodes read(ReadOptions options, String... lines) {
        return EpisodeReader.read(
                new Input(ReadTable.write(folder, "e.csv", lines), Optional.empty()), ReadTable.CATALOGUE, options);
    }

    private EpisodeReader.Episodes read(String... lines) {
        return read(ReadTable.PLAIN, lines);
    }

    private static List<String> codes(EpisodeReader.Episodes read) {
        return read.problems().stream()
                .map(p -> p.place() + " [" + p.value() + "] " + p.code().code())
                .toList();
    }

    private static List<String> advices(EpisodeReader.Episodes read) {
        return read.problems().stream().map(Problem::advice).toList();
    }

    /** An episode with one optional column filled. */
    private EpisodeReader.Episodes with(String column, String cell) {
        return read(REQUIRED + "," + column, "P1,E1,right,2020-03-02,\"" + cell + "\"");
    }

    private Episode episodeWith(String column, String cell) {
        EpisodeReader.Episodes read = with(column, cell);
        assertEquals(List.of(), codes(read));
        return read.episodes().get(0);
    }

    @Test
    void anEpisodeIsReadWithAllItsParts() {
        EpisodeReader.Episodes read = read(
                "Episode,PATIENT,treated_side,index_date,dominant_side,sex,birth_year,condition,procedure,forms,closed_on,"
                        + "closed_reason,share,ward",
                "E1,007,R,2026-03-02,l,f,1960,trigger finger,release,\"quickdash, PRWE\",2026-05-01,Moved,no,7");
        Episode episode = read.episodes().get(0);
        assertEquals("007", episode.patient());
        assertEquals("E1", episode.id());
        assertEquals(Side.RIGHT, episode.treatedSide());
        assertEquals(Optional.of(LocalDate.of(2026, 3, 2)), episode.indexDate());
        assertEquals(Optional.of(Side.LEFT), episode.dominantSide());
        assertEquals(Optional.of("female"), episode.sex());
        assertEquals(OptionalInt.of(1960), episode.birthYear());
        assertEquals(Optional.of("trigger finger"), episode.condition());
        assertEquals(Optional.of("release"), episode.procedure());
        assertEquals(List.of(new InstrumentId("quickdash"), new InstrumentId("prwe")), episode.forms());
        assertEquals(Optional.of(new Episode.Closure(LocalDate.of(2026, 5, 1), "moved")), episode.closure());
        assertFalse(episode.share());
        assertEquals("e.csv row 2", episode.place().toString());
        assertEquals(List.of("ward"), read.unusedColumns());
        assertEquals(List.of(), codes(read));
        assertEquals(1, read.rows());
        assertEquals("e.csv", read.file().name());
    }

    @Test
    void whatIsNotFilledIsAbsent() {
        Episode episode = read(REQUIRED, "P1,E1,left,2026-03-02").episodes().get(0);
        assertEquals(
                Episode.builder("P1", "E1", Side.LEFT)
                        .indexDate(LocalDate.of(2026, 3, 2))
                        .place(episode.place())
                        .build(),
                episode);
        assertTrue(episode.share());
    }

    @Test
    void aRowThatIsNoEpisodeIsToldAndNotUsed() {
        EpisodeReader.Episodes read = read(
                REQUIRED,
                ",E1,right,2026-03-02",
                "P1,,right,2026-03-02",
                "P1,E1,,2026-03-02",
                "P1,E1,both,2026-03-02",
                "P1,E1,right,2026-03-02,more",
                "P1,E1,right,2026-03-02",
                "P1,E1,left,2026-03-03");
        assertEquals(
                List.of(
                        "e.csv row 2, column patient [] patient-missing",
                        "e.csv row 3, column episode [] episode-missing",
                        "e.csv row 4, column treated_side [] side-not-known",
                        "e.csv row 5, column treated_side [both] side-not-known",
                        "e.csv row 6 [] too-many-cells",
                        "e.csv row 8, column episode [E1] episode-twice"),
                codes(read));
        assertEquals(1, read.episodes().size());
        assertEquals(Side.RIGHT, read.episodes().get(0).treatedSide());
        assertEquals(7, read.rows());
        assertEquals(
                "The episode is not used. Write right or left; two treated sides are two episodes.",
                advices(read).get(3));
        assertEquals(
                "The patient has an episode of this name already; this row is not used. Give it a name of its own.",
                advices(read).get(5));
    }

    @Test
    void theKeyIsPatientAndEpisode() {
        assertEquals(
                List.of(),
                codes(read(REQUIRED, "P1,E1,right,2026-03-02", "P2,E1,right,2026-03-02", "P1,E2,right,2026-03-02")));
    }

    @Test
    void withoutAnIndexDateNothingIsPlacedInTime() {
        EpisodeReader.Episodes read =
                read(REQUIRED, "P1,E1,right,", "P2,E1,right,02.03.2026", "P3,E1,right,2026-03-02T09:00");
        assertEquals(
                List.of(
                        "e.csv row 2, column index_date [] index-date-missing",
                        "e.csv row 3, column index_date [02.03.2026] date-not-iso"),
                codes(read));
        assertEquals(
                List.of(
                        "Nothing of this episode is placed in time. Fill in the day of operation or treatment start.",
                        "Nothing of this episode is placed in time. Write the date as 2026-03-09."),
                advices(read));
        assertEquals(3, read.episodes().size());
        assertEquals(Optional.empty(), read.episodes().get(1).indexDate());
        assertEquals(
                Optional.of(LocalDate.of(2026, 3, 2)), read.episodes().get(2).indexDate());
        assertEquals(
                Optional.of(LocalDate.of(2026, 3, 2)),
                read(ReadTable.with(o -> o.dates("dd.MM.yyyy")), REQUIRED, "P2,E1,right,02.03.2026")
                        .episodes()
                        .get(0)
                        .indexDate());
    }

    @ParameterizedTest
    @CsvSource({"f,female", "Female,female", "M,male", "male,male", "OTHER,other", "unknown,unknown"})
    void theSexIsOneOfFourWords(String written, String sex) {
        assertEquals(Optional.of(sex), episodeWith("sex", written).sex());
    }

    @ParameterizedTest
    @ValueSource(strings = {"no", "NO", "n"})
    void whoRefusesIsNotShared(String written) {
        assertFalse(episodeWith("share", written).share());
    }

    @ParameterizedTest
    @ValueSource(strings = {"yes", "Y", ""})
    void whoAgreesOrSaysNothingIsShared(String written) {
        assertTrue(episodeWith("share", written).share());
    }

    /** Section 3: anything else in these columns is a problem and counts as blank; of share it counts as no. */
    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "sex | w | [w] value-not-allowed | The sex is taken as blank. Write female, male, other or unknown (f, m).",
                "dominant_side | ulnar | [ulnar] side-not-known | The dominant side is taken as blank. Write right, left or both.",
                "birth_year | 60 | [] value-not-allowed | The year of birth is taken as blank. Write four digits, from 1880 to 2026.",
                "birth_year | 1879 | [] value-not-allowed | The year of birth is taken as blank. Write four digits, from 1880 to 2026.",
                "birth_year | 2027 | [] value-not-allowed | The year of birth is taken as blank. Write four digits, from 1880 to 2026.",
                "birth_year | 1960.5 | [] value-not-allowed | The year of birth is taken as blank. Write four digits, from 1880 to 2026.",
                "birth_year | x | [] value-not-allowed | The year of birth is taken as blank. Write four digits, from 1880 to 2026.",
                "closed_on | 1.5.2026 | [1.5.2026] date-not-iso | The episode counts as open. Write the date as 2026-03-09.",
                "closed_on | 2020-03-01 | [2020-03-01] closed-before-index | The day of closing lies before the index date, so the"
                        + " episode counts as open. Correct one of them.",
                "forms | prwee | [prwee] instrument-not-known | This form is not expected of the episode: no such instrument. Correct"
                        + " the id.",
                "share | perhaps | [perhaps] value-not-allowed | Taken as no, so that nothing leaves the house by mistake. Write yes or"
                        + " no."
            })
    void whatIsNotAllowedIsToldAndCountsAsBlank(String column, String cell, String problem, String advice) {
        EpisodeReader.Episodes read = with(column, cell);
        assertEquals(List.of("e.csv row 2, column " + column + " " + problem), codes(read));
        assertEquals(List.of(advice), advices(read));
        Episode episode = read.episodes().get(0);
        assertEquals(Optional.empty(), episode.sex());
        assertEquals(Optional.empty(), episode.dominantSide());
        assertEquals(OptionalInt.empty(), episode.birthYear());
        assertEquals(Optional.empty(), episode.closure());
        assertEquals(List.of(), episode.forms());
        assertEquals(!column.equals("share"), episode.share());
    }

    @Test
    void theYearsOfBirthEndWithTheYearLookedAt() {
        assertEquals(OptionalInt.of(1880), episodeWith("birth_year", "1880").birthYear());
        EpisodeReader.Episodes read = with("birth_year", "2026");
        assertEquals(List.of("e.csv row 2, column index_date [2020-03-02] date-before-birth"), codes(read));
        assertEquals(OptionalInt.of(2026), read.episodes().get(0).birthYear());
        assertEquals(
                OptionalInt.of(2020), episodeWith("birth_year", "2020").birthYear(), "treated in the year of birth");
    }

    @Test
    void aReasonWithoutADayClosesEverythingAndIsTold() {
        EpisodeReader.Episodes read = with("closed_reason", "lost");
        assertEquals(
                List.of(
                        "e.csv row 2, column closed_reason [lost] value-not-allowed",
                        "e.csv row 2, column closed_on [] closed-on-missing"),
                codes(read));
        assertEquals(
                List.of(
                        "Taken as other. Write one of died, withdrawn, moved, revision, other.",
                        "closed_reason says that the episode has ended (other), and the day is missing. Nothing is asked for any"
                                + " more, at any visit. Fill in closed_on, or empty closed_reason."),
                advices(read));
        assertEquals(
                Optional.of(new Episode.Closure(Optional.empty(), "other")),
                read.episodes().get(0).closure());
    }

    @Test
    void aTableWithoutRowsIsNoted() {
        assertEquals(List.of("e.csv [] note-no-rows"), codes(read(REQUIRED)));
    }

    /** Looked at in 2026, the years count from 1927 on: 99 back. */
    @Test
    void aTreatmentOfACenturyAgoIsASlipOfThePen() {
        assertEquals(
                List.of("e.csv row 3, column index_date [1926-12-31] date-long-ago"),
                codes(read(REQUIRED, "P1,E1,right,1927-01-01", "P2,E1,right,1926-12-31")));
    }

    @Test
    void anEpisodeMayBeClosedOnItsIndexDateAndForNoReasonGiven() {
        assertEquals(
                Optional.of(new Episode.Closure(LocalDate.of(2020, 3, 2), "")),
                episodeWith("closed_on", "2020-03-02").closure());
        EpisodeReader.Episodes read = read(
                REQUIRED + ",closed_on,closed_reason",
                "P1,E1,right,2020-03-02,2020-04-01,lost",
                "P2,E1,right,,2020-04-01,died");
        assertEquals(
                Optional.of(new Episode.Closure(LocalDate.of(2020, 4, 1), "other")),
                read.episodes().get(0).closure());
        assertEquals(
                Optional.of(new Episode.Closure(LocalDate.of(2020, 4, 1), "died")),
                read.episodes().get(1).closure());
    }

    @Test
    void furtherColumnsAreTakenAlongWhereTheUserWantsThem() {
        EpisodeReader.Episodes read = read(
                ReadTable.with(o -> o.carry("Surgeon", "ward")),
                REQUIRED + ",ward,surgeon,room",
                "P1,E1,right,2026-03-02,7,S1,3");
        assertEquals("{Surgeon=S1, ward=7}", read.episodes().get(0).carried().toString(), "in the order asked for");
        assertEquals(List.of("room"), read.unusedColumns());
        UnreadableInputException refused = assertThrows(
                UnreadableInputException.class,
                () -> read(ReadTable.with(o -> o.carry("surgeon")), REQUIRED, "P1,E1,right,2026-03-02"));
        assertEquals(
                "e.csv: there is no column 'surgeon' to take along. Columns are patient, episode, treated_side, index_date.",
                refused.getMessage());
        assertEquals(List.of(Remedy.of(Remedy.Kind.CARRY)), refused.remedies());
    }

    @Test
    void aTableWithoutARequiredColumnIsRefused() {
        assertEquals(
                "e.csv: the header lacks treated_side, index_date. It must have patient, episode, treated_side, index_date.",
                assertThrows(UnreadableInputException.class, () -> read("patient,episode,side", "P1,E1,right"))
                        .getMessage());
    }

    @Test
    void aClinicsOwnHeadingsAndTextsAreMapped() {
        ReadOptions own = ReadTable.with(
                o -> o.columns(new ColumnMap(Map.of("pat.-nr.", "patient", "seite", "treated_side"), Map.of()))
                        .codes(new CodeMap(Map.of("side", Map.of("rechts", "right"), "sex", Map.of("w", "female")))));
        EpisodeReader.Episodes read = read(own, "Pat.-Nr.,Episode,Seite,index_date,sex", "P1,E1,Rechts,2026-03-02,W");
        assertEquals(List.of(), codes(read));
        assertEquals(Side.RIGHT, read.episodes().get(0).treatedSide());
        assertEquals(Optional.of("female"), read.episodes().get(0).sex());
        assertEquals(
                List.of("patient", "episode", "treated_side", "index_date", "sex"),
                EpisodeReader.headings(new Input(folder.resolve("e.csv"), Optional.empty()), own));
    }

    @Test
    void aFormulaThatNobodyCalculatedCountsAsBlank() {
        Path file = ReadTable.book(folder, book -> {
            Row header = book.createSheet().createRow(0);
            Row row = book.getSheetAt(0).createRow(1);
            String[] names = (REQUIRED + ",sex,ward").split(",");
            String[] cells = {"P1", "E1", "right", "2026-03-02"};
            for (int i = 0; i < names.length; i++) {
                header.createCell(i).setCellValue(names[i]);
                if (i < cells.length) {
                    row.createCell(i).setCellValue(cells[i]);
                } else {
                    row.createCell(i).setCellFormula("A9");
                }
            }
        });
        EpisodeReader.Episodes read =
                EpisodeReader.read(new Input(file, Optional.empty()), ReadTable.CATALOGUE, ReadTable.PLAIN);
        assertEquals(List.of("t.xlsx row 2, column sex [] formula-not-calculated"), codes(read));
        assertEquals(
                List.of(
                        "The cell holds a formula whose value is not stored in the file. Open the file in a spreadsheet, let it"
                                + " calculate, and save it again. Until then the cell counts as blank."),
                advices(read));
        assertEquals(Optional.empty(), read.episodes().get(0).sex());
    }

    @Test
    void theColumnsAreThoseOfTheFormats() {
        assertEquals(
                List.of(
                        "patient",
                        "episode",
                        "treated_side",
                        "index_date",
                        "dominant_side",
                        "sex",
                        "birth_year",
                        "condition",
                        "procedure",
                        "forms",
                        "closed_on",
                        "closed_reason",
                        "share"),
                EpisodeReader.columns());
        assertEquals(List.of("died", "withdrawn", "moved", "revision", "other"), EpisodeReader.closureReasons());
        assertTrue(EpisodeReader.isKnown("Index_Date") && EpisodeReader.isKnown("SHARE"));
        assertFalse(EpisodeReader.isKnown("ward"));
    }

    /** Why an episode ended is enough for nobody to be called: the day is told as missing, and the reason that is none as another. */
    @Test
    void aReasonWithoutADayClosesAndIsTold() {
        EpisodeReader.Episodes read = with("closed_reason", "lost");
        assertEquals(
                List.of(
                        "e.csv row 2, column closed_reason [lost] value-not-allowed",
                        "e.csv row 2, column closed_on [] closed-on-missing"),
                codes(read));
        assertEquals(
                Optional.of(new Episode.Closure(Optional.empty(), "other")),
                read.episodes().get(0).closure());
    }
}
