package lumbrical.followup;

import static lumbrical.followup.FollowUpCompletenessTest.ANSWERS;
import static lumbrical.followup.FollowUpCompletenessTest.FORM;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lumbrical.instrument.Side;
import lumbrical.problem.ProblemCode;
import org.junit.jupiter.api.Test;

/** More episodes than are judged at once; invented, and counted by hand for the first of them. */
class ManyEpisodesTest {
    /** Patients who differ in every way that is counted, again and again: every count is that of the first of them, so many times. */
    @Test
    void manyPatientsAreCountedAsSoManyTimesTheFirst() {
        FollowUpResult first = ofPatients(6).analyse();
        FollowUpResult many = ofPatients(600).analyse();
        List<EpisodeFollowUp> handedOn = new ArrayList<>();
        FollowUpResult summary = ofPatients(600).handOn(handedOn::add);
        assertEquals(
                List.of(
                        "before: 5 expected, 2 received, 1 scorable, 0 twice, 0 closed, 0 outside, {TOO_FEW_ANSWERED=1}",
                        "early: 4 expected, 1 received, 1 scorable, 0 twice, 1 closed, 1 outside, {}",
                        "late: 4 expected, 1 received, 0 scorable, 1 twice, 1 closed, 0 outside, {}"),
                first.counts().stream().map(ManyEpisodesTest::inWords).toList());
        assertEquals(
                first.counts().stream()
                        .map(c -> new VisitCount(
                                c.visit(),
                                c.instrument(),
                                100 * c.expected(),
                                100 * c.closed(),
                                100 * c.notYet(),
                                100 * c.received(),
                                100 * c.scorable(),
                                c.notScorable().entrySet().stream()
                                        .collect(Collectors.toMap(Map.Entry::getKey, e -> 100 * e.getValue())),
                                100 * c.enteredTwice(),
                                100 * c.outsideWindow()))
                        .toList(),
                many.counts());
        assertEquals(
                IntStream.range(0, 600).mapToObj(i -> "P" + i).toList(),
                many.episodes().stream().map(e -> e.episode().patient()).toList());
        assertEquals(100 * first.forms().size(), many.forms().size());
        assertEquals(many.counts(), summary.counts());
        assertEquals(many.problems(), summary.problems());
        assertEquals(
                many.episodes().stream().map(EpisodeFollowUp::series).toList(),
                handedOn.stream().map(EpisodeFollowUp::series).toList());
        assertEquals(
                List.of("Of 100 episodes"),
                many.problems().stream()
                        .filter(p -> p.code() == ProblemCode.NOTE_FORMS_NOT_KNOWN)
                        .map(p -> p.advice().substring(0, 15))
                        .toList());
    }

    private static String inWords(VisitCount c) {
        return c.visit().name() + ": " + c.expected() + " expected, " + c.received() + " received, " + c.scorable()
                + " scorable, " + c.enteredTwice() + " twice, " + c.closed() + " closed, " + c.outsideWindow()
                + " outside, " + c.notScorable();
    }

    private static ExampleClinic ofPatients(int count) {
        ExampleClinic clinic = FollowUpCompletenessTest.clinic();
        for (int i = 0; i < count; i++) {
            ExampleEpisode episode = ExampleEpisode.called("E1").patient("P" + i);
            clinic.of("P" + i, Optional.of(Side.RIGHT));
            switch (i % 6) {
                case 0 ->
                    clinic.episodes(episode.forms("form"))
                            .sitting(-3, FORM, ANSWERS)
                            .sitting(14, FORM, ANSWERS);
                case 1 -> clinic.episodes(episode.forms("form")).sitting(-3, FORM, "1=20");
                case 2 -> clinic.episodes(episode.forms("form").closedOnDay(5));
                case 3 -> clinic.episodes(episode.forms("form")).sitting(25, FORM, ANSWERS);
                case 4 ->
                    clinic.episodes(episode.forms("form"))
                            .sitting(40, FORM, ANSWERS)
                            .sitting(40, FORM, "1=20 2=0");
                default -> clinic.episodes(episode);
            }
        }
        return clinic;
    }
}
