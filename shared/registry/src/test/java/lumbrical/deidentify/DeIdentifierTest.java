package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.followup.FollowUpSource;
import lumbrical.instrument.Side;
import lumbrical.sending.InventedClinic;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * What leaves of small invented clinics, worked by hand. The rules are those of 45 CFR 164.514(b)(2) (no date element but the year, ages
 * over 89 as one) and of the profile; that a week begins on day 0 is our convention.
 */
class DeIdentifierTest {
    private static final String EPISODES = "patient,episode,treated_side,index_date\nA,1,right,2025-01-10\n";

    @TempDir
    private Path folder;

    private InventedClinic clinic(String episodes, String responses, String... carried) {
        return InventedClinic.of(folder, episodes, responses, carried);
    }

    private static Profile profile(Profile.Dates dates, Profile.AllowedColumn... columns) {
        return InventedClinic.profile(dates, columns);
    }

    private static Profile.AllowedColumn column(String name, String... values) {
        return InventedClinic.column(name, values);
    }

    private static List<DeidentifiedEpisode> episodes(DeidentifiedDataset sent) {
        List<DeidentifiedEpisode> episodes = new ArrayList<>();
        sent.contents().forEach(episodes::add);
        return episodes;
    }

    private static List<DeidentifiedForm> forms(DeidentifiedDataset sent) {
        return episodes(sent).stream().flatMap(e -> e.forms().stream()).toList();
    }

    private DeidentifiedDay day(Profile.Dates dates, String completedOn) {
        InventedClinic clinic = clinic(EPISODES, "patient,completed_on,side,sane_1\nA," + completedOn + ",right,50\n");
        return forms(clinic.sent(profile(dates))).get(0).day();
    }

    /** The index date is 2025-01-10. */
    @ParameterizedTest(name = "{0}: day {1}, week {2}")
    @CsvSource({
        "2024-12-31,-10,-2,2024",
        "2025-01-02,-8,-2,2025",
        "2025-01-03,-7,-1,2025",
        "2025-01-09,-1,-1,2025",
        "2025-01-10,0,0,2025",
        "2025-01-16,6,0,2025",
        "2025-01-17,7,1,2025"
    })
    void aDateLeavesAsWeekAsDayAndYearOrShifted(String date, int day, int week, int year) {
        OptionalInt none = OptionalInt.empty();
        assertEquals(
                new DeidentifiedDay(none, OptionalInt.of(week), none, Optional.empty()),
                day(Profile.Dates.WEEKS_FROM_INDEX, date));
        DeidentifiedDay days = day(Profile.Dates.DAYS_FROM_INDEX, date);
        assertEquals(new DeidentifiedDay(OptionalInt.of(year), none, OptionalInt.of(day), Optional.empty()), days);
        assertEquals(Optional.of(String.valueOf(year)), days.iso());
        DeidentifiedDay shifted = day(Profile.Dates.SHIFTED, date);
        LocalDate earlier =
                LocalDate.parse(date).plusDays(clinic(EPISODES, SITTINGS).keys().shiftDays("A"));
        assertTrue(earlier.isBefore(LocalDate.parse(date)));
        assertEquals(new DeidentifiedDay(none, none, OptionalInt.of(day), Optional.of(earlier)), shifted);
        assertEquals(Optional.of(earlier.toString()), shifted.iso());
        assertEquals(Optional.empty(), day(Profile.Dates.WEEKS_FROM_INDEX, date).iso());
    }

    private Map<String, String> attributes(String episode, Profile.AllowedColumn... columns) {
        InventedClinic clinic = clinic(
                "patient,episode,treated_side,index_date,sex,birth_year,dominant_side,condition,procedure,"
                        + "closed_on,closed_reason,ward\nA,1,right,2025-01-10," + episode + "\n",
                "patient,completed_on,side,sane_1\nA,2025-01-09,right,50\n",
                "ward");
        return episodes(clinic.sent(profile(Profile.Dates.WEEKS_FROM_INDEX, columns)))
                .get(0)
                .attributes();
    }

    private static final String BORN = "female,%d,left,,,,,";

