package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Tables that a person fills in: schedule, headings, answer texts, conditions and thresholds. Each is used whole or not at all. */
class SettingsFilesTest {
    @TempDir
    private Path folder;

    private Input input(String... lines) {
        return new Input(ReadTable.write(folder, "s.csv", lines), Optional.empty());
    }

    private String refusal(Function<Input, Object> reading, String... lines) {
        return assertThrows(UnreadableInputException.class, () -> reading.apply(input(lines)))
                .getMessage();
    }

    private static Schedule schedule(Input input) {
        return ScheduleReader.read(input, ReadTable.CATALOGUE);
    }

    /** The first two visits of the default schedule in section 4, and one with the optional columns. */
    @Test
    void aScheduleIsReadAsItIsWritten() {
        assertEquals(
                new Schedule(List.of(
                        new Visit("baseline", 0, -90, 0, Visit.Role.BASELINE, List.of(), true),
                        new Visit("2 weeks", 14, 7, 27, Visit.Role.FOLLOW_UP, List.of(), false),
                        new Visit(
                                "6 Weeks",
                                42,
                                42,
                                59,
                                Visit.Role.FOLLOW_UP,
                                List.of(new InstrumentId("prwe"), new InstrumentId("grc")),
                                true))),
                schedule(input(
                        "visit,target_day,from_day,to_day,role,forms,verdict",
                        "baseline,0,-90,0,Baseline,,",
                        "2 weeks,14,7,27,follow-up,,No",
                        "6 Weeks,42.0,42,59,FOLLOW-UP,PRWE grc,yes")));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "'',14,7,27,follow-up,, | s.csv row 2, column visit: the visit has no name.",
                "v,14.5,7,27,follow-up,, | s.csv row 2, column target_day: write a whole number of days from the index date, such as"
                        + " 42 or -90.",
                "v,14,,27,follow-up,, | s.csv row 2, column from_day: write a whole number of days from the index date, such as 42"
                        + " or -90.",
                "v,14,7,100001,follow-up,, | s.csv row 2, column to_day: write a whole number of days from the index date, such as"
                        + " 42 or -90.",
                "v,14,7,27,later,, | s.csv row 2, column role: write baseline or follow-up.",
                "v,14,7,27,follow-up,prwee, | s.csv row 2, column forms: 'prwee' is no instrument. Correct the id.",
                "v,14,7,27,follow-up,,perhaps | s.csv row 2, column verdict: write yes or no.",
                "v,28,7,27,follow-up,, | s.csv row 2: Visit 'v': target day 28 must lie in its window, which must not end before it"
                        + " starts (7 to 27).",
                "v,14,27,7,follow-up,, | s.csv row 2: Visit 'v': target day 14 must lie in its window, which must not end before it"
                        + " starts (27 to 7)."
            })
    void aScheduleWithAFaultIsRefused(String row, String message) {
        assertEquals(
                message,
                refusal(
                        SettingsFilesTest::schedule,
                        "visit,target_day,from_day,to_day,role,forms,verdict",
                        row.replace("''", "\"\"")));
    }

    @Test
    void windowsThatOverlapAreRefused() {
        String header = "visit,target_day,from_day,to_day,role";
        assertEquals(
                "s.csv: The windows of 'a' (0 to 10) and 'b' (10 to 20) overlap. Correct the schedule.",
                refusal(SettingsFilesTest::schedule, header, "a,5,0,10,follow-up", "b,15,10,20,follow-up"));
        assertEquals(
                "s.csv: Two visits are called 'a'. Correct the schedule.",
                refusal(SettingsFilesTest::schedule, header, "a,5,0,10,follow-up", "a,15,11,20,follow-up"));
        assertEquals(
                "s.csv: The schedule has no visit. Correct the schedule.",
                refusal(SettingsFilesTest::schedule, header));
        assertEquals(
                2,
                schedule(input(header, "a,5,0,10,follow-up", "b,15,11,20,follow-up"))
                        .visits()
                        .size());
    }

    @Test
    void headingsAreMappedInAnyCase() {
        ColumnMap map = ColumnMap.read(input("Heading,Column", " Pat.-Nr. , PATIENT ", "'=q1,grc_1"));
        assertEquals(Map.of("pat.-nr.", "patient", "=q1", "grc_1"), map.headings());
        assertEquals("patient", map.nameOf("pat.-nr."));
        assertEquals("datum", map.nameOf("datum"));
    }

    @Test
    void aMapOfHeadingsWithAFaultIsRefused() {
        assertEquals(
                "s.csv row 2, column heading: write the heading of your file.",
                refusal(ColumnMap::read, "heading,column", ",patient"));
        assertEquals(
                "s.csv row 3: the heading 'a' is mapped twice. Keep one row.",
                refusal(ColumnMap::read, "heading,column", "a,patient", "A,side"));
    }

    @Test
    void aHeadingWithoutAColumnIsLeftOutAndOneThatNoFileHasIsNoted() {
        ColumnMap map = ColumnMap.read(input("heading,column", "ward,", "pat,patient", "datum,completed_on", "x,side"));
        ReadTable read = ReadTable.lines(
                folder, ReadTable.with(o -> o.columns(map)), "pat,datum,ward,grc_1", "P1,2026-03-09,7,1");
        assertEquals(List.of("P1 2026-03-09: grc {1=1}"), read.sittings);
        assertEquals(List.of("t.csv row 1 [] note-columns-left-out"), read.codes());
        assertEquals(
                List.of("Your map of headings leaves blank what these mean, so they are not used: ward."),
                read.advices());
        assertEquals(
                List.of("s.csv row 5, column heading [x] note-mapping-not-used"),
                map.notUsed(read.summary.headings(), List.of()).stream()
                        .map(p -> p.place() + " [" + p.value() + "] " + p.code().code())
                        .toList());
        assertEquals(List.of(), map.notUsed(read.summary.headings(), List.of("side")), "in another file by our name");
    }

    @Test
    void aMapOfTextsIsHeldAgainstTheItems() {
        assertEquals(
                "s.csv: 5 faults in the map of answers; none of it is used.\n"
                        + "  s.csv row 3: there is no column or instrument 'grcc'. Did you mean grc? Write the column of an item, the id of"
                        + " an instrument, side, or * for all.\n"
                        + "  s.csv row 5: the code 11 is not allowed for nprs_rest. Allowed responses are 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10,"
                        + " or blank.\n"
                        + "  s.csv row 6: the code 8 is not allowed for any item of grc.\n"
                        + "  s.csv row 7: the code ulnar is no side. Write right, left or both.\n"
                        + "  s.csv row 9: there is no column or instrument 'nprs_rst'. Did you mean nprs_rest? Write the column of an item,"
                        + " the id of an instrument, side, or * for all.",
                refusal(
                        in -> CodeMap.read(in, Optional.empty(), ReadTable.CATALOGUE, Set.of("none")),
                        "column,text,code",
                        "grc,viel,5",
                        "grcc,viel,5",
                        "grc,weg,",
                        "nprs_rest,viel,11",
                        "grc,mehr,8",
                        "side,u,ulnar",
                        "grc,leer,NONE",
                        "nprs_rst,viel,3"));
        assertEquals(
                Map.of("*", Map.of("weg", "99"), "sex", Map.of("w", "female"), "side", Map.of("re", "r")),
                CodeMap.read(
                                input("column,text,code", "*,weg,99", "sex,w,female", "side,re,r"),
                                Optional.empty(),
                                ReadTable.CATALOGUE,
                                Set.of())
                        .codes());
    }

    @Test
    void answerTextsAreMappedInAnyCase() {
        CodeMap map = CodeMap.read(input("column,text,code", "GRC,Viel besser,5", "*,weg,", "grc,VIEL BESSER,5"));
        assertEquals(Map.of("grc", Map.of("viel besser", "5"), "*", Map.of("weg", "")), map.codes());
        assertEquals("5", map.codeOf("grc_1", "grc", "viel Besser"));
        assertEquals("", map.codeOf("grc_1", "grc", "weg"));
        assertEquals("4", map.codeOf("grc_1", "grc", "4"));
        assertEquals("", map.codeOf("grc_1", "grc", ""));
    }

    @Test
    void aMapOfTextsWithAFaultIsRefused() {
        assertEquals(
                "s.csv row 2: column and text must both be filled.",
                refusal(CodeMap::read, "column,text,code", "grc,,5"));
        assertEquals(
                "s.csv row 2: column and text must both be filled.",
                refusal(CodeMap::read, "column,text,code", ",a,5"));
        assertEquals(
                "s.csv row 3: 'a' of grc has two codes. Keep one row.",
                refusal(CodeMap::read, "column,text,code", "grc,a,5", "grc,A,4"));
    }

    private static ConditionVocabulary conditions(Input input) {
        return ConditionMapReader.read(input, ReadTable.CATALOGUE.conditions());
    }

    @Test
    void aClinicsOwnNamesOfConditionsAreKnown() {
        ConditionVocabulary own = conditions(input("text,condition", "Schnappfinger,trigger-finger"));
        assertEquals(own.resolve(Optional.of("trigger-finger")), own.resolve(Optional.of("schnappfinger")));
        assertEquals(
                Optional.empty(),
                ReadTable.CATALOGUE.conditions().match("Schnappfinger").found(),
                "the shipped vocabulary is as it was");
    }

    @Test
    void aMapOfConditionsWithAFaultIsRefusedWithAllOfThem() {
        String message = refusal(
                SettingsFilesTest::conditions, "text,condition", "Schnappfinger,triger-finger", "x,no such thing");
        assertEquals(
                "s.csv: 2 fault(s) in the map of conditions; none is used.",
                message.lines().findFirst().orElseThrow());
        assertEquals(
                List.of("  s.csv row 2", "  s.csv row 3"),
                message.lines().skip(1).map(l -> l.substring(0, 13)).toList());
    }

    @Test
    void aHintNamesWhatMayBeMeant() {
        ConditionVocabulary shipped = ReadTable.CATALOGUE.conditions();
        assertEquals("", ConditionMapReader.hint(shipped.match("trigger-finger")));
        assertEquals(" Did you mean 'trigger finger'?", ConditionMapReader.hint(shipped.match("triger-finger")));
        assertEquals("", ConditionMapReader.hint(shipped.match("something else")));
    }

    private static ThresholdChoice thresholds(Input input) {
        return ThresholdSelectionReader.read(input, ReadTable.CATALOGUE, ReadTable.CATALOGUE.conditions());
    }

    /** quickDASH: the default is sorensen2013 (14); franchignoni2014 gives 15.91. */
    @Test
    void aChoiceOfThresholdsReplacesTheDefault() {
        ThresholdChoice choice =
                thresholds(input("instrument,scale,condition,threshold_id", "QuickDASH,Total,,franchignoni2014-mcid"));
        Instrument quickdash = ReadTable.CATALOGUE.find("quickdash").orElseThrow();
        assertEquals(
                Optional.of("franchignoni2014-mcid"),
                choice.mcid(quickdash, quickdash.requireScale(new ScaleId("total")), choice.condition(Optional.empty()))
                        .map(t -> t.id()));
    }

    @Test
    void aChoiceWithAFaultIsRefusedWithAllOfThem() {
        assertEquals(
                "s.csv: 2 fault(s) in the choice of thresholds; none is used.\n"
                        + "  s.csv row 2: 'nosuch' is no instrument.\n"
                        + "  s.csv row 4: 'nosuch-mcid' is no threshold of quickdash total.",
                refusal(
                        SettingsFilesTest::thresholds,
                        "instrument,scale,condition,threshold_id",
                        "nosuch,total,,x",
                        "quickdash,total,,franchignoni2014-mcid",
                        "quickdash,total,,nosuch-mcid"));
    }
}