    /** Year of the index date (2025) less year of birth, ours. */
    @ParameterizedTest(name = "born in {0}: {1}, {2}")
    @CsvSource({
        "2025,0,0-9",
        "2016,9,0-9",
        "2015,10,10-19",
        "1936,89,80-89",
        "1935,90,90+",
        "1934,90,90+",
        "1926,90,90+"
    })
    void agesOfNinetyAndOverAreOne(int born, String age, String band) {
        assertEquals(
                Map.of("age", age, "age_band", band),
                attributes(BORN.formatted(born), column("age"), column("age_band")));
    }

    @Test
    void whoIsBornAfterTheIndexDateHasNoAge() {
        assertEquals(Map.of(), attributes(BORN.formatted(2026), column("age"), column("age_band")));
    }

    @Test
    void onlyColumnsAndValuesOfTheProfileLeave() {
        String row = "female,1980,left,carpal tunnel,OPEN RELEASE,2025-03-01,moved,Seven";
        assertEquals(Map.of(), attributes(row));
        assertEquals(
                Map.of(
                        "sex",
                        "female",
                        "dominant_side",
                        "left",
                        "procedure",
                        "Open release",
                        "closed_reason",
                        "moved",
                        "closed_day",
                        "50",
                        "closed_week",
                        "7",
                        "ward",
                        "seven"),
                attributes(
                        row,
                        column("sex", "female"),
                        column("dominant_side"),
                        column("condition", "dupuytren"),
                        column("procedure", "Open release"),
                        column("closed_reason"),
                        column("closed_day"),
                        column("closed_week"),
                        column("ward", "seven", "eight")));
    }

    @Test
    void aDeathThatTheProfileDoesNotListLeavesNoDayEither() {
        String died = "female,1980,left,,,2025-03-01,died,";
        assertEquals(
                Map.of(),
                attributes(died, column("closed_reason", "moved"), column("closed_day"), column("closed_week")));
        assertEquals(
                Map.of("closed_reason", "died", "closed_day", "50"),
                attributes(died, column("closed_reason", "moved", "died"), column("closed_day")));
        assertEquals(
                Map.of("closed_day", "50"), attributes("female,1980,left,,,2025-03-01,moved,", column("closed_day")));
    }

    @Test
    void valuesOfASittingLeaveWhereTheProfileListsThemAndOthersAreCounted() {
        DeidentifiedDataset sent = clinic(
                        EPISODES,
                        """
                        patient,completed_on,side,mode,respondent,language,sane_1
                        A,2025-01-09,right,Paper,self,de-CH,50
                        A,2025-01-20,right,telepathy,my aunt,xx,60
                        A,2025-01-30,right,,,de-XX,60
                        A,2025-02-01,right,,,de-CH-1996,60
                        """)
                .sent(profile(
                        Profile.Dates.WEEKS_FROM_INDEX,
                        column("mode", "paper"),
                        column("respondent", "self"),
                        column("language")));
        assertEquals(
                List.of(
                        Map.of("mode", "paper", "respondent", "self", "language", "de-CH"),
                        Map.of(),
                        Map.of(),
                        Map.of()),
                forms(sent).stream().map(DeidentifiedForm::attributes).toList());
        assertEquals(
                Map.of("mode", 1, "respondent", 1, "language", 3), sent.counts().blanked());
    }

    // ---- what stays

    private static final String SEVERAL =
            """
            patient,episode,treated_side,index_date,share
            A,1,right,2025-01-10,
            B,1,right,2025-01-10,no
            B,2,left,2025-01-10,yes
            """;

    private static List<String> withheld(DeidentifiedDataset sent) {
        return sent.withheld().stream()
                .map(w -> w.place().row().orElse(0) + " " + w.column() + " "
                        + w.instrument().orElseThrow() + " " + w.reason() + (w.told() ? "" : " untold"))
                .toList();
    }

    @Test
    void everyFormThatStaysHasItsReasonAndRefusalsAreNotTold() {
        DeidentifiedDataset sent = clinic(
                        SEVERAL,
                        """
                        patient,completed_on,side,episode,sane_1,nprs_rest
                        A,2025-01-09,right,,50,3
                        A,2027-01-01,right,,50,
                        B,2025-01-09,right,1,50,
                        B,2025-01-09,left,2,50,
                        C,2025-01-09,right,,50,
                        B,2025-01-09,right,9,50,
                        A,2025-01-20,right,,,
                        """)
                .sent(Profile.DEFAULT);
        assertEquals(
                List.of(
                        "3 completed_on sane date-in-future",
                        "4 share sane not-shared untold",
                        "6 episode sane episode-not-found",
                        "7 episode sane episode-not-found untold"),
                withheld(sent));
        assertEquals(
                new DeidentifiedDataset.Counts(
                        2,
                        2,
                        2,
                        Map.of("date-in-future", 1L, "not-shared", 1L, "episode-not-found", 2L),
                        3,
                        1,
                        Map.of(),
                        0),
                sent.counts());
        assertEquals(
                List.of("SA-1", "SB-2"),
                episodes(sent).stream().map(DeidentifiedEpisode::id).toList());
        assertEquals(
                List.of("nprs", "sane"),
                sent.instruments().stream().map(i -> i.id().value()).toList());
        assertEquals(
                Set.of("B"),
                DeIdentifier.refusing(FollowUpSource.of(
                        clinic(SEVERAL, "patient,completed_on,sane_1\n").followUp())));
    }

    @Test
    void aSittingOfWhichOneFormLeavesIsSent() {
        DeidentifiedDataset sent = clinic(
                        EPISODES,
                        """
                        patient,completed_on,side,sane_1,nprs_rest
                        A,2025-01-09,right,50,3
                        A,2025-01-09,right,60,3
                        """)
                .sent(Profile.DEFAULT);
        // the two ratings differ, so that neither is used; the pain is the same twice, so that the second is of no use
        assertEquals(
                List.of("2  sane duplicate-sitting", "3  nprs duplicate-sitting", "3  sane duplicate-sitting"),
                withheld(sent).stream().sorted().toList());
        assertEquals(1, sent.counts().sittings());
        assertEquals(Map.of("duplicate-sitting", 1L), sent.counts().sittingsWithheld());
    }

    @Test
    void anEpisodeWithFormsNeedsAnIndexDateUnlessDatesAreShifted() {
        InventedClinic clinic = clinic(
                "patient,episode,treated_side,index_date\nA,1,right,\nB,1,left,\nC,1,left,\n",
                "patient,completed_on,side,sane_1\nA,2025-01-09,right,50\nB,2025-01-09,left,50\n");
        UnreadableInputException refused =
                assertThrows(UnreadableInputException.class, () -> clinic.sent(Profile.DEFAULT));
        assertEquals(
                "episodes.csv row 2, column index_date: the episode has forms but no usable index date, and so have 1 more."
                        + " Days from the index date cannot be given. Fill it in, set share to no, or use a profile with"
                        + " shifted dates.",
                refused.getMessage());
        DeidentifiedDay shifted =
                forms(clinic.sent(profile(Profile.Dates.SHIFTED))).get(0).day();
        int moved = clinic.keys().shiftDays("A");
        assertEquals(Optional.of(LocalDate.parse("2025-01-09").plusDays(moved)), shifted.shifted());
        assertEquals(OptionalInt.empty(), shifted.day());
    }

    // ---- keys of forms

    private List<String> keys(String episodes, String responses) {
        return forms(clinic(episodes, responses).sent(Profile.DEFAULT)).stream()
                .map(DeidentifiedForm::key)
                .toList();
    }

    private static final String SITTINGS =
            """
            patient,completed_on,side,episode,sane_1
            A,2025-01-09,right,1,50
            A,2025-01-20T09:30,right,1,60
            A,2025-01-20T10:30,,,70
            """;

    /** A form's id is of patient, date, side and instrument as given; so it stays when rows, index dates or answers change. */
    @Test
    void aFormsKeyIsMadeOfWhatIdentifiesItAlone() {
        List<String> keys = keys(EPISODES, SITTINGS);
        assertEquals(3, Set.copyOf(keys).size());
        KeyFile names = clinic(EPISODES, SITTINGS).keys();
        assertEquals(
                List.of(
                        names.form(List.of("A", "2025-01-09", "right", "sane")),
                        names.form(List.of("A", "2025-01-20T09:30", "right", "sane")),
                        names.form(List.of("A", "2025-01-20T10:30", "", "sane"))),
                keys);
        String otherAnswers = SITTINGS.replace(",50", ",51").replace(",60", ",61");
        assertEquals(keys, keys(EPISODES.replace("2025-01-10", "2025-01-15"), otherAnswers));
        String moreRows = "patient,completed_on,side,episode,sane_1\nA,2025-01-08,right,1,40\n"
                + SITTINGS.lines().skip(1).collect(Collectors.joining("\n"));
        assertEquals(keys, keys(EPISODES, moreRows).subList(1, 4));
        String otherDay = SITTINGS.replace("2025-01-09", "2025-01-08");
        assertFalse(keys.contains(keys(EPISODES, otherDay).get(0)), "a new date, a new form");
    }

    private static final String BOTH_SIDES =
            "patient,episode,treated_side,index_date,share\nA,1,right,2025-01-10,yes\nA,2,left,2025-01-10,%s\n";

    /** Which does not change when one of the two refuses. */
    @Test
    void aSittingOfBothSidesHasAKeyForEachEpisode() {
        String sitting = "patient,completed_on,side,sane_1\nA,2025-01-09,both,50\n";
        List<String> keys = keys(BOTH_SIDES.formatted("yes"), sitting);
        assertEquals(2, Set.copyOf(keys).size());
        assertEquals(keys.subList(0, 1), keys(BOTH_SIDES.formatted("no"), sitting));
    }

    @Test
    void formsAlikeInAllButTheEpisodeAreNumberedByIt() {
        DeidentifiedDataset sent = clinic(
                        "patient,episode,treated_side,index_date\nA,1,right,2025-01-10\nA,2,right,2025-01-12\n",
                        """
                        patient,completed_on,side,episode,sane_1
                        A,2025-01-09,right,2,50
                        A,2025-01-09,right,1,60
                        """)
                .sent(Profile.DEFAULT);
        List<DeidentifiedEpisode> episodes = episodes(sent);
        assertEquals(
                List.of("SA-1", "SA-2"),
                episodes.stream().map(DeidentifiedEpisode::id).toList());
        assertEquals(
                episodes.get(0).forms().get(0).key() + "-2",
                episodes.get(1).forms().get(0).key());
    }

    // ---- hands

    private static final String HANDS =
            """
            patient,completed_on,side,griptasks_key_right,griptasks_key_left,griptasks_hook_right
            A,2025-01-09,both,1,2,3
            """;

    private static List<String> answered(DeidentifiedForm form) {
        return form.instrument().columns().stream()
                .filter(c -> form.responses().entered(c.index()))
                .map(c -> c.shortName())
                .toList();
    }

    /** Of whom one side's episode refuses, nothing about that hand leaves with the other side's. */
    @Test
    void answersAboutAHandWhoseEpisodeRefusesStay() {
        List<DeidentifiedForm> shared =
                forms(clinic(BOTH_SIDES.formatted("yes"), HANDS).sent(Profile.DEFAULT));
        assertEquals(2, shared.size());
        assertEquals(List.of("key_right", "hook_right", "key_left"), ordered(shared.get(0)));
        List<DeidentifiedForm> refused =
                forms(clinic(BOTH_SIDES.formatted("no"), HANDS).sent(Profile.DEFAULT));
        assertEquals(1, refused.size());
        assertEquals(List.of("key_right", "hook_right"), ordered(refused.get(0)));
        assertEquals(Set.of(Side.LEFT), refused.get(0).handsHeldBack());
        assertEquals(Set.of(), shared.get(0).handsHeldBack());
    }

    /** A form of the right hand's episode on which the left hand alone was filled in, which refuses: nothing of it is left to send. */
    @Test
    void aFormThatHoldsNothingButRefusedAnswersIsNotSent() {
        DeidentifiedDataset sent = clinic(
                        BOTH_SIDES.formatted("no"),
                        """
                        patient,completed_on,side,griptasks_key_right,griptasks_key_left,sane_1
                        A,2025-01-08,both,1,2,50
                        A,2025-01-09,both,,2,
                        """)
                .sent(Profile.DEFAULT);
        assertEquals(
                List.of("griptasks [key_right]", "sane [1]"),
                forms(sent).stream()
                        .map(f -> f.instrument().id() + " " + answered(f))
                        .sorted()
                        .toList());
        assertEquals(2, sent.counts().answersHeldBack(), "the left hand's of both days");
        assertEquals(2, sent.counts().forms());
        assertEquals(
                List.of("3  griptasks answers-held-back untold"),
                withheld(sent).stream()
                        .filter(w -> w.contains("answers-held-back"))
                        .toList());
    }

    private static List<String> ordered(DeidentifiedForm form) {
        List<String> names = answered(form);
        return List.of("key_right", "hook_right", "key_left").stream()
                .filter(names::contains)
                .toList();
    }

    /** One man cannot be alike with anybody: his side is left blank, and with it all that was answered about one hand. */
    @Test
    void aSideLeftBlankTakesTheAnswersAboutHandsWithIt() {
        InventedClinic clinic = clinic(EPISODES, HANDS.replace(",both,", ",right,"));
        DeidentifiedDataset sent =
                clinic.sent(clinic.terms(Profile.DEFAULT).withSmallestCell(5).withCoarsening());
        assertEquals(Optional.empty(), episodes(sent).get(0).treatedSide());
        assertEquals(List.of(), forms(sent), "nothing is left of it");
        assertEquals(List.of("2  griptasks answers-held-back untold"), withheld(sent));
        assertEquals(Map.of("answers-held-back", 1L), sent.counts().sittingsWithheld());
        assertEquals(3, sent.counts().answersHeldBack());
        assertEquals(List.of(), sent.instruments());
        assertEquals(
                Map.of("side", 1, "answers about one hand", 3),
                sent.disclosure().coarsened());
        assertEquals(1, sent.disclosure().person().underK(), "too few people all the same");
        assertFalse(sent.disclosure().withinLimit());
        DeidentifiedDataset whole = clinic.sent(Profile.DEFAULT);
        assertEquals(Optional.of(Side.RIGHT), forms(whole).get(0).side());
        assertEquals(3, answered(forms(whole).get(0)).size());
    }

    /** What is asked of the person leaves; of both hands it is said that nothing does, so that it does not tell which was asked about. */
    @Test
    void aSideLeftBlankLeavesWhatWasAskedOfThePerson() {
        InventedClinic clinic = clinic(
                EPISODES,
                """
                patient,completed_on,side,mhq_pain_1_right,mhq_work_1
                A,2025-01-09,right,2,3
                """);
        DeidentifiedDataset sent =
                clinic.sent(clinic.terms(Profile.DEFAULT).withSmallestCell(5).withCoarsening());
        DeidentifiedForm form = forms(sent).get(0);
        assertEquals(List.of("work_1"), answered(form));
        assertEquals(Set.of(Side.RIGHT, Side.LEFT), form.handsHeldBack());
        assertEquals(Optional.empty(), form.side());
        assertEquals(1, sent.counts().answersHeldBack());
        assertEquals(
                Map.of("side", 1, "answers about one hand", 1),
                sent.disclosure().coarsened());
    }

    @Test
    void anEpisodeThatOnlyOneHasIsLeftOutWithItsForms() {
        InventedClinic clinic = clinic(
                """
                patient,episode,treated_side,index_date
                A,1,right,2025-01-10
                A,2,left,2025-01-10
                B,1,right,2025-01-10
                """,
                """
                patient,completed_on,side,sane_1
                A,2025-01-09,right,50
                A,2025-01-09,left,50
                B,2025-01-09,right,50
                """);
        DeidentifiedDataset sent =
                clinic.sent(clinic.terms(Profile.DEFAULT).withSmallestCell(2).withCoarsening());
        assertEquals(List.of("3  sane few-with-so-many-episodes untold"), withheld(sent));
        assertEquals(
                List.of("SA-1", "SB-1"),
                episodes(sent).stream().map(DeidentifiedEpisode::id).toList());
        assertEquals(1, sent.disclosure().episodesLeftOut());
        assertTrue(sent.disclosure().withinLimit());
    }

    // ---- who can be found

    private static final String ALIKE =
            """
            patient,episode,treated_side,index_date,sex
            A,1,right,2025-01-10,female
            B,1,right,2025-01-10,female
            C,1,right,2025-01-10,male
            """;

    private static final String ONE_EACH =
            """
            patient,completed_on,side,language,sane_1
            A,2025-01-09,right,%s,50
            B,%s,right,en,60
            C,2025-01-09,right,en,70
            """;

    private Disclosure disclosure(Profile.Dates dates, String language, String day) {
        InventedClinic clinic = clinic(ALIKE, ONE_EACH.formatted(language, day));
        Profile sexAndLanguage = profile(dates, column("sex", "female", "male"), column("language"));
        return clinic.sent(clinic.terms(sexAndLanguage).withSmallestCell(2)).disclosure();
    }

    private static List<Integer> of(Disclosure.Cells cells) {
        return List.of(cells.subjects(), cells.underK(), cells.unique());
    }

    @Test
    void twoCountsTellWhoIsAlikeInThePersonAndWithVisits() {
        Disclosure sameDay = disclosure(Profile.Dates.DAYS_FROM_INDEX, "en", "2025-01-09");
        assertEquals(List.of(3, 1, 1), of(sameDay.person()));
        assertEquals(List.of(3, 1, 1), of(sameDay.visits()));
        assertEquals(
                List.of("treated_side", "sex", "language"), sameDay.person().fields());
        assertEquals(
                List.of("treated_side", "sex", "language", "index_year", "day"),
                sameDay.visits().fields());
        Disclosure nextDay = disclosure(Profile.Dates.DAYS_FROM_INDEX, "en", "2025-01-08");
        assertEquals(List.of(3, 1, 1), of(nextDay.person()));
        assertEquals(List.of(3, 3, 3), of(nextDay.visits()));
        Disclosure sameWeek = disclosure(Profile.Dates.WEEKS_FROM_INDEX, "en", "2025-01-08");
        assertEquals(List.of(3, 1, 1), of(sameWeek.visits()));
        assertEquals("week", sameWeek.visits().fields().get(3));
        assertEquals(
                List.of(3, 3, 3),
                of(disclosure(Profile.Dates.WEEKS_FROM_INDEX, "fr", "2025-01-09")
                        .person()),
                "a language is of the person");
        assertEquals(
                "day",
                disclosure(Profile.Dates.SHIFTED, "en", "2025-01-09")
                        .visits()
                        .fields()
                        .get(3));
    }

    // ---- thresholds

    private Optional<String> mcid(Profile.AllowedColumn... columns) {
        InventedClinic clinic = clinic(
                "patient,episode,treated_side,index_date,condition\nA,1,right,2025-01-10,tfcc-injury\n",
                "patient,completed_on,side,instrument,item,response\n"
                        + InventedClinic.answers("A,2025-01-09,right", "prwe", 1, 15, 6)
                        + InventedClinic.answers("A,2025-02-25,right", "prwe", 1, 15, 2));
        return forms(clinic.sent(profile(Profile.Dates.WEEKS_FROM_INDEX, columns))).get(1).scores().stream()
                .filter(s -> s.scale().id().value().equals("total"))
                .flatMap(s -> s.change().stream())
                .flatMap(c -> c.change().thresholds().mcid().stream())
                .map(t -> t.id())
                .findFirst();
    }

    /** The threshold of one condition would tell the condition: where that does not leave, the general one is used. */
    @Test
    void aConditionThatStaysIsNotToldByItsThreshold() {
        assertEquals(Optional.of("feitz2023-mcid"), mcid(column("condition", "tfcc-injury")));
        assertEquals(Optional.of("sorensen2013-mcid"), mcid());
    }
}
